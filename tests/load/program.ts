/** The service as people begin it, over a folder of its own, for measurements. */

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT } from '../support/repository.js';

export interface Begun {
  readonly url: string;
  readonly end: () => Promise<void>;
}

export const begun = async (args: readonly string[]): Promise<Begun> => {
  const data = mkdtempSync(join(tmpdir(), 'load-'));
  const many = ['--requests-per-minute', '100000000', '--jobs-per-minute', '1000000', '--queue', '100000'];
  const program: ChildProcess = spawn(
    process.execPath,
    [`${ROOT}dist/cli/main.js`, 'serve', '--port', '0', '--data', data, '--grace', '1', ...many, ...args],
    { stdio: ['ignore', 'pipe', 'ignore'] },
  );
  const [said] = (await once(program.stdout!, 'data')) as [Buffer];
  return {
    url: /http:\S+/.exec(String(said))![0],
    end: async () => {
      program.kill('SIGTERM');
      await once(program, 'exit');
      rmSync(data, { recursive: true, force: true });
    },
  };
};

/** One figure of /metrics. */
export const figureOf = (text: string, name: string): number =>
  Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1] ?? Number.NaN);

/** The built program, for tests of what runs in threads and from the shell. `npm test` builds before it runs. */

import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { ROOT } from './repository.js';

const MAIN = `${ROOT}dist/cli/main.js`;
if (!existsSync(MAIN)) throw new Error('the program is not built: npm run build');

export const WORKER_URL = pathToFileURL(`${ROOT}dist/jobs/worker.js`);

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the command line in `cwd`. */
export const shutterwright = (args: readonly string[], cwd: string): Ran => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], { cwd, encoding: 'utf8' });
  return { status, stdout, stderr };
};

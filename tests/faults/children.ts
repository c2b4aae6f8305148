/** Programs that are begun to be killed, and what they work on. */

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import '../support/dist.js';
import type { Cluster } from '../support/postgres.js';

/** Where the jobs of a trial stand. */
export interface Ground {
  readonly folder: string;
  /** Of the database; '-' for folders alone. */
  readonly url: string;
  readonly server: Cluster | null;
}

export const groundOf = async (server: Cluster | null): Promise<Ground> => ({
  folder: mkdtempSync(join(tmpdir(), 'faults-')),
  url: server ? await server.freshDatabase() : '-',
  server,
});

/** What was counted, in words, and what should not have been. */
export interface Counted {
  readonly rows: readonly (readonly [string, string | number])[];
  readonly faults: readonly string[];
}

export const begin = (name: 'watch' | 'work' | 'bring', ...args: string[]): ChildProcess => {
  const script = fileURLToPath(new URL(`./${name}Child.mjs`, import.meta.url));
  return spawn(process.execPath, [script, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
};

const ends = new WeakMap<ChildProcess, Promise<number | null>>();
/** Its code; null where it was killed. */
export const ended = (child: ChildProcess): Promise<number | null> => {
  const known =
    ends.get(child) ??
    (child.exitCode !== null || child.signalCode !== null
      ? Promise.resolve(child.exitCode)
      : new Promise<number | null>((resolve) => {
          child.once('exit', (code) => resolve(code));
        }));
  ends.set(child, known);
  return known;
};

/** Has begun, or has ended before. */
export const begun = async (child: ChildProcess): Promise<void> => {
  await Promise.race([new Promise((resolve) => child.stdout!.once('data', resolve)), ended(child)]);
};

export const kill = async (child: ChildProcess): Promise<void> => {
  const end = ended(child);
  child.kill('SIGKILL');
  await end;
};

export const after = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

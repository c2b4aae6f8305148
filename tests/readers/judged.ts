/** Verdicts of the strict judge beside the repository on drawings that were written: nothing lost, no error that was not there before. */

import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PYTHON } from '../read/outside.js';

const SCRIPT = fileURLToPath(new URL('judge.py', import.meta.url));
const JUDGE = fileURLToPath(new URL('../../../shared/tools/dxf_check.py', import.meta.url));

export const HAS_JUDGE = PYTHON !== null && existsSync(JUDGE);

export interface Verdict {
  readonly ok: boolean;
  readonly said: string;
}

/** One for each pair of a written drawing and the one that it was written into. */
export const judged = (pairs: readonly (readonly [string, string | null])[]): Verdict[] => {
  const run = spawnSync(PYTHON!, [SCRIPT, JUDGE], {
    input: JSON.stringify(pairs),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as Verdict[];
};

/** Progress on stderr: a bar on a terminal, one plain line a stage elsewhere. */

import type { StageName } from '../pipeline/index.js';

const WIDTH = 20;

export interface Progress {
  readonly stage: (name: StageName) => void;
  /** Takes the bar away. */
  readonly end: () => void;
}

export const progressOf = (
  label: string,
  stages: readonly StageName[],
  stream: NodeJS.WriteStream = process.stderr,
): Progress => {
  if (!stream.isTTY) {
    return { stage: (name) => void stream.write(`${label}: ${name}\n`), end: () => {} };
  }
  const draw = (done: number, name: string) => {
    const full = Math.round((done / stages.length) * WIDTH);
    stream.write(`\r\x1b[K[${'#'.repeat(full)}${'.'.repeat(WIDTH - full)}] ${label}: ${name}`);
  };
  return { stage: (name) => draw(stages.indexOf(name) + 1, name), end: () => void stream.write('\r\x1b[K') };
};

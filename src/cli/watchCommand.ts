/** `watch`: a folder into which drawings are dropped, until the program is told to end. */

import type { JobLimits } from '../jobs/index.js';
import type { Overrides } from '../jobs/prepare.js';
import { EXIT, type ExitCode } from '../jobs/refusal.js';
import { Watch } from '../watch/index.js';

export interface WatchCommandOptions extends Overrides {
  readonly workers: number;
  readonly settle: number;
  readonly poll: number;
  readonly keepDays: number;
  readonly once?: boolean;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
}

const limitsOf = ({ timeLimit, memoryLimit }: WatchCommandOptions): Partial<JobLimits> => ({
  ...(timeLimit === undefined ? {} : { timeS: timeLimit }),
  ...(memoryLimit === undefined ? {} : { memoryMb: memoryLimit }),
});

/** One line on stderr for each thing that happens, with its time. */
const log = (level: string, words: string, about: Readonly<Record<string, unknown>>): void => {
  const facts = Object.entries(about).map(([name, value]) => ` ${name}=${String(value)}`);
  process.stderr.write(`${new Date().toISOString()} ${level} ${words}${facts.join('')}\n`);
};

/** Resolves when the program is asked to end. A second time ends it at once: nothing is lost by that. */
const untilAsked = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });

export const watchCommand = async (
  folder: string,
  options: WatchCommandOptions,
  version: string,
): Promise<ExitCode> => {
  const { workers, settle, poll, keepDays, once, timeLimit: _, memoryLimit: __, ...over } = options;
  const watch = await Watch.begin(folder, {
    over,
    workers,
    limits: limitsOf(options),
    settleS: settle,
    pollS: poll,
    keepDays,
    version,
    log,
  });
  log('info', 'watching', { folder, version });
  await (once ? Promise.race([watch.untilDone(), untilAsked()]) : untilAsked());
  log('info', 'ending', {});
  await watch.end();
  return EXIT.laidOut;
};

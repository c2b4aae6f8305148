/** `watch`: a folder into which drawings are dropped, until the program is told to end. */

import { join } from 'node:path';
import type { JobLimits } from '../jobs/index.js';
import { databaseUrlOf } from '../jobs/openStore.js';
import type { Overrides } from '../jobs/prepare.js';
import { EXIT, type ExitCode } from '../jobs/refusal.js';
import { Watch } from '../watch/index.js';
import { log } from './log.js';
import { untilAsked } from './untilAsked.js';

export interface WatchCommandOptions extends Overrides {
  readonly workers: number;
  readonly settle: number;
  readonly poll: number;
  readonly keepDays: number;
  readonly data?: string;
  readonly once?: boolean;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
}

const limitsOf = ({ timeLimit, memoryLimit }: WatchCommandOptions): Partial<JobLimits> => ({
  ...(timeLimit === undefined ? {} : { timeS: timeLimit }),
  ...(memoryLimit === undefined ? {} : { memoryMb: memoryLimit }),
});

export const watchCommand = async (
  folder: string,
  options: WatchCommandOptions,
  version: string,
): Promise<ExitCode> => {
  const { workers, settle, poll, keepDays, data, once, timeLimit: _, memoryLimit: __, ...over } = options;
  const databaseUrl = await databaseUrlOf(process.env);
  const watch = await Watch.begin(folder, {
    over,
    workers,
    limits: limitsOf(options),
    settleS: settle,
    pollS: poll,
    keepDays,
    version,
    ...(data === undefined ? {} : { jobsFolder: join(data, 'jobs') }),
    ...(databaseUrl === undefined ? {} : { databaseUrl }),
    log,
  });
  log('info', 'watching', { folder, version });
  let isLost = false;
  const lost = watch.untilLost.then(() => {
    isLost = true;
  });
  await Promise.race([...(once ? [watch.untilDone()] : []), lost, untilAsked()]);
  log('info', 'ending', {});
  await watch.end();
  return isLost ? EXIT.refused : EXIT.laidOut;
};

/** `work`: works off the jobs that others bring, until the program is told to end. */

import { join } from 'node:path';
import type { JobLimits } from '../jobs/index.js';
import { databaseUrlOf, openStore } from '../jobs/openStore.js';
import { EXIT, type ExitCode } from '../jobs/refusal.js';
import { Runner } from '../jobs/runner.js';
import { log } from './log.js';
import { untilAsked } from './untilAsked.js';

export interface WorkCommandOptions {
  readonly data: string;
  readonly workers: number;
  readonly grace: number;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
}

const limitsOf = ({ timeLimit, memoryLimit }: WorkCommandOptions): Partial<JobLimits> => ({
  ...(timeLimit === undefined ? {} : { timeS: timeLimit }),
  ...(memoryLimit === undefined ? {} : { memoryMb: memoryLimit }),
});

export const workCommand = async (options: WorkCommandOptions, version: string): Promise<ExitCode> => {
  const { data, workers, grace } = options;
  const store = await openStore(join(data, 'jobs'), version, await databaseUrlOf(process.env));
  const runner = new Runner(store, { workers, limits: limitsOf(options), log });
  runner.start();
  log('info', 'working', { data, workers, version });
  await untilAsked();
  log('info', 'ending', {});
  await runner.stop(grace * 1000);
  await store.close();
  return EXIT.laidOut;
};

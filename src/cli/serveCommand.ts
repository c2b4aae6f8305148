/** `serve`: the HTTP service, until the program is told to end. */

import type { JobLimits } from '../jobs/index.js';
import { databaseUrlOf } from '../jobs/openStore.js';
import { EXIT, type ExitCode } from '../jobs/refusal.js';
import { DEFAULTS, logTo, newKey, Service } from '../service/index.js';
import { untilAsked } from './untilAsked.js';

export interface ServeCommandOptions {
  readonly port: number;
  readonly host: string;
  readonly data: string;
  readonly workers: number;
  readonly keys?: string;
  readonly newKey?: string;
  readonly allowHost: readonly string[];
  readonly proxies: number;
  readonly keepDays: number;
  readonly requestTimeout: number;
  readonly grace: number;
  readonly requestsPerMinute: number;
  readonly jobsPerMinute: number;
  readonly queue: number;
  readonly logNames?: boolean;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
  readonly fileLimit?: number;
}

const STDERR = 2;

/** Prints a key once; only its hash is ever kept. */
const tellKey = (name: string): ExitCode => {
  const { key, line } = newKey(name);
  process.stdout.write(
    `Key of ${name}, shown this once:\n${key}\nIts line for the file that serve --keys names:\n${line}\n`,
  );
  return EXIT.laidOut;
};

const limitsOf = ({ timeLimit, memoryLimit, fileLimit }: ServeCommandOptions): Partial<JobLimits> => ({
  ...(timeLimit === undefined ? {} : { timeS: timeLimit }),
  ...(memoryLimit === undefined ? {} : { memoryMb: memoryLimit }),
  ...(fileLimit === undefined ? {} : { fileMb: fileLimit }),
});

export const serveCommand = async (options: ServeCommandOptions, version: string): Promise<ExitCode> => {
  if (options.newKey !== undefined) return tellKey(options.newKey);
  const service = await Service.begin({
    ...DEFAULTS,
    data: options.data,
    databaseUrl: await databaseUrlOf(process.env),
    host: options.host,
    port: options.port,
    workers: options.workers,
    keysFile: options.keys ?? null,
    allowHosts: options.allowHost.map((name) => name.toLowerCase()),
    proxies: options.proxies,
    keepDays: options.keepDays,
    limits: limitsOf(options),
    requestsPerMinute: options.requestsPerMinute,
    jobsPerMinute: options.jobsPerMinute,
    waitingMost: options.queue,
    requestTimeoutS: options.requestTimeout,
    graceS: options.grace,
    version,
    log: logTo(STDERR),
    logNames: options.logNames === true,
  });
  process.stdout.write(`shutterwright serves at ${service.url}\n`);
  await untilAsked();
  await service.end();
  return EXIT.laidOut;
};

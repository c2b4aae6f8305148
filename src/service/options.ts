/** What a service is begun with. */

import type { JobLimits } from '../jobs/index.js';
import type { ServiceLog } from './log.js';

export interface ServiceOptions {
  /** Where jobs and what is being uploaded stand. */
  readonly data: string;
  /** Of the database in which jobs are written down; undefined: they stand in folders. */
  readonly databaseUrl?: string | undefined;
  readonly host: string;
  /** 0: any free one. */
  readonly port: number;
  /** Jobs at a time; 0: others work them off. */
  readonly workers: number;
  /** File of API keys; null: no keys, and only this machine may call. */
  readonly keysFile: string | null;
  /** Names besides those of this machine by which callers may reach the service, without ports. */
  readonly allowHosts: readonly string[];
  /** Proxies that stand before the service and whose word on the caller's address is taken. */
  readonly proxies: number;
  /** Ended jobs are forgotten after this, days. */
  readonly keepDays: number;
  readonly limits: Partial<JobLimits>;
  /** Requests a minute that one key or address may make. */
  readonly requestsPerMinute: number;
  /** Jobs a minute that one key or address may bring. */
  readonly jobsPerMinute: number;
  /** Jobs that may wait at a time. */
  readonly waitingMost: number;
  /** From the first to the last byte of a request, s. */
  readonly requestTimeoutS: number;
  /** For running jobs to end when the service is told to stop, s; they are given back then. */
  readonly graceS: number;
  /** Program's version: results of another one are not taken for the same. */
  readonly version: string;
  readonly log: ServiceLog;
  /** Whether names of drawings are logged. */
  readonly logNames: boolean;
  /** The compiled threads of jobs and of settings; those beside their callers unless said otherwise. */
  readonly workerUrl?: URL;
  readonly settingsUrl?: URL;
  /** Folder with the page as built; the one beside this file unless said otherwise. */
  readonly pageFolder?: URL;
  /** Between comments that keep a stream of events open, ms. */
  readonly heartbeatMs?: number;
}

/** What a person need not say. */
export const DEFAULTS = {
  host: '127.0.0.1',
  port: 8080,
  data: 'shutterwright-data',
  workers: 1,
  keepDays: 14,
  requestsPerMinute: 600,
  jobsPerMinute: 60,
  waitingMost: 200,
  requestTimeoutS: 120,
  graceS: 10,
  proxies: 0,
} as const;

/** From the first byte to the end of a request's headers, ms. */
export const HEADERS_TIMEOUT_MS = 15_000;
/** Of a socket on which nothing moves, ms. */
export const IDLE_TIMEOUT_MS = 120_000;
/** Of all headers of a request, bytes. */
export const HEADERS_MOST = 16_384;
export const CONNECTIONS_MOST = 1_000;
/** Streams of events that are open at a time. */
export const STREAMS_MOST = 500;
/** Uploads that are received at a time. */
export const UPLOADS_MOST = 8;

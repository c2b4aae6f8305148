/** What is kept of a job, and what a store of jobs promises. */

import type { Readable } from 'node:stream';
import type { StageName } from '../pipeline/index.js';
import type { JobDone, JobFault, JobInput, JobOutcome } from './messages.js';

/** waiting: nobody has begun; running: a worker is at it; ended: it came to its end, whichever; cancelled: ended because somebody asked. */
export type JobState = 'waiting' | 'running' | 'ended' | 'cancelled';

/** A result that is kept. */
export interface KeptFile {
  readonly name: string;
  readonly sizeBytes: number;
  /** Lower-case hex. */
  readonly sha256: string;
}

export interface JobRecord {
  readonly id: string;
  readonly state: JobState;
  /** Name of the drawing without folders, as whoever brought it calls it; never used as a path. */
  readonly fileName: string;
  /** Same key, same result: made of the drawing, its name, the settings and the version of the program. */
  readonly key: string;
  /** Of the drawing. */
  readonly sizeBytes: number;
  readonly sha256: string;
  /** ISO 8601, UTC. */
  readonly submittedAt: string;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  /** How often it was begun without being given back in good order: more than once only where a worker was lost. */
  readonly attempts: number;
  /** The stage that a running job is in. */
  readonly stage: StageName | null;
  /** As of the command line; null until the job has ended, and of one that was cancelled. */
  readonly exitCode: 0 | 1 | 2 | 3 | null;
  readonly files: readonly KeptFile[];
  /** From where it came, in the words of whoever brought it. */
  readonly origin: Readonly<Record<string, string>>;
}

/** What a job came to, without the bytes of its files. */
export type KeptOutcome = Omit<JobDone, 'files'> | JobFault;

/** A part of what is kept. */
export interface PageOf {
  /** Only jobs whose ids come before this: an id, or `idAt` of a time. */
  readonly before?: string;
  readonly state?: JobState;
  readonly limit: number;
}

export interface Submission {
  readonly input: JobInput;
  readonly origin?: Readonly<Record<string, string>>;
}

/** A job in the hands of one worker. */
export interface Claim {
  readonly record: JobRecord;
  readonly input: JobInput;
  /** Says that the worker lives. `lost`: the job was given to another; `cancelled`: it is to be ended. */
  readonly beat: (stage: StageName | null) => Promise<'held' | 'lost' | 'cancelled'>;
  /** Keeps the outcome; false where the job was lost meanwhile, and nothing was kept. Throws where the store cannot be written: the job is still held then. */
  readonly finish: (outcome: JobOutcome | 'cancelled') => Promise<boolean>;
  /** Gives the job back, to be begun anew; it then counts as not begun. */
  readonly release: () => Promise<void>;
}

/**
 * Where jobs stand. What was submitted is there after a crash; a job is in one worker's hands at a time; a job whose worker is gone goes back to those
 * that wait. Everything rejects where the store cannot be read or written, and what was asked for has then not happened.
 */
export interface JobStore {
  /** The job of this key that is there already (`isNew` false), or a new one that waits. */
  readonly submit: (submission: Submission) => Promise<{ readonly record: JobRecord; readonly isNew: boolean }>;
  /** The job that has waited longest; null where none waits. */
  readonly claim: () => Promise<Claim | null>;
  /** Gives back jobs whose workers are gone; their ids. */
  readonly recover: () => Promise<readonly string[]>;
  readonly get: (id: string) => Promise<JobRecord | null>;
  /** Newest first. What it costs does not grow with the records that are kept besides. */
  readonly page: (of: PageOf) => Promise<readonly JobRecord[]>;
  readonly count: (state: JobState) => Promise<number>;
  /** Null until the job has ended. */
  readonly outcomeOf: (id: string) => Promise<KeptOutcome | null>;
  /** One of a record's files; null where there is none of that name. */
  readonly fileOf: (id: string, name: string) => Promise<Uint8Array | null>;
  /** The same piece by piece, for readers that may be slow; what is open stays whole when the job is forgotten. */
  readonly streamOf: (id: string, name: string) => Promise<Readable | null>;
  /** Ends a job that waits at once, one that runs soon; false where it has ended or is not there. */
  readonly cancel: (id: string) => Promise<boolean>;
  /** Forgets a job that has ended, with its files; false where it has not or is not there. */
  readonly discard: (id: string) => Promise<boolean>;
  /** Lets go of what is held open; nothing is asked of the store after that. */
  readonly close: () => Promise<void>;
}

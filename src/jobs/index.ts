/**
 * Runs one job of the pipeline in a thread of its own, under limits of time and memory: whatever the drawing holds, the caller lives on and is told
 * what became of the job.
 */

import { createHash } from 'node:crypto';
import { Worker } from 'node:worker_threads';
import { type FindingCode, finding } from '../ground/findings.js';
import type { StageName } from '../pipeline/index.js';
import type { FromWorker, JobDone, JobInput, JobOutcome } from './messages.js';

export type { JobDone, JobFault, JobInput, JobOutcome } from './messages.js';

export interface JobLimits {
  /** From start to end of the job, s. */
  readonly timeS: number;
  /** Heap of the job's thread, MB. */
  readonly memoryMb: number;
  /** Size of the drawing, MB. */
  readonly fileMb: number;
}

export const DEFAULT_LIMITS: JobLimits = { timeS: 300, memoryMb: 2048, fileMb: 200 };

export interface RunOptions {
  readonly limits?: Partial<JobLimits>;
  readonly onProgress?: (stage: StageName) => void;
  /** Ends the job; `runJob` then says that it was `stopped`. */
  readonly signal?: AbortSignal;
  /** The compiled worker; the one beside this file unless said otherwise. */
  readonly workerUrl?: URL;
}

/** Lower-case hex. */
export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const ended = (code: FindingCode, message: string): JobDone => ({
  kind: 'done',
  exitCode: 2,
  findings: [finding(code, message)],
  files: [],
  summary: null,
  traced: null,
});

const outOfMemory = (error: Error & { code?: string }): boolean =>
  error.code === 'ERR_WORKER_OUT_OF_MEMORY' || /allocation failed/i.test(error.message);

/** What became of a thread that failed: a limit that it met, or a fault of ours. */
const failureOf = (error: Error & { code?: string }, limits: JobLimits): JobOutcome => {
  if (outOfMemory(error)) {
    return ended('pipeline.out-of-memory', `The job needed more than ${limits.memoryMb} MB of memory and was ended.`);
  }
  return { kind: 'fault', exitCode: 3, detail: error.stack ?? error.message };
};

/**
 * Runs a job to its end, its limit or its fault; never rejects. `input.bytes` are copied to the thread and stay the caller's.
 */
export const runJob = (input: JobInput, options: Omit<RunOptions, 'signal'> = {}): Promise<JobOutcome> =>
  runJobWhile(input, options) as Promise<JobOutcome>;

/** The same, until `signal` ends it. */
export const runJobWhile = (input: JobInput, options: RunOptions): Promise<JobOutcome | 'stopped'> => {
  const limits: JobLimits = { ...DEFAULT_LIMITS, ...options.limits };
  const sizeMb = input.bytes.byteLength / 1e6;
  if (sizeMb > limits.fileMb) {
    const message = `The file has ${Math.ceil(sizeMb)} MB; at most ${limits.fileMb} MB are taken on.`;
    return Promise.resolve(ended('pipeline.file-too-large', message));
  }
  return new Promise((resolve) => {
    const worker = new Worker(options.workerUrl ?? new URL('./worker.js', import.meta.url), {
      workerData: input,
      resourceLimits: { maxOldGenerationSizeMb: limits.memoryMb },
    });
    let settled = false;
    const stop = () => settle('stopped');
    const settle = (outcome: JobOutcome | 'stopped'): void => {
      if (settled) return;
      settled = true;
      clearTimeout(timer);
      options.signal?.removeEventListener('abort', stop);
      void worker.terminate().then(() => resolve(outcome));
    };
    const timer = setTimeout(() => {
      settle(ended('pipeline.out-of-time', `The job did not end within ${limits.timeS} s and was ended.`));
    }, limits.timeS * 1000);
    if (options.signal?.aborted) stop();
    else options.signal?.addEventListener('abort', stop);
    worker.on('message', (message: FromWorker) => {
      if (message.kind === 'progress') options.onProgress?.(message.stage);
      else settle(message.outcome);
    });
    worker.on('error', (error) => settle(failureOf(error as Error, limits)));
    worker.on('exit', (code) => {
      settle({ kind: 'fault', exitCode: 3, detail: `the job's thread ended with code ${code} and without a word` });
    });
  });
};

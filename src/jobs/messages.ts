/** What the worker and its caller say to each other. Everything here survives structured cloning. */

import type { Finding } from '../ground/findings.js';
import type { LayOutInput, OutFile, StageName, Summary, TraceSummary } from '../pipeline/index.js';

export interface JobInput extends Omit<LayOutInput, 'readModel' | 'writePdf' | 'paint'> {
  /** Only what was understood of the drawing, before any fitting. */
  readonly traceOnly?: boolean;
}

/** A job that came to its end: refused (no files, no summary), laid out or traced. */
export interface JobDone {
  readonly kind: 'done';
  readonly exitCode: 0 | 1 | 2;
  readonly findings: readonly Finding[];
  readonly files: readonly OutFile[];
  readonly summary: Summary | null;
  /** Of a trace. */
  readonly traced: TraceSummary | null;
}

/** A fault of this program. */
export interface JobFault {
  readonly kind: 'fault';
  readonly exitCode: 3;
  /** Message and stack, for whoever mends it. */
  readonly detail: string;
}

export type JobOutcome = JobDone | JobFault;

export type FromWorker =
  | { readonly kind: 'progress'; readonly stage: StageName }
  | { readonly kind: 'outcome'; readonly outcome: JobOutcome };

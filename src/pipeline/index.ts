/** What the front ends and the job runner may use. */

export { engineFor, programsFor } from './engine.js';
export {
  type LayOutInput,
  type OnProgress,
  type OutFile,
  outNames,
  STAGES,
  type StageName,
  stemOf,
  TRACE_STAGES,
  traceNames,
} from './input.js';
export { type LayOutOutcome, layOut } from './layOut.js';
export { DEMO_CATALOGUES, filesNamed, type Job, jobJsonSchema, parseJob, parseStock } from './options.js';
export { isOwnProposal } from './proposal.js';
export { type Summary, summaryOf } from './summary.js';
export { type TraceOutcome, traceOnly } from './traceOnly.js';
export { type TraceSummary, traceSummaryOf } from './traceSummary.js';

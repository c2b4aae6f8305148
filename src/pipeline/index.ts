/** What the front ends and the job runner may use. */

export type { PaintKit } from '../write/report/painter.js';
export type { PaperKit } from '../write/report/pdf/index.js';
export { engineFor, painterFor, printerFor, programsFor } from './engine.js';
export {
  type LayOutInput,
  type OnProgress,
  type OutFile,
  outNames,
  type Paint,
  STAGES,
  type StageName,
  stemOf,
  TRACE_STAGES,
  traceNames,
  type WritePdf,
} from './input.js';
export { type LayOutOutcome, layOut } from './layOut.js';
export { DEMO_CATALOGUES, filesNamed, type Job, jobJsonSchema, parseJob, parseStock, wrongInJob } from './options.js';
export { isOwnProposal } from './proposal.js';
export { type Summary, summaryOf } from './summary.js';
export { type TraceOutcome, traceOnly } from './traceOnly.js';
export { type TraceSummary, traceSummaryOf } from './traceSummary.js';

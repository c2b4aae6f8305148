/** What the job runner may use; callers.ts has what front ends need before and after a run. */

export type { PaintKit } from '../write/report/painter.js';
export type { PaperKit } from '../write/report/pdf/index.js';
export * from './callers.js';
export { engineFor, painterFor, printerFor, programsFor } from './engine.js';
export type { OnProgress, Paint, WritePdf } from './input.js';
export { type LayOutOutcome, layOut } from './layOut.js';
export { parseStock } from './options.js';
export { type Summary, summaryOf } from './summary.js';
export { type TraceOutcome, traceOnly } from './traceOnly.js';
export { type TraceSummary, traceSummaryOf } from './traceSummary.js';

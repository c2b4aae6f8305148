/** What the front ends and the job runner may use. */

export {
  type LayOutInput,
  type LayOutOutcome,
  layOut,
  type OnProgress,
  type OutFile,
  outNames,
  STAGES,
  type StageName,
  stemOf,
} from './layOut.js';
export { DEMO_CATALOGUES, filesNamed, type Job, jobJsonSchema, parseJob, parseStock } from './options.js';
export { type Summary, summaryOf } from './summary.js';

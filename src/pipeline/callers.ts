/** What front ends use of the pipeline without running it: names, the job file, words. Apart from index.ts, since loading the stages takes a second. */

export {
  type LayOutInput,
  type OutFile,
  outNames,
  STAGES,
  type StageName,
  stemOf,
  TRACE_STAGES,
  traceNames,
} from './input.js';
export { DEMO_CATALOGUES, filesNamed, type Job, jobJsonSchema, parseJob, wrongInJob } from './options.js';
export { isOwnProposal } from './proposal.js';

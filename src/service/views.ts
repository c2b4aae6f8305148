/** What is kept of jobs, as it is sent. */

import { CAUTIONS } from '../ground/cautions.js';
import { FINDINGS, type Finding, type FindingKind } from '../ground/findings.js';
import type { JobRecord, KeptOutcome } from '../jobs/record.js';
import { STAGES, TRACE_STAGES } from '../pipeline/callers.js';
import type { Summary, TraceSummary } from '../pipeline/index.js';
import { mediaTypeOf } from './mediaTypes.js';
import type { FindingView, JobBrief, JobView, ProgressView, ResultView, SummaryView, TracedView } from './shapes.js';

/** Readonly lists of ours as those of the wire. */
type Plain<T> = T extends readonly (infer E)[]
  ? T extends readonly [infer A, infer B, infer C]
    ? [A, B, C]
    : Plain<E>[]
  : T extends object
    ? { -readonly [K in keyof T]: Plain<T[K]> }
    : T;

export const kindOf = ({ origin }: JobRecord): 'layout' | 'trace' => (origin.kind === 'trace' ? 'trace' : 'layout');

export const hrefOf = (id: string): string => `/api/jobs/${id}`;

export const briefOf = (record: JobRecord): JobBrief => {
  const { id, state, fileName, sizeBytes, sha256, submittedAt, startedAt, endedAt, stage, exitCode } = record;
  const kind = kindOf(record);
  return {
    id,
    kind,
    state,
    fileName,
    sizeBytes,
    sha256,
    submittedAt,
    startedAt,
    endedAt,
    stage,
    stages: [...(kind === 'trace' ? TRACE_STAGES : STAGES)],
    exitCode,
    files: record.files.map((file) => ({
      name: file.name,
      sizeBytes: file.sizeBytes,
      sha256: file.sha256,
      mediaType: mediaTypeOf(file.name),
      href: `${hrefOf(id)}/files/${encodeURIComponent(file.name)}`,
    })),
    href: hrefOf(id),
    eventsHref: `${hrefOf(id)}/events`,
  };
};

const findingOf = (f: Finding): FindingView => {
  // A store may hold findings of an older version, with codes that are gone.
  const kind: FindingKind | undefined = FINDINGS[f.code];
  const { question = null, keys = [] } = kind?.ask ?? {};
  return { ...(f as Plain<Finding>), action: kind?.action ?? '', question, keys: [...keys] };
};

const resultOf = (outcome: KeptOutcome): ResultView =>
  outcome.kind === 'fault'
    ? { kind: 'fault', message: 'The program itself failed at this job; its log and its store say more.' }
    : {
        kind: 'done',
        findings: outcome.findings.map(findingOf),
        summary: outcome.summary as Plain<Summary> satisfies SummaryView | null,
        traced: outcome.traced as Plain<TraceSummary> satisfies TracedView | null,
      };

export const viewOf = (record: JobRecord, outcome: KeptOutcome | null): JobView => ({
  ...briefOf(record),
  result: outcome === null ? null : resultOf(outcome),
  cautions: [...CAUTIONS],
});

export const progressOf = ({ id, state, stage, exitCode }: JobRecord): ProgressView => ({ id, state, stage, exitCode });

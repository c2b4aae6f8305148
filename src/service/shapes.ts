/** What the service sends and takes, version 1: the source of its OpenAPI document and of the types of its clients. Keys may be added, never renamed. */

import { z } from 'zod';
import { ID as JOB_ID } from '../jobs/idForm.js';

const time = z.iso.datetime().describe('UTC');
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const id = z.string().regex(JOB_ID);
const number = z.number();

const state = z
  .enum(['waiting', 'running', 'ended', 'cancelled'])
  .describe('ended: whichever way it came to its end; see exitCode');
const kind = z.enum(['layout', 'trace']).describe('trace: only what was understood of the drawing, before any fitting');
const stage = z.enum(['read', 'trace', 'shape', 'fit', 'check', 'schedule', 'write']);
const exitCode = z
  .literal([0, 1, 2, 3])
  .nullable()
  .describe(
    '0 laid out; 1 laid out, with failures that the findings name; 2 refused; 3 a fault of the program; null: not ended, or cancelled',
  );

export const fileShape = z.strictObject({
  name: z.string(),
  sizeBytes: z.int(),
  sha256,
  mediaType: z.string(),
  href: z.string().describe('address on this service'),
});

const brief = {
  id,
  kind,
  state,
  fileName: z.string().describe('name of the drawing'),
  sizeBytes: z.int().describe('of the drawing'),
  sha256: sha256.describe('of the drawing'),
  submittedAt: time,
  startedAt: time.nullable(),
  endedAt: time.nullable(),
  stage: stage.nullable().describe('in which a running job is'),
  stages: z.array(stage).describe('that it goes through, in order'),
  exitCode,
  files: z.array(fileShape),
  href: z.string(),
  eventsHref: z.string(),
};

export const findingShape = z.strictObject({
  code: z.string(),
  severity: z.enum(['note', 'attention', 'failure']),
  rule: z.string(),
  at: z.tuple([number, number, number]).nullable().describe('place in the drawing, mm'),
  subject: z.string(),
  message: z.string(),
  assumed: z.string().nullable().describe('what was assumed in order to go on'),
  action: z.string().describe('what a person does about it'),
  question: z.string().nullable().describe('what a person is asked'),
  keys: z.array(z.string()).describe('of the job file, that answer it'),
});

export const summaryShape = z
  .strictObject({
    lengthUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft']),
    catalogue: z.string(),
    footingMm: number,
    topMm: number,
    isLevel: z.boolean(),
    walls: z.int(),
    pieces: z.int(),
    totals: z.strictObject({
      wallLengthM: number,
      contactAreaM2: number,
      contactAreaNetM2: number,
      endAreaM2: number,
      panelAreaM2: number,
      timberAreaM2: number,
      massKg: number,
      concreteM3: number,
      tieCount: number,
    }),
    tiers: z.array(z.strictObject({ name: z.string(), value: number, bound: number.nullable(), optimal: z.boolean() })),
    cutShort: z.boolean(),
    pressure: z.array(z.strictObject({ method: z.string(), rateMPerH: number, designKpa: z.array(number) })),
    worstTie: z.strictObject({ id: z.string(), loadKn: number, workingLoadKn: number }).nullable(),
  })
  .describe('the figures of a layout that a person reads first');

const from = z.enum(['job', 'drawing', 'default']);
export const tracedShape = z
  .strictObject({
    lengthUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft']),
    walls: z.int(),
    wallLengthM: number,
    curves: z.int(),
    openings: z.int(),
    steps: z.int(),
    pilasters: z.int(),
    bars: z.int(),
    layers: z.array(z.string()),
    levels: z.strictObject({ footingMm: number, topMm: number, footingFrom: from, topFrom: from }),
    levelsAt: z.int(),
    views: z.array(z.strictObject({ title: z.string().nullable(), chosen: z.boolean(), why: z.string() })),
    questions: z.array(
      z.strictObject({
        number: z.int(),
        severity: z.enum(['attention', 'failure']),
        question: z.string(),
        found: z.string(),
        assumed: z.string().nullable(),
        at: z.tuple([number, number, number]).nullable().describe('mm'),
        keys: z.array(z.string()).describe('of the job file, that answer it'),
        code: z.string(),
      }),
    ),
  })
  .describe('what was understood of a drawing, with the questions to answer');

export const resultShape = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('done'),
    findings: z.array(findingShape),
    summary: summaryShape.nullable().describe('of a layout'),
    traced: tracedShape.nullable().describe('of a trace'),
  }),
  z.strictObject({ kind: z.literal('fault'), message: z.string() }),
]);

export const jobBriefShape = z.strictObject(brief);
export const jobShape = z.strictObject({
  ...brief,
  result: resultShape.nullable().describe('null until the job has ended, and of one that was cancelled'),
  cautions: z.array(z.string()).describe('which everybody is to read who builds by the result'),
});
export const jobListShape = z.strictObject({
  jobs: z.array(jobBriefShape).describe('newest first'),
  next: id.nullable().describe('give it as `before` to have the next page; null: there is none'),
});
export const progressShape = z.strictObject({ id, state, stage: stage.nullable(), exitCode });

export const problemShape = z.strictObject({
  type: z.string().describe('address at which it is explained'),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  errors: z
    .array(z.strictObject({ pointer: z.string().describe('JSON pointer as a fragment'), detail: z.string() }))
    .optional()
    .describe('what is wrong with a job file, key by key'),
});
export const problemKindShape = z.strictObject({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  meaning: z.string(),
});
export const sessionAskShape = z.strictObject({ key: z.string().min(1).max(200) });
export const sessionShape = z.strictObject({
  needsKey: z.boolean().describe('whether the service has keys'),
  name: z.string().nullable().describe('of the key that the caller has given'),
});
export const healthShape = z.strictObject({
  status: z.enum(['ok', 'failing']),
  checks: z.record(z.string(), z.string()),
});

export type JobBrief = z.infer<typeof jobBriefShape>;
export type JobView = z.infer<typeof jobShape>;
export type JobList = z.infer<typeof jobListShape>;
export type FindingView = z.infer<typeof findingShape>;
export type ResultView = z.infer<typeof resultShape>;
export type SummaryView = z.infer<typeof summaryShape>;
export type TracedView = z.infer<typeof tracedShape>;
export type ProgressView = z.infer<typeof progressShape>;
export type ProblemView = z.infer<typeof problemShape>;
export type SessionView = z.infer<typeof sessionShape>;

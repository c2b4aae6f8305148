/**
 * A drawing as understood, before any fitting: read, trace and shape, then a drawing of it, its facts as JSON and a proposed job file. A person looks the
 * drawing over, answers the questions in the job file and runs again. Pure, as layOut is.
 */

import { compareFindings, type Finding, finding } from '../ground/findings.js';
import { questionsOf, type TraceResult } from '../ground/questions.js';
import type { Foundation } from '../ground/vocabulary.js';
import { writeTraceDxf } from '../write/dxf/index.js';
import { traceJson } from '../write/json/index.js';
import { type Answer, answersOf, layersOf, withAnswers } from './answers.js';
import { catalogueOf, type LayOutInput, type OnProgress, type OutFile, stemOf, traceNames } from './input.js';
import { statedHeightMm } from './lettering.js';
import { beforeLayout, notSaidBefore } from './once.js';
import type { Job } from './options.js';
import { proposalText } from './proposal.js';
import { sameFoundation } from './sameFoundation.js';
import { jobSchema } from './schema.js';
import { shapeFor } from './thickenings.js';
import { headerOf, type Origin, retrace, understand } from './understand.js';

export type TraceOutcome =
  /** Nothing could be read; no files. The last finding says why in one sentence. */
  | { readonly kind: 'refused'; readonly exitCode: 2; readonly findings: readonly Finding[] }
  /** Traced; exit code 1 when a finding is a failure. */
  | {
      readonly kind: 'traced';
      readonly exitCode: 0 | 1;
      readonly files: readonly OutFile[];
      readonly result: TraceResult;
    };

const encoder = new TextEncoder();

/** Pieces of linework, or elements of a model, that may be traced again, all trials together, to try a proposal out. */
const TRIALS_MOST = 24_000;

const sizeOf = (origin: Origin): number =>
  origin.kind === 'dxf' ? origin.drawing.paths.length : origin.model.elements.length;

interface Proposed {
  readonly answers: readonly Answer[];
  /** Keys that were left out because naming them would change what is read. */
  readonly unsafe: readonly string[];
  /** The drawing is too large for trials. */
  readonly isUntried: boolean;
}

/**
 * Proposes only what gives the same foundation again: every proposed line taken, then, where that fails, key by key. A key that there is no room left to
 * try is not proposed.
 */
const tried = (origin: Origin, job: Job, foundation: Foundation, answers: readonly Answer[]): Proposed => {
  const size = sizeOf(origin);
  let room = TRIALS_MOST;
  const holds = (some: readonly Answer[]): boolean => {
    const proposed = withAnswers(job, some);
    if (!jobSchema.safeParse(proposed).success) return false;
    room -= size;
    return room >= 0 && sameFoundation(foundation, retrace(origin, proposed).value);
  };
  if (size > TRIALS_MOST) return { answers, unsafe: [], isUntried: true };
  if (holds(answers)) return { answers, unsafe: [], isUntried: false };
  const kept: Answer[] = [];
  const unsafe: string[] = [];
  for (const key of new Set(answers.map((a) => a.key))) {
    const more = answers.filter((a) => a.key === key);
    if (holds([...kept, ...more])) kept.push(...more);
    else unsafe.push(key);
  }
  return { answers: kept, unsafe, isUntried: false };
};

const proposalOf = (input: LayOutInput, origin: Origin, result: TraceResult): string => {
  const job = input.jobAsGiven ?? input.job;
  const answers = answersOf(job, origin, result);
  return proposalText({
    fileName: input.fileName,
    jobName: `${stemOf(input.fileName)}.job.yaml`,
    unit: result.foundation.lengthUnit,
    job,
    ...tried(origin, job, result.foundation, answers),
    questions: result.questions,
    findings: result.findings,
  });
};

/** All files. The drawing first: what its writer finds belongs in the others too. */
const written = (input: LayOutInput, origin: Origin, result: TraceResult) => {
  const names = traceNames(input.fileName);
  const { mode = 'overlay', layerNames } = input.job.output ?? {};
  const dxf = writeTraceDxf(result, origin.kind === 'dxf' ? origin.drawing.document : null, {
    mode,
    ...(layerNames ? { layerNames } : {}),
  });
  const more = [...dxf.findings];
  if (!dxf.ok) {
    const why = dxf.findings.at(-1)?.message ?? 'no reason was given.';
    more.push(finding('pipeline.drawing-not-written', `${names.drawing} was not written: ${why}`));
  }
  // Questions keep the numbers that they have in the drawing: what the writer found stands behind them.
  const findings = [...result.findings, ...more].sort(compareFindings);
  const late = questionsOf(more).map((q) => ({ ...q, number: q.number + result.questions.length }));
  const all: TraceResult = { ...result, findings, questions: [...result.questions, ...late] };
  const text = (name: string, content: string): OutFile => ({ name, bytes: encoder.encode(content) });
  const files = [
    ...(dxf.ok ? [{ name: names.drawing, bytes: dxf.value }] : []),
    text(names.facts, traceJson(all)),
    text(names.proposal, proposalOf(input, origin, all)),
  ];
  return { files, result: all };
};

/**
 * Traces one drawing or model. Refused: bytes that are neither, or a catalogue that cannot be used (its grid rounds the walls). Anything else ends in files;
 * without a wall the drawing holds the questions alone.
 */
export const traceOnly = (input: LayOutInput, onProgress: OnProgress = () => {}): TraceOutcome => {
  const understood = understand(input, onProgress);
  if (!understood.ok) return { kind: 'refused', exitCode: 2, findings: understood.findings };
  const { origin, traced, before } = understood.value;
  const { job } = input;
  const foundation = traced.value;
  const { lengthUnit } = foundation;
  const loaded = catalogueOf(input, lengthUnit);
  if (!loaded.ok) return { kind: 'refused', exitCode: 2, findings: loaded.findings };
  onProgress('shape');
  const shaped = shapeFor(foundation, loaded.value);
  const findings = [
    ...before,
    ...traced.findings,
    ...notSaidBefore(traced, shaped.findings, job).map(beforeLayout),
  ].sort(compareFindings);
  onProgress('write');
  const model = headerOf(origin);
  const { files, result } = written(input, origin, {
    source: { file: input.fileName, sha256: input.sha256, kind: origin.kind, lengthUnit },
    foundation,
    ...(model ? { model } : {}),
    plan: shaped.value,
    layers: origin.kind === 'dxf' ? layersOf(origin.drawing, foundation) : [],
    textHeightMm: statedHeightMm(origin, shaped.value, lengthUnit, job),
    questions: questionsOf(findings),
    findings,
  });
  const failed = result.findings.some((f) => f.severity === 'failure');
  return { kind: 'traced', exitCode: failed ? 1 : 0, files, result };
};

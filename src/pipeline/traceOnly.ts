/**
 * A drawing as understood, before any fitting: read, trace and shape, then a drawing of it, its facts as JSON and a proposed job file. A person looks the
 * drawing over, answers the questions in the job file and runs again. Pure, as layOut is.
 */

import { compareFindings, type Finding, finding } from '../ground/findings.js';
import { questionsOf, type TraceResult } from '../ground/questions.js';
import { MM_PER } from '../ground/units.js';
import type { Drawing, Foundation } from '../ground/vocabulary.js';
import { readDxf } from '../read/dxf/index.js';
import { shape } from '../shape/index.js';
import { trace } from '../trace/index.js';
import { writeTraceDxf } from '../write/dxf/index.js';
import { traceJson } from '../write/json/index.js';
import { type Answer, answersOf, layersOf, withAnswers } from './answers.js';
import { catalogueOf, type LayOutInput, type OnProgress, type OutFile, traceNames, stemOf } from './input.js';
import type { Job } from './options.js';
import { beforeLayout, notSaidBefore } from './once.js';
import { proposalText } from './proposal.js';
import { sameFoundation } from './sameFoundation.js';
import { jobSchema } from './schema.js';
import { traceOptions } from './settings.js';

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

/** Height of most of the drawing's texts, mm; of several the lower. */
const textHeightMm = (drawing: Drawing, mmPer: number): number | null => {
  const counts = new Map<number, number>();
  for (const { height } of drawing.texts) {
    const heightMm = Math.round(height * mmPer);
    if (heightMm > 0 && Number.isFinite(heightMm)) counts.set(heightMm, (counts.get(heightMm) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  return most ? most[0] : null;
};

/** Pieces of linework that may be traced again, all trials together, to try a proposal out. */
const TRIALS_MOST = 24_000;

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
const tried = (drawing: Drawing, job: Job, foundation: Foundation, answers: readonly Answer[]): Proposed => {
  let room = TRIALS_MOST;
  const holds = (some: readonly Answer[]): boolean => {
    const proposed = withAnswers(job, some);
    if (!jobSchema.safeParse(proposed).success) return false;
    room -= drawing.paths.length;
    return room >= 0 && sameFoundation(foundation, trace(drawing, traceOptions(proposed)).value);
  };
  if (drawing.paths.length > TRIALS_MOST) return { answers, unsafe: [], isUntried: true };
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

const proposalOf = (input: LayOutInput, drawing: Drawing, result: TraceResult): string => {
  const job = input.jobAsGiven ?? input.job;
  const answers = answersOf(job, drawing, result);
  return proposalText({
    fileName: input.fileName,
    jobName: `${stemOf(input.fileName)}.job.yaml`,
    unit: result.foundation.lengthUnit,
    job,
    ...tried(drawing, job, result.foundation, answers),
    questions: result.questions,
    findings: result.findings,
  });
};

/** All files. The drawing first: what its writer finds belongs in the others too. */
const written = (input: LayOutInput, drawing: Drawing, result: TraceResult) => {
  const names = traceNames(input.fileName);
  const { mode = 'overlay', layerNames } = input.job.output ?? {};
  const dxf = writeTraceDxf(result, drawing.document, { mode, ...(layerNames ? { layerNames } : {}) });
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
    text(names.proposal, proposalOf(input, drawing, all)),
  ];
  return { files, result: all };
};

/**
 * Traces one drawing. Refused: bytes that are no drawing, or a catalogue that cannot be used (its grid rounds the walls). Anything else ends in files;
 * without a wall the drawing holds the questions alone.
 */
export const traceOnly = (input: LayOutInput, onProgress: OnProgress = () => {}): TraceOutcome => {
  onProgress('read');
  const read = readDxf(input.bytes);
  if (!read.ok) return { kind: 'refused', exitCode: 2, findings: read.findings };
  const drawing = read.value;
  onProgress('trace');
  const traced = trace(drawing, traceOptions(input.job));
  const { job } = input;
  const foundation = traced.value;
  const { lengthUnit } = foundation;
  const loaded = catalogueOf(input, lengthUnit);
  if (!loaded.ok) return { kind: 'refused', exitCode: 2, findings: loaded.findings };
  onProgress('shape');
  const shaped = shape(foundation, { gridMm: loaded.value.gridMm });
  const findings = [
    ...read.findings,
    ...traced.findings,
    ...notSaidBefore(traced, shaped.findings, job).map(beforeLayout),
  ].sort(compareFindings);
  onProgress('write');
  const { files, result } = written(input, drawing, {
    source: { file: input.fileName, sha256: input.sha256, kind: 'dxf', lengthUnit },
    foundation,
    plan: shaped.value,
    layers: layersOf(drawing, foundation),
    textHeightMm: textHeightMm(drawing, MM_PER[lengthUnit]),
    questions: questionsOf(findings),
    findings,
  });
  const failed = result.findings.some((f) => f.severity === 'failure');
  return { kind: 'traced', exitCode: failed ? 1 : 0, files, result };
};

/**
 * The one place that joins the stages: a drawing's bytes and a job in, files and findings out. Pure: no files, no clock. What goes wrong with the
 * input is a finding; only a fault of this program throws.
 */

import { check } from '../check/index.js';
import { chooseStacks, fit as fitRuns } from '../fit/index.js';
import { compareFindings, type Finding, finding } from '../ground/findings.js';
import type { Catalogue, Drawing, FacePlan, Foundation, Result } from '../ground/vocabulary.js';
import { readDxf } from '../read/dxf/index.js';
import { schedule } from '../schedule/index.js';
import { shape } from '../shape/index.js';
import { trace } from '../trace/index.js';
import { writeDxf } from '../write/dxf/index.js';
import { layoutJson } from '../write/json/index.js';
import { reportHtml } from '../write/report/index.js';
import { scheduleCsv } from '../write/tables/index.js';
import { demandsOf } from './demands.js';
import { catalogueOf, type LayOutInput, type OnProgress, type OutFile, outNames } from './input.js';
import { notSaidBefore } from './once.js';
import { type Job, parseStock } from './options.js';
import { fitOptions, notUsedYet, traceOptions, withJob } from './settings.js';

export type LayOutOutcome =
  /** Nothing could be laid out; no files. The last finding says why in one sentence. */
  | { readonly kind: 'refused'; readonly exitCode: 2; readonly findings: readonly Finding[] }
  /** Laid out; exit code 1 when a finding is a failure. */
  | {
      readonly kind: 'laid-out';
      readonly exitCode: 0 | 1;
      readonly files: readonly OutFile[];
      readonly result: Result;
    };

const encoder = new TextEncoder();

const refused = (findings: readonly Finding[]): LayOutOutcome => ({ kind: 'refused', exitCode: 2, findings });

interface Formed {
  readonly result: Result;
  readonly findings: readonly Finding[];
}

/** From walls to a counted layout: shape, fit, check, schedule. */
const formed = (input: LayOutInput, foundation: Foundation, catalogue: Catalogue, onProgress: OnProgress): Formed => {
  const { job } = input;
  const findings: Finding[] = [];
  const keep = <T>(staged: { readonly value: T; readonly findings: readonly Finding[] }): T => {
    findings.push(...staged.findings);
    return staged.value;
  };
  onProgress('shape');
  const plan: FacePlan = keep(shape(foundation, { gridMm: catalogue.gridMm }));
  onProgress('fit');
  const options = fitOptions(job);
  const stacks = keep(chooseStacks(plan, catalogue, options));
  const { demands, pressure } = keep(demandsOf(plan, stacks, job));
  const layout = keep(fitRuns(plan, catalogue, demands, options));
  onProgress('check');
  const checked = keep(check({ plan, catalogue, layout, demands, pressure }));
  onProgress('schedule');
  const counted = keep(schedule({ plan, catalogue, layout: checked }));
  const { lengthUnit } = foundation;
  const source = { file: input.fileName, sha256: input.sha256, kind: 'dxf' as const, lengthUnit };
  return {
    result: { source, foundation, plan, catalogue, layout: checked, schedule: counted, findings: [] },
    findings,
  };
};

/** All files. The drawing first: what its writer finds belongs in the others too. */
const written = (
  drawing: Drawing,
  result: Result,
  job: Job,
): { readonly files: readonly OutFile[]; readonly result: Result } => {
  const names = outNames(result.source.file);
  const mode = job.output?.mode ?? 'merged';
  const layerNames = job.output?.layerNames;
  const dxf = writeDxf(result, drawing.document, { mode, ...(layerNames ? { layerNames } : {}) });
  const more = [...dxf.findings];
  if (!dxf.ok) {
    const why = dxf.findings.at(-1)?.message ?? 'no reason was given.';
    more.push(finding('pipeline.drawing-not-written', `${names.forms} was not written: ${why}`));
  }
  const all: Result = { ...result, findings: [...result.findings, ...more].sort(compareFindings) };
  const text = (name: string, content: string): OutFile => ({ name, bytes: encoder.encode(content) });
  const files = [
    ...(dxf.ok ? [{ name: names.forms, bytes: dxf.value }] : []),
    text(names.layout, layoutJson(all)),
    text(names.schedule, scheduleCsv(all)),
    text(names.report, reportHtml(all)),
  ];
  return { files, result: all };
};

/**
 * Lays out one drawing. Refused: bytes that are no drawing, or a catalogue or stock list that cannot be used. Anything else ends in files, with a
 * failure among the findings for whatever could not be laid out.
 */
export const layOut = (input: LayOutInput, onProgress: OnProgress = () => {}): LayOutOutcome => {
  const { job } = input;
  onProgress('read');
  const read = readDxf(input.bytes);
  if (!read.ok) return refused(read.findings);
  onProgress('trace');
  const traced = trace(read.value, traceOptions(job));
  const loaded = catalogueOf(input, traced.value.lengthUnit);
  if (!loaded.ok) return refused(loaded.findings);
  const stock = input.stock === undefined ? null : parseStock(input.stock);
  if (stock !== null && !stock.ok) return refused(stock.findings);
  const settled = withJob(loaded.value, job, stock?.value ?? null);
  const made = formed(input, traced.value, settled.catalogue, onProgress);
  const findings = [
    ...read.findings,
    ...notUsedYet(job),
    ...traced.findings,
    ...loaded.findings,
    ...settled.findings,
    ...notSaidBefore(traced, made.findings, job),
  ];
  onProgress('write');
  const result: Result = { ...made.result, findings: [...findings].sort(compareFindings) };
  const out = written(read.value, result, job);
  const failed = out.result.findings.some((f) => f.severity === 'failure');
  return { kind: 'laid-out', exitCode: failed ? 1 : 0, files: out.files, result: out.result };
};

/**
 * The one place that joins the stages: a drawing's bytes and a job in, files and findings out. Pure: no files, no clock. What goes wrong with the
 * input is a finding; only a fault of this program throws.
 */

import { check, evenBars, type InTheWay, specialForms, stripping, tolerances } from '../check/index.js';
import { fit as fitRuns } from '../fit/index.js';
import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { inGearUnit } from '../ground/messageLengths.js';
import type { Catalogue, FacePlan, Foundation, Result, SurveyPoint } from '../ground/vocabulary.js';
import { schedule } from '../schedule/index.js';
import { writeDxf } from '../write/dxf/index.js';
import { writeBcf, writeIfc } from '../write/ifc/index.js';
import { layoutJson } from '../write/json/index.js';
import { pictures, reportHtml } from '../write/report/index.js';
import { scheduleCsv, scheduleXlsx } from '../write/tables/index.js';
import { alternatives } from './alternatives.js';
import { demandsOf } from './demands.js';
import { catalogueOf, type LayOutInput, type OnProgress, type OutFile, outNames, pictureName } from './input.js';
import { letteringOf } from './lettering.js';
import { notSaidBefore } from './once.js';
import { type Job, parseStock } from './options.js';
import { chooseStanding, stacksWith } from './phases.js';
import { withPours } from './pours.js';
import { pressureOf, rateQuestionOf } from './pressures.js';
import { rowFindings, withoutHorizontals } from './rowsMet.js';
import {
  airSpells,
  barsOf,
  coverOfBars,
  fitOptions,
  footingSaidOf,
  handSetOf,
  notUsedYet,
  oneSidedOf,
  stripMmOf,
  tieClearMm,
  withJob,
} from './settings.js';
import { siteOf } from './site.js';
import { surveyChanges } from './survey.js';
import { surveyOf } from './surveyList.js';
import { shapeFor } from './thickenings.js';
import { headerOf, type Origin, understand } from './understand.js';

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

/** What the check holds ties against: the bars and obstacles of the model, and the bars of the job file. */
const inTheWayOf = (plan: FacePlan, { model }: Foundation, job: Job): Staged<InTheWay> => {
  const stated = evenBars(plan, barsOf(job));
  const bars = [...(model?.bars ?? []), ...stated.value];
  return {
    value: { bars, obstacles: model?.obstacles ?? [], clearMm: tieClearMm(job) },
    findings: stated.findings,
  };
};

/** What the job file says of the site beside what was traced. */
const withSite = (traced: Foundation, job: Job, survey: readonly SurveyPoint[]): Foundation => {
  // A list in the job file, an empty one too, counts before what the drawing shows.
  const oneSided = job.oneSided ? oneSidedOf(job, traced.lengthUnit) : (traced.oneSided ?? []);
  const footingSaid = footingSaidOf(job, traced.lengthUnit);
  return {
    ...traced,
    ...(survey.length > 0 ? { survey } : {}),
    oneSided,
    ...(footingSaid ? { footingSaid } : {}),
  };
};

/** From walls to a counted layout: shape, fit, check, schedule. */
const formed = (
  input: LayOutInput,
  origin: Origin,
  foundation: Foundation,
  catalogue: Catalogue,
  onProgress: OnProgress,
): Formed => {
  const { job } = input;
  const findings: Finding[] = [];
  const keep = <T>(staged: { readonly value: T; readonly findings: readonly Finding[] }): T => {
    findings.push(...staged.findings);
    return staged.value;
  };
  onProgress('shape');
  const plan: FacePlan = keep(withPours(keep(shapeFor(foundation, catalogue)), job));
  onProgress('fit');
  const options = fitOptions(job);
  const programs = input.programs ?? null;
  if (programs === null && Object.keys(catalogue.stock).length > 0)
    throw new Error('the caller loaded no solver for a limited stock');
  const question = { plan, catalogue, options, job, model: foundation.model, programs };
  const standing = chooseStanding(question);
  const stacks = keep(stacksWith(question, standing));
  const unbarred = { ...question, job: withoutHorizontals(job) };
  findings.push(...rowFindings(question, stacks, () => stacksWith(unbarred, chooseStanding(unbarred)).value));
  const { demands, pressure } = keep(demandsOf(plan, stacks, job, catalogue, foundation.model));
  // Phases are chosen without clean-outs and strips; the layout that is handed over has them.
  const withStrips = { ...options, cleanOuts: true, stripMm: stripMmOf(job) };
  const layout = keep(fitRuns(plan, catalogue, demands, withStrips, programs));
  const changes = keep(surveyChanges(question, stacks, foundation));
  findings.push(
    ...alternatives({ ...question, options: { ...options, stripMm: stripMmOf(job) } }, layout, standing, demands),
  );
  onProgress('check');
  const site = siteOf(job, catalogue);
  const checked = keep(
    check({
      plan,
      catalogue,
      layout,
      demands,
      pressure,
      chordMostMm: options.chordMostMm,
      handSet: handSetOf(job),
      site,
      inTheWay: keep(inTheWayOf(plan, foundation, job)),
      rates: rateQuestionOf(job, plan),
      coverOfBars: coverOfBars(job),
    }),
  );
  const pressureFor = pressureOf(job, plan);
  const special = keep(specialForms(plan, (run) => pressureFor(run).value));
  onProgress('schedule');
  const counted = keep(schedule({ plan, catalogue, layout: checked }));
  const { lengthUnit } = foundation;
  const source = { file: input.fileName, sha256: input.sha256, kind: origin.kind, lengthUnit };
  const model = headerOf(origin);
  const lettering = letteringOf(origin, plan, lengthUnit, catalogue.lengthUnit, job);
  return {
    result: {
      source,
      foundation,
      ...(model ? { model } : {}),
      plan,
      catalogue,
      layout: checked,
      stripping: stripping(airSpells(job)),
      tolerances: tolerances(plan, site.code === 'us' ? 'aci-117' : 'en-13670'),
      schedule: counted,
      lettering,
      ...(special.length > 0 ? { specialForms: special } : {}),
      ...(changes ? { survey: changes } : {}),
      findings: [],
    },
    findings,
  };
};

interface Written {
  readonly files: readonly OutFile[];
  readonly findings: readonly Finding[];
}

const NOT_WANTED: Written = { files: [], findings: [] };

/** The drawing with the layout in it, or what the writer says instead. */
const drawn = (origin: Origin, result: Result, job: Job): Written => {
  const name = outNames(result.source.file).forms;
  const document = origin.kind === 'dxf' ? origin.drawing.document : null;
  const mode = job.output?.mode ?? (document ? 'merged' : 'overlay');
  const layerNames = job.output?.layerNames;
  const sheets = job.output?.sheets ?? true;
  const dxf = writeDxf(result, document, { mode, sheets, ...(layerNames ? { layerNames } : {}) });
  if (dxf.ok) return { files: [{ name, bytes: dxf.value }], findings: dxf.findings };
  const why = dxf.findings.at(-1)?.message ?? 'no reason was given.';
  const lost = finding('pipeline.drawing-not-written', `${name} was not written: ${why}`);
  return { files: [], findings: [...dxf.findings, lost] };
};

/** The model of the forms. */
const modelled = (result: Result): Written => {
  const name = outNames(result.source.file).model;
  const ifc = writeIfc(result);
  if (ifc.ok) return { files: [{ name, bytes: ifc.value }], findings: ifc.findings };
  const why = ifc.findings.at(-1)?.message ?? 'no reason was given.';
  return {
    files: [],
    findings: [...ifc.findings, finding('pipeline.model-not-written', `${name} was not written: ${why}`)],
  };
};

/** The findings as topics: after drawing and model, since what their writers find belongs in them. */
const topics = (result: Result): Written => {
  const name = outNames(result.source.file).topics;
  const bcf = writeBcf(result);
  if (bcf.ok) return { files: [{ name, bytes: bcf.value }], findings: bcf.findings };
  const why = bcf.findings.at(-1)?.message ?? 'no reason was given.';
  return {
    files: [],
    findings: [...bcf.findings, finding('pipeline.model-not-written', `${name} was not written: ${why}`)],
  };
};

const withFindings = (result: Result, more: readonly Finding[]): Result => ({
  ...result,
  findings: [...result.findings, ...inGearUnit(more, result.catalogue.lengthUnit)].sort(compareFindings),
});

/** The pictures that the job asks for. */
const painted = (result: Result, { job, paint }: LayOutInput): readonly OutFile[] => {
  const ending = job.output?.pictures;
  if (ending === undefined || ending === 'none') return [];
  if (ending === 'png' && !paint) throw new Error('the caller loaded nothing that paints');
  return pictures(result).map(({ name, svg }) => ({
    name: pictureName(result.source.file, name, ending),
    bytes: ending === 'png' && paint ? paint(svg) : encoder.encode(svg),
  }));
};

/** All files. Drawing, model and topics first: what their writers find belongs in the others too. */
const written = (
  origin: Origin,
  result: Result,
  input: LayOutInput,
): { readonly files: readonly OutFile[]; readonly result: Result } => {
  const { job } = input;
  const names = outNames(result.source.file);
  const withModel = job.output?.ifc ?? origin.kind === 'ifc';
  const drawing = drawn(origin, result, job);
  const withDrawing = withFindings(result, drawing.findings);
  const model = withModel ? modelled(withDrawing) : NOT_WANTED;
  const soFar = withFindings(withDrawing, model.findings);
  const told = withModel ? topics(soFar) : NOT_WANTED;
  const all = withFindings(soFar, told.findings);
  const text = (name: string, content: string): OutFile => ({ name, bytes: encoder.encode(content) });
  const files = [
    ...drawing.files,
    ...model.files,
    text(names.layout, layoutJson(all)),
    text(names.schedule, scheduleCsv(all)),
    { name: names.workbook, bytes: scheduleXlsx(all) },
    text(names.report, reportHtml(all)),
    ...(input.writePdf ? [{ name: names.paper, bytes: input.writePdf(all) }] : []),
    ...told.files,
    ...painted(all, input),
  ];
  return { files, result: all };
};

/**
 * Lays out one drawing or model. Refused: bytes that are neither, or a catalogue or stock list that cannot be used. Anything else ends in files, with
 * a failure among the findings for whatever could not be laid out.
 */
export const layOut = (input: LayOutInput, onProgress: OnProgress = () => {}): LayOutOutcome => {
  const { job } = input;
  const understood = understand(input, onProgress);
  if (!understood.ok) return refused(understood.findings);
  const { origin, traced, before } = understood.value;
  const loaded = catalogueOf(input, traced.value.lengthUnit);
  if (!loaded.ok) return refused(loaded.findings);
  const stock = input.stock === undefined ? null : parseStock(input.stock);
  if (stock !== null && !stock.ok) return refused(stock.findings);
  const survey = surveyOf(job, input.survey, traced.value.lengthUnit);
  if (!survey.ok) return refused(survey.findings);
  const foundation = withSite(traced.value, job, survey.value);
  const settled = withJob(loaded.value, job, stock?.value ?? null);
  const made = formed(input, origin, foundation, settled.catalogue, onProgress);
  const findings = [
    ...before,
    ...notUsedYet(job),
    ...traced.findings,
    ...loaded.findings,
    ...settled.findings,
    ...notSaidBefore(traced, made.findings, job),
  ];
  onProgress('write');
  const told = inGearUnit(findings, settled.catalogue.lengthUnit);
  const result: Result = { ...made.result, findings: [...told].sort(compareFindings) };
  const out = written(origin, result, input);
  const failed = out.result.findings.some((f) => f.severity === 'failure');
  return { kind: 'laid-out', exitCode: failed ? 1 : 0, files: out.files, result: out.result };
};

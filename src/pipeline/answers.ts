/** What was read of a drawing as keys of the job file: the answers that the program proposes to its own questions. */

import type { Finding, FindingCode } from '../ground/findings.js';
import type { Vec } from '../ground/plane.js';
import type { TraceResult } from '../ground/questions.js';
import { fromMm, type LengthUnit, roundTo } from '../ground/units.js';
import type { Drawing, Foundation, FoundOpening } from '../ground/vocabulary.js';
import type { Job } from './schema.js';
import type { Origin } from './understand.js';

export interface Answer {
  /** Group and key: 'drawing.unit', 'levels.at'; a key that stands in no group by itself. */
  readonly key: string;
  /** The key's value, or one item of a list of places. */
  readonly value: unknown;
  /** Place of an item, mm in the drawing's axes; null: the value is the whole key's. */
  readonly at: Vec | null;
  /** How the program came to it, where no finding says so. */
  readonly evidence: string;
}

/** Decimals of a place in drawing units: 1e-6 ft is 0.3 thousandths of a mm. */
const PLACES = 6;
/** Two places nearer than this are one, mm. */
const SAME_PLACE_MM = 1;

const inUnits = (unit: LengthUnit, p: Vec): [number, number] => [
  roundTo(fromMm(p.x, unit), PLACES),
  roundTo(fromMm(p.y, unit), PLACES),
];

const mm = (value: number): number => roundTo(value, 4);

const isNear = (unit: LengthUnit, given: readonly [number, number], p: Vec): boolean => {
  const [x, y] = inUnits(unit, p);
  return fromMm(SAME_PLACE_MM, unit) >= Math.hypot(given[0] - x, given[1] - y);
};

/** The opening that an answer of the job file is about: the nearest. */
const answered = (job: Job, unit: LengthUnit, openings: readonly FoundOpening[]): ReadonlySet<FoundOpening> => {
  const middle = (o: FoundOpening): Vec => ({ x: (o.from.x + o.to.x) / 2, y: (o.from.y + o.to.y) / 2 });
  const out = new Set<FoundOpening>();
  for (const { near } of job.drawing?.openings ?? []) {
    let best: FoundOpening | null = null;
    let bestAway = Infinity;
    for (const o of openings) {
      const [x, y] = inUnits(unit, middle(o));
      const away = Math.hypot(near[0] - x, near[1] - y);
      if (away < bestAway) [best, bestAway] = [o, away];
    }
    if (best) out.add(best);
  }
  return out;
};

const openingAnswers = (job: Job, foundation: Foundation, findings: readonly Finding[]): Answer[] => {
  const { lengthUnit: unit, openings } = foundation;
  const done = answered(job, unit, openings);
  const found = openings
    .filter((o) => !done.has(o))
    .map((o): Answer => {
      const at = { x: (o.from.x + o.to.x) / 2, y: (o.from.y + o.to.y) / 2 };
      const near = inUnits(unit, at);
      if (o.sillMm === null && o.headMm === null) return wallsEnd(near, at);
      const value = {
        near,
        ...(o.sillMm === null ? {} : { sillMm: mm(o.sillMm) }),
        ...(o.headMm === null ? {} : { headMm: mm(o.headMm) }),
      };
      const evidence = 'Where two walls end instead, write wallEnds: true in the place of the levels.';
      return { key: 'drawing.openings', value, at, evidence };
    });
  // Breaks without the sign of an opening are questions alone.
  const breaks = findings
    .filter((f) => BREAKS.has(f.code) && f.at !== null)
    .map((f) => ({ x: f.at![0], y: f.at![1] }))
    .filter((at) => !found.some((o) => o.at && Math.hypot(o.at.x - at.x, o.at.y - at.y) <= SAME_PLACE_MM))
    .map((at) => wallsEnd(inUnits(unit, at), at));
  return [...found, ...breaks];
};

/** Codes of findings that take a break for the ends of two walls. */
const BREAKS: ReadonlySet<FindingCode> = new Set(['trace.gap-in-wall', 'trace.opening-unclear', 'shape.gap-in-line']);

const wallsEnd = (near: [number, number], at: Vec): Answer => ({
  key: 'drawing.openings',
  value: { near, wallEnds: true },
  at,
  evidence: 'Where concrete runs above or below it, write sillMm and headMm, its levels, in the place of wallEnds.',
});

/** Layers whose lines were taken as axes: no faces of walls are to be looked for on them. */
const axisLayers = (findings: readonly Finding[]): string[] =>
  [...new Set(findings.filter((f) => f.code === 'trace.centre-walls').map((f) => f.subject))].sort();

/** Axes that were taken as such without being named, and their thickness where it is one for all of them. */
const centreLineAnswers = (
  job: Job,
  drawing: Drawing,
  foundation: Foundation,
  findings: readonly Finding[],
): Answer[] => {
  const d = job.drawing;
  const layers = axisLayers(findings);
  if (layers.length === 0) return [];
  const onLayers = new Set(drawing.paths.filter((p) => layers.includes(p.layer)).map((p) => p.source));
  const walls = foundation.stretches.filter((s) => s.sources.some((source) => onLayers.has(source)));
  const thick = [...new Set(walls.map((s) => mm(s.thicknessMm)))];
  return [
    ...(d?.centreLineLayers === undefined
      ? [{ key: 'drawing.centreLineLayers', value: layers, at: null, evidence: '' }]
      : []),
    ...(d?.thicknessMm === undefined && thick.length === 1
      ? [{ key: 'drawing.thicknessMm', value: thick[0], at: null, evidence: '' }]
      : []),
  ];
};

const levelAnswers = (job: Job, { lengthUnit: unit, levels, levelsAt, steps }: Foundation): Answer[] => {
  const out: Answer[] = [];
  // A job file refuses a top that is not above the footing: such levels are a question, not an answer.
  if (levels.topMm > levels.footingMm) {
    const from = { job: '', drawing: 'The drawing says so.', default: 'Nothing says it: this is a default.' };
    if (levels.footingFrom !== 'job') {
      const evidence = from[levels.footingFrom];
      out.push({ key: 'levels.footingMm', value: mm(levels.footingMm), at: null, evidence });
    }
    if (levels.topFrom !== 'job') {
      out.push({ key: 'levels.topMm', value: mm(levels.topMm), at: null, evidence: from[levels.topFrom] });
    }
  }
  for (const l of levelsAt) {
    if (l.from === 'job') continue;
    const value = {
      near: inUnits(unit, l.near),
      ...(l.footingMm === null ? {} : { footingMm: mm(l.footingMm) }),
      ...(l.topMm === null ? {} : { topMm: mm(l.topMm) }),
    };
    const evidence = l.text === null ? 'The drawing says so.' : `The drawing says: ${l.text}.`;
    out.push({ key: 'levels.at', value, at: l.near, evidence });
  }
  const given = job.levels?.steps ?? [];
  for (const step of steps) {
    if (given.some(({ at, kind }) => kind === step.kind && isNear(unit, at, step.at))) continue;
    const rise = step.riseMm === null ? '' : ` by ${mm(step.riseMm)} mm`;
    const said = step.text === null ? '' : ` The drawing says: ${step.text}.`;
    const evidence = `The ${step.kind === 'top' ? 'top of the wall' : 'footing'} steps here${rise}.${said}`;
    out.push({ key: 'levels.steps', value: { at: inUnits(unit, step.at), kind: step.kind }, at: step.at, evidence });
  }
  return out;
};

/** Walls that the drawing shows as formed on one side. */
const oneSidedAnswers = (job: Job, { lengthUnit: unit, oneSided = [] }: Foundation): Answer[] =>
  job.oneSided
    ? []
    : oneSided.map(({ near, against }) => ({
        key: 'oneSided',
        value: { near: inUnits(unit, near), ...(against ? { against } : {}) },
        at: near,
        evidence:
          'Where both faces are formed take the line out; oneSided: [] says that no wall is formed on one side.',
      }));

/** What was taken of several views as an area: a little larger, so that rounding leaves no line of it outside. */
const areaAnswer = ({ lengthUnit: unit, views }: Foundation): Answer[] => {
  const chosen = views.filter((v) => v.chosen);
  const [first] = chosen;
  if (first === undefined || chosen.length === views.length) return [];
  const corner = (i: 0 | 1 | 2 | 3): number[] => chosen.map((v) => v.box[i]);
  const low = { x: Math.min(...corner(0)) - 1, y: Math.min(...corner(1)) - 1 };
  const high = { x: Math.max(...corner(2)) + 1, y: Math.max(...corner(3)) + 1 };
  const evidence = `Of ${views.length} drawings on the sheet ${chosen.length === 1 ? 'this one was' : `these ${chosen.length} were`} taken: ${first.why}.`;
  return [{ key: 'drawing.area', value: [...inUnits(unit, low), ...inUnits(unit, high)], at: null, evidence }];
};

/** Unit, layers and view of a drawing. */
const drawingAnswers = (
  job: Job,
  drawing: Drawing,
  { foundation, layers, findings }: Pick<TraceResult, 'foundation' | 'layers' | 'findings'>,
): Answer[] => {
  const d = job.drawing;
  const out: Answer[] = [];
  if (d?.unit === undefined) out.push({ key: 'drawing.unit', value: foundation.lengthUnit, at: null, evidence: '' });
  const axes = new Set(axisLayers(findings));
  const faces = layers.filter((l) => !axes.has(l));
  if (d?.wallLayers === undefined && faces.length > 0) {
    const evidence = 'The walls were taken from these layers.';
    out.push({ key: 'drawing.wallLayers', value: faces, at: null, evidence });
  }
  out.push(...centreLineAnswers(job, drawing, foundation, findings));
  if (d?.area === undefined) out.push(...areaAnswer(foundation));
  return out;
};

/** The walls of a model that were taken, by their GlobalIds. */
const elementAnswers = (job: Job, { model }: Foundation): Answer[] => {
  if (job.drawing?.takeElements !== undefined || model === undefined) return [];
  const taken = model.elements.filter((e) => e.taken).map((e) => e.id);
  if (taken.length === 0) return [];
  const evidence = `Of ${model.elements.length} walls of the model these ${taken.length} were taken.`;
  return [{ key: 'drawing.takeElements', value: taken, at: null, evidence }];
};

/** Everything that the job file leaves open and that was read or assumed, in the order of the file's keys. */
export const answersOf = (
  job: Job,
  origin: Origin,
  result: Pick<TraceResult, 'foundation' | 'layers' | 'findings'>,
): Answer[] => [
  ...(origin.kind === 'dxf' ? drawingAnswers(job, origin.drawing, result) : elementAnswers(job, result.foundation)),
  ...openingAnswers(job, result.foundation, result.findings),
  ...levelAnswers(job, result.foundation),
  ...oneSidedAnswers(job, result.foundation),
];

/** The job with these answers in it, as it is when every proposed line is taken. */
export const withAnswers = (job: Job, answers: readonly Answer[]): Job => {
  const merged = { drawing: { ...job.drawing }, levels: { ...job.levels } };
  const whole: Record<string, unknown> = { ...job, ...merged };
  for (const { key, value, at } of answers) {
    const [group, name = group] = key.split('.') as [string, string?];
    const under: Record<string, unknown> = group === name ? whole : merged[group as keyof typeof merged];
    under[name] = at === null ? value : [...((under[name] as readonly unknown[] | null | undefined) ?? []), value];
  }
  return whole as Job;
};

/** Layers of the linework that the walls were made of, sorted. */
export const layersOf = (drawing: Drawing, { stretches, curves }: Foundation): string[] => {
  const sources = new Set([...stretches, ...curves].flatMap((s) => s.sources));
  return [...new Set(drawing.paths.filter((p) => sources.has(p.source)).map((p) => p.layer))].sort();
};

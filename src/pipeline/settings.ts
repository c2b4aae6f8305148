/** From the job file to what the stages take: every default stated here, and a finding for each that mattered. */

import { type BarSpec, type CoverOfBars, DEFAULT_HAND_SET, type EvenBars, type HandSet } from '../check/index.js';
import { DEFAULT_FIT_OPTIONS, type FitOptions, type OrderedTier } from '../fit/index.js';
import { type Finding, finding } from '../ground/findings.js';
import { itemIds } from '../ground/gear.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type {
  AirSpell,
  Catalogue,
  FootingSaid,
  ModelTraceOptions,
  OneSidedWish,
  TraceOptions,
} from '../ground/vocabulary.js';
import type { Job } from './schema.js';

/** The walls that the job file says are formed on one side, in mm. */
export const oneSidedOf = ({ oneSided }: Job, unit: LengthUnit): OneSidedWish[] =>
  (oneSided ?? []).map(({ near, formed, against }) => ({
    near: { x: near[0] * MM_PER[unit], y: near[1] * MM_PER[unit] },
    formed: formed ?? null,
    against: against ?? null,
  }));

/** What the job file says of footings, in mm; null where it says nothing. */
export const footingSaidOf = ({ footing }: Job, unit: LengthUnit): FootingSaid | null =>
  footing === undefined
    ? null
    : {
        projectionMm: footing.projectionMm ?? null,
        at: (footing.at ?? []).map(({ near, leftMm, rightMm }) => ({
          near: { x: near[0] * MM_PER[unit], y: near[1] * MM_PER[unit] },
          leftMm: leftMm ?? null,
          rightMm: rightMm ?? null,
        })),
      };

/** What the job file says of walls and levels; null where it says nothing, so that tracing decides and says so. */
export const traceOptions = (job: Job): TraceOptions => {
  const { drawing, levels } = job;
  const area = drawing?.area;
  return {
    unit: drawing?.unit ?? null,
    wallLayers: drawing?.wallLayers ?? [],
    ignoreLayers: drawing?.ignoreLayers ?? [],
    ...(drawing?.footingLayers ? { footingLayers: drawing.footingLayers } : {}),
    centreLineLayers: drawing?.centreLineLayers ?? [],
    thicknessMm: drawing?.thicknessMm ?? null,
    steps: (levels?.steps ?? []).map(({ at, kind }) => ({ at: { x: at[0], y: at[1] }, kind })),
    openings: (drawing?.openings ?? []).map(({ near, wallEnds, sillMm, headMm, widthMm }) => ({
      widthMm: widthMm ?? null,
      near: { x: near[0], y: near[1] },
      wallEnds: wallEnds ?? false,
      sillMm: sillMm ?? null,
      headMm: headMm ?? null,
    })),
    area: area
      ? [Math.min(area[0], area[2]), Math.min(area[1], area[3]), Math.max(area[0], area[2]), Math.max(area[1], area[3])]
      : null,
    ...(job.oneSided ? { oneSidedGiven: true } : {}),
    levels: { footingMm: levels?.footingMm ?? null, topMm: levels?.topMm ?? null },
    levelsAt: (levels?.at ?? []).map(({ near, footingMm, topMm }) => ({
      near: { x: near[0], y: near[1] },
      footingMm: footingMm ?? null,
      topMm: topMm ?? null,
    })),
  };
};

/** The same for a model: which of its elements are walls to be formed. */
export const modelOptions = (job: Job): ModelTraceOptions => {
  const { drawing } = job;
  return {
    ...traceOptions(job),
    storeys: drawing?.storeys ?? [],
    takeElements: drawing?.takeElements ?? [],
    ignoreElements: drawing?.ignoreElements ?? [],
    concreteMaterials: drawing?.concreteMaterials ?? [],
  };
};

/** The named costs first, the others after them in their usual order. */
const orderOf = (named: Job['costOrder']): readonly OrderedTier[] => {
  const first = (named ?? []).filter((tier): tier is OrderedTier => tier !== 'kinds');
  return [...first, ...DEFAULT_FIT_OPTIONS.costOrder.filter((tier) => !first.includes(tier))];
};

/** What is set by hand. One limit given alone moves the other no farther than it has to. */
export const handSetOf = ({ limits }: Job): HandSet => {
  const oneKg = limits?.handSetKg ?? Math.min(DEFAULT_HAND_SET.oneKg, limits?.handSetTwoKg ?? Number.POSITIVE_INFINITY);
  return { oneKg, twoKg: limits?.handSetTwoKg ?? Math.max(DEFAULT_HAND_SET.twoKg, oneKg) };
};

export const fitOptions = (job: Job): FitOptions => {
  const { limits } = job;
  const usual = DEFAULT_FIT_OPTIONS;
  return {
    bulkheadMm: limits?.bulkheadMm ?? usual.bulkheadMm,
    bulkheadRoomMm: limits?.bulkheadRoomMm ?? usual.bulkheadRoomMm,
    runPastMostMm: limits?.runPastMm ?? usual.runPastMostMm,
    edgeClearMm: limits?.edgeClearMm ?? usual.edgeClearMm,
    stickUpLeastMm: limits?.stickUpMm ?? usual.stickUpLeastMm,
    bedMm: limits?.bedAllowanceMm ?? usual.bedMm,
    rowClearMm: limits?.rowClearMm ?? usual.rowClearMm,
    chordMostMm: limits?.chordMm ?? usual.chordMostMm,
    // The layout that is handed over has them; what is only compared with it needs none.
    cleanOuts: false,
    fewestKinds: true,
    stripMm: null,
    costOrder: orderOf(job.costOrder),
    stepLimit: limits?.searchSteps ?? usual.stepLimit,
  };
};

/** Width of a strip that can be broken out (rule T17). *Practice, no source.* */
const STRIP_MM = 40;

/** Least width of the strips that let closed rooms go, mm; null where the job wants none. */
export const stripMmOf = ({ limits }: Job): number | null =>
  limits?.strips === false ? null : (limits?.stripMm ?? STRIP_MM);

/** Between a tie and what is in the wall: room for the bar's tolerance and for concrete to flow. *Practice, no source.* */
const TIE_CLEAR_MM = 20;
const COVER_MM = 50;

/** Least clear distance of ties from bars, sleeves and pipes, mm. */
export const tieClearMm = (job: Job): number => job.limits?.tieClearMm ?? TIE_CLEAR_MM;

/** The bars that the job file states, with their defaults. */
export const barsOf = (job: Job): EvenBars => {
  const { verticals, horizontals } = job.reinforcement ?? {};
  const spec = (given: typeof verticals): BarSpec | null =>
    given === undefined
      ? null
      : {
          diameterMm: given.diameterMm,
          spacingMm: given.spacingMm,
          firstMm: given.firstMm ?? given.spacingMm / 2,
          coverMm: given.coverMm ?? COVER_MM,
          faces: given.faces ?? 'both',
        };
  return { verticals: spec(verticals), horizontals: spec(horizontals) };
};

/** Concrete over bars of No. 5 and smaller in formed faces that meet earth or weather: 1.5 in, ACI 318-19 table 20.5.1.3.1. */
const SMALL_BARS_COVER_MM = 38.1;

/** The least cover that the job file states of its bars; what is assumed where it states none. */
export const coverOfBars = ({ reinforcement }: Job): CoverOfBars => {
  const stated = [reinforcement?.verticals, reinforcement?.horizontals].flatMap((bars) => bars?.coverMm ?? []);
  return stated.length > 0
    ? { coverMm: Math.min(...stated), isGiven: true }
    : { coverMm: reinforcement ? COVER_MM : SMALL_BARS_COVER_MM, isGiven: false };
};

/** The air after the pour, spell by spell. */
export const airSpells = ({ stripping }: Job): AirSpell[] =>
  (stripping?.air ?? []).map(({ hours, temperatureC, temperatureF }) => ({
    hours,
    airC: temperatureC ?? (((temperatureF ?? 0) - 32) * 5) / 9,
  }));

/** The catalogue with what the job file says of stock and overhang. */
export const withJob = (
  catalogue: Catalogue,
  job: Job,
  stock: Readonly<Record<string, number>> | null,
): { readonly catalogue: Catalogue; readonly findings: readonly Finding[] } => {
  const findings: Finding[] = [];
  const overhangMm = job.limits?.overhangMm ?? catalogue.overhangMm;
  if (overhangMm > catalogue.overhangMm) {
    const message = `limits.overhangMm is ${overhangMm}, the catalogue allows ${catalogue.overhangMm}.`;
    findings.push(finding('pipeline.overhang-raised', message, { subject: 'limits.overhangMm' }));
  }
  const named = stock ?? (typeof job.stock === 'object' ? job.stock : {});
  const known = itemIds(catalogue);
  const unknown = Object.keys(named).filter((item) => !known.has(item));
  if (unknown.length > 0) {
    const message = `The stock names ${unknown.join(', ')}, which the catalogue '${catalogue.name}' does not have.`;
    findings.push(
      finding('pipeline.stock-unknown', message, { subject: 'stock', assumed: 'no limit by these counts' }),
    );
  }
  return { catalogue: { ...catalogue, overhangMm, stock: { ...catalogue.stock, ...named } }, findings };
};

/** Keys that a later version uses, with what the layout therefore leaves out. */
const NOT_USED_YET: readonly { readonly path: readonly string[]; readonly so: string }[] = [
  { path: ['rates'], so: 'no costs are worked out' },
];

/** Keys that tell how one kind of file is to be read, with why the other has no use for them. */
const OF_ONE_KIND = {
  dxf: {
    keys: ['storeys', 'takeElements', 'ignoreElements', 'concreteMaterials'],
    so: 'a drawing has no elements; wallLayers, ignoreLayers and area choose in it',
  },
  ifc: {
    keys: ['unit', 'wallLayers', 'ignoreLayers', 'footingLayers', 'centreLineLayers', 'thicknessMm'],
    so: 'a model has its own unit and no layers of lines; storeys, takeElements, ignoreElements and concreteMaterials choose in it',
  },
} as const satisfies Record<
  string,
  { readonly keys: readonly (keyof NonNullable<Job['drawing']>)[]; readonly so: string }
>;

/** A finding for each key about the drawing that a file of this kind has no use for. */
export const notUsedHere = (job: Job, kind: keyof typeof OF_ONE_KIND): Finding[] => {
  const { keys, so } = OF_ONE_KIND[kind];
  return keys
    .filter((key) => job.drawing?.[key] !== undefined)
    .map((key) => {
      const name = `drawing.${key}`;
      return finding('pipeline.not-used-here', `${name} is given but not used: ${so}.`, { subject: name });
    });
};

/** A finding for everything in the job file that this version takes no heed of. */
export const notUsedYet = (job: Job): Finding[] => {
  const found: Finding[] = [];
  for (const { path, so } of NOT_USED_YET) {
    const value = path.reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], job);
    if (value === undefined) continue;
    const name = path.join('.');
    found.push(finding('pipeline.not-used-yet', `${name} is given but not used yet: ${so}.`, { subject: name }));
  }
  if (job.costOrder?.includes('kinds')) {
    const message =
      'the place of kinds in costOrder is given but not used yet: the number of different units is always compared last.';
    found.push(finding('pipeline.not-used-yet', message, { subject: 'costOrder' }));
  }
  return found;
};

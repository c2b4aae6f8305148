/** Elements measured: their sections in plan between the levels at which they change, base, top, and the outline to be formed. */

import type { Vec } from '../../ground/plane.js';
import type { BodySolid, ModelElement, Solid } from '../../ground/vocabulary.js';
import { REACH_MOST_MM } from '../limits.js';
import { levelsOf } from './levels.js';
import { headOf, type Lean, leanOf } from './notPlumb.js';
import { areaOf, type Box, boxOfRegion, difference, grown, NOTHING, type Region, union } from './region.js';
import { sectionAt } from './section.js';
import { isUsableSolid, leavesOf, levelFrame } from './space.js';

/** A body between two levels: its section, in plan from the local origin. */
export interface Band {
  readonly fromMm: number;
  readonly toMm: number;
  readonly region: Region;
  /** Bands that are parts of one, whose faces slope, share a number. */
  readonly group: number;
}

export interface Measured {
  readonly element: ModelElement;
  /** What was measured: all of the body, or the concrete of it. */
  readonly solids: readonly Solid[];
  /** From below; those with nothing in them left out. Empty: no body that can be used. */
  readonly bands: readonly Band[];
  readonly baseMm: number;
  readonly topMm: number;
  /** All sections together, without the foot. */
  readonly footprint: Region;
  readonly box: Box | null;
  /** Level of the top of a foot that is modelled with the wall and wider than it; null: none. */
  readonly footMm: number | null;
  /** Its faces are not plumb: the footprint is the lowest section of what leans. */
  readonly lean: Lean | null;
  /** Level from which a head stands out of the faces; it is not in the footprint. Null: none. */
  readonly headMm: number | null;
  /** Solids left out because of numbers that are none. */
  readonly unusable: number;
  /** Faces that do not close. */
  readonly isOpen: boolean;
}

/** Sections smaller than this are hair: 1 cm2. */
const AREA_LEAST_MM2 = 100;
/** A foot is sought in the lowest part of a wall, up to this share of its height … */
const FOOT_SHARE = 0.4;
/** … stands out by more than this … */
const FOOT_OUT_MM = 20;
/** … and takes this share more of the plan than the wall over it. */
const FOOT_MORE = 0.05;

/** Between two corner levels sections that differ by more than this share slope … */
const SLOPE_SHARE = 0.002;
/** … as those this near to the two levels show. */
const BESIDE_LEVEL_MM = 0.5;

/** Swept straight up: every section of it is the same. */
const isUpright = (s: Solid): boolean =>
  s.kind === 'prism' &&
  Math.abs(s.frame.x.z) < 1e-9 &&
  Math.abs(s.frame.y.z) < 1e-9 &&
  Math.hypot(s.direction.x, s.direction.y) < 1e-9;

/** Sections of solids between the levels at which they change, from below; where faces slope three parts stand for one. All numbers must be finite. */
export const bandsOf = (solids: readonly Solid[], origin: Vec): { bands: Band[]; isOpen: boolean } => {
  const levels = levelsOf(solids);
  const upright = solids.every(isUpright);
  let isOpen = false;
  const at = (level: number): Region => {
    const sections = solids.map((s) => sectionAt(s, levelFrame(origin, level)));
    if (sections.some((s) => s.openEnds > 0)) isOpen = true;
    return sections.length === 1 ? sections[0]!.region : union(...sections.map((s) => s.region));
  };
  const bands = levels.slice(1).flatMap((toMm, group): Band[] => {
    const fromMm = levels[group]!;
    const middle = at((fromMm + toMm) / 2);
    const whole: Band[] = [{ fromMm, toMm, region: middle, group }];
    const heightMm = toMm - fromMm;
    if (upright || heightMm < 4 * BESIDE_LEVEL_MM) return whole;
    const ends = [at(fromMm + BESIDE_LEVEL_MM), at(toMm - BESIDE_LEVEL_MM)] as const;
    const differs = ends.some(
      (end) =>
        areaOf(difference(end, middle)) + areaOf(difference(middle, end)) >
        Math.max(AREA_LEAST_MM2, SLOPE_SHARE * areaOf(middle)),
    );
    if (!differs) return whole;
    const third = heightMm / 3;
    return [ends[0], middle, ends[1]].map(
      (region, k): Band => ({
        fromMm: fromMm + k * third,
        toMm: k === 2 ? toMm : fromMm + (k + 1) * third,
        region,
        group,
      }),
    );
  });
  return {
    bands: spanning(
      bands.filter((b) => areaOf(b.region) >= AREA_LEAST_MM2),
      levels,
    ),
    isOpen,
  };
};

/** A body that runs out to an edge has no section there, but reaches the edge all the same. */
const spanning = (bands: readonly Band[], levels: readonly number[]): Band[] =>
  bands.map((b, i) => ({
    ...b,
    fromMm: bands[i - 1]?.group === b.group ? b.fromMm : levels[b.group]!,
    toMm: bands[i + 1]?.group === b.group ? b.toMm : levels[b.group + 1]!,
  }));

/** The bands that are a foot: from the lowest up, as long as they stand out of what is over them. A sloping face is no end of one. */
const feetOf = (bands: readonly Band[]): number => {
  const base = bands[0]!.fromMm;
  const limit = base + FOOT_SHARE * (bands[bands.length - 1]!.toMm - base);
  let feet = 0;
  while (feet + 1 < bands.length && bands[feet]!.toMm <= limit) feet++;
  for (; feet > 0; feet--) {
    if (bands[feet - 1]!.group === bands[feet]!.group) continue;
    const over = union(...bands.slice(feet).map((b) => b.region));
    const out = areaOf(difference(bands[feet - 1]!.region, grown(over, FOOT_OUT_MM)));
    const lower = areaOf(difference(bands[0]!.region, grown(over, FOOT_OUT_MM)));
    if (Math.max(out, lower) > FOOT_MORE * areaOf(over)) return feet;
  }
  return 0;
};

/** Solids that can be cut: numbers are numbers, and no half space stands by itself. */
export const usableSolids = (body: readonly BodySolid[], origin: Vec): Solid[] =>
  body.map((b) => b.solid).filter((s) => leavesOf(s)[0]!.kind !== 'half-space' && isUsableSolid(s, origin));

/** All that bands take up in plan. */
export const planOf = (bands: readonly Band[]): Region =>
  bands.length === 0 ? NOTHING : bands.length === 1 ? bands[0]!.region : union(...bands.map((b) => b.region));

/** Measures an element by these of its solids; `withFoot`: a wider foot is told apart from the wall over it. */
export const measure = (
  element: ModelElement,
  body: readonly BodySolid[],
  origin: Vec,
  withFoot: boolean,
): Measured => {
  const solids = usableSolids(body, origin);
  const { bands, isOpen } = bandsOf(solids, origin);
  const feet = withFoot && bands.length > 1 ? feetOf(bands) : 0;
  const above = bands.slice(feet);
  const lean = withFoot ? leanOf(above) : null;
  const head = withFoot && lean === null ? headOf(above) : null;
  const footprint = lean?.section ?? planOf(above.slice(0, head ?? above.length));
  return {
    element,
    solids,
    bands,
    baseMm: above[0]?.fromMm ?? 0,
    topMm: above[above.length - 1]?.toMm ?? 0,
    footprint,
    box: boxOfRegion(footprint),
    footMm: feet > 0 ? above[0]!.fromMm : null,
    lean,
    headMm: head === null ? null : above[head]!.fromMm,
    unusable: body.length - solids.length,
    isOpen,
  };
};

/** Measures elements whole, without telling a foot apart; each once, however often it is asked about. */
export type Measurer = (e: ModelElement) => Measured;

export const measurer = (origin: Vec): Measurer => {
  const known = new Map<ModelElement, Measured>();
  return (e) => {
    const measured = known.get(e) ?? measure(e, e.body, origin, false);
    known.set(e, measured);
    return measured;
  };
};

/** A place that all coordinates are near to, whole mm: the middle of the sorted first points of the bodies. */
export const originOf = (elements: readonly ModelElement[]): Vec => {
  const points = elements.flatMap((e) =>
    e.body.slice(0, 1).flatMap((b) => {
      const leaf = leavesOf(b.solid)[0]!;
      const p = leaf.kind === 'prism' ? leaf.frame.origin : leaf.kind === 'mesh' ? leaf.points[0] : undefined;
      return p && Math.abs(p.x) <= REACH_MOST_MM && Math.abs(p.y) <= REACH_MOST_MM ? [p] : [];
    }),
  );
  const middle = (values: number[]) => Math.round(values.sort((a, b) => a - b)[values.length >> 1] ?? 0);
  return { x: middle(points.map((p) => p.x)), y: middle(points.map((p) => p.y)) };
};

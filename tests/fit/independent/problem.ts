/**
 * One straight run as a problem of its own: what may stand between its two ends, and what each choice costs. Stated from the rules of layout
 * (docs/reference/rules.md, T1 to T11) and the decision on chains (docs/decisions/0006), apart from the search that they judge.
 *
 * Lengths in mm along the wall's axis, forces as mm of strip (force over pressure and row height), pressure in kPa.
 */

import type { Catalogue, Run, RunEnd, Side, StationInterval } from '../../../src/ground/vocabulary.js';

/** How many fillers may be bolted to one panel, at one of its edges or at both. */
export interface FillerRule {
  readonly mostPerPanel: number;
  readonly bothEdges: boolean;
}

export const ANY_FILLERS: FillerRule = { mostPerPanel: 4, bothEdges: true };

export interface Limits {
  readonly designKpa: number;
  /** Working load of a tie over the greatest row load, mm of strip. */
  readonly tieStripMm: number;
  readonly rows: number;
  readonly bulkheadMm: number;
  readonly bulkheadRoomMm: number;
  readonly runPastMostMm: number;
  readonly edgeClearMm: number;
  readonly keepClear: readonly StationInterval[];
}

/** A panel with the fillers bolted stiff to its edges, or a strip of timber (no panel): what moves as one. */
export interface Group {
  readonly name: string;
  readonly lengthMm: number;
  readonly panelMm: number;
  readonly fillersMm: readonly number[];
  /** Tie holes, from the group's left edge. */
  readonly holesMm: readonly number[];
  readonly ratedKpa: number;
  readonly ratedSpanMm: number;
  /** Exponent by which the rating falls with a longer span: 3 for a deflection, 2 for a strength. */
  readonly exponent: number;
}

/** One way to close an end: where the first common joint lies, and what stands beyond it. */
export interface EndChoice {
  readonly jointMm: number;
  readonly legMm: number;
  /** Timber between the leg and the joint, on the inner face alone. */
  readonly padMm: number;
  /** The outer group, a panel and its fillers; null at a free end. */
  readonly outer: Group | null;
  readonly runPastMm: number;
  /** What hangs on the joint: left face, right face. */
  readonly shearsMm: readonly [number, number];
}

export interface Zone {
  readonly starts: readonly EndChoice[];
  /** At a free end one choice for each station at which the panels may end. */
  readonly ends: readonly EndChoice[];
  readonly groups: readonly Group[];
  readonly timberLeastMm: number;
  readonly timberMostMm: number;
  readonly overhangMm: number;
  readonly designKpa: number;
  readonly tieStripMm: number;
  readonly rows: number;
  /** Where the pressure acts. */
  readonly concrete: readonly [number, number];
  readonly mayTie: (stationMm: number) => boolean;
  /** Free ends: some tie at or outside this station holds the bulkhead. */
  readonly tieAtOrBefore: number | null;
  readonly tieAtOrAfter: number | null;
}

/** The tiers in the order of the default: places, timber (mm of width, each face counted), fillers, ties and units, run past. */
export type Cost = readonly [number, number, number, number, number];

export const compareCosts = (a: Cost, b: Cost): number => {
  for (const [i, x] of a.entries()) if (Math.abs(x - b[i]!) > 1e-6) return x - b[i]!;
  return 0;
};

/** Multisets of at most `most` fillers, the empty one first. */
const fillerSets = (widths: readonly number[], most: number): number[][] => {
  let sets: number[][] = [[]];
  for (const w of [...widths].sort((a, b) => b - a)) {
    sets = sets.flatMap((s) => Array.from({ length: most - s.length + 1 }, (_, n) => [...s, ...Array(n).fill(w)]));
  }
  return sets;
};

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/**
 * Every panel of one height with every set of stiff fillers whose joint carries its moment: p f (L - f) / 2, f the fillers at that edge and L
 * the group (rule T10). Only holes that come in every row count.
 */
export const groupsOf = (catalogue: Catalogue, heightMm: number, designKpa: number, rule: FillerRule): Group[] => {
  const units = catalogue.units.filter((u) => u.heightMm === heightMm);
  const fillers = units.filter((u) => u.kind === 'filler' && u.stiffTo === 'panel');
  const momentOf = new Map(fillers.map((u) => [u.widthMm, u.momentKnmPerM]));
  const sets = fillerSets([...momentOf.keys()], rule.mostPerPanel);
  const groups: Group[] = [];
  for (const u of units.filter((x) => x.kind === 'panel')) {
    const levels = [...new Set(u.holes.map((h) => h.yMm))];
    const holes = [...new Set(u.holes.map((h) => h.xMm))]
      .filter((x) => levels.every((y) => u.holes.some((h) => h.xMm === x && h.yMm === y)))
      .sort((a, b) => a - b);
    for (const low of sets)
      for (const high of sets) {
        const most = low.length + high.length;
        if (most > rule.mostPerPanel || (!rule.bothEdges && low.length > 0 && high.length > 0)) continue;
        const lengthMm = total(low) + u.widthMm + total(high);
        const carried = [low, high].every((side) => {
          const f = total(side);
          const rated = Math.min(...side.map((w) => momentOf.get(w)!));
          return f === 0 || (designKpa * f * (lengthMm - f)) / 2 / 1e6 <= rated + 1e-9;
        });
        if (!carried) continue;
        groups.push({
          name: [...low.map((w) => `(${w})`), u.widthMm, ...high.map((w) => `(${w})`)].join(' '),
          lengthMm,
          panelMm: u.widthMm,
          fillersMm: [...low, ...high].sort((a, b) => b - a),
          holesMm: holes.map((x) => total(low) + x),
          ratedKpa: u.ratedKpa,
          ratedSpanMm: u.ratedSpanMm || u.widthMm,
          exponent: u.ratingIs === 'deflection' ? 3 : 2,
        });
      }
  }
  return groups;
};

/** Pressure that a group carries between two of its supports `gapMm` apart. */
export const ratedOver = (group: Group, gapMm: number): number =>
  gapMm <= group.ratedSpanMm ? group.ratedKpa : group.ratedKpa * (group.ratedSpanMm / gapMm) ** group.exponent;

/**
 * Strip that may hang on the tip of a group overhanging its outermost support by `overMm`: p (o^2 / 2 + v o) at most p_u w_u^2 / 8 (rule T10).
 * Null where it may not overhang so far at all.
 */
export const tipStripMm = (zone: Zone, group: Group, overMm: number): number | null => {
  if (overMm > zone.overhangMm) return null;
  if (overMm <= 0) return Number.POSITIVE_INFINITY;
  return (group.ratedKpa * group.ratedSpanMm ** 2) / (8 * zone.designKpa * overMm) - overMm / 2;
};

export const fillersOf = (choice: EndChoice): number => choice.outer?.fillersMm.length ?? 0;

/** Panels and fillers of the outer group. */
export const unitsOf = (choice: EndChoice): number => (choice.outer ? 1 + fillersOf(choice) : 0);

const cornerChoices = (
  end: Extract<RunEnd, { kind: 'corner' }>,
  inward: 1 | -1,
  legs: readonly number[],
  groups: readonly Group[],
  timber: readonly [number, number],
  designKpa: number,
  every: boolean,
): EndChoice[] => {
  const k = Math.abs(end.rightMm - end.leftMm);
  const inner: Side = end.inner;
  const vertexMm = inner === 'left' ? end.leftMm : end.rightMm;
  const choices = new Map<string, EndChoice>();
  for (const legMm of legs)
    for (const g of groups) {
      const padMm = g.lengthMm - k - legMm;
      if (padMm !== 0 && (padMm < timber[0] || padMm > timber[1])) continue;
      // The outer group stands on the held salient edge and the joint, with no tie between.
      if (ratedOver(g, g.lengthMm) < designKpa - 1e-9) continue;
      const innerLeg = legMm + padMm;
      const half = (k + innerLeg) / 2;
      const shears = { inner: Math.max(innerLeg, half), outer: half };
      const choice: EndChoice = {
        jointMm: vertexMm + inward * innerLeg,
        legMm,
        padMm,
        outer: g,
        runPastMm: 0,
        shearsMm: inner === 'left' ? [shears.inner, shears.outer] : [shears.outer, shears.inner],
      };
      const key = `${legMm} ${padMm} ${every ? [g.panelMm, ...g.fillersMm] : ''}`;
      const before = choices.get(key);
      if (!before || fillersOf(before) > fillersOf(choice)) choices.set(key, choice);
    }
  return [...choices.values()].sort((a, b) => a.padMm - b.padMm);
};

const freeChoices = (atMm: number, outward: 1 | -1, limits: Limits): EndChoice[] => {
  const least = limits.bulkheadMm + limits.bulkheadRoomMm;
  return Array.from({ length: limits.runPastMostMm - least + 1 }, (_, i) => ({
    jointMm: atMm + outward * (least + i),
    legMm: 0,
    padMm: 0,
    outer: null,
    runPastMm: i,
    shearsMm: [0, 0] as const,
  }));
};

/**
 * The run's common zone; only corners and free ends are known here. `every`: all ways to make up an outer group, which matter where units are
 * few; otherwise those of the fewest fillers.
 */
export const zoneOf = (
  run: Run,
  catalogue: Catalogue,
  heightMm: number,
  limits: Limits,
  rule: FillerRule,
  every = false,
): Zone => {
  const groups = groupsOf(catalogue, heightMm, limits.designKpa, rule);
  const legs = catalogue.units
    .filter((u) => u.kind === 'inside-corner' && u.heightMm === heightMm && u.legsMm?.[0] === u.legsMm?.[1])
    .map((u) => u.legsMm![0]);
  const timber = [catalogue.timberLeastMm, catalogue.timberLimitMm] as const;
  const tie = catalogue.ties.find(
    (t) => !('length' in t.wallMm) && t.wallMm.fromMm <= run.thicknessMm && run.thicknessMm <= t.wallMm.toMm,
  )!;
  const { start, end } = run;
  if ((start.kind !== 'corner' && start.kind !== 'free') || (end.kind !== 'corner' && end.kind !== 'free'))
    throw new Error('only corners and free ends are known here');
  const low = start.kind === 'free' ? start.leftMm : Number.NEGATIVE_INFINITY;
  const high = end.kind === 'free' ? end.leftMm : Number.POSITIVE_INFINITY;
  const outside = limits.bulkheadMm + tie.diameterMm / 2;
  const outMost = (s: number) => s <= low - outside || s >= high + outside;
  const inConcrete = (s: number) => s >= low + limits.edgeClearMm && s <= high - limits.edgeClearMm;
  const clear = (s: number) => limits.keepClear.every((x) => s <= x.fromMm || s >= x.toMm);
  return {
    starts:
      start.kind === 'free'
        ? freeChoices(low, -1, limits)
        : cornerChoices(start, 1, legs, groups, timber, limits.designKpa, every),
    ends:
      end.kind === 'free'
        ? freeChoices(high, 1, limits)
        : cornerChoices(end, -1, legs, groups, timber, limits.designKpa, every),
    groups: groups.filter((g) => ratedOver(g, 0) >= limits.designKpa - 1e-9),
    timberLeastMm: timber[0],
    timberMostMm: timber[1],
    overhangMm: catalogue.overhangMm,
    designKpa: limits.designKpa,
    tieStripMm: limits.tieStripMm,
    rows: limits.rows,
    concrete: [low, high],
    mayTie: (s) => clear(s) && (inConcrete(s) || outMost(s)),
    tieAtOrBefore: start.kind === 'free' ? low - outside : null,
    tieAtOrAfter: end.kind === 'free' ? high + outside : null,
  };
};

/** A strip of timber as a group: it has no holes and no rating of its own. */
export const timberGroup = (lengthMm: number): Group => ({
  name: `timber ${lengthMm}`,
  lengthMm,
  panelMm: 0,
  fillersMm: [],
  holesMm: [],
  ratedKpa: Number.POSITIVE_INFINITY,
  ratedSpanMm: lengthMm,
  exponent: 3,
});

/** Load on a group standing from `fromMm`, as mm of strip, and its moment about the group's left edge. */
export const loadOn = (zone: Zone, group: Group, fromMm: number): { readonly sum: number; readonly moment: number } => {
  const a = Math.max(fromMm, zone.concrete[0]) - fromMm;
  const b = Math.min(fromMm + group.lengthMm, zone.concrete[1]) - fromMm;
  return b <= a ? { sum: 0, moment: 0 } : { sum: b - a, moment: (b * b - a * a) / 2 };
};

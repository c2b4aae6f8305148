/**
 * The catalogue as the fit sees it for one stack of courses: integer widths on the grid, and for each the units of all courses.
 *
 * Every length here is an integer number of grid units (suffix Gu). A width is usable only if the catalogue has it in every height of the
 * stack; a tie hole only if every course has it, so that a tie column has all its rows.
 */

import { isSquare, takesDeflection } from '../ground/cornerAngles.js';
import { byNumber, byText, inOrder } from '../ground/order.js';
import type { Catalogue, FormUnit, Stack, TieItem, TurnedTop } from '../ground/vocabulary.js';
import { overhangOnSideMm, panelsOnSide, spanOnSideMm, stationsOnSide } from './turned.js';

export interface Panel {
  readonly widthGu: number;
  /** Tie hole offsets from the edge of lower station, present in all courses and on both faces (mirrored there). Sorted. */
  readonly holesGu: readonly number[];
  /** By course; of a panel on its side one, which stands in the top course. */
  readonly items: readonly FormUnit[];
  /** On its side: it fills the top course alone, and its width is the unit's height. */
  readonly turned: boolean;
  readonly ratedKpa: number;
  readonly ratedSpanGu: number;
  /** How far it may stand out beyond its outermost tie. */
  readonly overhangGu: number;
  /** Exponent by which the rating falls with the span: 3 where it is a deflection limit, 2 where a strength. */
  readonly spanExponent: 2 | 3;
}

/** One or more fillers side by side, all stiff to the panel beside them. */
export interface FillerSet {
  readonly widthGu: number;
  /** Widths from the panel outwards. */
  readonly widthsGu: readonly number[];
  readonly momentKnmPerM: number;
}

export interface Filler {
  readonly widthGu: number;
  readonly items: readonly FormUnit[];
  readonly momentKnmPerM: number;
}

export interface Leg {
  readonly legGu: number;
  readonly items: readonly FormUnit[];
}

export interface OutsideCorner {
  readonly faceWidthGu: number;
  readonly items: readonly FormUnit[];
}

export interface Gear {
  readonly gridMm: number;
  readonly courses: number;
  readonly panels: readonly Panel[];
  /** Panels on their side, longest first. */
  readonly onSide: readonly Panel[];
  readonly fillers: readonly Filler[];
  /** By total width, the set with the fewest fillers. */
  readonly fillerSets: readonly FillerSet[];
  /** Inside corners with equal legs, square ones before hinged ones. */
  readonly legs: readonly Leg[];
  /** Square ones before hinged ones. */
  readonly outsideCorners: readonly OutsideCorner[];
  readonly timberLeastGu: number;
  readonly timberMostGu: number;
  readonly timberLimitGu: number;
  readonly overhangGu: number;
  /** Name of the pour that it stands in, where the job is poured in parts. */
  readonly pour?: string;
}

const gu = (mm: number, gridMm: number): number => Math.round(mm / gridMm);

/** For each distinct key the unit of every course, or nothing where a height lacks it; sorted by key. */
const byCourse = (units: readonly FormUnit[], stack: Stack, key: (unit: FormUnit) => string): FormUnit[][] => {
  const sorted = [...units].sort(byText((u) => u.id));
  const keys = [...new Set(sorted.map(key))].sort();
  const found: FormUnit[][] = [];
  for (const k of keys) {
    const items = stack.heightsMm.map((h) => sorted.find((u) => key(u) === k && Math.abs(u.heightMm - h) < 0.01));
    if (items.every((u): u is FormUnit => u !== undefined)) found.push(items);
  }
  return found;
};

/**
 * Hole offsets of one unit that a tie can use: in every row that the unit has, both this hole and the one that lies opposite it when the same
 * unit stands mirrored on the other face.
 */
const pairedOffsets = (unit: FormUnit, gridMm: number): Set<number> => {
  const width = gu(unit.widthMm, gridMm);
  const key = (xGu: number, yMm: number) => `${xGu}|${Math.round(yMm)}`;
  const holes = new Set(unit.holes.map((h) => key(gu(h.xMm, gridMm), h.yMm)));
  const rows = [...new Set(unit.holes.map((h) => h.yMm))];
  const xs = [...new Set(unit.holes.map((h) => gu(h.xMm, gridMm)))];
  return new Set(xs.filter((x) => rows.every((y) => holes.has(key(x, y)) && holes.has(key(width - x, y)))));
};

const panelOf = (items: readonly FormUnit[], { gridMm, overhangMm }: Catalogue): Panel => {
  const first = items[0]!;
  const sets = items.map((u) => pairedOffsets(u, gridMm));
  const holesGu = [...sets[0]!].filter((x) => sets.every((s) => s.has(x))).sort((a, b) => a - b);
  const weakest = items.reduce((w, u) => (u.ratedKpa < w.ratedKpa ? u : w));
  return {
    widthGu: gu(first.widthMm, gridMm),
    holesGu,
    items,
    turned: false,
    ratedKpa: weakest.ratedKpa,
    ratedSpanGu: gu(weakest.ratedSpanMm > 0 ? weakest.ratedSpanMm : weakest.widthMm, gridMm),
    overhangGu: Math.floor(overhangMm / gridMm),
    spanExponent: weakest.ratingIs === 'strength' ? 2 : 3,
  };
};

const panelOnSide = (unit: FormUnit, catalogue: Catalogue, pressureKpa: number): Panel => ({
  widthGu: gu(unit.heightMm, catalogue.gridMm),
  holesGu: stationsOnSide(unit).map((x) => gu(x, catalogue.gridMm)),
  items: [unit],
  turned: true,
  ratedKpa: unit.ratedKpa,
  ratedSpanGu: gu(spanOnSideMm(unit), catalogue.gridMm),
  overhangGu: Math.floor(overhangOnSideMm(catalogue, unit, pressureKpa) / catalogue.gridMm + 1e-9),
  spanExponent: unit.ratingIs === 'strength' ? 2 : 3,
});

/** All sums of up to two stiff fillers, each with the fewest pieces; narrowest first. */
const fillerSetsOf = (fillers: readonly Filler[]): FillerSet[] => {
  const best = new Map<number, FillerSet>();
  const offer = (parts: readonly Filler[]) => {
    const widthGu = parts.reduce((sum, f) => sum + f.widthGu, 0);
    const held = best.get(widthGu);
    if (held && held.widthsGu.length <= parts.length) return;
    best.set(widthGu, {
      widthGu,
      widthsGu: parts.map((f) => f.widthGu),
      momentKnmPerM: Math.min(...parts.map((f) => f.momentKnmPerM)),
    });
  };
  for (const a of fillers) offer([a]);
  for (const a of fillers) for (const b of fillers) if (a.widthGu >= b.widthGu) offer([a, b]);
  return [...best.values()].sort(byNumber((s) => s.widthGu));
};

/** The filler of a width that a set of the gear names. */
export const fillerOf = ({ fillers }: Gear, widthGu: number): Filler => fillers.find((f) => f.widthGu === widthGu)!;

/** Units of one stack take the same deflections; those without a range, the square ones, come first in order of text. */
const rangeKey = ({ deflectionDeg: range }: FormUnit): string => (range ? `${range.least}-${range.most}` : '');

/** Inside corners that stand in a re-entrant vertex of this deflection: at a right angle square ones where there are any. */
export const legsAt = ({ legs }: Gear, deflectionDeg: number): readonly Leg[] => {
  const fit = legs.filter((l) => l.items.every((u) => takesDeflection(u, deflectionDeg)));
  const square = isSquare(deflectionDeg) ? fit.filter((l) => l.items[0]!.kind === 'inside-corner') : [];
  return square.length > 0 ? square : fit;
};

/** The outside corner for a salient vertex of this deflection. */
export const outsideAt = ({ outsideCorners }: Gear, deflectionDeg: number): OutsideCorner | null =>
  outsideCorners.find((c) => c.items.every((u) => takesDeflection(u, deflectionDeg))) ?? null;

/** `onSide`: the height of a course of panels on their side, and the pressure at its foot; `pour`: where it stands, if the job is poured in parts. */
export const gearFor = (catalogue: Catalogue, stack: Stack, onSide?: TurnedTop, pour?: string): Gear => {
  const { gridMm } = catalogue;
  const kind = (k: FormUnit['kind']) => catalogue.units.filter((u) => u.kind === k);
  const panels = byCourse(kind('panel'), stack, (u) => String(u.widthMm))
    .map((items) => panelOf(items, catalogue))
    .sort(byNumber((p) => -p.widthGu));
  const fillers = byCourse(
    kind('filler').filter((u) => u.stiffTo === 'panel'),
    stack,
    (u) => String(u.widthMm),
  )
    .map((items) => ({
      widthGu: gu(items[0]!.widthMm, gridMm),
      items,
      momentKnmPerM: Math.min(...items.map((u) => u.momentKnmPerM)),
    }))
    .sort(byNumber((f) => f.widthGu));
  const corners = (of: readonly FormUnit[]) =>
    byCourse(
      of.filter((u) => u.legsMm !== null && u.legsMm[0] === u.legsMm[1]),
      stack,
      (u) => `${u.legsMm![0]} ${rangeKey(u)}`,
    )
      .map((items) => ({ legGu: gu(items[0]!.legsMm![0], gridMm), items }))
      .sort(byNumber((l) => l.legGu));
  const legs = [...corners(kind('inside-corner')), ...corners(kind('hinged-corner'))];
  const outsideCorners = byCourse(kind('outside-corner'), stack, (u) => `${rangeKey(u)} ${u.faceWidthMm}`).map(
    (items) => ({ faceWidthGu: gu(items[0]!.faceWidthMm, gridMm), items }),
  );
  return {
    gridMm,
    courses: stack.heightsMm.length,
    panels,
    onSide: onSide
      ? panelsOnSide(catalogue, onSide.heightMm).map((u) => panelOnSide(u, catalogue, onSide.designKpa))
      : [],
    fillers,
    fillerSets: fillerSetsOf(fillers),
    legs,
    outsideCorners,
    timberLeastGu: Math.ceil(catalogue.timberLeastMm / gridMm),
    timberMostGu: Math.floor(catalogue.timberMostMm / gridMm),
    timberLimitGu: Math.floor(catalogue.timberLimitMm / gridMm),
    overhangGu: Math.floor(catalogue.overhangMm / gridMm),
    ...(pour === undefined ? {} : { pour }),
  };
};

/** Ties of the catalogue that fit a wall thickness, strongest first, then by id. */
export const tiesFor = (catalogue: Pick<Catalogue, 'ties'>, thicknessMm: number): TieItem[] =>
  catalogue.ties
    .filter((t) =>
      'fromMm' in t.wallMm
        ? thicknessMm >= t.wallMm.fromMm - 1 && thicknessMm <= t.wallMm.toMm + 1
        : t.wallMm.some((w) => Math.abs(w - thicknessMm) <= 1),
    )
    .sort(
      inOrder(
        byNumber((t) => -t.workingLoadKn),
        byText((t) => t.id),
      ),
    );

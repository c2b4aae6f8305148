/** Whether two readings of a drawing come to the same walls, levels, openings and steps; from where they were known does not count. */

import type { Vec } from '../ground/plane.js';
import type { Foundation } from '../ground/vocabulary.js';

/** Places that were written into a file and read again differ by less, mm. */
const TOLERANCE_MM = 0.01;

type Facts = readonly (readonly (number | string | null)[])[];

const point = (p: Vec): number[] => [p.x, p.y];

/** Lists of numbers and words, one for each kind of thing. */
const factsOf = (f: Foundation): readonly Facts[] => [
  [[f.lengthUnit, f.levels.footingMm, f.levels.topMm]],
  f.stretches.map((s) => [
    ...point(s.start),
    ...point(s.end),
    s.thicknessMm,
    String(s.startCapped),
    String(s.endCapped),
  ]),
  f.curves.map((c) => [...point(c.centre), c.radiusMm, c.fromRad, c.toRad, c.thicknessMm]),
  f.faceLines.map((l) => [...point(l.from), ...point(l.to), l.source]),
  // Where neither sill nor head is known two walls end: that there is a gap changes nothing.
  f.openings
    .filter((o) => o.sillMm !== null || o.headMm !== null)
    .map((o) => [...point(o.from), ...point(o.to), o.thicknessMm, o.sillMm, o.headMm]),
  f.steps.map((s) => [...point(s.at), s.kind]),
  f.pilasters.map((p) => [...point(p.at), p.widthMm, p.projectionMm]),
  f.levelsAt.map((l) => [...point(l.near), l.footingMm, l.topMm]),
];

const sameValue = (a: number | string | null, b: number | string | null): boolean =>
  typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) <= TOLERANCE_MM : a === b;

const sameRow = (a: Facts[number], b: Facts[number]): boolean =>
  a.length === b.length && a.every((value, i) => sameValue(value, b[i]!));

/** Lists are compared in their order, which is by place; a row may stand among others of the same place. */
const sameList = (a: Facts, b: Facts): boolean => {
  if (a.length !== b.length) return false;
  const left = [...b];
  return a.every((row) => {
    const i = left.findIndex((other) => sameRow(row, other));
    if (i < 0) return false;
    left.splice(i, 1);
    return true;
  });
};

export const sameFoundation = (a: Foundation, b: Foundation): boolean => {
  const [ours, theirs] = [factsOf(a), factsOf(b)];
  return ours.every((list, i) => sameList(list, theirs[i]!));
};

/** Which elements a traced face or curve is of, and which walls taken became no part of the plan. Local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { FaceLine, WallCurve } from '../../ground/vocabulary.js';
import { boxGrid } from './boxGrid.js';
import type { Chosen, WallSeen } from './choose.js';
import { OUTLINE_NAME } from './plan.js';
import { areaOf, boxesMeet, boxOfRegion, boxRing, enclosed, holds, intersection } from './region.js';
import { middleOf, nameOf } from './said.js';

/** Looked at this far beside a face. */
const BESIDE_MM = 2;

const ids = (seen: readonly WallSeen[]): string[] =>
  [...new Set(seen.map((t) => t.measured.element.id))].sort(compareText);

/** For a face the GlobalIds of the elements that lie on one side of it or the other, at its middle. */
export const elementsBeside = (taken: readonly WallSeen[]): ((line: FaceLine) => string[]) => {
  const near = boxGrid(taken, (t) => t.measured.box);
  return (line) => {
    const [dx, dy] = [line.to.x - line.from.x, line.to.y - line.from.y];
    const size = Math.hypot(dx, dy) || 1;
    const at = { x: (line.from.x + line.to.x) / 2, y: (line.from.y + line.to.y) / 2 };
    const beside = [-BESIDE_MM, BESIDE_MM].map((k) => ({ x: at.x - (dy / size) * k, y: at.y + (dx / size) * k }));
    const there = near({ x0: at.x, y0: at.y, x1: at.x, y1: at.y }, BESIDE_MM);
    return ids(there.filter((t) => beside.some((p) => holds(t.measured.footprint, p))));
  };
};

/** An end is looked for this far around: its place may lie beyond the concrete. */
const END_MM = 100;

/** The element that an end is of: of several about it the one that most of the concrete there is of. */
export const elementAtEnd = (
  at: Vec,
  taken: readonly WallSeen[],
): { readonly name: string; readonly subject: string } => {
  const there = enclosed([boxRing({ x0: at.x, y0: at.y, x1: at.x, y1: at.y }, END_MM)]);
  const reach = boxOfRegion(there);
  const own = taken
    .filter((t) => boxesMeet(t.measured.box, reach))
    .map((t) => ({ element: t.measured.element, area: areaOf(intersection(t.measured.footprint, there)) }))
    .sort((p, q) => q.area - p.area)[0];
  return !own || own.area <= 0
    ? { name: 'A wall', subject: '' }
    : { name: nameOf(own.element), subject: own.element.id };
};

/** A finding of tracing about a line of the outline is about the element whose face that is. */
export const aboutElement = (f: Finding, taken: readonly WallSeen[]): Finding => {
  if (f.at === null || !f.subject.startsWith(OUTLINE_NAME)) return { ...f, subject: f.at === null ? '' : f.subject };
  const at = { x: f.at[0], y: f.at[1] };
  const there = enclosed([boxRing({ x0: at.x, y0: at.y, x1: at.x, y1: at.y }, BESIDE_MM)]);
  const reach = boxOfRegion(there);
  const own = taken.filter(
    (t) => boxesMeet(t.measured.box, reach) && intersection(t.measured.footprint, there).length > 0,
  );
  return { ...f, subject: ids(own)[0] ?? '' };
};

/** Looks along the axis of a curve. */
const LOOKS = 16;

export const elementsOfCurve = (curve: WallCurve, taken: readonly WallSeen[]): string[] => {
  const points = Array.from({ length: LOOKS }, (_, k) => {
    const a = curve.fromRad + ((k + 0.5) / LOOKS) * (curve.toRad - curve.fromRad);
    return { x: curve.centre.x + curve.radiusMm * Math.cos(a), y: curve.centre.y + curve.radiusMm * Math.sin(a) };
  });
  return ids(taken.filter((t) => points.some((p) => holds(t.measured.footprint, p))));
};

/** Walls that were taken and are not among those that stretches and curves are of. */
export const notFormed = (chosen: Chosen, formedIds: readonly string[]): Finding[] => {
  const formed = new Set(formedIds);
  return chosen.taken
    .filter((t) => t.measured.element.kind !== 'column' && !formed.has(t.measured.element.id))
    .map((t) => {
      const { element, baseMm } = t.measured;
      const at = middleOf(t.measured);
      return finding(
        'trace.wall-not-formed',
        `${nameOf(element)} was taken but makes no wall with two faces side by side.`,
        {
          subject: element.id,
          at: at && [at.x, at.y, baseMm],
          assumed: 'it is not in the layout',
        },
      );
    });
};

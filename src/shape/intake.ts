/** Takes the stretches in: refuses what is no number, moves the rest to local coordinates, and puts them in an order of their own. */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber, compareText, inOrder } from '../ground/order.js';
import { distance, sub, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import type { WallStretch } from '../ground/vocabulary.js';
import { type Part, placeOf } from './model.js';
import { COORDINATE_MOST_MM } from './tolerances.js';

export interface CappedPart extends Part {
  readonly startCapped: boolean;
  readonly endCapped: boolean;
}

export interface Intake {
  /** World position of the local origin, mm. */
  readonly origin: Vec;
  /** Each from lower x, then lower y; sorted by start, end, thickness, sources. */
  readonly parts: readonly CappedPart[];
  readonly findings: readonly Finding[];
}

const usable = (n: number): boolean => Number.isFinite(n) && Math.abs(n) <= COORDINATE_MOST_MM;
const usablePoint = (p: Vec): boolean => usable(p.x) && usable(p.y);
const isUsable = (s: WallStretch): boolean =>
  usablePoint(s.start) && usablePoint(s.end) && usable(s.thicknessMm) && s.thicknessMm > 0;

const byPlace = inOrder<CappedPart>(
  byNumber((p) => p.start.x),
  byNumber((p) => p.start.y),
  byNumber((p) => p.end.x),
  byNumber((p) => p.end.y),
  byNumber((p) => p.thicknessMm),
  byNumber((p) => (p.startCapped ? 1 : 0) + (p.endCapped ? 2 : 0)),
  (a, b) => compareText(a.sources.join(' '), b.sources.join(' ')),
);

const subjectOf = (s: WallStretch): string => [...s.sources].sort(compareText).join(' ');

const localPart = (s: WallStretch, origin: Vec): CappedPart => {
  const turned = s.start.x > s.end.x || (s.start.x === s.end.x && s.start.y > s.end.y);
  return {
    start: sub(turned ? s.end : s.start, origin),
    end: sub(turned ? s.start : s.end, origin),
    thicknessMm: s.thicknessMm,
    sources: [...s.sources].sort(compareText),
    startCapped: turned ? s.endCapped : s.startCapped,
    endCapped: turned ? s.startCapped : s.endCapped,
  };
};

/** Refuses stretches that are no numbers (failure) and leaves out those of no length (attention). */
export const takeIn = (stretches: readonly WallStretch[]): Intake => {
  const findings: Finding[] = [];
  const good = stretches.filter((s) => {
    if (isUsable(s)) return true;
    const at = [s.start, s.end].find(usablePoint);
    findings.push(
      finding('shape.stretch-refused', 'A stretch of wall has a coordinate or thickness that is no usable number.', {
        subject: subjectOf(s),
        at: at ? placeOf(at, { x: 0, y: 0 }) : null,
        assumed: 'there is no wall there',
      }),
    );
    return false;
  });
  const ends = good.flatMap((s) => [s.start, s.end]);
  const origin = ends.reduce((o, p) => ({ x: Math.min(o.x, p.x), y: Math.min(o.y, p.y) }), ends[0] ?? { x: 0, y: 0 });
  const parts: CappedPart[] = [];
  for (const stretch of good) {
    const part = localPart(stretch, origin);
    if (distance(part.start, part.end) > SAME_POINT_MM) parts.push(part);
    else
      findings.push(
        finding('shape.stretch-dropped', 'A stretch of wall has no length.', {
          subject: subjectOf(stretch),
          at: placeOf(part.start, origin),
          assumed: 'there is no wall there',
        }),
      );
  }
  return { origin, parts: parts.sort(byPlace), findings };
};

/** Free ends of walls that stand against the concrete of a wall which they do not join: forms of both would stand in it. */

import { type Finding, finding } from '../ground/findings.js';
import { add, leftOf, scale, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { type Bar, type BarEnd, endOf, placeOf, pointOf } from './model.js';
import { areaOf, type Body, shared } from './outline.js';

export interface FreeEnd {
  readonly segment: number;
  readonly end: BarEnd;
  readonly bar: Bar;
}

export const tip = (e: FreeEnd): Vec => pointOf(e.bar, endOf(e.bar, e.end));

/** What lies just beyond an end, over its whole thickness; anticlockwise. */
const beyondEnd = (e: FreeEnd): Vec[] => {
  const out = scale(e.bar.direction.u, (e.end === 'hi' ? 1 : -1) * SAME_POINT_MM);
  const across = scale(leftOf(out), e.bar.thicknessMm / 2 / SAME_POINT_MM);
  const [right, left] = [add(tip(e), scale(across, -1)), add(tip(e), across)];
  return [right, add(right, out), add(left, out), left];
};

/** The body whose concrete goes on beyond a free end, over more than half of its thickness; null where there is none. */
export const buriedIn = (e: FreeEnd, bodies: readonly Body[]): Body | null => {
  const strip = beyondEnd(e);
  const enough = areaOf(strip) / 2;
  return bodies.find((b) => b.segment !== e.segment && shared(strip, b.ring).areaMm2 > enough) ?? null;
};

export const buriedFindings = (
  ends: readonly FreeEnd[],
  bodies: readonly Body[],
  idOf: (segment: number) => string,
  origin: Vec,
): Finding[] =>
  ends.flatMap((e): Finding[] => {
    const body = buriedIn(e, bodies);
    if (!body) return [];
    const [own, other] = [idOf(e.segment), idOf(body.segment)];
    const message = `Not laid out here yet: wall ${own} ends against the concrete of wall ${other} where that turns a corner; forms of both stand in each other's concrete.`;
    return [
      finding('shape.junction-not-laid-out', message, {
        at: placeOf(tip(e), origin),
        subject: own,
        assumed: 'both walls are formed as if the other were not there',
      }),
    ];
  });

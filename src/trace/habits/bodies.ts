/**
 * Axes that meet → the bodies of their walls: a rectangle for each piece of an axis, square at a free end, along the other axis where it
 * ends on a wall that runs through, and at corners the wedges that bring the faces to a mitre.
 */

import { add, angleOf, cross, distance, dot, leftOf, meet, scale, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { type Direction, pointAt } from '../lines.js';
import type { Area } from './areas.js';
import { type Axis, type AxisPiece, axisEnds, runsThrough } from './axes.js';

/** One end of an axis, seen from where it ends. */
interface Arm {
  readonly axis: number;
  readonly end: 'a' | 'b';
  readonly at: Vec;
  /** Unit vector from the end into the wall. */
  readonly into: Vec;
  readonly halfMm: number;
  readonly piece: AxisPiece;
}

/** Corners whose outer edge would lie farther out than this many thicknesses are left blunt; shape names them. */
const SPIKE_THICKNESSES = 4;
/** Arms this near to straight on make no corner. */
const STRAIGHT_RAD = 0.02;

const armsOf = (axes: readonly Axis[]): Arm[] =>
  axes.flatMap((x, axis) => {
    const [p, q] = axisEnds(x);
    const arm = (end: 'a' | 'b', at: Vec, into: Vec, piece: AxisPiece): Arm => ({
      axis,
      end,
      at,
      into,
      halfMm: piece.thicknessMm / 2,
      piece,
    });
    return [arm('a', p, x.direction, x.pieces[0]!), arm('b', q, scale(x.direction, -1), x.pieces.at(-1)!)];
  });

/** Arms that end at one place, in the order of their first. */
const placesOf = (arms: readonly Arm[]): Arm[][] => {
  const cells = new Map<string, Arm[][]>();
  const out: Arm[][] = [];
  for (const arm of arms) {
    const [i, j] = [Math.round(arm.at.x / SAME_POINT_MM), Math.round(arm.at.y / SAME_POINT_MM)];
    let place: Arm[] | undefined;
    for (let k = 0; k < 9 && !place; k++) {
      const list = cells.get(`${i - 1 + (k % 3)} ${j - 1 + Math.floor(k / 3)}`) ?? [];
      place = list.find((others) => distance(others[0]!.at, arm.at) <= SAME_POINT_MM);
    }
    if (place) {
      place.push(arm);
      continue;
    }
    const fresh = [arm];
    out.push(fresh);
    const key = `${i} ${j}`;
    cells.set(key, [...(cells.get(key) ?? []), fresh]);
  }
  return out;
};

/** Faces that are drawn need not be made. */
const drawnBy = (piece: AxisPiece): string | null => (piece.drawn ? null : piece.source);

/** The wedge between two arms of a corner, `second` the next anticlockwise from `first`; null where the rectangles cover it. */
const wedge = (first: Arm, second: Arm, turnRad: number): Area | null => {
  if (Math.abs(turnRad - Math.PI) < STRAIGHT_RAD) return null;
  const p = add(first.at, scale(leftOf(first.into), first.halfMm));
  const q = add(second.at, scale(leftOf(second.into), -second.halfMm));
  const tip = meet(p, first.into, q, second.into);
  if (tip === null) return null;
  const behind = (x: Vec, arm: Arm) => dot(sub(tip, x), arm.into) < -1e-6;
  if (!behind(p, first) && !behind(q, second)) return null;
  const far = distance(tip, first.at) > 2 * SPIKE_THICKNESSES * Math.max(first.halfMm, second.halfMm);
  const points = far ? [first.at, p, q] : [first.at, p, tip, q];
  const [s, t] = [drawnBy(first.piece), drawnBy(second.piece)];
  return { rings: [{ points, sources: far ? [s, s, t] : [s, s, t, t] }], layer: first.piece.layer };
};

const wedgesAt = (arms: readonly Arm[]): Area[] => {
  if (arms.length < 2) return [];
  const round = arms.map((arm) => ({ arm, angle: angleOf(arm.into) })).sort((x, y) => x.angle - y.angle);
  return round.flatMap(({ arm, angle }, i) => {
    const next = round[(i + 1) % round.length]!;
    const turn = next.angle - angle + (i + 1 === round.length ? 2 * Math.PI : 0);
    return wedge(arm, next.arm, turn) ?? [];
  });
};

/** Direction along which an arm's end is cut: square to it (null), or along the wall that runs through there. */
const cutAlong = (arm: Arm, place: readonly Arm[], axes: readonly Axis[], near: (p: Vec) => Axis[]): Vec | null => {
  const through = near(arm.at).find((x) => x !== axes[arm.axis] && runsThrough(x, arm.at));
  if (through) return through.direction;
  const straight = place.find(
    (p) => p !== arm && place.some((q) => q !== arm && q !== p && dot(p.into, q.into) < -Math.cos(STRAIGHT_RAD)),
  );
  return straight ? straight.into : null;
};

/** The point of a face at an end, `side` +1 on the left of the axis. */
const facePoint = (d: Direction, v: number, u: number, halfMm: number, side: 1 | -1, cut: Vec | null): Vec => {
  const square = pointAt(d, u, v + side * halfMm);
  if (cut === null || Math.abs(cross(d, cut)) < 0.1) return square;
  return meet(square, d, pointAt(d, u, v), cut) ?? square;
};

const rectangle = (axis: Axis, piece: AxisPiece, cutA: Vec | null, cutB: Vec | null): Area => {
  const { direction: d, v } = axis;
  const half = piece.thicknessMm / 2;
  const at = (u: number, side: 1 | -1, cut: Vec | null) => facePoint(d, v, u, half, side, cut);
  const points = [at(piece.a, -1, cutA), at(piece.b, -1, cutB), at(piece.b, 1, cutB), at(piece.a, 1, cutA)];
  return { rings: [{ points, sources: points.map(() => drawnBy(piece)) }], layer: piece.layer };
};

/** Bodies that overlap where walls meet; `near` gives the axes that pass near a point. */
export const bodiesOf = (axes: readonly Axis[], near: (p: Vec) => Axis[]): Area[] => {
  const places = placesOf(armsOf(axes));
  const cuts = new Map<string, Vec | null>();
  const wedges: Area[] = [];
  for (const place of places) {
    let through = false;
    for (const arm of place) {
      const cut = cutAlong(arm, place, axes, near);
      cuts.set(`${arm.axis}${arm.end}`, cut);
      through ||= cut !== null;
    }
    if (!through) wedges.push(...wedgesAt(place));
  }
  const rectangles = axes.flatMap((axis, i) =>
    axis.pieces.map((piece, k) =>
      rectangle(
        axis,
        piece,
        k === 0 ? cuts.get(`${i}a`)! : null,
        k === axis.pieces.length - 1 ? cuts.get(`${i}b`)! : null,
      ),
    ),
  );
  return [...rectangles, ...wedges];
};

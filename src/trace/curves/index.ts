/**
 * Curved walls: pairs of concentric arcs a wall's thickness apart. Arcs come from ARC, CIRCLE, bulged polylines and from chains of chords that
 * lie on a circle; those of one circle are joined, those about one centre paired. A single arc is never a wall.
 *
 * In two steps about the straight tracing: `prepareCurves` takes the curves out of the paths, the straight walls are traced from the rest,
 * and `traceCurves` decides with them which pairs are walls and where their ends stand. withCurves.ts joins the three.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { byNumber, comparePoints, inOrder } from '../../ground/order.js';
import { distance, sub } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { roundTo } from '../../ground/units.js';
import type { DrawingPath, WallCurve, WallStretch } from '../../ground/vocabulary.js';
import { REPAIR_MM, USUAL_MOST_MM } from '../limits.js';
import { toDrawingMm } from '../segments.js';
import { isFull, onCircle, TURN, turned } from './circle.js';
import { endOf, type Straight, type StripEnd } from './ends.js';
import type { ArcPiece } from './gather.js';
import { type CurveLeftOver, leftOrder, leftOvers } from './leftOver.js';
import { ASPECT, CAUTIOUS_ASPECT, INNER_RADIUS_LEAST_MM } from './limits.js';
import { type PreparedCurves, straightAgain } from './prepare.js';
import { type CurveNote, findingsOfCurves } from './report.js';
import { concreteStrips } from './sides.js';
import { type Strip, seenFrom, sharedParts } from './strips.js';

export { type PreparedCurves, prepareCurves } from './prepare.js';

export interface CurveOptions {
  /** No layer name told: only pairs that are plainly walls. */
  readonly cautious: boolean;
  /** Name every long curve that is no wall, else only their count. */
  readonly oneByOne: boolean;
}

export interface TracedCurves {
  /** Sorted by centre, radius and angle; mm in the drawing's axes. */
  readonly curves: readonly WallCurve[];
  readonly findings: readonly Finding[];
  /** Local mm. */
  readonly leftOver: readonly CurveLeftOver[];
  /**
   * Null, or the paths with which the straight walls are to be traced again: chords that looked like the faces of a curved wall and are
   * none stand in them again.
   */
  readonly traceAgain: readonly DrawingPath[] | null;
}

type Verdict = 'wall' | 'air' | 'short' | 'small ring';

const verdictOf = (strip: Strip, ends: readonly [StripEnd, StripEnd], cautious: boolean): Verdict => {
  const inner = strip.axis.radius - strip.thicknessMm / 2;
  if (isFull(strip)) return inner < INNER_RADIUS_LEAST_MM ? 'small ring' : 'wall';
  const lengthMm = strip.by * strip.axis.radius;
  if (ends.every((e) => e.goesOn !== null)) return 'wall';
  if (ends.every((e) => e.goesOn !== null || e.runsInto !== null) && lengthMm >= strip.thicknessMm) return 'wall';
  if (cautious && strip.thicknessMm > USUAL_MOST_MM) return 'short';
  return lengthMm >= (cautious ? CAUTIOUS_ASPECT : ASPECT) * strip.thicknessMm - SAME_POINT_MM ? 'wall' : 'short';
};

/** A strip too short to be a wall by itself is one where it goes on from a wall with which it shares a face. */
const keepContinuations = (strips: readonly Strip[], verdicts: Verdict[]): void => {
  const angles = (s: Strip) => [s.from, s.from + s.by].map((a) => onCircle(s.axis, a));
  const goesOn = (s: Strip, t: Strip): boolean => {
    if ((s.low === t.low) === (s.high === t.high)) return false;
    const [p, q] = [angles(s), angles(t)];
    return distance(p[0]!, q[1]!) <= REPAIR_MM || distance(p[1]!, q[0]!) <= REPAIR_MM;
  };
  for (let moved = true; moved; ) {
    moved = false;
    strips.forEach((s, i) => {
      if (verdicts[i] !== 'short' || !strips.some((t, j) => verdicts[j] === 'wall' && goesOn(s, t))) return;
      verdicts[i] = 'wall';
      moved = true;
    });
  }
};

/** Places leave rounded to this, and angles to a like distance at 100 m, so that they do not carry the noise of turning and shifting. */
const PLACES = 4;
const ANGLE_PLACES = 9;

/** Does a piece of a face lie along the strip, not only touch its end? */
const liesAlong = (piece: ArcPiece, strip: Strip): boolean => {
  const slack = SAME_POINT_MM / strip.axis.radius;
  return sharedParts(strip, seenFrom(strip.axis.centre, piece)).some((part) => part.by > slack);
};

const curveOf = (p: PreparedCurves, strip: Strip, ends: readonly [StripEnd, StripEnd]): WallCurve => {
  const centre = toDrawingMm(p.frame, strip.axis.centre);
  const full = isFull(strip);
  // Ends that were moved past each other, on a wall shorter than the one that it meets is thick, stay as drawn.
  const moved = ends[1].angle - ends[0].angle;
  const from = full ? 0 : turned(moved > 0 ? ends[0].angle : strip.from);
  const by = full ? TURN : moved > 0 ? moved : strip.by;
  const pieces = [strip.low, strip.high].flatMap((i) => p.arcs[i]!.pieces.filter((x) => liesAlong(x, strip)));
  return {
    centre: { x: roundTo(centre.x, PLACES), y: roundTo(centre.y, PLACES) },
    radiusMm: roundTo(strip.axis.radius, PLACES),
    fromRad: roundTo(from, ANGLE_PLACES),
    toRad: full ? TURN : roundTo(from + by, ANGLE_PLACES),
    thicknessMm: roundTo(strip.thicknessMm, PLACES),
    startCapped: !full && ends[0].capped,
    endCapped: !full && ends[1].capped,
    sources: [...new Set(pieces.flatMap((x) => [...x.sources]))].sort(),
  };
};

const curveOrder = inOrder<CurveNote>(
  (p, q) => comparePoints(p.curve.centre, q.curve.centre),
  byNumber((c) => c.curve.radiusMm),
  byNumber((c) => c.curve.fromRad),
  byNumber((c) => c.curve.thicknessMm),
);

/**
 * Curved walls among the prepared arcs.
 *
 * @param walls the straight walls found, mm in the drawing's axes
 */
export const traceCurves = (
  prepared: PreparedCurves,
  walls: readonly WallStretch[],
  options: CurveOptions,
): TracedCurves => {
  const { arcs, strips, frame, lines } = prepared;
  const shift = toDrawingMm(frame, { x: 0, y: 0 });
  const straights = walls.map(
    (w): Straight => ({ start: sub(w.start, shift), end: sub(w.end, shift), thicknessMm: w.thicknessMm }),
  );
  const ends = strips.map((s): readonly [StripEnd, StripEnd] => [
    endOf(arcs, s, 0, lines, straights),
    endOf(arcs, s, 1, lines, straights),
  ]);
  const evidence = ends.map((e, i) => ({
    capped: isFull(strips[i]!) ? 0 : e.filter((x) => x.capped).length,
    joined: isFull(strips[i]!) ? 0 : e.filter((x) => x.goesOn !== null).length,
  }));
  const concrete = new Set(concreteStrips(strips, evidence, options.cautious ? CAUTIOUS_ASPECT : ASPECT));
  const verdicts = strips.map((s, i): Verdict => (concrete.has(i) ? verdictOf(s, ends[i]!, options.cautious) : 'air'));
  keepContinuations(strips, verdicts);
  const found = strips.flatMap((s, i) => (verdicts[i] === 'wall' ? [{ strip: s, ends: ends[i]! }] : []));
  const notes = found
    .map(
      ({ strip, ends: [a, b] }): CurveNote => ({
        curve: curveOf(prepared, strip, [a, b]),
        spreadMm: strip.spreadMm,
        beyondMm: [a, b].map((e) => (e.goesOn === null && e.runsInto === null ? e.beyondMm : 0)) as [number, number],
        shortMm: [a.shortMm, b.shortMm],
      }),
    )
    .sort(curveOrder);
  const used = new Set(found.flatMap((f) => [f.strip.low, f.strip.high]));
  const leftOver = [
    ...leftOvers({ arcs, strips, verdicts, swings: prepared.swings, walls: straights }),
    ...prepared.others,
  ].sort(leftOrder);
  const arcsUsed = arcs.filter((_, i) => used.has(i));
  const findings = findingsOfCurves(notes, arcsUsed, leftOver, frame, options.oneByOne);
  if (prepared.untracedCount > 0) {
    const text = `The layers taken hold ${prepared.untracedCount} arcs and lines: no curved wall was traced.`;
    findings.push(finding('trace.curve-too-much', text));
  }
  return { curves: notes.map((n) => n.curve), findings, leftOver, traceAgain: straightAgain(prepared, used) };
};

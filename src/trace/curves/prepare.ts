/** Takes the curves out of the paths of a group of layers, and pairs those that run side by side. Lengths local mm. */

import { comparePoints } from '../../ground/order.js';
import { distance, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { pointsNear } from '../near.js';
import type { LocalFrame } from '../segments.js';
import { arcsOfChords } from './chords.js';
import { endsOf, isFull, riseOf } from './circle.js';
import { type ArcPiece, type Chord, CURVED, gather, type PieceKey, withoutPieces } from './gather.js';
import type { CurveLeftOver } from './leftOver.js';
import { ARCS_MOST, CHORDS_MOST, END_CHECKS_MOST, PIECES_MOST, STRAIGHT_RISE_MM, STRAIGHT_TURN_RAD } from './limits.js';
import { type Arc, mergeArcs } from './merge.js';
import { type Strip, stripsOf } from './strips.js';
import { swingsAmong } from './swings.js';

/** The curves of a group of layers, before the straight walls are known. */
export interface PreparedCurves {
  /** The paths for the straight tracing: without arcs, and without chords that may be faces of curved walls. */
  readonly straightPaths: readonly DrawingPath[];
  /** Local mm: ends of arcs that may be faces; straight lines that end there are not loose. */
  readonly held: readonly Vec[];
  readonly arcs: readonly Arc[];
  readonly strips: readonly Strip[];
  readonly swings: ReadonlySet<number>;
  /** Straight linework, local mm. */
  readonly lines: readonly Chord[];
  /** Curves that are no arcs of a circle, one entry a path. */
  readonly others: readonly CurveLeftOver[];
  readonly paths: readonly DrawingPath[];
  /** Pieces that are curves whatever becomes of them, and bent ones that are straight lines. */
  readonly taken: ReadonlySet<PieceKey>;
  readonly straight: ReadonlySet<PieceKey>;
  readonly frame: LocalFrame;
  /** Arcs and lines, when they are more than tracing of curves works through and nothing was done; else 0. */
  readonly untracedCount: number;
}

const keysOf = (arc: Arc, which: (p: ArcPiece) => boolean): PieceKey[] =>
  arc.pieces.filter(which).flatMap((p) => [...p.keys]);
/** Drawn as a curve, not as straight lines that may be walls by themselves. */
export const isCurve = (p: ArcPiece): boolean => p.chords === 0 || CURVED.has(p.entity);

const isStraight = (a: Arc): boolean => riseOf(a) < STRAIGHT_RISE_MM && a.by <= STRAIGHT_TURN_RAD;

/** Chords of ellipses and splines by path: those that lie in a row are lines, the others no arcs of a circle. */
const curvesByPath = (chords: readonly Chord[], used: ReadonlySet<PieceKey>) => {
  const byPath = new Map<string, Chord[]>();
  for (const c of chords) {
    if (!CURVED.has(c.entity) || used.has(c.key)) continue;
    const path = c.key.split(':')[0]!;
    byPath.set(path, [...(byPath.get(path) ?? []), c]);
  }
  const straight: PieceKey[] = [];
  const taken: PieceKey[] = [];
  const others: CurveLeftOver[] = [];
  for (const list of byPath.values()) {
    const ends = list.flatMap((c) => [c.a, c.b]).sort(comparePoints);
    const [low, high] = [ends[0]!, ends.at(-1)!];
    const d = sub(high, low);
    const wide = distance(low, high);
    const off = (p: Vec) => Math.abs((p.x - low.x) * d.y - (p.y - low.y) * d.x) / wide;
    if (wide > 0 && ends.every((p) => off(p) <= SAME_POINT_MM)) {
      straight.push(...list.map((c) => c.key));
      continue;
    }
    taken.push(...list.map((c) => c.key));
    const { layer, entity, source } = list[0]!;
    const lengthMm = list.reduce((s, c) => s + distance(c.a, c.b), 0);
    const at = ends[Math.floor(ends.length / 2)]!;
    others.push({ layer, entity, sources: [source], lengthMm, radiusMm: 0, at, reason: 'it is no arc of a circle' });
  }
  return { straight, taken, others };
};

/**
 * Takes the curves out of the paths of a group of layers.
 *
 * @param paths drawing units
 * @param area drawing units; a piece that is not wholly inside stays in the straight paths, where it is counted
 */
export const prepareCurves = (
  paths: readonly DrawingPath[],
  frame: LocalFrame,
  area: readonly [number, number, number, number] | null,
): PreparedCurves => {
  const { arcs: drawn, chords } = gather(paths, frame, area);
  if (drawn.length > PIECES_MOST || chords.length > CHORDS_MOST) return untraced(paths, frame, drawn, chords);
  const fitted = arcsOfChords(chords);
  const inFitted = new Set(fitted.flatMap((p) => [...p.keys]));
  const plain = chords.filter((c) => !inFitted.has(c.key) && !CURVED.has(c.entity));
  const ends = pointsNear(
    plain.flatMap((c) => [c.a, c.b]),
    SAME_POINT_MM,
  );
  const merged = mergeArcs([...drawn, ...fitted], (p) => ends(p).length === 0);
  const arcs = merged.filter((a) => !isStraight(a));
  const swings = swingsAmong(arcs, plain);
  const free = arcs.map((_, i) => i).filter((i) => !swings.has(i));
  const found = arcs.length > ARCS_MOST ? null : stripsOf(free.map((i) => arcs[i]!));
  if (found === null || found.length * chords.length > END_CHECKS_MOST) return untraced(paths, frame, drawn, chords);
  const strips = found.map((s) => ({ ...s, low: free[s.low]!, high: free[s.high]! }));
  const paired = new Set(strips.flatMap((s) => [s.low, s.high]));
  const curves = arcs.flatMap((a) => keysOf(a, isCurve));
  const faces = arcs.flatMap((a, i) => (paired.has(i) ? keysOf(a, (p) => !isCurve(p)) : []));
  const rest = curvesByPath(chords, new Set(curves));
  const taken = new Set([...curves, ...rest.taken]);
  const straight = new Set([...merged.filter(isStraight).flatMap((a) => keysOf(a, isCurve)), ...rest.straight]);
  const all = new Set([...taken, ...faces]);
  return {
    straightPaths: withoutPieces(paths, all, straight),
    held: [...paired].sort((i, j) => i - j).flatMap((i) => (isFull(arcs[i]!) ? [] : [...endsOf(arcs[i]!)])),
    arcs,
    strips,
    swings,
    lines: chords.filter((c) => !all.has(c.key)),
    others: rest.others,
    paths,
    taken,
    straight,
    frame,
    untracedCount: 0,
  };
};

/** Curves are out of the way of the straight tracing, and nothing more. */
const untraced = (
  paths: readonly DrawingPath[],
  frame: LocalFrame,
  drawn: readonly ArcPiece[],
  chords: readonly Chord[],
): PreparedCurves => {
  const curved = chords.filter((c) => CURVED.has(c.entity)).map((c) => c.key);
  const taken = new Set([...drawn.flatMap((a) => [...a.keys]), ...curved]);
  return {
    straightPaths: withoutPieces(paths, taken, new Set()),
    held: [],
    arcs: [],
    strips: [],
    swings: new Set(),
    lines: [],
    others: [],
    paths,
    taken,
    straight: new Set(),
    frame,
    untracedCount: drawn.length + chords.length,
  };
};

/**
 * The straight paths with the chords back that were taken for faces and are none; null when there are none. `used`: arcs (by index) that
 * are faces of curved walls.
 */
export const straightAgain = (p: PreparedCurves, used: ReadonlySet<number>): readonly DrawingPath[] | null => {
  const paired = new Set(p.strips.flatMap((s) => [s.low, s.high]));
  if (![...paired].some((i) => !used.has(i) && !p.arcs[i]!.pieces.every(isCurve))) return null;
  const faces = p.arcs.flatMap((a, i) => (used.has(i) ? keysOf(a, (x) => !isCurve(x)) : []));
  return withoutPieces(p.paths, new Set([...p.taken, ...faces]), p.straight);
};

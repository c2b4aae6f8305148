/** Lines of one group of layers beside those of another. */

import { distance } from '../ground/plane.js';
import { WALL_MOST_MM } from '../ground/tolerance.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type { DrawingPath } from '../ground/vocabulary.js';
import { totalLength, union } from './intervals.js';
import { LINES_MOST } from './limits.js';
import { buildLines, type Line } from './lines.js';
import { isUsual } from './pairing.js';
import { collectSegments, lowerCorner, toDrawingMm } from './segments.js';
import { buildStations, buildStrips } from './strips.js';

/** Share of a line over which it has to face lines of the other group. */
const FACING_SHARE = 0.5;

/**
 * Paths of `others` that run beside lines of `own` at a usual wall thickness, over most of their length, with nothing parallel between
 * them. Empty when there are more lines than tracing works through.
 */
export const facesAcross = (
  own: readonly DrawingPath[],
  others: readonly DrawingPath[],
  unit: LengthUnit,
): DrawingPath[] => {
  const frame = { origin: lowerCorner([...own, ...others]), mmPer: MM_PER[unit] };
  const { segments } = collectSegments([...own, ...others], frame, null);
  if (segments.length > LINES_MOST) return [];
  const foreign = new Set(others.map((p) => p.source));
  const set = buildLines(segments);
  const isForeign = (l: Line) => l.pieces.every((p) => foreign.has(p.segment.source));
  const facing = new Map<number, { a: number; b: number }[]>();
  for (const s of buildStrips(set, buildStations(set) ?? [])) {
    if (!isUsual(s.thicknessMm) || s.b - s.a < 2 * s.thicknessMm) continue;
    const [low, high] = [isForeign(set.lines[s.low]!), isForeign(set.lines[s.high]!)];
    if (low === high) continue;
    const line = low ? s.low : s.high;
    facing.set(line, [...(facing.get(line) ?? []), { a: s.a, b: s.b }]);
  }
  const sources = new Set<string>();
  for (const [line, parts] of facing) {
    const l = set.lines[line]!;
    if (totalLength(union(parts)) < FACING_SHARE * (l.b - l.a)) continue;
    for (const piece of l.pieces) sources.add(piece.segment.source);
  }
  return others.filter((p) => sources.has(p.source));
};

/** Length of the lines of `paths` farther than a wall's thickness from all lines of `from`, and the first place of them, mm in the drawing's axes. */
export const lengthAway = (
  paths: readonly DrawingPath[],
  from: readonly DrawingPath[],
  unit: LengthUnit,
): { lengthMm: number; at: readonly [number, number, number] | null } => {
  const frame = { origin: lowerCorner([...paths, ...from]), mmPer: MM_PER[unit] };
  const stepMm = WALL_MOST_MM / 2;
  const key = (x: number, y: number) => `${Math.floor(x / WALL_MOST_MM)} ${Math.floor(y / WALL_MOST_MM)}`;
  const along = (list: readonly DrawingPath[], visit: (x: number, y: number, mm: number) => void): void => {
    for (const { a, b } of collectSegments(list, frame, null).segments.slice(0, LINES_MOST)) {
      const length = distance(a, b);
      const steps = Math.min(2000, Math.max(1, Math.ceil(length / stepMm)));
      for (let i = 0; i < steps; i++) {
        const t = (i + 0.5) / steps;
        visit(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, length / steps);
      }
    }
  };
  const taken = new Set<string>();
  along(from, (x, y) => {
    for (const dx of [-1, 0, 1])
      for (const dy of [-1, 0, 1]) taken.add(key(x + dx * WALL_MOST_MM, y + dy * WALL_MOST_MM));
  });
  let lengthMm = 0;
  let at: readonly [number, number, number] | null = null;
  along(paths, (x, y, mm) => {
    if (taken.has(key(x, y))) return;
    lengthMm += mm;
    if (at === null) {
      const p = toDrawingMm(frame, { x, y });
      at = [Math.round(p.x), Math.round(p.y), 0];
    }
  });
  return { lengthMm, at };
};

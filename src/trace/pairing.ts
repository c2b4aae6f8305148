/** How well linework pairs up as the two faces of walls: evidence for layers and for the unit. */

import { comparePoints } from '../ground/order.js';
import { distance } from '../ground/plane.js';
import { WALL_LEAST_MM, WALL_MOST_MM } from '../ground/tolerance.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type { DrawingPath } from '../ground/vocabulary.js';
import { totalLength, union } from './intervals.js';
import { USUAL_LEAST_MM, USUAL_MOST_MM } from './limits.js';
import { buildLines } from './lines.js';
import { collectSegments, lowerCorner } from './segments.js';
import { buildStations, buildStrips, isWallThickness } from './strips.js';

export interface Pairing {
  /** Length of all lines, double ones once. */
  readonly lengthMm: number;
  /** Length that has a neighbour at a wall's thickness, over at least three times that thickness. */
  readonly pairedMm: number;
  /** The second over the first; 0 without lines. */
  readonly share: number;
  /** The commonest distance, whole mm; 0 when nothing pairs. */
  readonly usualMm: number;
  /** The commonest distances, the commonest first, at most eight. */
  readonly commonMm: readonly number[];
}

/** A pair is at least this many times as long as it is apart. *Practice, no source.* */
const ASPECT_LEAST = 3;
const COMMON_MOST = 8;
/** Lines that are looked at: enough to tell, and few enough to ask five units. */
const LINES_MOST = 6000;

/** Straight edges of paths as paths of their own, the longest ones when there are too many; ties go by place, not by the order of the drawing. */
const longestEdges = (paths: readonly DrawingPath[]): readonly DrawingPath[] => {
  const count = paths.reduce((sum, p) => sum + p.vertices.length, 0);
  if (count <= LINES_MOST) return paths;
  const edges: { path: DrawingPath; i: number; length: number }[] = [];
  for (const path of paths) {
    const n = path.vertices.length;
    for (let i = 0; i < (path.closed ? n : n - 1); i++) {
      const length = distance(path.vertices[i]!, path.vertices[(i + 1) % n]!);
      if (length > 0 && Number.isFinite(length)) edges.push({ path, i, length });
    }
  }
  const least = Float64Array.from(edges, (e) => e.length).sort()[Math.max(0, edges.length - LINES_MOST)] ?? 0;
  const start = (e: { path: DrawingPath; i: number }) => e.path.vertices[e.i]!;
  const longer = edges.filter((e) => e.length > least);
  const ties = edges.filter((e) => e.length === least).sort((p, q) => comparePoints(start(p), start(q)));
  return [...longer, ...ties.slice(0, LINES_MOST - longer.length)].map(({ path, i }) => ({
    ...path,
    vertices: [path.vertices[i]!, path.vertices[(i + 1) % path.vertices.length]!],
    closed: false,
  }));
};

const measure = (paths: readonly DrawingPath[], unit: LengthUnit): Pairing => {
  const mmPer = MM_PER[unit];
  const asLines = paths.map((p) => (p.fill === null ? p : { ...p, entity: 'LWPOLYLINE', fill: null }));
  const wide = (p: DrawingPath) => p.width * mmPer >= WALL_LEAST_MM && p.width * mmPer <= WALL_MOST_MM;
  const frame = { origin: lowerCorner(paths), mmPer };
  const { segments } = collectSegments(
    asLines.filter((p) => !wide(p)),
    frame,
    null,
  );
  const set = buildLines(segments);
  const faces = new Map<number, { a: number; b: number }[]>();
  const weights = new Map<number, number>();
  for (const s of buildStrips(set, buildStations(set) ?? [])) {
    if (!isWallThickness(s.thicknessMm) || s.b - s.a < ASPECT_LEAST * s.thicknessMm) continue;
    for (const line of [s.low, s.high]) {
      const list = faces.get(line);
      if (list) list.push({ a: s.a, b: s.b });
      else faces.set(line, [{ a: s.a, b: s.b }]);
    }
    const key = Math.round(s.thicknessMm);
    weights.set(key, (weights.get(key) ?? 0) + s.b - s.a);
  }
  let pairedMm = 0;
  for (const parts of faces.values()) pairedMm += totalLength(union(parts));
  let lengthMm = totalLength(set.lines);
  for (const p of asLines.filter(wide)) {
    const own = collectSegments([p], frame, null).segments.reduce((sum, s) => sum + distance(s.a, s.b), 0);
    lengthMm += own;
    pairedMm += own;
    const key = Math.round(p.width * mmPer);
    weights.set(key, (weights.get(key) ?? 0) + own);
  }
  const common = [...weights].sort((p, q) => q[1] - p[1] || p[0] - q[0]).slice(0, COMMON_MOST);
  return {
    lengthMm,
    pairedMm,
    share: lengthMm > 0 ? Math.min(1, pairedMm / lengthMm) : 0,
    usualMm: common[0]?.[0] ?? 0,
    commonMm: common.map(([mm]) => mm),
  };
};

/** The same linework is asked about by unit, ranking and findings: it is measured once. */
const known = new WeakMap<readonly DrawingPath[], { edges: readonly DrawingPath[]; units: Map<LengthUnit, Pairing> }>();

/**
 * Pairing of linework if its numbers are in `unit`. Outlines of fills count like lines; a polyline drawn as wide as a wall is paired by
 * itself. Of very many lines the longest are looked at.
 */
export const pairingOf = (paths: readonly DrawingPath[], unit: LengthUnit): Pairing => {
  const entry = known.get(paths) ?? { edges: longestEdges(paths), units: new Map<LengthUnit, Pairing>() };
  known.set(paths, entry);
  const found = entry.units.get(unit) ?? measure(entry.edges, unit);
  entry.units.set(unit, found);
  return found;
};

export const isUsual = (mm: number): boolean => mm >= USUAL_LEAST_MM && mm <= USUAL_MOST_MM;

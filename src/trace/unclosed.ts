/**
 * Outlines left open: polylines whose last side was never drawn. It is drawn in where nothing else can be meant: both ends are corners of the outline,
 * nothing else meets them, and the missing side has a partner at a wall's thickness. A break in the run of a wall (whose ends point at each other) is
 * never closed this way: it may be a door.
 */

import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import { cross, distance, sub, unit, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { DrawingPath } from '../ground/vocabulary.js';
import { totalLength, union } from './intervals.js';
import { LINES_MOST, REPAIR_MM, USUAL_MOST_MM } from './limits.js';
import { buildLines } from './lines.js';
import { collectSegments, type LocalFrame, type Segment, toDrawingMm, toLocal } from './segments.js';
import { buildStations, buildStrips, isWallThickness } from './strips.js';

/** Sine of the least angle at which the missing side leaves its neighbours: 30 degrees. */
const SIN_LEAST = 0.5;
/** Share of the missing side that must have a partner. */
const PARTNER_SHARE = 0.6;
/** A polyline of fewer vertices is no outline. */
const VERTICES_LEAST = 4;

interface Open {
  readonly path: DrawingPath;
  readonly from: Vec;
  readonly to: Vec;
}

const openOf = (path: DrawingPath, frame: LocalFrame): Open | null => {
  const n = path.vertices.length;
  if (path.closed || path.fill !== null || path.width > 0 || n < VERTICES_LEAST) return null;
  if (path.entity !== 'LWPOLYLINE' && path.entity !== 'POLYLINE') return null;
  const [p, second, before, q] = [0, 1, n - 2, n - 1].map((i) => toLocal(frame, path.vertices[i]!)) as [
    Vec,
    Vec,
    Vec,
    Vec,
  ];
  if (!(distance(p, q) > REPAIR_MM)) return null;
  const side = unit(sub(q, p));
  const corner = (a: Vec, b: Vec) => Math.abs(cross(side, unit(sub(b, a)))) >= SIN_LEAST;
  return corner(p, second) && corner(q, before) ? { path, from: q, to: p } : null;
};

/** Does any other linework reach the point? */
const isMet = (p: Vec, own: string, segments: readonly Segment[]): boolean =>
  segments.some((s) => {
    if (s.source === own) return false;
    const d = sub(s.b, s.a);
    const size = d.x * d.x + d.y * d.y;
    const t = Math.max(0, Math.min(1, ((p.x - s.a.x) * d.x + (p.y - s.a.y) * d.y) / size));
    return distance(p, { x: s.a.x + d.x * t, y: s.a.y + d.y * t }) <= REPAIR_MM;
  });

/** The paths with outlines closed whose missing side is plainly a face, and what was closed. */
export const closeOutlines = (
  paths: readonly DrawingPath[],
  frame: LocalFrame,
): { readonly paths: readonly DrawingPath[]; readonly findings: readonly Finding[] } => {
  const nothing = { paths, findings: [] };
  const candidates = paths.flatMap((p) => openOf(p, frame) ?? []);
  if (candidates.length === 0) return nothing;
  const { segments } = collectSegments(paths, frame, null);
  if (segments.length + candidates.length > LINES_MOST) return nothing;
  const open = candidates.filter(
    (c) => !isMet(c.from, c.path.source, segments) && !isMet(c.to, c.path.source, segments),
  );
  const sides = open.map((c): Segment => ({ a: c.from, b: c.to, source: c.path.source, layer: c.path.layer }));
  const set = buildLines([...segments, ...sides]);
  const strips = buildStrips(set, buildStations(set) ?? []).filter(
    (s) => isWallThickness(s.thicknessMm) && s.thicknessMm <= USUAL_MOST_MM,
  );
  const closed = open.filter((_, i) => {
    const line = set.lines.findIndex((l) => l.pieces.some((x) => x.segment === sides[i]));
    if (line < 0) return false;
    const own = set.lines[line]!.pieces.find((x) => x.segment === sides[i])!;
    const beside = strips
      .filter((s) => s.low === line || s.high === line)
      .map((s) => ({ a: Math.max(s.a, own.a), b: Math.min(s.b, own.b) }))
      .filter((s) => s.b > s.a);
    return totalLength(union(beside)) >= PARTNER_SHARE * (own.b - own.a);
  });
  const findings = closed
    .map(({ path, from, to }) => {
      const at = toDrawingMm(frame, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 });
      const text = `An outline on layer ${path.layer} is not closed: its ends are ${plainNumber(distance(from, to), 0)} mm apart.`;
      return finding('trace.outline-closed', text, {
        at: [at.x, at.y, 0],
        subject: path.source,
        assumed: 'a straight face runs from end to end',
      });
    })
    .sort((p, q) => compareText(p.subject, q.subject));
  const which = new Set(closed.map((c) => c.path));
  return { paths: paths.map((p) => (which.has(p) ? { ...p, closed: true } : p)), findings };
};

/** Sheets that are read turned: texts say how a reader turns the drawing, and below and beside are meant as the reader sees them. */

import type { Vec } from '../../ground/plane.js';
import type { Drawing, DrawingPath, DrawingText } from '../../ground/vocabulary.js';
import { readTitle } from './titles.js';

/** Cosine and sine of the angle by which the reader's axes are turned. */
export interface Turn {
  readonly cos: number;
  readonly sin: number;
}

const STRAIGHT: Turn = { cos: 1, sin: 0 };
/** Directions of texts are told apart by this angle, 1 degree. */
const STEP_RAD = Math.PI / 180;

/** The direction in which most titles are written; without titles, along x. */
export const turnOf = (texts: readonly DrawingText[]): Turn => {
  const counts = new Map<number, number>();
  for (const t of texts) {
    if (!readTitle(t.text) || !Number.isFinite(t.rotationRad)) continue;
    const step = ((Math.round(t.rotationRad / STEP_RAD) % 360) + 360) % 360;
    counts.set(step, (counts.get(step) ?? 0) + 1);
  }
  const best = [...counts].sort((p, q) => q[1] - p[1] || p[0] - q[0])[0];
  if (!best || best[0] === 0) return STRAIGHT;
  const angle = best[0] * STEP_RAD;
  return { cos: Math.cos(angle), sin: Math.sin(angle) };
};

/** A place in the reader's axes. */
export const asRead = (p: Vec, { cos, sin }: Turn): Vec => ({ x: p.x * cos + p.y * sin, y: p.y * cos - p.x * sin });

/** The drawing in the reader's axes, and the way back from its paths. */
export const turnedDrawing = (
  drawing: Drawing,
  paths: readonly DrawingPath[],
  turn: Turn,
): { drawing: Drawing; paths: readonly DrawingPath[]; original: (path: DrawingPath) => DrawingPath } => {
  if (turn.sin === 0 && turn.cos === 1) return { drawing, paths, original: (path) => path };
  const back = new Map<DrawingPath, DrawingPath>();
  const turned = paths.map((p) => {
    const copy = { ...p, vertices: p.vertices.map((v) => ({ ...asRead(v, turn), bulge: v.bulge })) };
    back.set(copy, p);
    return copy;
  });
  return {
    drawing: {
      ...drawing,
      texts: drawing.texts.map((t) => ({ ...t, at: asRead(t.at, turn) })),
      dimensions: drawing.dimensions.map((d) => ({ ...d, from: asRead(d.from, turn), to: asRead(d.to, turn) })),
    },
    paths: turned,
    original: (path) => back.get(path)!,
  };
};

/** Are two views drawn of the same building: one storey and the next, or the same plan twice? */

import type { DrawingPath } from '../../ground/vocabulary.js';
import type { LayerKind } from '../layers.js';
import { boxOfPath, EMPTY, joined, sizeOf } from './boxes.js';
import type { View } from './find.js';

/** *Practice, no source*: how nearly sizes and places agree, as a share of the size; how much of the linework does. */
const SIZE_WITHIN = 0.03;
const PLACE_WITHIN = 0.01;
const LINE_LEAST = 0.05;
const COPY_SHARE = 0.4;
const TWIN_SHARE = 0.97;
const LINES_MOST = 4000;

interface Piece {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly length: number;
}

/** What views are compared by. */
export interface Layout {
  readonly pieces: readonly Piece[];
  readonly width: number;
  readonly depth: number;
}

/** The long straight lines of a view from its own lower left corner, as shares of its size, the longest first. */
export const layoutOf = (view: View, kindOf: (layer: string) => LayerKind): Layout => {
  const telling = (p: DrawingPath): boolean => {
    const kind = kindOf(p.layer);
    // Footings reach beyond the walls, and only one of the two plans has them.
    return (
      p.fill === null && kind !== 'other' && kind !== 'footing' && (view.evidence.named === 0 || kind !== 'silent')
    );
  };
  const paths = view.paths.filter(telling);
  const box = paths.reduce((b, p) => joined(b, boxOfPath(p)), EMPTY);
  const size = sizeOf(box);
  const pieces: Piece[] = [];
  for (const p of paths) {
    const edges = p.closed ? p.vertices.length : p.vertices.length - 1;
    for (let i = 0; i < edges && size > 0; i++) {
      const q = p.vertices[i]!;
      const r = p.vertices[(i + 1) % p.vertices.length]!;
      const [a, b] = q.x < r.x || (q.x === r.x && q.y < r.y) ? [q, r] : [r, q];
      const length = Math.hypot(b.x - a.x, b.y - a.y) / size;
      if (!(length >= LINE_LEAST)) continue;
      const place = (v: number, from: number) => (v - from) / size;
      pieces.push({
        x0: place(a.x, box.x0),
        y0: place(a.y, box.y0),
        x1: place(b.x, box.x0),
        y1: place(b.y, box.y0),
        length,
      });
    }
  }
  pieces.sort((p, q) => q.length - p.length || p.x0 - q.x0 || p.y0 - q.y0);
  return { pieces: pieces.slice(0, LINES_MOST), width: box.x1 - box.x0, depth: box.y1 - box.y0 };
};

const shareFound = (of: readonly Piece[], among: readonly Piece[]): number => {
  const cell = (v: number) => Math.floor(v / PLACE_WITHIN);
  const at = new Map<string, Piece[]>();
  for (const p of among) {
    const key = `${cell(p.x0)} ${cell(p.y0)}`;
    const list = at.get(key);
    if (list) list.push(p);
    else at.set(key, [p]);
  }
  const near = (a: number, b: number) => Math.abs(a - b) <= PLACE_WITHIN;
  let found = 0;
  let all = 0;
  for (const p of of) {
    all += p.length;
    const [i, j] = [cell(p.x0), cell(p.y0)];
    const same = [-1, 0, 1].some((di) =>
      [-1, 0, 1].some((dj) =>
        (at.get(`${i + di} ${j + dj}`) ?? []).some(
          (q) => near(p.x0, q.x0) && near(p.y0, q.y0) && near(p.x1, q.x1) && near(p.y1, q.y1),
        ),
      ),
    );
    if (same) found += p.length;
  }
  return all > 0 ? found / all : 0;
};

/**
 * 'twin': the same drawing twice, line for line, as of two equal houses. 'copy': the same outline with other contents, as of two storeys
 * of one house. null: neither.
 */
export const likeness = (a: Layout, b: Layout): 'twin' | 'copy' | null => {
  const close = (x: number, y: number) => Math.abs(x - y) <= SIZE_WITHIN * Math.max(x, y);
  if (a.pieces.length < 4 || b.pieces.length < 4 || !close(a.width, b.width) || !close(a.depth, b.depth)) return null;
  const shares = [shareFound(a.pieces, b.pieces), shareFound(b.pieces, a.pieces)];
  if (Math.min(...shares) >= TWIN_SHARE) return 'twin';
  return Math.max(...shares) >= COPY_SHARE ? 'copy' : null;
};

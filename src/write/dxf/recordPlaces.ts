/** From the coordinates in which a record is written to those of the world or of what it stands in. */

import { direction } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import type { TagBlock, TagDocument, TagRecord } from '../../ground/tags.js';
import { viewRecord, WORLD_TYPES } from './recordPoints.js';

type Vec3 = readonly [number, number, number];

const crossProduct = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

const unitVector = (a: Vec3): Vec3 => {
  const l = Math.hypot(...a);
  return l === 0 ? [0, 0, 1] : [a[0] / l, a[1] / l, a[2] / l];
};

/** From an entity's own coordinates to the world's plan: the arbitrary axis algorithm of the DXF reference. */
export const toWorld = (document: TagDocument, record: TagRecord): ((p: Vec) => Vec) => {
  if (WORLD_TYPES.has(record.type)) return (p) => p;
  const r = viewRecord(document, record);
  const n = unitVector([r.number(210, 0), r.number(220, 0), r.number(230, 1)]);
  if (n[0] === 0 && n[1] === 0 && n[2] === 1) return (p) => p;
  const near = Math.abs(n[0]) < 1 / 64 && Math.abs(n[1]) < 1 / 64;
  const x = unitVector(crossProduct(near ? [0, 1, 0] : [0, 0, 1], n));
  const y = crossProduct(n, x);
  const z = r.number(38, r.number(30, 0));
  return (p) => ({ x: p.x * x[0] + p.y * y[0] + z * n[0], y: p.x * x[1] + p.y * y[1] + z * n[1] });
};

/** Where an INSERT puts points of its block, in the coordinates of the INSERT, moved by a column and a row; null where it stands nowhere. */
export const insertPlace = (
  document: TagDocument,
  record: TagRecord,
  block: TagBlock,
): ((p: Vec, dx?: number, dy?: number) => Vec) | null => {
  const r = viewRecord(document, record);
  const at = r.points(10)[0];
  if (!at) return null;
  const base = viewRecord(document, block.head).points(10)[0] ?? { x: 0, y: 0 };
  const x = direction(r.number(50, 0));
  const [sx, sy] = [r.number(41, 1), r.number(42, 1)];
  return (p, dx = 0, dy = 0) => {
    const px = (p.x - base.x) * sx + dx;
    const py = (p.y - base.y) * sy + dy;
    return { x: at.x + x.x * px - x.y * py, y: at.y + x.y * px + x.x * py };
  };
};

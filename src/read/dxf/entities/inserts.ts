/** INSERT as items: where the block stands, and copies of an array. */

import type { Fields } from '../fields.js';
import type { InsertItem, Named } from '../items.js';
import { compose, directionAt, turn } from '../matrix.js';

/** Copies of an array are at most what a 16-bit count can state. */
const copies = (fields: Fields, code: number): number => {
  const n = Math.trunc(fields.number(code, 1));
  return n >= 1 && n <= 32767 ? n : 1;
};

/** What an insert has besides its own groups. */
export type InsertParts = Pick<InsertItem, 'lineType' | 'clip' | 'texts' | 'attributes'>;

export const readInsert = (fields: Fields, item: Named, parts: InsertParts): InsertItem => {
  const block = fields.name(2);
  if (block === null) fields.bad = true;
  const along = directionAt(fields.number(50, 0));
  const { x: c, y: s } = along;
  const sx = fields.number(41, 1);
  const sy = fields.number(42, 1);
  const frame = fields.frame();
  const place = compose(frame, {
    ax: { x: c * sx, y: s * sx, z: 0 },
    ay: { x: -s * sy, y: c * sy, z: 0 },
    az: { x: 0, y: 0, z: fields.number(43, 1) },
    origin: fields.point(10),
  });
  const columnSpace = fields.number(44, 0);
  const rowSpace = fields.number(45, 0);
  return {
    name: item.name,
    layer: item.layer,
    lineType: parts.lineType,
    clip: parts.clip,
    texts: parts.texts,
    attributes: parts.attributes,
    block: block ?? '',
    place,
    along: turn(frame, along),
    columns: copies(fields, 70),
    rows: copies(fields, 71),
    columnStep: turn(frame, { x: c * columnSpace, y: s * columnSpace, z: 0 }),
    rowStep: turn(frame, { x: -s * rowSpace, y: c * rowSpace, z: 0 }),
  };
};

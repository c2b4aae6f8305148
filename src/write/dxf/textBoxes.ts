/** Where the architect's texts stand, so that no label of ours is set over one. */

import type { Vec } from '../../ground/plane.js';
import { nameOf, type TagBlock, type TagDocument, type TagRecord } from '../../ground/tags.js';
import { type Bounds, EMPTY, include, isEmpty } from './bounds.js';
import { insertPlace, toWorld } from './recordPlaces.js';
import { spanOf } from './recordPoints.js';

const TEXT_TYPES = new Set(['TEXT', 'MTEXT', 'ATTRIB']);
/** Blocks within blocks that are looked into, and boxes that are kept: enough for a bound reference, an end for what multiplies. */
const DEEPEST = 8;
const BOXES_MOST = 5_000;
/** Records that are looked at in all. */
const LOOKS_MOST = 500_000;

/** Boxes of the texts among these records, in the blocks that their dimensions draw themselves with, and in inserted blocks (of arrays the first). `mostFar`: what lies beyond is damage. */
export const textBoxes = (
  document: TagDocument,
  records: readonly TagRecord[],
  blocks: readonly TagBlock[],
  mostFar: number,
): Bounds[] => {
  const byName = new Map([...blocks].reverse().map((b) => [b.name.toUpperCase(), b]));
  const found: Bounds[] = [];
  let looks = 0;
  const walk = (list: readonly TagRecord[], place: (p: Vec) => Vec, depth: number): void => {
    for (const record of list) {
      if (found.length >= BOXES_MOST || ++looks > LOOKS_MOST) return;
      if (TEXT_TYPES.has(record.type)) {
        const box = spanOf(document, record).map(toWorld(document, record)).map(place).reduce(include, EMPTY);
        const isNear = Math.max(...[box.minX, box.minY, box.maxX, box.maxY].map(Math.abs)) < mostFar;
        if (!isEmpty(box) && isNear) found.push(box);
      } else if ((record.type === 'DIMENSION' || record.type === 'INSERT') && depth < DEEPEST) {
        const block = byName.get(nameOf(document, record)?.toUpperCase() ?? '');
        if (!block) continue;
        if (record.type === 'DIMENSION') walk(block.entities, place, depth + 1);
        else {
          const own = insertPlace(document, record, block);
          const world = toWorld(document, record);
          if (own) walk(block.entities, (p) => place(world(own(p))), depth + 1);
        }
      }
    }
  };
  walk(records, (p) => p, 0);
  return found;
};

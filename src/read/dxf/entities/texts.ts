/** TEXT, MTEXT and ATTRIB, and dimensions with what is written on them. */

import { plainMText, plainText } from '../../../ground/tags.js';
import type { Fields } from '../fields.js';
import type { DimensionItem, Named, TextItem } from '../items.js';
import { apply, directionAt, type Point3, turn } from '../matrix.js';

/** Justified texts (72, 73) stand at their second point, but for 'aligned' and 'fit' (72 = 3, 5), which run from the first to the second. */
export const readText = (fields: Fields, item: Named, text = plainText(fields.text(1) ?? '')): TextItem | null => {
  const across = fields.flags(72);
  const justified = (across !== 0 || fields.flags(73) !== 0 || fields.flags(74) !== 0) && across !== 3 && across !== 5;
  const code = justified && fields.has(11) ? 11 : 10;
  const frame = fields.frame();
  const along = directionAt(fields.number(50, 0));
  if (text.trim() === '') return null;
  return {
    name: item.name,
    layer: item.layer,
    at: apply(frame, fields.point(code)),
    along: turn(frame, along),
    up: turn(frame, { x: -along.y, y: along.x, z: 0 }),
    height: fields.number(40, 0),
    text,
  };
};

/** What an attribute says: all its lines, where it has several; its own group 1 holds the first alone. */
export const attributeText = (fields: Fields, embedded: Fields | null): string => {
  const lines = embedded === null ? '' : plainMText(embedded.joined([3, 1])).trim();
  return lines === '' ? plainText(fields.text(1) ?? '') : lines;
};

/** Where a text runs along this direction in a plane with this normal: both directions with length 1. */
export const running = (along: Point3, normal: Point3): Pick<TextItem, 'along' | 'up'> => {
  const size = Math.hypot(along.x, along.y, along.z) || 1;
  const { x, y, z } = { x: along.x / size, y: along.y / size, z: along.z / size };
  const n = normal;
  return { along: { x, y, z }, up: { x: n.y * z - n.z * y, y: n.z * x - n.x * z, z: n.x * y - n.y * x } };
};

/** MTEXT runs along its direction vector (11) or at its angle (50), whichever comes last. Its place is in world coordinates. */
export const readMText = (fields: Fields, item: Named): TextItem | null => {
  const frame = fields.frame();
  let along = turn(frame, directionAt(fields.number(50, 0)));
  const lastOf = (code: number): number => fields.tags.findLastIndex((tag) => tag.code === code);
  if (lastOf(11) > lastOf(50)) along = fields.point(11);
  const text = plainMText(fields.joined([3, 1])).trim();
  if (text === '') return null;
  return { ...item, at: fields.point(10), ...running(along, frame.az), height: fields.number(40, 0), text };
};

/**
 * Kinds of dimension (70, low bits): 0 rotated, 1 aligned; null for the others, which measure angles, radii and ordinates. `textInBlock` gives what is
 * written in the dimension's block; `textHeight`: how high.
 */
export const readDimension = (
  fields: Fields,
  item: Named,
  textInBlock: (block: string) => string | null,
  textHeight: number | null,
): DimensionItem | null => {
  const kind = fields.flags(70) & 7;
  if (kind > 1) return null;
  const along = kind === 0 ? turn(fields.frame(), directionAt(fields.number(50, 0))) : null;
  const own = fields.text(1) ?? '';
  const block = fields.name(2);
  const seen = own.trim() !== '' && !own.includes('<>') ? plainMText(own).trim() : null;
  // A single blank is how a dimension hides its text.
  const hides = own !== '' && own.trim() === '';
  const text = seen ?? (hides || block === null ? null : textInBlock(block));
  return { ...item, from: fields.point(13), to: fields.point(14), along, text, textHeight };
};

/** Boundaries to which inserts are clipped (SPATIAL_FILTER), by the insert that they belong to. */

import type { Vec } from '../../ground/plane.js';
import {
  firstTag,
  handleOf,
  integerOf,
  numberOf,
  type TagDocument,
  type TagRecord,
  type TagStructure,
} from '../../ground/tags.js';
import { isSimple } from './clip.js';
import { apply, type Matrix } from './matrix.js';

export interface Clips {
  /** Boundaries in the block's coordinates, by the start of the insert's record. */
  readonly byInsert: ReadonlyMap<number, readonly Vec[]>;
  /** How many filters are switched on and could not be used. */
  readonly unused: number;
}

const NONE: Clips = { byInsert: new Map(), unused: 0 };

/** Handle of the extension dictionary: group 360 in the braces {ACAD_XDICTIONARY of group 102. */
const extensionOf = ({ tags }: TagDocument, record: TagRecord): string | null => {
  let inside = false;
  for (let at = record.start + 1; at < record.end; at++) {
    const { code, value } = tags[at]!;
    if (code === 102) inside = value.trim() === '{ACAD_XDICTIONARY';
    else if (inside && code === 360) return handleOf(value);
  }
  return null;
};

/** The object that a dictionary holds under this name: the handle (350, 360) that follows the name (3). */
const entryOf = ({ tags }: TagDocument, dictionary: TagRecord, name: string): string | null => {
  let found = false;
  for (let at = dictionary.start + 1; at < dictionary.end; at++) {
    const { code, value } = tags[at]!;
    if (code === 3) found = value.trim().toUpperCase() === name;
    else if (found && (code === 350 || code === 360)) return handleOf(value);
  }
  return null;
};

const numbers = ({ tags }: TagDocument, record: TagRecord, wanted: number): number[] => {
  const found: number[] = [];
  for (let at = record.start + 1; at < record.end; at++) {
    const { code, value } = tags[at]!;
    if (code === wanted) found.push(numberOf(value) ?? Number.NaN);
  }
  return found;
};

/** Three rows of four, the last of each the shift. */
const matrixOf = (v: readonly number[]): Matrix => ({
  ax: { x: v[0]!, y: v[4]!, z: v[8]! },
  ay: { x: v[1]!, y: v[5]!, z: v[9]! },
  az: { x: v[2]!, y: v[6]!, z: v[10]! },
  origin: { x: v[3]!, y: v[7]!, z: v[11]! },
});

const IDENTITY_ROWS = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

/**
 * The boundary in the coordinates of the block, or null where this program cannot tell it: in another plane than the drawing's or in a system of its own,
 * with limits of height, or not a simple polygon. Its points (10) are in the world as it was when the insert was clipped; the first of two matrices
 * (40, 24 numbers, the last) leads from there into the block. Two points are corners of a rectangle. Source: DXF reference, SPATIAL_FILTER.
 */
const boundaryOf = (document: TagDocument, filter: TagRecord): readonly Vec[] | null => {
  const flag = (code: number): boolean => (integerOf(firstTag(document, filter, code)?.value) ?? 0) !== 0;
  if (flag(72) || flag(73)) return null;
  const normal = [210, 220, 230].map((code) => numberOf(firstTag(document, filter, code)?.value));
  if ((normal[0] ?? 0) !== 0 || (normal[1] ?? 0) !== 0 || !((normal[2] ?? 1) > 0)) return null;
  const rows = numbers(document, filter, 40).slice(-24);
  if (rows.length < 24 || !rows.every(Number.isFinite)) return null;
  if (rows.slice(12).some((n, i) => Math.abs(n - IDENTITY_ROWS[i]!) > 1e-9)) return null;
  const xs = numbers(document, filter, 10);
  const ys = numbers(document, filter, 20);
  if (xs.length !== ys.length || ![...xs, ...ys].every(Number.isFinite)) return null;
  let corners: Vec[] = xs.map((x, i) => ({ x, y: ys[i]! }));
  const [a, b] = corners;
  if (a && b && corners.length === 2) corners = [a, { x: b.x, y: a.y }, b, { x: a.x, y: b.y }];
  const last = corners[corners.length - 1];
  if (last && corners.length > 3 && last.x === corners[0]!.x && last.y === corners[0]!.y) corners.pop();
  const inverse = matrixOf(rows);
  const inBlock = corners.map(({ x, y }) => apply(inverse, { x, y, z: 0 }));
  return isSimple(inBlock) ? inBlock.map(({ x, y }) => ({ x, y })) : null;
};

/** Filters are used where their flag (71) is set. */
const isSwitchedOn = (document: TagDocument, filter: TagRecord): boolean =>
  (integerOf(firstTag(document, filter, 71)?.value) ?? 1) !== 0;

/**
 * Filters of inserts: extension dictionary → ACAD_FILTER → SPATIAL. One that has an extension dictionary of its own may be turned inside out, which is
 * written there; it is not used.
 */
export const clipsOf = (document: TagDocument, { objects }: TagStructure, inserts: Iterable<TagRecord>): Clips => {
  const filters = new Set(objects.filter((o) => o.type === 'SPATIAL_FILTER' && isSwitchedOn(document, o)));
  if (filters.size === 0) return NONE;
  const byHandle = new Map<string, TagRecord>();
  for (const record of objects) {
    if (record.type !== 'DICTIONARY' && record.type !== 'SPATIAL_FILTER') continue;
    if (record.handle !== null && !byHandle.has(record.handle)) byHandle.set(record.handle, record);
  }
  const follow = (from: TagRecord | undefined, name: string): TagRecord | undefined =>
    from && byHandle.get(entryOf(document, from, name) ?? '');
  // Many inserts of a faulty file may share one dictionary, which is looked through once.
  const filterIn = new Map<string, TagRecord | undefined>();
  const filterOf = (insert: TagRecord): TagRecord | undefined => {
    const handle = extensionOf(document, insert);
    if (handle === null) return undefined;
    if (!filterIn.has(handle)) filterIn.set(handle, follow(follow(byHandle.get(handle), 'ACAD_FILTER'), 'SPATIAL'));
    return filterIn.get(handle);
  };
  const byInsert = new Map<number, readonly Vec[]>();
  const used = new Set<TagRecord>();
  const known = new Map<TagRecord, readonly Vec[] | null>();
  for (const insert of inserts) {
    const filter = filterOf(insert);
    if (!filter || !filters.has(filter)) continue;
    let boundary = known.get(filter);
    if (boundary === undefined) {
      boundary = extensionOf(document, filter) === null ? boundaryOf(document, filter) : null;
      known.set(filter, boundary);
    }
    if (boundary === null) continue;
    byInsert.set(insert.start, boundary);
    used.add(filter);
  }
  return { byInsert, unused: filters.size - used.size };
};

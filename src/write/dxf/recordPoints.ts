/** The points that span one entity of the drawing, from its raw tags: exact for linework, estimated from above for texts. Group codes: DXF reference. */

import { direction } from '../../ground/places.js';
import { add, leftOf, scale, type Vec } from '../../ground/plane.js';
import { integerOf, numberOf, type TagDocument, type TagRecord } from '../../ground/tags.js';
import { LETTER_WIDTH, wrapped } from './mtextLines.js';

export interface RecordView {
  readonly type: string;
  /** First number of a group code, or what stands for it. */
  readonly number: (code: number, otherwise: number) => number;
  readonly integer: (code: number, otherwise: number) => number;
  /** All points of a code (10: 10 and 20), in their order. */
  readonly points: (code: number) => Vec[];
  /** Of a text, with its codes of form, all parts of it. */
  readonly text: () => string;
}

/** Reads the record's own tags once; XDATA is not looked at. */
export const viewRecord = (document: TagDocument, record: TagRecord): RecordView => {
  const { tags } = document;
  const at: number[] = [];
  for (let i = record.start + 1; i < record.end && tags[i]!.code !== 1001; i++) at.push(i);
  const value = (code: number): string | undefined => {
    const i = at.find((k) => tags[k]!.code === code);
    return i === undefined ? undefined : tags[i]!.value;
  };
  return {
    type: record.type,
    number: (code, otherwise) => numberOf(value(code)) ?? otherwise,
    integer: (code, otherwise) => integerOf(value(code)) ?? otherwise,
    points: (code) => {
      const found: Vec[] = [];
      let x: number | null = null;
      for (const i of at) {
        const tag = tags[i]!;
        if (tag.code === code) x = numberOf(tag.value);
        else if (tag.code === code + 10 && x !== null) {
          const y = numberOf(tag.value);
          if (y !== null) found.push({ x, y });
          x = null;
        }
      }
      return found;
    },
    text: () => at.map((i) => (tags[i]!.code === 1 || tags[i]!.code === 3 ? tags[i]!.value : '')).join(''),
  };
};

const round = (centre: Vec, radius: number): Vec[] => [
  { x: centre.x - radius, y: centre.y - radius },
  { x: centre.x + radius, y: centre.y + radius },
];

/** Corners of a box from (x0, y0) to (x1, y1) in axes turned by `deg` about `at`. */
const turned = (at: Vec, deg: number, x0: number, y0: number, x1: number, y1: number): Vec[] => {
  const x = direction(deg);
  const corner = (dx: number, dy: number): Vec => add(at, add(scale(x, dx), scale(leftOf(x), dy)));
  return [corner(x0, y0), corner(x1, y0), corner(x1, y1), corner(x0, y1)];
};

/** How far letters reach below their baseline, in their heights. */
const DESCENT = 0.4;
/** Group 72 of texts that are set between two points. */
const BETWEEN = [3, 5];

/** The box of a line of text about its point of insertion or, where it is justified, of alignment (DXF reference: TEXT groups 72 and 73; of attributes 74). */
const textPoints = (r: RecordView): Vec[] => {
  const height = Math.abs(r.number(40, 0));
  const width = r.text().length * height * Math.abs(r.number(41, 1));
  const [across, upright] = [r.integer(72, 0), r.integer(r.type === 'TEXT' ? 73 : 74, 0)];
  const isJustified = across !== 0 || upright !== 0;
  const [first, second] = [r.points(10)[0], isJustified ? r.points(11)[0] : undefined];
  if (BETWEEN.includes(across) && first && second) {
    const [dx, dy] = [second.x - first.x, second.y - first.y];
    return turned(first, (Math.atan2(dy, dx) * 180) / Math.PI, 0, -DESCENT * height, Math.hypot(dx, dy), height);
  }
  const anchor = second ?? first;
  if (!anchor) return [];
  const left = second === undefined || across === 0 ? 0 : across === 2 ? -width : -width / 2;
  const whole = (1 + DESCENT) * height;
  // 'Middle' across is the middle of the whole line, upright that of its capitals.
  const foot =
    across === 4 ? -whole / 2 : upright === 2 ? -(0.5 + DESCENT) * height : upright === 3 ? -whole : -DESCENT * height;
  return turned(anchor, r.number(50, 0), left, foot, left + width, foot + whole);
};

/** Between baselines of a multiline text of spacing 1, in heights of its letters. */
const LINE_PITCH = 5 / 3;

const mtextPoints = (r: RecordView): Vec[] => {
  const at = r.points(10)[0];
  if (!at) return [];
  const letters = Math.abs(r.number(40, 0));
  const most = Math.abs(r.number(41, 0));
  const { lines, longest } = wrapped(r.text(), most / (LETTER_WIDTH * letters || 1));
  const width = Math.abs(r.number(42, most || longest * LETTER_WIDTH * letters));
  const pitch = LINE_PITCH * Math.abs(r.number(44, 1)) * letters;
  const height = Math.max(Math.abs(r.number(43, 0)) || (lines - 1) * pitch + letters, letters);
  const axis = r.points(11)[0];
  const deg = axis ? (Math.atan2(axis.y, axis.x) * 180) / Math.PI : r.number(50, 0);
  const place = r.integer(71, 1) - 1;
  const left = [0, -width / 2, -width][place % 3] ?? -width;
  const foot = [-height, -height / 2, 0][Math.floor(place / 3)] ?? -height;
  return turned(at, deg, left, foot, left + width, foot + height);
};

/** Vertices, and for arcs a round box over each chord: the arc's sagitta is |bulge| times half of the chord. */
const polylinePoints = (r: RecordView, document: TagDocument, record: TagRecord): Vec[] => {
  const points = r.points(10);
  let bulge = 0;
  for (let i = record.start; i < record.end; i++) {
    const tag = document.tags[i]!;
    if (tag.code === 42) bulge = Math.max(bulge, Math.abs(numberOf(tag.value) ?? 0));
  }
  if (bulge === 0) return points;
  return points.flatMap((p, i) => {
    const q = points[(i + 1) % points.length]!;
    const chord = Math.hypot(q.x - p.x, q.y - p.y);
    return [p, ...round({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }, (chord / 2) * Math.max(1, bulge))];
  });
};

/** Corners of an image: its insertion point, the vectors of one pixel and its size in pixels. */
const imagePoints = (r: RecordView): Vec[] => {
  const [p, u, v, size] = [10, 11, 12, 13].map((code) => r.points(code)[0]);
  if (!p || !u || !v || !size) return [];
  const [a, b] = [scale(u, size.x), scale(v, size.y)];
  return [p, add(p, a), add(p, b), add(p, add(a, b))];
};

/** Entities whose coordinates are those of the world, whatever their extrusion says. */
export const WORLD_TYPES = new Set([
  ...[
    'LINE',
    'POINT',
    '3DFACE',
    'SPLINE',
    'ELLIPSE',
    'MTEXT',
    'RAY',
    'XLINE',
    'LEADER',
    'MLINE',
    'IMAGE',
    'WIPEOUT',
    '3DSOLID',
  ],
]);

const CODES: Readonly<Record<string, readonly number[]>> = {
  LINE: [10, 11],
  '3DFACE': [10, 11, 12, 13],
  SOLID: [10, 11, 12, 13],
  TRACE: [10, 11, 12, 13],
  SPLINE: [10, 11],
  MLINE: [10, 11],
  MULTILEADER: [10, 12],
};

/** Points that span the entity in its own coordinate system. Of an insert: none; blocks are another matter. */
export const spanOf = (document: TagDocument, record: TagRecord): Vec[] => {
  const r = viewRecord(document, record);
  switch (r.type) {
    case 'VIEWPORT':
    case 'INSERT':
    case 'DIMENSION':
    case 'ACAD_TABLE':
      return [];
    case 'CIRCLE':
    case 'ARC':
      return r.points(10).flatMap((p) => round(p, Math.abs(r.number(40, 0))));
    case 'ELLIPSE': {
      const axis = r.points(11)[0] ?? { x: 0, y: 0 };
      return r.points(10).flatMap((p) => round(p, Math.hypot(axis.x, axis.y)));
    }
    case 'TEXT':
    case 'ATTRIB':
    case 'ATTDEF':
      return textPoints(r);
    case 'MTEXT':
      return mtextPoints(r);
    case 'LWPOLYLINE':
      return polylinePoints(r, document, record);
    case 'VERTEX':
      return (r.integer(70, 0) & 192) === 128 ? [] : r.points(10);
    case 'POLYLINE':
    case 'SEQEND':
      return [];
    case 'HATCH':
      // The first point is the elevation, not a place.
      return [...r.points(10).slice(1), ...r.points(11)];
    case 'IMAGE':
    case 'WIPEOUT':
      return imagePoints(r);
    default:
      return (CODES[r.type] ?? [10]).flatMap((code) => r.points(code));
  }
};

/** Bounds of what the architect drew in model space, so that nothing of ours is put over it. */

import { direction } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import { nameOf, structureOf, type TagBlock, type TagDocument, type TagRecord } from '../../ground/tags.js';
import { type Bounds, EMPTY, include, isEmpty, union } from './bounds.js';
import { spanOf, viewRecord, WORLD_TYPES } from './recordPoints.js';

/** Coordinates beyond this (drawing units) are taken for damage, not for a place. *Practice, no source.* */
const FAR = 1e10;
const DEEPEST = 64;

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
const toWorld = (document: TagDocument, record: TagRecord): ((p: Vec) => Vec) => {
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

const corners = (b: Bounds): Vec[] => [
  { x: b.minX, y: b.minY },
  { x: b.maxX, y: b.minY },
  { x: b.maxX, y: b.maxY },
  { x: b.minX, y: b.maxY },
];

class Extents {
  /** Points left out because no drawing is that large. */
  far = 0;
  private readonly blocks: ReadonlyMap<string, TagBlock>;
  private readonly known = new Map<string, Bounds>();

  constructor(
    private readonly document: TagDocument,
    blocks: readonly TagBlock[],
  ) {
    this.blocks = new Map([...blocks].reverse().map((b) => [b.name.toUpperCase(), b]));
  }

  private block(name: string, depth: number): Bounds {
    const known = this.known.get(name);
    if (known) return known;
    const block = this.blocks.get(name);
    if (!block || depth > DEEPEST) return EMPTY;
    this.known.set(name, EMPTY);
    const bounds = this.of(block.entities, depth + 1);
    this.known.set(name, bounds);
    return bounds;
  }

  /** Corners of an inserted block, rows and columns included. */
  private insert(record: TagRecord, depth: number): Vec[] {
    const name = nameOf(this.document, record)?.toUpperCase() ?? '';
    const inner = this.block(name, depth);
    const r = viewRecord(this.document, record);
    const at = r.points(10)[0];
    if (!at) return [];
    if (isEmpty(inner)) return [at];
    const block = this.blocks.get(name)!;
    const base = viewRecord(this.document, block.head).points(10)[0] ?? { x: 0, y: 0 };
    const x = direction(r.number(50, 0));
    const [sx, sy] = [r.number(41, 1), r.number(42, 1)];
    const lastColumn = (Math.max(1, r.integer(70, 1)) - 1) * r.number(44, 0);
    const lastRow = (Math.max(1, r.integer(71, 1)) - 1) * r.number(45, 0);
    return [0, lastColumn].flatMap((dx) =>
      [0, lastRow].flatMap((dy) =>
        corners(inner).map((c) => {
          const px = (c.x - base.x) * sx + dx;
          const py = (c.y - base.y) * sy + dy;
          return { x: at.x + x.x * px - x.y * py, y: at.y + x.y * px + x.x * py };
        }),
      ),
    );
  }

  private points(record: TagRecord, depth: number): Vec[] {
    switch (record.type) {
      case 'INSERT':
        return this.insert(record, depth);
      case 'DIMENSION':
      case 'ACAD_TABLE': {
        const r = viewRecord(this.document, record);
        const drawn = this.block(nameOf(this.document, record)?.toUpperCase() ?? '', depth);
        return isEmpty(drawn) ? [10, 11, 13, 14].flatMap((code) => r.points(code)) : corners(drawn);
      }
      default:
        return spanOf(this.document, record);
    }
  }

  of(records: readonly TagRecord[], depth = 0): Bounds {
    let bounds = EMPTY;
    let polyline: ((p: Vec) => Vec) | null = null;
    for (const record of records) {
      const own = toWorld(this.document, record);
      if (record.type === 'POLYLINE') polyline = own;
      const world = record.type === 'VERTEX' && polyline ? polyline : record.type === 'DIMENSION' ? same : own;
      for (const p of this.points(record, depth).map(world)) {
        if (Math.abs(p.x) < FAR && Math.abs(p.y) < FAR) bounds = include(bounds, p);
        else this.far++;
      }
    }
    return bounds;
  }
}

const same = (p: Vec): Vec => p;

export interface DrawingExtents {
  /** Drawing units; empty where nothing stands in model space. */
  readonly bounds: Bounds;
  readonly farPoints: number;
  /** Boxes of the texts that stand in model space and in its dimensions (not those inside of inserted blocks), drawing units. */
  readonly texts: readonly Bounds[];
}

const TEXT_TYPES = new Set(['TEXT', 'MTEXT', 'ATTRIB']);

const boxOf = (points: readonly Vec[]): Bounds => points.reduce(include, EMPTY);

/** Boxes of the texts among these entities and in the blocks that their dimensions draw themselves with. */
const textBoxes = (document: TagDocument, records: readonly TagRecord[], blocks: readonly TagBlock[]): Bounds[] => {
  const byName = new Map(blocks.map((b) => [b.name.toUpperCase(), b]));
  const inDimension = (record: TagRecord): readonly TagRecord[] =>
    record.type === 'DIMENSION' ? (byName.get(nameOf(document, record)?.toUpperCase() ?? '')?.entities ?? []) : [];
  return records
    .flatMap((record) => [record, ...inDimension(record)])
    .filter((record) => TEXT_TYPES.has(record.type))
    .map((record) => boxOf(spanOf(document, record).map(toWorld(document, record))))
    .filter((b) => !isEmpty(b) && Math.max(...[b.minX, b.minY, b.maxX, b.maxY].map(Math.abs)) < FAR);
};

/** Bounds of the model space. Sheets (paper space) are left out; invisible layers count, since they can be shown again. */
export const drawingExtents = (document: TagDocument): DrawingExtents => {
  const structure = structureOf(document);
  const extents = new Extents(document, structure.blocks);
  const inModel = structure.entities.filter((r) => viewRecord(document, r).integer(67, 0) === 0);
  const inBlock = structure.blocks.find((b) => b.name.toUpperCase() === '*MODEL_SPACE')?.entities ?? [];
  const bounds = union(extents.of(inModel), extents.of(inBlock));
  return { bounds, farPoints: extents.far, texts: textBoxes(document, inModel, structure.blocks) };
};

/** What stands in the one paper space of a drawing before R2000: its bounds, and the highest number of its viewports (0: none). */
export const paperExtents = (document: TagDocument): { readonly bounds: Bounds; readonly highestId: number } => {
  const structure = structureOf(document);
  const onPaper = structure.entities.filter((r) => viewRecord(document, r).integer(67, 0) === 1);
  const views = onPaper.filter((r) => r.type === 'VIEWPORT').map((r) => viewRecord(document, r));
  let bounds = new Extents(document, structure.blocks).of(onPaper);
  for (const v of views) {
    const [half, high] = [Math.abs(v.number(40, 0)) / 2, Math.abs(v.number(41, 0)) / 2];
    for (const { x, y } of v.points(10)) {
      bounds = include(include(bounds, { x: x - half, y: y - high }), { x: x + half, y: y + high });
    }
  }
  return { bounds, highestId: Math.max(0, ...views.map((v) => v.integer(69, 0))) };
};

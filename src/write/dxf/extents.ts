/** Bounds of what the architect drew in model space, so that nothing of ours is put over it. */

import type { Vec } from '../../ground/plane.js';
import { nameOf, structureOf, type TagBlock, type TagDocument, type TagRecord } from '../../ground/tags.js';
import { type Bounds, EMPTY, include, isEmpty, union } from './bounds.js';
import { insertPlace, toWorld } from './recordPlaces.js';
import { spanOf, viewRecord } from './recordPoints.js';
import { textBoxes } from './textBoxes.js';

/** Coordinates beyond this (drawing units) are taken for damage, not for a place. *Practice, no source.* */
const FAR = 1e10;
const DEEPEST = 64;

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
    const place = insertPlace(this.document, record, this.blocks.get(name)!);
    if (!place) return [];
    const lastColumn = (Math.max(1, r.integer(70, 1)) - 1) * r.number(44, 0);
    const lastRow = (Math.max(1, r.integer(71, 1)) - 1) * r.number(45, 0);
    return [0, lastColumn].flatMap((dx) => [0, lastRow].flatMap((dy) => corners(inner).map((c) => place(c, dx, dy))));
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
  /** Boxes of the texts that stand in model space, in its dimensions and in the blocks inserted there (textBoxes.ts), drawing units. */
  readonly texts: readonly Bounds[];
}

/** Bounds of the model space. Sheets (paper space) are left out; invisible layers count, since they can be shown again. */
export const drawingExtents = (document: TagDocument): DrawingExtents => {
  const structure = structureOf(document);
  const extents = new Extents(document, structure.blocks);
  const inModel = structure.entities.filter((r) => viewRecord(document, r).integer(67, 0) === 0);
  const inBlock = structure.blocks.find((b) => b.name.toUpperCase() === '*MODEL_SPACE')?.entities ?? [];
  const bounds = union(extents.of(inModel), extents.of(inBlock));
  return { bounds, farPoints: extents.far, texts: textBoxes(document, inModel, structure.blocks, FAR) };
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

/**
 * The second reader: what is about to be handed over is read by dxf-parser, which shares no line with our own tag layer, and compared entity by
 * entity with what was meant. It is only given well-formed documents of ours: it never ends on some others.
 */

import dxfParser, {
  type IBlock,
  type IDimensionEntity,
  type IDxf,
  type IEntity,
  type IInsertEntity,
  type ITextEntity,
} from 'dxf-parser';
import type { Vec } from '../../ground/plane.js';
import { encodeText, serializeTags, type Tag, type TagDocument } from '../../ground/tags.js';
import { overrideOf } from './dimension.js';
import { PATTERNS } from './hatch.js';
import { HatchHandler, type ReadHatch } from './hatchHandler.js';
import type { LayerNames } from './layers.js';
import type { BlockDefinition, PaperSheet, Shape, Sheet } from './sheet.js';

export interface Meant {
  readonly sheet: Sheet;
  readonly layers: LayerNames;
  readonly perMm: number;
  readonly version: string;
  /** The sheets as they were put in, and the blocks that hold them (none: they stand among the entities). */
  readonly papers?: { readonly papers: readonly PaperSheet[]; readonly blockNames: readonly string[] };
}

type Parser = { parseSync(source: string): IDxf | null; registerEntityHandler(handler: unknown): void };
/** The package's own types promise a default export inside; at run time the import is the class itself. */
const SecondParser = dxfParser as unknown as new () => Parser;

const NAMES: Readonly<Record<Shape['type'], readonly string[]>> = {
  line: ['LINE'],
  polyline: ['LWPOLYLINE', 'POLYLINE'],
  solid: ['SOLID'],
  hatch: ['HATCH'],
  circle: ['CIRCLE'],
  text: ['TEXT'],
  insert: ['INSERT'],
  dimension: ['DIMENSION'],
};

/** Drawing units: ten decimals are written, and readers hold doubles. */
const near = (a: number | undefined, b: number): boolean =>
  a !== undefined && Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(b));

const text = new TextDecoder();

/** A text of ours as a reader of the bytes finds it: trimmed, escapes not resolved. */
const asRead = (version: string, content: string): string => {
  const raw = encodeText({ version }, content);
  return text.decode(Uint8Array.from(raw, (c) => c.charCodeAt(0))).trim();
};

class Comparison {
  constructor(private readonly meant: Meant) {}

  private point(read: { readonly x: number; readonly y: number } | undefined, at: Vec): boolean {
    const { perMm } = this.meant;
    return near(read?.x, at.x * perMm) && near(read?.y, at.y * perMm);
  }

  private points(
    read: readonly { readonly x: number; readonly y: number }[] | undefined,
    want: readonly Vec[],
  ): boolean {
    return read?.length === want.length && want.every((v, i) => this.point(read[i], v));
  }

  private paths(read: readonly (readonly Vec[])[], want: readonly (readonly Vec[])[]): boolean {
    return read.length === want.length && want.every((path, i) => this.points(read[i], path));
  }

  private geometry(read: IEntity, shape: Shape): boolean {
    const { version, perMm } = this.meant;
    const r = read as IEntity & {
      vertices?: Vec[];
      points?: Vec[];
      center?: Vec;
      radius?: number;
      shape?: boolean;
      startPoint?: Vec;
    };
    switch (shape.type) {
      case 'line':
        return this.points(r.vertices, [shape.from, shape.to]);
      case 'polyline':
        return this.points(r.vertices, shape.vertices) && r.shape === shape.closed;
      case 'circle':
        return this.point(r.center, shape.centre) && near(r.radius, shape.radiusMm * perMm);
      case 'solid': {
        const [a, b, c, d] = shape.corners;
        return this.points(r.points, d ? [a!, b!, d, c!] : [a!, b!, c!, c!]);
      }
      case 'hatch': {
        const h = read as unknown as ReadHatch;
        const { name, lines } = PATTERNS[shape.pattern];
        const offsets = lines.map((l) => ({ x: l.offset.x * shape.spacingMm, y: l.offset.y * shape.spacingMm }));
        return h.pattern === name && this.paths(h.paths, shape.paths) && this.points(h.offsets, offsets);
      }
      case 'text': {
        const t = read as ITextEntity;
        const isPlaced = this.point(t.startPoint, shape.at) && near(t.textHeight, shape.heightMm * perMm);
        return isPlaced && t.text === asRead(version, shape.text) && near(t.rotation ?? 0, shape.rotationDeg);
      }
      case 'dimension': {
        const d = read as IDimensionEntity;
        const isNamed = d.block === shape.block && this.point(d.anchorPoint, shape.through);
        const override = overrideOf(shape, version);
        const isSaid = (d.text ?? '') === (override === null ? '' : asRead(version, override));
        return (
          isNamed && isSaid && this.points([d.linearOrAngularPoint1, d.linearOrAngularPoint2], [shape.from, shape.to])
        );
      }
      case 'insert': {
        const i = read as IInsertEntity;
        const isNamed = i.name === asRead(version, shape.block);
        return isNamed && this.point(i.position, shape.at) && near(i.rotation ?? 0, shape.rotationDeg);
      }
    }
  }

  private layerOf(shape: Shape): string {
    return shape.layer === null ? '0' : asRead(this.meant.version, this.meant.layers[shape.layer]);
  }

  /** The first difference between what was read and what was meant, or null. */
  entities(where: string, read: readonly IEntity[], meant: readonly Shape[]): string | null {
    if (read.length !== meant.length) return `${where} has ${read.length} entities where ${meant.length} were meant`;
    for (const [i, shape] of meant.entries()) {
      const entity = read[i]!;
      const name = `${where}, entity ${i + 1} (${shape.type})`;
      if (!NAMES[shape.type].includes(entity.type)) return `${name} is read as ${entity.type}`;
      if (entity.layer !== this.layerOf(shape)) return `${name} is read on layer ${entity.layer}`;
      if (!this.geometry(entity, shape)) return `${name} is read at another place or with other values`;
    }
    return null;
  }

  block(read: IBlock | undefined, meant: BlockDefinition): string | null {
    const where = `block ${meant.name}`;
    if (!read) return `${where} is not read at all`;
    const all = read.entities ?? [];
    const definitions = all.filter((e) => e.type === 'ATTDEF');
    if (definitions.length !== meant.attributes.length) return `${where} is read with ${definitions.length} attributes`;
    return this.entities(
      where,
      all.filter((e) => e.type !== 'ATTDEF'),
      meant.shapes,
    );
  }
}

const tag = (code: number, value: string): Tag => ({ code, value });

const section = (name: string, body: readonly Tag[]): Tag[] => [
  tag(0, 'SECTION'),
  tag(2, name),
  ...body,
  tag(0, 'ENDSEC'),
];

/** What was added, as a document of its own, in text form whatever the drawing is. */
export const additionsDocument = (
  document: TagDocument,
  blocks: readonly Tag[],
  entities: readonly Tag[],
): TagDocument => ({
  form: 'text',
  lineEnd: '\n',
  version: document.version,
  coding: document.coding,
  tags: [...section('BLOCKS', blocks), ...section('ENTITIES', entities), tag(0, 'EOF')],
});

/** Reads a document of ours with dxf-parser; the first difference to what was meant in one sentence, or null. */
export const readBack = (document: TagDocument, meant: Meant): string | null => {
  let read: IDxf | null;
  try {
    const parser = new SecondParser();
    parser.registerEntityHandler(HatchHandler);
    read = parser.parseSync(text.decode(serializeTags(document)));
  } catch (error) {
    return `it cannot be read: ${error instanceof Error ? error.message : String(error)}`;
  }
  if (!read) return 'nothing is read';
  const comparison = new Comparison(meant);
  const blocks = read.blocks ?? {};
  for (const definition of meant.sheet.blocks) {
    const difference = comparison.block(blocks[asRead(meant.version, definition.name)], definition);
    if (difference !== null) return difference;
  }
  const { shapes } = meant.sheet;
  const entities = seen(read.entities ?? []);
  const { papers = [], blockNames = [] } = meant.papers ?? {};
  const onPaper = new Comparison({ ...meant, perMm: 1 });
  const beside = blockNames.length === 0 ? papers.flatMap((p) => p.shapes) : [];
  const inModel = entities.length - beside.length;
  const model = comparison.entities('the model space', entities.slice(0, inModel), shapes);
  if (model !== null) return model;
  for (const [i, name] of blockNames.entries()) {
    const where = `sheet ${papers[i]!.name}`;
    const block = blocks[name];
    if (!block) return `${where} is not read at all`;
    const difference = onPaper.entities(where, seen(block.entities ?? []), papers[i]!.shapes);
    if (difference !== null) return difference;
  }
  return onPaper.entities('the paper space', entities.slice(inModel), beside);
};

/** What this reader hands over of an entity list: it knows no viewports. */
const seen = (entities: readonly IEntity[]): readonly IEntity[] => entities.filter((e) => e.type !== 'VIEWPORT');

/** The entities of the drawing or of one block as items, each read once; inserts place them afterwards. */

import { finding } from '../../ground/findings.js';
import { decodeText, firstTag, plainMText, plainText, type TagDocument, type TagRecord } from '../../ground/tags.js';
import { readHatch } from './entities/hatch.js';
import type { Outline } from './entities/outline.js';
import { isMesh, readLightPolyline, readMultiline, readPolyline } from './entities/polylines.js';
import { readArc, readCircle, readEllipse, readLine, readSolid, readSpline } from './entities/simple.js';
import { Fields } from './fields.js';
import type { EntityGroup } from './groups.js';
import type { Layers } from './layers.js';
import type { ReadLog } from './log.js';
import { apply, compose, directionAt, IDENTITY, type Matrix, type Point3, turn } from './matrix.js';

interface Item {
  readonly name: string;
  /** As the layer table spells it. */
  readonly layer: string;
}

export interface PathItem extends Item {
  readonly entity: string;
  readonly outlines: readonly Outline[];
}

export interface TextItem extends Item {
  readonly at: Point3;
  /** Direction in which the text runs, and upwards from it; lengths are 1. */
  readonly along: Point3;
  readonly up: Point3;
  readonly height: number;
  readonly text: string;
}

export interface DimensionItem extends Item {
  readonly from: Point3;
  readonly to: Point3;
  /** Direction along which it measures; null: straight from point to point. */
  readonly along: Point3 | null;
  readonly text: string | null;
}

export interface InsertItem extends Item {
  readonly block: string;
  /** From the block's coordinates, its base point at the origin, to those in which the insert stands. */
  readonly place: Matrix;
  readonly columns: number;
  readonly rows: number;
  readonly columnStep: Point3;
  readonly rowStep: Point3;
  readonly attributes: readonly TextItem[];
}

export interface Content {
  readonly paths: PathItem[];
  readonly texts: TextItem[];
  readonly dimensions: DimensionItem[];
  readonly inserts: InsertItem[];
}

export const emptyContent = (): Content => ({ paths: [], texts: [], dimensions: [], inserts: [] });

/** How many vertices may be held before anything is placed: a file of ellipses or splines holds far more of them than it has bytes. */
export class KnotBudget {
  private used = 0;

  constructor(
    private readonly most: number,
    private readonly log: ReadLog,
  ) {}

  get spent(): boolean {
    return this.used > this.most;
  }

  spend(knots: number): void {
    if (!this.spent && this.used + knots > this.most) {
      const message = `The drawing has more than ${this.most} vertices; the rest of its linework was not read.`;
      this.log.say(finding('read.too-much', message));
    }
    this.used += knots;
  }
}

/** What reading the entities needs to know of the drawing. */
export interface Surroundings {
  readonly document: TagDocument;
  readonly layers: Layers;
  readonly log: ReadLog;
  readonly budget: KnotBudget;
  nameOf(record: TagRecord): string;
  /** What is written in a block (a dimension's), as a person sees it; null where nothing is. */
  textInBlock(name: string): string | null;
}

const OUTLINES: Readonly<Record<string, (fields: Fields) => Outline[]>> = {
  LINE: readLine,
  CIRCLE: readCircle,
  ARC: readArc,
  ELLIPSE: readEllipse,
  SPLINE: readSpline,
  SOLID: readSolid,
  TRACE: readSolid,
  LWPOLYLINE: readLightPolyline,
  MLINE: readMultiline,
  HATCH: readHatch,
};

const fieldsOf = (document: TagDocument, record: TagRecord): Fields =>
  new Fields(document, record.type, record.start, record.end);

/** Justified texts (72, 73) stand at their second point, but for 'aligned' and 'fit' (72 = 3, 5), which run from the first to the second. */
const readText = (fields: Fields, item: Item): TextItem | null => {
  const across = fields.flags(72);
  const justified = (across !== 0 || fields.flags(73) !== 0 || fields.flags(74) !== 0) && across !== 3 && across !== 5;
  const code = justified && fields.has(11) ? 11 : 10;
  const frame = fields.frame();
  const along = directionAt(fields.number(50, 0));
  const text = plainText(fields.text(1) ?? '');
  if (text.trim() === '') return null;
  return {
    ...item,
    at: apply(frame, fields.point(code)),
    along: turn(frame, along),
    up: turn(frame, { x: -along.y, y: along.x, z: 0 }),
    height: fields.number(40, 0),
    text,
  };
};

/** MTEXT runs along its direction vector (11) or at its angle (50), whichever comes last. Its place is in world coordinates. */
const readMText = (fields: Fields, item: Item): TextItem | null => {
  const frame = fields.frame();
  let along = turn(frame, directionAt(fields.number(50, 0)));
  const lastOf = (code: number): number => fields.tags.findLastIndex((tag) => tag.code === code);
  if (lastOf(11) > lastOf(50)) along = fields.point(11);
  const size = Math.hypot(along.x, along.y, along.z) || 1;
  along = { x: along.x / size, y: along.y / size, z: along.z / size };
  const n = frame.az;
  const up = {
    x: n.y * along.z - n.z * along.y,
    y: n.z * along.x - n.x * along.z,
    z: n.x * along.y - n.y * along.x,
  };
  const text = plainMText(fields.joined([3, 1])).trim();
  return text === '' ? null : { ...item, at: fields.point(10), along, up, height: fields.number(40, 0), text };
};

/** Kinds of dimension (70, low bits): 0 rotated, 1 aligned; the others measure angles, radii and ordinates and are not read. */
const readDimension = (fields: Fields, item: Item, around: Surroundings): DimensionItem | null => {
  const kind = fields.flags(70) & 7;
  if (kind > 1) return null;
  const along = kind === 0 ? turn(fields.frame(), directionAt(fields.number(50, 0))) : null;
  const own = fields.text(1) ?? '';
  const block = fields.name(2);
  const seen = own.trim() !== '' && !own.includes('<>') ? plainMText(own).trim() : null;
  // A single blank is how a dimension hides its text.
  const hides = own !== '' && own.trim() === '';
  const text = seen ?? (hides || block === null ? null : around.textInBlock(block));
  return { ...item, from: fields.point(13), to: fields.point(14), along, text };
};

/** Copies of an array are at most what a 16-bit count can state. */
const copies = (fields: Fields, code: number): number => {
  const n = Math.trunc(fields.number(code, 1));
  return n >= 1 && n <= 32767 ? n : 1;
};

const readInsert = (fields: Fields, item: Item, attributes: readonly TextItem[]): InsertItem => {
  const block = fields.name(2);
  if (block === null) fields.bad = true;
  const { x: c, y: s } = directionAt(fields.number(50, 0));
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
    ...item,
    block: block ?? '',
    place,
    columns: copies(fields, 70),
    rows: copies(fields, 71),
    columnStep: turn(frame, { x: c * columnSpace, y: s * columnSpace, z: 0 }),
    rowStep: turn(frame, { x: -s * rowSpace, y: c * rowSpace, z: 0 }),
    attributes,
  };
};

/** Flags (70) of attributes: 1 invisible, 2 constant (drawn from its definition). */
const INVISIBLE = 1;
const CONSTANT = 2;

/** Reads entities into items, and tells the log what is not read. */
export class ContentReader {
  readonly content = emptyContent();

  constructor(
    private readonly around: Surroundings,
    private readonly inBlock: boolean,
  ) {}

  read(group: EntityGroup): void {
    const { record } = group;
    const { document, layers, log } = this.around;
    const fields = fieldsOf(document, record);
    if (fields.flags(60) === 1) {
      log.isHidden(record.type);
      return;
    }
    const item = { name: this.around.nameOf(record), layer: layers.named(fields.name(8)) };
    this.dispatch(fields, item, group);
    if (fields.bad) log.badNumbers(item.name, record.type);
  }

  private dispatch(fields: Fields, item: Item, group: EntityGroup): void {
    const { content } = this;
    const read = OUTLINES[fields.type];
    if (read) {
      if (!this.around.budget.spent) this.addPath(fields, item, read(fields));
    } else if (fields.type === 'POLYLINE') this.readPolyline(fields, item, group);
    else if (fields.type === 'INSERT') {
      const insert = readInsert(fields, item, this.readAttributes(group));
      if (!fields.bad) content.inserts.push(insert);
    } else if (fields.type === 'TEXT') this.addText(fields, readText(fields, item));
    else if (fields.type === 'MTEXT') this.addText(fields, readMText(fields, item));
    else if (fields.type === 'DIMENSION') {
      const dimension = readDimension(fields, item, this.around);
      if (dimension === null) this.around.log.notRead('DIMENSION');
      else if (!fields.bad) content.dimensions.push(dimension);
    } else if (fields.type === 'ATTDEF' && this.inBlock) this.readDefinition(fields, item);
    else this.around.log.notRead(fields.type);
  }

  private addPath(fields: Fields, item: Item, outlines: readonly Outline[]): void {
    if (fields.bad) return;
    for (const outline of outlines) this.around.budget.spend(outline.knots.length);
    this.content.paths.push({ name: item.name, layer: item.layer, entity: fields.type, outlines });
  }

  private addText(fields: Fields, text: TextItem | null): void {
    if (text && !fields.bad) this.content.texts.push(text);
  }

  private readPolyline(fields: Fields, item: Item, group: EntityGroup): void {
    if (isMesh(fields)) {
      this.around.log.notRead('POLYLINE');
      return;
    }
    const vertices = group.parts.map((part) => fieldsOf(this.around.document, part));
    this.addPath(fields, item, readPolyline(fields, vertices));
  }

  private readAttributes(group: EntityGroup): TextItem[] {
    const { document, layers, log } = this.around;
    const texts: TextItem[] = [];
    for (const part of group.parts) {
      const fields = fieldsOf(document, part);
      if ((fields.flags(70) & INVISIBLE) !== 0 || fields.flags(60) === 1) {
        log.isHidden('ATTRIB');
        continue;
      }
      const name = this.around.nameOf(part);
      const text = readText(fields, { name, layer: layers.named(fields.name(8)) });
      if (fields.bad) log.badNumbers(name, 'ATTRIB');
      else if (text) texts.push(text);
    }
    return texts;
  }

  /** Definitions of attributes show nothing in an insert, unless constant. */
  private readDefinition(fields: Fields, item: Item): void {
    const flags = fields.flags(70);
    if ((flags & CONSTANT) !== 0 && (flags & INVISIBLE) === 0) this.addText(fields, readText(fields, item));
  }
}

/** What is written in a block: its texts from top to bottom, then left to right, parted by blanks; null where nothing is. */
export const writtenIn = (document: TagDocument, records: readonly TagRecord[]): string | null => {
  const lines: { readonly at: Point3; readonly text: string }[] = [];
  for (const record of records) {
    if (record.type !== 'TEXT' && record.type !== 'MTEXT') continue;
    const fields = fieldsOf(document, record);
    const text = record.type === 'TEXT' ? plainText(fields.text(1) ?? '') : plainMText(fields.joined([3, 1]));
    if (text.trim() !== '') lines.push({ at: fields.point(10), text: text.trim() });
  }
  lines.sort((a, b) => b.at.y - a.at.y || a.at.x - b.at.x || (a.text < b.text ? -1 : 1));
  return lines.length === 0 ? null : lines.map((line) => line.text).join(' ');
};

/** The flags and path by which a block refers to another drawing; null where it does not. */
export const referenceOf = (document: TagDocument, head: TagRecord): string | null => {
  const fields = fieldsOf(document, head);
  if ((fields.flags(70) & (4 | 8)) === 0) return null;
  return decodeText(document.coding, firstTag(document, head, 1)?.value.trim() ?? '');
};

/** From the base point (10) of a block to its origin. */
export const basePoint = (document: TagDocument, head: TagRecord): Matrix => {
  const fields = fieldsOf(document, head);
  const base = { x: fields.number(10, 0), y: fields.number(20, 0), z: fields.number(30, 0) };
  if (base.x === 0 && base.y === 0 && base.z === 0) return IDENTITY;
  return { ...IDENTITY, origin: { x: -base.x, y: -base.y, z: -base.z } };
};

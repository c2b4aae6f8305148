/** The entities of the drawing or of one block as items, each read once; inserts place them afterwards. */

import { finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import { decodeText, firstTag, plainMText, plainText, type TagDocument, type TagRecord } from '../../ground/tags.js';
import type { Clips } from './clips.js';
import { fillOf, readHatch, SOLID } from './entities/hatch.js';
import { readInsert } from './entities/inserts.js';
import { readLeader, readMultiLeader } from './entities/leaders.js';
import { type MultiStyle, readMultiline } from './entities/multilines.js';
import type { Outline } from './entities/outline.js';
import { isMesh, isSpatial, readLightPolyline, readPolyline } from './entities/polylines.js';
import { readArc, readCircle, readEllipse, readLine, readSolid, readSpline } from './entities/simple.js';
import { attributeText, readDimension, readMText, readText } from './entities/texts.js';
import { Fields } from './fields.js';
import type { EntityGroup } from './groups.js';
import { type Attribute, emptyContent, type Named, type TextItem } from './items.js';
import type { Layers } from './layers.js';
import type { LineTypes } from './linetypes.js';
import type { ReadLog } from './log.js';
import { IDENTITY, type Matrix, type Point3 } from './matrix.js';

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

  /** How many are left, 0 or more while it is not spent. */
  get left(): number {
    return this.most - this.used;
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
  readonly lineTypes: LineTypes;
  readonly clips: Clips;
  readonly log: ReadLog;
  readonly budget: KnotBudget;
  nameOf(record: TagRecord): string;
  /** The style of an MLINE; null where the drawing has none. */
  multiStyleOf(mline: Fields): MultiStyle | null;
  /** Name of the text with this handle, from where it stands; null where no text or more than one entity has it. */
  textWithHandle(handle: string): string | null;
  /** What is written in a block (a dimension's), as a person sees it; null where nothing is. */
  textInBlock(name: string): string | null;
  /** How high the text of a dimension stands; null where nothing tells it. */
  dimensionHeight(record: TagRecord, fields: Fields): number | null;
}

const OUTLINES: Readonly<Record<string, (fields: Fields, mostKnots: number) => Outline[]>> = {
  LINE: readLine,
  CIRCLE: readCircle,
  ARC: readArc,
  ELLIPSE: readEllipse,
  SPLINE: readSpline,
  SOLID: readSolid,
  TRACE: readSolid,
  LWPOLYLINE: readLightPolyline,
  HATCH: readHatch,
};

/** Entities that can be extruded (39) and are read as linework. Source: DXF reference, chapter 'Entities'. */
const EXTRUDED: ReadonlySet<string> = new Set(['LINE', 'CIRCLE', 'ARC', 'SOLID', 'TRACE', 'LWPOLYLINE', 'POLYLINE']);

/** Flags (70) of attributes: 1 invisible, 2 constant (drawn from its definition). */
const INVISIBLE = 1;
const CONSTANT = 2;

/** Reads entities into items, and tells the log what is not read. */
export class ContentReader {
  readonly content = emptyContent();
  private readonly unread = new Map<string, { count: number }>();

  constructor(
    private readonly around: Surroundings,
    private readonly inBlock: boolean,
  ) {}

  read(group: EntityGroup): void {
    const { record } = group;
    const { document, layers, log } = this.around;
    const fields = Fields.of(document, record);
    if (fields.flags(60) === 1) {
      log.isHidden(record.type);
      return;
    }
    const item = { name: this.around.nameOf(record), layer: layers.named(fields.name(8)) };
    this.dispatch(fields, item, group);
    if (fields.bad) this.isBad(record.type, item);
  }

  private isBad(type: string, item: Named): void {
    this.around.log.badNumbers(item.name, type);
    this.leaveOut(type, item.layer, true);
  }

  /** Counts an entity that gives no item; it is said where the block is placed, as its layer may be the insert's. */
  private leaveOut(entity: string, layer: string, unusable: boolean): void {
    const key = `${unusable ? '-' : '+'}${entity}\n${layer}`;
    const had = this.unread.get(key);
    if (had) had.count++;
    else {
      const item = { entity, layer, unusable, count: 1 };
      this.unread.set(key, item);
      this.content.unread.push(item);
    }
  }

  private dispatch(fields: Fields, item: Named, group: EntityGroup): void {
    const { content, around } = this;
    const read = OUTLINES[fields.type];
    if (read) {
      if (!around.budget.spent) this.addPath(fields, item, read(fields, around.budget.left));
    } else if (fields.type === 'MLINE') this.readMultiline(fields, item);
    else if (fields.type === 'POLYLINE') this.readPolyline(fields, item, group);
    else if (fields.type === 'INSERT') this.readInsert(fields, item, group);
    else if (fields.type === 'TEXT') this.addText(fields, readText(fields, item));
    else if (fields.type === 'MTEXT') this.addText(fields, readMText(fields, item));
    else if (fields.type === 'DIMENSION') {
      const height = around.dimensionHeight(group.record, fields);
      const dimension = readDimension(fields, item, around.textInBlock, height);
      if (dimension === null) this.leaveOut('DIMENSION', item.layer, false);
      else if (!fields.bad) content.dimensions.push(dimension);
    } else if (fields.type === 'LEADER') {
      const leader = readLeader(fields, item, around.textWithHandle);
      if (leader && !fields.bad) content.leaders.push(leader);
    } else if (fields.type === 'MULTILEADER' || fields.type === 'MLEADER') {
      const { leaders, texts } = readMultiLeader(fields, item);
      if (fields.bad) return;
      for (const leader of leaders) content.leaders.push(leader);
      for (const text of texts) content.texts.push(text);
    } else if (fields.type === 'ATTDEF' && this.inBlock) this.readDefinition(fields, item, group.record);
    else this.leaveOut(fields.type, item.layer, false);
  }

  private addPath(fields: Fields, item: Named, outlines: readonly Outline[]): void {
    const { type } = fields;
    const lineType = fields.lineType(this.around.lineTypes);
    const flat = !EXTRUDED.has(type) || (type === 'POLYLINE' && isSpatial(fields));
    const extrusion = flat ? null : fields.extrusion();
    const filled = type === 'SOLID' || type === 'TRACE' ? SOLID : null;
    const fill = type === 'HATCH' ? fillOf(fields) : filled;
    if (fields.bad) return;
    for (const outline of outlines) this.around.budget.spend(outline.knots.length);
    this.content.paths.push({ name: item.name, layer: item.layer, entity: type, outlines, lineType, extrusion, fill });
  }

  private addText(fields: Fields, text: TextItem | null): void {
    if (text && !fields.bad) this.content.texts.push(text);
  }

  private readPolyline(fields: Fields, item: Named, group: EntityGroup): void {
    if (isMesh(fields)) {
      this.leaveOut('POLYLINE', item.layer, false);
      return;
    }
    const vertices = group.parts.map((part) => Fields.of(this.around.document, part));
    this.addPath(fields, item, readPolyline(fields, vertices));
  }

  private readMultiline(fields: Fields, item: Named): void {
    if (this.around.budget.spent) return;
    const lines = readMultiline(fields, this.around.multiStyleOf(fields), this.around.budget.left);
    if (lines === null) this.leaveOut('MLINE', item.layer, false);
    else this.addPath(fields, item, lines);
  }

  private readInsert(fields: Fields, item: Named, group: EntityGroup): void {
    const texts: TextItem[] = [];
    const attributes: Attribute[] = [];
    for (const part of group.parts) this.readAttribute(part, texts, attributes);
    const lineType = fields.lineType(this.around.lineTypes);
    const clip = this.around.clips.byInsert.get(group.record.start) ?? null;
    const insert = readInsert(fields, item, { lineType, clip, texts, attributes });
    if (!fields.bad) this.content.inserts.push(insert);
  }

  /** An attribute says what its insert is, seen or not; only what is seen is a text of the drawing. */
  private readAttribute(part: TagRecord, texts: TextItem[], attributes: Attribute[]): void {
    const { document, layers, log } = this.around;
    const fields = Fields.of(document, part);
    const hidden = (fields.flags(70) & INVISIBLE) !== 0 || fields.flags(60) === 1;
    if (hidden) log.isHidden('ATTRIB');
    const said = attributeText(fields, Fields.embedded(document, part));
    attributes.push({ tag: fields.name(2) ?? '', text: said.trim() });
    const item = { name: this.around.nameOf(part), layer: layers.named(fields.name(8)) };
    const text = hidden ? null : readText(fields, item, said);
    if (fields.bad) this.isBad('ATTRIB', item);
    else if (text) texts.push(text);
  }

  /** Definitions of attributes show nothing in an insert, unless constant. */
  private readDefinition(fields: Fields, item: Named, record: TagRecord): void {
    const flags = fields.flags(70);
    if ((flags & CONSTANT) === 0) return;
    const said = attributeText(fields, Fields.embedded(this.around.document, record));
    this.content.constants.push({ tag: fields.name(2) ?? '', text: said.trim() });
    if ((flags & INVISIBLE) === 0) this.addText(fields, readText(fields, item, said));
  }
}

/** Attributes by tag, then by what they say. */
export const sortedAttributes = (attributes: readonly Attribute[]): Attribute[] =>
  [...attributes].sort((a, b) => compareText(a.tag, b.tag) || compareText(a.text, b.text));

/** What is written in a block: its texts from top to bottom, then left to right, parted by blanks; null where nothing is. */
export const writtenIn = (document: TagDocument, records: readonly TagRecord[]): string | null => {
  const lines: { readonly at: Point3; readonly text: string }[] = [];
  for (const record of records) {
    if (record.type !== 'TEXT' && record.type !== 'MTEXT') continue;
    const fields = Fields.of(document, record);
    const text = record.type === 'TEXT' ? plainText(fields.text(1) ?? '') : plainMText(fields.joined([3, 1]));
    if (text.trim() !== '') lines.push({ at: fields.point(10), text: text.trim() });
  }
  lines.sort((a, b) => b.at.y - a.at.y || a.at.x - b.at.x || (a.text < b.text ? -1 : 1));
  return lines.length === 0 ? null : lines.map((line) => line.text).join(' ');
};

/** The flags and path by which a block refers to another drawing; null where it does not. */
export const referenceOf = (document: TagDocument, head: TagRecord): string | null => {
  const fields = Fields.of(document, head);
  if ((fields.flags(70) & (4 | 8)) === 0) return null;
  return decodeText(document.coding, firstTag(document, head, 1)?.value.trim() ?? '');
};

/** From the base point (10) of a block to its origin. */
export const basePoint = (document: TagDocument, head: TagRecord): Matrix => {
  const fields = Fields.of(document, head);
  const base = { x: fields.number(10, 0), y: fields.number(20, 0), z: fields.number(30, 0) };
  if (base.x === 0 && base.y === 0 && base.z === 0) return IDENTITY;
  return { ...IDENTITY, origin: { x: -base.x, y: -base.y, z: -base.z } };
};

/** The tags of one entity that are plainly its own, with numbers read strictly. */

import { decodeText, numberOf, type Tag, type TagDocument, type TagRecord } from '../../ground/tags.js';
import type { LineTypes } from './linetypes.js';
import { IDENTITY, type Matrix, objectFrame, type Point3, turn } from './matrix.js';

/** Group code that begins an embedded object. */
const EMBEDDED = 101;

/** Own tags of a record in their order: without the type, XDATA, embedded objects and the groups in braces (102). */
const ownTags = ({ tags }: TagDocument, start: number, end: number): Tag[] => {
  const own: Tag[] = [];
  let braces = false;
  for (let at = start + 1; at < end; at++) {
    const tag = tags[at]!;
    if (tag.code === 1001 || tag.code === EMBEDDED) break;
    if (tag.code === 102) braces = tag.value.trimStart().startsWith('{');
    else if (!braces && tag.code !== 999) own.push(tag);
  }
  return own;
};

/** Entities of more tags than this are not looked through once for each code. */
const FEW = 64;

export class Fields {
  /** A number that was asked for is missing or not finite: the entity cannot be used. */
  bad = false;
  /** The first tag of each code, made when wanted for an entity of many tags. */
  private firsts: Map<number, Tag> | null = null;

  constructor(
    private readonly document: TagDocument,
    readonly type: string,
    readonly tags: readonly Tag[],
  ) {}

  static of(document: TagDocument, record: TagRecord): Fields {
    return new Fields(document, record.type, ownTags(document, record.start, record.end));
  }

  /** The object that is embedded in a record: of an attribute of several lines, their MTEXT; null where there is none. */
  static embedded(document: TagDocument, record: TagRecord): Fields | null {
    let at = record.start + 1;
    while (at < record.end && document.tags[at]!.code !== EMBEDDED) {
      if (document.tags[at]!.code === 1001) return null;
      at++;
    }
    return at < record.end ? new Fields(document, record.type, ownTags(document, at, record.end)) : null;
  }

  /** Some of its tags, to be read by themselves. */
  part(tags: readonly Tag[]): Fields {
    return new Fields(this.document, this.type, tags);
  }

  private first(code: number): Tag | undefined {
    if (this.tags.length <= FEW) {
      for (const tag of this.tags) if (tag.code === code) return tag;
      return undefined;
    }
    if (this.firsts === null) {
      this.firsts = new Map();
      for (const tag of this.tags) if (!this.firsts.has(tag.code)) this.firsts.set(tag.code, tag);
    }
    return this.firsts.get(code);
  }

  /** Number of a tag in hand. */
  of(tag: Tag): number {
    const n = numberOf(tag.value);
    if (n === null) this.bad = true;
    return n ?? 0;
  }

  has(code: number): boolean {
    return this.first(code) !== undefined;
  }

  /** The number of the first tag with this code; `otherwise` where there is none. */
  number(code: number, otherwise: number): number {
    const tag = this.first(code);
    return tag === undefined ? otherwise : this.of(tag);
  }

  /** The same where the entity makes no sense without. */
  need(code: number): number {
    const tag = this.first(code);
    if (tag === undefined) {
      this.bad = true;
      return 0;
    }
    return this.of(tag);
  }

  /** Whole number, cut towards zero. */
  flags(code: number): number {
    const n = Math.trunc(this.number(code, 0));
    return Math.abs(n) < 2 ** 31 ? n : 0;
  }

  /** The point at codes c, c + 10, c + 20; x and y must be there. */
  point(code: number): Point3 {
    return { x: this.need(code), y: this.need(code + 10), z: this.number(code + 20, 0) };
  }

  /** Text of the first tag with this code, decoded; null where there is none. */
  text(code: number): string | null {
    const tag = this.first(code);
    return tag === undefined ? null : decodeText(this.document.coding, tag.value);
  }

  /** What the entity is drawn with (6). */
  lineType(lineTypes: LineTypes): string {
    return lineTypes.named(this.name(6));
  }

  /** How far the entity is extruded (39), as a direction with that length; null when flat. */
  extrusion(): Point3 | null {
    const by = this.number(39, 0);
    return by === 0 ? null : turn(this.frame(), { x: 0, y: 0, z: by });
  }

  /** Names: decoded, blanks around them off. */
  name(code: number): string | null {
    return this.text(code)?.trim() ?? null;
  }

  /** Texts of all tags with one of these codes, in order, joined and then decoded (a letter may be split between two tags). */
  joined(codes: readonly number[]): string {
    const raw = this.tags.filter((t) => codes.includes(t.code)).map((t) => t.value);
    return decodeText(this.document.coding, raw.join(''));
  }

  /** Object coordinates of the entity to those in which it stands. */
  frame(): Matrix {
    if (!this.has(210) && !this.has(230)) return IDENTITY;
    return objectFrame({ x: this.number(210, 0), y: this.number(220, 0), z: this.number(230, 1) });
  }
}

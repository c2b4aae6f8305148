/** The tags of one entity that are plainly its own, with numbers read strictly. */

import { decodeText, numberOf, type Tag, type TagDocument } from '../../ground/tags.js';
import { IDENTITY, type Matrix, objectFrame, type Point3 } from './matrix.js';

export class Fields {
  /** Own tags in their order: without the type, XDATA, embedded objects and the groups in braces (102). */
  readonly tags: readonly Tag[];
  /** A number that was asked for is missing or not finite: the entity cannot be used. */
  bad = false;

  constructor(
    private readonly document: TagDocument,
    readonly type: string,
    start: number,
    end: number,
  ) {
    const own: Tag[] = [];
    let braces = false;
    for (let at = start + 1; at < end; at++) {
      const tag = document.tags[at]!;
      if (tag.code === 1001 || tag.code === 101) break;
      if (tag.code === 102) braces = tag.value.trimStart().startsWith('{');
      else if (!braces && tag.code !== 999) own.push(tag);
    }
    this.tags = own;
  }

  /** Number of a tag in hand. */
  of(tag: Tag): number {
    const n = numberOf(tag.value);
    if (n === null) this.bad = true;
    return n ?? 0;
  }

  has(code: number): boolean {
    return this.tags.some((tag) => tag.code === code);
  }

  /** The number of the first tag with this code; `otherwise` where there is none. */
  number(code: number, otherwise: number): number {
    const tag = this.tags.find((t) => t.code === code);
    return tag === undefined ? otherwise : this.of(tag);
  }

  /** The same where the entity makes no sense without. */
  need(code: number): number {
    const tag = this.tags.find((t) => t.code === code);
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
    const tag = this.tags.find((t) => t.code === code);
    return tag === undefined ? null : decodeText(this.document.coding, tag.value);
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

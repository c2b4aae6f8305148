/** The instances of the data sections: where each stands, what it refers to, of which entity it is. This is where the bytes of a large model are walked. */

import type { References } from './references.js';
import { HASH_OF_NONE, hashed, type Schema } from './schema.js';
import {
  afterComment,
  BINARY,
  CAPITALS,
  CLOSE,
  EQUALS,
  HASH,
  isBlank,
  isSmall,
  OPEN,
  pastBlanks,
  QUOTE,
  SEMICOLON,
  SLASH,
  STAR,
  ZERO,
} from './statements.js';

/** What a byte is within an instance: what is neither a mark, a blank nor a small letter is passed over. */
const [PASSED, REFERENCE, BRACKET, STRING, END, COMMENT, DIRT] = [0, 1, 2, 3, 4, 5, 6];
const KINDS = Uint8Array.from({ length: 256 }, (_, c) => {
  if (c === HASH) return REFERENCE;
  if (c === OPEN || c === CLOSE) return BRACKET;
  if (c === QUOTE || c === BINARY) return STRING;
  if (c === SEMICOLON) return END;
  if (c === SLASH) return COMMENT;
  return isBlank(c) || isSmall(c) ? DIRT : PASSED;
});

const LONGEST_NUMBER = 2_147_483_647;

export class Gathering {
  /** Pieces of the data sections that are no instance. */
  junk = 0;
  private cleaned: Uint8Array | null = null;

  constructor(
    private readonly given: Uint8Array,
    readonly references: References,
    private readonly schema: Schema,
  ) {}

  /** The bytes with every instance cleaned: those that were given where none needed it, else a copy. */
  get bytes(): Uint8Array {
    return this.cleaned ?? this.given;
  }

  /**
   * Reads the instance at `at`: notes where it stands and what it refers to, and cleans it where it holds comments, blanks or small letters outside of
   * strings. Gives the place behind its semicolon, or -1 where it is not closed.
   */
  instance(at: number): number {
    const { given: bytes, references } = this;
    const size = bytes.length;
    let i = at + 1;
    let id = 0;
    for (; i < size && id <= LONGEST_NUMBER; i++) {
      const digit = bytes[i]! - ZERO;
      if (digit < 0 || digit > 9) break;
      id = id * 10 + digit;
    }
    i = pastBlanks(bytes, i);
    let sound = id > 0 && id <= LONGEST_NUMBER && bytes[i] === EQUALS;
    if (sound) i = pastBlanks(bytes, i + 1);
    const start = i;
    /** The first place that has to be cleaned; -1 where there is none. */
    let dirt = -1;
    let hash = HASH_OF_NONE;
    for (; i < size; i++) {
      const c = bytes[i]!;
      const capital = CAPITALS[c]!;
      if (capital === 0) break;
      if (capital !== c && dirt < 0) dirt = i;
      hash = hashed(hash, capital);
    }
    const endOfWord = i;
    sound &&= endOfWord > start && bytes[pastBlanks(bytes, endOfWord)] === OPEN;
    references.begin(id, start);
    let depth = 0;
    let closed = false;
    while (i < size) {
      const c = bytes[i++]!;
      const kind = KINDS[c]!;
      if (kind === PASSED) continue;
      if (kind === REFERENCE) {
        let to = 0;
        for (; i < size; i++) {
          const digit = bytes[i]! - ZERO;
          if (digit < 0 || digit > 9) break;
          if (to <= LONGEST_NUMBER) to = to * 10 + digit;
        }
        references.to(to > LONGEST_NUMBER ? 0 : to);
      } else if (kind === BRACKET) depth += c === OPEN ? 1 : -1;
      else if (kind === STRING) {
        while (i < size && bytes[i] !== c) i++;
        i++;
      } else if (kind === END) {
        closed = true;
        break;
      } else if (kind === DIRT) {
        if (dirt < 0) dirt = i - 1;
      } else if (bytes[i] === STAR) {
        if (dirt < 0) dirt = i - 1;
        i = afterComment(bytes, i - 1);
      }
    }
    if (closed && sound && depth === 0) {
      const end = dirt < 0 ? i - 1 : this.clean(dirt, i - 1);
      references.is(this.schema.find(hash, this.bytes, start, endOfWord), end);
    } else {
      references.drop();
      if (closed) this.junk++;
    }
    return closed ? i : -1;
  }

  /**
   * Moves the bytes from `from` to the semicolon at `to` together, without comments and blanks outside of strings, words in capitals. What is cleaned is
   * never longer, so that it stays where it stood. Gives the place of its semicolon.
   */
  private clean(from: number, to: number): number {
    this.cleaned ??= this.given.slice();
    const bytes = this.cleaned;
    let end = from;
    let i = from;
    while (i < to) {
      const c = bytes[i++]!;
      const kind = KINDS[c]!;
      if (kind === STRING) {
        bytes[end++] = c;
        while (bytes[i] !== c) bytes[end++] = bytes[i++]!;
        bytes[end++] = c;
        i++;
      } else if (kind === COMMENT && bytes[i] === STAR) i = afterComment(bytes, i - 1);
      else if (kind !== DIRT) bytes[end++] = c;
      else if (isSmall(c)) bytes[end++] = c - 32;
    }
    bytes[end] = SEMICOLON;
    return end;
  }
}

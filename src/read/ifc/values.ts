/** Parameters of one instance out of its bytes: cleaned text, without blanks and comments outside of strings, words in capitals. */

import { Item, Ref, Triples, Typed, type Value } from './attributes.js';
import { decimal, HEAD_IS_FULL } from './decimal.js';
import { decodedText, plainText } from './text.js';

/** Deeper than this no list stands in a list. */
const DEEPEST = 16;

const [QUOTE, BINARY, HASH, OPEN, CLOSE, COMMA, DOT, DOLLAR, STAR] = [39, 34, 35, 40, 41, 44, 46, 36, 42];
const [MINUS, PLUS, ZERO, NINE, LETTER_E, LETTER_F, LETTER_T] = [45, 43, 48, 57, 69, 70, 84];

const isDigit = (c: number | undefined): boolean => c !== undefined && c >= ZERO && c <= NINE;
/** Letters, digits and the underscore. */
const isWord = (c: number | undefined): boolean => c !== undefined && ((c >= 65 && c <= 90) || isDigit(c) || c === 95);

const isOfNumber = (c: number | undefined): boolean =>
  isDigit(c) || c === DOT || c === LETTER_E || c === MINUS || c === PLUS;

/** What stands there is no value. */
export class BadValue extends Error {}

export class ValueReader {
  private at = 0;
  /** Values of the lists that are open; a list is cut off it when it closes, as long as it is. */
  private readonly open: Value[] = [];
  private top = 0;

  constructor(private readonly bytes: Uint8Array) {}

  /** The list that begins with the bracket at `at`. */
  listAt(at: number): readonly Value[] {
    this.at = at;
    this.top = 0;
    if (this.bytes[at] !== OPEN) throw new BadValue();
    return this.list(0);
  }

  /** The numbers of a list of but one parameter, a list of numbers; null where anything else stands at `at`. */
  onlyNumbersAt(at: number): readonly number[] | null {
    const { bytes } = this;
    if (bytes[at] !== OPEN || bytes[at + 1] !== OPEN) return null;
    this.at = at + 2;
    const numbers: number[] = [];
    for (;;) {
      if (!this.atNumber()) return null;
      const number = this.number();
      if (!Number.isFinite(number)) return null;
      numbers.push(number);
      const c = bytes[this.at++];
      if (c === CLOSE) return bytes[this.at] === CLOSE ? numbers : null;
      if (c !== COMMA) return null;
    }
  }

  /** What is referred to in a list of but one parameter, a list of references; null where anything else stands at `at`. */
  onlyReferencesAt(at: number): readonly number[] | null {
    const { bytes } = this;
    if (bytes[at] !== OPEN || bytes[at + 1] !== OPEN) return null;
    this.at = at + 2;
    const ids: number[] = [];
    for (;;) {
      if (bytes[this.at] !== HASH) return null;
      ids.push(this.referred());
      const c = bytes[this.at++];
      if (c === CLOSE) return bytes[this.at] === CLOSE ? ids : null;
      if (c !== COMMA) return null;
    }
  }

  /** Of a reference and a truth value, and no more: the number referred to, negative where it is false; 0 where anything else stands at `at`. */
  signedReferenceAt(at: number): number {
    const { bytes } = this;
    if (bytes[at] !== OPEN || bytes[at + 1] !== HASH) return 0;
    this.at = at + 1;
    const id = this.referred();
    const i = this.at;
    const truth = bytes[i + 2];
    const whole = bytes[i] === COMMA && bytes[i + 1] === DOT && bytes[i + 3] === DOT && bytes[i + 4] === CLOSE;
    return !whole ? 0 : truth === LETTER_T ? id : truth === LETTER_F ? -id : 0;
  }

  /** The word that begins at `at`, and the place behind it. */
  private wordAt(at: number): { readonly word: string; readonly end: number } {
    let end = at;
    while (isWord(this.bytes[end])) end++;
    return { word: plainText(this.bytes, at, end), end };
  }

  private list(depth: number): readonly Value[] {
    const { bytes } = this;
    if (depth > DEEPEST) throw new BadValue();
    const start = this.top;
    this.at++;
    if (bytes[this.at] === CLOSE) {
      this.at++;
      return [];
    }
    for (;;) {
      const value = this.atNumber() ? this.number() : this.value(depth);
      this.open[this.top++] = value;
      const c = bytes[this.at++];
      if (c === CLOSE) break;
      if (c !== COMMA) throw new BadValue();
    }
    const values = this.open.slice(start, this.top);
    this.top = start;
    return values;
  }

  /** A list of lists of three numbers each, of which most of a mesh is; null, and nothing read, where it is none. */
  private triples(): Triples | null {
    const { bytes } = this;
    const start = this.at;
    const numbers: number[] = [];
    do {
      this.at++;
      if (bytes[this.at] !== OPEN || !this.three(numbers)) {
        this.at = start;
        return null;
      }
    } while (bytes[this.at] === COMMA);
    if (bytes[this.at] === CLOSE) {
      this.at++;
      return new Triples(numbers);
    }
    this.at = start;
    return null;
  }

  /** Reads a list of three numbers; false where it is none. */
  private three(into: number[]): boolean {
    const { bytes } = this;
    this.at++;
    for (let i = 0; i < 3; i++) {
      if (!this.atNumber()) return false;
      into.push(this.number());
      if (bytes[this.at++] !== (i < 2 ? COMMA : CLOSE)) return false;
    }
    return true;
  }

  private atNumber(): boolean {
    const c = this.bytes[this.at]!;
    return c === MINUS || (c >= ZERO && c <= NINE);
  }

  private value(depth: number): Value {
    const { bytes } = this;
    const c = bytes[this.at];
    switch (c) {
      case DOLLAR:
      case STAR:
        this.at++;
        return null;
      case HASH:
        return this.reference();
      case QUOTE:
        return this.text();
      case OPEN:
        return (depth === 0 ? this.triples() : null) ?? this.list(depth + 1);
      case BINARY:
        while (this.at < bytes.length && bytes[++this.at] !== BINARY);
        this.at++;
        return null;
      case DOT:
        if (!isDigit(bytes[this.at + 1])) return this.item();
        return this.number();
      default:
        if (c === MINUS || c === PLUS || isDigit(c)) return this.number();
        return this.typed(depth);
    }
  }

  private reference(): Value {
    return new Ref(this.referred());
  }

  private referred(): number {
    const { bytes } = this;
    let id = 0;
    let i = this.at + 1;
    for (let c = bytes[i]!; c >= ZERO && c <= NINE; c = bytes[++i]!) id = id * 10 + c - ZERO;
    this.at = i;
    return id;
  }

  private item(): Value {
    const start = ++this.at;
    while (isWord(this.bytes[this.at])) this.at++;
    if (this.bytes[this.at] !== DOT) throw new BadValue();
    return new Item(plainText(this.bytes, start, this.at++));
  }

  private text(): Value {
    const { bytes } = this;
    const start = ++this.at;
    while (this.at < bytes.length && !(bytes[this.at] === QUOTE && bytes[this.at + 1] !== QUOTE)) {
      this.at += bytes[this.at] === QUOTE ? 2 : 1;
    }
    return decodedText(bytes, start, this.at++);
  }

  private typed(depth: number): Value {
    const { word, end } = this.wordAt(this.at);
    if (word === '' || this.bytes[end] !== OPEN) throw new BadValue();
    this.at = end;
    return new Typed(word, this.list(depth + 1));
  }

  /** The double nearest to what the digits say; what is not told quickly is left to Number. */
  private number(): number {
    const { bytes } = this;
    const start = this.at;
    let i = start;
    const negative = bytes[i] === MINUS;
    if (negative || bytes[i] === PLUS) i++;
    const first = i;
    let head = 0;
    let c = bytes[i]!;
    for (; c >= ZERO && c <= NINE && head < HEAD_IS_FULL; c = bytes[++i]!) head = head * 10 + c - ZERO;
    if (c === COMMA || c === CLOSE) {
      if (i === first) throw new BadValue();
      this.at = i;
      return negative ? -head : head;
    }
    let tail = 0;
    let more = 0;
    let places = 0;
    if (c === DOT) {
      const behind = i + 1;
      for (c = bytes[++i]!; c >= ZERO && c <= NINE && head < HEAD_IS_FULL; c = bytes[++i]!) head = head * 10 + c - ZERO;
      for (; c >= ZERO && c <= NINE; c = bytes[++i]!, more++) tail = tail * 10 + c - ZERO;
      places = i - behind;
    }
    if (i === first) throw new BadValue();
    if (c === LETTER_E) {
      const sign = bytes[++i];
      const below = sign === MINUS;
      if (below || sign === PLUS) i++;
      let exponent = 0;
      for (; isDigit(bytes[i]); i++) exponent = Math.min(exponent * 10 + bytes[i]! - ZERO, 10_000);
      places += below ? exponent : -exponent;
    }
    const value = isOfNumber(bytes[i]) ? null : decimal(head, tail, more, places);
    if (value === null) {
      while (isOfNumber(bytes[i])) i++;
      this.at = i;
      return Number(plainText(bytes, start, i));
    }
    this.at = i;
    return negative ? -value : value;
  }
}

/**
 * The text of a STEP file (ISO 10303-21) looked through once before the engine sees it: header, instances and what they refer to.
 * What the engine is given is cut out of the cleaned text, with a header that it understands, so that no byte of the input reaches the engine unseen.
 */

import { type Header, headerOf } from './header.js';
import { References } from './references.js';
import { type Entity, type Schema, schemaOf } from './schema.js';

export type InstanceState = 'sound' | 'missing' | 'circular';

export interface StepText {
  readonly header: Header;
  /** What is read: the instances, cleaned. */
  readonly bytes: Uint8Array;
  readonly instances: number;
  /** No END-ISO-10303-21: the file was cut. */
  readonly cut: boolean;
  /** Instances whose number was given before; the last one counts. */
  readonly twice: readonly number[];
  /** Instances that are referred to and not there, ascending. */
  readonly missing: readonly number[];
  /** Pieces of the data section that are no instance. */
  readonly junk: number;
  stateOf(id: number): InstanceState;
  /** Place in `bytes` where the entity of a sound instance begins. */
  beginOf(id: number): number;
  /** A file of its own with these instances and all that they refer to, for the engine. */
  cutOut(ids: readonly number[]): Uint8Array;
  /** Its entity; null where no schema has one of that name. */
  entityOf(id: number): Entity | null;
  /** Numbers of the instances of a type and its subtypes, ascending. */
  ofType(type: number, subtypes: boolean): readonly number[];
}

export interface StepLimits {
  readonly bytes: number;
  readonly instances: number;
  readonly references: number;
}

/** A house has some 10,000 instances, a large hospital some millions. */
export const STEP_LIMITS: StepLimits = { bytes: 400_000_000, instances: 6_000_000, references: 40_000_000 };

export type StepFault = 'no-data' | 'too-much';

/** What is copied as it stands; all others are looked at. */
const AS_IT_STANDS = Uint8Array.from({ length: 256 }, (_, c) =>
  c > 32 && !(c >= 97 && c <= 122) && !'#\'"/;()'.includes(String.fromCharCode(c)) ? 1 : 0,
);

const [QUOTE, BINARY, SLASH, STAR, HASH, EQUALS, SEMICOLON, ZERO, NINE] = [39, 34, 47, 42, 35, 61, 59, 48, 57];
const isBlank = (c: number): boolean => c <= 32;
const LONGEST_NUMBER = 2_147_483_647;

/** Place after the string that begins at `at`; the end of the bytes where it is not closed. */
const afterString = (bytes: Uint8Array, at: number): number => {
  const mark = bytes[at]!;
  let i = at + 1;
  while (i < bytes.length && bytes[i] !== mark) i++;
  return i + 1;
};

/** Place after the comment that begins at `at`. */
const afterComment = (bytes: Uint8Array, at: number): number => {
  let i = at + 2;
  while (i < bytes.length && !(bytes[i] === STAR && bytes[i + 1] === SLASH)) i++;
  return i + 2;
};

/** Place of the first byte from `at` on that is neither blank nor in a comment. */
const pastBlanks = (bytes: Uint8Array, at: number): number => {
  let i = at;
  while (i < bytes.length) {
    if (isBlank(bytes[i]!)) i++;
    else if (bytes[i] === SLASH && bytes[i + 1] === STAR) i = afterComment(bytes, i);
    else break;
  }
  return i;
};

/** Whether the word (capital letters) stands at `at`, in letters of any case. */
const wordAt = (bytes: Uint8Array, at: number, word: string): boolean => {
  for (let i = 0; i < word.length; i++) {
    const c = bytes[at + i];
    const w = word.charCodeAt(i);
    if (c !== w && c !== w + 32) return false;
  }
  return true;
};

/** End of the statement that begins at `at`: the place of its semicolon, or -1 where it is not closed. */
const endOfStatement = (bytes: Uint8Array, at: number): number => {
  let i = at;
  while (i < bytes.length) {
    const c = bytes[i]!;
    if (c === SEMICOLON) return i;
    if (c === QUOTE || c === BINARY) i = afterString(bytes, i);
    else if (c === SLASH && bytes[i + 1] === STAR) i = afterComment(bytes, i);
    else i++;
  }
  return -1;
};

/** Whether the bytes are STEP text: 'ISO-10303-21' after a mark of byte order, blanks and comments. */
export const isStep = (bytes: Uint8Array): boolean => {
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  return wordAt(bytes, pastBlanks(bytes, mark), 'ISO-10303-21');
};

/** Whether a word and an opening bracket stand at `at`, as in front of the parameters of an entity. */
const isEntity = (bytes: Uint8Array, at: number): boolean => {
  let i = at;
  for (;;) {
    const c = bytes[i]!;
    const word = (c >= 65 && c <= 90) || (c >= 97 && c <= 122) || (c >= ZERO && c <= NINE) || c === 95;
    if (!word) break;
    i++;
  }
  return i > at && bytes[pastBlanks(bytes, i)] === 40;
};

/** Collects the instances of the data sections into bytes for the engine. */
class Gathering {
  readonly out: Uint8Array;
  length = 0;
  junk = 0;

  constructor(
    private readonly bytes: Uint8Array,
    readonly references: References,
    private readonly schema: Schema,
  ) {
    this.out = new Uint8Array(bytes.length + 1024);
  }

  /** Writes `#id=` and gives the place behind it; `length` stays. */
  private number(id: number): number {
    const { out } = this;
    let at = this.length;
    out[at++] = HASH;
    let power = 1;
    while (power * 10 <= id) power *= 10;
    for (let rest = id; power >= 1; power /= 10) {
      const digit = Math.trunc(rest / power);
      out[at++] = ZERO + digit;
      rest -= digit * power;
    }
    out[at++] = EQUALS;
    return at;
  }

  /**
   * Reads the instance at `at` and copies it without its comments and blanks outside of strings, words in capitals, and notes what it refers to.
   * Gives the place behind its semicolon, or -1 where it is not closed. One pass: this is where the bytes of a large model are walked.
   */
  instance(at: number): number {
    const { bytes, out, references } = this;
    const size = bytes.length;
    let i = at + 1;
    let id = 0;
    let c = bytes[i]!;
    while (c >= ZERO && c <= NINE && id <= LONGEST_NUMBER) {
      id = id * 10 + c - ZERO;
      c = bytes[++i]!;
    }
    i = pastBlanks(bytes, i);
    let sound = id > 0 && id <= LONGEST_NUMBER && bytes[i] === EQUALS;
    if (sound) {
      i = pastBlanks(bytes, i + 1);
      sound = isEntity(bytes, i);
    }
    const start = this.number(id);
    references.begin(id, start);
    let length = start;
    let depth = 0;
    let closed = false;
    while (i < size) {
      c = bytes[i]!;
      if (AS_IT_STANDS[c] === 1) {
        out[length++] = c;
        i++;
        continue;
      }
      if (c === SEMICOLON) {
        closed = true;
        break;
      }
      if (c <= 32) i++;
      else if (c === HASH) {
        out[length++] = c;
        let to = 0;
        c = bytes[++i]!;
        while (c >= ZERO && c <= NINE) {
          if (to <= LONGEST_NUMBER) to = to * 10 + c - ZERO;
          out[length++] = c;
          c = bytes[++i]!;
        }
        references.to(to > LONGEST_NUMBER ? 0 : to);
      } else if (c === QUOTE || c === BINARY) {
        const mark = c;
        do out[length++] = bytes[i++]!;
        while (i < size && bytes[i] !== mark);
        out[length++] = mark;
        i++;
      } else if (c === SLASH && bytes[i + 1] === STAR) i = afterComment(bytes, i);
      else {
        if (c === 40) depth++;
        else if (c === 41) depth--;
        else if (c >= 97 && c <= 122) c -= 32;
        out[length++] = c;
        i++;
      }
    }
    if (closed && sound && depth === 0 && length > start) {
      let end = start;
      while (out[end] !== 40) end++;
      references.is(this.schema.find(out, start, end));
      out[length++] = SEMICOLON;
      out[length++] = 10;
      this.length = length;
    } else {
      references.drop();
      if (closed) this.junk++;
    }
    return closed ? i + 1 : -1;
  }
}

/** Reads the statements of the data sections; says whether the file has its end. */
const gather = (bytes: Uint8Array, from: number, into: Gathering): boolean | 'too-much' => {
  let inData = false;
  let i = from;
  for (;;) {
    i = pastBlanks(bytes, i);
    if (i >= bytes.length) return false;
    if (inData && bytes[i] === HASH) {
      i = into.instance(i);
      if (i < 0) return false;
      if (into.references.full) return 'too-much';
      continue;
    }
    const end = endOfStatement(bytes, i);
    // What follows the last semicolon is cut; an end without its semicolon is an end.
    if (end < 0) return wordAt(bytes, i, 'END-ISO-10303-21');
    if (wordAt(bytes, i, 'END-ISO-10303-21')) return true;
    if (wordAt(bytes, i, 'ENDSEC')) inData = false;
    else if (wordAt(bytes, i, 'DATA')) inData = true;
    else if (inData) into.junk++;
    i = end + 1;
  }
};

/** Place where the data section begins, told from its own line where the header is broken. */
const dataBegins = (bytes: Uint8Array): number => {
  for (let i = 0; i + 4 < bytes.length; i++) {
    if (bytes[i] !== 68 || !wordAt(bytes, i, 'DATA')) continue;
    const before = i === 0 ? 10 : bytes[i - 1]!;
    if (!isBlank(before) && before !== SEMICOLON && before !== SLASH) continue;
    const next = pastBlanks(bytes, i + 4);
    if (bytes[next] === SEMICOLON || bytes[next] === 40) return i;
  }
  return -1;
};

const letters = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));

/** Pieces of the cleaned text with a header and an end that the engine understands. */
const joinedText = (
  header: Header,
  bytes: Uint8Array,
  pieces: readonly (readonly [from: number, to: number])[],
): Uint8Array => {
  const head = letters(
    `ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('${header.engineSchema ?? 'IFC4'}'));\nENDSEC;\nDATA;\n`,
  );
  const end = letters('ENDSEC;\nEND-ISO-10303-21;\n');
  const parts = [head, ...pieces.map(([from, to]) => bytes.subarray(from, to)), end];
  const joined = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    joined.set(part, at);
    at += part.length;
  }
  return joined;
};

export const scanStep = (bytes: Uint8Array, limits: StepLimits = STEP_LIMITS): StepText | StepFault => {
  if (bytes.length > limits.bytes) return 'too-much';
  const begin = dataBegins(bytes);
  const header = headerOf(bytes.subarray(0, begin < 0 ? bytes.length : begin));
  if (begin < 0) return 'no-data';
  const schema = schemaOf(header.engineSchema ?? '');
  const into = new Gathering(bytes, new References(limits), schema);
  const ended = gather(bytes, begin, into);
  if (ended === 'too-much') return 'too-much';
  const graph = into.references.solved(into.length);
  return {
    header,
    bytes: into.out.subarray(0, into.length),
    instances: graph.instances,
    cut: !ended,
    twice: graph.twice,
    missing: graph.missing,
    junk: into.junk,
    stateOf: graph.stateOf,
    beginOf: graph.beginOf,
    cutOut: (ids) => joinedText(header, into.out, graph.piecesOf(ids)),
    entityOf: (id) => schema.entities[graph.entityOf(id)] ?? null,
    ofType: (type, subtypes) => graph.ofEntities(schema.of(type, subtypes)),
  };
};

/**
 * The text of a STEP file (ISO 10303-21) looked through once before the engine sees it: header, instances and what they refer to.
 * What the engine is given is cut out of the cleaned text, with a header that it understands, so that no byte of the input reaches the engine unseen.
 */

import { Gathering } from './gathering.js';
import { type Header, headerOf } from './header.js';
import { type Piece, References } from './references.js';
import { type Entity, schemaOf } from './schema.js';
import {
  EQUALS,
  endOfStatement,
  HASH,
  isBlank,
  OPEN,
  pastBlanks,
  SEMICOLON,
  SLASH,
  wordAt,
  ZERO,
} from './statements.js';

export interface StepText {
  readonly header: Header;
  /** What is read: the text with its instances cleaned. */
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
  /** Place of an instance among all of them; -1 where it is missing. */
  placeOf(id: number): number;
  /** By the place: whether it refers to itself through others, or is nested too deep. */
  isCircular(place: number): boolean;
  /** By the place: where its entity begins in `bytes`. */
  beginOf(place: number): number;
  /** By the place: its entity; null where no schema has one of that name. */
  entityOf(place: number): Entity | null;
  /** A file of its own with these instances and all that they refer to, for the engine. */
  cutOut(ids: readonly number[]): Uint8Array;
  /** Numbers of the instances of a type and its subtypes, ascending. */
  ofType(type: number, subtypes: boolean): readonly number[];
}

export interface StepLimits {
  readonly bytes: number;
  readonly instances: number;
  readonly references: number;
}

/** A house has some 10,000 instances, a large hospital some millions. */
const STEP_LIMITS: StepLimits = { bytes: 400_000_000, instances: 6_000_000, references: 40_000_000 };

export type StepFault = 'no-data' | 'too-much';

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
    if (bytes[next] === SEMICOLON || bytes[next] === OPEN) return i;
  }
  return -1;
};

const letters = new TextEncoder();
const END = letters.encode('ENDSEC;\nEND-ISO-10303-21;\n');
/** More than the number of an instance takes with its marks and the end of its line. */
const AROUND = 16;

/** Instances of the cleaned text with a header and an end that the engine understands. */
const joinedText = (header: Header, bytes: Uint8Array, pieces: readonly Piece[]): Uint8Array => {
  const head = letters.encode(
    `ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('${header.engineSchema ?? 'IFC4'}'));\nENDSEC;\nDATA;\n`,
  );
  const most = pieces.reduce((sum, { from, to }) => sum + to - from + AROUND, head.length + END.length);
  const joined = new Uint8Array(most);
  joined.set(head);
  let at = head.length;
  for (const { id, from, to } of pieces) {
    at = numbered(joined, at, id);
    joined.set(bytes.subarray(from, to + 1), at);
    at += to + 1 - from;
    joined[at++] = 10;
  }
  joined.set(END, at);
  return joined.subarray(0, at + END.length);
};

/** Writes `#id=` and gives the place behind it. */
const numbered = (into: Uint8Array, from: number, id: number): number => {
  let at = from;
  into[at++] = HASH;
  let power = 1;
  while (power * 10 <= id) power *= 10;
  for (let rest = id; power >= 1; power /= 10) {
    const digit = Math.trunc(rest / power);
    into[at++] = ZERO + digit;
    rest -= digit * power;
  }
  into[at++] = EQUALS;
  return at;
};

export const scanStep = (bytes: Uint8Array, limits: StepLimits = STEP_LIMITS): StepText | StepFault => {
  if (bytes.length > limits.bytes) return 'too-much';
  const begin = dataBegins(bytes);
  const header = headerOf(bytes.subarray(0, begin < 0 ? bytes.length : begin));
  if (begin < 0) return 'no-data';
  const schema = schemaOf(header.engineSchema ?? '');
  const into = new Gathering(bytes, new References(limits, bytes.length), schema);
  const ended = gather(bytes, begin, into);
  if (ended === 'too-much') return 'too-much';
  const graph = into.references.solved();
  const cleaned = into.bytes;
  return {
    header,
    bytes: cleaned,
    instances: graph.instances,
    cut: !ended,
    twice: graph.twice,
    missing: graph.missing,
    junk: into.junk,
    placeOf: graph.placeOf,
    isCircular: graph.isCircular,
    beginOf: graph.beginOf,
    cutOut: (ids) => joinedText(header, cleaned, graph.piecesOf(ids)),
    entityOf: (place) => schema.entities[graph.entityOf(place)] ?? null,
    ofType: (type, subtypes) => graph.ofEntities(schema.of(type, subtypes)),
  };
};

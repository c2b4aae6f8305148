/** DXF in text form: two lines a tag. */

import type { Tag } from './types.js';

/** Something in the lines that is no tag, for the caller to say. */
export interface TextTrouble {
  /** Blank lines where a group code should stand. */
  blankLines: number;
  /** Lines left out because they were no group code and its value. */
  droppedLines: number;
  /** Line number (from 1) of the first line that was left out; 0 where none was. */
  firstDropped: number;
  /** The file ends after a group code, without its value. */
  cutInTag: boolean;
  ended: boolean;
  tooMany: boolean;
}

export interface TextTags {
  readonly tags: Tag[];
  readonly lineEnd: '\r\n' | '\n';
  readonly codeWidth: number;
  readonly before: string;
  readonly after: string;
  readonly trouble: TextTrouble;
}

const LF = 10;
const CR = 13;
const SPACE = 32;
const TAB = 9;

const BAD = -32768;

/** Walks the lines of a file; the fields hold the line last read. */
class Lines {
  start = 0;
  /** End of the line's text, without its line end. */
  end = 0;
  /** Start of the next line. */
  next = 0;
  number = 0;
  crlf = false;
  terminated = false;

  constructor(private readonly bytes: Uint8Array) {}

  read(): boolean {
    const { bytes } = this;
    const start = this.next;
    if (start >= bytes.length) return false;
    let at = start;
    while (at < bytes.length && bytes[at] !== LF) at++;
    this.start = start;
    this.terminated = at < bytes.length;
    this.next = this.terminated ? at + 1 : at;
    this.crlf = this.terminated && at > start && bytes[at - 1] === CR;
    this.end = this.crlf ? at - 1 : at;
    this.number++;
    return true;
  }

  /** The whole number on this line, blanks around it allowed; BAD where the line is something else. */
  code(): number {
    const { bytes, end } = this;
    let at = this.start;
    while (at < end && (bytes[at] === SPACE || bytes[at] === TAB)) at++;
    const negative = bytes[at] === 45;
    if (negative) at++;
    const digits = at;
    let n = 0;
    while (at < end && bytes[at]! >= 48 && bytes[at]! <= 57) n = n * 10 + bytes[at++]! - 48;
    if (at === digits || at - digits > 5) return BAD;
    while (at < end && (bytes[at] === SPACE || bytes[at] === TAB || bytes[at] === CR)) at++;
    return at < end || n > 32767 ? BAD : negative ? -n : n;
  }

  blank(): boolean {
    for (let at = this.start; at < this.end; at++) if (this.bytes[at]! > SPACE) return false;
    return true;
  }

  /** Whether the line is the code, right-aligned with blanks in `width` columns and nothing else. */
  plainCode(code: number, width: number): boolean {
    const digits = code < 0 ? 0 : code < 10 ? 1 : code < 100 ? 2 : code < 1000 ? 3 : code < 10000 ? 4 : 5;
    if (digits === 0 || this.end - this.start !== Math.max(digits, width)) return false;
    const first = this.bytes[this.end - digits]!;
    for (let at = this.start; at < this.end - digits; at++) if (this.bytes[at] !== SPACE) return false;
    return (first > 48 || digits === 1) && first <= 57;
  }
}

const TYPE_NAME = /^[A-Z_][A-Z0-9_]*$/;

/** Moves on to the next '0' line that is followed by the name of a type; true when the current line is that '0'. */
const resync = (lines: Lines, text: string, trouble: TextTrouble): boolean => {
  trouble.firstDropped ||= lines.number;
  trouble.droppedLines++;
  while (lines.read()) {
    if (lines.code() === 0) {
      const after = text.indexOf('\n', lines.next);
      const value = text.slice(lines.next, after < 0 ? text.length : after).trim();
      if (TYPE_NAME.test(value)) return true;
    }
    trouble.droppedLines++;
  }
  return false;
};

/** Reads tags from `text`, which is `bytes` with one char per byte. Reading goes on after lines that are no tag; `trouble` counts them. */
export const readText = (bytes: Uint8Array, text: string, mostTags: number): TextTags => {
  const lines = new Lines(bytes);
  const trouble: TextTrouble = {
    blankLines: 0,
    droppedLines: 0,
    firstDropped: 0,
    cutInTag: false,
    ended: false,
    tooMany: false,
  };
  const tags: Tag[] = [];
  if (text.startsWith('\xef\xbb\xbf')) lines.next = 3;
  let before = 0;
  let crlf = false;
  let width = -1;
  while (lines.read()) {
    let code = lines.code();
    if (code === BAD) {
      if (lines.blank()) {
        if (width >= 0) trouble.blankLines++;
        continue;
      }
      if (!resync(lines, text, trouble)) break;
      code = 0;
    }
    const codeStart = lines.start;
    if (width < 0) {
      before = codeStart;
      crlf = lines.crlf;
      width = lines.end - lines.start;
    }
    const plain = lines.crlf === crlf && lines.plainCode(code, width);
    if (!lines.read()) {
      trouble.cutInTag = true;
      break;
    }
    const value = text.slice(lines.start, lines.end);
    if (plain && lines.crlf === crlf && lines.terminated) tags.push({ code, value });
    else tags.push({ code, value, raw: text.slice(codeStart, lines.next) });
    if (code === 0 && value.trim() === 'EOF') {
      trouble.ended = true;
      break;
    }
    if (tags.length >= mostTags) {
      trouble.tooMany = true;
      break;
    }
  }
  const after = trouble.ended ? text.slice(lines.next) : '';
  return { tags, lineEnd: crlf ? '\r\n' : '\n', codeWidth: width, before: text.slice(0, before), after, trouble };
};

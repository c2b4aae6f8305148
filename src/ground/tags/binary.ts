/** DXF in binary form: the same tags, codes and numbers little-endian. */

import { type ByteSink, latin1 } from './latin1.js';
import { BINARY_MARK } from './sniff.js';
import type { Tag } from './types.js';
import { shortest, valueKind } from './values.js';

export interface BinaryTags {
  readonly tags: Tag[];
  readonly codeBytes: 1 | 2;
  readonly after: string;
  readonly ended: boolean;
  readonly cutInTag: boolean;
  readonly tooMany: boolean;
  /** Byte place of a group code that no DXF has, where reading stopped; -1 where there was none. */
  readonly strayAt: number;
}

/** Codes are one byte wide up to R13 and two bytes later: told by the first tag, which is a comment (999) or 0 with a name. */
const codeWidth = (bytes: Uint8Array): 1 | 2 => {
  const first = bytes[BINARY_MARK.length];
  const second = bytes[BINARY_MARK.length + 1];
  return (first === 0 && second === 0) || (first === 0xe7 && second === 0x03) ? 2 : 1;
};

const hex = (bytes: Uint8Array, from: number, to: number): string => {
  let text = '';
  for (let i = from; i < to; i++) text += bytes[i]!.toString(16).toUpperCase().padStart(2, '0');
  return text;
};

class Cursor {
  at = BINARY_MARK.length;
  readonly view: DataView;
  constructor(
    readonly bytes: Uint8Array,
    readonly width: 1 | 2,
  ) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  /** Throws RangeError at the end of the bytes, like every read here. */
  code(): number {
    if (this.width === 2) return this.view.getInt16(this.step(2), true);
    const code = this.view.getUint8(this.step(1));
    return code === 255 ? this.view.getInt16(this.step(2), true) : code;
  }

  step(n: number): number {
    const at = this.at;
    this.at += n;
    return at;
  }

  value(code: number): string {
    const { view } = this;
    switch (valueKind(code)) {
      case 'double':
        return shortest(view.getFloat64(this.step(8), true));
      case 'int16':
        return String(view.getInt16(this.step(2), true));
      case 'int32':
        return String(view.getInt32(this.step(4), true));
      case 'int64':
        return String(view.getBigInt64(this.step(8), true));
      case 'bool':
        return String(view.getUint8(this.step(1)));
      case 'bytes': {
        const n = view.getUint8(this.step(1));
        const from = this.step(n);
        if (this.at > this.bytes.length) throw new RangeError('cut');
        return hex(this.bytes, from, this.at);
      }
      case 'text': {
        const end = this.bytes.indexOf(0, this.at);
        if (end < 0) throw new RangeError('cut');
        const text = latin1(this.bytes.subarray(this.at, end));
        this.at = end + 1;
        return text;
      }
    }
  }
}

export const readBinary = (bytes: Uint8Array, mostTags: number): BinaryTags => {
  const width = codeWidth(bytes);
  const cursor = new Cursor(bytes, width);
  const tags: Tag[] = [];
  const result = { tags, codeBytes: width, after: '', ended: false, cutInTag: false, tooMany: false, strayAt: -1 };
  try {
    while (cursor.at < bytes.length) {
      if (tags.length >= mostTags) return { ...result, tooMany: true };
      const from = cursor.at;
      const code = cursor.code();
      if (code < 0 || code > 1071) return { ...result, strayAt: from };
      const value = cursor.value(code);
      tags.push({ code, value });
      if (code === 0 && value === 'EOF') return { ...result, ended: true, after: latin1(bytes.subarray(cursor.at)) };
    }
  } catch (error) {
    // A read past the end is the one RangeError here: the file was cut inside a tag.
    if (!(error instanceof RangeError)) throw error;
    return { ...result, cutInTag: true };
  }
  return result;
};

const inRange = (n: number, least: number, most: number, tag: Tag): number => {
  if (!Number.isInteger(n) || n < least || n > most) {
    throw new Error(`group ${tag.code} cannot hold ${tag.value} in binary form`);
  }
  return n;
};

const writeBytes = (sink: ByteSink, tag: Tag): void => {
  const digits = tag.value.trim();
  if (digits.length % 2 !== 0 || digits.length > 510) throw new Error(`group ${tag.code} cannot hold ${tag.value}`);
  sink.byte(digits.length / 2);
  for (let i = 0; i < digits.length; i += 2) sink.byte(Number.parseInt(digits.slice(i, i + 2), 16));
};

/** Writes one tag; throws where a value of ours does not fit its group code. */
export const writeBinaryTag = (sink: ByteSink, tag: Tag, width: 1 | 2): void => {
  const { code, value } = tag;
  if (width === 2) sink.uint16(code);
  else if (code < 255) sink.byte(code);
  else {
    sink.byte(255);
    sink.uint16(code);
  }
  switch (valueKind(code)) {
    case 'double':
      sink.double(Number(value));
      break;
    case 'int16':
      sink.int16(inRange(Number(value), -32768, 65535, tag));
      break;
    case 'int32':
      sink.int32(inRange(Number(value), -2147483648, 4294967295, tag));
      break;
    case 'int64':
      sink.int64(BigInt(value.trim()));
      break;
    case 'bool':
      sink.byte(inRange(Number(value), 0, 255, tag));
      break;
    case 'bytes':
      writeBytes(sink, tag);
      break;
    case 'text':
      if (value.includes('\0')) throw new Error(`group ${code} cannot hold a zero byte`);
      sink.text(value);
      sink.byte(0);
      break;
  }
};

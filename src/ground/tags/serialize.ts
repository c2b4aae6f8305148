/** Tags back to bytes. */

import { writeBinaryTag } from './binary.js';
import { ByteSink } from './latin1.js';
import { BINARY_MARK } from './sniff.js';
import type { Tag, TagDocument } from './types.js';

/** The lines of the input, where the tag still says what they say; a last line without its end only at the end. */
const rawOf = (tag: Tag, last: boolean): string | null => {
  if (tag.raw === undefined || !(last || tag.raw.endsWith('\n'))) return null;
  const [code = '', value = ''] = tag.raw.split('\n');
  return Number(code) === tag.code && value.replace(/\r$/, '') === tag.value.replace(/\r$/, '') ? tag.raw : null;
};

/**
 * The bytes of a document. A document that parseTags gave and nobody touched gives the bytes that it was read from, provided that every
 * line of them was a tag. Throws where a value of ours cannot stand in the file (a line end in text form, a number out of its group's range).
 */
export const serializeTags = (document: TagDocument): Uint8Array => {
  const sink = new ByteSink();
  if (document.form === 'binary') {
    sink.text(BINARY_MARK);
    const width = document.codeBytes ?? (document.version < 'AC1014' ? 1 : 2);
    for (const tag of document.tags) writeBinaryTag(sink, tag, width);
    sink.text(document.after ?? '');
    return sink.done();
  }
  const { lineEnd } = document;
  const width = document.codeWidth ?? 3;
  sink.text(document.before ?? '');
  for (const [at, tag] of document.tags.entries()) {
    const raw = rawOf(tag, at === document.tags.length - 1);
    if (raw !== null) {
      sink.text(raw);
      continue;
    }
    if (tag.value.includes('\n')) throw new Error(`a line end in group ${tag.code} would become a tag`);
    sink.text(String(tag.code).padStart(width));
    sink.text(lineEnd);
    sink.text(tag.value);
    sink.text(lineEnd);
  }
  sink.text(document.after ?? '');
  return sink.done();
};

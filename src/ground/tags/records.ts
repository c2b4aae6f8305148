/** The structure over the tags: sections, tables, blocks, entities and objects as ranges of tags. Nothing is copied. */

import { decodeText } from './coding.js';
import type { Tag, TagDocument } from './types.js';

/** One record: the tags from its type (group 0) up to the next group 0. */
export interface TagRecord {
  /** LINE, LAYER, BLOCK_RECORD … */
  readonly type: string;
  /** Place of the group 0. */
  readonly start: number;
  /** Place after the last tag. */
  readonly end: number;
  /** Group 5 (105 in DIMSTYLE entries) as upper-case hexadecimal without leading zeros; null where there is none. */
  readonly handle: string | null;
  /** Group 330 outside of the braces of group 102, in the same form. */
  readonly owner: string | null;
}

export interface TagSection {
  readonly name: string;
  /** Place of the tag (0, SECTION). */
  readonly start: number;
  /** First tag after the section's name. */
  readonly bodyStart: number;
  /** Place of (0, ENDSEC); where that is missing, of what ended the section. */
  readonly bodyEnd: number;
  /** Place after ENDSEC. */
  readonly end: number;
  readonly closed: boolean;
}

export interface TagTable {
  /** LAYER, LTYPE, STYLE, APPID, DIMSTYLE, BLOCK_RECORD … */
  readonly name: string;
  /** The record (0, TABLE) with the table's name, handle and count (70). */
  readonly head: TagRecord;
  readonly entries: readonly TagRecord[];
  /** Place of (0, ENDTAB): where new entries are put in. Where that is missing, the place of what ended the table. */
  readonly bodyEnd: number;
  readonly closed: boolean;
}

export interface TagBlock {
  /** Decoded. */
  readonly name: string;
  readonly head: TagRecord;
  readonly entities: readonly TagRecord[];
  /** ENDBLK; null where it is missing. */
  readonly tail: TagRecord | null;
  readonly start: number;
  readonly end: number;
}

export interface TagStructure {
  readonly sections: readonly TagSection[];
  /** In the order of the file; a name can come twice in a faulty one. */
  readonly tables: readonly TagTable[];
  readonly blocks: readonly TagBlock[];
  /** Records of the ENTITIES sections: model space and paper space, with VERTEX, ATTRIB and SEQEND as records of their own. */
  readonly entities: readonly TagRecord[];
  readonly objects: readonly TagRecord[];
}

const typeAt = (tags: readonly Tag[], at: number): string => tags[at]?.value.trim() ?? '';

/** A handle in the form in which handles are compared: upper case, no leading zeros; null for what is no hexadecimal number. */
export const handleOf = (value: string): string | null => {
  const text = value.trim().toUpperCase();
  if (!/^[0-9A-F]{1,16}$/.test(text)) return null;
  return text.replace(/^0+(?=.)/, '');
};

/** Next place from `from` on (at most `to`) with group code 0. */
const nextZero = (tags: readonly Tag[], from: number, to: number): number => {
  let at = from;
  while (at < to && tags[at]!.code !== 0) at++;
  return at;
};

/** First tag of the record that is not plainly its own: XDATA (1001) or an embedded object (101); its end where there is neither. */
export const ownEnd = (tags: readonly Tag[], start: number, end: number): number => {
  for (let at = start + 1; at < end; at++) {
    const { code } = tags[at]!;
    if (code === 1001 || code === 101) return at;
  }
  return end;
};

const recordAt = (tags: readonly Tag[], start: number, to: number): TagRecord => {
  const type = typeAt(tags, start);
  const handleCode = type === 'DIMSTYLE' ? 105 : 5;
  let handle: string | null = null;
  let owner: string | null = null;
  let braces = false;
  let own = true;
  let at = start + 1;
  for (; at < to; at++) {
    const { code, value } = tags[at]!;
    if (code === 0) break;
    if (code === 102) braces = value.trimStart().startsWith('{');
    else if (code === 1001 || code === 101) own = false;
    else if (!own || braces) continue;
    else if (code === handleCode) handle ??= handleOf(value);
    else if (code === 330) owner ??= handleOf(value);
  }
  return { type, start, end: at, handle, owner };
};

const recordsBetween = (tags: readonly Tag[], from: number, to: number): TagRecord[] => {
  const records: TagRecord[] = [];
  let at = nextZero(tags, from, to);
  while (at < to) {
    const record = recordAt(tags, at, to);
    records.push(record);
    at = record.end;
  }
  return records;
};

/** The sections of a document. A section that is not closed ends where the next one begins, or at the end of the file. */
export const sections = (document: TagDocument): TagSection[] => {
  const { tags } = document;
  const found: TagSection[] = [];
  let start = -1;
  const close = (at: number, closed: boolean): void => {
    if (start < 0) return;
    const named = tags[start + 1]?.code === 2 && start + 1 < at;
    const bodyStart = named ? start + 2 : start + 1;
    const name = named ? typeAt(tags, start + 1) : '';
    found.push({ name, start, bodyStart, bodyEnd: at, end: closed ? at + 1 : at, closed });
    start = -1;
  };
  for (let at = 0; at < tags.length; at++) {
    if (tags[at]!.code !== 0) continue;
    const type = typeAt(tags, at);
    if (type === 'SECTION') {
      close(at, false);
      start = at;
    } else if (type === 'ENDSEC') close(at, true);
    else if (type === 'EOF') {
      close(at, false);
      break;
    }
  }
  close(tags.length, false);
  return found;
};

const tablesIn = (document: TagDocument, section: TagSection): TagTable[] => {
  const { tags } = document;
  const tables: TagTable[] = [];
  let head: TagRecord | null = null;
  let entries: TagRecord[] = [];
  const close = (bodyEnd: number, closed: boolean): void => {
    if (head) tables.push({ name: nameOf(document, head) ?? '', head, entries, bodyEnd, closed });
    head = null;
    entries = [];
  };
  for (const record of recordsBetween(tags, section.bodyStart, section.bodyEnd)) {
    if (record.type === 'TABLE') {
      close(record.start, false);
      head = record;
    } else if (record.type === 'ENDTAB') close(record.start, true);
    else if (head) entries.push(record);
  }
  close(section.bodyEnd, false);
  return tables;
};

const blocksIn = (document: TagDocument, section: TagSection): TagBlock[] => {
  const blocks: TagBlock[] = [];
  let head: TagRecord | null = null;
  let entities: TagRecord[] = [];
  const close = (tail: TagRecord | null, end: number): void => {
    if (head) blocks.push({ name: nameOf(document, head) ?? '', head, entities, tail, start: head.start, end });
    head = null;
    entities = [];
  };
  for (const record of recordsBetween(document.tags, section.bodyStart, section.bodyEnd)) {
    if (record.type === 'BLOCK') {
      close(null, record.start);
      head = record;
    } else if (record.type === 'ENDBLK') close(record, record.end);
    else if (head) entities.push(record);
  }
  close(null, section.bodyEnd);
  return blocks;
};

/** The records of a whole document. */
export const structureOf = (document: TagDocument): TagStructure => {
  const all = sections(document);
  const within = (name: string): TagSection[] => all.filter((section) => section.name === name);
  const recordsOf = (name: string): TagRecord[] =>
    within(name).flatMap((section) => recordsBetween(document.tags, section.bodyStart, section.bodyEnd));
  return {
    sections: all,
    tables: within('TABLES').flatMap((section) => tablesIn(document, section)),
    blocks: within('BLOCKS').flatMap((section) => blocksIn(document, section)),
    entities: recordsOf('ENTITIES'),
    objects: recordsOf('OBJECTS'),
  };
};

/** First tag with this code among the record's own (not in XDATA, embedded objects or the braces of group 102). */
export const firstTag = (document: TagDocument, record: TagRecord, code: number): Tag | undefined => {
  const at = placeOf(document, record, code);
  return at < 0 ? undefined : document.tags[at];
};

/** Place of that tag, or -1. */
export const placeOf = (document: TagDocument, record: TagRecord, code: number): number => {
  const { tags } = document;
  let braces = false;
  for (let at = record.start + 1; at < record.end; at++) {
    const tag = tags[at]!;
    if (tag.code === 1001 || tag.code === 101) break;
    if (tag.code === 102 && code !== 102) braces = tag.value.trimStart().startsWith('{');
    else if (tag.code === code && !braces) return at;
  }
  return -1;
};

/** The record's name (group 2), decoded and without blanks around it; null where it has none. */
export const nameOf = (document: TagDocument, record: TagRecord): string | null => {
  const tag = firstTag(document, record, 2);
  return tag === undefined ? null : decodeText(document.coding, tag.value.trim());
};

/** Range of the record's XDATA of one application, from its 1001 tag on; null where it carries none. */
export const xdataOf = (document: TagDocument, record: TagRecord, application: string): [number, number] | null => {
  const { tags } = document;
  for (let at = record.start + 1; at < record.end; at++) {
    const tag = tags[at]!;
    if (tag.code !== 1001 || tag.value.trim().toUpperCase() !== application) continue;
    let end = at + 1;
    while (end < record.end && tags[end]!.code !== 1001) end++;
    return [at, end];
  }
  return null;
};

/** Range of a header variable's value tags (after its group 9), or null where the header has none of that name. */
export const headerRange = (document: TagDocument, name: string): [number, number] | null => {
  const { tags } = document;
  for (const section of sections(document)) {
    if (section.name !== 'HEADER') continue;
    for (let at = section.bodyStart; at < section.bodyEnd; at++) {
      if (tags[at]!.code !== 9 || tags[at]!.value.trim() !== name) continue;
      let end = at + 1;
      while (end < section.bodyEnd && tags[end]!.code !== 9 && tags[end]!.code !== 0) end++;
      return [at + 1, end];
    }
  }
  return null;
};

/** The highest handle that any record of the document carries, as a number; 0 where none has one. New handles start above it. */
export const highestHandle = (document: TagDocument): bigint => {
  const { tags } = document;
  // The header's group 5 is $HANDSEED, which is no record's handle.
  const header = sections(document).find((s) => s.name === 'HEADER');
  let longest = '';
  let type = '';
  for (let at = 0; at < tags.length; at++) {
    const tag = tags[at]!;
    if (tag.code === 0) type = tag.value.trim();
    const inHeader = header !== undefined && at >= header.bodyStart && at < header.bodyEnd;
    if (inHeader || (tag.code !== 5 && !(tag.code === 105 && type === 'DIMSTYLE'))) continue;
    const handle = handleOf(tag.value);
    if (handle === null) continue;
    if (handle.length > longest.length || (handle.length === longest.length && handle > longest)) longest = handle;
  }
  return longest === '' ? 0n : BigInt(`0x${longest}`);
};

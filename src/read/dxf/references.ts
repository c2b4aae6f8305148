/** References to records that are taken out: in reactor and owner lists, dictionaries, groups and drawing orders. */

import { handleOf, type Tag, type TagDocument, type TagRecord, type TagStructure } from '../../ground/tags.js';

/** What is needed of a set of cuts. */
export interface Cutting {
  readonly document: TagDocument;
  cut(start: number, end: number): void;
  record(start: number, end: number): void;
  isCut(at: number): boolean;
}

const allRecords = (structure: TagStructure): TagRecord[] => [
  ...structure.tables.flatMap((table) => [table.head, ...table.entries]),
  ...structure.blocks.flatMap((block) => [block.head, ...block.entities, ...(block.tail ? [block.tail] : [])]),
  ...structure.entities,
  ...structure.objects,
];

/** Handles of records that go and that no staying record carries as well. */
const goneHandles = (cutting: Cutting, records: readonly TagRecord[]): Set<string> => {
  const gone = new Set<string>();
  for (const record of records) if (record.handle !== null && cutting.isCut(record.start)) gone.add(record.handle);
  for (const record of records) if (record.handle !== null && !cutting.isCut(record.start)) gone.delete(record.handle);
  return gone;
};

/** Objects that belong to records that go (extension dictionaries and what they hold) go with them. */
const cutOwned = (cutting: Cutting, objects: readonly TagRecord[], gone: Set<string>): void => {
  const byOwner = new Map<string, TagRecord[]>();
  for (const record of objects) {
    if (record.owner === null) continue;
    const list = byOwner.get(record.owner);
    if (list) list.push(record);
    else byOwner.set(record.owner, [record]);
  }
  const waiting = [...gone];
  for (let owner = waiting.pop(); owner !== undefined; owner = waiting.pop()) {
    for (const record of byOwner.get(owner) ?? []) {
      if (cutting.isCut(record.start)) continue;
      cutting.record(record.start, record.end);
      if (record.handle === null || gone.has(record.handle)) continue;
      gone.add(record.handle);
      waiting.push(record.handle);
    }
  }
};

const refersTo = (tag: Tag | undefined, gone: ReadonlySet<string>): boolean =>
  tag !== undefined && tag.code >= 320 && tag.code <= 369 && gone.has(handleOf(tag.value) ?? '');

/** Cuts references inside braces (102 … 102), and the braces where nothing is left between them. */
const cutInBraces = (cutting: Cutting, record: TagRecord, gone: ReadonlySet<string>): void => {
  const { tags } = cutting.document;
  let open = -1;
  let left = 0;
  let cut = 0;
  for (let at = record.start; at < record.end; at++) {
    const tag = tags[at]!;
    if (tag.code === 102 && tag.value.trimStart().startsWith('{')) {
      open = at;
      left = 0;
      cut = 0;
    } else if (tag.code === 102) {
      if (open >= 0 && cut > 0 && left === 0) cutting.cut(open, at + 1);
      open = -1;
    } else if (open < 0) continue;
    else if (refersTo(tag, gone)) {
      cutting.cut(at, at + 1);
      cut++;
    } else left++;
  }
};

/** Lists of pairs in which the name or handle before a reference goes with it: type → code of the reference, place of its partner. */
const PAIRS: Readonly<Record<string, { readonly codes: readonly number[]; readonly partner: -1 | 1 | 0 }>> = {
  DICTIONARY: { codes: [350, 360], partner: -1 },
  SORTENTSTABLE: { codes: [331], partner: 1 },
  GROUP: { codes: [340], partner: 0 },
  VIEWPORT: { codes: [331, 341], partner: 0 },
};

const cutInLists = (cutting: Cutting, record: TagRecord, gone: ReadonlySet<string>): void => {
  const list = PAIRS[record.type];
  if (!list) return;
  for (let at = record.start; at < record.end; at++) {
    const tag = cutting.document.tags[at]!;
    if (!list.codes.includes(tag.code) || !refersTo(tag, gone)) continue;
    cutting.cut(at + Math.min(0, list.partner), at + 1 + Math.max(0, list.partner));
  }
};

/** Cuts, besides the records that go already, what belongs to them and what points at them. */
export const dropReferences = (cutting: Cutting, structure: TagStructure): void => {
  const records = allRecords(structure);
  const gone = goneHandles(cutting, records);
  if (gone.size === 0) return;
  cutOwned(cutting, structure.objects, gone);
  for (const record of records) {
    if (cutting.isCut(record.start)) continue;
    cutInBraces(cutting, record, gone);
    cutInLists(cutting, record, gone);
  }
};

/** Entities with the records that belong to them, and the names by which they are told apart. */

import { compareText } from '../../ground/order.js';
import { numberOf, shortest, type TagDocument, type TagRecord, valueKind } from '../../ground/tags.js';

export interface EntityGroup {
  readonly record: TagRecord;
  /** VERTEX records of a POLYLINE, ATTRIB records of an INSERT. */
  readonly parts: readonly TagRecord[];
  /** Place after the last tag of the record, its parts and their SEQEND. */
  readonly end: number;
}

const PARTS: Readonly<Record<string, string>> = { POLYLINE: 'VERTEX', INSERT: 'ATTRIB' };

/** Joins POLYLINE with its VERTEX records and INSERT with its ATTRIB records; both end at SEQEND. */
export const grouped = (records: readonly TagRecord[]): EntityGroup[] => {
  const groups: EntityGroup[] = [];
  for (let at = 0; at < records.length; at++) {
    const record = records[at]!;
    const partType = PARTS[record.type];
    const parts: TagRecord[] = [];
    let end = record.end;
    if (partType !== undefined) {
      while (records[at + 1]?.type === partType) {
        parts.push(records[++at]!);
        end = records[at]!.end;
      }
      if (records[at + 1]?.type === 'SEQEND' && (parts.length > 0 || record.type === 'POLYLINE'))
        end = records[++at]!.end;
    }
    groups.push({ record, parts, end });
  }
  return groups;
};

/** One record that needs a name: its place in the tags, and the container in which it is counted. */
export interface Nameable {
  readonly record: TagRecord;
  readonly end: number;
  /** The block's name, '' for the drawing itself; attributes: that of their insert. */
  readonly container: string;
}

/** What the record says, numbers in one form, so that text and binary files of one drawing say the same. */
const contentOf = (document: TagDocument, item: Nameable): string => {
  const said: (string | number)[] = [item.container];
  for (let at = item.record.start; at < item.end; at++) {
    const { code, value } = document.tags[at]!;
    const n = valueKind(code) === 'text' ? null : numberOf(value);
    said.push(code, n === null ? value : shortest(n));
  }
  // Joined at once: of many entities without handles it is a large part of what reading needs.
  return said.join('\n');
};

/** Names a set of records that have the same stem: in the order of what they say, so that their order in the file does not matter. */
const numbered = (
  document: TagDocument,
  items: readonly Nameable[],
  name: (n: number) => string,
  names: Map<number, string>,
): void => {
  const ranked = items.map((item) => ({ item, content: contentOf(document, item) }));
  ranked.sort((a, b) => compareText(a.content, b.content));
  ranked.forEach(({ item }, i) => {
    names.set(item.record.start, name(i + 1));
  });
};

const collect = <K>(map: Map<K, Nameable[]>, key: K, item: Nameable): void => {
  const list = map.get(key);
  if (list) list.push(item);
  else map.set(key, [item]);
};

/**
 * A name for each record, by its place: the handle; 'handle~2' and so on where several records have the same handle; '#n' where there is none, counted
 * within the container. `repeated` are the handles that stand more than once, sorted.
 */
export const namesOf = (
  document: TagDocument,
  items: readonly Nameable[],
): { readonly names: ReadonlyMap<number, string>; readonly repeated: readonly string[] } => {
  const byHandle = new Map<string, Nameable[]>();
  const without = new Map<string, Nameable[]>();
  for (const item of items) {
    if (item.record.handle === null) collect(without, item.container, item);
    else collect(byHandle, item.record.handle, item);
  }
  const names = new Map<number, string>();
  const repeated: string[] = [];
  for (const [handle, same] of byHandle) {
    if (same.length === 1) {
      names.set(same[0]!.record.start, handle);
      continue;
    }
    repeated.push(handle);
    numbered(document, same, (n) => (n === 1 ? handle : `${handle}~${n}`), names);
  }
  for (const same of without.values()) numbered(document, same, (n) => `#${n}`, names);
  return { names, repeated: repeated.sort(compareText) };
};

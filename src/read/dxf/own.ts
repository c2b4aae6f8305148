/** Takes out what this program once added, so that laying out a drawing that was laid out before gives the same again. */

import { type Finding, finding } from '../../ground/findings.js';
import {
  APPLICATION_ID,
  BLOCK_PREFIX,
  firstTag,
  handleOf,
  integerOf,
  nameOf,
  ownEnd,
  placeOf,
  restated,
  structureOf,
  type Tag,
  type TagBlock,
  type TagDocument,
  type TagRecord,
  type TagStructure,
  type TagTable,
  xdataOf,
} from '../../ground/tags.js';
import { type EntityGroup, grouped } from './groups.js';
import { dropReferences } from './references.js';

/** Ranges of tags to be left out, and tags to be put in the place of others. */
class Cuts {
  private readonly out: Uint8Array;
  readonly replaced = new Map<number, Tag>();
  records = 0;

  constructor(readonly document: TagDocument) {
    this.out = new Uint8Array(document.tags.length);
  }

  cut(start: number, end: number): void {
    this.out.fill(1, start, end);
  }

  record(start: number, end: number): void {
    if (this.isCut(start)) return;
    this.records++;
    this.cut(start, end);
  }

  isCut(at: number): boolean {
    return this.out[at] === 1;
  }

  tags(): Tag[] {
    const kept: Tag[] = [];
    const { tags } = this.document;
    for (let at = 0; at < tags.length; at++) if (this.out[at] !== 1) kept.push(this.replaced.get(at) ?? tags[at]!);
    return kept;
  }
}

const isOurBlock = (name: string | null): boolean => name?.toUpperCase().startsWith(BLOCK_PREFIX) ?? false;

const PAPER_SPACE = '*PAPER_SPACE';

/**
 * A block with a sheet of ours. Not the one that is called *Paper_Space alone: every drawing needs it, and a CAD program gives that name to the block of
 * whatever layout was looked at last; it is emptied of what is ours and its layout stays.
 */
const isOurPaper = (document: TagDocument, block: TagBlock): boolean => {
  const name = block.name.toUpperCase();
  return name.startsWith(PAPER_SPACE) && name !== PAPER_SPACE && isMarked(document, block.head);
};

const isMarked = (document: TagDocument, record: TagRecord): boolean =>
  xdataOf(document, record, APPLICATION_ID) !== null;

/** Whether there can be anything of ours at all: a look at the tags before any structure is made. */
const mayHoldOurs = (document: TagDocument): boolean =>
  document.tags.some(
    ({ code, value }) => (code === 1001 || code === 2) && value.trim().toUpperCase().startsWith(APPLICATION_ID),
  );

/** An entity of ours: it, one of its parts or its SEQEND carries our mark, or it inserts a block of ours. */
const isOurs = (document: TagDocument, group: EntityGroup): boolean => {
  const { record } = group;
  if (isMarked(document, record)) return true;
  return record.type === 'INSERT' && isOurBlock(nameOf(document, record));
};

/** Cuts the entities of ours among these records, and single attributes of ours on inserts of others; gives those that stay. */
const cutEntities = (cuts: Cuts, records: readonly TagRecord[]): EntityGroup[] => {
  const { document } = cuts;
  const staying: EntityGroup[] = [];
  for (const group of grouped(records)) {
    if (isOurs(document, group)) {
      cuts.record(group.record.start, group.end);
      continue;
    }
    for (const part of group.parts) if (isMarked(document, part)) cuts.record(part.start, part.end);
    staying.push(group);
  }
  return staying;
};

/** Names of blocks that the DIMENSION entities among these groups draw themselves with. */
const dimensionBlocks = (document: TagDocument, records: readonly TagRecord[]): string[] =>
  records
    .filter((record) => record.type === 'DIMENSION')
    .map((record) => nameOf(document, record)?.toUpperCase() ?? '')
    .filter((name) => name.startsWith('*D'));

/** Names (upper case) of the blocks that go: those with our prefix, and the anonymous ones that only our dimensions draw. */
const blocksToCut = (cuts: Cuts, structure: TagStructure, stayingRecords: readonly TagRecord[]): Set<string> => {
  const { document } = cuts;
  const all = [...structure.entities, ...structure.blocks.flatMap((block) => block.entities)];
  const needed = new Set(dimensionBlocks(document, stayingRecords));
  const ours = dimensionBlocks(
    document,
    all.filter((record) => cuts.isCut(record.start)),
  );
  const names = structure.blocks.map((block) => block.name).filter(isOurBlock);
  return new Set([...names.map((name) => name.toUpperCase()), ...ours.filter((name) => !needed.has(name))]);
};

const cutBlocks = (cuts: Cuts, blocks: readonly TagBlock[], names: ReadonlySet<string>): void => {
  for (const block of blocks) if (names.has(block.name.toUpperCase())) cuts.record(block.start, block.end);
};

/** Codes by which tags refer to table entries by name. */
const NAME_CODES: Readonly<Record<string, readonly number[]>> = { LAYER: [8], LTYPE: [6], STYLE: [7], DIMSTYLE: [3] };

/** Names (upper case) of the layers, line types or styles that what stays still refers to. */
const namesInUse = (cuts: Cuts, table: string, structure: TagStructure): Set<string> => {
  const { document } = cuts;
  const codes = NAME_CODES[table] ?? [];
  const used = new Set<string>();
  const look = (record: TagRecord): void => {
    if (cuts.isCut(record.start)) return;
    for (let at = record.start; at < record.end; at++) {
      const tag = document.tags[at]!;
      if (codes.includes(tag.code)) used.add(tag.value.trim().toUpperCase());
    }
  };
  structure.entities.forEach(look);
  for (const block of structure.blocks) for (const record of [block.head, ...block.entities]) look(record);
  if (table === 'LTYPE') for (const other of structure.tables) if (other.name === 'LAYER') other.entries.forEach(look);
  return used;
};

/** What the header names as current: a table entry that it names stays. */
const CURRENT: readonly string[] = ['$CLAYER', '$CELTYPE', '$TEXTSTYLE', '$DIMSTYLE'];

const currentNames = (document: TagDocument): Set<string> => {
  const names = new Set<string>();
  for (let at = 0; at + 1 < document.tags.length; at++) {
    const tag = document.tags[at]!;
    if (tag.code === 0 && tag.value.trim() === 'ENDSEC') break;
    if (tag.code === 9 && CURRENT.includes(tag.value.trim()))
      names.add(document.tags[at + 1]!.value.trim().toUpperCase());
  }
  return names;
};

/** Names in use, looked for once for each kind of table and only where there is something of ours to decide about. */
const useFinder = (cuts: Cuts, structure: TagStructure): ((table: string) => ReadonlySet<string>) => {
  const known = new Map<string, ReadonlySet<string>>();
  return (table) => {
    const used = known.get(table) ?? namesInUse(cuts, table, structure);
    known.set(table, used);
    return used;
  };
};

/** Cuts our entries from one table; an entry that something else still needs stays, without our mark. */
const cutEntries = (
  cuts: Cuts,
  table: TagTable,
  blocks: ReadonlySet<string>,
  isNeeded: (name: string) => boolean,
): void => {
  const { document } = cuts;
  for (const record of table.entries) {
    const name = nameOf(document, record)?.toUpperCase() ?? '';
    const mark = xdataOf(document, record, APPLICATION_ID);
    if (table.name === 'APPID' && name === APPLICATION_ID) cuts.record(record.start, record.end);
    else if (table.name === 'BLOCK_RECORD') {
      if (blocks.has(name)) cuts.record(record.start, record.end);
    } else if (mark && isNeeded(firstTag(document, record, 2)?.value.trim().toUpperCase() ?? '')) cuts.cut(...mark);
    else if (mark) cuts.record(record.start, record.end);
  }
};

/** Cuts our entries from the tables and lowers the tables' counts. */
const cutTables = (cuts: Cuts, structure: TagStructure, blocks: ReadonlySet<string>): void => {
  const { document } = cuts;
  const current = currentNames(document);
  const used = useFinder(cuts, structure);
  // Layers first: a line type of ours that only layers of ours name goes with them.
  const layersFirst = [
    ...structure.tables.filter((table) => table.name === 'LAYER'),
    ...structure.tables.filter((table) => table.name !== 'LAYER'),
  ];
  for (const table of layersFirst) {
    const before = cuts.records;
    cutEntries(cuts, table, blocks, (name) => current.has(name) || used(table.name).has(name));
    const removed = cuts.records - before;
    const at = placeOf(document, table.head, 70);
    const count = at < 0 ? null : integerOf(document.tags[at]!.value);
    if (removed > 0 && count !== null) {
      const value = restated(document.tags[at]!.value, Math.max(0, count - removed));
      cuts.replaced.set(at, { code: 70, value });
    }
  }
};

/**
 * The document without anything of ours: entities that carry XDATA of our application (inserts with their attributes, dimensions with the blocks that draw
 * them), blocks with our prefix and what inserts them, our table entries, our application id, and references to all these. The second
 * finding says how much it was. A document without anything of ours comes back as it is.
 */
export const withoutOwn = (
  document: TagDocument,
): { readonly document: TagDocument; readonly findings: readonly Finding[] } => {
  if (!mayHoldOurs(document)) return { document, findings: [] };
  const structure = structureOf(document);
  const cuts = new Cuts(document);
  const papers = structure.blocks.filter((block) => isOurPaper(document, block));
  for (const block of structure.blocks) if (isOurBlock(block.name)) cuts.record(block.start, block.end);
  for (const block of papers) cuts.record(block.start, block.end);
  const staying = cutEntities(cuts, structure.entities);
  for (const block of structure.blocks) {
    if (cuts.isCut(block.start)) continue;
    for (const group of cutEntities(cuts, block.entities)) staying.push(group);
  }
  const blocks = blocksToCut(
    cuts,
    structure,
    staying.map((group) => group.record),
  );
  cutBlocks(cuts, structure.blocks, blocks);
  cutTables(cuts, structure, new Set([...blocks, ...papers.map((block) => block.name.toUpperCase())]));
  const shown = structure.tables
    .flatMap((table) => (table.name === 'BLOCK_RECORD' ? table.entries : []))
    .find((record) => nameOf(document, record)?.toUpperCase() === PAPER_SPACE);
  for (const record of structure.objects) {
    const isShown = record.type === 'LAYOUT' && shown?.handle != null && belongsTo(document, record, shown.handle);
    if (isMarked(document, record) && !isShown) cuts.record(record.start, record.end);
  }
  dropReferences(cuts, structure);
  stripMarks(cuts);
  if (cuts.records === 0 && cuts.tags().length === document.tags.length) return { document, findings: [] };
  const message = `The drawing holds ${cuts.records} entities, blocks and table entries of an earlier layout by this program; they were taken out first.`;
  return { document: { ...document, tags: cuts.tags() }, findings: [finding('read.own-entities', message)] };
};

/** Whether a layout is that of a block record: its last reference (330) before extended data. */
const belongsTo = ({ tags }: TagDocument, layout: TagRecord, block: string): boolean => {
  const end = ownEnd(tags, layout.start, layout.end);
  for (let at = end - 1; at > layout.start; at--)
    if (tags[at]!.code === 330) return handleOf(tags[at]!.value) === block;
  return false;
};

/** Our marks on records that stay (a block head, a layout): without the application id they would refer to nothing. */
const stripMarks = (cuts: Cuts): void => {
  const { tags } = cuts.document;
  let ours = false;
  for (let at = 0; at < tags.length; at++) {
    const { code, value } = tags[at]!;
    if (code === 0) ours = false;
    else if (code === 1001) ours = value.trim().toUpperCase() === APPLICATION_ID;
    if (ours) cuts.cut(at, at + 1);
  }
};

/** DXF to Drawing: linework, texts, dimensions and layers in world coordinates, and the document itself for what is written later. */

import { type Finding, finding, type Refusable } from '../../ground/findings.js';
import { byText } from '../../ground/order.js';
import {
  handleOf,
  headerRange,
  integerOf,
  parseTags,
  placeOf,
  sections,
  structureOf,
  type TagBlock,
  type TagDocument,
  type TagLimits,
  type TagRecord,
  type TagStructure,
} from '../../ground/tags.js';
import type { LengthUnit } from '../../ground/units.js';
import type { Drawing, DrawingLeader } from '../../ground/vocabulary.js';
import { clipsOf } from './clips.js';
import { basePoint, ContentReader, KnotBudget, referenceOf, type Surroundings, writtenIn } from './content.js';
import { dimensionHeights } from './dimensionHeights.js';
import { multiStyles } from './entities/multilines.js';
import { type BlockContent, Expansion, READ_LIMITS, type ReadLimits } from './expand.js';
import { type EntityGroup, grouped, type Nameable, namesOf } from './groups.js';
import type { Content } from './items.js';
import { Layers } from './layers.js';
import { LineTypes } from './linetypes.js';
import { listed, ReadLog } from './log.js';
import { mend } from './mend.js';
import { withoutOwn } from './own.js';

/** $INSUNITS codes that are units here. Source: DXF reference, $INSUNITS. */
const UNITS: Readonly<Record<number, LengthUnit>> = { 1: 'in', 2: 'ft', 4: 'mm', 5: 'cm', 6: 'm' };

const declaredUnit = (document: TagDocument): number | null => {
  const range = headerRange(document, '$INSUNITS');
  return range === null ? null : integerOf(document.tags[range[0]]?.value);
};

/** Why nothing can be read: no section but an open header. */
const cutInHeader = (document: TagDocument): boolean => {
  const all = sections(document);
  return (
    all.every((section) => section.name === 'HEADER' || section.name === '') && !all.some((section) => section.closed)
  );
};

interface Blocks {
  readonly groups: ReadonlyMap<string, { readonly block: TagBlock; readonly groups: readonly EntityGroup[] }>;
  readonly model: readonly EntityGroup[];
  readonly paper: number;
}

const isModel = (name: string): boolean => /^[*$]MODEL_SPACE$/.test(name);
const isPaper = (name: string): boolean => /^[*$]PAPER_SPACE\d*$/.test(name);

/** Blocks by upper-case name, and apart from them what stands in model space and in paper space. */
const sorted = (document: TagDocument, structure: TagStructure, log: ReadLog): Blocks => {
  const paperOwners = new Set<string>();
  for (const table of structure.tables) {
    if (table.name !== 'BLOCK_RECORD') continue;
    for (const record of table.entries) {
      const at = placeOf(document, record, 2);
      const name = at < 0 ? '' : document.tags[at]!.value.trim().toUpperCase();
      if (isPaper(name) && record.handle !== null) paperOwners.add(record.handle);
    }
  }
  const onPaper = ({ record }: EntityGroup): boolean => {
    const at = placeOf(document, record, 67);
    if (at >= 0) return integerOf(document.tags[at]!.value) === 1;
    return record.owner !== null && paperOwners.has(record.owner);
  };
  const blocks = new Map<string, { block: TagBlock; groups: readonly EntityGroup[] }>();
  const inDrawing = grouped(structure.entities);
  let paper = 0;
  for (const block of structure.blocks) {
    const name = block.name.toUpperCase();
    const groups = grouped(block.entities);
    if (isModel(name)) for (const group of groups) inDrawing.push(group);
    else if (isPaper(name)) paper += groups.length;
    else if (blocks.has(name)) log.blockTwice(block.name);
    else blocks.set(name, { block, groups });
  }
  const model = inDrawing.filter((group) => !onPaper(group));
  return { groups: blocks, model, paper: paper + inDrawing.length - model.length };
};

/** Everything that gets a name: entities and attributes, with the container in which they are counted. */
const nameables = ({ groups, model }: Blocks): Nameable[] => {
  const items: Nameable[] = [];
  const add = (group: EntityGroup, container: string): void => {
    items.push({ record: group.record, end: group.end, container });
    if (group.record.type !== 'INSERT') return;
    for (const part of group.parts) items.push({ record: part, end: part.end, container: `@${group.record.start}` });
  };
  for (const group of model) add(group, '');
  for (const [name, { groups: inside }] of groups) for (const group of inside) add(group, name);
  return items;
};

/** Entities in the order of their names, so that what a limit leaves out does not depend on their order in the file. */
const inNameOrder = (groups: readonly EntityGroup[], around: Surroundings): EntityGroup[] =>
  [...groups].sort(byText((group) => around.nameOf(group.record)));

const readGroups = (groups: readonly EntityGroup[], around: Surroundings, inBlock: boolean): Content => {
  const reader = new ContentReader(around, inBlock);
  for (const group of groups) reader.read(group);
  return reader.content;
};

/** Finds blocks by name and reads each once, when it is first needed. */
const blockFinder = (blocks: Blocks, around: Surroundings): ((name: string) => BlockContent | null) => {
  const known = new Map<string, BlockContent | null>();
  return (name) => {
    const key = name.toUpperCase();
    const had = known.get(key);
    if (had !== undefined) return had;
    const found = blocks.groups.get(key);
    if (!found) around.log.blockMissing(name);
    else {
      const path = referenceOf(around.document, found.block.head);
      if (path !== null) around.log.blockOutside(found.block.name, path);
    }
    const block = found && {
      name: found.block.name,
      base: basePoint(around.document, found.block.head),
      content: readGroups(inNameOrder(found.groups, around), around, true),
    };
    known.set(key, block ?? null);
    return block ?? null;
  };
};

/** What is written in a block, each block looked through once. */
const textFinder = (document: TagDocument, blocks: Blocks): ((name: string) => string | null) => {
  const known = new Map<string, string | null>();
  return (name) => {
    const key = name.toUpperCase();
    const had = known.get(key);
    if (had !== undefined) return had;
    const found = blocks.groups.get(key);
    const text = found ? writtenIn(document, found.block.entities) : null;
    known.set(key, text);
    return text;
  };
};

/** What leaders can point at: a text by its handle, or the one attribute of an insert, where no other entity has that handle. */
const annotations = (blocks: Blocks, nameOf: (record: TagRecord) => string): ((handle: string) => string | null) => {
  let known: Map<string, string | null> | null = null;
  const add = (all: Map<string, string | null>, { record, parts }: EntityGroup): void => {
    if (record.handle === null) return;
    const isText = record.type === 'TEXT' || record.type === 'MTEXT';
    const attribute = record.type === 'INSERT' && parts.length === 1 ? `${nameOf(record)}/${nameOf(parts[0]!)}` : null;
    all.set(record.handle, all.has(record.handle) ? null : isText ? nameOf(record) : attribute);
  };
  return (stated) => {
    if (known === null) {
      known = new Map();
      for (const group of blocks.model) add(known, group);
      for (const { groups } of blocks.groups.values()) for (const group of groups) add(known, group);
    }
    const handle = handleOf(stated);
    return handle === null ? null : (known.get(handle) ?? null);
  };
};

/** Leaders with the text that hangs on them, where that text was read. */
const hung = ({ leaders, texts }: Expansion): DrawingLeader[] => {
  if (leaders.every((leader) => leader.text === null)) return leaders;
  const sources = new Set(texts.map((text) => text.source));
  return leaders.map((leader) =>
    leader.text === null || sources.has(leader.text) ? leader : { ...leader, text: null },
  );
};

const insertsIn = function* ({ groups, model }: Blocks): Iterable<TagRecord> {
  for (const list of [model, ...[...groups.values()].map((block) => block.groups)]) {
    for (const { record } of list) if (record.type === 'INSERT') yield record;
  }
};

/** Entities that are read before they are placed. */
const PORTION = 10_000;

const drawingOf = (document: TagDocument, limits: ReadLimits): { drawing: Drawing; findings: Finding[] } => {
  const structure = structureOf(document);
  const log = new ReadLog();
  const lineTypes = new LineTypes(document, structure);
  const layers = new Layers(document, structure, lineTypes);
  const blocks = sorted(document, structure, log);
  for (let i = 0; i < blocks.paper; i++) log.isOnPaper();
  const { names, repeated } = namesOf(document, nameables(blocks));
  const nameOf = (record: TagRecord): string => names.get(record.start) ?? `#${record.start}`;
  const clips = clipsOf(document, structure, insertsIn(blocks));
  const around: Surroundings = {
    document,
    layers,
    lineTypes,
    clips,
    log,
    budget: new KnotBudget(limits.vertices, log),
    nameOf,
    multiStyleOf: multiStyles(document, structure, lineTypes),
    textWithHandle: annotations(blocks, nameOf),
    textInBlock: textFinder(document, blocks),
    dimensionHeight: dimensionHeights(document, structure),
  };
  const expansion = new Expansion(layers, log, blockFinder(blocks, around), limits);
  const model = inNameOrder(blocks.model, around);
  // In portions: what was read of one is let go before the next.
  for (let at = 0; at < model.length; at += PORTION) {
    expansion.all(readGroups(model.slice(at, at + PORTION), around, false));
  }
  const findings = log.findings();
  if (repeated.length > 0) {
    const message = `${repeated.length} handles stand on more than one entity: ${listed(repeated)}.`;
    findings.push(finding('read.duplicate-handles', message, { assumed: "told apart here by '~2' and so on" }));
  }
  if (clips.unused > 0) {
    const message = `${clips.unused} insert(s) are clipped, so that only part of their block is seen.`;
    findings.push(finding('read.clipped', message, { assumed: 'the whole block was read' }));
  }
  const code = declaredUnit(document);
  const bySource = byText<{ readonly source: string }>((item) => item.source);
  const drawing: Drawing = {
    kind: 'dxf',
    version: document.version,
    declaredUnitCode: code,
    declaredUnit: code === null ? null : (UNITS[code] ?? null),
    layers: layers.all(),
    paths: expansion.paths.sort(bySource),
    texts: expansion.texts.sort(bySource),
    dimensions: expansion.dimensions.sort(bySource),
    leaders: hung(expansion).sort(bySource),
    inserts: expansion.inserts.sort(bySource),
    unread: log.unreadCounts(),
    unreadOn: log.unreadOn(),
    document,
  };
  return { drawing, findings };
};

/**
 * Reads a DXF, R12 to R2018, text or binary. Coordinates stay in drawing units. Lists are sorted: paths, texts, dimensions, leaders and inserts by source, layers by name, in code-unit
 * order. Of sources: several entities with one handle are told apart by '~2', copies of an array by '[column,row]', further
 * outlines of one entity by '.2'. Refuses, with one sentence, what is no DXF or is cut inside its header; reads a file cut later as far as it goes and says so.
 */
export const readDxf = (bytes: Uint8Array, limits: Partial<ReadLimits & TagLimits> = {}): Refusable<Drawing> => {
  const parsed = parseTags(bytes, limits);
  if (!parsed.ok) return parsed;
  if (cutInHeader(parsed.value)) {
    const message = 'The DXF is cut within its header: there is no drawing in it. Get the file again.';
    return { ok: false, findings: [...parsed.findings, finding('read.refused', message)] };
  }
  const mended = mend(parsed.value);
  const cleared = withoutOwn(mended.document);
  const { drawing, findings } = drawingOf(cleared.document, { ...READ_LIMITS, ...limits });
  return {
    ok: true,
    value: drawing,
    findings: [...parsed.findings, ...mended.findings, ...cleared.findings, ...findings],
  };
};

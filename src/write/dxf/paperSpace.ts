/**
 * Sheets of paper put into a drawing. From R2000 on each is a layout of its own: a block record, the block with what stands on the paper, and a LAYOUT
 * object in the dictionary of layouts; the drawing's own layouts stay as they are. Before R2000 there is one paper space: the sheets stand in it side by
 * side, right of what it holds already. Group codes: DXF reference, LAYOUT, PLOTSETTINGS, DICTIONARY.
 */

import {
  decodeText,
  encodeText,
  firstTag,
  handleOf,
  integerOf,
  nameOf,
  ownEnd,
  type Tag,
  type TagDocument,
  type TagRecord,
  type TagStructure,
} from '../../ground/tags.js';
import type { Edits } from './edits.js';
import { type Encoding, encodePaperBlock, encodeShape, encodeViewport, numberValue, xdata } from './encode.js';
import { paperExtents } from './extents.js';
import type { Handles } from './handles.js';
import { moved, type PaperSheet, type Shape, type Viewport } from './sheet.js';
import { blockRecord, type RecordPlace } from './tableRecords.js';

/** What the splicer hands on. */
export interface PaperGround {
  readonly document: TagDocument;
  readonly structure: TagStructure;
  readonly edits: Edits;
  readonly handles: Handles;
  readonly encoding: Encoding;
  /** Drawing units per mm of the model space. */
  readonly perMm: number;
  readonly addRecords: (entries: readonly ((place: RecordPlace) => Tag[])[]) => (string | null)[];
}

/** What was put in, apart from what went into tables and objects. */
export interface PutPapers {
  readonly blocks: readonly Tag[];
  /** For the ENTITIES section: sheets of the one paper space. */
  readonly entities: readonly Tag[];
  /** Objects of ours. */
  readonly objects: readonly Tag[];
  /** Names of the blocks, one a sheet; empty where they stand among the entities. */
  readonly blockNames: readonly string[];
  /** The papers as they stand: moved side by side where there is one paper space. */
  readonly papers: readonly PaperSheet[];
}

export const NO_PAPERS: PutPapers = { blocks: [], entities: [], objects: [], blockNames: [], papers: [] };

/** Layouts came with R2000. */
export const hasLayouts = (version: string): boolean => version >= 'AC1015';

const tag = (code: number, value: string | number): Tag => ({ code, value: String(value) });

/** Room between sheets in the one paper space, and to what stands there already, mm. */
const BETWEEN_MM = 50;

/** The sheet's own view of its paper. */
const paperView = (paper: PaperSheet): Viewport => {
  const middle = { x: paper.widthMm / 2, y: paper.heightMm / 2 };
  return { centre: middle, widthMm: paper.widthMm, heightMm: paper.heightMm, lookAt: middle, scale: 1 };
};

const movedPaper = (paper: PaperSheet, x: number, y: number): PaperSheet => ({
  ...paper,
  shapes: paper.shapes.map((s) => moved(s, { x, y })),
  viewports: paper.viewports.map((v) => ({ ...v, centre: { x: v.centre.x + x, y: v.centre.y + y } })),
});

const onPaper = (ground: PaperGround): Encoding => ({ ...ground.encoding, perMm: 1, isPaper: true });

const shapesOf = (encoding: Encoding, shapes: readonly Shape[], owner: string | null): Tag[] =>
  shapes.flatMap((s) => encodeShape(encoding, s, owner));

/** Before R2000. */
const sideBySide = (ground: PaperGround, papers: readonly PaperSheet[]): PutPapers => {
  const encoding = onPaper(ground);
  const { bounds, highestId } = paperExtents(ground.document);
  let x = bounds.maxX > bounds.minX ? Math.ceil(bounds.maxX) + BETWEEN_MM : 0;
  const placed = papers.map((paper) => {
    const here = movedPaper(paper, x, 0);
    x += paper.widthMm + BETWEEN_MM;
    return here;
  });
  // The first viewport of the paper space is its own view.
  let id = Math.max(1, highestId);
  const all: PaperSheet = { ...papers[0]!, widthMm: x, shapes: [], viewports: [] };
  const view = highestId > 0 ? [] : encodeViewport(encoding, paperView(all), 1, 1, null);
  const space = ground.structure.tables
    .find((t) => t.name === 'BLOCK_RECORD')
    ?.entries.find((r) => nameOf(ground.document, r)?.toUpperCase() === '*PAPER_SPACE');
  const owner = space?.handle ?? null;
  const entities = placed.flatMap((paper) => [
    ...shapesOf(encoding, paper.shapes, owner),
    ...paper.viewports.flatMap((v) => encodeViewport(encoding, v, ++id, ground.perMm, owner)),
  ]);
  return { ...NO_PAPERS, entities: [...view, ...entities], papers: placed };
};

/** Plot flags: standard scale, plot styles, line weights, viewports first. */
const PLOT_FLAGS = 16 + 32 + 128 + 512;
/** Standard scale 1:1. */
const ONE_TO_ONE = 16;

interface LayoutPlace {
  readonly handle: string;
  readonly dictionary: string;
  readonly block: string;
  readonly tabOrder: number;
}

const layoutObject = (encoding: Encoding, place: LayoutPlace, paper: PaperSheet, isModel = false): Tag[] => {
  const { widthMm, heightMm } = paper;
  const pair = (code: number, x: number, y: number): Tag[] => [
    tag(code, numberValue(x)),
    tag(code + 10, numberValue(y)),
  ];
  const triple = (code: number, x: number, y: number, z: number): Tag[] => [...pair(code, x, y), tag(code + 20, z)];
  return [
    tag(0, 'LAYOUT'),
    tag(5, place.handle),
    tag(330, place.dictionary),
    tag(100, 'AcDbPlotSettings'),
    tag(1, ''),
    tag(2, 'none_device'),
    tag(4, paper.paper),
    tag(6, ''),
    ...[40, 41, 42, 43].map((code) => tag(code, 0)),
    tag(44, numberValue(widthMm)),
    tag(45, numberValue(heightMm)),
    ...[46, 47, 48, 49, 140, 141].map((code) => tag(code, 0)),
    tag(142, 1),
    tag(143, 1),
    tag(70, isModel ? PLOT_FLAGS + 1024 : PLOT_FLAGS),
    tag(72, 1),
    tag(73, 0),
    tag(74, 5),
    tag(7, ''),
    tag(75, ONE_TO_ONE),
    tag(147, 1),
    tag(148, 0),
    tag(149, 0),
    tag(100, 'AcDbLayout'),
    tag(1, encodeText(encoding, paper.name)),
    // 0: line types keep their length in the model space, also seen through a viewport.
    tag(70, 0),
    tag(71, place.tabOrder),
    ...pair(10, 0, 0),
    ...pair(11, widthMm, heightMm),
    ...triple(12, 0, 0, 0),
    ...triple(14, 0, 0, 0),
    ...triple(15, widthMm, heightMm, 0),
    tag(146, 0),
    ...triple(13, 0, 0, 0),
    ...triple(16, 1, 0, 0),
    ...triple(17, 0, 1, 0),
    tag(76, 0),
    tag(330, place.block),
    ...xdata(encoding.version, ['sheet']),
  ];
};

/** The name (group 3) and handle of each entry of a dictionary. */
const entriesOf = (document: TagDocument, record: TagRecord): { readonly name: string; readonly handle: string }[] => {
  const found: { name: string; handle: string }[] = [];
  let name: string | null = null;
  for (let at = record.start; at < ownEnd(document.tags, record.start, record.end); at++) {
    const { code, value } = document.tags[at]!;
    if (code === 3) name = decodeText(document.coding, value.trim());
    else if ((code === 350 || code === 360) && name !== null) {
      found.push({ name, handle: handleOf(value) ?? '' });
      name = null;
    }
  }
  return found;
};

interface Dictionaries {
  /** Of the layouts; null where the drawing has none. */
  readonly layouts: TagRecord | null;
  readonly root: TagRecord | null;
  /** Names (upper case) that layouts have. */
  readonly names: ReadonlySet<string>;
  readonly lastTab: number;
}

const dictionariesOf = ({ document, structure }: PaperGround): Dictionaries => {
  const root = structure.objects.find((o) => o.type === 'DICTIONARY') ?? null;
  const byHandle = new Map(structure.objects.map((o) => [o.handle, o]));
  const entry = root && entriesOf(document, root).find((e) => e.name.toUpperCase() === 'ACAD_LAYOUT');
  const layouts = (entry && byHandle.get(entry.handle)) || null;
  const entries = layouts ? entriesOf(document, layouts) : [];
  const tabs = entries.map((e) => {
    const record = byHandle.get(e.handle);
    return (record && integerOf(firstTag(document, record, 71)?.value)) ?? 0;
  });
  return { layouts, root, names: new Set(entries.map((e) => e.name.toUpperCase())), lastTab: Math.max(0, ...tabs) };
};

/** Handles of the block records of model and paper space. */
const spaces = ({ document, structure }: PaperGround): readonly [string | null, string | null] => {
  const records = structure.tables.find((t) => t.name === 'BLOCK_RECORD')?.entries ?? [];
  const handle = (name: string) => records.find((r) => nameOf(document, r)?.toUpperCase() === name)?.handle ?? null;
  return [handle('*MODEL_SPACE'), handle('*PAPER_SPACE')];
};

/** Whether sheets can be put in at all: from R2000 on a drawing without the blocks of its spaces has nothing that a layout could belong to. */
export const takesPapers = (ground: PaperGround): boolean =>
  !hasLayouts(ground.document.version) || spaces(ground).every((handle) => handle !== null);

/** A name that no layout has yet. */
const freeName = (wanted: string, taken: Set<string>): string => {
  let name = wanted;
  for (let n = 2; taken.has(name.toUpperCase()); n++) name = `${wanted} (${n})`;
  taken.add(name.toUpperCase());
  return name;
};

const dictionary = (version: string, handle: string, owner: string, entries: readonly Tag[]): Tag[] => [
  tag(0, 'DICTIONARY'),
  tag(5, handle),
  tag(330, owner),
  tag(100, 'AcDbDictionary'),
  tag(281, 1),
  ...entries,
  ...xdata(version, ['sheet']),
];

const entryTags = (encoding: Encoding, name: string, handle: string): Tag[] => [
  tag(3, encodeText(encoding, name)),
  tag(350, handle),
];

/** The layouts that every drawing has, for one that has no list of them. */
const usualLayouts = (encoding: Encoding, dictionaryHandle: string, ground: PaperGround, next: () => string) => {
  const plain = { paper: '', widthMm: 297, heightMm: 210, shapes: [], viewports: [] };
  return ['Model', 'Layout1'].map((name, i) => {
    const handle = next();
    const place = { handle, dictionary: dictionaryHandle, block: spaces(ground)[i]!, tabOrder: i };
    return { name, handle, tags: layoutObject(encoding, place, { ...plain, name }, i === 0) };
  });
};

/** From R2000 on. */
const asLayouts = (ground: PaperGround, papers: readonly PaperSheet[]): PutPapers => {
  const { document, structure, edits, encoding } = ground;
  const known = dictionariesOf(ground);
  const next = (): string => {
    const handle = ground.handles.next();
    if (handle === null) throw new Error('a drawing with layouts has no handles');
    return handle;
  };
  const layoutHandles = papers.map(next);
  const blockNames = new Set(structure.blocks.map((b) => b.name.toUpperCase()));
  for (const r of structure.tables.find((t) => t.name === 'BLOCK_RECORD')?.entries ?? []) {
    blockNames.add(nameOf(document, r)?.toUpperCase() ?? '');
  }
  let n = 0;
  const names = papers.map(() => {
    while (blockNames.has(`*PAPER_SPACE${n}`)) n++;
    return `*Paper_Space${n++}`;
  });
  const records = ground.addRecords(
    names.map((name, i) => (place: RecordPlace) => [
      ...blockRecord(place, name, 0, layoutHandles[i]!),
      ...xdata(document.version, ['sheet']),
    ]),
  );
  const paper = onPaper(ground);
  const blocks = papers.flatMap((p, i) => {
    const owner = records[i]!;
    const body = [
      ...encodeViewport(paper, paperView(p), 1, 1, owner),
      ...shapesOf(paper, p.shapes, owner),
      ...p.viewports.flatMap((v, k) => encodeViewport(paper, v, k + 2, ground.perMm, owner)),
    ];
    return encodePaperBlock(paper, names[i]!, body, owner);
  });
  const rootHandle = known.root?.handle ?? next();
  const listHandle = known.layouts?.handle ?? next();
  const usual = known.layouts ? [] : usualLayouts(encoding, listHandle, ground, next);
  const taken = new Set([...known.names, ...usual.map((u) => u.name.toUpperCase())]);
  const lastTab = Math.max(known.lastTab, usual.length - 1);
  const titled = papers.map((p) => ({ ...p, name: freeName(p.name, taken) }));
  const layouts = titled.flatMap((p, i) => {
    const handle = layoutHandles[i]!;
    return layoutObject(encoding, { handle, dictionary: listHandle, block: records[i]!, tabOrder: lastTab + 1 + i }, p);
  });
  const entries = [
    ...usual.flatMap((u) => entryTags(encoding, u.name, u.handle)),
    ...titled.flatMap((p, i) => entryTags(encoding, p.name, layoutHandles[i]!)),
  ];
  const into = (record: TagRecord, tags: readonly Tag[]): void =>
    edits.insert(ownEnd(document.tags, record.start, record.end), tags);
  const objects: Tag[] = [];
  if (!known.root)
    objects.push(...dictionary(document.version, rootHandle, '0', entryTags(encoding, 'ACAD_LAYOUT', listHandle)));
  else if (!known.layouts) into(known.root, entryTags(encoding, 'ACAD_LAYOUT', listHandle));
  if (known.layouts) into(known.layouts, entries);
  else objects.push(...dictionary(document.version, listHandle, rootHandle, entries), ...usual.flatMap((u) => u.tags));
  return { blocks, entities: [], objects: [...objects, ...layouts], blockNames: names, papers: titled };
};

/** Puts the sheets in; the drawing must take them. */
export const putPapers = (ground: PaperGround, papers: readonly PaperSheet[]): PutPapers => {
  if (papers.length === 0) return NO_PAPERS;
  return hasLayouts(ground.document.version) ? asLayouts(ground, papers) : sideBySide(ground, papers);
};

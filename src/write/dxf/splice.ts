/**
 * Puts a sheet into a drawing: every tag of the drawing stays as it is, except table counts, $HANDSEED and the extents. Missing sections and tables
 * (minimal R12 files) are added.
 */

import {
  APPLICATION_ID,
  headerRange,
  integerOf,
  nameOf,
  numberOf,
  placeOf,
  restated,
  structureOf,
  type Tag,
  type TagDocument,
  type TagRecord,
  type TagStructure,
  type TagTable,
} from '../../ground/tags.js';
import type { Bounds } from './bounds.js';
import { isEmpty } from './bounds.js';
import { Edits } from './edits.js';
import { type Encoding, encodeBlock, encodeShape, numberValue } from './encode.js';
import { type Handles, makeHandles } from './handles.js';
import { LAYER_KEYS, LAYERS, type LayerKey, type LayerNames, symbolName } from './layers.js';
import { NO_PAPERS, type PutPapers, putPapers, takesPapers } from './paperSpace.js';
import { type DimensionStyleKey, layersUsed, type Sheet } from './sheet.js';
import {
  applicationRecord,
  blockRecord,
  dimensionStyleRecord,
  layerRecord,
  lineTypeRecord,
  type RecordPlace,
  styleRecord,
  tableHead,
} from './tableRecords.js';

export const DASH_MM = [200, -100] as const;

type DimensionStyles = Readonly<Record<DimensionStyleKey, string>>;

const DIMENSION_STYLES: readonly DimensionStyleKey[] = ['plan', 'elevation'];

export interface SpliceOptions {
  /** Drawing units per mm. */
  readonly perMm: number;
  readonly layers: LayerNames;
  /** Whether lengths are told in feet and inches. */
  readonly isInches: boolean;
  /** Bounds of the drawing and of what is added, drawing units. */
  readonly extents: Bounds;
}

/** What was put in, as it stands in the file: for the second reader. */
export interface Spliced {
  readonly document: TagDocument;
  readonly blocks: readonly Tag[];
  readonly entities: readonly Tag[];
  /** The sheets as they stand; null: wanted, and the drawing takes none. */
  readonly papers: PutPapers | null;
  /** Layers that the drawing had already under the names of ours. */
  readonly layersBefore: readonly LayerKey[];
}

const SECTION_ORDER = ['HEADER', 'CLASSES', 'TABLES', 'BLOCKS', 'ENTITIES', 'OBJECTS', 'THUMBNAILIMAGE', 'ACDSDATA'];
const TABLE_ORDER = ['VPORT', 'LTYPE', 'LAYER', 'STYLE', 'VIEW', 'UCS', 'APPID', 'DIMSTYLE', 'BLOCK_RECORD'];

const tag = (code: number, value: string | number): Tag => ({ code, value: String(value) });

/** Number of the drawing's unit as its header states it, 0 where it does not. */
const unitCode = (document: TagDocument): number => {
  const range = headerRange(document, '$INSUNITS');
  return (range && integerOf(document.tags[range[0]]?.value)) ?? 0;
};

/** $LTSCALE: line types are multiplied by it, so ours are divided by it. */
const lineTypeScale = (document: TagDocument): number => {
  const range = headerRange(document, '$LTSCALE');
  const scale = range ? numberOf(document.tags[range[0]]?.value) : null;
  return scale !== null && scale > 1e-9 && scale < 1e9 ? scale : 1;
};

/** Names (upper case) of a table's entries. */
const entryNames = (document: TagDocument, table: TagTable | undefined): Set<string> =>
  new Set((table?.entries ?? []).map((r) => nameOf(document, r)?.toUpperCase() ?? ''));

class Splicer {
  readonly structure: TagStructure;
  readonly edits: Edits;
  readonly handles: Handles;
  readonly layersBefore: LayerKey[] = [];
  private readonly newTables = new Map<string, Tag[]>();
  /** By how much the count of each table grows. */
  private readonly raised = new Map<string, number>();

  constructor(
    readonly document: TagDocument,
    readonly sheet: Sheet,
    readonly options: SpliceOptions,
  ) {
    this.structure = structureOf(document);
    this.edits = new Edits(document.tags);
    this.handles = makeHandles(document);
  }

  table(name: string): TagTable | undefined {
    return this.structure.tables.find((t) => t.name === name);
  }

  /** Adds entries to a table; where there is none it is made. `make` gets each entry's place. */
  addEntries(name: string, entries: readonly ((place: RecordPlace) => Tag[])[]): (string | null)[] {
    if (entries.length === 0) return [];
    const { version } = this.document;
    const table = this.table(name);
    const isR12 = version <= 'AC1009';
    const tableHandle = table ? table.head.handle : isR12 ? null : this.handles.next();
    const handles: (string | null)[] = [];
    const tags = entries.flatMap((make) => {
      const handle = isR12 ? null : this.handles.next();
      handles.push(handle);
      return make({ version, handle, table: tableHandle });
    });
    if (table) {
      this.edits.insert(table.bodyEnd, tags);
      const by = (this.raised.get(name) ?? 0) + entries.length;
      this.raised.set(name, by);
      this.raiseCount(table.head, by);
    } else {
      this.newTables.set(name, [...tableHead(version, name, tableHandle, entries.length), ...tags, tag(0, 'ENDTAB')]);
    }
    return handles;
  }

  private raiseCount(head: TagRecord, by: number): void {
    const at = placeOf(this.document, head, 70);
    const value = at < 0 ? undefined : this.document.tags[at]!.value;
    const count = integerOf(value);
    if (value === undefined || count === null) return;
    this.edits.replace(at, tag(70, restated(value, Math.min(count + by, 32767))));
  }

  private lineTypes(dash: string): void {
    const have = entryNames(this.document, this.table('LTYPE'));
    const dashes = DASH_MM.map((mm) => (mm * this.options.perMm) / lineTypeScale(this.document));
    const wanted = [
      { name: 'CONTINUOUS', description: 'Solid line', elements: [] as number[] },
      { name: dash, description: 'Pour line __ __ __', elements: dashes },
    ];
    this.addEntries(
      'LTYPE',
      wanted
        .filter((w) => !have.has(w.name.toUpperCase()))
        .map((w) => (place: RecordPlace) => lineTypeRecord(place, w.name, w.description, w.elements)),
    );
  }

  /** Plot style and material as the drawing's layer 0 refers to them; without them some programs find fault with a layer. */
  private borrowed(): Tag[] {
    const { document } = this;
    const main = this.table('LAYER')?.entries.find((r) => nameOf(document, r) === '0');
    if (!main) return [];
    return [390, 347].flatMap((code) => {
      const at = placeOf(document, main, code);
      return at < 0 ? [] : [tag(code, document.tags[at]!.value.trim())];
    });
  }

  private layers(dash: string): void {
    const have = entryNames(this.document, this.table('LAYER'));
    const used = layersUsed(this.sheet);
    const borrowed = this.borrowed();
    const entries: ((place: RecordPlace) => Tag[])[] = [];
    for (const key of LAYER_KEYS) {
      if (!used.has(key)) continue;
      const name = this.options.layers[key];
      if (have.has(name.toUpperCase())) {
        this.layersBefore.push(key);
        continue;
      }
      have.add(name.toUpperCase());
      const style = LAYERS[key];
      const lineType = style.lineType === 'DASH' ? dash : 'CONTINUOUS';
      entries.push((place) => layerRecord(place, name, style, lineType, borrowed));
    }
    this.addEntries('LAYER', entries);
  }

  /** Text style and dimension styles; the latter only where there are dimensions. */
  private styles(name: string, styles: DimensionStyles): void {
    const known = this.table('STYLE')?.entries.find((r) => nameOf(this.document, r)?.toUpperCase() === name);
    const added = known ? [] : this.addEntries('STYLE', [(place) => styleRecord(place, name)]);
    const textStyle = known?.handle ?? added[0] ?? null;
    const have = entryNames(this.document, this.table('DIMSTYLE'));
    const { perMm, isInches } = this.options;
    const factor = 1 / perMm / (isInches ? 25.4 : 1);
    // All dimensions of a style have texts of one height.
    const wanted = DIMENSION_STYLES.flatMap((key) => {
      const first = this.sheet.shapes.find((s) => s.type === 'dimension' && s.style === key);
      if (first?.type !== 'dimension' || have.has(styles[key].toUpperCase())) return [];
      return [{ key, textMm: first.textMm }];
    });
    this.addEntries(
      'DIMSTYLE',
      wanted.map(
        ({ key, textMm }) =>
          (place: RecordPlace) =>
            dimensionStyleRecord(place, styles[key], { perMm, factor, isInches, textMm, textStyle }),
      ),
    );
  }

  /** Tables; gives the handles of the block records of our blocks. */
  tables(style: string, dash: string, dimensionStyles: DimensionStyles): (string | null)[] {
    this.lineTypes(dash);
    this.layers(dash);
    this.styles(style, dimensionStyles);
    if (!entryNames(this.document, this.table('APPID')).has(APPLICATION_ID)) {
      this.addEntries('APPID', [applicationRecord]);
    }
    if (this.document.version <= 'AC1009') return this.sheet.blocks.map(() => null);
    const units = unitCode(this.document);
    return this.addEntries(
      'BLOCK_RECORD',
      this.sheet.blocks.map((b) => (place: RecordPlace) => blockRecord(place, b.name, units, null)),
    );
  }

  /** Handle of the model space's block record, null where the drawing has none. */
  modelSpace(): string | null {
    const records = this.table('BLOCK_RECORD')?.entries ?? [];
    const found = records.find((r) => nameOf(this.document, r)?.toUpperCase() === '*MODEL_SPACE');
    return found?.handle ?? null;
  }

  /** Sheets; null where they are wanted and the drawing cannot take them. */
  papers(encoding: Encoding): PutPapers | null {
    const { papers = [] } = this.sheet;
    const ground = {
      document: this.document,
      structure: this.structure,
      edits: this.edits,
      handles: this.handles,
      encoding,
      perMm: this.options.perMm,
      addRecords: (entries: readonly ((place: RecordPlace) => Tag[])[]) => this.addEntries('BLOCK_RECORD', entries),
    };
    if (papers.length === 0) return NO_PAPERS;
    return takesPapers(ground) ? putPapers(ground, papers) : null;
  }

  /** Puts tags at the end of a section's body; makes the section where there is none. */
  intoSection(name: string, tags: readonly Tag[]): void {
    const section = this.structure.sections.find((s) => s.name === name);
    if (section) {
      this.edits.insert(section.bodyEnd, tags);
      return;
    }
    const later = SECTION_ORDER.slice(SECTION_ORDER.indexOf(name) + 1);
    const before = this.structure.sections.find((s) => later.includes(s.name));
    const last = this.structure.sections.at(-1);
    const at = before?.start ?? last?.end ?? 0;
    const body = [tag(0, 'SECTION'), tag(2, name), ...tags, tag(0, 'ENDSEC')];
    this.edits.insert(at, body, SECTION_ORDER.indexOf(name));
  }

  /** Puts in the tables that were missing, each before those that must come later. */
  putNewTables(): void {
    const section = this.structure.sections.find((s) => s.name === 'TABLES');
    const sorted = [...this.newTables.keys()].sort((a, b) => TABLE_ORDER.indexOf(a) - TABLE_ORDER.indexOf(b));
    if (!section) {
      const all = sorted.flatMap((name) => this.newTables.get(name)!);
      if (all.length > 0) this.intoSection('TABLES', all);
      return;
    }
    for (const name of sorted) {
      const later = TABLE_ORDER.slice(TABLE_ORDER.indexOf(name) + 1);
      const before = this.structure.tables.find((t) => later.includes(t.name));
      this.edits.insert(before?.head.start ?? section.bodyEnd, this.newTables.get(name)!, TABLE_ORDER.indexOf(name));
    }
  }

  header(): void {
    const { document } = this;
    const seed = this.handles.seed();
    const additions: Tag[] = [];
    if (!headerRange(document, '$ACADVER')) additions.push(tag(9, '$ACADVER'), tag(1, document.version));
    const range = headerRange(document, '$HANDSEED');
    if (seed !== null && range) {
      for (let at = range[0]; at < range[1]; at++) {
        if (document.tags[at]!.code === 5) this.edits.replace(at, tag(5, seed));
      }
    } else if (seed !== null) additions.push(tag(9, '$HANDSEED'), tag(5, seed));
    this.extents();
    if (additions.length > 0) this.intoSection('HEADER', additions);
  }

  /** $EXTMIN and $EXTMAX where the header has them; z stays. */
  private extents(): void {
    const { extents } = this.options;
    if (isEmpty(extents)) return;
    const corners = { $EXTMIN: [extents.minX, extents.minY], $EXTMAX: [extents.maxX, extents.maxY] } as const;
    for (const [name, [x, y]] of Object.entries(corners)) {
      const range = headerRange(this.document, name);
      if (!range) continue;
      for (let at = range[0]; at < range[1]; at++) {
        const { code } = this.document.tags[at]!;
        if (code === 10) this.edits.replace(at, tag(10, numberValue(x)));
        if (code === 20) this.edits.replace(at, tag(20, numberValue(y)));
      }
    }
  }
}

/** Splices the sheet in. The document must be free of an earlier layout and its sections closed, as the reader hands it over. */
export const splice = (document: TagDocument, sheet: Sheet, options: SpliceOptions): Spliced => {
  const { version } = document;
  const splicer = new Splicer(document, sheet, options);
  const style = symbolName(version, APPLICATION_ID);
  const dash = symbolName(version, `${APPLICATION_ID}-DASH`);
  const dimensionStyles: DimensionStyles = { plan: style, elevation: symbolName(version, `${APPLICATION_ID}-ELEV`) };
  const records = splicer.tables(style, dash, dimensionStyles);
  const encoding: Encoding = {
    version,
    perMm: options.perMm,
    layers: options.layers,
    style,
    dimensionStyles,
    nextHandle: splicer.handles.next,
  };
  const blocks = sheet.blocks.flatMap((b, i) => encodeBlock(encoding, b, records[i] ?? null));
  const owner = splicer.modelSpace();
  const entities = sheet.shapes.flatMap((s) => encodeShape(encoding, s, owner));
  const papers = splicer.papers(encoding);
  const allBlocks = [...blocks, ...(papers?.blocks ?? [])];
  const allEntities = [...entities, ...(papers?.entities ?? [])];
  splicer.putNewTables();
  splicer.intoSection('BLOCKS', allBlocks);
  splicer.intoSection('ENTITIES', allEntities);
  if (papers && papers.objects.length > 0) splicer.intoSection('OBJECTS', papers.objects);
  splicer.header();
  return {
    document: { ...document, tags: splicer.edits.done() },
    blocks: allBlocks,
    entities: allEntities,
    papers,
    layersBefore: splicer.layersBefore,
  };
};

/**
 * A small writer of DXF for drawings that tests make: R12 (POLYLINE with VERTEX) and R2000 (LWPOLYLINE, HATCH, MLINE) with blocks, inserts and
 * dimensions. It shares nothing with the program's own writer. Source of the group codes: Autodesk's DXF reference.
 */

import { body, type Entity, MODERN, type Pair, TYPE, xyz } from './dxfEntities.js';

export interface Layer {
  readonly name: string;
  readonly lineType: string;
  /** Frozen layers are drawn on but not shown. */
  readonly frozen: boolean;
}

export interface DxfDrawing {
  readonly version: 'R12' | 'R2000';
  /** $INSUNITS; null: the header does not have it. */
  readonly unitCode: number | null;
  readonly layers: readonly Layer[];
  readonly blocks: Readonly<Record<string, readonly Entity[]>>;
  readonly entities: readonly Entity[];
}

const real = (value: number): string => {
  // Sixteen figures, as CAD programs write them: blocks that are turned and scaled far from the origin need them.
  const text = String(Number(value.toPrecision(16)));
  return /[.e]/.test(text) ? text : `${text}.0`;
};

const isReal = (code: number): boolean => (code >= 10 && code <= 59) || (code >= 140 && code <= 149);

class Handles {
  private next = 0x100;
  take(): string {
    return (this.next++).toString(16).toUpperCase();
  }
  get seed(): string {
    return this.next.toString(16).toUpperCase();
  }
}

const MODEL = '1F';
const PAPER = '1B';

const modern = (e: Entity, handles: Handles, owner: string): Pair[] => [
  [0, TYPE[e.kind]],
  [5, handles.take()],
  [330, owner],
  [100, 'AcDbEntity'],
  [8, e.layer],
  ...(e.lineType ? ([[6, e.lineType]] as Pair[]) : []),
  ...body(e),
];

const old = (e: Entity): Pair[] => {
  const head: Pair[] = [[8, e.layer], ...(e.lineType ? ([[6, e.lineType]] as Pair[]) : [])];
  if (MODERN.has(e.kind)) throw new Error(`R12 has no ${TYPE[e.kind]}`);
  if (e.kind === 'poly') {
    const width: Pair[] = e.width
      ? [
          [40, e.width],
          [41, e.width],
        ]
      : [];
    return [
      [0, 'POLYLINE'],
      ...head,
      [66, 1],
      ...xyz(10, { x: 0, y: 0 }),
      [70, e.closed ? 1 : 0],
      ...width,
      ...e.points.flatMap((p): Pair[] => [
        [0, 'VERTEX'],
        [8, e.layer],
        ...xyz(10, p),
        ...(p.bulge || e.bulges ? ([[42, p.bulge ?? 0]] as Pair[]) : []),
      ]),
      [0, 'SEQEND'],
      [8, e.layer],
    ];
  }
  return [[0, TYPE[e.kind]], ...head, ...body(e).filter(([code]) => code !== 100)];
};

const LINE_TYPES = ['CONTINUOUS', 'DASHED', 'CENTER'] as const;

const lineTypeBody = (name: string): Pair[] => {
  const dashes = name === 'DASHED' ? [500, -250] : name === 'CENTER' ? [1250, -250, 250, -250] : [];
  const total = dashes.reduce((s, d) => s + Math.abs(d), 0);
  return [
    [70, 0],
    [3, name],
    [72, 65],
    [73, dashes.length],
    [40, total],
    ...dashes.flatMap((d): Pair[] => [
      [49, d],
      [74, 0],
    ]),
  ];
};

const layerBody = (l: Layer): Pair[] => [
  [70, l.frozen ? 1 : 0],
  [62, 7],
  [6, l.lineType],
];

const header = (d: DxfDrawing, seed: string | null): Pair[] => [
  [0, 'SECTION'],
  [2, 'HEADER'],
  [9, '$ACADVER'],
  [1, d.version === 'R12' ? 'AC1009' : 'AC1015'],
  [9, '$DWGCODEPAGE'],
  [3, 'ANSI_1252'],
  ...(seed === null
    ? []
    : ([
        [9, '$HANDSEED'],
        [5, seed],
      ] as Pair[])),
  ...(d.unitCode === null
    ? []
    : ([
        [9, '$INSUNITS'],
        [70, d.unitCode],
      ] as Pair[])),
  [0, 'ENDSEC'],
];

const allLayers = (d: DxfDrawing): Layer[] => [
  ...(d.layers.some((l) => l.name === '0') ? [] : [{ name: '0', lineType: 'CONTINUOUS', frozen: false }]),
  ...d.layers,
];

const r12 = (d: DxfDrawing): Pair[] => {
  const table = (name: string, records: readonly (readonly [string, readonly Pair[]])[]): Pair[] => [
    [0, 'TABLE'],
    [2, name],
    [70, records.length],
    ...records.flatMap(([key, rest]): Pair[] => [[0, name], [2, key], ...rest]),
    [0, 'ENDTAB'],
  ];
  const withoutSubtype = (pairs: readonly Pair[]) => pairs.filter(([code]) => code !== 74);
  return [
    ...header(d, null),
    [0, 'SECTION'],
    [2, 'TABLES'],
    ...table(
      'LTYPE',
      LINE_TYPES.map((n) => [n, withoutSubtype(lineTypeBody(n))] as const),
    ),
    ...table(
      'LAYER',
      allLayers(d).map((l) => [l.name, layerBody(l)] as const),
    ),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...Object.entries(d.blocks).flatMap(([name, list]): Pair[] => [
      [0, 'BLOCK'],
      [8, '0'],
      [2, name],
      [70, 0],
      ...xyz(10, { x: 0, y: 0 }),
      [3, name],
      ...list.flatMap(old),
      [0, 'ENDBLK'],
      [8, '0'],
    ]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...d.entities.flatMap(old),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
};

const r2000 = (d: DxfDrawing): Pair[] => {
  const handles = new Handles();
  const table = (
    name: string,
    record: string,
    records: readonly { readonly key: string; readonly rest: readonly Pair[]; readonly handle?: string }[],
  ): Pair[] => {
    const owner = handles.take();
    return [
      [0, 'TABLE'],
      [2, name],
      [5, owner],
      [330, '0'],
      [100, 'AcDbSymbolTable'],
      [70, records.length],
      ...(name === 'DIMSTYLE' ? ([[100, 'AcDbDimStyleTable']] as Pair[]) : []),
      ...records.flatMap(({ key, rest, handle }): Pair[] => [
        [0, name],
        [name === 'DIMSTYLE' ? 105 : 5, handle ?? handles.take()],
        [330, owner],
        [100, 'AcDbSymbolTableRecord'],
        [100, record],
        [2, key],
        ...rest,
      ]),
      [0, 'ENDTAB'],
    ];
  };
  const flag: Pair = [70, 0];
  const named = Object.keys(d.blocks).map((name) => ({ name, owner: handles.take() }));
  const block = (name: string, owner: string, list: readonly Entity[], paper: boolean): Pair[] => {
    const head = (): Pair[] => [
      [5, handles.take()],
      [330, owner],
      [100, 'AcDbEntity'],
      ...(paper ? ([[67, 1]] as Pair[]) : []),
      [8, '0'],
    ];
    return [
      [0, 'BLOCK'],
      ...head(),
      [100, 'AcDbBlockBegin'],
      [2, name],
      flag,
      ...xyz(10, { x: 0, y: 0 }),
      [3, name],
      [1, ''],
      ...list.flatMap((e) => modern(e, handles, owner)),
      [0, 'ENDBLK'],
      ...head(),
      [100, 'AcDbBlockEnd'],
    ];
  };
  const style: Pair[] = [flag, [40, 0], [41, 1], [50, 0], [71, 0], [42, 2.5], [3, 'txt'], [4, '']];
  const dictionary = (handle: string, owner: string, entries: readonly Pair[]): Pair[] => [
    [0, 'DICTIONARY'],
    [5, handle],
    [330, owner],
    [100, 'AcDbDictionary'],
    [281, 1],
    ...entries,
  ];
  const content: Pair[] = [
    [0, 'SECTION'],
    [2, 'TABLES'],
    ...table(
      'LTYPE',
      'AcDbLinetypeTableRecord',
      ['BYBLOCK', 'BYLAYER', ...LINE_TYPES].map((key) => ({ key, rest: lineTypeBody(key) })),
    ),
    ...table(
      'LAYER',
      'AcDbLayerTableRecord',
      allLayers(d).map((l) => ({ key: l.name, rest: layerBody(l) })),
    ),
    ...table('STYLE', 'AcDbTextStyleTableRecord', [{ key: 'STANDARD', rest: style }]),
    ...table('VIEW', 'AcDbViewTableRecord', []),
    ...table('UCS', 'AcDbUCSTableRecord', []),
    ...table('APPID', 'AcDbRegAppTableRecord', [{ key: 'ACAD', rest: [flag] }]),
    ...table('DIMSTYLE', 'AcDbDimStyleTableRecord', [{ key: 'STANDARD', rest: [flag] }]),
    ...table('BLOCK_RECORD', 'AcDbBlockTableRecord', [
      { key: '*Model_Space', rest: [], handle: MODEL },
      { key: '*Paper_Space', rest: [], handle: PAPER },
      ...named.map(({ name, owner }) => ({ key: name, rest: [], handle: owner })),
    ]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...block('*Model_Space', MODEL, [], false),
    ...block('*Paper_Space', PAPER, [], true),
    ...named.flatMap(({ name, owner }) => block(name, owner, d.blocks[name]!, false)),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...d.entities.flatMap((e) => modern(e, handles, MODEL)),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'OBJECTS'],
    ...dictionary('C', '0', [
      [3, 'ACAD_GROUP'],
      [350, 'D'],
    ]),
    ...dictionary('D', 'C', []),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return [...header(d, handles.seed), ...content];
};

/** Bytes in code page 1252, other letters as DXF writes them there: \U+XXXX. */
export const dxfBytesOf = (d: DxfDrawing): Uint8Array => {
  const pairs = d.version === 'R12' ? r12(d) : r2000(d);
  const text = pairs
    .map(([code, value]) => `${String(code).padStart(3)}\r\n${isReal(code) ? real(Number(value)) : value}\r\n`)
    .join('')
    .replace(/[\u0100-\uffff]/g, (c) => `\\U+${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`);
  return new Uint8Array(Buffer.from(text, 'latin1'));
};

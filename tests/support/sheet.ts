/**
 * Drawings made from nothing, tag by tag: for fixtures and for laws that need one drawing in many versions. Two forms: R2000 (AC1015) with handles,
 * subclass markers and the tables that strict readers demand, and R12 (AC1009), which needs none of that.
 */

export interface Point {
  readonly x: number;
  readonly y: number;
}

export type Mark =
  | { readonly kind: 'outline'; readonly layer: string; readonly points: readonly Point[] }
  | { readonly kind: 'line'; readonly layer: string; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'text';
      readonly layer: string;
      readonly at: Point;
      readonly height: number;
      readonly text: string;
    };

export interface Sheet {
  readonly version: 'AC1015' | 'AC1009';
  /** $INSUNITS; null: the header does not have it. */
  readonly unitCode: number | null;
  readonly layers: readonly { readonly name: string; readonly color: number }[];
  readonly marks: readonly Mark[];
}

type Pair = readonly [number, string | number];

/** Numbers as other programs write them: always with a point. */
const real = (value: number): string => {
  const text = String(Math.round(value * 1e9) / 1e9);
  return /[.e]/.test(text) ? text : `${text}.0`;
};

/** Codes whose values are reals. Source: DXF reference, group code ranges. */
const isReal = (code: number): boolean => (code >= 10 && code <= 59) || (code >= 140 && code <= 149);

const asText = (pairs: readonly Pair[]): string =>
  pairs
    .map(([code, value]) => `${String(code).padStart(3)}\r\n${isReal(code) ? real(Number(value)) : value}\r\n`)
    .join('');

class Handles {
  private next = 0x20;
  take(): string {
    return (this.next++).toString(16).toUpperCase();
  }
  get seed(): string {
    return this.next.toString(16).toUpperCase();
  }
}

const MODEL = '1F';
const PAPER = '1B';
const ROOT = 'C';

const header = (sheet: Sheet, seed: string): Pair[] => [
  [0, 'SECTION'],
  [2, 'HEADER'],
  [9, '$ACADVER'],
  [1, sheet.version],
  ...(sheet.version === 'AC1015'
    ? ([
        [9, '$DWGCODEPAGE'],
        [3, 'ANSI_1252'],
        [9, '$HANDSEED'],
        [5, seed],
      ] as Pair[])
    : []),
  ...(sheet.unitCode === null
    ? []
    : ([
        [9, '$INSUNITS'],
        [70, sheet.unitCode],
      ] as Pair[])),
  [0, 'ENDSEC'],
];

/** One symbol table of R2000: its head and its records, each with handle, owner and class. */
const table = (
  handles: Handles,
  name: string,
  record: string,
  records: readonly { readonly name: string; readonly body: readonly Pair[]; readonly handle?: string }[],
): Pair[] => {
  const owner = handles.take();
  const head: Pair[] = [
    [0, 'TABLE'],
    [2, name],
    [5, owner],
    [330, '0'],
    [100, 'AcDbSymbolTable'],
    [70, records.length],
  ];
  if (name === 'DIMSTYLE') head.push([100, 'AcDbDimStyleTable']);
  const body = records.flatMap(({ name: key, body: rest, handle }): Pair[] => [
    [0, name],
    [name === 'DIMSTYLE' ? 105 : 5, handle ?? handles.take()],
    [330, owner],
    [100, 'AcDbSymbolTableRecord'],
    [100, record],
    [2, key],
    ...rest,
  ]);
  return [...head, ...body, [0, 'ENDTAB']];
};

const FLAG: Pair = [70, 0];

const tables = (sheet: Sheet, handles: Handles): Pair[] => {
  const lineType = (name: string) => ({ name, body: [FLAG, [3, ''], [72, 65], [73, 0], [40, 0]] as Pair[] });
  const layers = [{ name: '0', color: 7 }, ...sheet.layers].map(({ name, color }) => ({
    name,
    body: [FLAG, [62, color], [6, 'CONTINUOUS']] as Pair[],
  }));
  const style: Pair[] = [FLAG, [40, 0], [41, 1], [50, 0], [71, 0], [42, 2.5], [3, 'txt'], [4, '']];
  const view: Pair[] = [FLAG, [10, 0], [20, 0], [11, 1], [21, 1], [12, 0], [22, 0], [13, 0], [23, 0]];
  const rest: Pair[] = [
    [14, 10],
    [24, 10],
    [15, 10],
    [25, 10],
    [16, 0],
    [26, 0],
    [36, 1],
    [17, 0],
    [27, 0],
    [37, 0],
  ];
  const lens: Pair[] = [
    [40, 20000],
    [41, 1.5],
    [42, 50],
    [43, 0],
    [44, 0],
    [50, 0],
    [51, 0],
  ];
  return [
    [0, 'SECTION'],
    [2, 'TABLES'],
    ...table(handles, 'VPORT', 'AcDbViewportTableRecord', [{ name: '*ACTIVE', body: [...view, ...rest, ...lens] }]),
    ...table(handles, 'LTYPE', 'AcDbLinetypeTableRecord', ['BYBLOCK', 'BYLAYER', 'CONTINUOUS'].map(lineType)),
    ...table(handles, 'LAYER', 'AcDbLayerTableRecord', layers),
    ...table(handles, 'STYLE', 'AcDbTextStyleTableRecord', [{ name: 'STANDARD', body: style }]),
    ...table(handles, 'VIEW', 'AcDbViewTableRecord', []),
    ...table(handles, 'UCS', 'AcDbUCSTableRecord', []),
    ...table(handles, 'APPID', 'AcDbRegAppTableRecord', [{ name: 'ACAD', body: [FLAG] }]),
    ...table(handles, 'DIMSTYLE', 'AcDbDimStyleTableRecord', [{ name: 'STANDARD', body: [FLAG] }]),
    ...table(handles, 'BLOCK_RECORD', 'AcDbBlockTableRecord', [
      { name: '*Model_Space', body: [], handle: MODEL },
      { name: '*Paper_Space', body: [], handle: PAPER },
    ]),
    [0, 'ENDSEC'],
  ];
};

const block = (handles: Handles, name: string, owner: string, paper: readonly Pair[]): Pair[] => {
  const start: Pair[] = [[0, 'BLOCK'], [5, handles.take()], [330, owner], [100, 'AcDbEntity'], ...paper, [8, '0']];
  const body: Pair[] = [[100, 'AcDbBlockBegin'], [2, name], FLAG, [10, 0], [20, 0], [30, 0], [3, name], [1, '']];
  const end: Pair[] = [[0, 'ENDBLK'], [5, handles.take()], [330, owner], [100, 'AcDbEntity'], ...paper, [8, '0']];
  return [...start, ...body, ...end, [100, 'AcDbBlockEnd']];
};

const modern = (handles: Handles, mark: Mark): Pair[] => {
  const head = (type: string): Pair[] => [
    [0, type],
    [5, handles.take()],
    [330, MODEL],
    [100, 'AcDbEntity'],
    [8, mark.layer],
  ];
  switch (mark.kind) {
    case 'outline':
      return [
        ...head('LWPOLYLINE'),
        [100, 'AcDbPolyline'],
        [90, mark.points.length],
        [70, 1],
        ...mark.points.flatMap(({ x, y }): Pair[] => [
          [10, x],
          [20, y],
        ]),
      ];
    case 'line':
      return [...head('LINE'), [100, 'AcDbLine'], ...ends(mark.from, mark.to)];
    case 'text':
      return [...head('TEXT'), [100, 'AcDbText'], ...words(mark), [100, 'AcDbText']];
  }
};

const ends = (a: Point, b: Point): Pair[] => [
  [10, a.x],
  [20, a.y],
  [30, 0],
  [11, b.x],
  [21, b.y],
  [31, 0],
];
const words = (mark: Extract<Mark, { kind: 'text' }>): Pair[] => [
  [10, mark.at.x],
  [20, mark.at.y],
  [30, 0],
  [40, mark.height],
  [1, mark.text],
];

/** R12 has no LWPOLYLINE: an outline is a POLYLINE with VERTEX entities. */
const old = (mark: Mark): Pair[] => {
  switch (mark.kind) {
    case 'outline':
      return [
        [0, 'POLYLINE'],
        [8, mark.layer],
        [66, 1],
        [10, 0],
        [20, 0],
        [30, 0],
        [70, 1],
        ...mark.points.flatMap(({ x, y }): Pair[] => [
          [0, 'VERTEX'],
          [8, mark.layer],
          [10, x],
          [20, y],
          [30, 0],
        ]),
        [0, 'SEQEND'],
        [8, mark.layer],
      ];
    case 'line':
      return [[0, 'LINE'], [8, mark.layer], ...ends(mark.from, mark.to)];
    case 'text':
      return [[0, 'TEXT'], [8, mark.layer], ...words(mark)];
  }
};

const r12 = (sheet: Sheet): Pair[] => [
  ...header(sheet, ''),
  [0, 'SECTION'],
  [2, 'TABLES'],
  [0, 'TABLE'],
  [2, 'LTYPE'],
  [70, 1],
  [0, 'LTYPE'],
  [2, 'CONTINUOUS'],
  [70, 0],
  [3, 'Solid line'],
  [72, 65],
  [73, 0],
  [40, 0],
  [0, 'ENDTAB'],
  [0, 'TABLE'],
  [2, 'LAYER'],
  [70, sheet.layers.length],
  ...sheet.layers.flatMap(({ name, color }): Pair[] => [
    [0, 'LAYER'],
    [2, name],
    [70, 0],
    [62, color],
    [6, 'CONTINUOUS'],
  ]),
  [0, 'ENDTAB'],
  [0, 'ENDSEC'],
  [0, 'SECTION'],
  [2, 'ENTITIES'],
  ...sheet.marks.flatMap(old),
  [0, 'ENDSEC'],
  [0, 'EOF'],
];

const r2000 = (sheet: Sheet): Pair[] => {
  const handles = new Handles();
  const body: Pair[] = [
    ...tables(sheet, handles),
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...block(handles, '*Model_Space', MODEL, []),
    ...block(handles, '*Paper_Space', PAPER, [[67, 1]]),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...sheet.marks.flatMap((mark) => modern(handles, mark)),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'OBJECTS'],
    [0, 'DICTIONARY'],
    [5, ROOT],
    [330, '0'],
    [100, 'AcDbDictionary'],
    [281, 1],
    [3, 'ACAD_GROUP'],
    [350, 'D'],
    [0, 'DICTIONARY'],
    [5, 'D'],
    [330, ROOT],
    [100, 'AcDbDictionary'],
    [281, 1],
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return [...header(sheet, handles.seed), ...body];
};

/** The drawing as the text of a DXF file. */
export const dxfText = (sheet: Sheet): string => asText(sheet.version === 'AC1015' ? r2000(sheet) : r12(sheet));

export const dxfBytes = (sheet: Sheet): Uint8Array => new TextEncoder().encode(dxfText(sheet));

const movedMark = (mark: Mark, move: (p: Point) => Point): Mark => {
  switch (mark.kind) {
    case 'outline':
      return { ...mark, points: mark.points.map(move) };
    case 'line':
      return { ...mark, from: move(mark.from), to: move(mark.to) };
    case 'text':
      return { ...mark, at: move(mark.at) };
  }
};

/** The sheet with every point moved by `move`. */
export const moved = (sheet: Sheet, move: (p: Point) => Point): Sheet => ({
  ...sheet,
  marks: sheet.marks.map((mark) => movedMark(mark, move)),
});

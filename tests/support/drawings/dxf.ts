/**
 * A small writer of DXF for drawings that tests make: R12 (POLYLINE with VERTEX) and R2000 (LWPOLYLINE, HATCH, MLINE) with blocks, inserts and
 * dimensions. It shares nothing with the program's own writer. Source of the group codes: Autodesk's DXF reference.
 */

import type { Vec } from '../../../src/ground/plane.js';

export interface Knot extends Vec {
  readonly bulge?: number;
}

interface Common {
  readonly layer: string;
  /** Line type other than the layer's. */
  readonly lineType?: string;
}

export type Entity = Common &
  (
    | { readonly kind: 'line'; readonly a: Vec; readonly b: Vec }
    | {
        readonly kind: 'poly';
        readonly points: readonly Knot[];
        readonly closed: boolean;
        /** One width throughout. */
        readonly width?: number;
        /** Write a bulge of 0 at every vertex. */
        readonly bulges?: boolean;
      }
    | { readonly kind: 'hatch'; readonly loops: readonly (readonly Knot[])[]; readonly pattern: string }
    /** Parallel lines at `offsets` to the left of the points. */
    | {
        readonly kind: 'mline';
        readonly points: readonly Vec[];
        readonly offsets: readonly number[];
        readonly closed: boolean;
      }
    | {
        readonly kind: 'arc';
        readonly centre: Vec;
        readonly radius: number;
        readonly fromDeg: number;
        readonly toDeg: number;
      }
    | { readonly kind: 'circle'; readonly centre: Vec; readonly radius: number }
    | {
        readonly kind: 'text';
        readonly at: Vec;
        readonly height: number;
        readonly text: string;
        readonly turnDeg: number;
      }
    /** An aligned dimension; without text the measure itself is shown. */
    | { readonly kind: 'dim'; readonly from: Vec; readonly to: Vec; readonly line: Vec; readonly text: string | null }
    | {
        readonly kind: 'insert';
        readonly block: string;
        readonly at: Vec;
        readonly turnDeg: number;
        readonly sx: number;
        readonly sy: number;
      }
  );

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

type Pair = readonly [number, string | number];

const real = (value: number): string => {
  const text = String(Number(value.toFixed(9)));
  return /[.e]/.test(text) ? text : `${text}.0`;
};

const isReal = (code: number): boolean => (code >= 10 && code <= 59) || (code >= 140 && code <= 149);

const xy = (code: number, p: Vec): Pair[] => [
  [code, p.x],
  [code + 10, p.y],
];
const xyz = (code: number, p: Vec): Pair[] => [...xy(code, p), [code + 20, 0]];

const pointsAlong = (points: readonly Vec[], closed: boolean): { along: Vec; mitre: Vec; stretch: number }[] =>
  points.map((p, i) => {
    const n = points.length;
    const to = (a: Vec, b: Vec): Vec => {
      const l = Math.hypot(b.x - a.x, b.y - a.y);
      return { x: (b.x - a.x) / l, y: (b.y - a.y) / l };
    };
    const next = i + 1 < n || closed ? to(p, points[(i + 1) % n]!) : to(points[i - 1]!, p);
    const last = i > 0 || closed ? to(points[(i + n - 1) % n]!, p) : next;
    const m = { x: -(last.y + next.y), y: last.x + next.x };
    const l = Math.hypot(m.x, m.y);
    const mitre = { x: m.x / l, y: m.y / l };
    return { along: next, mitre, stretch: 1 / (mitre.x * -next.y + mitre.y * next.x) };
  });

/** The tags of one entity after its head: subclass markers are dropped for R12. */
const body = (e: Entity): Pair[] => {
  switch (e.kind) {
    case 'line':
      return [[100, 'AcDbLine'], ...xyz(10, e.a), ...xyz(11, e.b)];
    case 'poly':
      return [
        [100, 'AcDbPolyline'],
        [90, e.points.length],
        [70, e.closed ? 1 : 0],
        [43, e.width ?? 0],
        ...e.points.flatMap((p): Pair[] => [
          ...xy(10, p),
          ...(p.bulge || e.bulges ? ([[42, p.bulge ?? 0]] as Pair[]) : []),
        ]),
      ];
    case 'hatch':
      return [
        [100, 'AcDbHatch'],
        ...xyz(10, { x: 0, y: 0 }),
        [210, 0],
        [220, 0],
        [230, 1],
        [2, e.pattern],
        [70, e.pattern === 'SOLID' ? 1 : 0],
        [71, 0],
        [91, e.loops.length],
        ...e.loops.flatMap((loop, i): Pair[] => [
          [92, i === 0 ? 3 : 2],
          [72, loop.some((p) => p.bulge) ? 1 : 0],
          [73, 1],
          [93, loop.length],
          ...loop.flatMap((p): Pair[] => [
            ...xy(10, p),
            ...(loop.some((q) => q.bulge) ? ([[42, p.bulge ?? 0]] as Pair[]) : []),
          ]),
          [97, 0],
        ]),
        [75, 0],
        [76, 1],
        ...(e.pattern === 'SOLID'
          ? []
          : ([
              [52, 0],
              [41, 1],
              [77, 0],
              [78, 1],
              [53, 45],
              [43, 0],
              [44, 0],
              [45, -2.2],
              [46, 2.2],
              [79, 0],
            ] as Pair[])),
        [98, 0],
      ];
    case 'mline':
      return [
        [100, 'AcDbMline'],
        [2, 'STANDARD'],
        [40, 1],
        [70, 1],
        [71, e.closed ? 3 : 1],
        [72, e.points.length],
        [73, e.offsets.length],
        ...xyz(10, e.points[0]!),
        [210, 0],
        [220, 0],
        [230, 1],
        ...pointsAlong(e.points, e.closed).flatMap(({ along, mitre, stretch }, i): Pair[] => [
          ...xyz(11, e.points[i]!),
          ...xyz(12, along),
          ...xyz(13, mitre),
          ...e.offsets.flatMap((o): Pair[] => [
            [74, 2],
            [41, o * stretch],
            [41, 0],
            [75, 0],
          ]),
        ]),
      ];
    case 'arc':
      return [
        [100, 'AcDbCircle'],
        ...xyz(10, e.centre),
        [40, e.radius],
        [100, 'AcDbArc'],
        [50, e.fromDeg],
        [51, e.toDeg],
      ];
    case 'circle':
      return [[100, 'AcDbCircle'], ...xyz(10, e.centre), [40, e.radius]];
    case 'text':
      return [[100, 'AcDbText'], ...xyz(10, e.at), [40, e.height], [1, e.text], [50, e.turnDeg], [100, 'AcDbText']];
    case 'dim':
      return [
        [100, 'AcDbDimension'],
        ...xyz(10, e.line),
        ...xyz(11, e.line),
        [70, 1],
        ...(e.text === null ? [] : ([[1, e.text]] as Pair[])),
        [3, 'STANDARD'],
        [100, 'AcDbAlignedDimension'],
        ...xyz(13, e.from),
        ...xyz(14, e.to),
      ];
    case 'insert':
      return [
        [100, 'AcDbBlockReference'],
        [2, e.block],
        ...xyz(10, e.at),
        [41, e.sx],
        [42, e.sy],
        [43, Math.abs(e.sx)],
        [50, e.turnDeg],
      ];
  }
};

const TYPE: Readonly<Record<Entity['kind'], string>> = {
  line: 'LINE',
  poly: 'LWPOLYLINE',
  hatch: 'HATCH',
  mline: 'MLINE',
  arc: 'ARC',
  circle: 'CIRCLE',
  text: 'TEXT',
  dim: 'DIMENSION',
  insert: 'INSERT',
};

/** Kinds that R12 does not know. */
export const MODERN: ReadonlySet<Entity['kind']> = new Set(['hatch', 'mline']);

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
    .replace(/[^\u0000-\u00ff]/g, (c) => `\\U+${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`);
  return new Uint8Array(Buffer.from(text, 'latin1'));
};

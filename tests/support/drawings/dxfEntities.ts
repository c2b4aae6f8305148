/** Entities of the drawings that tests make, and the tags of each as R2000 has them. Source of the group codes: Autodesk's DXF reference. */

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

export type Pair = readonly [number, string | number];

const xy = (code: number, p: Vec): Pair[] => [
  [code, p.x],
  [code + 10, p.y],
];
export const xyz = (code: number, p: Vec): Pair[] => [...xy(code, p), [code + 20, 0]];

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
export const body = (e: Entity): Pair[] => {
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

export const TYPE: Readonly<Record<Entity['kind'], string>> = {
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

/** Models built by hand: walls as prisms and meshes in a model with nothing else in it. */

import { compareText } from '../../../src/ground/order.js';
import type {
  BodySolid,
  Frame,
  Mesh,
  Model,
  ModelElement,
  ModelOpening,
  PathVertex,
  Prism,
  Solid,
  Vec3,
} from '../../../src/ground/vocabulary.js';
import { NOTHING_TOLD_OF_MODEL } from '../../support/traceOptions.js';

export const OPTIONS = NOTHING_TOLD_OF_MODEL;

export type Ring = readonly (readonly [number, number])[];

export const outline = (ring: Ring): PathVertex[] => ring.map(([x, y]) => ({ x, y, bulge: 0 }));

export const upright = (z: number): Frame => ({
  origin: { x: 0, y: 0, z },
  x: { x: 1, y: 0, z: 0 },
  y: { x: 0, y: 1, z: 0 },
  z: { x: 0, y: 0, z: 1 },
});

/** A plan outline swept up from base to top. */
export const prism = (ring: Ring, base: number, top: number): Prism => ({
  kind: 'prism',
  frame: upright(base),
  outlines: [outline(ring)],
  direction: { x: 0, y: 0, z: 1 },
  depthMm: top - base,
});

export const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** The same as flat faces; `split` cuts each into triangles. */
export const mesh = (ring: Ring, base: number, top: number, split = false): Mesh => {
  const n = ring.length;
  const points: Vec3[] = [base, top].flatMap((z) => ring.map(([x, y]) => ({ x, y, z })));
  const low = ring.map((_, i) => i);
  const fan = (loop: number[]) => loop.slice(2).map((_, i) => [[loop[0]!, loop[i + 1]!, loop[i + 2]!]]);
  const sides = low.map((i) => [i, (i + 1) % n, ((i + 1) % n) + n, i + n]);
  const faces = [low, low.map((i) => i + n), ...sides];
  return { kind: 'mesh', points, faces: split ? faces.flatMap(fan) : faces.map((f) => [f]) };
};

/** An elevation (along, level) swept across: from y0 to y1 along x. */
export const sheet = (elevation: Ring, y0: number, y1: number): Prism => ({
  kind: 'prism',
  frame: {
    origin: { x: 0, y: y0, z: 0 },
    x: { x: 1, y: 0, z: 0 },
    y: { x: 0, y: 0, z: 1 },
    z: { x: 0, y: -1, z: 0 },
  },
  outlines: [outline(elevation)],
  direction: { x: 0, y: 1, z: 0 },
  depthMm: y1 - y0,
});

export const body = (solid: Solid, material: string | null = null): BodySolid => ({
  solid,
  from: 'extrusion',
  material,
  part: null,
});

export const element = (
  id: string,
  solids: readonly Solid[] | readonly BodySolid[],
  more: Partial<ModelElement> = {},
): ModelElement => ({
  id,
  line: 1,
  kind: 'wall',
  entity: 'IfcWall',
  name: null,
  tag: null,
  objectType: null,
  predefinedType: null,
  typeName: 'Concrete wall',
  storey: null,
  materials: [],
  body: solids.map((s) => ('solid' in s ? s : body(s))),
  openings: [],
  ...more,
});

export const opening = (id: string, solid: Solid, more: Partial<ModelOpening> = {}): ModelOpening => ({
  id,
  line: 1,
  name: null,
  predefinedType: null,
  filling: null,
  body: [body(solid)],
  ...more,
});

export const model = (elements: readonly ModelElement[], more: Partial<Model> = {}): Model => ({
  kind: 'ifc',
  schema: 'IFC4',
  schemaName: 'IFC4',
  timeStamp: null,
  unit: { lengthUnit: 'mm', mmPerUnit: 1, prefix: 'MILLI', conversionName: null },
  project: { id: 'project', name: null },
  sites: [],
  buildings: [],
  storeys: [],
  georeference: {
    map: null,
    trueNorth: null,
    worldFrame: null,
    latitude: null,
    longitude: null,
    siteElevationMm: null,
  },
  elements: [...elements].sort((p, q) => compareText(p.id, q.id)),
  bars: [],
  unread: {},
  ...more,
});

const moved = (p: Vec3, by: Vec3, turnRad: number): Vec3 => ({
  x: p.x * Math.cos(turnRad) - p.y * Math.sin(turnRad) + by.x,
  y: p.x * Math.sin(turnRad) + p.y * Math.cos(turnRad) + by.y,
  z: p.z + by.z,
});
const NOWHERE: Vec3 = { x: 0, y: 0, z: 0 };

/** A solid turned about the origin, then moved. */
export const movedSolid = (s: Solid, by: Vec3, turnRad: number): Solid => {
  const at = (p: Vec3) => moved(p, by, turnRad);
  const along = (p: Vec3) => moved(p, NOWHERE, turnRad);
  const frame = (f: Frame): Frame => ({ origin: at(f.origin), x: along(f.x), y: along(f.y), z: along(f.z) });
  if (s.kind === 'prism') return { ...s, frame: frame(s.frame), direction: along(s.direction) };
  if (s.kind === 'mesh') return { ...s, points: s.points.map(at) };
  if (s.kind === 'half-space')
    return {
      ...s,
      origin: at(s.origin),
      normal: along(s.normal),
      boundary: s.boundary && { ...s.boundary, frame: frame(s.boundary.frame) },
    };
  return { ...s, first: movedSolid(s.first, by, turnRad), second: movedSolid(s.second, by, turnRad) };
};

export const movedModel = (m: Model, by: Vec3, turnRad: number): Model => {
  const bodies = (list: readonly BodySolid[]) => list.map((b) => ({ ...b, solid: movedSolid(b.solid, by, turnRad) }));
  return {
    ...m,
    elements: m.elements.map((e) => ({
      ...e,
      body: bodies(e.body),
      openings: e.openings.map((o) => ({ ...o, body: bodies(o.body) })),
    })),
  };
};

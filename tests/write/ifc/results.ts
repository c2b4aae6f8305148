/** Results to write: laid-out scenes, a result as if it came from a model, and plans turned and moved. */

import type { Vec } from '../../../src/ground/plane.js';
import type { ModelHeader, Result } from '../../../src/ground/vocabulary.js';
import { writeIfc } from '../../../src/write/ifc/index.js';

export const bytesOf = (result: Result): Uint8Array => {
  const written = writeIfc(result);
  if (!written.ok) throw new Error(written.findings.map((f) => f.message).join(' '));
  return written.value;
};

export const textOf = (result: Result): string => new TextDecoder().decode(bytesOf(result));

/** The same layout with its plan turned about the origin and moved. */
export const moved = (result: Result, turnDeg: number, by: Vec): Result => {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const to = (p: Vec): Vec => ({ x: c * p.x - s * p.y + by.x, y: s * p.x + c * p.y + by.y });
  const { plan } = result;
  return {
    ...result,
    plan: {
      ...plan,
      walls: plan.walls.map((w) => ({ ...w, start: to(w.start), end: to(w.end) })),
      nodes: plan.nodes.map((n) => ({ ...n, at: to(n.at) })),
      vertices: plan.vertices.map((v) => ({ ...v, at: to(v.at) })),
      concrete: plan.concrete.map((ring) => ring.map(to)),
    },
  };
};

/** GlobalIds of the architect's walls: any 22 characters of the set, the first in 0 … 3. */
export const ARCHITECTS = ['2O2Fr$t4X7Zf8NOew3FL9r', '1hOSvn6df7F8_7GcBWlR72', '0xScRe4drECQ4DMSqUjd6d'] as const;

/** A header as a model in feet has it that lies far from its origin: turned true north, map conversion, storeys out of order. */
export const FEET_HEADER: ModelHeader = {
  schema: 'IFC4',
  schemaName: 'IFC4',
  timeStamp: '2024-03-05T08:15:30',
  unit: { lengthUnit: 'ft', mmPerUnit: 304.8, prefix: null, conversionName: 'FOOT' },
  project: { id: '0M6o7Znnv7hxsbWgeu7oQq', name: "Müller's House 東" },
  sites: [{ id: '23B$bNeGHFQuMYJzvUX0FD', name: 'Plot 7' }],
  buildings: [{ id: '0cSRUx$EX1NRjqiKcYQ$a0', name: 'House' }],
  storeys: [
    { id: '1jQQiGIAnFzxOUzrdmJYDS', name: 'T/FDN', levelMm: -304.8, elevationMm: -304.8 },
    { id: '0fdpeZZEX3FwJ7x0ox5kzF', name: 'Level 1', levelMm: 2438.4, elevationMm: null },
  ],
  georeference: {
    map: {
      eastings: 2781000.123,
      northings: 1203456.789,
      orthogonalHeight: 401.5,
      xAxisAbscissa: 0.8660254037844387,
      xAxisOrdinate: 0.5,
      scale: 1,
      crs: {
        name: 'EPSG:2056',
        description: 'CH1903+ / LV95',
        geodeticDatum: 'CH1903+',
        verticalDatum: 'LN02',
        mapProjection: null,
        mapZone: null,
        unit: { prefix: null, conversionName: null, mmPerUnit: 1000 },
      },
    },
    trueNorth: [-0.25881904510252074, 0.9659258262890683],
    worldFrame: null,
    latitude: [46, 57, 0, 123456],
    longitude: [-7, -26, -30],
    siteElevationMm: 401500,
  },
};

/** The result as if its walls were the architect's of a model. */
export const asModel = (result: Result, header: ModelHeader = FEET_HEADER): Result => ({
  ...result,
  source: { file: 'house.ifc', sha256: 'b'.repeat(64), kind: 'ifc', lengthUnit: header.unit.lengthUnit },
  model: header,
  plan: {
    ...result.plan,
    walls: result.plan.walls.map((w, i) => ({ ...w, sources: [ARCHITECTS[i % ARCHITECTS.length]!] })),
  },
  foundation: {
    ...result.foundation,
    model: {
      elements: ARCHITECTS.map((id, i) => ({
        id,
        entity: 'IfcWall',
        name: `Foundation ${i}`,
        storey: '1jQQiGIAnFzxOUzrdmJYDS',
        taken: true,
        why: 'concrete by material',
      })),
      outlines: [],
      bars: [],
      obstacles: [],
    },
  },
});

/** Many of the same layout side by side, everything named anew. */
export const copies = (result: Result, count: number): Result => {
  const each = Array.from({ length: count }, (_, i) => {
    const one = moved(result, 0, { x: (i % 20) * 5000, y: Math.floor(i / 20) * 5000 });
    const own = (id: string): string => `${id}-${i}`;
    const { plan, layout } = one;
    return {
      walls: plan.walls.map((w) => ({ ...w, id: own(w.id) })),
      nodes: plan.nodes.map((n) => ({ ...n, id: own(n.id), walls: n.walls.map(own) })),
      faces: plan.faces.map((f) => ({ ...f, id: own(f.id), wall: own(f.wall) })),
      vertices: plan.vertices.map((v) => ({
        ...v,
        id: own(v.id),
        node: own(v.node),
        arms: [
          { ...v.arms[0], wall: own(v.arms[0].wall) },
          { ...v.arms[1], wall: own(v.arms[1].wall) },
        ] as const,
      })),
      runs: plan.runs.map((r) => ({ ...r, wall: own(r.wall) })),
      pieces: layout.pieces.map((p) => ({
        ...p,
        id: own(p.id),
        ...(p.node === undefined ? {} : { node: own(p.node) }),
        ...(p.vertex === undefined ? {} : { vertex: own(p.vertex) }),
        covers: p.covers.map((c) => ({ ...c, face: own(c.face) })),
      })),
      ties: layout.ties.map((t) => ({
        ...t,
        id: own(t.id),
        wall: own(t.wall),
        pieces: [own(t.pieces[0]), own(t.pieces[1])] as const,
        governingFace: own(t.governingFace),
      })),
    };
  });
  return {
    ...result,
    plan: {
      ...result.plan,
      walls: each.flatMap((e) => e.walls),
      nodes: each.flatMap((e) => e.nodes),
      faces: each.flatMap((e) => e.faces),
      vertices: each.flatMap((e) => e.vertices),
      runs: each.flatMap((e) => e.runs),
    },
    layout: { ...result.layout, pieces: each.flatMap((e) => e.pieces), ties: each.flatMap((e) => e.ties) },
  };
};

/** What stands on a foundation plan besides walls: in mm and plan coordinates, on the layers that an office would use. */

import type { Vec } from '../../../src/ground/plane.js';
import type { Dice } from './dice.js';
import type { Entity } from './dxfEntities.js';
import type { Naming } from './names.js';
import { Areas, bodiesOf, lengthOf, pointOn, type Truth, unitOf } from './truth.js';

export const CLUTTER = [
  'footings',
  'footings-dashed',
  'footings-same-layer',
  'dimensions',
  'grid',
  'texts',
  'doors',
  'furniture',
  'slab',
  'stairs',
  'columns',
  'frame',
  'section',
  'section-same-layer',
  'detail',
  'detail-same-layer',
  'axes',
  'axes-same-layer',
  'partitions',
  'frozen-plan',
  'storey',
] as const;
export type Clutter = (typeof CLUTTER)[number];

export interface Clutterings {
  readonly entities: Entity[];
  readonly blocks: Record<string, Entity[]>;
}

interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const boundsOf = (truth: Truth): Box => {
  const points = bodiesOf(truth).flat();
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
};

const line = (layer: string, x0: number, y0: number, x1: number, y1: number): Entity => ({
  kind: 'line',
  layer,
  a: { x: x0, y: y0 },
  b: { x: x1, y: y1 },
});

const rect = (layer: string, x0: number, y0: number, x1: number, y1: number): Entity => ({
  kind: 'poly',
  layer,
  closed: true,
  points: [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ],
});

const text = (layer: string, at: Vec, height: number, words: string): Entity => ({
  kind: 'text',
  layer,
  at,
  height,
  text: words,
  turnDeg: 0,
});

const footings = (truth: Truth, layer: string, byMm: number, lineType?: string): Entity[] => {
  const areas = new Areas({ x: 0, y: 0 });
  return areas.grown(areas.union(bodiesOf(truth)), byMm).map((points) => ({
    kind: 'poly',
    layer,
    closed: true,
    points,
    ...(lineType ? { lineType } : {}),
  }));
};

/** Walls along x or y whose axes may be dimensioned and gridded. */
const square = (truth: Truth) =>
  truth.walls.filter((w) => Math.abs(w.start.x - w.end.x) < 0.01 || Math.abs(w.start.y - w.end.y) < 0.01);

const grid = (truth: Truth, names: Naming): Entity[] => {
  const b = boundsOf(truth);
  const out: Entity[] = [];
  const lines = (upright: boolean) => {
    const at = square(truth)
      .filter((w) => Math.abs(w.start.x - w.end.x) < 0.01 === upright)
      .map((w) => (upright ? w.start.x : w.start.y));
    [...new Set(at)]
      .sort((p, q) => p - q)
      .filter((x, i, all) => i === 0 || x - all[i - 1]! > 1000)
      .forEach((x, i) => {
        const name = upright ? String(i + 1) : String.fromCharCode(65 + (i % 26));
        const tip = upright ? { x, y: b.y1 + 1900 } : { x: b.x0 - 1900, y: x };
        const [from, to] = upright
          ? [
              { x, y: b.y0 - 1500 },
              { x, y: b.y1 + 1500 },
            ]
          : [
              { x: b.x0 - 1500, y: x },
              { x: b.x1 + 1500, y: x },
            ];
        out.push({ kind: 'line', layer: names.grid, a: from, b: to, lineType: 'CENTER' });
        out.push({ kind: 'circle', layer: names.grid, centre: tip, radius: 400 });
        out.push(text(names.grid, { x: tip.x - 100, y: tip.y - 125 }, 250, name));
      });
  };
  lines(true);
  lines(false);
  return out;
};

/** Names and marks as a plan bears them; levels stand apart from the plan. */
const texts = (truth: Truth, names: Naming): Entity[] => {
  const b = boundsOf(truth);
  const mid = { x: (b.x0 + b.x1) / 2, y: (b.y0 + b.y1) / 2 };
  return [
    text(names.text, { x: mid.x, y: b.y0 - 3200 }, 250, 'FOUNDATION PLAN  1:50'),
    text(names.text, { x: mid.x + 300, y: mid.y + 300 }, 150, 'CELLAR 1'),
    text(names.text, { x: b.x0 - 2800, y: b.y0 - 3200 }, 150, 'ALL CONCRETE C25/30'),
  ];
};

const doors = (truth: Truth, names: Naming): Clutterings => {
  const blocks: Record<string, Entity[]> = {};
  const entities = truth.openings
    .filter((o) => lengthOf(o) < 1500)
    .map((o): Entity => {
      const wide = Math.round(lengthOf(o));
      const name = `DOOR${wide}`;
      blocks[name] = [
        rect('0', 0, 0, 40, wide),
        { kind: 'arc', layer: '0', centre: { x: 0, y: 0 }, radius: wide, fromDeg: 0, toDeg: 90 },
      ];
      const d = unitOf(o);
      return {
        kind: 'insert',
        layer: names.door,
        block: name,
        at: pointOn(o, 0, o.thicknessMm / 2),
        turnDeg: (Math.atan2(d.y, d.x) * 180) / Math.PI,
        sx: 1,
        sy: 1,
      };
    });
  return { entities, blocks };
};

/** Places inside the building at least `byMm` from every wall's axis. */
const roomy = (truth: Truth, dice: Dice, byMm: number): Vec | null => {
  const b = boundsOf(truth);
  for (let i = 0; i < 40; i++) {
    const p = { x: Math.round(dice.between(b.x0, b.x1)), y: Math.round(dice.between(b.y0, b.y1)) };
    const clear = truth.walls.every((w) => {
      const [l, d] = [lengthOf(w), unitOf(w)];
      const [x, y] = [p.x - w.start.x, p.y - w.start.y];
      const u = Math.max(0, Math.min(l, x * d.x + y * d.y));
      return Math.hypot(x - d.x * u, y - d.y * u) > byMm;
    });
    if (clear) return p;
  }
  return null;
};

const furniture = (truth: Truth, names: Naming, dice: Dice): Clutterings => {
  const entities: Entity[] = [];
  for (let i = 0; i < 3; i++) {
    const at = roomy(truth, dice, 1500);
    if (at)
      entities.push({
        kind: 'insert',
        layer: names.furniture,
        block: 'BED',
        at,
        turnDeg: 90 * dice.whole(4),
        sx: 1,
        sy: 1,
      });
  }
  // About its middle, so that it stays clear of the walls however it is turned.
  const bed = [rect('0', -450, -1000, 450, 1000), rect('0', -350, 600, 350, 900), line('0', -450, 500, 450, 500)];
  return { entities, blocks: entities.length > 0 ? { BED: bed } : {} };
};

const stairs = (truth: Truth, names: Naming, dice: Dice): Entity[] => {
  const at = roomy(truth, dice, 1800);
  if (!at) return [];
  const treads = Array.from({ length: 9 }, (_, i) =>
    line(names.stair, at.x + 270 * (i - 4), at.y - 450, at.x + 270 * (i - 4), at.y + 450),
  );
  return [...treads, line(names.stair, at.x - 1080, at.y, at.x + 1080, at.y)];
};

const columns = (truth: Truth, names: Naming, dice: Dice): Entity[] => {
  const at = roomy(truth, dice, 1600);
  if (!at) return [];
  return [
    rect(names.column, at.x - 150, at.y - 150, at.x + 150, at.y + 150),
    rect(names.footing, at.x - 500, at.y - 500, at.x + 500, at.y + 500),
  ];
};

const pointsOf = (e: Entity): readonly Vec[] => {
  switch (e.kind) {
    case 'line':
      return [e.a, e.b];
    case 'poly':
    case 'mline':
      return e.points;
    case 'hatch':
      return e.loops.flat();
    case 'text':
    case 'insert':
      return [e.at];
    default:
      return [];
  }
};

/** The border of the sheet and its title block, round everything that stands on it. */
const frame = (truth: Truth, names: Naming, others: readonly Entity[]): Entity[] => {
  const plan = boundsOf(truth);
  const xs = [plan.x0, plan.x1, ...others.flatMap(pointsOf).map((p) => p.x)];
  const ys = [plan.y0, plan.y1, ...others.flatMap(pointsOf).map((p) => p.y)];
  const b = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
  const [x0, y0, x1, y1] = [b.x0 - 6000, b.y0 - 8000, b.x1 + 6000, b.y1 + 6000];
  return [
    rect(names.frame, x0, y0, x1, y1),
    rect(names.frame, x0 + 250, y0 + 250, x1 - 250, y1 - 250),
    rect(names.frame, x1 - 5250, y0 + 250, x1 - 250, y0 + 2250),
    ...[1, 2, 3].map((i) => line(names.frame, x1 - 5250, y0 + 250 + 500 * i, x1 - 250, y0 + 250 + 500 * i)),
    text(names.frame, { x: x1 - 5000, y: y0 + 350 }, 200, 'SHEET S-101'),
  ];
};

/** A section through a wall on its footing, well to the right of the plan: it shows a wall's two faces, but no wall in plan. */
const section = (truth: Truth, names: Naming, layer: string): Entity[] => {
  const b = boundsOf(truth);
  const [x, y] = [b.x1 + 9000, b.y0];
  return [
    rect(layer, x, y, x + 800, y + 300),
    rect(layer, x + 275, y + 300, x + 525, y + 2700),
    line(layer, x + 525, y + 2500, x + 3000, y + 2500),
    line(layer, x + 525, y + 2650, x + 3000, y + 2650),
    text(names.text, { x, y: y - 600 }, 250, 'SECTION A-A  1:20'),
  ];
};

/** A corner of two walls of 200 mm at five times its size, with its bars, to the left of the plan. */
const detail = (truth: Truth, names: Naming, layer: string): Entity[] => {
  const b = boundsOf(truth);
  const [x, y] = [b.x0 - 16_000, b.y0];
  const points = [
    [0, 0],
    [4000, 0],
    [4000, 1000],
    [1000, 1000],
    [1000, 4000],
    [0, 4000],
  ].map(([u, v]) => ({ x: x + u!, y: y + v! }));
  return [
    { kind: 'poly', layer, closed: true, points },
    line(names.section, x + 200, y + 200, x + 4000, y + 200),
    line(names.section, x + 200, y + 200, x + 200, y + 4000),
    text(names.text, { x, y: y - 1000 }, 250, 'DETAIL 3  1:10'),
  ];
};

const axes = (truth: Truth, layer: string): Entity[] =>
  truth.walls.map((w) => ({ kind: 'line', layer, a: w.start, b: w.end, lineType: 'CENTER' }));

/** Light partitions of the storey above, on their own layer. */
const partitions = (truth: Truth, names: Naming, dice: Dice): Entity[] => {
  const at = roomy(truth, dice, 1600);
  return at ? [rect(names.partition, at.x - 1000, at.y - 50, at.x + 1000, at.y + 50)] : [];
};

/** Ends the names of layers that are frozen. */
export const FROZEN = '-ALT';

/** An older state of the plan, half a metre off, on a frozen layer. */
const frozenPlan = (truth: Truth, names: Naming): Entity[] => {
  const areas = new Areas({ x: 0, y: 0 });
  return areas.back(areas.union(bodiesOf(truth))).map((ring) => ({
    kind: 'poly',
    layer: `${names.wall}${FROZEN}`,
    closed: true,
    points: ring.map((p) => ({ x: p.x + 500, y: p.y + 300 })),
  }));
};

/** The same walls again as the storey above, far to the right, on the layer of the walls. */
const storey = (truth: Truth, names: Naming): Entity[] => {
  const b = boundsOf(truth);
  const areas = new Areas({ x: 0, y: 0 });
  const dx = b.x1 - b.x0 + 15_000;
  const move = (p: Vec) => ({ x: p.x + dx, y: p.y });
  const rings = areas.back(areas.union(bodiesOf(truth)));
  return [
    ...rings.map((r): Entity => ({ kind: 'poly', layer: names.wall, closed: true, points: r.map(move) })),
    text(names.text, { x: b.x0 + dx, y: b.y0 - 3200 }, 250, 'GROUND FLOOR PLAN  1:50'),
    text(names.text, { x: b.x0, y: b.y0 - 3200 }, 250, 'FOUNDATION PLAN  1:50'),
  ];
};

const dimensions = (truth: Truth, names: Naming): Entity[] =>
  truth.walls.slice(0, 12).map((w) => ({
    kind: 'dim',
    layer: names.dims,
    from: w.start,
    to: w.end,
    line: pointOn(w, lengthOf(w), 1400),
    text: null,
  }));

const slab = (truth: Truth, names: Naming): Entity[] => {
  const b = boundsOf(truth);
  const ring = [
    { x: b.x0 - 200, y: b.y0 - 200 },
    { x: b.x1 + 200, y: b.y0 - 200 },
    { x: b.x1 + 200, y: b.y1 + 200 },
    { x: b.x0 - 200, y: b.y1 + 200 },
  ];
  return [
    { kind: 'poly', layer: names.slab, closed: true, points: ring },
    ...Array.from({ length: 8 }, (_, i) =>
      line(names.slab, b.x0 + 500 + 300 * i, b.y0 + 500, b.x0 + 700 + 300 * i, b.y0 + 700),
    ),
  ];
};

/** `others`: what stands on the sheet already. */
export const drawClutter = (
  truth: Truth,
  kind: Clutter,
  names: Naming,
  dice: Dice,
  others: readonly Entity[],
): Clutterings => {
  const bare = (entities: Entity[]): Clutterings => ({ entities, blocks: {} });
  const by = 100 + 50 * dice.whole(6);
  switch (kind) {
    case 'footings':
      return bare(footings(truth, names.footing, by));
    case 'footings-dashed':
      return bare(footings(truth, names.footing, by, 'DASHED'));
    case 'footings-same-layer':
      return bare(footings(truth, names.wall, by));
    case 'dimensions':
      return bare(dimensions(truth, names));
    case 'grid':
      return bare(grid(truth, names));
    case 'texts':
      return bare(texts(truth, names));
    case 'doors':
      return doors(truth, names);
    case 'furniture':
      return furniture(truth, names, dice);
    case 'slab':
      return bare(slab(truth, names));
    case 'stairs':
      return bare(stairs(truth, names, dice));
    case 'columns':
      return bare(columns(truth, names, dice));
    case 'frame':
      return bare(frame(truth, names, others));
    case 'section':
      return bare(section(truth, names, names.section));
    case 'section-same-layer':
      return bare(section(truth, names, names.wall));
    case 'detail':
      return bare(detail(truth, names, names.section));
    case 'detail-same-layer':
      return bare(detail(truth, names, names.wall));
    case 'axes':
      return bare(axes(truth, names.axis));
    case 'axes-same-layer':
      return bare(axes(truth, names.wall));
    case 'partitions':
      return bare(partitions(truth, names, dice));
    case 'frozen-plan':
      return bare(frozenPlan(truth, names));
    case 'storey':
      return bare(storey(truth, names));
  }
};

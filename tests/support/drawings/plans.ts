/**
 * Plans of known walls, drawn at random by fast-check from measures as buildings have them. All coordinates before placing are whole or half mm.
 * Rooms are at least 1.5 m wide, so that no two faces of different walls stand a wall's thickness apart.
 */

import fc from 'fast-check';
import type { Vec } from '../../../src/ground/plane.js';
import {
  joined,
  lengthOf,
  NO_WALLS,
  type Placing,
  placedTruth,
  pointOn,
  type Truth,
  type TruthOpening,
  type TruthWall,
} from './truth.js';

const wall = (x0: number, y0: number, x1: number, y1: number, thicknessMm: number): TruthWall => ({
  start: { x: x0, y: y0 },
  end: { x: x1, y: y1 },
  thicknessMm,
});

const plain = (...walls: TruthWall[]): Truth => ({ ...NO_WALLS, walls });

// ------------------------------------------------------------------- free spans

interface Span {
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

const CLEAR_MM = 300;

/** Parts of the walls with no other wall, block or opening near either face; by wall, then place. */
export const freeSpans = (t: Truth): Span[] =>
  t.walls.flatMap((w, index) => {
    const l = lengthOf(w);
    const taken: [number, number][] = [
      [0, 0],
      [l, l],
    ];
    const block = (points: readonly Vec[], by: number) => {
      const us = points.map((p) => {
        const [a, b] = [pointOn(w, 0), pointOn(w, 1)];
        const d = { x: b.x - a.x, y: b.y - a.y };
        return {
          u: (p.x - a.x) * d.x + (p.y - a.y) * d.y,
          v: (p.y - a.y) * d.x - (p.x - a.x) * d.y,
        };
      });
      const vs = us.map((x) => x.v);
      if (Math.min(...vs) > w.thicknessMm / 2 + 50 || Math.max(...vs) < -w.thicknessMm / 2 - 50) return;
      taken.push([Math.min(...us.map((x) => x.u)) - by, Math.max(...us.map((x) => x.u)) + by]);
    };
    t.walls.forEach((o, i) => {
      if (i !== index) block([o.start, o.end], o.thicknessMm / 2);
    });
    for (const b of t.blocks) block(b, 0);
    taken.sort((p, q) => p[0] - q[0]);
    const out: Span[] = [];
    let at = taken[0]![1];
    for (const [a, b] of taken) {
      if (a - at > 2 * CLEAR_MM) out.push({ index, from: at + CLEAR_MM, to: a - CLEAR_MM });
      at = Math.max(at, b);
    }
    return out;
  });

// ------------------------------------------------------------------- what may be done to a plan

/** Something done to a plan at the `pick`-th free span that has room (share of the list, 0 to 1), `along` it (0 to 1). */
export interface Change {
  readonly kind: 'door' | 'pilaster' | 'thicker' | 'stub' | 'skew-stub' | 'return' | 'annex' | 'step';
  readonly pick: number;
  readonly along: number;
  readonly sizeMm: number;
  readonly left: boolean;
}

const ROOM: Readonly<Record<Change['kind'], number>> = {
  door: 800,
  pilaster: 800,
  thicker: 2600,
  stub: 1000,
  'skew-stub': 1600,
  return: 1500,
  annex: 4500,
  step: 2400,
};

const cut = (w: TruthWall, from: number, to: number): TruthWall => ({
  start: pointOn(w, from),
  end: pointOn(w, to),
  thicknessMm: w.thicknessMm,
});

const replaced = (t: Truth, index: number, by: readonly TruthWall[]): Truth => ({
  ...t,
  walls: t.walls.flatMap((w, i) => (i === index ? by : [w])),
});

/** Is the box round these points well away from every wall but one? */
export const room = (t: Truth, points: readonly Vec[], but: number, byMm: number): boolean => {
  const [x0, x1] = [Math.min(...points.map((p) => p.x)) - byMm, Math.max(...points.map((p) => p.x)) + byMm];
  const [y0, y1] = [Math.min(...points.map((p) => p.y)) - byMm, Math.max(...points.map((p) => p.y)) + byMm];
  return t.walls.every(
    (w, i) =>
      i === but ||
      Math.max(w.start.x, w.end.x) + w.thicknessMm < x0 ||
      Math.min(w.start.x, w.end.x) - w.thicknessMm > x1 ||
      Math.max(w.start.y, w.end.y) + w.thicknessMm < y0 ||
      Math.min(w.start.y, w.end.y) - w.thicknessMm > y1,
  );
};

const added = (t: Truth, walls: readonly TruthWall[], on: number, byMm: number): Truth =>
  room(
    t,
    walls.flatMap((w, i) => (i === 0 ? [pointOn(w, Math.min(lengthOf(w), 700)), w.end] : [w.start, w.end])),
    on,
    byMm,
  )
    ? { ...t, walls: [...t.walls, ...walls] }
    : t;

export const half = (mm: number): number => Math.round(mm / 10) * 10;

/** The plan with the change, or as it was where there is no room. */
export const changed = (t: Truth, c: Change): Truth => {
  const spans = freeSpans(t).filter((s) => s.to - s.from >= ROOM[c.kind]);
  const span = spans[Math.min(spans.length - 1, Math.floor(c.pick * spans.length))];
  if (!span) return t;
  const w = t.walls[span.index]!;
  const l = lengthOf(w);
  const side = c.left ? 1 : -1;
  const slot = (mm: number): [number, number] => {
    const from = half(span.from + c.along * (span.to - span.from - mm));
    return [from, from + mm];
  };
  switch (c.kind) {
    case 'door': {
      const [a, b] = slot(half(Math.min(span.to - span.from, 700 + (c.sizeMm % 500))));
      const gap: TruthOpening = cut(w, a, b);
      return { ...replaced(t, span.index, [cut(w, 0, a), cut(w, b, l)]), openings: [...t.openings, gap] };
    }
    case 'pilaster': {
      const [a, b] = slot(300 + 50 * (c.sizeMm % 6));
      const [inner, outer] = [side * (w.thicknessMm / 2), side * (w.thicknessMm / 2 + 100 + 25 * (c.sizeMm % 7))];
      const block = [pointOn(w, a, inner), pointOn(w, b, inner), pointOn(w, b, outer), pointOn(w, a, outer)];
      return { ...t, blocks: [...t.blocks, block] };
    }
    case 'thicker': {
      // The left or right face runs on, the other one jumps out and back.
      const [a, b] = slot(1500 + 10 * (c.sizeMm % 100));
      const more = 60 + 10 * (c.sizeMm % 9);
      const v = (side * more) / 2;
      const thick = { start: pointOn(w, a, v), end: pointOn(w, b, v), thicknessMm: w.thicknessMm + more };
      return replaced(t, span.index, [cut(w, 0, a), thick, cut(w, b, l)]);
    }
    case 'step': {
      // From here to the wall's end the other thickness, both faces jump.
      const at = half(span.from + 1000 + c.along * (span.to - span.from - 2000));
      const thin = { ...cut(w, at, l), thicknessMm: w.thicknessMm - 40 };
      return w.thicknessMm >= 200 ? replaced(t, span.index, [cut(w, 0, at), thin]) : t;
    }
    case 'stub': {
      const [a] = slot(0);
      const from = pointOn(w, a);
      return added(
        t,
        [{ start: from, end: pointOn(w, a, side * (700 + c.sizeMm)), thicknessMm: w.thicknessMm }],
        span.index,
        800,
      );
    }
    case 'skew-stub': {
      const [a] = slot(0);
      const [u, v] = [900 + c.sizeMm / 3, 900 + c.sizeMm / 2];
      return added(
        t,
        [{ start: pointOn(w, a), end: pointOn(w, a + u, side * v), thicknessMm: w.thicknessMm }],
        span.index,
        1300,
      );
    }
    case 'return': {
      const [a] = slot(0);
      const out = side * (1500 + c.sizeMm);
      const knee = pointOn(w, a, out);
      const short = w.thicknessMm + 150 + (c.sizeMm % 500);
      return added(
        t,
        [
          { start: pointOn(w, a), end: knee, thicknessMm: w.thicknessMm },
          { start: knee, end: pointOn(w, a + half(short), out), thicknessMm: w.thicknessMm },
        ],
        span.index,
        1300,
      );
    }
    case 'annex': {
      // Three thinner walls round a garage, with its gate left open in the last.
      const [a, b] = slot(3000 + half(c.sizeMm / 3));
      const deep = side * (4500 + half(c.sizeMm));
      const thin = Math.max(150, w.thicknessMm - 50);
      const [p, q] = [pointOn(w, a, deep), pointOn(w, b, deep)];
      const gate = { start: p, end: q, thicknessMm: thin };
      const walls = [
        { start: pointOn(w, a), end: p, thicknessMm: thin },
        { start: q, end: pointOn(w, b), thicknessMm: thin },
        cut(gate, 0, 500),
        cut(gate, lengthOf(gate) - 500, lengthOf(gate)),
      ];
      const outer = [pointOn(w, a, side * 700), pointOn(w, b, side * 700), p, q];
      return room(t, outer, span.index, 1500) ? { ...t, walls: [...t.walls, ...walls] } : t;
    }
  }
};

export type ChangeKind = Change['kind'];

/** Kinds of change that leave one thickness one. */
export const OF_ONE_THICKNESS: readonly ChangeKind[] = ['door', 'stub', 'skew-stub', 'return'];
const ALL_KINDS: readonly ChangeKind[] = [...OF_ONE_THICKNESS, 'door', 'pilaster', 'thicker', 'annex', 'step'];

const change = (kinds: readonly ChangeKind[]): fc.Arbitrary<Change> =>
  fc.record({
    kind: fc.constantFrom(...kinds),
    pick: fc.double({ min: 0, max: 1, noNaN: true }),
    along: fc.double({ min: 0, max: 1, noNaN: true }),
    sizeMm: fc.integer({ min: 0, max: 1500 }).map((x) => x - (x % 10)),
    left: fc.boolean(),
  });

// ------------------------------------------------------------------- buildings

export const thickness = fc.constantFrom(140, 150, 180, 200, 240, 250, 300, 365, 400);
const bays = (least: number, most: number) => fc.integer({ min: least / 100, max: most / 100 }).map((x) => x * 100);
const bay = bays(2000, 8000);

export interface BuildingShape {
  /** Bays in x and y, mm between axes. */
  readonly wide: readonly number[];
  readonly deep: readonly number[];
  readonly outerMm: number;
  readonly innerMm: number;
  /** Cells cut from the rectangle's corners: none (rectangle), one (L), two (U, Z or T). */
  readonly without: readonly ('ne' | 'nw' | 'se' | 'sw')[];
  /** For each inner grid line (x first): does a partition stand there, and how far does it go? */
  readonly partitions: readonly ('none' | 'full' | 'part')[];
}

/** Walls in one line, of one thickness and end to end made one. */
const inOnePiece = (walls: readonly TruthWall[]): TruthWall[] => {
  const out: TruthWall[] = [];
  for (const w of walls) {
    const last = out.at(-1);
    const goesOn =
      last &&
      last.thicknessMm === w.thicknessMm &&
      last.end.x === w.start.x &&
      last.end.y === w.start.y &&
      (last.start.x === w.end.x || last.start.y === w.end.y);
    if (goesOn) out[out.length - 1] = { ...last, end: w.end };
    else out.push(w);
  }
  return out;
};

/** Walls of a building on its grid: walls round every cell of the shape, partitions from face to face or with a free end. */
export const building = (s: BuildingShape): Truth => {
  const places = (bays: readonly number[]) => {
    const at = [0];
    for (const b of bays) at.push(at.at(-1)! + b);
    return at;
  };
  const [xs, ys] = [places(s.wide), places(s.deep)];
  const [nx, ny] = [s.wide.length, s.deep.length];
  const has = (i: number, j: number): boolean => {
    if (i < 0 || j < 0 || i >= nx || j >= ny) return false;
    const name = `${j === ny - 1 ? 'n' : j === 0 ? 's' : '-'}${i === nx - 1 ? 'e' : i === 0 ? 'w' : '-'}`;
    // Only where something of each row and column stays.
    return nx < 2 || ny < 2 || !s.without.some((c) => c === name);
  };
  const walls: TruthWall[] = [];
  const row = (
    count: number,
    isOuter: (k: number) => boolean,
    isInner: (k: number) => boolean,
    at: readonly number[],
    make: (a: number, b: number, t: number) => TruthWall,
    partition: 'none' | 'full' | 'part',
  ) => {
    for (let k = 0; k < count; ) {
      const kind = isOuter(k) ? 'outer' : isInner(k) && partition !== 'none' ? 'inner' : null;
      let end = k + 1;
      while (end < count && kind !== null && (kind === 'outer' ? isOuter(end) : isInner(end))) end++;
      if (kind === 'outer') walls.push(make(at[k]!, at[end]!, s.outerMm));
      if (kind === 'inner') {
        const to = partition === 'full' ? at[end]! : at[k]! + Math.round(0.6 * (at[k + 1]! - at[k]!));
        walls.push(make(at[k]!, to, s.innerMm));
      }
      k = end;
    }
  };
  ys.forEach((y, j) => {
    row(
      nx,
      (i) => has(i, j) !== has(i, j - 1),
      (i) => has(i, j) && has(i, j - 1),
      xs,
      (a, b, t) => wall(a, y, b, y, t),
      s.partitions[(nx + j) % s.partitions.length]!,
    );
  });
  xs.forEach((x, i) => {
    row(
      ny,
      (j) => has(i, j) !== has(i - 1, j),
      (j) => has(i, j) && has(i - 1, j),
      ys,
      (a, b, t) => wall(x, a, x, b, t),
      s.partitions[i % s.partitions.length]!,
    );
  });
  return plain(...inOnePiece(walls));
};

export const buildingShape: fc.Arbitrary<BuildingShape> = fc.record({
  wide: fc.array(bay, { minLength: 1, maxLength: 3 }),
  deep: fc.array(bay, { minLength: 1, maxLength: 3 }),
  outerMm: thickness,
  innerMm: fc.constantFrom(140, 150, 200, 240),
  without: fc.uniqueArray(fc.constantFrom('ne', 'nw', 'se', 'sw'), { maxLength: 2 }),
  partitions: fc.array(fc.constantFrom('none', 'full', 'part'), { minLength: 1, maxLength: 4 }),
});

/** A wall that stands alone: straight, with a return at its end, or bent by an odd angle. */
const alone: fc.Arbitrary<Truth> = fc
  .record({
    kind: fc.constantFrom('straight', 'angle', 'bent', 'channel'),
    lengthMm: bay,
    legMm: fc.integer({ min: 60, max: 300 }).map((x) => x * 10),
    thicknessMm: thickness,
    bendDeg: fc.integer({ min: 15, max: 75 }),
  })
  .map(({ kind, lengthMm: l, legMm, thicknessMm: t, bendDeg }) => {
    const leg = Math.max(legMm, t / 2 + 1.5 * t);
    const along = wall(0, 0, l, 0, t);
    if (kind === 'straight') return plain(along);
    if (kind === 'angle') return plain(along, wall(l, 0, l, leg, t));
    if (kind === 'channel') {
      return plain(along, wall(l, 0, l, leg + 1500, t), wall(0, 0, 0, leg + 1500, t));
    }
    const a = (bendDeg * Math.PI) / 180;
    const far = 1500 + legMm;
    return plain(along, wall(l, 0, l + far * Math.cos(a), far * Math.sin(a), t));
  });

export const boundsOf = (t: Truth): { x0: number; x1: number; y0: number; y1: number } => {
  const points = t.walls.flatMap((w) => [w.start, w.end]);
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
};

/** Sets plans side by side, 3 m apart, each turned by its own angle. */
const beside = (list: readonly { readonly truth: Truth; readonly turnDeg: number }[]): Truth => {
  let at = 0;
  const out: Truth[] = [];
  for (const { truth, turnDeg } of list) {
    const turned = placedTruth(truth, { mirrored: false, turnDeg, dx: 0, dy: 0 });
    const b = boundsOf(turned);
    const dx = Math.round(at - b.x0);
    out.push(placedTruth(turned, { mirrored: false, turnDeg: 0, dx, dy: -Math.round(b.y0) }));
    at = b.x1 + dx + 3000;
  }
  return joined(...out);
};

/** Plans of straight walls: one or two buildings with what is done to the first of them, perhaps a wall that stands alone. */
export const arbitraryTruth: fc.Arbitrary<Truth> = fc
  .record({
    main: buildingShape,
    changes: fc.array(change(ALL_KINDS), { maxLength: 5 }),
    second: fc.option(fc.record({ shape: buildingShape, turnDeg: fc.constantFrom(0, 0, 15, 30, 37.5) }), { freq: 3 }),
    alone: fc.option(fc.record({ truth: alone, turnDeg: fc.constantFrom(0, 0, 90, 20) }), { freq: 2 }),
  })
  .map(({ main, changes, second, alone: free }) =>
    beside([
      { truth: changes.reduce(changed, building(main)), turnDeg: 0 },
      ...(second ? [{ truth: building(second.shape), turnDeg: second.turnDeg }] : []),
      ...(free ? [free] : []),
    ]),
  );

const single = (kinds: readonly ChangeKind[]): fc.Arbitrary<Truth> =>
  fc
    .record({ main: buildingShape, changes: fc.array(change(kinds), { maxLength: 5 }) })
    .map(({ main, changes }) => changes.reduce(changed, building(main)));

/** One building alone. */
export const oneBuilding: fc.Arbitrary<Truth> = single(ALL_KINDS);

/** One building whose walls have no gaps. */
export const withoutDoors: fc.Arbitrary<Truth> = single(
  ALL_KINDS.filter((kind) => kind !== 'door' && kind !== 'annex'),
);

/** One or two buildings with walls of up to 200 mm in rooms as they come: nearly every piece is five times as long as thick. */
export const slender: fc.Arbitrary<Truth> = fc
  .record({
    main: buildingShape,
    second: fc.option(buildingShape, { freq: 3 }),
    thicknesses: fc.uniqueArray(fc.constantFrom(140, 150, 180, 200), { minLength: 2, maxLength: 2 }),
    changes: fc.array(change(['door', 'stub', 'pilaster', 'annex']), { maxLength: 3 }),
  })
  .map(({ main, second, thicknesses, changes }) => {
    const thin = (shape: BuildingShape) =>
      building({ ...shape, outerMm: Math.max(...thicknesses), innerMm: Math.min(...thicknesses) });
    return beside([
      { truth: changes.reduce(changed, thin(main)), turnDeg: 0 },
      ...(second ? [{ truth: thin(second), turnDeg: 0 }] : []),
    ]);
  });

/** One building of slender walls without gaps, its bays between two measures. */
export const withBays = (leastMm: number, mostMm: number): fc.Arbitrary<Truth> =>
  fc
    .record({
      main: buildingShape,
      wide: fc.array(bays(leastMm, mostMm), { minLength: 1, maxLength: 3 }),
      deep: fc.array(bays(leastMm, mostMm), { minLength: 1, maxLength: 3 }),
      changes: fc.array(change(['pilaster']), { maxLength: 3 }),
    })
    .map(({ main, wide, deep, changes }) =>
      changes.reduce(changed, building({ ...main, wide, deep, outerMm: 200, innerMm: 150 })),
    );

/** One building with walls of one thickness. */
export const oneThickness: fc.Arbitrary<Truth> = fc
  .record({ main: buildingShape, changes: fc.array(change(OF_ONE_THICKNESS), { maxLength: 5 }) })
  .map(({ main, changes }) => changes.reduce(changed, building({ ...main, innerMm: main.outerMm })));

/** Where a plan may lie: square to the axes, turned by round and odd angles, mirrored, anywhere within a site. */
export const arbitraryPlacing: fc.Arbitrary<Placing> = fc.record({
  mirrored: fc.boolean(),
  turnDeg: fc.oneof(
    fc.constantFrom(0, 90, 180, 45, 30),
    fc.integer({ min: 1, max: 3599 }).map((x) => x / 10),
  ),
  dx: fc.integer({ min: -50_000, max: 50_000 }),
  dy: fc.integer({ min: -50_000, max: 50_000 }),
});

/** Upright as most sheets are, anywhere within a site. */
export const uprightPlacing: fc.Arbitrary<Placing> = fc.record({
  mirrored: fc.constant(false),
  turnDeg: fc.constant(0),
  dx: fc.integer({ min: -50_000, max: 50_000 }),
  dy: fc.integer({ min: -50_000, max: 50_000 }),
});

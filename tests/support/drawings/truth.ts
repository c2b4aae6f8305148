/**
 * Walls that are known before any drawing is made of them, and what follows from them alone: the outline of the concrete (clipper-lib's union of
 * the walls' bodies), and the parts of each wall whose two faces are both bare. Nothing here comes from the program.
 */

import ClipperLib from 'clipper-lib';
import type { Vec } from '../../../src/ground/plane.js';

/** A straight wall from node to node: ends stand on the axes of the walls that they meet, or where the concrete ends. */
export interface TruthWall {
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
}

/** A curved wall; the axis runs anticlockwise from `fromRad` to `toRad`. */
export interface TruthCurve {
  readonly centre: Vec;
  readonly radiusMm: number;
  readonly fromRad: number;
  readonly toRad: number;
  readonly thicknessMm: number;
}

/** A gap in a wall that a door or a window fills. */
export interface TruthOpening {
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
}

export interface Truth {
  readonly walls: readonly TruthWall[];
  readonly curves: readonly TruthCurve[];
  /** Convex bodies of concrete that are no wall of their own: pilasters. What is found within them counts neither way. */
  readonly blocks: readonly (readonly Vec[])[];
  readonly openings: readonly TruthOpening[];
}

export const NO_WALLS: Truth = { walls: [], curves: [], blocks: [], openings: [] };

export const joined = (...parts: readonly Truth[]): Truth => ({
  walls: parts.flatMap((p) => p.walls),
  curves: parts.flatMap((p) => p.curves),
  blocks: parts.flatMap((p) => p.blocks),
  openings: parts.flatMap((p) => p.openings),
});

export const lengthOf = (w: { readonly start: Vec; readonly end: Vec }): number =>
  Math.hypot(w.end.x - w.start.x, w.end.y - w.start.y);

export const unitOf = (w: { readonly start: Vec; readonly end: Vec }): Vec => {
  const l = lengthOf(w);
  return { x: (w.end.x - w.start.x) / l, y: (w.end.y - w.start.y) / l };
};

/** The point `u` along and `v` to the left of the axis. */
export const pointOn = (w: { readonly start: Vec; readonly end: Vec }, u: number, v = 0): Vec => {
  const d = unitOf(w);
  return { x: w.start.x + d.x * u - d.y * v, y: w.start.y + d.y * u + d.x * v };
};

/** Turning about the origin after mirroring in the y axis, then a shift. */
export interface Placing {
  readonly mirrored: boolean;
  readonly turnDeg: number;
  readonly dx: number;
  readonly dy: number;
}

export const AS_IT_IS: Placing = { mirrored: false, turnDeg: 0, dx: 0, dy: 0 };

export const placed = (p: Vec, m: Placing): Vec => {
  const x = m.mirrored ? -p.x : p.x;
  const c = Math.cos((m.turnDeg * Math.PI) / 180);
  const s = Math.sin((m.turnDeg * Math.PI) / 180);
  return { x: x * c - p.y * s + m.dx, y: x * s + p.y * c + m.dy };
};

export const placedTruth = (truth: Truth, m: Placing): Truth => {
  const move = (p: Vec) => placed(p, m);
  const turn = (m.turnDeg * Math.PI) / 180;
  return {
    walls: truth.walls.map((w) => ({ ...w, start: move(w.start), end: move(w.end) })),
    curves: truth.curves.map((c) => ({
      ...c,
      centre: move(c.centre),
      fromRad: (m.mirrored ? Math.PI - c.toRad : c.fromRad) + turn,
      toRad: (m.mirrored ? Math.PI - c.fromRad : c.toRad) + turn,
    })),
    blocks: truth.blocks.map((b) => b.map(move)),
    openings: truth.openings.map((o) => ({ ...o, start: move(o.start), end: move(o.end) })),
  };
};

// ------------------------------------------------------------------- bodies

const NODE_MM = 0.5;
const same = (a: Vec, b: Vec): boolean => Math.hypot(a.x - b.x, a.y - b.y) <= NODE_MM;

/** Corners of a straight wall's body between its nodes, anticlockwise. */
export const bodyOf = (w: TruthWall): Vec[] => {
  const l = lengthOf(w);
  const h = w.thicknessMm / 2;
  return [pointOn(w, 0, -h), pointOn(w, l, -h), pointOn(w, l, h), pointOn(w, 0, h)];
};

interface Arm {
  readonly wall: TruthWall;
  /** Away from the node. */
  readonly out: Vec;
}

/** Pairs of walls that end in one node and are not in one line: the corners. */
const corners = (walls: readonly TruthWall[]): { readonly at: Vec; readonly arms: readonly [Arm, Arm] }[] => {
  const ends = walls.flatMap((wall) => {
    const d = unitOf(wall);
    return [
      { at: wall.start, wall, out: d },
      { at: wall.end, wall, out: { x: -d.x, y: -d.y } },
    ];
  });
  return ends.flatMap((p, i) =>
    ends
      .slice(i + 1)
      .filter((q) => same(p.at, q.at) && Math.abs(p.out.x * q.out.y - p.out.y * q.out.x) >= 1e-3)
      .map((q) => ({ at: p.at, arms: [p, q] as const })),
  );
};

/** The quadrilateral that closes a corner on its outer side, to the point where the outer faces meet. */
const mitre = (at: Vec, [p, q]: readonly [Arm, Arm]): Vec[] => {
  const [hp, hq] = [p.wall.thicknessMm / 2, q.wall.thicknessMm / 2];
  const turn = Math.sign(p.out.x * q.out.y - p.out.y * q.out.x);
  const foot = (a: Arm, h: number, side: number): Vec => ({
    x: at.x - a.out.y * h * side,
    y: at.y + a.out.x * h * side,
  });
  const fp = foot(p, hp, -turn);
  const fq = foot(q, hq, turn);
  const cross = p.out.x * q.out.y - p.out.y * q.out.x;
  const t = ((fq.x - fp.x) * q.out.y - (fq.y - fp.y) * q.out.x) / cross;
  // A mm into both walls, so that no slit is left where coordinates are rounded.
  const into = (a: Vec, ...outs: Vec[]): Vec => outs.reduce((s, o) => ({ x: s.x + o.x, y: s.y + o.y }), a);
  return [into(at, p.out, q.out), into(fp, p.out), { x: fp.x + p.out.x * t, y: fp.y + p.out.y * t }, into(fq, q.out)];
};

/** Least length of the chords by which arcs go into the union, as an angle: their deviation is then put right in `outlines`. */
const CHORD_RAD = Math.PI / 180;

const chordsOf = (c: TruthCurve): Vec[] => {
  const n = Math.max(2, Math.ceil((c.toRad - c.fromRad) / CHORD_RAD));
  const ring = (radius: number): Vec[] =>
    Array.from({ length: n + 1 }, (_, i) => {
      const a = c.fromRad + ((c.toRad - c.fromRad) * i) / n;
      return { x: c.centre.x + radius * Math.cos(a), y: c.centre.y + radius * Math.sin(a) };
    });
  return [...ring(c.radiusMm + c.thicknessMm / 2), ...ring(c.radiusMm - c.thicknessMm / 2).reverse()];
};

/** Every body of concrete: walls between nodes, what closes their corners, curved walls as chords, blocks. */
export const bodiesOf = (truth: Truth): Vec[][] => [
  ...truth.walls.map(bodyOf),
  ...corners(truth.walls).map((c) => mitre(c.at, c.arms)),
  ...truth.curves.map(chordsOf),
  ...truth.blocks.map((b) => [...b]),
];

/** Clipper works in integers: thousandths of a mm about the first point. */
const FINE = 1000;

export type Rings = readonly (readonly Vec[])[];

/** Unions, intersections and differences of polygons, for truth and score alike. */
export class Areas {
  constructor(private readonly origin: Vec) {}

  private to(ring: readonly Vec[]): ClipperLib.Path {
    const path = ring.map((p) => ({
      X: Math.round((p.x - this.origin.x) * FINE),
      Y: Math.round((p.y - this.origin.y) * FINE),
    }));
    return ClipperLib.Clipper.Orientation(path) ? path : path.reverse();
  }

  private run(type: ClipperLib.ClipType, a: ClipperLib.Paths, b: ClipperLib.Paths): ClipperLib.Paths {
    const clipper = new ClipperLib.Clipper();
    clipper.AddPaths(a, ClipperLib.PolyType.ptSubject, true);
    clipper.AddPaths(b, ClipperLib.PolyType.ptClip, true);
    const out: ClipperLib.Paths = [];
    const filled = ClipperLib.PolyFillType.pftNonZero;
    clipper.Execute(type, out, filled, filled);
    return out;
  }

  /** Bodies of any orientation → what they cover together; outer rings anticlockwise, holes clockwise. */
  union(bodies: Rings): ClipperLib.Paths {
    return this.run(
      ClipperLib.ClipType.ctUnion,
      bodies.map((b) => this.to(b)),
      [],
    );
  }

  common(a: ClipperLib.Paths, b: ClipperLib.Paths): ClipperLib.Paths {
    return this.run(ClipperLib.ClipType.ctIntersection, a, b);
  }

  less(a: ClipperLib.Paths, b: ClipperLib.Paths): ClipperLib.Paths {
    return this.run(ClipperLib.ClipType.ctDifference, a, b);
  }

  grown(rings: ClipperLib.Paths, byMm: number): Vec[][] {
    const offset = new ClipperLib.ClipperOffset(3, 0.25);
    offset.AddPaths(rings, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etClosedPolygon);
    const out: ClipperLib.Paths = [];
    offset.Execute(out, byMm * FINE);
    return this.back(out);
  }

  areaMm2(rings: ClipperLib.Paths): number {
    return rings.reduce((sum, r) => sum + ClipperLib.Clipper.Area(r), 0) / FINE ** 2;
  }

  back(rings: ClipperLib.Paths): Vec[][] {
    return rings.map((r) => r.map((p) => ({ x: p.X / FINE + this.origin.x, y: p.Y / FINE + this.origin.y })));
  }
}

/** A vertex of an outline: `bulge` as in DXF, tan of a quarter of the arc's angle. */
export interface OutlineVertex extends Vec {
  readonly bulge: number;
}

/** Corners nearer than this to the line through their neighbours, mm, are none: what the union's own rounding leaves. */
const FLAT_MM = 0.01;

const withoutFlat = (ring: readonly Vec[]): Vec[] => {
  let out = [...ring];
  for (let again = true; again; ) {
    again = false;
    const next: Vec[] = [];
    for (let i = 0; i < out.length; i++) {
      const a = next.at(-1) ?? out[(i + out.length - 1) % out.length]!;
      const b = out[i]!;
      const c = out[(i + 1) % out.length]!;
      const l = Math.hypot(c.x - a.x, c.y - a.y);
      const off =
        l > 0 ? Math.abs((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / l : Math.hypot(b.x - a.x, b.y - a.y);
      const between = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y) >= 0;
      if (off <= FLAT_MM && (between || l === 0)) again = true;
      else next.push(b);
    }
    out = next;
  }
  return out;
};

/** Angles by which an arc's chords may differ from CHORD_RAD and still be its chords. */
const onArc = (a: Vec, b: Vec, curves: readonly TruthCurve[]): { centre: Vec; radius: number } | null => {
  for (const c of curves) {
    for (const radius of [c.radiusMm - c.thicknessMm / 2, c.radiusMm + c.thicknessMm / 2]) {
      const off = (p: Vec) => Math.abs(Math.hypot(p.x - c.centre.x, p.y - c.centre.y) - radius);
      // The sagitta of a chord of one degree: cut chords lie within it.
      const slack = radius * (1 - Math.cos(CHORD_RAD / 2)) + 0.01;
      const chord = Math.hypot(b.x - a.x, b.y - a.y);
      if (off(a) <= slack && off(b) <= slack && chord <= 1.01 * radius * CHORD_RAD) return { centre: c.centre, radius };
    }
  }
  return null;
};

/** Puts the arcs back in the place of their chords. */
const withArcs = (ring: readonly Vec[], curves: readonly TruthCurve[]): OutlineVertex[] => {
  if (curves.length === 0) return ring.map((p) => ({ ...p, bulge: 0 }));
  const n = ring.length;
  const arcs = ring.map((p, i) => onArc(p, ring[(i + 1) % n]!, curves));
  const key = (i: number) => {
    const arc = arcs[(i + n) % n];
    return arc ? `${arc.centre.x} ${arc.centre.y} ${arc.radius}` : null;
  };
  let first = 0;
  while (first < n && key(first) !== null && key(first) === key(first - 1)) first++;
  // A whole circle: two halves.
  if (first === n) {
    const turn = ring.reduce((s, p, i) => s + p.x * ring[(i + 1) % n]!.y - ring[(i + 1) % n]!.x * p.y, 0) > 0 ? 1 : -1;
    return [0, Math.floor(n / 2)].map((i) => ({ ...ring[i]!, bulge: turn }));
  }
  const out: OutlineVertex[] = [];
  for (let k = 0; k < n; ) {
    const i = (first + k) % n;
    const arc = arcs[i];
    let steps = 1;
    if (arc) while (k + steps < n && key(i + steps) === key(i)) steps++;
    let bulge = 0;
    if (arc) {
      let turned = 0;
      for (let s = 0; s < steps; s++) {
        const p = ring[(i + s) % n]!;
        const q = ring[(i + s + 1) % n]!;
        const [px, py, qx, qy] = [p.x - arc.centre.x, p.y - arc.centre.y, q.x - arc.centre.x, q.y - arc.centre.y];
        turned += Math.atan2(px * qy - py * qx, px * qx + py * qy);
      }
      bulge = Math.tan(turned / 4);
    }
    out.push({ ...ring[i]!, bulge });
    k += steps;
  }
  return out;
};

/** Outline of the concrete: outer rings anticlockwise, holes clockwise, each corner once. */
export const outlinesOf = (truth: Truth): OutlineVertex[][] => {
  const areas = new Areas({ x: 0, y: 0 });
  return areas
    .back(areas.union(bodiesOf(truth)))
    .map((r) => withArcs(withoutFlat(r), truth.curves))
    .filter((r) => r.length > 1);
};

/** How far a corner takes a wall's concrete on beyond each of its nodes, along its axis. */
export const pastNodes = (walls: readonly TruthWall[]): readonly (readonly [number, number])[] => {
  const list = corners(walls);
  const at = (w: TruthWall, p: Vec): number =>
    list
      .filter((c) => same(c.at, p) && c.arms.some((a) => a.wall === w))
      .reduce((most, { arms: [a, b] }) => {
        const other = a.wall === w ? b.wall : a.wall;
        const sine = Math.abs(a.out.x * b.out.y - a.out.y * b.out.x);
        return Math.max(most, (other.thicknessMm / 2 + w.thicknessMm / 2) / sine);
      }, 0);
  return walls.map((w) => [at(w, w.start), at(w, w.end)] as const);
};

/** Is a point inside any of the bodies? Bodies are convex or star-like rings; even-odd by ray. */
export const inside = (p: Vec, body: readonly Vec[]): boolean => {
  let odd = false;
  for (let i = 0, j = body.length - 1; i < body.length; j = i++) {
    const a = body[i]!;
    const b = body[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) odd = !odd;
  }
  return odd;
};

/** Laws of shape, on plans built from a known answer (tests/shape/draw.ts): what must hold for every drawing. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/arcs.js';
import type { Vec } from '../../src/ground/plane.js';
import type { FacePlan, Foundation, WallStretch } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { drawn, foundation, moved, rasterOf, room } from '../shape/draw.js';
import { bodiesOf, kindsOf, lattice, linesOf } from '../shape/lattice.js';

const SEED = Number(process.env.FC_SEED ?? 20240611);
const RUNS = { seed: SEED, numRuns: 150 };
const GRID = { gridMm: 1 };

const tally = (words: readonly string[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const w of words) counts[w] = (counts[w] ?? 0) + 1;
  return counts;
};

const ringArea = (ring: readonly Vec[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);

/** What a plan is, apart from where it lies and which way it is turned. */
const essence = (plan: FacePlan): string[] => {
  const lengthOf = (wall: string, side: string) => {
    const f = plan.faces.find((x) => x.wall === wall && x.side === side)!;
    return Math.round(f.toMm - f.fromMm);
  };
  const kindAt = (id: string | null) => plan.nodes.find((n) => n.id === id)?.kind;
  const walls = plan.walls.map((w) => {
    const run = plan.runs.find((r) => r.wall === w.id)!;
    const faces = [lengthOf(w.id, 'left'), lengthOf(w.id, 'right')].sort((a, b) => a - b);
    const ends = [run.start, run.end].map((e) => `${e.kind}/${kindAt(e.node)}`).sort();
    return `${Math.round(w.lengthMm)} ${w.thicknessMm} ${faces.join('|')} ${ends.join(' ')} ${run.stems.length}`;
  });
  return [...walls, ...plan.nodes.map((n) => `${n.kind} ${n.angleDeg}`), ...plan.vertices.map((v) => v.kind)].sort();
};

const shuffled = (f: Foundation, order: readonly number[]): Foundation => {
  const key = (i: number) => order[i % order.length]! * 1000 + i;
  const mix = <T>(list: readonly T[]): T[] =>
    list
      .map((item, i) => ({ item, k: key(i) }))
      .sort((a, b) => a.k - b.k)
      .map((x) => x.item);
  const flip = (s: WallStretch, i: number): WallStretch =>
    order[i % order.length]! % 2 === 0
      ? s
      : { ...s, start: s.end, end: s.start, startCapped: s.endCapped, endCapped: s.startCapped };
  return { ...f, stretches: mix(f.stretches.map(flip)), faceLines: mix(f.faceLines) };
};

describe('laws of shape on plans of crossing lines', () => {
  it('finds exactly the nodes that the plan was built with, and nothing to complain of', () => {
    fc.assert(
      fc.property(lattice, (l) => {
        const { value, findings } = shape(drawn(bodiesOf(l)), GRID);
        expect(tally(value.nodes.map((n) => n.kind))).toEqual(kindsOf(l));
        const bad = findings.filter((f) => f.code !== 'shape.no-walls' && f.code !== 'shape.gap-in-line');
        expect(bad).toEqual([]);
        // Each corner has one vertex of each kind, a tee two, a cross four re-entrant ones.
        const k = kindsOf(l);
        expect(tally(value.vertices.map((v) => v.kind))).toEqual(
          tally([
            ...Array<string>((k.corner ?? 0) + 2 * (k.tee ?? 0) + 4 * (k.cross ?? 0)).fill('re-entrant'),
            ...Array<string>(k.corner ?? 0).fill('salient'),
          ]),
        );
      }),
      RUNS,
    );
  });

  it('makes as many walls as lines, plus one for each cross', () => {
    fc.assert(
      fc.property(lattice, (l) => {
        const { value } = shape(drawn(bodiesOf(l)), GRID);
        expect(value.walls).toHaveLength(linesOf(l).length + (kindsOf(l).cross ?? 0));
        expect(value.runs.map((r) => r.wall)).toEqual(value.walls.map((w) => w.id));
      }),
      RUNS,
    );
  });

  it('outlines as much concrete as the bodies cover', () => {
    fc.assert(
      fc.property(lattice, (l) => {
        const bodies = bodiesOf(l);
        const { value } = shape(drawn(bodies), GRID);
        const area = value.concrete.reduce((sum, ring) => sum + ringArea(ring), 0);
        expect(area).toBeCloseTo(rasterOf(bodies).areaMm2, 0);
      }),
      RUNS,
    );
  });

  it('has each vertex where both of its faces say that it is', () => {
    fc.assert(
      fc.property(lattice, (l) => {
        const { value } = shape(drawn(bodiesOf(l)), GRID);
        const wallOf = new Map(value.walls.map((w) => [w.id, w]));
        for (const v of value.vertices)
          for (const arm of v.arms) {
            if (arm.side === 'start' || arm.side === 'end') continue;
            const p = facePoint(wallOf.get(arm.wall)!, arm.side, arm.stationMm);
            expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThan(1e-5);
            expect(Number.isInteger(arm.stationMm)).toBe(true);
          }
        for (const run of value.runs)
          for (const [end, key] of [
            [run.start, 'fromMm'],
            [run.end, 'toMm'],
          ] as const) {
            const faces = value.faces.filter((f) => f.wall === run.wall);
            expect(faces.find((f) => f.side === 'left')![key]).toBe(end.leftMm);
            expect(faces.find((f) => f.side === 'right')![key]).toBe(end.rightMm);
          }
      }),
      RUNS,
    );
  });

  it('is the same plan whatever the order of stretches, their sense and the order of the lines', () => {
    fc.assert(
      fc.property(lattice, fc.array(fc.nat(1000), { minLength: 1, maxLength: 30 }), (l, order) => {
        const f = drawn(bodiesOf(l));
        expect(shape(shuffled(f, order), GRID)).toEqual(shape(f, GRID));
      }),
      RUNS,
    );
  });

  it('is the same plan turned by quarter turns or mirrored, but for its places', () => {
    const turns: [string, (p: Vec) => Vec][] = [
      ['90', (p) => ({ x: -p.y, y: p.x })],
      ['180', (p) => ({ x: -p.x, y: -p.y })],
      ['270', (p) => ({ x: p.y, y: -p.x })],
      ['mirror x', (p) => ({ x: -p.x, y: p.y })],
      ['mirror y', (p) => ({ x: p.x, y: -p.y })],
      ['mirror diagonal', (p) => ({ x: p.y, y: p.x })],
    ];
    fc.assert(
      fc.property(lattice, fc.constantFrom(...turns), (l, [, turn]) => {
        const f = drawn(bodiesOf(l));
        expect(essence(shape(moved(f, turn), GRID).value)).toEqual(essence(shape(f, GRID).value));
      }),
      RUNS,
    );
  });

  it('turned by any angle keeps lengths, nodes and vertices', () => {
    fc.assert(
      fc.property(lattice, fc.double({ min: -1.5, max: 1.5, noNaN: true }), (l, angle) => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const f = drawn(bodiesOf(l));
        const turned = moved(f, (p) => ({ x: p.x * c - p.y * s, y: p.x * s + p.y * c }));
        expect(essence(shape(turned, GRID).value)).toEqual(essence(shape(f, GRID).value));
      }),
      RUNS,
    );
  });

  it('far from the origin changes nothing but places', () => {
    const far = fc.tuple(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    );
    fc.assert(
      fc.property(lattice, far, (l, [dx, dy]) => {
        const f = drawn(bodiesOf(l));
        const [near, away] = [
          shape(f, GRID).value,
          shape(
            moved(f, (p) => ({ x: p.x + dx, y: p.y + dy })),
            GRID,
          ).value,
        ];
        expect(away.faces).toEqual(near.faces);
        expect(away.runs).toEqual(near.runs);
        expect(away.vertices.map((v) => v.arms)).toEqual(near.vertices.map((v) => v.arms));
        expect(away.walls.map((w) => [w.id, w.lengthMm, w.thicknessMm, w.base, w.top])).toEqual(
          near.walls.map((w) => [w.id, w.lengthMm, w.thicknessMm, w.base, w.top]),
        );
        away.vertices.forEach((v, i) => {
          expect(Math.hypot(v.at.x - near.vertices[i]!.at.x - dx, v.at.y - near.vertices[i]!.at.y - dy)).toBeLessThan(
            1e-5,
          );
        });
      }),
      RUNS,
    );
  });

  it('small misfits of the drawing give the same plan: ends by 4 mm, faces by 0.2 mm', () => {
    const misfits = fc.array(
      fc.tuple(
        fc.double({ min: -4, max: 4, noNaN: true }),
        fc.double({ min: -4, max: 4, noNaN: true }),
        fc.double({ min: -0.2, max: 0.2, noNaN: true }),
      ),
      {
        minLength: 40,
        maxLength: 40,
      },
    );
    fc.assert(
      fc.property(lattice, misfits, (l, by) => {
        const f = drawn(bodiesOf(l));
        // Free ends stay: their place is a length of the plan, and only ends at other walls may be off.
        const stretches = f.stretches.map((s, i): WallStretch => {
          const [a, b, off] = by[i % by.length]!;
          const along = Math.abs(s.end.x - s.start.x) > Math.abs(s.end.y - s.start.y) ? { x: 1, y: 0 } : { x: 0, y: 1 };
          const shift = (p: Vec, d: number) => ({
            x: p.x + along.x * d + along.y * off,
            y: p.y + along.y * d + along.x * off,
          });
          return { ...s, start: shift(s.start, s.startCapped ? 0 : a), end: shift(s.end, s.endCapped ? 0 : b) };
        });
        expect(essence(shape({ ...f, stretches, faceLines: [] }, GRID).value)).toEqual(essence(shape(f, GRID).value));
      }),
      RUNS,
    );
  });
});

describe('laws of shape on closed rooms', () => {
  it('outer less inner length round a rectangle is 8 t, and each room still closes', () => {
    const size = fc.integer({ min: 1000, max: 20000 });
    fc.assert(
      fc.property(size, size, fc.integer({ min: 75, max: 600 }), (w, d, t) => {
        const { value } = shape(drawn(room(w, d, t)), GRID);
        const lengths = value.runs.map((run) => {
          const inner = run.start.kind === 'corner' ? run.start.inner : null;
          const of = (side: string) => {
            const f = value.faces.find((x) => x.wall === run.wall && x.side === side)!;
            return f.toMm - f.fromMm;
          };
          return { inner: of(inner!), outer: of(inner === 'left' ? 'right' : 'left') };
        });
        expect(lengths.reduce((sum, l) => sum + l.outer - l.inner, 0)).toBe(8 * t);
        expect(lengths.map((l) => l.inner).sort((a, b) => a - b)).toEqual([w, w, d, d].sort((a, b) => a - b));
      }),
      RUNS,
    );
  });

  /** A convex polygon's walls: inner corners given, thickness t outwards; stretches end at the inner corners. */
  const polygon = (corners: readonly Vec[], t: number): Foundation =>
    foundation(
      corners.map((p, i): WallStretch => {
        const q = corners[(i + 1) % corners.length]!;
        const size = Math.hypot(q.x - p.x, q.y - p.y);
        const out = { x: ((q.y - p.y) / size) * (t / 2), y: (-(q.x - p.x) / size) * (t / 2) };
        return {
          start: { x: p.x + out.x, y: p.y + out.y },
          end: { x: q.x + out.x, y: q.y + out.y },
          thicknessMm: t,
          startCapped: false,
          endCapped: false,
          sources: [`p${i}`],
        };
      }),
    );

  it('outer less inner length round a convex polygon is the sum of 2 t tan(d/2), to the grid', () => {
    const convex = fc.tuple(
      fc.integer({ min: 3, max: 8 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.integer({ min: 4000, max: 9000 }),
    );
    fc.assert(
      fc.property(convex, fc.integer({ min: 100, max: 300 }), ([n, turn, radius], t) => {
        const angles = Array.from(
          { length: n },
          (_, i) => ((i + turn + 0.15 * Math.sin(i * 5 + turn)) / n) * 2 * Math.PI,
        );
        const corners = angles.map((a) => ({ x: radius * Math.cos(a), y: radius * Math.sin(a) }));
        const { value, findings } = shape(polygon(corners, t), GRID);
        expect(findings.filter((f) => f.severity === 'failure')).toEqual([]);
        const outerLessInner = value.runs.reduce((sum, run) => {
          const inner = run.start.kind === 'corner' ? run.start.inner : 'left';
          const of = (side: string) => {
            const f = value.faces.find((x) => x.wall === run.wall && x.side === side)!;
            return f.toMm - f.fromMm;
          };
          return sum + of(inner === 'left' ? 'right' : 'left') - of(inner);
        }, 0);
        const expected = value.nodes.reduce((sum, node) => sum + 2 * t * Math.tan((node.angleDeg * Math.PI) / 360), 0);
        expect(Math.abs(outerLessInner - expected)).toBeLessThanOrEqual(2 * n);
        // Deflections of a closed convex ring turn once round.
        expect(value.nodes.reduce((sum, node) => sum + node.angleDeg, 0)).toBeCloseTo(360, 3);
      }),
      RUNS,
    );
  });

  it('on the inch grid every station and thickness is a whole number of 1/16 in', () => {
    const gridMm = 25.4 / 16;
    fc.assert(
      fc.property(
        fc.integer({ min: 600, max: 6000 }),
        fc.integer({ min: 600, max: 6000 }),
        fc.integer({ min: 96, max: 256 }),
        (w, d, t) => {
          const inches = (n: number) => n * gridMm;
          const { value } = shape(
            moved(drawn(room(w, d, t)), (p) => ({ x: inches(p.x), y: inches(p.y) })),
            { gridMm },
          );
          // `moved` scales the plan, not the thickness of its walls: here they stay t mm and are rounded.
          const steps = [
            ...value.walls.map((x) => x.thicknessMm),
            ...value.faces.flatMap((f) => [f.fromMm, f.toMm]),
            ...value.vertices.flatMap((v) => v.arms.map((a) => a.stationMm)),
          ].map((mm) => mm / gridMm);
          for (const s of steps) expect(Math.abs(s - Math.round(s))).toBeLessThan(1e-6);
        },
      ),
      RUNS,
    );
  });
});

import { describe, expect, it } from 'vitest';
import type { HalfSpace, Solid } from '../../../src/ground/vocabulary.js';
import { bandsOf } from '../../../src/trace/model/bodies.js';
import { levelsOf } from '../../../src/trace/model/levels.js';
import { areaOf, ringsOf } from '../../../src/trace/model/region.js';
import { sectionAt } from '../../../src/trace/model/section.js';
import { levelFrame, uprightFrame } from '../../../src/trace/model/space.js';
import { trianglesOf } from '../../../src/trace/model/triangles.js';
import { box, mesh, outline, prism, sheet, upright } from './byHand.js';

const HERE = { x: 0, y: 0 };
const level = (solid: Solid, z: number) => sectionAt(solid, levelFrame(HERE, z)).region;
const above = (z: number, boundary: HalfSpace['boundary'] = null): HalfSpace => ({
  kind: 'half-space',
  origin: { x: 0, y: 0, z },
  normal: { x: 0, y: 0, z: -1 },
  boundary,
});

describe('sections of solids', () => {
  it('a prism cut level is its profile, void and all', () => {
    const solid = {
      ...prism(box(0, 0, 4000, 300), -1000, 1500),
      outlines: [outline(box(0, 0, 4000, 300)), outline(box(1000, 100, 2000, 200))],
    };
    expect(areaOf(level(solid, 0))).toBeCloseTo(4000 * 300 - 1000 * 100, 3);
    expect(level(solid, 1501)).toEqual([]);
    expect(level(solid, -1001)).toEqual([]);
  });

  it('a prism cut upright is what its height and width say', () => {
    const plane = uprightFrame({ x: 500, y: 150 }, { x: 1, y: 0 });
    const [ring] = ringsOf(sectionAt(prism(box(0, 0, 4000, 300), -1000, 1500), plane).region);
    expect(ring).toEqual([
      { x: -500, y: -1000 },
      { x: 3500, y: -1000 },
      { x: 3500, y: 1500 },
      { x: -500, y: 1500 },
    ]);
  });

  it('arcs stay within a tenth of a millimetre: area of a disc and of a ring', () => {
    const disc = (r: number) => [
      { x: -r, y: 0, bulge: 1 },
      { x: r, y: 0, bulge: 1 },
    ];
    const solid = { ...prism(box(0, 0, 1, 1), 0, 1000), outlines: [disc(2000), disc(1800)] };
    const area = areaOf(level(solid, 500));
    const exact = Math.PI * (2000 ** 2 - 1800 ** 2);
    expect(Math.abs(area - exact)).toBeLessThan(0.1 * 2 * Math.PI * (2000 + 1800));
  });

  it('a mesh, in quads or triangles, gives the prism it was made from; order and sense of faces do not matter', () => {
    const ring = [...box(0, 0, 4000, 300), [0, 200]] as const;
    const solid = mesh(ring, -1000, 1500);
    const torn = mesh(ring, -1000, 1500, true);
    const shuffled = {
      ...torn,
      faces: [...torn.faces].reverse().map((f, i) => (i % 2 ? f : f.map((l) => [...l].reverse()))),
    };
    for (const s of [solid, torn, shuffled]) {
      expect(areaOf(level(s, 0.5))).toBeCloseTo(4000 * 300, 3);
      expect(sectionAt(s, levelFrame(HERE, 0.5)).openEnds).toBe(0);
    }
  });

  it('an open mesh is closed straight and says so', () => {
    const whole = mesh(box(0, 0, 4000, 300), 0, 1000);
    const open = { ...whole, faces: whole.faces.slice(0, -1) };
    const cut = sectionAt(open, levelFrame(HERE, 500));
    expect(cut.openEnds).toBe(2);
    expect(areaOf(cut.region)).toBeCloseTo(4000 * 300, 3);
  });

  it('several shells in one mesh: over each other, the same twice, one inside the other', () => {
    const both = (a: ReturnType<typeof mesh>, b: ReturnType<typeof mesh>) => ({
      kind: 'mesh' as const,
      points: [...a.points, ...b.points],
      faces: [...a.faces, ...b.faces.map((f) => f.map((l) => l.map((i) => i + a.points.length)))],
    });
    const wall = mesh(box(0, 0, 4000, 300), 0, 1000);
    const partly = both(wall, mesh(box(3500, 0, 6000, 300), 0, 1000));
    expect(areaOf(level(partly, 500))).toBeCloseTo(6000 * 300, 3);
    expect(areaOf(level(both(wall, wall), 500))).toBeCloseTo(4000 * 300, 3);
    expect(areaOf(level(both(wall, mesh(box(1000, 100, 2000, 200), 0, 1000)), 500))).toBeCloseTo(
      4000 * 300 - 1000 * 100,
      3,
    );
    const apart = both(wall, mesh(box(0, 400, 4000, 500), 0, 1000));
    expect(areaOf(level(apart, 500))).toBeCloseTo(4000 * 400, 3);
  });

  it('half spaces clip, with and without bounds; unions and intersections are those of the sections', () => {
    const wall = prism(box(0, 0, 4000, 300), 0, 3000);
    const clipped: Solid = { kind: 'difference', first: wall, second: above(2000) };
    expect(areaOf(level(clipped, 1999))).toBeCloseTo(4000 * 300, 3);
    expect(level(clipped, 2001)).toEqual([]);
    const bounded = above(2000, { frame: upright(0), outline: outline(box(1000, -500, 2000, 500)) });
    const notched: Solid = { kind: 'difference', first: wall, second: bounded };
    expect(areaOf(level(notched, 2500))).toBeCloseTo(3000 * 300, 3);
    const slanted: HalfSpace = {
      kind: 'half-space',
      origin: { x: 2000, y: 0, z: 0 },
      normal: { x: -1, y: 0, z: 0 },
      boundary: null,
    };
    expect(areaOf(level({ kind: 'intersection', first: wall, second: slanted }, 10))).toBeCloseTo(2000 * 300, 3);
    const other = prism(box(3900, 0, 5000, 300), 0, 3000);
    expect(areaOf(level({ kind: 'union', first: wall, second: other }, 10))).toBeCloseTo(5000 * 300, 3);
  });

  it('a long chain of cuts is worked off without recursion', () => {
    let solid: Solid = prism(box(0, 0, 4000, 300), 0, 3000);
    for (let i = 0; i < 20_000; i++) solid = { kind: 'difference', first: solid, second: above(2999) };
    expect(areaOf(level(solid, 10))).toBeCloseTo(4000 * 300, 3);
  });

  it('far from the origin the same digits come out', () => {
    const x = 729_013_348.8;
    const y = 9_063_992_684.7;
    const far = prism(box(x, y, x + 4000, y + 300), 0, 1000);
    const [ring] = ringsOf(sectionAt(far, levelFrame({ x: Math.round(x), y: Math.round(y) }, 500)).region);
    expect(ring![2]!.x - ring![0]!.x).toBeCloseTo(4000, 3);
    expect(ring![2]!.y - ring![0]!.y).toBeCloseTo(300, 3);
  });

  it('finds the levels at which a clipped body changes, where the cutting plane meets its edges too', () => {
    // Slope of 1 in 4 over 4000 mm, from 2000 to 3000: the plane through (0, 2000) and (4000, 3000).
    const size = Math.hypot(1, 4);
    const roof: HalfSpace = {
      kind: 'half-space',
      origin: { x: 0, y: 0, z: 2000 },
      normal: { x: 1 / size, y: 0, z: -4 / size },
      boundary: null,
    };
    const solid: Solid = { kind: 'difference', first: prism(box(0, 0, 4000, 300), 0, 5000), second: roof };
    const found = levelsOf([solid]);
    for (const z of [0, 2000, 3000, 5000]) expect(found.some((l) => Math.abs(l - z) < 1e-6)).toBe(true);
    const { bands } = bandsOf([solid], HERE);
    expect(bands[0]!.fromMm).toBeCloseTo(0, 6);
    expect(bands.at(-1)!.toMm).toBeCloseTo(3000, 6);
  });

  it('triangles of a body have the area of its surface', () => {
    const ell = [
      [0, 0],
      [3000, 0],
      [3000, 500],
      [400, 500],
      [400, 2000],
      [0, 2000],
    ] as const;
    const { points, triangles } = trianglesOf([mesh(ell, 0, 1000)]);
    const side = sheet(ell, 0, 1000);
    const areaOfAll = (t: ReturnType<typeof trianglesOf>) =>
      t.triangles.reduce((sum, [a, b, c]) => {
        const [p, q, r] = [t.points[a]!, t.points[b]!, t.points[c]!];
        const u = { x: q.x - p.x, y: q.y - p.y, z: q.z - p.z };
        const v = { x: r.x - p.x, y: r.y - p.y, z: r.z - p.z };
        return sum + Math.hypot(u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x) / 2;
      }, 0);
    const plan = 3000 * 500 + 400 * 1500;
    const around = 3000 + 500 + 2600 + 1500 + 400 + 2000;
    expect(areaOfAll({ points, triangles })).toBeCloseTo(2 * plan + around * 1000, 3);
    expect(areaOfAll(trianglesOf([side]))).toBeCloseTo(2 * plan + around * 1000, 3);
  });
});

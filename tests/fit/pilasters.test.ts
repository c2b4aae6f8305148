/**
 * Pilasters as timber boxes (rules T22, T4): posts beside them, one unit without a tie opposite, half of the front's push on the ties to either side.
 * Numbers are worked by hand with the envelope and the row loads of the worked layouts (P 43.1 kPa, 61.82 kN per m in all rows).
 */

import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { check } from '../../src/check/index.js';
import type { Foundation, Layout, Pilaster } from '../../src/ground/vocabulary.js';
import { shapeFor } from '../../src/pipeline/thickenings.js';
import { foundation, stretch } from '../shape/draw.js';
import { layOutByHand, P } from './handLoads.js';

const T = 200;
const ROWS_KN_PER_M = 25.78 + 20.48 + 12.0 + 3.56;

const pilaster = (x: number, widthMm: number, projectionMm: number, side: 1 | -1 = 1): Pilaster => ({
  at: { x, y: side * (T / 2 + projectionMm) },
  widthMm,
  projectionMm,
  sources: ['P'],
});

/** A wall of 200 with free ends. */
const wall = (pilasters: readonly Pilaster[], lengthMm = 6000): Foundation => ({
  ...foundation([stretch([0, 0], [lengthMm, 0], T, [true, true], 'S')]),
  pilasters,
});

const lay = (found: Foundation, share = 1) => layOutByHand(found, demoCatalogue, share);
const lone = lay(wall([pilaster(3000, 400, 100)]));
const first = (layout: Layout, face: string) =>
  layout.pieces
    .filter((p) => p.course === 1)
    .flatMap((p) => p.covers.filter((c) => c.face === face).map((c) => ({ kind: p.kind, at: [c.fromMm, c.toMm] })))
    .sort((a, b) => a.at[0]! - b.at[0]!);
const tiers = ({ layout }: { layout: Layout }) => layout.tiers.map((t) => t.value);
const stations = ({ layout }: { layout: Layout }) =>
  [...new Set(layout.ties.map((t) => t.stationMm))].sort((a, b) => a - b);

describe('400 wide, 100 deep, on a wall of 200', () => {
  it('stands between posts; opposite one panel of 450 = 400 + 20 + 30 without a tie', () => {
    expect(lone.failures).toEqual([]);
    const [before, after] = first(lone.layout, 'W1-L').filter((p) => p.kind === 'timber');
    expect([before!.at, after!.at]).toEqual([
      [2780, 2800],
      [3200, 3230],
    ]);
    expect(first(lone.layout, 'W1-R')).toContainEqual({ kind: 'panel', at: [2780, 3230] });
    expect(stations(lone).filter((s) => s > 2780 && s < 3230)).toEqual([]);
    // A tie beside each joint of the box: holes lie 50 from the edges.
    expect(stations(lone)).toEqual(expect.arrayContaining([2730, 3280]));
  });

  it('its three faces are closed: the front over both posts, the sides by them', () => {
    expect(first(lone.layout, 'W1-B1')).toEqual([{ kind: 'timber', at: [-20, 430] }]);
    for (const side of ['W1-B1S', 'W1-B1E'])
      expect(first(lone.layout, side)).toEqual([{ kind: 'timber', at: [0, 100] }]);
  });

  it('tells the force: 43.1 x 0.4 at the foot, 61.82 x 0.4 in all, 43.1 x 0.1 on its sides', () => {
    const [said] = lone.findings.filter((f) => f.code === 'fit.pilaster');
    expect(said).toMatchObject({ severity: 'attention', subject: 'W1' });
    expect(P * 0.4).toBeCloseTo(17.24, 9);
    expect(ROWS_KN_PER_M * 0.4).toBeCloseTo(24.728, 9);
    expect(said!.message).toMatch(/posts of 20 and 30.*front boards of 450.*17\.2 kN.*24\.7 kN.*apart with 4\.3 kN/);
    expect(said!.message).not.toContain('deeper than 250');
  });

  it('sides deeper than 250 are to be tied across', () => {
    const said = lay(wall([pilaster(3000, 400, 251)])).findings.filter((f) => f.code === 'fit.pilaster');
    expect(said[0]!.message).toContain('deeper than 250: tie them across');
  });

  it('the plan shows its concrete: 6,000 x 200 and 400 x 100', () => {
    const area = (ring: readonly { x: number; y: number }[]) =>
      ring.reduce((sum, p, i) => sum + p.x * ring[(i + 1) % ring.length]!.y - p.y * ring[(i + 1) % ring.length]!.x, 0) /
      2;
    expect(lone.plan.concrete.map(area)).toEqual([6000 * 200 + 400 * 100]);
  });
});

describe('laws', () => {
  it('without the pilaster the wall costs no more, tier by tier in their order', () => {
    for (const p of [pilaster(3000, 400, 100), pilaster(3003, 387, 93), pilaster(2100, 250, 60)]) {
      const [bare, thick] = [tiers(lay(wall([]))), tiers(lay(wall([p])))];
      const at = bare.findIndex((v, i) => v !== thick[i]);
      if (at >= 0) expect(bare[at]!).toBeLessThan(thick[at]!);
    }
  });

  it('mirror and turn change nothing that counts', () => {
    const cost = tiers(lone);
    expect(tiers(lay(wall([pilaster(3000, 400, 100, -1)])))).toEqual(cost);
    const upright = foundation([stretch([0, 0], [0, 6000], T, [true, true], 'S')]);
    const at = { x: -200, y: 3000 };
    const turned = lay({ ...upright, pilasters: [{ ...pilaster(0, 400, 100), at }] });
    expect(turned.failures).toEqual([]);
    expect(tiers(turned)).toEqual(cost);
    const odd = (x: number) => tiers(lay(wall([pilaster(x, 387, 93)], 6011)));
    expect(odd(2003)).toEqual(odd(6011 - 2003));
  });

  it('the order of the pilasters is no matter', () => {
    const two = [pilaster(1800, 400, 100), pilaster(4200, 300, 150, -1)];
    expect(lay(wall([...two].reverse())).layout).toEqual(lay(wall(two)).layout);
  });
});

describe('the check by itself', () => {
  const both = lay(wall([pilaster(3000, 400, 100), pilaster(3000, 400, 100, -1)]));
  const again = ({ plan, demands, pressure }: typeof lone, layout: Layout) =>
    check({ plan, catalogue: demoCatalogue, layout, demands, pressure });

  it('on both faces: all ties of a row together carry 6 m of concrete, the fronts counted', () => {
    expect(both.failures).toEqual([]);
    const { ties } = again(both, both.layout).value;
    const row = ties.filter((t) => t.row === 1).reduce((sum, t) => sum + t.loadKn, 0);
    expect(row).toBeCloseTo(25.78 * 6, 4);
  });

  it('finds a front that is not there, and a tie through the pilaster', () => {
    const without = lone.layout.pieces.filter((p) => !p.covers.some((c) => c.face === 'W1-B1'));
    const bare = again(lone, { ...lone.layout, pieces: without }).findings;
    expect(bare.filter((f) => f.code === 'check.cover-gap').map((f) => f.subject)).toEqual(['W1-B1']);
    const [tie, ...rest] = lone.layout.ties;
    const moved = { ...lone.layout, ties: [{ ...tie!, stationMm: 3000 }, ...rest] };
    const said = again(lone, moved).findings.filter((f) => f.code === 'check.tie-place');
    expect(said.map((f) => f.message).join()).toContain('passes pilaster W1-B1');
  });

  it('finds a panel that runs through the pilaster', () => {
    const pieces = lone.layout.pieces.map((p) => ({
      ...p,
      covers: p.covers.map((c) => (c.face === 'W1-L' && c.toMm === 2780 ? { ...c, toMm: 2900 } : c)),
    }));
    const found = again(lone, { ...lone.layout, pieces }).findings.map((f) => f.message);
    expect(found.join()).toContain('or a pilaster');
  });
});

describe('not silently', () => {
  it('wider than the widest group that the yard makes: a failure', () => {
    const said = lay(wall([pilaster(3000, 900, 100)])).failures.map((f) => f.message);
    expect(said.join()).toContain('needs one rigid group of 940 mm or somewhat more');
  });

  it('at an end of its wall, and two in one place: a failure each, and the wall is laid out as if they were not there', () => {
    const plan = (list: readonly Pilaster[]) => lay(wall(list)).plan.runs[0]!.pilasters;
    expect(plan([pilaster(200, 400, 100)])).toBeUndefined();
    expect(plan([pilaster(3000, 400, 100), pilaster(3300, 400, 100)])).toBeUndefined();
    expect(plan([pilaster(3000, 400, 100), pilaster(3251, 400, 100, -1)])).toBeUndefined();
    expect(plan([pilaster(3000, 400, 100), pilaster(3250, 400, 100, -1)])).toHaveLength(2);
  });
});

describe('wide and deep ones are walls of their own, where the yard has ties for them', () => {
  const wallsOf = (list: readonly Pilaster[]) =>
    shapeFor(wall(list), demoCatalogue).value.walls.map((w) => w.thicknessMm);

  it.each([
    // As deep as the leg of 150, wide enough for two tied edges.
    [600, 200, [T, 400, T]],
    // Wider than the widest panel less two posts: 600 - 40.
    [900, 100, [T, 300, T]],
    [560, 100, [T]],
    // Deep, and too narrow for two panels of 200 with fillers of 50.
    [499, 200, [T]],
    // The yard's ties end at 600.
    [900, 450, [T]],
  ])('%d wide, %d deep: walls of %j', (width, depth, thicknesses) => {
    expect(wallsOf([pilaster(3000, width, depth)])).toEqual(thicknesses);
    expect(wallsOf([pilaster(3000, width, depth, -1)])).toEqual(thicknesses);
  });

  it('on both faces at one place: one wall, 200 + 200 + 200', () => {
    expect(wallsOf([pilaster(3000, 600, 200), pilaster(3000, 600, 200, -1)])).toEqual([T, 600, T]);
  });

  it('a row of three that boxes close as well stays boxes, and so does one near an end', () => {
    expect(wallsOf([1500, 3000, 4500].map((x) => pilaster(x, 500, 200)))).toEqual([T]);
    expect(wallsOf([pilaster(700, 500, 200)])).toEqual([T]);
  });

  it('800 wide, 200 deep stands with corner units and ties of 400', () => {
    const as = (start: [number, number], end: [number, number], t: number, caps: [boolean, boolean]) =>
      stretch(start, end, t, caps, `S${start[0]}`);
    const laid = lay(
      foundation([
        as([0, 0], [2600, 0], T, [true, false]),
        as([2600, 100], [3400, 100], 400, [false, false]),
        as([3400, 0], [6000, 0], T, [false, true]),
      ]),
    );
    expect(laid.failures).toEqual([]);
    const kinds = laid.layout.pieces.filter((p) => p.kind === 'inside-corner');
    expect(new Set(kinds.map((p) => p.vertex)).size).toBe(2);
    expect(new Set(laid.layout.ties.filter((t) => t.wall === 'W2').map((t) => t.item))).toEqual(
      new Set(['tie-250-400']),
    );
  });
});

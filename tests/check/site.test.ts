/** What the site asks of a layout beside its statics: weights by hand (T18), clean-outs (T16), strips in closed rooms (T17). */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import { DEFAULT_FIT_OPTIONS, fit as fitPlan } from '../../src/fit/index.js';
import type { Finding } from '../../src/ground/findings.js';
import { lowStretches } from '../../src/ground/lowStretches.js';
import { workedExampleCatalogue as catalogue } from '../support/exampleCatalogue.js';
import { faults, planOf, roomStretches, sceneOf, stretch } from './support.js';

const scene = sceneOf(planOf(roomStretches(6350, 4000, 200), 2350));
const found = (findings: readonly Finding[], code: string) => findings.filter((f) => f.code === code);

describe('weights', () => {
  // 32 kg/m2: 600 x 2400 weighs 46.1, 400 x 2400 30.7, 300 x 2400 23.0.
  it('by hand and by crane are told with their counts', () => {
    const { findings } = check(scene);
    const heavy = scene.layout.pieces.filter((p) => (catalogue.units.find((u) => u.id === p.item)?.massKg ?? 0) > 33);
    const told = found(findings, 'check.by-crane')[0]!.message;
    const sum = [...told.matchAll(/(\d+) of /g)].reduce((n, m) => n + Number(m[1]), 0);
    expect(sum).toBe(heavy.length);
    expect(sum).toBeGreaterThan(0);
  });

  it('follow the limits that are given, and a lax one is said', () => {
    const { findings } = check({ ...scene, handSet: { oneKg: 60, twoKg: 80 } });
    expect(found(findings, 'check.by-crane')).toEqual([]);
    expect(found(findings, 'check.by-two')).toEqual([]);
    expect(found(findings, 'check.lax-weights')).toHaveLength(1);
    expect(found(check(scene).findings, 'check.lax-weights')).toEqual([]);
  });
});

describe('clean-outs', () => {
  it('are wanted by the check, and laid out where they are asked for, at no cost but their place', () => {
    const without = fitPlan(scene.plan, catalogue, scene.demands, DEFAULT_FIT_OPTIONS).value;
    const withOne = fitPlan(scene.plan, catalogue, scene.demands, { ...DEFAULT_FIT_OPTIONS, cleanOuts: true }).value;
    const before = check({ ...scene, layout: without }).findings;
    const after = check({ ...scene, layout: withOne }).findings;
    expect(found(before, 'check.no-clean-out')).toHaveLength(1);
    expect(found(after, 'check.no-clean-out')).toEqual([]);
    const [clean] = found(after, 'check.clean-out');
    expect(withOne.ties.some((t) => t.pieces.includes(clean!.subject!) && t.row === 1)).toBe(false);
    expect(faults(after)).toEqual([]);
    const tiers = ({ tiers: list }: typeof without) => list.filter((t) => t.name !== 'kinds').map((t) => t.value);
    expect(tiers(withOne)).toEqual(tiers(without));
  });

  it('that are missing are told of in one sentence, and not where no forms stand', () => {
    const layout = fitPlan(scene.plan, catalogue, scene.demands, DEFAULT_FIT_OPTIONS).value;
    const [none] = found(check({ ...scene, layout }).findings, 'check.no-clean-out');
    expect(none!.message).toMatch(/^No unit of walls W1, W[234], W[234], W[234] comes out alone .* up to 600 mm wide/);
    const bare = check({ ...scene, layout: { ...scene.layout, pieces: [], ties: [], groups: [] } }).findings;
    expect(bare.filter((f) => /clean-out|clamps|in-plane/.test(f.code))).toEqual([]);
  });

  it('are one for each stretch with no lower neighbour', () => {
    const room = planOf(roomStretches(6000, 4000, 200), 2350);
    expect(lowStretches(room)).toHaveLength(1);
    const apart = planOf([...roomStretches(6000, 4000, 200), stretch(0, 9000, 4000, 9000, 200, [true, true])], 2350);
    expect(lowStretches(apart)).toHaveLength(2);
    const [first, ...others] = room.runs;
    const lower = { ...room, runs: [{ ...first!, footingMm: -500 }, ...others] };
    expect(lowStretches(lower).map((runs) => runs.map((r) => r.id))).toEqual([[first!.id]]);
  });
});

describe('closed rooms', () => {
  const strips = (layout = scene.layout) => found(check({ ...scene, layout }).findings, 'check.no-strip');
  /** Puts timber of the same width in the place of a panel beside a leg, without the ties through it. */
  const withStrip = (layout: typeof scene.layout, wallIndex: number) => {
    const wall = scene.plan.walls[wallIndex]!.id;
    const inner = scene.plan.faces.find((f) => f.wall === wall && Math.abs(f.fromMm - 100) < 1)!;
    const panel = layout.pieces.find((p) => p.kind === 'panel' && p.covers[0]!.face === inner.id)!;
    const pieces = layout.pieces.map((p) => (p === panel ? { ...p, kind: 'timber' as const, item: null } : p));
    return { ...layout, pieces, ties: layout.ties.filter((t) => !t.pieces.includes(panel.id)) };
  };

  it('are named where nothing can be taken out', () => {
    expect(strips()).toHaveLength(1);
    expect(strips()[0]!.message).toContain('25.4 m2');
  });

  it('need strips in two directions', () => {
    const parallel = withStrip(withStrip(scene.layout, 0), 1);
    const across = withStrip(withStrip(scene.layout, 0), 2);
    const [a, b, c] = [0, 1, 2].map((i) => scene.plan.walls[i]!);
    const dir = (w: typeof a) => Math.abs(w!.end.x - w!.start.x) > Math.abs(w!.end.y - w!.start.y);
    // Whichever way the walls are numbered: of the first three two are parallel.
    const [pair, cross] =
      dir(a) === dir(b)
        ? [parallel, across]
        : [withStrip(withStrip(scene.layout, 0), dir(a) === dir(c) ? 2 : 3), parallel];
    expect(strips(pair)).toHaveLength(1);
    expect(strips(cross)).toEqual([]);
  });
});

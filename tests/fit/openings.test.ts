/**
 * Openings: ties keep clear of them, what is left carries the concrete, the box-out is held down. The reactions are held against the vertical and the
 * horizontal equilibrium of all forces, which no code of the layout shares.
 */

import { describe, expect, it } from 'vitest';
import { chainReactions, check } from '../../src/check/index.js';
import type { FacePlan, PlanOpening } from '../../src/ground/vocabulary.js';
import { faults, planOf, roomStretches, sceneOf, TIE_TO_EDGE_MM } from '../check/support.js';
import { workedExampleCatalogue as catalogue } from '../support/exampleCatalogue.js';

const roomWith = (openings: readonly Omit<PlanOpening, 'id'>[], topMm = 2350): FacePlan => ({
  ...planOf(roomStretches(6000, 4000, 200), topMm),
  openings: openings.map((o, i) => ({ ...o, id: `O${i + 1}` })),
});

const layAndCheck = (plan: FacePlan) => {
  const scene = sceneOf(plan);
  return { ...scene, checked: check(scene) };
};

/** Rooms that several tests look at are laid out once. */
const held = new Map<string, ReturnType<typeof layAndCheck>>();

const laid = (plan: FacePlan) => {
  const key = JSON.stringify([plan.openings, plan.runs]);
  const before = held.get(key) ?? layAndCheck(plan);
  held.set(key, before);
  return before;
};

/** The lower long wall of the room, from the middle of one cross wall to the other. */
const wallOf = (plan: FacePlan) => plan.walls.find((w) => w.start.y < 0 && w.lengthMm > 5000)!.id;

const failures = (r: ReturnType<typeof laid>) =>
  [...r.fitFindings, ...r.checked.findings].filter((f) => f.severity === 'failure').map((f) => f.message);

describe('an opening in a wall', () => {
  const bare = roomWith([]);
  const wall = wallOf(bare);
  const windows: [string, Omit<PlanOpening, 'id'>][] = [
    ['a window of 1000 x 600', { wall, fromMm: 2500, toMm: 3500, sillMm: 1000, headMm: 1600 }],
    ['a narrow slot', { wall, fromMm: 1730, toMm: 1930, sillMm: 500, headMm: 1800 }],
    ['a penetration', { wall, fromMm: 4100, toMm: 4400, sillMm: 700, headMm: 1000 }],
  ];

  it.each(windows)('%s: no tie passes it or comes nearer than to an edge, and all holds', (_, opening) => {
    const r = laid(roomWith([opening]));
    expect(failures(r)).toEqual([]);
    const near = r.layout.ties.filter(
      (t) =>
        t.wall === wall &&
        t.stationMm > opening.fromMm - TIE_TO_EDGE_MM &&
        t.stationMm < opening.toMm + TIE_TO_EDGE_MM &&
        t.levelMm > opening.sillMm - TIE_TO_EDGE_MM &&
        t.levelMm < opening.headMm + TIE_TO_EDGE_MM,
    );
    expect(near).toEqual([]);
    expect(r.layout.ties.length).toBeLessThan(laid(bare).layout.ties.length + 8);
    const codes = r.checked.findings.map((f) => f.code);
    expect(codes).toContain('check.box-out');
  });

  it('takes its own force from the ties: their loads sum to the concrete that is there', () => {
    const opening = windows[0]![1];
    const total = (plan: FacePlan) => {
      const r = laid(plan);
      return r.checked.value.ties.filter((t) => t.wall === wall).reduce((sum, t) => sum + t.loadKn, 0);
    };
    // The envelope over the opening: 1350 to 750 below the top, hydrostatic there (23.54 kPa per m), times 1 m.
    const gamma = (2400 * 9.81) / 1e6;
    const force = ((gamma * (750 + 1350)) / 2) * 0.6 * 1.0;
    const less = total(bare) - total(roomWith([opening]));
    // Loads are never below strips and take the worse of two faces, so the sums lie somewhat above equilibrium in both plans.
    expect(less).toBeGreaterThan(force * 0.55);
    expect(less).toBeLessThan(force * 1.25);
  });

  it('is told what holds its box-out down: the weight of what it displaces', () => {
    const r = laid(roomWith([windows[0]![1]]));
    // Worked example: 1000 x 600 in a wall of 200 displaces 0.12 m3, 2.82 kN at 23.54 kN/m3.
    expect(r.checked.findings.find((f) => f.code === 'check.box-out')!.message).toContain('held down against 2.82 kN');
  });

  it('in which a tie was left is found by the check', () => {
    const plan = roomWith([windows[0]![1]]);
    const without = laid(bare);
    const checked = check({
      plan,
      catalogue,
      layout: without.layout,
      demands: without.demands,
      pressure: without.pressure,
    });
    expect(
      checked.findings.filter((f) => f.code === 'check.tie-place' && f.message.includes('void of opening')),
    ).not.toEqual([]);
  });

  const doors: [number, number][] = [
    [600, 900],
    [1200, 1000],
    [900, 1200],
  ];

  it.each(doors)(
    'a door of %i x %i down to the footing keeps the rows above it, which carry what hinges hand on',
    (w, h) => {
      const door = { wall, fromMm: 2500, toMm: 2500 + w, sillMm: 0, headMm: h };
      const r = laid(roomWith([door]));
      const over = r.layout.ties.filter((t) => t.wall === wall && t.stationMm > 2500 && t.stationMm < door.toMm);
      expect([...new Set(over.map((t) => t.levelMm))]).toEqual([1500, 2100]);
      expect(failures(r)).toEqual([]);
      // What the search proves the least is no more than what a hand found by moving joints and ties of the layout that it gave before.
      const units = (x: typeof r) => x.layout.tiers.find((t) => t.name === 'tiesAndUnits')!;
      expect(units(r)).toMatchObject({ optimal: true });
      expect(units(r).value).toBeLessThanOrEqual(units(laid(bare)).value + 4);
    },
  );

  it('too wide and tall for any row is told what would help: 900 and twice 81 without a column, 600 and twice 150 to bridge it', () => {
    const tall = laid(roomWith([{ wall, fromMm: 2500, toMm: 3400, sillMm: 0, headMm: 2100 }]));
    const said = tall.fitFindings.find((f) => f.code === 'fit.ties-not-clear')!.message;
    expect(tall.fitFindings.map((f) => f.code)).toContain('fit.ties-not-clear');
    expect(said).toContain('over 1062 mm, more than one form of 600 bridges between its neighbours (900)');
  });

  it('beside whose jamb no tie is left is named by the check', () => {
    const r = laid(roomWith([windows[0]![1]]));
    const jambs = (ties: typeof r.layout.ties) =>
      check({ ...r, layout: { ...r.layout, ties } }).findings.filter((f) => f.code === 'check.jamb-ties');
    const own = r.layout.ties.filter((t) => t.wall === wall);
    const far = r.layout.ties.filter((t) => t.wall !== wall || t.stationMm < 2200 || t.stationMm > 2500);
    const beside = [2200, 3800].map((stationMm, i) => ({ ...own[0]!, id: `near ${i}`, stationMm, levelMm: 1300 }));
    expect(jambs([...far, ...beside])).toEqual([]);
    expect(jambs([...far, beside[1]!]).map((f) => f.message)).toEqual([expect.stringContaining('at station 2500 of')]);
  });

  it('between two rows of ties lacks none of them, and the units across it are rated as they are tied', () => {
    const small = roomWith([{ wall, fromMm: 4100, toMm: 4200, sillMm: 550, headMm: 650 }]);
    expect(laid(small).checked.findings.map((f) => f.code)).not.toContain('check.box-out-units');
    expect(laid(roomWith([windows[0]![1]])).checked.findings.map((f) => f.code)).toContain('check.box-out-units');
  });

  it('of another wall changes nothing here', () => {
    const other = bare.walls.find((w) => w.id !== wall)!.id;
    const r = laid(roomWith([{ wall: other, fromMm: 1500, toMm: 2000, sillMm: 1000, headMm: 1500 }]));
    const key = (x: ReturnType<typeof laid>) =>
      x.layout.ties.filter((t) => t.wall === wall).map((t) => `${t.stationMm} ${t.levelMm}`);
    expect(key(r)).toEqual(key(laid(bare)));
    expect(faults(r.checked.findings).filter((f) => f.severity === 'failure')).toEqual([]);
  });
});

describe('a chain with a stretch that is not loaded', () => {
  it('is the whole chain less the chain that carries that stretch alone', () => {
    const base = { jointsMm: [0, 600, 1200, 1800], supportsMm: [50, 650, 1250, 1750], startShearMm: 0, endShearMm: 0 };
    const whole = chainReactions(base)!;
    const cut = chainReactions({ ...base, unloadedMm: [[500, 1300]] })!;
    const only = chainReactions({ ...base, loadedMm: [500, 1300] })!;
    whole.reactionsMm.forEach((r, i) => {
      expect(cut.reactionsMm[i]! + only.reactionsMm[i]!).toBeCloseTo(r, 9);
    });
    expect(cut.reactionsMm.reduce((a, b) => a + b, 0)).toBeCloseTo(1000, 9);
  });
});

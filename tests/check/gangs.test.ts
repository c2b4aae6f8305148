/** Gangs: what is laid out passes its own judge and the arithmetic of anyone, and a fault planted in a gang is found. */

import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { contextOf } from '../../src/check/context.js';
import { judgeGang } from '../../src/check/gangs/judge.js';
import { legsOf, liftOf } from '../../src/check/gangs/lift.js';
import type { GangOptions } from '../../src/check/gangs/options.js';
import { check } from '../../src/check/index.js';
import type { Gang } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, SITE, sceneOf } from './support.js';

const gangs: GangOptions = { craneKg: 700, longestMm: 6000, legAngleDeg: 60, windMPerS: 9 };
const scene = sceneOf(planOf(roomStretches(6350, 4000, 200), 2350), demoCatalogue);
const without = check({ ...scene, site: SITE });
const withGangs = check({ ...scene, site: { ...SITE, gangs } });
const { value, findings } = withGangs;
const laid = value.gangs!;
const ctx = contextOf(scene);
const hanging = { clamps: value.clamps, aligners: value.aligners!, platforms: value.platforms! };
const g = 9.80665;

describe('legs of a sling', () => {
  // Load angle factors of rigging tables: 1.155 at 60 degrees to the horizontal, 2 at 30 (from memory; 1 / sin).
  it('take half of the weight times the load angle factor', () => {
    for (const [between, factor] of [
      [60, 1.155],
      [120, 2],
    ] as const) {
      const { legs } = legsOf(1000, 0, [-1000, 1000], between);
      for (const leg of legs) expect(leg.forceKn).toBeCloseTo((g / 2) * factor, 2);
    }
  });

  it('are in equilibrium where the centre of gravity lies aside, and neither leans more than half of the angle', () => {
    const { legs, hookMm } = legsOf(800, 2150, [1200, 3000], 60);
    const [sumX, sumY] = legs.reduce(
      ([x, y], l) => [x + (l.forceKn * (l.stationMm - 2150)) / l.lengthMm, y + (l.forceKn * hookMm) / l.lengthMm],
      [0, 0],
    );
    expect(sumX).toBeCloseTo(0, 9);
    expect(sumY).toBeCloseTo(0.8 * g, 9);
    expect(Math.max(...legs.map((l) => l.leanDeg))).toBeCloseTo(30, 9);
  });

  it('find no two joints where all lie on one side, or too unevenly', () => {
    expect(liftOf(500, 900, [1000, 1600, 2200], 3000, 60)).toBeNull();
    expect(liftOf(500, 1500, [1400, 2400], 3000, 60)).toBeNull();
    expect(liftOf(500, 1500, [900, 2100], 3000, 60)!.legs.map((l) => l.stationMm)).toEqual([900, 2100]);
  });
});

describe('gangs of a room', () => {
  it('are named for both faces of every wall, and leave only corners and single units', () => {
    expect(new Set(laid.map((x) => x.face)).size).toBe(8);
    const lifted = laid.flatMap((x) => x.pieces);
    expect(new Set(lifted).size).toBe(lifted.length);
    const kinds = new Set(lifted.map((id) => scene.layout.pieces.find((p) => p.id === id)!.kind));
    expect([...kinds].filter((k) => k !== 'panel' && k !== 'filler')).toEqual([]);
    expect(scene.layout.pieces.some((p) => p.kind === 'inside-corner')).toBe(true);
    expect(findings.filter((f) => /gang(-loose|-none|-bracket)?$/.test(f.code))).toEqual([]);
    expect(findings.filter((f) => f.severity === 'failure')).toEqual([]);
  });

  it('end where both faces have a joint or one has none any more', () => {
    for (const gang of laid) {
      const { wall, side } = scene.plan.faces.find((f) => f.id === gang.face)!;
      const across = scene.plan.faces.find((f) => f.wall === wall && f.side === (side === 'left' ? 'right' : 'left'))!;
      for (const s of [gang.fromMm, gang.toMm]) {
        const over = scene.layout.pieces
          .flatMap((p) => p.covers)
          .filter((c) => (c.face === across.id || c.face === gang.face) && c.fromMm < s - 1 && c.toMm > s + 1);
        expect(over).toEqual([]);
      }
    }
  });

  it('weigh what their parts weigh, within the crane; each has its ties', () => {
    for (const gang of laid) {
      const units = gang.pieces.map((id) => scene.layout.pieces.find((p) => p.id === id)!.item);
      const kg = units.reduce((n, item) => n + demoCatalogue.units.find((u) => u.id === item)!.massKg, 0);
      expect(gang.unitsKg).toBeCloseTo(kg, 6);
      const { unitsKg, clampsKg, alignersKg, platformsKg } = gang;
      expect(gang.massKg).toBeCloseTo(unitsKg + clampsKg + alignersKg + platformsKg + 2 * 6, 6);
      expect(gang.massKg).toBeLessThanOrEqual(700);
      expect(gang.alignersKg).toBeGreaterThan(0);
      const ties = scene.layout.ties.filter((t) => t.pieces.some((p) => gang.pieces.includes(p)));
      expect(gang.ties).toBe(ties.length);
    }
  });

  it('change nothing where they are not asked for', () => {
    expect('gangs' in without.value).toBe(false);
    expect(without.findings.filter((f) => f.code.includes('gang'))).toEqual([]);
    expect(value.ties).toEqual(without.value.ties);
    expect(value.platforms).toEqual(without.value.platforms);
  });

  it('are none, with the reason, where the crane lifts too little; and told what takes hold of them where the yard has nothing', () => {
    const weak = check({ ...scene, site: { ...SITE, gangs: { ...gangs, craneKg: 150 } } });
    expect(weak.value.gangs).toEqual([]);
    const [none] = weak.findings.filter((f) => f.code === 'check.gang-none');
    expect(none!.message).toMatch(/W1-L.*150 kg/);
    const { liftingBrackets: _, ...bare } = demoCatalogue;
    const told = check({ ...scene, catalogue: bare, site: { ...SITE, gangs } });
    const most = Math.max(...told.value.gangs!.flatMap((x) => x.legs.map((l) => l.forceKn)));
    const [bracket] = told.findings.filter((f) => f.code === 'check.gang-bracket');
    expect(Number(/carry ([\d.]+) kN/.exec(bracket!.message)![1])).toBeCloseTo(most, 2);
  });
});

describe('a fault in a gang', () => {
  const [one] = laid;
  const faults = (change: Partial<Gang>, options: GangOptions = gangs) =>
    judgeGang(ctx, { ...one!, ...change }, hanging, options).map((f) => f.message);
  const corner = scene.layout.pieces.find((p) => p.kind === 'inside-corner')!.id;
  const [a, b] = one!.legs;

  it('is found, and none where there is none', () => {
    expect(faults({})).toEqual([]);
    expect(faults({ pieces: [...one!.pieces, corner] })[0]).toMatch(/does not stand on its face|turns a corner/);
    expect(faults({ pieces: one!.pieces.slice(1) })[0]).toMatch(/has a hole/);
    expect(faults({ toMm: one!.toMm - 200 })[0]).toMatch(/ends between joints/);
    expect(faults({ massKg: one!.massKg - 30 })[0]).toMatch(/weighs/);
    expect(faults({ legs: [{ ...a, stationMm: a.stationMm + 100 }, b] })[0]).toMatch(/no joint goes/);
    expect(faults({ legs: [{ ...a, forceKn: a.forceKn * 0.8 }, b] })[0]).toMatch(/leg with/);
    expect(faults({ legs: [a, { ...b, leanDeg: 60 }] })[0]).toMatch(/degrees to each other/);
    expect(faults({}, { ...gangs, craneKg: 300 })[0]).toMatch(/more than the 300/);
    expect(faults({}, { ...gangs, longestMm: 2000 })[0]).toMatch(/long, more than 2000/);
    const loose = judgeGang(ctx, one!, { ...hanging, aligners: [] }, gangs);
    expect(loose.map((f) => f.code)).toContain('check.gang-loose');
  });
});

/**
 * Rule T12 and the pull along the forms. Outside truth: statics. What the clamps of a joint carry together must be the area of the pressure diagram times the
 * strip of the worked corner (square corner, t 200, leg 150: (k + a) / 2 = 175 outside and t - 175 = 25 inside; bulkhead t / 2), and what they hand across
 * the area times the shear of the chain.
 */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import type { Catalogue, CheckedLayout, Clamp, ClampItem } from '../../src/ground/vocabulary.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { planOf, roomStretches, type Scene, sceneOf, stretch } from './support.js';

const TOP_MM = 2350;

const clamp = (id: string, least: number, most: number, pullKn: number, shearKn: number | null): ClampItem => ({
  id,
  closesMm: { least, most },
  pullKn,
  shearKn,
  mostSpacingMm: 600,
  mostFromEndMm: 300,
  massKg: 3,
});

const STRONG = [clamp('near', 0, 5, 50, 50), clamp('far', 0, 300, 40, 40)];
const withClamps = (clamps: readonly ClampItem[]): Catalogue => ({ ...workedExampleCatalogue, clamps });

const room = sceneOf(planOf(roomStretches(3000, 2000, 200), TOP_MM), withClamps(STRONG));
const straight = sceneOf(planOf([stretch(0, 0, 3000, 0, 200, [true, true])], TOP_MM), withClamps(STRONG));
const laid = check(room).value;

/** Force of the envelope per metre of wall, by the trapezium above and the rectangle below the depth at which it turns constant. */
const areaKnPerM = ({ pressure }: Scene): number => {
  const [{ designKpa, envelope }] = [...pressure.values()] as [ReturnType<Scene['pressure']['get']> & object];
  const turnMm = envelope.points[0]!.depthMm;
  return (designKpa * (TOP_MM - turnMm) + (designKpa * turnMm) / 2) / 1000;
};

/** Clamps by joint. */
const byJoint = (layout: CheckedLayout): Clamp[][] => {
  const sets = new Map<string, Clamp[]>();
  for (const c of layout.clamps) {
    const key = `${c.face} ${c.joint} ${c.pieces.join()}`;
    sets.set(key, [...(sets.get(key) ?? []), c]);
  }
  return [...sets.values()];
};

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
const codes = (scene: Scene, clamps?: readonly Clamp[]): string[] =>
  check({ ...scene, ...(clamps ? { clamps } : {}) })
    .findings.filter((f) => f.code.startsWith('check.clamp'))
    .map((f) => f.code);

describe('clamps of a room', () => {
  it('carry the pull of the corner: 175 mm of pressure outside, 25 inside, over the whole height', () => {
    const area = areaKnPerM(room);
    const sets = byJoint(laid);
    expect(sets.length).toBeGreaterThan(20);
    const strips = new Set<number>();
    const outer = new Set(
      room.plan.vertices.filter((v) => v.kind === 'salient').flatMap((v) => v.arms.map((a) => `${a.wall}|${a.side}`)),
    );
    for (const set of sets) {
      const face = room.plan.faces.find((f) => f.id === set[0]!.face)!;
      const strip = (sum(set.map((c) => c.inPlaneKn)) / area) * 1000;
      strips.add(Math.round(strip));
      expect(strip, `${set[0]!.face} ${set[0]!.pieces}`).toBeCloseTo(
        outer.has(`${face.wall}|${face.side}`) ? 175 : 25,
        3,
      );
    }
    expect([...strips].sort((a, b) => a - b)).toEqual([25, 175]);
  });

  it('hand on what hangs on the leg of an inside corner: (k + a) / 2 = 175 mm of pressure', () => {
    const area = areaKnPerM(room);
    const corners = new Set(laid.pieces.filter((p) => p.kind === 'inside-corner').map((p) => p.id));
    const legs = byJoint(laid).filter((set) => set[0]!.pieces.some((p) => corners.has(p)));
    expect(legs).toHaveLength(8);
    for (const set of legs) expect((sum(set.map((c) => c.shearKn ?? Number.NaN)) / area) * 1000).toBeCloseTo(175, 3);
  });

  it('stand at most 600 apart, the first and the last within 300 of the joint, and no more than that needs', () => {
    for (const set of byJoint(laid)) {
      const [piece] = laid.pieces.filter((p) => p.id === set[0]!.pieces[0]);
      const levels = [piece!.baseMm, ...set.map((c) => c.levelMm), piece!.topMm];
      expect(levels[1]! - levels[0]!).toBeLessThanOrEqual(300);
      expect(levels.at(-1)! - levels.at(-2)!).toBeLessThanOrEqual(300);
      for (let i = 2; i < levels.length - 1; i++) expect(levels[i]! - levels[i - 1]!).toBeLessThanOrEqual(600);
      expect(set).toHaveLength(Math.ceil((piece!.topMm - piece!.baseMm) / 600));
      expect(levels.every((z) => Math.abs(z / 25 - Math.round(z / 25)) < 1e-6)).toBe(true);
    }
  });

  it('stand at every joint of two units: each panel, leg and outside corner has them on both its edges', () => {
    const joined = new Map<string, Set<string>>();
    for (const c of laid.clamps)
      for (const [own, other] of [c.pieces, [...c.pieces].reverse()] as [string, string][])
        joined.set(own, new Set([...(joined.get(own) ?? []), other]));
    const units = laid.pieces.filter((p) => p.item !== null && p.kind !== 'filler' && p.kind !== 'bulkhead');
    for (const p of units) expect(joined.get(p.id)?.size, `${p.id} ${p.kind}`).toBe(2);
    expect(codes(room)).toEqual([]);
  });

  it('at a bulkhead carry half of the thickness in either face', () => {
    const area = areaKnPerM(straight);
    const sets = byJoint(check(straight).value);
    expect(sets.length).toBeGreaterThan(6);
    for (const set of sets) expect((sum(set.map((c) => c.inPlaneKn)) / area) * 1000).toBeCloseTo(100, 3);
  });
});

describe('clamps that do not hold', () => {
  it('are set closer where they are weaker, and are a failure where that does not help', () => {
    const weaker = check({ ...room, catalogue: withClamps([clamp('weak', 0, 300, 8, 8)]) });
    expect(weaker.value.clamps.length).toBeGreaterThan(laid.clamps.length);
    expect(Math.max(...weaker.value.clamps.map((c) => c.utilisation))).toBeLessThanOrEqual(1);
    expect(codes({ ...room, catalogue: withClamps([clamp('weak', 0, 300, 8, 8)]) })).toEqual([]);
    expect(new Set(codes({ ...room, catalogue: withClamps([clamp('weakest', 0, 300, 1, 1)]) }))).toEqual(
      new Set(['check.clamp-overload']),
    );
  });

  it('that do not reach over a filler are a failure, and so is a joint without any', () => {
    const filled = sceneOf(planOf(roomStretches(3050, 2000, 200), TOP_MM), withClamps([clamp('near', 0, 5, 50, 50)]));
    expect(filled.layout.pieces.some((p) => p.kind === 'filler' || p.kind === 'timber')).toBe(true);
    expect(new Set(codes(filled))).toEqual(new Set(['check.clamp-gap']));
    const wide = check({ ...filled, catalogue: withClamps(STRONG) });
    expect(wide.value.clamps.some((c) => c.item === 'far' && c.gapMm > 5)).toBe(true);
  });

  it('are missed one by one: any clamp taken out of its joint is a failure', () => {
    for (const [i, gone] of laid.clamps.entries()) {
      if (i % 29 !== 0) continue;
      const rest = laid.clamps.filter((c) => c !== gone);
      expect(codes(room, rest), gone.id).toEqual(['check.clamps-few']);
    }
    const joint = laid.clamps[0]!.pieces.join();
    expect(
      codes(
        room,
        laid.clamps.filter((c) => c.pieces.join() !== joint),
      ),
    ).toEqual(['check.clamps-few']);
    expect(codes(room, laid.clamps)).toEqual([]);
  });

  it('whose rating across the joint is not known are said once, with the largest force', () => {
    const said = check({ ...room, catalogue: withClamps([clamp('far', 0, 300, 40, null)]) }).findings.filter(
      (f) => f.code === 'check.clamp-shear',
    );
    const most = Math.max(...laid.clamps.map((c) => c.shearKn ?? 0));
    expect(said).toHaveLength(1);
    expect(said[0]!.message).toContain(`${most.toFixed(1)} kN`);
  });
});

describe('clamps beside ties', () => {
  /** Least distance of any clamp's middle from a tie's axis, in the plane of the forms. */
  const nearest = (layout: CheckedLayout): number =>
    Math.min(
      ...layout.clamps.flatMap((c) => {
        const { wall } = room.plan.faces.find((f) => f.id === c.face)!;
        return layout.ties
          .filter((t) => t.wall === wall)
          .map((t) => Math.hypot(t.stationMm - c.stationMm, t.levelMm - c.levelMm));
      }),
    );
  const clearBy = (tieClearMm: number) =>
    check({ ...room, catalogue: withClamps(STRONG.map((c) => ({ ...c, tieClearMm }))) });

  it('stand beside them where the catalogue says nothing, and stand off them where it does, with one more clamp where that is needed', () => {
    expect(nearest(laid)).toBeLessThan(90);
    const { value, findings } = clearBy(90);
    expect(nearest(value)).toBeGreaterThanOrEqual(89.5);
    expect(findings.filter((f) => f.code.startsWith('check.clamp'))).toEqual([]);
    expect(value.clamps.length).toBeGreaterThanOrEqual(laid.clamps.length);
  });

  it('are said where no place along the joint is clear, and as they stand in a layout that is given', () => {
    expect(clearBy(700).findings.map((f) => f.code)).toContain('check.clamp-tie');
    const given = check({
      ...room,
      clamps: laid.clamps,
      catalogue: withClamps(STRONG.map((c) => ({ ...c, tieClearMm: 90 }))),
    });
    expect(given.findings.map((f) => f.code)).toContain('check.clamp-tie');
  });
});

/**
 * Steps of the footing and of the top: the hand-worked step of 310 and the three risers, and laws. Both are the worked examples' numbers, so
 * 'common practice, no source' for what they say of phases.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseStacks, DEFAULT_FIT_OPTIONS, type Setup, setupsOf } from '../../src/fit/index.js';
import type { Catalogue, FacePlan, Foundation, Layout } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { checked, faults, roomStretches, sceneOf } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';
import { corner, type Levels, onePlan } from '../support/straightPlan.js';

/** A wall between two corners of 200, its inner face `insideMm` long from station 100; footing levels from stations of that face. */
const stepped = (insideMm: number, topMm: number | Levels, footing: Levels): FacePlan =>
  onePlan(
    insideMm + 200,
    200,
    topMm,
    corner(0, 200, 'start'),
    corner(insideMm + 200, 200, 'end'),
    [],
    footing.map(([s, z]) => [s === 0 ? -100 : s + 100, z]),
  );

const withPitch = (pitchMm: number): Catalogue => ({ ...workedExampleCatalogue, pitchMm });

const setupOf = (plan: FacePlan, catalogue: Catalogue): Setup => setupsOf(plan, catalogue, DEFAULT_FIT_OPTIONS)[0]!;

/** Timber under the forms on the inner face, m2, from the pieces. */
const under = (layout: Layout): number =>
  layout.pieces
    .filter((p) => p.course === 0 && p.covers[0]!.face === 'W1-L')
    .reduce((sum, p) => {
      const c = p.covers[0]!;
      return sum + ((c.toMm - c.fromMm) * (c.topMm - c.baseMm)) / 1e6;
    }, 0);

const bases = (layout: Layout): number[] =>
  [...new Set(layout.pieces.filter((p) => p.course === 1).map((p) => p.baseMm))].sort((a, b) => a - b);

const at = (plan: FacePlan, catalogue: Catalogue, phaseMm: number) =>
  sceneOf(plan, catalogue, undefined, new Map(plan.runs.map((r) => [r.id, phaseMm])));

describe('one step of 310 at station 2430, 6000 long', () => {
  const plan = stepped(6000, 2660, [
    [0, 0],
    [2430, 310],
  ]);

  it.each([
    [25, 10, 0.0333, [10, 310]],
    [150, 10, 0.0333, [10, 310]],
    [25, 0, 0.0633, [0, 325]],
    [150, 0, 0.5133, [0, 450]],
  ])('at pitch %d and phase %d leaves %d m2 a face', (pitchMm, phaseMm, areaM2, stood) => {
    const { layout, fitFindings } = at(plan, withPitch(pitchMm), phaseMm);
    expect(fitFindings.filter((f) => f.severity === 'failure')).toEqual([]);
    expect(bases(layout)).toEqual(stood);
    expect(under(layout)).toBeCloseTo(areaM2, 4);
    expect(layout.tiers.find((t) => t.name === 'places')!.value).toBe(1);
  });

  it('offers the phase of the upper footing first', () => {
    expect(setupOf(plan, withPitch(25)).phases.map((p) => p.phaseMm)).toEqual([10, 0]);
    expect(setupOf(plan, withPitch(150)).phases.map((p) => p.phaseMm)).toEqual([10, 0]);
  });

  it('ends the low forms before the riser, with one level on top', () => {
    const { layout } = at(plan, withPitch(25), 10);
    const low = layout.pieces.filter((p) => p.kind === 'panel' && p.baseMm === 10 && p.covers[0]!.face === 'W1-L');
    expect(Math.max(...low.map((p) => p.covers[0]!.toMm)) - 100).toBe(2400);
    const panels = layout.pieces.filter((p) => p.kind === 'panel');
    for (const base of [10, 310]) {
      const first = panels.find((p) => p.course === 1 && p.baseMm === base)!;
      const over = panels.filter(
        (p) => p.covers[0]!.face === first.covers[0]!.face && p.covers[0]!.fromMm === first.covers[0]!.fromMm,
      );
      expect(Math.max(...over.map((p) => p.topMm))).toBe(2710);
    }
  });
});

describe('a room on a slope: two walls step, the others stand on either level', () => {
  const foundation = (riseMm: number, topMm: number): Foundation => ({
    lengthUnit: 'mm',
    stretches: roomStretches(6000, 4000, 200),
    faceLines: [],
    ...NOTHING_ELSE,
    levels: { footingMm: 0, topMm, footingFrom: 'job', topFrom: 'job' },
    steps: [-100, 4100].map((y) => ({ at: { x: 2430, y }, kind: 'footing', riseMm: null, text: null, sources: [] })),
    levelsAt: [
      [4500, -100],
      [4500, 4100],
      [6100, 2000],
    ].map(([x, y]) => ({ near: { x: x!, y: y! }, footingMm: riseMm, topMm: null, from: 'job' as const, text: null })),
  });

  it.each([310, -310, 375, 900])('holds under every check with a rise of %d', (riseMm) => {
    const plan = shape(foundation(riseMm, 2660), { gridMm: 1 }).value;
    expect(plan.runs).toHaveLength(6);
    for (const { phaseMm } of setupOf(plan, workedExampleCatalogue).phases) {
      const scene = at(plan, workedExampleCatalogue, phaseMm);
      expect(scene.fitFindings.filter((f) => f.severity === 'failure')).toEqual([]);
      expect(faults(checked(scene).findings)).toEqual([]);
      expect(scene.layout.pieces.some((p) => p.course === 0)).toBe(true);
    }
  });
});

describe('a step of 375 with a free phase', () => {
  const plan = stepped(6000, 2660, [
    [0, 0],
    [2400, 375],
  ]);
  it.each([
    [25, 0],
    [50, 0.06],
    [150, 0.18],
  ])('costs at pitch %d at least %d m2 a face', (pitchMm, areaM2) => {
    const catalogue = withPitch(pitchMm);
    const least = Math.min(...setupOf(plan, catalogue).phases.map((p) => under(at(plan, catalogue, p.phaseMm).layout)));
    expect(least).toBeCloseTo(areaM2, 4);
  });
});

describe('three risers to 190, 395 and 705 over 1800, 1800, 1200 and 2400', () => {
  const plan = stepped(7200, 3000, [
    [0, 0],
    [1800, 190],
    [3600, 395],
    [4800, 705],
  ]);
  const best = (pitchMm: number) => setupOf(plan, withPitch(pitchMm)).phases[0]!;

  it.each([
    [25, 5, 0.048],
    [50, 5, 0.048],
    [100, 5, 0.048],
    [150, 105, 0.318],
  ])('at pitch %d take phase %d and leave %d m2 a face', (pitchMm, phaseMm, areaM2) => {
    expect(best(pitchMm).phaseMm).toBe(phaseMm);
    // Two faces, and the outer one reaches 200 farther at the low end; at the high end the gap is 0.
    expect(best(pitchMm).gapAreaM2).toBeCloseTo(2 * areaM2 + (200 * phaseMm) / 1e6, 6);
  });

  it.each([
    [25, 0.072],
    [50, 0.132],
    [100, 0.252],
    [150, 0.372],
  ])('at pitch %d and phase 0 leave %d m2 a face', (pitchMm, areaM2) => {
    const { layout } = at(plan, withPitch(pitchMm), 0);
    const own = plan.runs.map((r) => bases(layout).find((b) => b >= r.footingMm)! - r.footingMm);
    const lengths = [1800, 1800, 1200, 2400];
    expect(own.reduce((sum, gap, i) => sum + gap * lengths[i]!, 0) / 1e6).toBeCloseTo(areaM2, 6);
  });
});

describe('a bed of mortar', () => {
  it('keeps every base at least its height above the footing', () => {
    const plan = stepped(6000, 2660, [
      [0, 0],
      [2430, 310],
    ]);
    const options = { ...DEFAULT_FIT_OPTIONS, bedMm: 30 };
    for (const { phaseMm } of setupsOf(plan, workedExampleCatalogue, options)[0]!.phases) {
      const phases = new Map(plan.runs.map((r) => [r.id, phaseMm]));
      const stacks = chooseStacks(plan, workedExampleCatalogue, options, phases).value;
      const gaps = plan.runs.map((r) => stacks.get(r.id)!.stack.baseMm - r.footingMm);
      for (const gap of gaps) {
        expect(gap).toBeGreaterThanOrEqual(30 - 1e-6);
        expect(gap).toBeLessThan(30 + workedExampleCatalogue.pitchMm);
      }
      expect(Math.min(...gaps)).toBeCloseTo(30, 6);
    }
  });
});

describe('what a step leaves to be looked after', () => {
  const codesOf = (plan: FacePlan) => at(plan, workedExampleCatalogue, 0).fitFindings.map((f) => f.code);

  it('are forms that hardly stand beside each other where the step is high', () => {
    const high = (riseMm: number, topMm: Levels) =>
      stepped(6000, topMm, [
        [0, 0],
        [3000, riseMm],
      ]);
    const top: Levels = [
      [-100, 1150],
      [3100, 2350],
    ];
    expect(codesOf(high(1000, top))).toContain('fit.step-overlap');
    expect(codesOf(high(500, top))).not.toContain('fit.step-overlap');
  });
});

describe('phases', () => {
  const levels = fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 1, maxLength: 4 });

  /** Every 1500 the footing rises by one of these. */
  const slope = (rises: readonly number[]): FacePlan => {
    const footing: (readonly [number, number])[] = [[0, 0]];
    for (const rise of rises) footing.push([1500 * footing.length, footing[footing.length - 1]![1] + rise]);
    return stepped(1500 * footing.length, footing[footing.length - 1]![1] + 2000, footing);
  };

  it('a full search over all of them finds nothing better than those at which a run stands on its footing', () => {
    fc.assert(
      fc.property(levels, fc.constantFrom(25, 50, 75, 150), (rises, pitchMm) => {
        const plan = slope(rises);
        const gaps = (phase: number) =>
          plan.runs.reduce((sum, r) => {
            const gap = (((phase - r.footingMm) % pitchMm) + pitchMm) % pitchMm;
            const length = r.end.leftMm - r.start.leftMm + (r.end.rightMm - r.start.rightMm);
            return sum + gap * length;
          }, 0) / 1e6;
        const full = Math.min(...Array.from({ length: pitchMm }, (_, phase) => gaps(phase)));
        expect(setupOf(plan, withPitch(pitchMm)).phases[0]!.gapAreaM2).toBeCloseTo(full, 9);
      }),
      { seed: 20, numRuns: 300 },
    );
  });

  it('a finer pitch that divides a coarser one never leaves more under the forms', () => {
    fc.assert(
      fc.property(levels, fc.constantFrom(25, 50), fc.integer({ min: 2, max: 4 }), (rises, pitchMm, times) => {
        const plan = slope(rises);
        const least = (p: number) => setupOf(plan, withPitch(p)).phases[0]!.gapAreaM2;
        expect(least(pitchMm)).toBeLessThanOrEqual(least(pitchMm * times) + 1e-9);
      }),
      { seed: 21, numRuns: 200 },
    );
  });
});

/** What ties leave in the wall, boards over gaps, bulkheads, and hours towards striking. Sources beside the checks. */

import { describe, expect, it } from 'vitest';
import { bulkheadKnPerM } from '../../src/check/bulkheads.js';
import { boardStress, boardUse } from '../../src/check/fillBoards.js';
import { check, stripping } from '../../src/check/index.js';
import { BAR_TOLERANCE_MM, leftOverHoleMm } from '../../src/check/tieKinds.js';
import type { Catalogue, TieItem } from '../../src/ground/vocabulary.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { planOf, roomStretches, type Scene, sceneOf, stretch, WORKED_CONCRETE } from './support.js';

const IN = 25.4;

describe('boards over a gap', () => {
  // Course notes of the University of Florida on wall forms: bending L = 10.95 sqrt(F S / w) for three spans (M = w L^2 / 10; L in, w lb/ft, F psi, S in3).
  it('of one span bend by the course’s formula with 8 in place of 10', () => {
    const [psi, thicknessIn, psf] = [1200, 1, 800];
    const sectionIn3 = (12 * thicknessIn ** 2) / 6;
    const threeSpansIn = 10.95 * Math.sqrt((psi * sectionIn3) / psf);
    const spanMm = threeSpansIn * Math.sqrt(8 / 10) * IN;
    const { bendingMpa } = boardStress(psf * 0.0478802589, spanMm, thicknessIn * IN);
    expect(bendingMpa).toBeCloseTo(psi * 0.00689475729, 1);
  });

  it('are a failure where they are stressed too much, and none where they are not', () => {
    const weak = { thicknessMm: 1.5, bendingMpa: 5, shearMpa: 1 };
    const plan = planOf(roomStretches(3033, 2000, 200), 2350);
    const scene = sceneOf(plan, { ...workedExampleCatalogue, timber: weak });
    const timber = scene.layout.pieces.filter((p) => p.kind === 'timber');
    expect(timber.length).toBeGreaterThan(0);
    const said = (timberBoards: Catalogue['timber']) =>
      check({ ...scene, catalogue: { ...scene.catalogue, timber: timberBoards! } }).findings.filter(
        (f) => f.code === 'check.timber-span',
      );
    expect(said(weak).length).toBeGreaterThan(0);
    expect(said({ ...weak, thicknessMm: 27 })).toEqual([]);
    expect(said(null)).toEqual([]);
    // The fastest rise knows them: boards that carry less than anything else are what gives way first, at the pressure that stresses them fully.
    const rates = {
      concrete: WORKED_CONCRETE,
      pours: [],
      supplyM3PerH: null,
    };
    const thin = { ...weak, thicknessMm: 3, bendingMpa: 3.95, shearMpa: 10 };
    const { carried } = check({ ...scene, catalogue: { ...scene.catalogue, timber: thin }, rates }).value.rates!;
    const [first] = [...carried].sort((a, b) => a.mostKpa! - b.mostKpa!);
    const widths = timber.flatMap((p) => p.covers.map((c) => c.toMm - c.fromMm));
    expect(first!.item!.code).toBe('check.timber-span');
    expect(first!.mostKpa).toBeCloseTo((3.95 * 9 * 8 * 1000) / (6 * Math.max(...widths) ** 2), 3);
    // 43.1 kPa over 33 mm: 43.1e-3 x 33^2 / 8 x 6 / 3^2 = 3.9 MPa; half as thick four times that.
    expect(boardStress(43.1, 33, 3).bendingMpa).toBeCloseTo(3.911, 2);
    expect(boardUse(boardStress(43.1, 33, 1.5), weak)).toBeCloseTo(15.65 / 5, 2);
  });
});

describe('bulkheads', () => {
  it('are pushed with p t: 43.1 kPa and 250 give 10.8 kN per metre (worked layout 3)', () => {
    expect(bulkheadKnPerM(43.1, 250)).toBeCloseTo(10.8, 1);
    const scene = sceneOf(planOf([stretch(0, 0, 3000, 0, 250, [true, true])], 2350));
    const [said, ...more] = check(scene).findings.filter((f) => f.code === 'check.bulkhead');
    expect(more).toEqual([]);
    expect(said!.message).toContain('10.8 kN per m');
    expect(said!.message).toContain('2 bulkheads');
    expect(
      check(sceneOf(planOf(roomStretches(3000, 2000, 200), 2350))).findings.some((f) => f.code === 'check.bulkhead'),
    ).toBe(false);
  });
});

describe('ties that stay in the wall', () => {
  // Cover of 1.5 in, broken off 1 in deep: half an inch is left, less 3/8 in of placing tolerance (ACI 117-06) 1/8 in.
  it('leave an eighth of an inch between their hole and a bar that lies too near', () => {
    expect(BAR_TOLERANCE_MM).toBeCloseTo((3 / 8) * IN, 6);
    expect(leftOverHoleMm(1.5 * IN, IN)).toBeCloseTo(IN / 8, 6);
    expect(leftOverHoleMm(2 * IN, 1.5 * IN)).toBeCloseTo(IN / 8, 6);
  });

  const withTies = (change: Partial<TieItem>): Scene => {
    const ties = workedExampleCatalogue.ties.map((t) => ({ ...t, ...change }));
    return sceneOf(planOf(roomStretches(3000, 2000, 200), 2350), { ...workedExampleCatalogue, ties });
  };
  const codes = (scene: Scene, coverMm: number): string[] =>
    check({ ...scene, coverOfBars: { coverMm, isGiven: true } })
      .findings.map((f) => f.code)
      .filter((c) => c.startsWith('check.break-back') || c === 'check.tie-leaves');

  it('are held against the cover, and what each item leaves is told', () => {
    const deep = withTies({ kind: 'left-in', breakBackMm: IN });
    expect(codes(deep, 1.5 * IN)).toEqual(['check.break-back-bars', 'check.break-back-cover', 'check.tie-leaves']);
    expect(codes(deep, 2.5 * IN)).toEqual(['check.break-back-cover', 'check.tie-leaves']);
    expect(codes(withTies({ kind: 'left-in', breakBackMm: 12.5 }), 20)).toEqual([
      'check.break-back-bars',
      'check.break-back-cover',
      'check.tie-leaves',
    ]);
    expect(codes(withTies({ kind: 'removable', holeMm: 22 }), 20)).toEqual(['check.tie-leaves']);
    const said = (change: Partial<TieItem>) =>
      check(withTies(change)).findings.find((f) => f.code === 'check.tie-leaves')!.message;
    const count = deep.layout.ties.length;
    expect(said({ kind: 'left-in', breakBackMm: IN, holeMm: 25 })).toContain(`${2 * count} holes of 25 mm`);
    expect(said({ kind: 'removable', removedBefore: true, holeMm: 22 })).toContain('before the forms are struck');
    expect(said({ kind: 'removable', isSealed: true })).toContain('sealed');
  });
});

describe('hours towards striking', () => {
  const spell = (hours: number, airC: number) => ({ hours, airC });
  it('count only at or above 10 degrees C: 12 h at 12 and 12 h at 2 are 12, 10 h at 11 and 20 h at 6 are 10', () => {
    // ACI 347 as quoted from 347R-94 in 'Stripping wall forms during cold weather' (Concrete Construction): 12 h, not necessarily in a row.
    expect(stripping([spell(12, 12), spell(12, 2)])).toMatchObject({ countedH: 12, fullAfterH: 12 });
    expect(stripping([spell(12, 2), spell(12, 12)])).toMatchObject({ countedH: 12, fullAfterH: 24 });
    expect(stripping([spell(10, 11), spell(20, 6)])).toMatchObject({ countedH: 10, fullAfterH: null });
    expect(stripping([spell(6, 10), spell(12, 9.9), spell(8, 10)])).toMatchObject({ countedH: 14, fullAfterH: 24 });
    expect(stripping([])).toMatchObject({ countedH: 0, fullAfterH: null });
  });
  it('never fall when an hour becomes warmer', () => {
    for (let warm = 0; warm < 24; warm++) {
      const day = Array.from({ length: 24 }, (_, h) => spell(1, h < warm ? 12 : 4));
      expect(stripping(day).countedH).toBe(warm);
    }
  });
});

/** Published tie loads: pressure times spacing along and up the wall, and the factor of safety. Sources stand beside each. */

import { describe, expect, it } from 'vitest';
import { loadCatalogue } from '../../src/catalogue/index.js';
import { chainReactions, rowLoads } from '../../src/check/index.js';
import { KPA_PER_PSF } from '../../src/ground/units.js';

const MM_PER_FT = 304.8;
const KN_PER_LBF = 4.4482216152605e-3;

/** Load of an interior tie in lb: constant pressure, equal rows up the wall, equal panels with a tie at the same side of each joint. */
const interiorTieLb = (psf: number, alongMm: number, upMm: number): number => {
  const levels = [1, 2, 3, 4, 5].map((i) => i * upMm);
  const { value } = rowLoads({
    stack: { baseMm: 0, heightsMm: [6 * upMm] },
    rowLevelsMm: levels,
    footingMm: 0,
    topMm: 100 * upMm,
    envelope: { points: [{ depthMm: 1, kpa: psf * KPA_PER_PSF }] },
  });
  const row = value[2]!.stripKnPerM;
  const joints = Array.from({ length: 12 }, (_, i) => i * alongMm);
  const ties = [...joints.slice(0, -1).map((j) => j + 50), joints[11]! - 50];
  const answer = chainReactions({ jointsMm: joints, supportsMm: ties, startShearMm: 0, endShearMm: 0 });
  return (row * answer!.reactionsMm[5]!) / 1000 / KN_PER_LBF;
};

describe('published tie loads', () => {
  it('B1: University of Florida, "Wall Forms": 1042.5 psf, ties 1.6 ft, wales 2.0 ft: 3,336 lb', () => {
    expect(Math.round(interiorTieLb(1042.5, 1.6 * MM_PER_FT, 2 * MM_PER_FT))).toBe(3336);
  });
  it('B2: University of Florida, "Using Tables": 1042.5 psf on 21 x 25 in: 3,801 lb', () => {
    expect(Math.round(interiorTieLb(1042.5, (21 / 12) * MM_PER_FT, (25 / 12) * MM_PER_FT))).toBe(3801);
  });
  it('B3: Peurifoy and Oberlender p. 229: 713 psf on 24 x 24 in: 2,852 lb', () => {
    expect(Math.round(interiorTieLb(713, 2 * MM_PER_FT, 2 * MM_PER_FT))).toBe(2852);
  });
  it('B4: Coursera, "Construction cost estimating": 664 psf, 481 sf of both faces, 50 ties: 3,194 lb on average; the interior tie has 3,259', () => {
    const areaSf = 2 * 9.5 * 25.33;
    expect(Math.round(areaSf)).toBe(481);
    // The course divides the rounded area of one face by the number of ties.
    expect(Math.round(((481 / 2) * 664) / 50)).toBe(3194);
    expect(Math.round(interiorTieLb(664, (31 / 12) * MM_PER_FT, (9.5 / 5) * MM_PER_FT))).toBe(3259);
  });
  it('B5: Concrete Construction, "Safety factor for form ties": 4,500 lb ultimate is 3,000 at a factor of 1.5 and 2,250 at 2', () => {
    const codes = (workingLoadKn: number): string[] => {
      const file = {
        name: 'one tie',
        lengthUnit: 'mm',
        pitchMm: 25,
        units: [
          {
            id: 'panel',
            kind: 'panel',
            widthMm: 600,
            heightMm: 1200,
            ratedKpa: 60,
            massKg: 20,
            holes: [
              { xMm: 50, yMm: 300 },
              { xMm: 550, yMm: 300 },
            ],
          },
        ],
        ties: [{ id: 'tie', wallMm: [200], workingLoadKn, ultimateKn: 4500 * KN_PER_LBF, diameterMm: 10, massKg: 0.1 }],
      };
      const loaded = loadCatalogue(file);
      expect(loaded.ok).toBe(true);
      return loaded.findings.filter((f) => f.code === 'catalogue.tie-factor').map((f) => f.severity);
    };
    expect(codes(3000 * KN_PER_LBF)).toEqual(['attention']);
    expect(codes(2250 * KN_PER_LBF)).toEqual([]);
    expect(3000 * 0.75).toBe(2250);
  });
  it('B7 (own, hand integral): H 3.0, 25 kN/m3, 60 kPa, rows 0.35, 1.55, 2.70: 55.47, 42.96, 9.57 kN/m, sum 108.00 = area', () => {
    const { value } = rowLoads({
      stack: { baseMm: 0, heightsMm: [3000] },
      rowLevelsMm: [350, 1550, 2700],
      footingMm: 0,
      topMm: 3000,
      envelope: { points: [{ depthMm: 2400, kpa: 60 }] },
    });
    const strips = value.map((r) => r.stripKnPerM);
    expect(strips.map((x) => x.toFixed(2))).toEqual(['55.47', '42.96', '9.57']);
    expect(strips.reduce((a, b) => a + b, 0)).toBeCloseTo(108, 9);
  });
});

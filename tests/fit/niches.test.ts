/**
 * Niches, by worked layout 10: clear 340 between walls of 200, legs of 150. Two legs back to back and timber of 40, no hole on the inner face at all; the
 * smallest room with a holed panel is 2 a + 200.
 */

import { describe, expect, it } from 'vitest';
import { gearFor } from '../../src/fit/gear.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import { isNiche, nicheFill } from '../../src/fit/niches.js';
import type { Foundation } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { foundation, stretch } from '../shape/draw.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { layOutByHand } from './handLoads.js';

const T = 200;

/** A closed room of `clear` by 3,000 inside walls of 200. */
const room = (clear: number): Foundation => {
  const h = T / 2;
  const [x, y] = [clear, 3000];
  return foundation([
    stretch([0, -h], [x, -h], T, [false, false], 'S'),
    stretch([0, y + h], [x, y + h], T, [false, false], 'N'),
    stretch([-h, 0], [-h, y], T, [false, false], 'W'),
    stretch([x + h, 0], [x + h, y], T, [false, false], 'E'),
  ]);
};

describe('EX10: what stands between two legs of 150', () => {
  const plan = shape(room(1000), { gridMm: 1 }).value;
  const [{ stack }] = chooseStacks(plan, workedExampleCatalogue, DEFAULT_FIT_OPTIONS).value.values() as unknown as [
    { stack: Parameters<typeof gearFor>[1] },
  ];
  const gear = gearFor(workedExampleCatalogue, stack);

  it.each([
    [300, { fillersGu: [], timberGu: 0 }],
    [310, null],
    [325, { fillersGu: [25], timberGu: 0 }],
    [350, { fillersGu: [50], timberGu: 0 }],
    [375, { fillersGu: [50, 25], timberGu: 0 }],
    [400, { fillersGu: [50, 50], timberGu: 0 }],
    [450, { fillersGu: [50, 50, 50], timberGu: 0 }],
    [340, { fillersGu: [], timberGu: 40 }],
  ])('clear %d: %j', (clear, fill) => {
    expect(isNiche(gear, clear - 300)).toBe(true);
    expect(nicheFill(gear, clear - 300)).toEqual(fill);
  });

  it('500 is the smallest with a holed panel', () => {
    expect(isNiche(gear, 199)).toBe(true);
    expect(isNiche(gear, 200)).toBe(false);
  });
});

describe('EX10 as a room', () => {
  it('clear 340: legs and timber of 40 on the short faces, no tie there, said with its force', () => {
    const laid = layOutByHand(room(340), workedExampleCatalogue);
    const said = laid.findings.filter((f) => f.code === 'fit.niche');
    expect(said).toHaveLength(2);
    // 43.1 x 0.34 at the foot; 61.82 x 0.34 in all, as in the worked layout's envelope.
    for (const f of said)
      expect(f.message).toMatch(/340 mm are clear.*150 and 150.*timber of 40.*14\.7 kN.*21 kN in all/);
    const short = laid.plan.walls.filter((w) => w.lengthMm < 1000).map((w) => w.id);
    expect(laid.layout.ties.filter((t) => short.includes(t.wall))).toEqual([]);
    const strips = laid.layout.pieces.filter(
      (p) => p.kind === 'timber' && p.course === 1 && p.covers.some((c) => c.toMm - c.fromMm === 40),
    );
    expect(strips.length).toBeGreaterThanOrEqual(2);
  });

  it('clear 310: neither closed nor silent', () => {
    const laid = layOutByHand(room(310), workedExampleCatalogue);
    const said = laid.failures.map((f) => f.message).join(' ');
    expect(said).toContain('10 between them nothing closes');
  });

  it('clear 500: a panel of 200 with both holes tied stands on each short face', () => {
    const laid = layOutByHand(room(500), workedExampleCatalogue);
    expect(laid.failures.map((f) => f.message)).toEqual([]);
    const short = laid.plan.walls.filter((w) => w.lengthMm < 1000).map((w) => w.id);
    for (const wall of short)
      expect(new Set(laid.layout.ties.filter((t) => t.wall === wall).map((t) => t.stationMm)).size).toBe(2);
  });
});

/**
 * Changes of thickness: the worked layout 7's wall (300 to 200 at 3,000, one face straight) and its kin. What is held by hand: the return is closed
 * once, no tie stands within 75 of a salient edge (practice), on every face a tie stands within the overhang of the jog, and the check finds nothing.
 */

import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import type { Foundation } from '../../src/ground/vocabulary.js';
import { foundation, stretch } from '../shape/draw.js';
import { layOutByHand, P } from './handLoads.js';

const layOut = (found: Foundation) => layOutByHand(found, demoCatalogue);

/** Two walls in line, the first from 0 to 3,000; thicknesses and axes as given. */
const inLine = (t1: number, y1: number, t2: number, y2: number): Foundation =>
  foundation([
    stretch([0, y1], [3000, y1], t1, [true, false], 'A'),
    stretch([3000, y2], [7000, y2], t2, [false, true], 'B'),
  ]);

const cases: [string, Foundation, readonly number[]][] = [
  ['300 to 200, flush on the right', inLine(300, 150, 200, 100), [100]],
  ['200 to 300, flush on the left', inLine(200, 0, 300, -50), [100]],
  ['200 to 300, about one axis', inLine(200, 0, 300, 0), [50, 50]],
  ['200, sideways by 60', inLine(200, 0, 200, 60), [60, 60]],
];

describe('jogs smaller than a corner unit', () => {
  it.each(cases)('%s: laid out, each return closed by a post that stands on the face beside it', (_, found, deep) => {
    const laid = layOut(found);
    expect(laid.failures).toEqual([]);
    expect(laid.findings.map((f) => f.code)).toContain('fit.packed-jog');
    const posts = laid.layout.pieces.filter((p) => p.kind === 'timber' && p.covers.length === 2 && p.course === 1);
    const across = posts.map((p) => p.covers[1]!.toMm - p.covers[1]!.fromMm);
    expect(across.sort((a, b) => a - b)).toEqual([...deep]);
    for (const run of laid.plan.runs) {
      const end = run.start.kind === 'jog' ? run.start : run.end;
      if (end.kind !== 'jog') throw new Error('no jog');
      const nearest = Math.min(
        ...laid.layout.ties.filter((t) => t.wall === run.wall).map((t) => Math.abs(t.stationMm - end.leftMm)),
      );
      expect(nearest).toBeLessThanOrEqual(demoCatalogue.overhangMm);
      if (Math.max(end.leftOutMm, end.rightOutMm) > 0) expect(nearest).toBeGreaterThanOrEqual(75);
    }
  });

  it('the return is pushed along the wall with p j, which the line of the face that stands out pulls back', () => {
    const said = layOut(inLine(300, 150, 200, 100)).checked.find(
      (f) => f.code === 'check.in-plane' && f.message.includes('Wall W1 at node N2'),
    )!;
    expect(said.message).toContain('4.3 and 0 kN');
    expect(((P * 100) / 1000).toFixed(1)).toBe('4.3');
  });

  it('the same wall seen from the other side, or turned end for end, costs the same', () => {
    const cost = (found: Foundation) => layOut(found).layout.tiers.map((t) => t.value);
    const plain = cost(inLine(300, 150, 200, 100));
    expect(cost(inLine(300, -150, 200, -100))).toEqual(plain);
    const turned = foundation([
      stretch([7000, 150], [4000, 150], 300, [true, false], 'A'),
      stretch([4000, 100], [0, 100], 200, [false, true], 'B'),
    ]);
    expect(cost(turned)).toEqual(plain);
  });
});

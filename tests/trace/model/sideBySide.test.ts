/** Two walls that stand side by side and are cast as one: what each has by itself is not lost, though the axis of both runs through one of them or none. */

import { describe, expect, it } from 'vitest';
import { box, element, outline, prism, type Ring, sheet } from './byHand.js';
import { codesOf, run } from './run.js';

const plain = element('plain', [prism(box(0, 0, 5000, 200), 0, 2500)]);
/** In elevation, with a window where one is given. */
const beside = (elevation: Ring, window: Ring | null = null, y0 = 200, y1 = 300) => {
  const whole = sheet(elevation, y0, y1);
  return element('beside', [window === null ? whole : { ...whole, outlines: [outline(elevation), outline(window)] }]);
};
const stepped: Ring = [
  [0, 0],
  [5000, 0],
  [5000, 3000],
  [2000, 3000],
  [2000, 2500],
  [0, 2500],
];
const up = (top: number): Ring => box(0, 0, 5000, top);

describe('two walls side by side, cast as one', () => {
  it('a step in the top of the one that the axis misses', () => {
    const r = run([plain, beside(stepped)]);
    expect(r.value.stretches.map((s) => [s.thicknessMm, s.sources])).toEqual([[300, ['beside', 'plain']]]);
    expect(r.value.steps.map((s) => [s.kind, s.at.x, s.riseMm])).toEqual([['top', 2000, 500]]);
    expect(r.findings.find((f) => f.code === 'trace.levels-side-by-side')!.message).toBe(
      'The top of IfcWall beside and of IfcWall plain, which make one wall, are 500 mm apart.',
    );
  });

  it('equally thick ones, whose common face the axis runs in', () => {
    for (const [y0, y1] of [
      [200, 400],
      [-200, 0],
    ] as const)
      expect(run([plain, beside(stepped, null, y0, y1)]).value.steps.map((s) => [s.kind, s.at.x, s.riseMm])).toEqual([
        ['top', 2000, 500],
      ]);
  });

  it('a window in one of them is a recess of the whole; in both it is an opening', () => {
    const window = box(1000, 900, 2000, 2100);
    const one = run([plain, beside(up(2500), window)]);
    expect(one.value.openings).toEqual([]);
    expect(one.findings.filter((f) => f.code === 'trace.recess').map((f) => [f.subject, f.message])).toEqual([
      ['beside', 'A hole in the body of IfcWall beside does not go through: it takes 33 % of the thickness.'],
    ]);
    const holed = { ...sheet(up(2500), 0, 200), outlines: [outline(up(2500)), outline(window)] };
    const both = run([element('plain', [holed]), beside(up(2500), window)]);
    expect(both.value.openings.map((o) => [o.from.x, o.to.x, o.sillMm, o.headMm, o.sources])).toEqual([
      [1000, 2000, 900, 2100, ['beside', 'plain']],
    ]);
    expect(codesOf(both)).not.toContain('trace.recess');
  });

  it('one whose parts cross the axis in turn: those that do not are cut beside it, all by one line', () => {
    const part = (i: number) =>
      prism(box(i * 1000, i % 2 === 0 ? 140 : 200, (i + 1) * 1000, 300), 0, i === 9 ? 3000 : 2500);
    const parts = Array.from({ length: 20 }, (_, i) => part(i));
    const r = run([element('plain', [prism(box(0, 0, 20_000, 200), 0, 2500)]), element('parts', parts)]);
    expect(r.value.stretches.map((s) => [s.thicknessMm, s.sources])).toEqual([[300, ['parts', 'plain']]]);
    expect(r.value.steps.map((s) => [s.kind, s.at.x, s.riseMm])).toEqual([
      ['top', 9000, 500],
      ['top', 10_000, 500],
    ]);
  });
});

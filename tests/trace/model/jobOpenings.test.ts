/** What the job file says of openings of a model: each answer is used once, or said to be of no use. */

import { describe, expect, it } from 'vitest';
import { box, element, opening, outline, prism, sheet } from './byHand.js';
import { run, wallAt } from './run.js';

const answer = (x: number, more: { wallEnds?: boolean; sillMm?: number; headMm?: number; widthMm?: number } = {}) => ({
  near: { x, y: 125 },
  wallEnds: false,
  sillMm: null,
  headMm: null,
  widthMm: null,
  ...more,
});
const seen = (r: ReturnType<typeof run>) => ({
  openings: r.value.openings.map((o) => [o.from.x, o.to.x, o.sillMm, o.headMm]),
  said: r.findings.filter((f) => f.code.startsWith('trace.opening')).map((f) => f.code),
});
/** 900 to 2100 high, from 1000 to 2000 along the wall. */
const window = opening('o', prism(box(1000, -100, 2000, 350), 900, 2100));

describe('answers of the job file about openings of a model', () => {
  it('about a hole that the body has itself: used once, and not said to be far', () => {
    const holed = { ...sheet(box(0, 0, 5000, 2500), 0, 250) };
    const wall = element('w', [{ ...holed, outlines: [...holed.outlines, outline(box(1000, 900, 2000, 2100))] }]);
    expect(seen(run([wall], { openings: [answer(1500, { sillMm: 1000 })] }))).toEqual({
      openings: [[1000, 2000, 1000, 2100]],
      said: [],
    });
    expect(seen(run([wall], { openings: [answer(1500, { sillMm: 1000, widthMm: 1200 })] }))).toEqual({
      openings: [[1000, 2000, 1000, 2100]],
      said: [],
    });
  });

  it('two about one: the nearer holds, the other is said', () => {
    const openings = [answer(2900, { headMm: 1800 }), answer(1500, { headMm: 2000 })];
    const expected = { openings: [[1000, 2000, 900, 2000]], said: ['trace.opening-answered-twice'] };
    expect(seen(run([wallAt('w', 0, { openings: [window] })], { openings }))).toEqual(expected);
    expect(seen(run([wallAt('w', 0, { openings: [window] })], { openings: [...openings].reverse() }))).toEqual(
      expected,
    );
  });

  it('at the end of a wide opening: about it, as far from its side as from any other', () => {
    const wide = opening('o', prism(box(500, -100, 4500, 350), 0, 2100));
    expect(seen(run([wallAt('w', 0, { openings: [wide] })], { openings: [answer(600, { headMm: 2200 })] }))).toEqual({
      openings: [[500, 4500, 0, 2200]],
      said: [],
    });
  });

  it('where the model has a recess: no opening is near, and with a width there is one', () => {
    const recess = opening('o', prism(box(1000, -100, 2000, 100), 900, 2100));
    const wall = wallAt('w', 0, { openings: [recess] });
    expect(seen(run([wall], { openings: [answer(1500, { sillMm: 900, headMm: 2100 })] }))).toEqual({
      openings: [],
      said: ['trace.opening-far'],
    });
    expect(seen(run([wall], { openings: [answer(1500, { sillMm: 900, headMm: 2100, widthMm: 1000 })] }))).toEqual({
      openings: [[1000, 2000, 900, 2100]],
      said: [],
    });
  });

  it('in a break between two walls, beside a window: about the break, and what is joined has both', () => {
    const left = wallAt('left', 0, { openings: [opening('o', prism(box(3800, -100, 4600, 350), 900, 2100))] });
    const right = element('right', [prism(box(6000, 0, 9000, 250), 0, 2500)]);
    const r = run([left, right], { openings: [answer(5400, { headMm: 2000 })] });
    expect(r.value.stretches.map((s) => [s.start.x, s.end.x, s.sources])).toEqual([[0, 9000, ['left', 'right']]]);
    expect(seen(r).openings).toEqual([
      [3800, 4600, 900, 2100],
      [5000, 6000, null, 2000],
    ]);
  });
});

/** Finish views say what the concrete of their own face measures. */

import { expect, it } from 'vitest';
import { curvedDxf, curvedWall } from '../../support/curvedSheet.js';
import { layBytes, textFileOf } from '../../support/lay.js';

it('of a curve tells the length of its own face, and that it is drawn along the outer one', () => {
  const sheet = curvedDxf(
    curvedWall({ centre: { x: 0, y: 0 }, innerMm: 3000, thicknessMm: 200, fromDeg: 0, byDeg: 60 }),
  );
  const outcome = layBytes(sheet, { levels: { footingMm: 0, topMm: 1200 }, output: { sheets: false } });
  const says = textFileOf(outcome, '.forms.dxf').match(/[\d.]+ long.*(?=, \d+ tie marks)/g);
  // By the arcs themselves: 60 degrees at 3000 and at 3200 mm.
  expect(says?.sort()).toEqual(['3141.6 long on this face, drawn along the outer one', '3351 long']);
});

/** Forms of a ring in the written model, as web-ifc reads them back: every corner where circle and chord put it. */

import { describe, expect, it } from 'vitest';
import { curvedDxf, curvedWall } from '../../support/curvedSheet.js';
import { fileOf, layBytes } from '../../support/lay.js';
import { reread } from './reread.js';

const [INNER, THICK, DEPTH] = [3000, 250, 110];
const CENTRE = { x: 1000, y: 2000 };

describe('a ring in the model of the forms', () => {
  it('stands about its centre, panels with both contact edges on their circles, ties from back to back', async () => {
    const marks = curvedWall({ centre: CENTRE, innerMm: INNER, thicknessMm: THICK, fromDeg: 0, byDeg: 360 });
    const outcome = layBytes(curvedDxf(marks), { levels: { footingMm: 0, topMm: 2400 }, output: { ifc: true } });
    const { things } = await reread(fileOf(outcome, '.forms.ifc'));
    const radiiOf = (points: readonly (readonly [number, number, number])[]) =>
      points.map(([x, y]) => Math.hypot(x - CENTRE.x, y - CENTRE.y));
    const panels = things.filter((t) => t.tag?.startsWith('panel-'));
    expect(panels.length).toBeGreaterThan(50);
    for (const panel of panels) {
      const width = Number(panel.tag!.match(/panel-(\d+)x/)![1]);
      const chord = Math.sqrt(INNER ** 2 - (width / 2) ** 2);
      const radii = radiiOf(panel.points);
      const isInner = Math.max(...radii) < INNER + THICK / 2;
      const contact = isInner ? chord : chord + THICK;
      const back = isInner ? contact - DEPTH : contact + DEPTH;
      const corner = (r: number) => Math.hypot(r, width / 2);
      for (const r of radii)
        expect(Math.min(Math.abs(r - corner(contact)), Math.abs(r - corner(back)))).toBeLessThan(0.1);
      if (isInner) expect(corner(contact)).toBeCloseTo(INNER, 6);
    }
    const ties = things.filter((t) => t.sets.Shutterwright_Tie);
    expect(ties.length).toBe(panels.length * 4);
    for (const tie of ties) {
      const xs = tie.points.map(([x, y]) => [x, y] as const);
      const longest = Math.max(...xs.map(([x, y]) => Math.hypot(x - xs[0]![0], y - xs[0]![1])));
      expect(Math.abs(longest - (THICK + 2 * DEPTH))).toBeLessThan(1);
    }
    const clamps = things.filter((t) => t.sets.Shutterwright_Clamps);
    expect(clamps.length).toBe(panels.length);
    for (const set of clamps)
      for (const r of radiiOf(set.points))
        expect(Math.min(Math.abs(r - INNER + DEPTH), Math.abs(r - INNER - THICK - DEPTH))).toBeLessThan(30);
    const [wall] = things.filter((t) => t.type === 'IFCWALL');
    const radii = radiiOf(wall!.points);
    expect(Math.min(...radii)).toBeGreaterThan(INNER - 0.6);
    expect(Math.max(...radii)).toBeLessThan(INNER + THICK + 0.1);
  });
});

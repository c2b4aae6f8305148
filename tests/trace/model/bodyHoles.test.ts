/** Holes that bodies have themselves: none is lost. */

import { describe, expect, it } from 'vitest';
import { box, element, outline, prism, type Ring, sheet } from './byHand.js';
import { run } from './run.js';

const up = (top: number): Ring => box(0, 0, 5000, top);

describe('a hole that a body has itself', () => {
  const holed = (...holes: Ring[]) => ({
    ...sheet(up(2500), 0, 250),
    outlines: [outline(up(2500)), ...holes.map(outline)],
  });

  it('where it is small, is said at its place, and ties keep clear of it over the whole thickness', () => {
    const r = run([element('w', [holed(box(1000, 900, 1150, 1100), box(3000, 400, 3100, 500))])]);
    expect(r.value.openings).toEqual([]);
    expect(r.findings.filter((f) => f.code === 'trace.opening-small').map((f) => [f.subject, f.at, f.message])).toEqual(
      [
        ['w', [1075, 125, 900], 'A hole in the body of IfcWall w is 150 by 200 mm.'],
        ['w', [3050, 125, 400], 'A hole in the body of IfcWall w is 100 by 100 mm.'],
      ],
    );
    const [hole, ...more] = r.value.model!.obstacles;
    expect([hole!.id, hole!.what, more.length]).toEqual(['w', 'hole in wall', 0]);
    const reach = (key: 'x' | 'y' | 'z') => [...new Set(hole!.points.map((p) => p[key]))].sort((a, b) => a - b);
    expect([reach('x'), reach('y'), reach('z')]).toEqual([
      [1000, 1150, 3000, 3100],
      [0, 250],
      [400, 500, 900, 1100],
    ]);
    const outlines = r.value.model!.outlines.filter((o) => o.kind === 'obstacle');
    expect(outlines.map((o) => o.rings.map((ring) => ring.map((p) => p.x)))).toEqual([
      [
        [1000, 1150, 1150, 1000],
        [3000, 3100, 3100, 3000],
      ],
    ]);
  });

  it('a recess that the body has itself, deeper than its middle, is no opening', () => {
    const deep = {
      kind: 'difference' as const,
      first: prism(box(0, 0, 5000, 200), 0, 2500),
      second: prism(box(1000, -50, 2000, 150), 900, 2100),
    };
    const r = run([element('w', [deep])]);
    expect(r.value.openings).toEqual([]);
    expect(r.findings.find((f) => f.code === 'trace.recess')!.message).toContain('75 % of the thickness');
  });
});

/** Layered walls whose solids do not say which layer they are. */

import { describe, expect, it } from 'vitest';
import type { ModelMaterial } from '../../../src/ground/vocabulary.js';
import { box, element, prism } from './byHand.js';
import { codesOf, run } from './run.js';

const layer = (name: string, thicknessMm: number): ModelMaterial => ({ name, category: null, thicknessMm });
/** Solids across from y = 0, as thick as given, in an order of the file. */
const wall = (thick: readonly number[], fileOrder: readonly number[], materials: readonly ModelMaterial[]) => {
  const solids = thick.map((t, i) => {
    const y = thick.slice(0, i).reduce((a, b) => a + b, 0);
    return prism(box(0, y, 5000, y + t), 0, 2500);
  });
  return element(
    'w',
    fileOrder.map((i) => solids[i]!),
    { materials, typeName: null },
  );
};
const placesOf = (r: ReturnType<typeof run>) =>
  r.value.stretches.map((s) => [Math.round(s.start.y), Math.round(s.thicknessMm)]);
const CONCRETE = (t: number) => layer('Concrete C30', t);
const FOAM = (t: number) => layer('Insulation XPS', t);

describe('layers without styles', () => {
  it('thicknesses tell, in whatever order the solids stand', () => {
    for (const order of [
      [0, 1],
      [1, 0],
    ]) {
      const r = run([wall([200, 100], order, [CONCRETE(200), FOAM(100)])]);
      expect(placesOf(r)).toEqual([[100, 200]]);
      expect(codesOf(r)).toContain('trace.layers-left-out');
    }
  });

  it('a sandwich is two walls of concrete', () => {
    const r = run([wall([150, 100, 150], [0, 1, 2], [CONCRETE(150), FOAM(100), CONCRETE(150)])]);
    expect(placesOf(r)).toEqual([
      [75, 150],
      [325, 150],
    ]);
  });

  it('of equal thicknesses the order across tells, either way round', () => {
    const layers = [FOAM(100), CONCRETE(100), layer('Brick', 200)];
    expect(placesOf(run([wall([100, 100, 200], [2, 0, 1], layers)]))).toEqual([[150, 100]]);
    expect(placesOf(run([wall([200, 100, 100], [0, 1, 2], layers)]))).toEqual([[250, 100]]);
  });

  it('where nothing tells it is a failure, and no one body is spoken of', () => {
    const r = run([wall([150, 150], [0, 1], [CONCRETE(150), FOAM(150)])]);
    const f = r.findings.find((x) => x.code === 'trace.layers-unclear')!;
    expect([f.severity, f.subject, f.message]).toEqual([
      'failure',
      'w',
      'IfcWall w has 2 bodies, and nothing tells which of them are concrete and which are Insulation XPS.',
    ]);
    expect(codesOf(r)).not.toContain('trace.layers-in-one');
  });
});

/** Bodies of openings and of footings that are of no use: said, whatever else there is of them. */

import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../../src/ground/vocabulary.js';
import { body, box, element, mesh, opening, prism } from './byHand.js';
import { run, wallAt } from './run.js';

const bad = { ...prism(box(0, 0, 1, 1), 0, 1), depthMm: Number.NaN };
/** One of its long sides is missing. */
const open = (m: Mesh): Mesh => ({ ...m, faces: m.faces.filter((_, i) => i !== 2) });
const saidOf = (r: ReturnType<typeof run>, code: string) =>
  r.findings.filter((f) => f.code === code).map((f) => [f.severity, f.subject, f.message, f.assumed]);

describe('bodies that are of no use', () => {
  it('some of an opening: the others are placed, and it is said', () => {
    const good = [500, 2000].map((x) => body(prism(box(x, -100, x + 800, 350), 900, 1700)));
    for (const useless of [body(bad), body(prism(box(3500, -100, 3500, 350), 900, 1700))]) {
      const o = { ...opening('o', bad, { name: 'Windows' }), body: [...good, useless] };
      const r = run([wallAt('w', 0, { openings: [o] })]);
      expect(r.value.openings.map((x) => x.from.x)).toEqual([500, 2000]);
      expect(saidOf(r, 'trace.opening-not-placed')).toEqual([
        ['attention', 'o', 'Of the bodies of Windows (o) in IfcWall w 1 cannot be used.', 'the rest is all of it'],
      ]);
    }
  });

  it('an opening whose faces do not close', () => {
    const r = run([wallAt('w', 0, { openings: [opening('o', open(mesh(box(1000, -100, 2000, 350), 900, 2100)))] })]);
    expect(saidOf(r, 'trace.body-open')).toEqual([
      [
        'attention',
        'o',
        'Opening o in IfcWall w: the faces of this opening do not close.',
        'what is missing is straight',
      ],
    ]);
  });

  it('a footing in part, and one whose faces do not close', () => {
    const footing = (id: string, bodies: Parameters<typeof element>[1]) =>
      element(id, bodies, { kind: 'footing', entity: 'IfcFooting' });
    const r = run([
      wallAt('w', 0),
      footing('part', [prism(box(-200, -200, 2500, 450), -300, 0), bad]),
      footing('open', [open(mesh(box(2500, -200, 5200, 450), -300, 0))]),
    ]);
    expect(saidOf(r, 'trace.body-unusable')).toEqual([
      [
        'attention',
        'part',
        '1 of the bodies of IfcFooting part cannot be used.',
        'walls stand on the rest of it alone',
      ],
    ]);
    expect(saidOf(r, 'trace.body-open').map(([, subject]) => subject)).toEqual(['open']);
  });
});

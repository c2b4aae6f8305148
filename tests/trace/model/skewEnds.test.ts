/** Ends of walls that are not square. */

import { describe, expect, it } from 'vitest';
import { element, prism, type Ring } from './byHand.js';
import { codesOf, run, wallAt } from './run.js';

const endsOf = (ring: Ring) => {
  const r = run([element('w', [prism(ring, 0, 2500)])]);
  const f = r.findings.filter((x) => x.code === 'trace.skew-end');
  return [
    r.value.stretches.map((s) => [s.start.x, Math.round(s.end.x * 100) / 100]),
    f.map((x) => [x.subject, x.message]),
  ];
};

describe('ends of walls', () => {
  it('a chamfered end and one cut aslant are squared at the longer face, and said of the element', () => {
    const text = 'IfcWall w ends aslant: one face runs 100 mm past the other.';
    const chamfer: Ring = [
      [0, 0],
      [5000, 0],
      [5000, 100],
      [4900, 200],
      [0, 200],
    ];
    expect(endsOf(chamfer)).toEqual([[[0, 5000]], [['w', text]]]);
    const aslant: Ring = [
      [0, 0],
      [5000, 0],
      [4900, 200],
      [0, 200],
    ];
    expect(endsOf(aslant)).toEqual([[[0, 5000]], [['w', text]]]);
    const nose: Ring = [
      [0, 0],
      [4900, 0],
      [5000, 100],
      [4900, 200],
      [0, 200],
    ];
    expect(endsOf(nose)).toEqual([[[0, 5000]], [['w', text]]]);
  });

  it('square ends, corners and tees are left as they are', () => {
    const corner: Ring = [
      [0, 0],
      [5000, 0],
      [5000, 3000],
      [4800, 3000],
      [4800, 200],
      [0, 200],
    ];
    for (const elements of [[wallAt('w', 0)], [element('w', [prism(corner, 0, 2500)])]])
      expect(codesOf(run(elements))).not.toContain('trace.skew-end');
  });
});

/** Many findings of one kind: the first ones and how many more. None is counted as less than it is. */

import { describe, expect, it } from 'vitest';
import { finding } from '../../src/ground/findings.js';
import { LISTED_MOST } from '../../src/trace/limits.js';
import { listed } from '../../src/trace/listed.js';
import { box, element, prism } from './model/byHand.js';
import { run } from './model/run.js';

describe('many findings of one kind', () => {
  it('are counted by code and severity: few failures among many others are all listed', () => {
    const many = Array.from({ length: LISTED_MOST + 5 }, (_, i) =>
      finding('trace.footing-missing', `${i}`, { severity: 'attention' }),
    );
    const failures = [1, 2].map((i) => finding('trace.footing-missing', `failure ${i}`, { severity: 'failure' }));
    const all = listed([...many, ...failures]);
    expect(all.slice(0, LISTED_MOST)).toEqual(many.slice(0, LISTED_MOST));
    expect(all[LISTED_MOST]).toEqual(
      finding('trace.footing-missing', '5 more of this kind.', { severity: 'attention' }),
    );
    expect(all.slice(LISTED_MOST + 1)).toEqual(failures);
    expect(listed(many, (n) => `and ${n}`)[LISTED_MOST]!.message).toBe('and 5');
    expect(listed(many.slice(5))).toEqual(many.slice(5));
  });

  it('a failure after many of less weight is a failure by name in what a model has to say', () => {
    const count = LISTED_MOST + 1;
    const pairs = Array.from({ length: count + 1 }, (_, i) => {
      const [y, top] = [i * 3000, i === count ? 2000 : 2480];
      const id = String(i).padStart(2, '0');
      return [
        element(`a${id}`, [prism(box(0, y, 5000, y + 200), 0, 2500)]),
        element(`b${id}`, [prism(box(0, y + 200, 5000, y + 300), 0, top)]),
      ];
    });
    const said = run(pairs.flat()).findings.filter((f) => f.code === 'trace.levels-side-by-side');
    expect(said.filter((f) => f.severity === 'failure').map((f) => f.message)).toEqual([
      'The top of IfcWall a41 and of IfcWall b41, which make one wall, are 500 mm apart.',
    ]);
    expect(said.filter((f) => f.severity === 'attention').length).toBe(LISTED_MOST + 1);
    expect(said.filter((f) => f.message === '1 more of this kind.').map((f) => f.severity)).toEqual(['attention']);
  });
});

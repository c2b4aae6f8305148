/** Walls whose shape the engine made flat triangles of: never laid out without a word. */

import { describe, expect, it } from 'vitest';
import { box, element, mesh } from './byHand.js';
import { codesOf, run } from './run.js';

const wallFrom = (from: 'engine' | 'faces') => {
  const wall = element('w1', [mesh(box(0, 0, 6000, 250), 0, 2400)]);
  return run([{ ...wall, body: wall.body.map((b) => ({ ...b, from })) }]);
};

describe('a wall in triangles', () => {
  it('of the engine is a failure that names it', () => {
    const { findings, value } = wallFrom('engine');
    expect(value.stretches).toHaveLength(1);
    const [found, ...more] = findings.filter((f) => f.code === 'trace.body-in-triangles');
    expect(more).toEqual([]);
    expect(found).toMatchObject({ severity: 'failure', subject: 'w1' });
  });

  it('that stands so in the file is none', () => {
    expect(codesOf(wallFrom('faces'))).not.toContain('trace.body-in-triangles');
  });
});

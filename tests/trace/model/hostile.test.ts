/** Input that nobody should send. */

import { describe, expect, it } from 'vitest';
import type { Solid } from '../../../src/ground/vocabulary.js';
import { body, box, element, mesh, prism } from './byHand.js';
import { run, takenOf, wallAt } from './run.js';

describe('input that nobody should send', () => {
  const nan = Number.NaN;
  const hostile: Record<string, Solid> = {
    'numbers that are none': { ...prism(box(0, 0, 5000, 250), 0, 2500), depthMm: nan },
    'no outline': { ...prism(box(0, 0, 5000, 250), 0, 2500), outlines: [] },
    'an empty outline': { ...prism(box(0, 0, 5000, 250), 0, 2500), outlines: [[]] },
    'no height': prism(box(0, 0, 5000, 250), 0, 0),
    'no width': prism(box(0, 0, 5000, 0), 0, 2500),
    'a flat direction': { ...prism(box(0, 0, 5000, 250), 0, 2500), direction: { x: 1, y: 0, z: 0 } },
    'a mesh of nothing': { kind: 'mesh', points: [], faces: [] },
    'faces that point nowhere': { kind: 'mesh', points: [{ x: 0, y: 0, z: 0 }], faces: [[[0, 5, 9]], [[]], []] },
    'infinite points': {
      ...mesh(box(0, 0, 5000, 250), 0, 2500),
      points: mesh(box(0, 0, 5000, 250), 0, 2500).points.map((p) => ({ ...p, x: Infinity })),
    },
    'a half space alone': {
      kind: 'half-space',
      origin: { x: 0, y: 0, z: 0 },
      normal: { x: 0, y: 0, z: 1 },
      boundary: null,
    },
    'all of it cut away': {
      kind: 'difference',
      first: prism(box(0, 0, 5000, 250), 0, 2500),
      second: prism(box(-1, -1, 5001, 251), -1, 2501),
    },
  };
  for (const [what, solid] of Object.entries(hostile))
    it(`${what}: left out with a failure that names it, and the rest is traced`, () => {
      const r = run([element('bad', [solid], { name: 'Bad wall' }), wallAt('good', 3000)]);
      expect(takenOf(r)).toEqual(['good']);
      expect(r.value.stretches.length).toBe(1);
      const f = r.findings.find((x) => x.code === 'trace.body-unusable')!;
      expect([f.severity, f.subject]).toEqual(['failure', 'bad']);
      expect(f.message).toContain('Bad wall (bad)');
    });

  it('a self-crossing profile and far coordinates end in a result', () => {
    const bow = prism(
      [
        [0, 0],
        [5000, 300],
        [5000, 0],
        [0, 300],
      ],
      0,
      2500,
    );
    expect(run([element('bow', [bow])]).findings.length).toBeGreaterThan(0);
    const far = prism(box(1e15, 1e15, 1e15 + 5000, 1e15 + 250), 0, 2500);
    expect(() => run([element('far', [far]), wallAt('w', 0)])).not.toThrow();
    const huge = prism(box(-1e12, -1e12, 1e12, 1e12), 0, 2500);
    expect(() => run([element('huge', [huge]), wallAt('w', 0)])).not.toThrow();
  });

  it('a wall as wide as long is no wall, and that is said', () => {
    const r = run([element('pad', [prism(box(0, 0, 900, 900), 0, 2500)]), wallAt('w', 3000)], {
      takeElements: ['pad', 'w'],
    });
    expect(r.findings.find((f) => f.code === 'trace.wall-not-formed')!.subject).toBe('pad');
  });

  it('a body in good and bad parts: the good ones, and a failure', () => {
    const r = run([
      element('w', [
        body(prism(box(0, 0, 5000, 250), 0, 2500)),
        body({ ...prism(box(0, 0, 1, 1), 0, 1), depthMm: nan }),
      ]),
    ]);
    expect(r.value.stretches.length).toBe(1);
    expect(r.findings.find((f) => f.code === 'trace.body-unusable')!.severity).toBe('failure');
  });
});

/** Walls with one flat base over footings at several levels: what they stand on, go through and hang over. */

import { describe, expect, it } from 'vitest';
import { shape } from '../../../src/shape/index.js';
import { box, element, prism } from './byHand.js';
import { codesOf, run, wallAt } from './run.js';

const footing = (id: string, x0: number, x1: number, top: number, depth = 300) =>
  element(id, [prism(box(x0, -200, x1, 450), top - depth, top)], { kind: 'footing', entity: 'IfcFooting' });
const basesOf = (r: ReturnType<typeof run>) =>
  shape(r.value, { gridMm: 1 }).value.walls.map((w) => w.base.map((b) => [b.toMm, b.levelMm]));
const saidOf = (r: ReturnType<typeof run>, code: string) =>
  r.findings.filter((f) => f.code === code).map((f) => [f.severity, f.subject, f.message]);

describe('flat walls on stepped footings', () => {
  it('over a footing that it goes through a wall begins on that footing', () => {
    const r = run([footing('high', -200, 2000, 0), footing('low', 2000, 5200, -600), wallAt('w', 0, {}, -600)]);
    expect(basesOf(r)).toEqual([
      [
        [2000, 0],
        [5000, -600],
      ],
    ]);
    expect(saidOf(r, 'trace.footing-reached-into')).toEqual([
      ['attention', 'w', 'IfcWall w goes through IfcFooting high, down to -600 under its underside at -300.'],
    ]);
  });

  it('three steps, and a raft that is passed', () => {
    const feet = [footing('a', -200, 1500, 0), footing('b', 1500, 3000, -400), footing('c', 3000, 5200, -800)];
    expect(basesOf(run([...feet, wallAt('w', 0, {}, -1200)]))).toEqual([
      [
        [1500, 0],
        [3000, -400],
        [5000, -800],
      ],
    ]);
    const raft = element('raft', [prism(box(-500, -500, 6000, 3000), -300, 0)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    const passed = run([raft, wallAt('w', 0, {}, -1000)]);
    expect(passed.value.levels.footingMm).toBe(0);
    expect(saidOf(passed, 'trace.footing-reached-into')[0]![0]).toBe('attention');
  });

  it('a footing of two flat tops in one body carries on both', () => {
    const both = element(
      'f',
      [prism(box(-200, -200, 5200, 450), -900, -600), prism(box(-200, -200, 2000, 450), -600, 0)],
      {
        kind: 'footing',
      },
    );
    expect(basesOf(run([both, wallAt('w', 0, {}, -600)]))).toEqual([
      [
        [2000, 0],
        [5000, -600],
      ],
    ]);
  });

  it('a wall that hangs over the lower footing is a failure there, and its base stays', () => {
    const r = run([footing('high', -200, 2000, 0), footing('low', 2000, 5200, -600), wallAt('w', 0)]);
    expect(basesOf(r)).toEqual([[[5000, 0]]]);
    expect(saidOf(r, 'trace.footing-missing')).toEqual([
      [
        'failure',
        'w',
        'IfcWall w hangs 600 mm over IfcFooting low over 3000 mm of its length: concrete would run out under the forms.',
      ],
    ]);
    expect(r.findings.find((f) => f.code === 'trace.footing-missing')!.at).toEqual([3500, 125, 0]);
  });

  it('between two caps nothing carries the wall; a short end beyond its footing is none', () => {
    const r = run([footing('a', -200, 500, 0), footing('b', 4500, 4800, 0), wallAt('w', 0)]);
    expect(
      saidOf(r, 'trace.footing-missing').map(([severity, , text]) => [severity, /over (\d+) mm/.exec(text!)![1]]),
    ).toEqual([['attention', '4000']]);
    expect(codesOf(run([footing('a', -200, 5200, 0), wallAt('w', 0)]))).not.toContain('trace.footing-missing');
  });

  it('a strip high in a basement wall does not lift the wall; that is a failure', () => {
    const raft = element('raft', [prism(box(-500, -500, 6000, 3000), -3300, -3000)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    const r = run([raft, footing('porch', 1000, 1600, -800), wallAt('w', 0, {}, -3000, 0)]);
    expect(basesOf(r)).toEqual([[[5000, -3000]]]);
    expect(saidOf(r, 'trace.footing-in-wall')).toEqual([
      ['failure', 'w', 'IfcFooting porch, from level -1100 to -800, lies within IfcWall w, which begins at -3000.'],
    ]);
  });

  it('a slab in one of two walls side by side is no base of both', () => {
    const slab = element('s', [prism(box(0, 260, 5000, 3000), -1000, -750)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    const r = run([slab, wallAt('pit', 0, {}, -1400, 0), wallAt('lean', 250, {}, -1400, 0)]);
    expect(basesOf(r)).toEqual([[[5000, -1400]]]);
    expect(saidOf(r, 'trace.footing-in-wall').map(([severity, subject]) => [severity, subject])).toEqual([
      ['failure', 'lean'],
    ]);
  });

  it('a kicker in the wall’s own body stands on the footing: there is no gap under it', () => {
    const kicker = (low: number) =>
      element('w', [prism(box(0, 0, 5000, 250), 150, 2500), prism(box(0, -150, 5000, 400), low, 150)]);
    const r = run([footing('f', -200, 5200, 0), kicker(0)]);
    expect([r.value.levels.footingMm, codesOf(r).includes('trace.wall-foot')]).toEqual([150, true]);
    expect(codesOf(r)).not.toContain('trace.footing-gap');
    expect(codesOf(run([footing('f', -200, 5200, 0), kicker(50)]))).toContain('trace.footing-gap');
  });
});

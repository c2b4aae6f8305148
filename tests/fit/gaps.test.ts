/** Openings from footing to top: the wall ends at both jambs, and the forms of the two ends share the room between them. */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import type { Foundation } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { roomStretches, sceneOf } from '../check/support.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';

const roomWithGap = (fromMm: number, toMm: number) => {
  const foundation: Foundation = {
    lengthUnit: 'mm',
    stretches: roomStretches(4000, 3000, 200),
    faceLines: [],
    ...NOTHING_ELSE,
    levels: { footingMm: 0, topMm: 2350, footingFrom: 'job', topFrom: 'job' },
    levelsAt: [],
    openings: [
      {
        from: { x: fromMm, y: -100 },
        to: { x: toMm, y: -100 },
        thicknessMm: 200,
        kind: 'door',
        sillMm: 0,
        headMm: null,
        sources: ['A1'],
      },
    ],
  };
  const shaped = shape(foundation, { gridMm: 1 });
  const scene = sceneOf(shaped.value);
  const { findings } = check(scene);
  const failures = [...shaped.findings, ...scene.fitFindings, ...findings].filter((f) => f.severity === 'failure');
  /** World x of what stands on the lower long wall. */
  const spans = scene.layout.pieces
    .filter((p) => p.kind === 'panel' || p.kind === 'filler')
    .flatMap((p) => p.covers)
    .flatMap((c) => {
      const face = shaped.value.faces.find((f) => f.id === c.face)!;
      const wall = shaped.value.walls.find((w) => w.id === face.wall)!;
      const isLower = Math.abs(wall.start.y + 100) < 1 && Math.abs(wall.end.y + 100) < 1;
      return isLower ? [[wall.start.x + c.fromMm, wall.start.x + c.toMm] as const] : [];
    });
  return { failures, spans, scene };
};

describe('an opening without concrete over and under it', () => {
  // Free ends as in any wall: at least a bulkhead of 50 and 50 to fix it, so 100 past each jamb, and no further than the middle.
  it.each([
    ['1000 wide', 1500, 2500],
    ['400 wide', 1500, 1900],
    ['400 wide, elsewhere', 2237, 2637],
  ])('%s ends the forms at both jambs', (_, fromMm, toMm) => {
    const { failures, spans, scene } = roomWithGap(fromMm, toMm);
    expect(failures.map((f) => f.message)).toEqual([]);
    expect(scene.layout.pieces.filter((p) => p.kind === 'bulkhead')).toHaveLength(2);
    const middle = (fromMm + toMm) / 2;
    for (const [a, b] of spans) expect(a >= middle || b <= middle, `${a} to ${b}`).toBe(true);
    const last = Math.max(...spans.filter(([, b]) => b <= middle).map(([, b]) => b));
    const first = Math.min(...spans.filter(([a]) => a >= middle).map(([a]) => a));
    expect(last).toBeGreaterThanOrEqual(fromMm + 100);
    expect(first).toBeLessThanOrEqual(toMm - 100);
  });

  it('250 wide has forms that run through, and no tie within', () => {
    const { failures, spans, scene } = roomWithGap(1500, 1750);
    expect(failures.map((f) => f.message)).toEqual([]);
    expect(spans.some(([a, b]) => a < 1625 && b > 1625)).toBe(true);
    const { openings, walls } = scene.plan;
    const { fromMm, toMm, wall } = openings[0]!;
    expect(walls.some((w) => w.id === wall)).toBe(true);
    expect(
      scene.layout.ties.filter((t) => t.wall === wall && t.stationMm > fromMm - 81 && t.stationMm < toMm + 81),
    ).toEqual([]);
  });
});

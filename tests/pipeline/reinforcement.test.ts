/** Bars of the job file and of a model through the whole chain: ties are laid out clear of them, and what cannot be is a failure. */

import { describe, expect, it } from 'vitest';
import { pointAlong } from '../../src/ground/plane.js';
import { segmentDistance } from '../../src/ground/space.js';
import { cornerHouseModel, ifcText } from '../support/houseModel.js';
import { laidOut, layFile, laySheet } from '../support/lay.js';
import { cornerHouse } from '../support/scenes.js';

const JOB = {
  levels: { footingMm: 0, topMm: 2350 },
  concrete: { rateMPerH: 1.5, temperatureC: 15 },
  catalogue: 'demo',
};
const verticals = { diameterMm: 16, spacingMm: 200, firstMm: 100, coverMm: 40 };
const clashes = (o: ReturnType<typeof laidOut>) =>
  o.result.findings.filter((f) => f.code === 'check.tie-bar' || f.code === 'check.tie-obstacle');

describe('bars of the job file', () => {
  const free = laidOut(laySheet(cornerHouse, JOB));
  const heeded = laidOut(laySheet(cornerHouse, { ...JOB, reinforcement: { verticals } }));

  it('are missed by every tie, by the distance that is wanted, worked out here anew', () => {
    const { plan, layout, catalogue } = heeded.result;
    expect(layout.ties.length).toBeGreaterThan(200);
    for (const tie of layout.ties) {
      const diameter = catalogue.ties.find((t) => t.id === tie.item)!.diameterMm;
      const past = (((tie.stationMm - 100) % 200) + 200) % 200;
      const away = Math.min(past, 200 - past);
      if (!tie.outsideConcrete)
        expect(away, `${tie.id} at ${tie.stationMm} of ${tie.wall}`).toBeGreaterThanOrEqual(
          (diameter + 1.1 * 16) / 2 + 20 - 1e-6,
        );
      expect(plan.walls.some((w) => w.id === tie.wall)).toBe(true);
    }
    expect(clashes(heeded)).toEqual([]);
  });

  it('that nobody heeded would be met', () => {
    const met = free.result.layout.ties.filter((t) => {
      const past = (((t.stationMm - 100) % 200) + 200) % 200;
      return Math.min(past, 200 - past) < 8 + 6;
    });
    expect(met.length).toBeGreaterThan(0);
  });

  it('horizontal ones at the level of a row fail the row, and miss it a little higher', () => {
    const level = free.result.layout.ties[0]!.levelMm;
    const lay = (firstMm: number) =>
      laidOut(
        laySheet(cornerHouse, { ...JOB, reinforcement: { horizontals: { diameterMm: 12, spacingMm: 5000, firstMm } } }),
      );
    const hit = clashes(lay(level));
    expect(hit.length).toBeGreaterThan(0);
    expect(hit.every((f) => f.message.startsWith('Every tie of row 1'))).toBe(true);
    expect(clashes(lay(level + 100))).toEqual([]);
  });

  it('are checked by the schema: no spacing, no bars', () => {
    expect(() => laySheet(cornerHouse, { ...JOB, reinforcement: { verticals: { diameterMm: 16 } } })).toThrow(
      /spacingMm/,
    );
  });
});

describe('bars and sleeves of a model', () => {
  it('are missed where another hole can be used', async () => {
    const free = laidOut(await layFile(new TextEncoder().encode(ifcText(cornerHouseModel)), JOB, 'house.ifc'));
    const wall = free.result.plan.walls.find((w) => w.lengthMm > 6000)!;
    const tie = free.result.layout.ties.filter((t) => t.wall === wall.id)[8]!;
    const at = pointAlong(wall.start, wall.end, tie.stationMm, 60);
    const bars = [{ name: 'V16', diameterMm: 16, path: [0, 2300].map((z) => [at.x, at.y, z] as const) }];
    const model = ifcText({ ...cornerHouseModel, bars });
    const heeded = laidOut(await layFile(new TextEncoder().encode(model), JOB, 'house.ifc'));
    expect(clashes(heeded)).toEqual([]);
    expect(heeded.result.foundation.model!.bars).toHaveLength(1);
    const bar = { from: { x: at.x, y: at.y, z: 0 }, to: { x: at.x, y: at.y, z: 2300 } };
    const away = heeded.result.layout.ties
      .filter((t) => t.wall === wall.id)
      .map((t) => {
        const face = (side: 1 | -1) => ({
          ...pointAlong(wall.start, wall.end, t.stationMm, (side * wall.thicknessMm) / 2),
          z: t.levelMm,
        });
        return segmentDistance({ from: face(1), to: face(-1) }, bar);
      });
    expect(Math.min(...away)).toBeGreaterThanOrEqual(8.8 + 20);
  });
});

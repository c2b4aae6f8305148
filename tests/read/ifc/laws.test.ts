/** The same building in every unit and schema, shifted and turned, gives the same solids. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../src/ground/vocabulary.js';
import { AT_ORIGIN, type Building, buildingText, bytesOf, UNITS, type WallBox } from '../../support/models/building.js';
import { cornersOf } from '../../support/solids.js';
import { readModel } from './models.js';

const SEED = Number(process.env.FC_SEED ?? 20260101);

const size = (min: number, max: number) => fc.integer({ min, max });
const angle = fc.integer({ min: 0, max: 359 }).map((deg) => (deg * Math.PI) / 180);

const wall: fc.Arbitrary<WallBox> = fc.record({
  x: size(-20_000, 20_000),
  y: size(-20_000, 20_000),
  z: size(-5_000, 5_000),
  angleRad: angle,
  lengthMm: size(300, 20_000),
  thicknessMm: size(100, 1_000),
  heightMm: size(200, 6_000),
});

const site = fc.record({ x: size(-1e8, 1e8), y: size(-1e8, 1e8), z: size(-1e6, 1e6), angleRad: angle });

const turn = (p: { x: number; y: number }, a: number) => ({
  x: p.x * Math.cos(a) - p.y * Math.sin(a),
  y: p.x * Math.sin(a) + p.y * Math.cos(a),
});

/** Corners of a wall as they must come out, world axes, mm. */
const expectedCorners = (box: WallBox, at: Building['site']): Vec3[] =>
  [0, 1].flatMap((up) =>
    [0, 1].flatMap((along) =>
      [0, 1].map((across) => {
        const own = turn({ x: along * box.lengthMm, y: across * box.thicknessMm }, box.angleRad);
        const p = turn({ x: own.x + box.x, y: own.y + box.y }, at.angleRad);
        return { x: p.x + at.x, y: p.y + at.y, z: box.z + at.z + up * box.heightMm };
      }),
    ),
  );

const nearest = (p: Vec3, points: readonly Vec3[]): number =>
  Math.min(...points.map((q) => Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z)));

const holds = (building: Building): void => {
  const { model, findings } = readModel(bytesOf(buildingText(building)));
  expect(model.unit.mmPerUnit).toBeCloseTo(building.mmPerUnit, 9);
  expect(model.elements.length).toBe(building.walls.length);
  expect(findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
  for (const [i, box] of building.walls.entries()) {
    const element = model.elements.find(({ line }) => line === 100 + 20 * i)!;
    expect(element.storey).toBe(model.storeys[0]!.id);
    const corners = element.body.flatMap(({ solid }) => cornersOf(solid));
    expect(corners.length).toBe(8);
    for (const p of expectedCorners(box, building.site)) expect(nearest(p, corners)).toBeLessThan(1e-3);
  }
};

describe('the same building', () => {
  for (const schema of ['IFC2X3', 'IFC4', 'IFC4X3_ADD2', 'IFC4X3']) {
    for (const unit of Object.keys(UNITS)) {
      it(`in ${schema}, ${unit}`, () => {
        fc.assert(
          fc.property(fc.array(wall, { minLength: 1, maxLength: 4 }), site, (walls, at) =>
            holds({ schema, ...UNITS[unit]!, site: at, walls }),
          ),
          { seed: SEED, numRuns: 8 },
        );
      });
    }
  }

  it('twice gives the same model', () => {
    const text = buildingText({
      schema: 'IFC4',
      ...UNITS.foot!,
      site: AT_ORIGIN,
      walls: [{ x: 0, y: 0, z: 0, angleRad: 0.3, lengthMm: 3000, thicknessMm: 250, heightMm: 2500 }],
    });
    expect(readModel(bytesOf(text))).toEqual(readModel(bytesOf(text)));
  });

  it('with its instances in another order gives the same model', () => {
    const text = buildingText({
      schema: 'IFC4',
      ...UNITS.inch!,
      site: AT_ORIGIN,
      walls: [{ x: 0, y: 0, z: 0, angleRad: 0.3, lengthMm: 3000, thicknessMm: 250, heightMm: 2500 }],
    });
    const lines = text.split('\n');
    const isInstance = (line: string): boolean => line.startsWith('#');
    const turned = [...lines].filter(isInstance).reverse();
    const shuffled = lines.map((line) => (isInstance(line) ? turned.shift()! : line)).join('\n');
    expect(readModel(bytesOf(shuffled))).toEqual(readModel(bytesOf(text)));
  });
});

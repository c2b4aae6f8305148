/** Whatever stands in a model, tracing ends in a result of real numbers, the same in any order of elements. The seed is fixed, or FC_SEED. */

import { describe, expect, it } from 'vitest';
import type { Mesh, Solid, Vec3 } from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { traceModel } from '../../../src/trace/model/index.js';
import {
  box,
  element,
  mesh,
  model,
  movedSolid,
  OPTIONS,
  opening,
  outline,
  prism,
  type Ring,
  sheet,
  upright,
} from './byHand.js';

/** Lehmer's generator (Park and Miller, 1988): the same numbers on every machine. */
const generator = (seed: number) => {
  let state = (Math.abs(seed) % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
};

const ODD = [0, 1, -1, 1e-9, 1e9, -1e9, Number.NaN, Infinity, 300, 2500];
const NORMALS: readonly Vec3[] = [
  { x: 0, y: 0, z: 1 },
  { x: 0, y: 0, z: -1 },
  { x: 0.6, y: 0, z: 0.8 },
  { x: 1, y: 0, z: 0 },
  { x: 0, y: 0, z: 0 },
];

const maker = (random: () => number) => {
  const whole = (a: number, b: number) => Math.round(a + random() * (b - a));
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const place = () => (random() < 0.04 ? pick(ODD) : whole(-20, 20) * 300);
  const ring = (): Ring =>
    random() < 0.6
      ? box(place(), place(), place(), place())
      : Array.from({ length: whole(0, 8) }, () => [place(), place()] as const);
  const solid = (depth = 0): Solid => {
    const kind = random();
    const base = whole(-3, 3) * 500;
    const top = base + whole(0, 5) * 500;
    if (kind < 0.4) return prism(ring(), base, top);
    if (kind < 0.5) return sheet(ring(), place(), place());
    if (kind < 0.7) {
      const all: Mesh = mesh(ring(), base, top, random() < 0.5);
      return { ...all, faces: all.faces.filter(() => random() > 0.1) };
    }
    if (kind < 0.76 || depth > 3)
      return {
        kind: 'half-space',
        origin: { x: place(), y: place(), z: base },
        normal: pick(NORMALS),
        boundary: random() < 0.5 ? null : { frame: upright(0), outline: outline(ring()) },
      };
    return { kind: pick(['difference', 'union', 'intersection']), first: solid(depth + 1), second: solid(depth + 1) };
  };
  const turned = (s: Solid) => (random() < 0.3 ? movedSolid(s, { x: place(), y: 0, z: 0 }, random() * 6) : s);
  return (id: string) =>
    element(
      id,
      Array.from({ length: whole(0, 2) }, () => turned(solid())),
      {
        kind: pick(['wall', 'wall', 'wall', 'footing', 'slab', 'column', 'service']),
        typeName: pick(['Concrete', null, 'Brick']),
        openings: random() < 0.3 ? [opening(`opening of ${id}`, solid())] : [],
      },
    );
};

describe('any model at all', () => {
  const seed = Number(process.env.FC_SEED ?? 20240229);
  for (let run = 0; run < 8; run++)
    it(`seed ${seed + run}: twenty models`, () => {
      const random = generator(seed + run);
      const make = maker(random);
      for (let k = 0; k < 20; k++) {
        const elements = Array.from({ length: 1 + Math.floor(random() * 12) }, (_, i) => make(`e${i}`));
        const traced = traceModel(model(elements), OPTIONS);
        const text = JSON.stringify(traced);
        // A number that is none would be written as null.
        expect(text).not.toMatch(/"(?:x|y|z|thicknessMm|radiusMm|baseMm|topMm)":null/);
        const { value } = shape(traced.value, { gridMm: 1 });
        for (const wall of value.walls) expect(Number.isFinite(wall.lengthMm)).toBe(true);
        expect(JSON.stringify(traceModel(model([...elements].reverse()), OPTIONS))).toBe(text);
      }
    });
});

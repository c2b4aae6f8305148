/** Solids of walls, footings and slabs against the engine's own tessellation of the same elements: extent, volume, and every vertex on or in our solid. */

import { unzipSync } from 'fflate';
import { describe, expect } from 'vitest';
import type { ModelElement, Solid, Vec3 } from '../../../src/ground/vocabulary.js';
import { cornersOf, depthIn, extentOf, volumeOf } from '../../support/solids.js';
import { sample } from '../samples.js';
import { engine, itWithModels, MODELS, REFUSED, readModel } from './models.js';

/** The engine has float32 coordinates; models are within 100 m of their origin. Arcs are chords on both sides. */
const TOLERANCE_MM = 0.5;

interface Triangles {
  readonly points: readonly Vec3[];
  readonly volume: number;
}

const bytesOf = (file: string): Uint8Array => {
  const bytes = sample(file);
  return file.endsWith('.ifczip') ? Object.values(unzipSync(bytes))[0]! : bytes;
};

/** The engine's mesh of an element, mm and z up. */
const theirs = (model: number, line: number): Triangles => {
  const points: Vec3[] = [];
  let six = 0;
  engine.StreamMeshes(model, [line], (mesh) => {
    for (let i = 0; i < mesh.geometries.size(); i++) {
      const placed = mesh.geometries.get(i);
      const m = placed.flatTransformation;
      const geometry = engine.GetGeometry(model, placed.geometryExpressID);
      const vertices = engine.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
      const indices = engine.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize());
      const at = (k: number): Vec3 => {
        const [x, y, z] = [vertices[6 * k]!, vertices[6 * k + 1]!, vertices[6 * k + 2]!];
        const row = (r: number): number => 1000 * (m[r]! * x + m[4 + r]! * y + m[8 + r]! * z + m[12 + r]!);
        return { x: row(0), y: -row(2), z: row(1) };
      };
      for (let k = 0; k + 2 < indices.length; k += 3) {
        const [a, b, c] = [at(indices[k]!), at(indices[k + 1]!), at(indices[k + 2]!)];
        points.push(a, b, c);
        six += a.x * (b.y * c.z - b.z * c.y) - a.y * (b.x * c.z - b.z * c.x) + a.z * (b.x * c.y - b.y * c.x);
      }
      geometry.delete();
    }
  });
  return { points, volume: Math.abs(six / 6) };
};

const isMesh = (solid: Solid): boolean => solid.kind === 'mesh';

const hasArc = (solid: Solid): boolean =>
  solid.kind === 'prism' && solid.outlines.some((outline) => outline.some(({ bulge }) => bulge !== 0));

/** Corners of our body that its own clippings leave: a little within the corner there is still material. */
const leftCorners = (element: ModelElement): Vec3[] =>
  element.body.flatMap(({ solid }) => {
    const corners = cornersOf(solid);
    const k = 1 / corners.length;
    const middle = corners.reduce((m, p) => ({ x: m.x + p.x * k, y: m.y + p.y * k, z: m.z + p.z * k }), {
      x: 0,
      y: 0,
      z: 0,
    });
    const towards = (a: number, b: number): number => a + (b - a) * 1e-4;
    return corners.filter(
      (p) =>
        isMesh(solid) ||
        depthIn(solid, { x: towards(p.x, middle.x), y: towards(p.y, middle.y), z: towards(p.z, middle.z) }) > 0,
    );
  });

const WANTED = new Set(['wall', 'footing', 'slab', 'column']);

describe("the engine's meshes", () => {
  let [compared, volumes] = [0, 0];
  for (const file of MODELS.filter((name) => !REFUSED.includes(name) && !name.startsWith('broken'))) {
    itWithModels(`${file}: extents, volumes, vertices`, () => {
      const { model } = readModel(sample(file));
      const handle = engine.OpenModel(bytesOf(file));
      const wrong: string[] = [];
      for (const element of model.elements.filter(({ kind }) => WANTED.has(kind))) {
        if (element.body.some(({ part, from }) => part !== null || from === 'engine')) continue;
        // The engine's circles are polygons of twelve sides.
        if (element.body.some(({ solid }) => hasArc(solid))) continue;
        const mesh = theirs(handle, element.line);
        if (mesh.points.length === 0) continue;
        compared++;
        const say = (what: string): void => {
          wrong.push(`${element.id} '${element.name}' #${element.line}: ${what}`);
        };
        // Their vertices lie on or in our body.
        if (!element.body.some(({ solid }) => isMesh(solid))) {
          const out = Math.min(
            ...mesh.points.map((p) => Math.max(...element.body.map(({ solid }) => depthIn(solid, p)))),
          );
          if (out < -TOLERANCE_MM) say(`vertex ${-out} mm outside`);
        }
        const [ours, them] = [extentOf(leftCorners(element)), extentOf(mesh.points)];
        const cut = element.openings.length > 0;
        for (let i = 0; i < 3; i++) {
          const [low, high] = [them.least[i]! - ours.least[i]!, ours.most[i]! - them.most[i]!];
          // An opening at an edge may take a corner away; nothing adds one.
          if (low > TOLERANCE_MM && !cut) say(`least ${'xyz'[i]} ${low}`);
          if (high > TOLERANCE_MM && !cut) say(`most ${'xyz'[i]} ${high}`);
        }
        const ourVolumes = element.body.map(({ solid }) => volumeOf(solid));
        if (!cut && ourVolumes.every((v) => v !== null)) {
          volumes++;
          const volume = Math.abs(ourVolumes.reduce<number>((sum, v) => sum + v!, 0));
          if (Math.abs(volume - mesh.volume) > 2e-3 * volume + 1e4) say(`volume ${volume} and ${mesh.volume}`);
        }
      }
      engine.CloseModel(handle);
      expect(wrong).toEqual([]);
    });
  }

  itWithModels('were held against many', () => {
    expect(compared).toBeGreaterThan(600);
    expect(volumes).toBeGreaterThan(300);
  });
});

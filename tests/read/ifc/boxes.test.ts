/** Every rectangle extrusion of every sample, against a plain reader of STEP text that shares nothing with the program. */

import { unzipSync } from 'fflate';
import { describe, expect } from 'vitest';
import type { BodySolid, Prism, Solid, Vec3 } from '../../../src/ground/vocabulary.js';
import { Boxes } from '../../support/stepBoxes.js';
import { StepFile } from '../../support/stepText.js';
import { sample } from '../samples.js';
import { itWithModels, MODELS, REFUSED, readModel } from './models.js';

/** Within a millionth of the file's unit. */
const TOLERANCE = 1e-6;

const prismsOf = (solid: Solid): Prism[] =>
  solid.kind === 'prism'
    ? [solid]
    : solid.kind === 'mesh' || solid.kind === 'half-space'
      ? []
      : [...prismsOf(solid.first), ...prismsOf(solid.second)];

/** Corners of a prism's foot, world, file units. */
const foot = ({ frame, outlines }: Prism, k: number): number[][] =>
  outlines[0]!.map(({ x, y }) =>
    (['x', 'y', 'z'] as const).map((i) => (frame.origin[i] + frame.x[i] * x + frame.y[i] * y) / k),
  );

const inSet = (point: readonly number[], set: readonly (readonly number[])[]): boolean =>
  set.some((other) => other.every((v, i) => Math.abs(v - point[i]!) <= TOLERANCE));

const textOfSample = (file: string): string => {
  const bytes = sample(file);
  const inner = file.endsWith('.ifczip') ? Object.values(unzipSync(bytes))[0]! : bytes;
  return new TextDecoder('latin1').decode(inner);
};

const TYPES = [
  'IFCWALL',
  'IFCWALLSTANDARDCASE',
  'IFCFOOTING',
  'IFCSLAB',
  'IFCCOLUMN',
  'IFCBEAM',
  'IFCBUILDINGELEMENTPART',
  'IFCOPENINGELEMENT',
];

describe('rectangle extrusions', () => {
  let boxes = 0;
  for (const file of MODELS.filter((name) => !REFUSED.includes(name))) {
    itWithModels(`${file}: place, axes and sizes`, () => {
      const { model } = readModel(sample(file));
      const step = new StepFile(textOfSample(file));
      const reader = new Boxes(step);
      const k = model.unit.mmPerUnit;
      const byLine = new Map<number, readonly BodySolid[]>();
      const byPart = new Map<string, BodySolid[]>();
      for (const element of model.elements) {
        byLine.set(element.line, element.body);
        for (const opening of element.openings) byLine.set(opening.line, opening.body);
        for (const solid of element.body) {
          if (solid.part !== null) byPart.set(solid.part, [...(byPart.get(solid.part) ?? []), solid]);
        }
      }
      for (const instance of step.of(...TYPES)) {
        const expected = reader.ofProduct(instance);
        if (expected.length === 0) continue;
        // Openings in doors and the like are cut into nothing that is read.
        const body = byLine.get(instance.id) ?? byPart.get(instance.values[0] as string);
        if (body === undefined && instance.type === 'IFCOPENINGELEMENT') continue;
        expect(body, `#${instance.id}`).toBeDefined();
        const prisms = body!.flatMap(({ solid }) => prismsOf(solid));
        for (const { item, corner, edges } of expected) {
          boxes++;
          const corners = [0, 1, 2, 3].map((i) =>
            corner.map((c, j) => c + (i & 1 ? edges[0][j]! : 0) + (i & 2 ? edges[1][j]! : 0)),
          );
          const sweep = (d: Vec3, length: number): number[] => [d.x, d.y, d.z].map((v) => (v * length) / k);
          const match = prisms.find(
            (prism) =>
              prism.outlines.length === 1 &&
              prism.outlines[0]!.length === 4 &&
              foot(prism, k).every((point) => inSet(point, corners)) &&
              inSet(sweep(prism.direction, prism.depthMm), [edges[2]]),
          );
          expect(match, `${file} #${instance.id}, item #${item}`).toBeDefined();
        }
      }
    });
  }

  itWithModels('are many', () => {
    expect(boxes).toBeGreaterThan(800);
  });
});

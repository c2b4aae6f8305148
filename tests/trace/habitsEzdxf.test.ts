/** The same house in several habits of drawing, each written by ezdxf: polylines with width, hatches, multilines, nested blocks. */

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { itWithEzdxf, read, runPython } from '../read/samples.js';
import { OPTIONS } from './plans.js';

const SCRIPT = fileURLToPath(new URL('habits.py', import.meta.url));

/** Outside 8000 by 5000, walls 200 thick, 150 in the middle: between the faces of the walls that they meet. */
const FACES = [
  '100,200 100,4800 t200',
  '200,100 3925,100 t200',
  '200,4900 3925,4900 t200',
  '4000,200 4000,4800 t150',
  '4075,100 7800,100 t200',
  '4075,4900 7800,4900 t200',
  '7900,200 7900,4800 t200',
];
/** Where faces are drawn through behind the stem, the walls are whole. */
const THROUGH = [
  '100,200 100,4800 t200',
  '200,100 7800,100 t200',
  '200,4900 7800,4900 t200',
  '4000,200 4000,4800 t150',
  '7900,200 7900,4800 t200',
];

const drawn = (habit: string) => {
  const folder = mkdtempSync(join(tmpdir(), 'habits-'));
  try {
    const file = join(folder, 'house.dxf');
    runPython([SCRIPT, habit, file]);
    return read(new Uint8Array(readFileSync(file))).drawing;
  } finally {
    rmSync(folder, { recursive: true });
  }
};

describe('a house written by ezdxf', () => {
  for (const [habit, walls] of [
    ['wide', FACES],
    ['hatch', FACES],
    ['hatch-edges', FACES],
    ['mline', THROUGH],
    ['mline-centre', THROUGH],
    ['blocks', FACES],
  ] as const) {
    itWithEzdxf(habit, () => {
      const { value } = trace(drawn(habit), OPTIONS);
      expect(value.lengthUnit).toBe('mm');
      const found = value.stretches.map((s) => `${s.start.x},${s.start.y} ${s.end.x},${s.end.y} t${s.thicknessMm}`);
      expect(found).toEqual(walls);
      const plan = shape(value, { gridMm: 1 }).value;
      expect(plan.nodes.map((n) => n.kind).sort()).toEqual(['corner', 'corner', 'corner', 'corner', 'tee', 'tee']);
    });
  }
});

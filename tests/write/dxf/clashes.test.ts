/** No text of ours lies over another or over the drawing's own, on plan, elevations, sections, details and sheets: of real layouts with corners, tees, strips, braces, steps, openings, pilasters, walls of different tops. */

import { describe, expect, it } from 'vitest';
import { MM_PER } from '../../../src/ground/units.js';
import type { Bounds } from '../../../src/write/dxf/bounds.js';
import { drawingExtents } from '../../../src/write/dxf/extents.js';
import { read } from '../../read/samples.js';
import { clashes } from '../../support/clashes.js';
import { jobBeside, laidOut, layBytes } from '../../support/lay.js';
import { FIXTURES, fixtureFiles } from '../../support/makeFixtures.js';

describe('no text lies over another', () => {
  for (const name of [
    '01-corner-house/corner-house.dxf',
    '02-parallel-lines-in-inches/marlow-cellar.dxf',
    '09-steps-on-a-slope/hillside-store.dxf',
    '12-pilasters/pump-house.dxf',
    '13-walls-of-different-levels/garage-house.dxf',
  ]) {
    it(name, () => {
      const bytes = fixtureFiles[name]!;
      const { result } = laidOut(layBytes(bytes, jobBeside(FIXTURES + name)));
      const mm = MM_PER[result.source.lengthUnit];
      const { bounds, texts } = drawingExtents(read(bytes).drawing.document);
      const inMm = (b: Bounds): Bounds => ({
        minX: b.minX * mm,
        minY: b.minY * mm,
        maxX: b.maxX * mm,
        maxY: b.maxY * mm,
      });
      expect(clashes(result, { bounds: inMm(bounds), texts: texts.map(inMm) })).toEqual([]);
    }, 60_000);
  }
});

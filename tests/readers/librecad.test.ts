/** LibreCAD, a CAD program with a reader of its own (Debian librecad), opens and plots what is written. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { writeDxf } from '../../src/write/dxf/index.js';
import { itNeeds, read, SAMPLES, SAMPLES_NEEDED, sample } from '../read/samples.js';
import { elbow } from '../write/dxf/fixtures.js';
import { plotted } from './plotted.js';

const hasLibreCad = spawnSync('which', ['librecad', 'timeout']).status === 0;
const folder = mkdtempSync(join(tmpdir(), 'forms-'));
afterAll(() => rmSync(folder, { recursive: true }));

const plot = (name: string, bytes: Uint8Array): number => plotted(folder, name, bytes);

const written = (document: Parameters<typeof writeDxf>[1], mode: 'merged' | 'overlay'): Uint8Array => {
  const result = writeDxf(elbow(), document, { mode });
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return result.value;
};

describe('LibreCAD plots', () => {
  itNeeds(hasLibreCad, 'librecad')('the overlay, with more on it than on a sheet with nothing', () => {
    const empty = plot('empty', new TextEncoder().encode('  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n'));
    expect(plot('overlay', written(null, 'overlay'))).toBeGreaterThan(empty + 10_000);
  });

  if (SAMPLES.length === 0)
    itNeeds(false, `librecad and ${SAMPLES_NEEDED}`)('each sample with the layout in it', () => {});
  // LibreCAD does not read binary DXF.
  for (const file of SAMPLES.filter((f) => !f.includes('binary'))) {
    itNeeds(hasLibreCad, 'librecad')(`${file} with the layout in it, with more on it than without`, () => {
      // How much more says little: where LibreCAD finds stray geometry it fits the sheet to that, and the rest is a dot.
      const before = plot(`original-${file}`, sample(file));
      const after = plot(`merged-${file}`, written(read(sample(file)).drawing.document, 'merged'));
      expect(after).toBeGreaterThan(before);
    });
  }
});

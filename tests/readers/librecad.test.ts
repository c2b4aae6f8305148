/** LibreCAD, a CAD program with a reader of its own (Debian librecad), opens and plots what is written. */

import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect } from 'vitest';
import { writeDxf } from '../../src/write/dxf/index.js';
import { itNeeds, read, SAMPLES, SAMPLES_NEEDED, sample } from '../read/samples.js';
import { elbow } from '../write/dxf/fixtures.js';

const hasLibreCad = spawnSync('which', ['librecad', 'timeout']).status === 0;
const folder = mkdtempSync(join(tmpdir(), 'forms-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The drawing with millimetres in its header: LibreCAD 2.2 takes a minute and more to plot two hundred texts of a drawing in metres, in mm a second. */
const inMm = (bytes: Uint8Array): Uint8Array => {
  const text = Buffer.from(bytes).toString('latin1');
  return Buffer.from(text.replace(/(\$INSUNITS\r?\n *70\r?\n *)6(?=\r?\n)/, '$14'), 'latin1');
};

/** Plots a drawing to PDF (from a copy: LibreCAD puts the PDF beside the drawing); gives the size of the PDF, 0 where none came of it. */
const plotted = (name: string, bytes: Uint8Array): number => {
  const [dxf, pdf] = [join(folder, `${name}.dxf`), join(folder, `${name}.pdf`)];
  writeFileSync(dxf, inMm(bytes));
  spawnSync('timeout', ['60', 'librecad', 'dxf2pdf', '-a', dxf], {
    env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' },
  });
  return existsSync(pdf) ? readFileSync(pdf).length : 0;
};

const written = (document: Parameters<typeof writeDxf>[1], mode: 'merged' | 'overlay'): Uint8Array => {
  const result = writeDxf(elbow(), document, { mode });
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return result.value;
};

describe('LibreCAD plots', () => {
  itNeeds(hasLibreCad, 'librecad')('the overlay, with more on it than on a sheet with nothing', () => {
    const empty = plotted('empty', new TextEncoder().encode('  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n'));
    expect(plotted('overlay', written(null, 'overlay'))).toBeGreaterThan(empty + 10_000);
  });

  if (SAMPLES.length === 0)
    itNeeds(false, `librecad and ${SAMPLES_NEEDED}`)('each sample with the layout in it', () => {});
  // LibreCAD does not read binary DXF.
  for (const file of SAMPLES.filter((f) => !f.includes('binary'))) {
    itNeeds(hasLibreCad, 'librecad')(`${file} with the layout in it, with more on it than without`, () => {
      // How much more says little: where LibreCAD finds stray geometry it fits the sheet to that, and the rest is a dot.
      const before = plotted(`original-${file}`, sample(file));
      const after = plotted(`merged-${file}`, written(read(sample(file)).drawing.document, 'merged'));
      expect(after).toBeGreaterThan(before);
    });
  }
});

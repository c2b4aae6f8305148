/** Plots of LibreCAD (Debian librecad), a CAD program with a reader of its own. */

import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** The drawing with millimetres in its header: LibreCAD 2.2 takes a minute and more to plot two hundred texts of a drawing in metres, in mm a second. */
const inMm = (bytes: Uint8Array): Uint8Array => {
  const text = Buffer.from(bytes).toString('latin1');
  return Buffer.from(text.replace(/(\$INSUNITS\r?\n *70\r?\n *)6(?=\r?\n)/, '$14'), 'latin1');
};

/** Plots a drawing to PDF (from a copy: LibreCAD puts the PDF beside the drawing); gives the size of the PDF, 0 where none came of it. */
export const plotted = (folder: string, name: string, bytes: Uint8Array): number => {
  const [dxf, pdf] = [join(folder, `${name}-plot.dxf`), join(folder, `${name}-plot.pdf`)];
  writeFileSync(dxf, inMm(bytes));
  spawnSync('timeout', ['60', 'librecad', 'dxf2pdf', '-a', dxf], {
    env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' },
  });
  return existsSync(pdf) ? readFileSync(pdf).length : 0;
};

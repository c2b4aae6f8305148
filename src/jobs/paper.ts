/** What the papers need from the disk: fonts that may be embedded, the engine that paints, and the date that stands in every PDF. */

import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { PaintKit, PaperKit } from '../pipeline/index.js';

const { resolve } = createRequire(import.meta.url);

/** DejaVu Sans: Latin, Greek, Cyrillic and the signs of the report; its licence lets it be embedded (docs/SOURCES.md). */
const REGULAR = 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf';
const BOLD = 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf';
const ENGINE = '@resvg/resvg-wasm/index_bg.wasm';

/** The same in every file: a PDF made again from the same drawing has the same bytes. */
const DATE = new Date('2000-01-01T00:00:00Z');

const bytesOf = async (path: string): Promise<Uint8Array> => new Uint8Array(await readFile(resolve(path)));

export const paperKit = async (): Promise<PaperKit> => {
  const [regular, bold] = await Promise.all([bytesOf(REGULAR), bytesOf(BOLD)]);
  return { regular, bold, date: DATE };
};

export const paintKit = async (): Promise<PaintKit> => {
  const [engine, ...fonts] = await Promise.all([bytesOf(ENGINE), bytesOf(REGULAR), bytesOf(BOLD)]);
  return { engine, fonts };
};

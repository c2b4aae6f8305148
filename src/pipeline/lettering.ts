/**
 * How high our texts stand in the model space: as the job file says, else as the drawing's dimensions near its walls, else as its texts there, else as those
 * of the whole drawing, else as usual. Of many heights the one that half of the dimensions (or texts) do not exceed.
 */

import { LETTERING_MM } from '../ground/lettering.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type { Catalogue, Drawing, FacePlan, Lettering } from '../ground/vocabulary.js';
import type { Job } from './schema.js';
import type { Origin } from './understand.js';

/** Heights beyond these are no lettering of a plan: less than 2 mm at 1:10, more than 5 mm at 1:500. *Practice, no source.* */
const SANE_MM = [20, 2500] as const;

/** How far round its walls a plan is lettered: this part of its longer side, and at least this. *Practice, no source.* */
const BESIDE = 0.25;
const BESIDE_LEAST_MM = 2000;

/** Fewer texts than this are a title, not the lettering of a plan. *Practice, no source.* */
const TEXTS_LEAST = 3;

interface Written {
  readonly x: number;
  readonly y: number;
  readonly heightMm: number;
}

interface Found {
  readonly from: 'dimensions' | 'texts';
  readonly heightMm: number;
  readonly count: number;
}

const isSane = (heightMm: number): boolean => heightMm >= SANE_MM[0] && heightMm <= SANE_MM[1];

/** Dimensions and texts that are shown, mm, each where it stands. */
const writtenIn = (drawing: Drawing, mmPer: number): { readonly dimensions: Written[]; readonly texts: Written[] } => {
  const hidden = new Set(drawing.layers.filter((l) => !l.visible).map((l) => l.name));
  const shown = <T extends { readonly layer: string }>(items: readonly T[]): T[] =>
    items.filter((i) => !hidden.has(i.layer));
  const sane = (all: readonly Written[]): Written[] => all.filter((w) => isSane(w.heightMm));
  return {
    dimensions: sane(
      shown(drawing.dimensions).map(({ from, to, textHeight }) => ({
        x: ((from.x + to.x) / 2) * mmPer,
        y: ((from.y + to.y) / 2) * mmPer,
        heightMm: (textHeight ?? 0) * mmPer,
      })),
    ),
    texts: sane(
      shown(drawing.texts).map(({ at, height }) => ({ x: at.x * mmPer, y: at.y * mmPer, heightMm: height * mmPer })),
    ),
  };
};

/** Whether a place lies where the plan is lettered: round the walls that were found. */
const nearWalls = ({ walls }: FacePlan): ((w: Written) => boolean) => {
  const points = walls.flatMap((w) => [w.start, w.end]);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    [minX, minY] = [Math.min(minX, x), Math.min(minY, y)];
    [maxX, maxY] = [Math.max(maxX, x), Math.max(maxY, y)];
  }
  const by = Math.max(BESIDE_LEAST_MM, BESIDE * Math.max(maxX - minX, maxY - minY));
  return ({ x, y }) => x >= minX - by && x <= maxX + by && y >= minY - by && y <= maxY + by;
};

/** The lower median, to a hundredth of a mm: what conversion of units leaves makes no other height. */
const median = (from: Found['from'], written: readonly Written[], least: number): Found | null => {
  if (written.length < least) return null;
  const sorted = written.map((w) => w.heightMm).sort((a, b) => a - b);
  const heightMm = Math.round(sorted[Math.floor((sorted.length - 1) / 2)]! * 100) / 100;
  return { from, heightMm, count: written.length };
};

/** What the drawing's own lettering is; null where it has none. */
const foundIn = (origin: Origin, plan: FacePlan, unit: LengthUnit): Found | null => {
  if (origin.kind !== 'dxf') return null;
  const { dimensions, texts } = writtenIn(origin.drawing, MM_PER[unit]);
  const isNear = nearWalls(plan);
  return (
    median('dimensions', dimensions.filter(isNear), 1) ??
    median('texts', texts.filter(isNear), TEXTS_LEAST) ??
    median('dimensions', dimensions, 1) ??
    median('texts', texts, TEXTS_LEAST)
  );
};

/** Height of the drawing's own lettering, or what the job file says instead, mm; null where there is neither. */
export const statedHeightMm = (origin: Origin, plan: FacePlan, unit: LengthUnit, job: Job): number | null =>
  job.output?.textHeightMm ?? foundIn(origin, plan, unit)?.heightMm ?? null;

/** The height that our texts are to take; the writer says what came of it. */
export const letteringOf = (
  origin: Origin,
  plan: FacePlan,
  unit: LengthUnit,
  gear: Catalogue['lengthUnit'],
  job: Job,
): Lettering => {
  const { usual, least, most } = LETTERING_MM;
  const stated = job.output?.textHeightMm;
  const found =
    stated === undefined ? foundIn(origin, plan, unit) : { from: 'job' as const, heightMm: stated, count: 0 };
  if (!found) return { heightMm: usual, from: 'usual', statedMm: null, count: 0 };
  const { from, heightMm: statedMm, count } = found;
  return { heightMm: Math.min(most, Math.max(least[gear], statedMm)), from, statedMm, count };
};

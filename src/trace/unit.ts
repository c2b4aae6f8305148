/**
 * In which unit are the drawing's numbers? Headers lie often, so each unit is scored by evidence: dimension texts against measured
 * lengths, spacing of parallel lines as wall thickness, heights of texts, extent of the linework, and the header itself. The weights
 * are *practice, no source*: a written length outweighs everything, the header outweighs any one of the vague hints.
 */

import { type LengthUnit, MM_PER, plainNumber } from '../ground/units.js';
import type { Drawing, DrawingPath } from '../ground/vocabulary.js';
import { isUsual, pairingOf } from './pairing.js';
import { readDimensions, UNITS } from './unitDimensions.js';
import { doorWidth, notedMatch, twelfthsShare } from './unitSigns.js';

export const UNIT_NAME: Readonly<Record<LengthUnit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
};

const WEIGHT = {
  dimensions: 8,
  thickness: 3,
  noted: 2.5,
  twelfths: 1.5,
  header: 2,
  extent: 1,
  natural: 1,
  beyond: -4,
  texts: 1,
  doors: 1,
  decimals: 2.5,
};
/** Dimensions and thicknesses have to speak at least this much more for another unit than for the header's. */
const HARD_LEAST = 0.5;
/** Extents of buildings and heights of lettering in model space, mm. */
const EXTENT_MM = [1500, 300000] as const;
/** No drawing of one building is smaller or larger than this. */
const EXTENT_LIMIT_MM = [500, 500000] as const;
const LETTER_MM = [40, 800] as const;
const DOOR_MM = [550, 1300] as const;
/** A drawing this small or large belies its header by itself. */
const ABSURD_MM = [300, 5000000] as const;
/** What walls, buildings and lettering most often measure, mm, and how widely (in natural logarithms): decides between units that are all possible. */
const NATURAL = { thickness: [220, 0.6], extent: [12000, 1], letters: [180, 0.7] } as const;

/** 1 at the most natural size, falling to 0 on both sides. */
const naturalness = (mm: number, [usual, width]: readonly [number, number]): number =>
  mm > 0 ? Math.exp(-(Math.log(mm / usual) ** 2) / (2 * width * width)) : 0;

export interface UnitVerdict {
  readonly unit: LengthUnit;
  /** Longer side of the linework in that unit, mm, where it is no size of a building; else null. */
  readonly absurdMm: number | null;
  /** What spoke for it, in words. */
  readonly evidence: readonly string[];
  readonly score: number;
  /** Score of the next unit. */
  readonly nextScore: number;
}

const median = (values: readonly number[]): number | null => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.length === 0 ? null : sorted[Math.floor(sorted.length / 2)]!;
};

/** Longer side of the linework, drawing units. */
const extent = (paths: readonly DrawingPath[]): number => {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (const p of paths) {
    for (const v of p.vertices) {
      box.x0 = Math.min(box.x0, v.x);
      box.y0 = Math.min(box.y0, v.y);
      box.x1 = Math.max(box.x1, v.x);
      box.y1 = Math.max(box.y1, v.y);
    }
  }
  const size = Math.max(box.x1 - box.x0, box.y1 - box.y0);
  return Number.isFinite(size) ? size : 0;
};

const between = (mm: number, range: readonly [number, number]): boolean => mm >= range[0] && mm <= range[1];

/** Scores every unit. `paths` is the linework that may be wall. Ties go to the header's unit, then to the order of UNITS. */
export const inferUnit = (drawing: Drawing, paths: readonly DrawingPath[]): UnitVerdict => {
  const dims = readDimensions(drawing);
  const size = extent(paths);
  const letters = median(drawing.texts.map((t) => t.height).filter((h) => h > 0));
  const door = doorWidth(drawing.paths);
  const judged = UNITS.map((unit) => {
    const evidence: string[] = [];
    let hard = 0;
    let score = 0;
    const fit = dims.telling > 0 ? dims.fits[unit] / dims.telling : 0;
    if (fit > 0) {
      hard += WEIGHT.dimensions * fit * Math.min(1, 0.5 + dims.telling / 8);
      const count = Math.round(dims.fits[unit]);
      evidence.push(`${count} of ${dims.telling} dimension texts fit it, such as ${dims.example[unit]}`);
    }
    const near = pairingOf(paths, unit);
    if (near.share > 0) {
      hard += WEIGHT.thickness * near.share * (isUsual(near.usualMm) ? 1 : 0.4);
      score += WEIGHT.natural * near.share * naturalness(near.usualMm, NATURAL.thickness);
      evidence.push(`parallel lines then stand ${near.usualMm} mm apart, as the faces of a wall do`);
    }
    const noted = notedMatch(drawing.texts, near.commonMm, unit);
    if (noted) {
      hard += WEIGHT.noted * noted.share;
      evidence.push(`that is what the note "${noted.text}" says`);
    }
    const twelfths = twelfthsShare(paths, unit);
    if (twelfths > 0) {
      hard += WEIGHT.twelfths * twelfths;
      evidence.push('lengths are then whole inches');
    }
    if (size > 0 && !between(size * MM_PER[unit], ABSURD_MM)) hard += WEIGHT.beyond;
    score += WEIGHT.natural * naturalness(size * MM_PER[unit], NATURAL.extent);
    if (letters !== null) score += WEIGHT.natural * naturalness(letters * MM_PER[unit], NATURAL.letters);
    if (door !== null && between(door * MM_PER[unit], DOOR_MM)) {
      score += WEIGHT.doors;
      evidence.push(`doors are then ${plainNumber(door * MM_PER[unit], 0)} mm wide`);
    }
    if (between(size * MM_PER[unit], EXTENT_MM)) {
      score += WEIGHT.extent;
      evidence.push(`the linework then measures ${plainNumber((size * MM_PER[unit]) / 1000, 2)} m`);
    }
    if (!between(size * MM_PER[unit], EXTENT_LIMIT_MM)) score += WEIGHT.beyond;
    if (letters !== null && between(letters * MM_PER[unit], LETTER_MM)) {
      score += WEIGHT.texts;
      evidence.push(`the lettering is then ${plainNumber(letters * MM_PER[unit], 0)} mm high`);
    }
    if (unit === 'm' && dims.equal > 0 && dims.equalLikeMetres >= 0.7 * dims.equal) {
      score += WEIGHT.decimals;
      evidence.push(`dimension texts are written as metres are, such as "${dims.equalExample}"`);
    }
    if (drawing.declaredUnit === unit) score += WEIGHT.header;
    return { unit, evidence, hard, score: score + hard };
  });
  const declared = (j: { unit: LengthUnit }) => (j.unit === drawing.declaredUnit ? 0 : 1);
  judged.sort(
    (p, q) => q.score - p.score || declared(p) - declared(q) || UNITS.indexOf(p.unit) - UNITS.indexOf(q.unit),
  );
  const best = judged[0]!;
  const header = judged.find((j) => j.unit === drawing.declaredUnit);
  // Vague hints alone do not overrule a header; that it makes the building impossibly small or large is no vague hint.
  const winner = header && best.hard <= header.hard + HARD_LEAST ? header : best;
  const sizeMm = size * MM_PER[winner.unit];
  const absurdMm = size > 0 && !between(sizeMm, EXTENT_LIMIT_MM) ? sizeMm : null;
  return { ...winner, absurdMm, nextScore: judged.find((j) => j !== winner)!.score };
};

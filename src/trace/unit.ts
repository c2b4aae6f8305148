/**
 * In which unit are the drawing's numbers? Headers lie often, so each unit is scored by evidence: dimension texts against measured
 * lengths, spacing of parallel lines as wall thickness, heights of texts, extent of the linework, and the header itself. The weights
 * are *practice, no source*: a written length outweighs everything, the header outweighs any one of the vague hints.
 */

import { compareText } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber } from '../ground/units.js';
import type { Drawing, DrawingPath } from '../ground/vocabulary.js';
import { readLength } from './lengthText.js';
import { isUsual, pairingOf } from './pairing.js';

export const UNITS: readonly LengthUnit[] = ['mm', 'cm', 'm', 'in', 'ft'];

export const UNIT_NAME: Readonly<Record<LengthUnit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
};

const WEIGHT = { dimensions: 8, thickness: 3, header: 2, extent: 1, beyond: -4, texts: 1, decimals: 1 };
/** Dimensions and thicknesses have to speak at least this much more for another unit than for the header's. */
const HARD_LEAST = 0.5;
/** A dimension text agrees when it is within this share of the measured length, or half a last digit that people round to. */
const AGREE_SHARE = 0.01;
/** Extents of buildings and heights of lettering in model space, mm. */
const EXTENT_MM = [1500, 300000] as const;
/** No drawing of one building is smaller or larger than this. */
const EXTENT_LIMIT_MM = [500, 500000] as const;
const LETTER_MM = [40, 800] as const;

export interface UnitVerdict {
  readonly unit: LengthUnit;
  /** What spoke for it, in words. */
  readonly evidence: readonly string[];
  readonly score: number;
  /** Score of the next unit. */
  readonly nextScore: number;
}

interface DimensionEvidence {
  /** Dimensions whose text with a written unit, or whose bare text in another unit, fits each drawing unit. */
  readonly fits: Readonly<Record<LengthUnit, number>>;
  readonly telling: number;
  /** An example for each unit. */
  readonly example: Readonly<Record<LengthUnit, string>>;
  /** Bare texts that equal the measured number, and how many of them have decimals as lengths in metres do. */
  readonly equal: number;
  readonly equalLikeMetres: number;
  readonly equalExample: string;
}

const agrees = (a: number, b: number): boolean => Math.abs(a - b) <= AGREE_SHARE * Math.max(a, b);

/** Units in which bare dimension texts are written. */
const BARE_UNITS: readonly LengthUnit[] = ['mm', 'cm', 'm'];

const readDimensions = (drawing: Drawing): DimensionEvidence => {
  const fits: Record<LengthUnit, number> = { mm: 0, cm: 0, m: 0, in: 0, ft: 0 };
  const example: Record<LengthUnit, string> = { mm: '', cm: '', m: '', in: '', ft: '' };
  let telling = 0;
  let equal = 0;
  let equalLikeMetres = 0;
  let equalExample = '';
  // The longest first: it makes the plainest example.
  const dimensions = [...drawing.dimensions].sort(
    (p, q) => q.measured - p.measured || compareText(p.text ?? '', q.text ?? ''),
  );
  for (const d of dimensions) {
    const length = d.text === null ? null : readLength(d.text);
    if (!length || !(d.measured > 0)) continue;
    const value = length.values.find((v) => v > 0);
    if (value === undefined) continue;
    if (length.unit === 'bare' && agrees(value, d.measured)) {
      equal++;
      if (/[.,]\d\d\d?\b/.test(d.text!) && value < 300) equalLikeMetres++;
      if (equalExample === '') equalExample = d.text!;
      continue;
    }
    const inMm = length.unit === 'mm' ? length.values : BARE_UNITS.map((u) => value * MM_PER[u]);
    const units = UNITS.filter((u) => inMm.some((mm) => agrees(mm, d.measured * MM_PER[u])));
    if (units.length === 0) continue;
    telling++;
    for (const u of units) {
      fits[u] += 1 / units.length;
      if (example[u] === '' || d.measured >= 1)
        example[u] ||= `"${d.text}" at a measured ${plainNumber(d.measured, 2)}`;
    }
  }
  return { fits, telling, example, equal, equalLikeMetres, equalExample };
};

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
      evidence.push(`parallel lines then stand ${near.usualMm} mm apart, as the faces of a wall do`);
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
  // Vague hints alone do not overrule a header, unless it makes the building impossibly small or large.
  const isPossible = (j: { readonly unit: LengthUnit }) => between(size * MM_PER[j.unit], EXTENT_LIMIT_MM);
  const stands = header && (isPossible(header) || !isPossible(best));
  const winner = header && stands && best.hard <= header.hard + HARD_LEAST ? header : best;
  return { ...winner, nextScore: judged.find((j) => j !== winner)!.score };
};

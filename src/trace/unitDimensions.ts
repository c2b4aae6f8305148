/** What the dimension texts say of the unit: a text with a written unit, or a bare one in another unit, against the measured length. */

import { compareText } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber } from '../ground/units.js';
import type { Drawing } from '../ground/vocabulary.js';
import { readLength } from './lengthText.js';

export const UNITS: readonly LengthUnit[] = ['mm', 'cm', 'm', 'in', 'ft'];

/** A dimension text agrees when it is within this share of the measured length, or half a last digit that people round to. */
const AGREE_SHARE = 0.01;

export interface DimensionEvidence {
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

export const readDimensions = (drawing: Drawing): DimensionEvidence => {
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

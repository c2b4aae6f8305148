/** Sizes of what the trace draws: they follow the drawing's own texts, so that both are read at one scale. */

import type { TraceResult } from '../../../ground/questions.js';
import type { FacePlan } from '../../../ground/vocabulary.js';
import { USUAL_SIZES } from '../scene.js';

export interface Ink {
  /** Height of labels and lists. */
  readonly textMm: number;
  /** In which lengths are told. */
  readonly unit: 'mm' | 'in';
}

/** Heights beyond these would drown the walls, or be lost beside them: 1 mm at 1:50 and 5 mm at 1:100. *Practice, no source.* */
const LEAST_MM = 50;
const MOST_MM = 500;

/** A drawing without texts: this part of its walls' diagonal, so that labels can be read with the whole plan on a sheet. *Practice, no source.* */
const OF_DIAGONAL = 1 / 200;

const fromSize = ({ walls }: FacePlan): number => {
  const xs = walls.flatMap((w) => [w.start.x, w.end.x]);
  const ys = walls.flatMap((w) => [w.start.y, w.end.y]);
  const spread = (values: readonly number[]): number =>
    values.reduce((high, v) => Math.max(high, v), -Infinity) - values.reduce((low, v) => Math.min(low, v), Infinity);
  return walls.length === 0 ? 0 : Math.hypot(spread(xs), spread(ys)) * OF_DIAGONAL;
};

export const inkOf = ({ source, plan, textHeightMm }: TraceResult): Ink => ({
  textMm: Math.min(MOST_MM, Math.max(LEAST_MM, textHeightMm ?? Math.max(USUAL_SIZES.table, fromSize(plan)))),
  unit: source.lengthUnit === 'in' || source.lengthUnit === 'ft' ? 'in' : 'mm',
});

/** Sizes of what the trace draws: they follow the drawing's own texts, so that both are read at one scale. */

import type { TraceResult } from '../../../ground/questions.js';
import { TEXT_MM } from '../scene.js';

export interface Ink {
  /** Height of labels and lists. */
  readonly textMm: number;
  /** In which lengths are told. */
  readonly unit: 'mm' | 'in';
}

/** Heights beyond these would drown the walls, or be lost beside them: 1 mm at 1:50 and 5 mm at 1:100. *Practice, no source.* */
const LEAST_MM = 50;
const MOST_MM = 500;

export const inkOf = ({ source, textHeightMm }: TraceResult): Ink => ({
  textMm: Math.min(MOST_MM, Math.max(LEAST_MM, textHeightMm ?? TEXT_MM.table)),
  unit: source.lengthUnit === 'in' || source.lengthUnit === 'ft' ? 'in' : 'mm',
});

/** A bar of true lengths, so that a print of any size can be measured. */

import { lengthText } from '../lengths.js';
import type { Scene } from '../scene.js';
import { rectangle, type Shape } from '../sheet.js';
import { say } from './ink.js';
import { type Area, PAPER_TEXT_MM, scaleText } from './paper.js';

const FIELDS = 5;
const BAR_MM = 3;
/** The longest bar on paper, mm. */
const MOST_MM = 120;

/** Lengths that a field may stand for, mm: metric, and feet. */
const METRIC = [5000, 2000, 1000, 500, 200, 100, 50];
const FEET = [20, 10, 5, 2, 1, 0.5].map((feet) => feet * 304.8);

export const drawScaleBar = (scene: Scene, scale: number, a: Area): Shape[] => {
  const gear = scene.result.catalogue.lengthUnit;
  const choices = gear === 'mm' ? METRIC : FEET;
  const fieldMm = choices.find((c) => (c * FIELDS) / scale <= MOST_MM) ?? choices.at(-1)!;
  const step = fieldMm / scale;
  const left = a.left + 8;
  const low = a.bottom + 5;
  const shapes: Shape[] = [rectangle('SHET', a.left, a.bottom, a.right, a.top, ['sheet'])];
  for (let i = 0; i < FIELDS; i++) {
    const x = left + i * step;
    shapes.push(rectangle('SHET', x, low, x + step, low + BAR_MM, ['sheet']));
    if (i % 2 === 0) {
      const corners = [
        { x, y: low },
        { x: x + step, y: low },
        { x: x + step, y: low + BAR_MM },
        { x, y: low + BAR_MM },
      ];
      shapes.push({ type: 'solid', layer: 'SHET', about: ['sheet'], corners });
    }
  }
  for (const i of [0, 1, 2, FIELDS]) {
    const at = { x: left + i * step, y: low + BAR_MM + 1.5 };
    shapes.push(say(lengthText(gear, i * fieldMm), at, PAPER_TEXT_MM.plain, { across: 'centre' }));
  }
  shapes.push(
    say(`${scaleText(gear, scale)}${gear === 'mm' ? ', mm' : ''}`, { x: left - 4, y: a.top - 3 }, PAPER_TEXT_MM.plain, {
      upright: 'top',
    }),
  );
  return shapes;
};

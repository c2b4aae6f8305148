/** What a part of a drawing gets on its sheet: a window, its name and scale, match lines, and the names of rows at a cut. */

import type { Catalogue } from '../../../ground/vocabulary.js';
import { spread } from '../labels.js';
import { type Shape, textWidth, type Viewport } from '../sheet.js';
import { chainLine, say } from './ink.js';
import { PAPER_TEXT_MM, scaleText } from './paper.js';
import { headMm, headOf, MARGIN_MM, NAME_MM, type Part, type Placing, paperHeight, SAID_MM } from './parts.js';
import type { PlanPart } from './planParts.js';

export interface Inked {
  readonly shapes: readonly Shape[];
  readonly viewport: Viewport;
}

/** `sheetOf`: number of the sheet on which a part of a drawing stands. */
export const drawPart = (
  gear: Catalogue['lengthUnit'],
  { part, x, y }: Placing,
  sheetOf: (part: Pick<Part, 'drawing' | 'index'>) => number,
): Inked => {
  const { window: w, scale, drawing, index, count, leftMm, rightMm } = part;
  const left = x + (leftMm === null ? 0 : MARGIN_MM);
  const [widthMm, heightMm] = [(w.maxX - w.minX) / scale, (w.maxY - w.minY) / scale];
  const top = y - headMm(drawing);
  const bottom = top - heightMm;
  const at = (mx: number, my: number) => ({ x: left + (mx - w.minX) / scale, y: bottom + (my - w.minY) / scale });
  const name = [drawing.name, ...(count > 1 ? [`part ${index + 1} of ${count}`] : []), scaleText(gear, scale)].join(
    '   ',
  );
  const shapes: Shape[] = [say(name, { x, y: y - PAPER_TEXT_MM.mark - 1 }, PAPER_TEXT_MM.mark)];
  const { beside, rows: said } = headOf(drawing);
  const nameMm = textWidth(name, PAPER_TEXT_MM.mark);
  if (beside !== '') shapes.push(say(beside, { x: x + nameMm + 6, y: y - PAPER_TEXT_MM.mark - 1 }));
  said.forEach((row, i) => {
    shapes.push(say(row, { x, y: y - NAME_MM - i * SAID_MM - PAPER_TEXT_MM.plain }));
  });
  const match = (mx: number, other: number): void => {
    const low = at(mx, w.minY);
    shapes.push(...chainLine(low, { x: low.x, y: top }, 'SHET'));
    const words = `MATCH LINE - SEE SHEET ${sheetOf({ drawing, index: other })}`;
    const isLeft = other < index;
    const beside = { x: low.x + (isLeft ? -2 : 2), y: top - 2 };
    shapes.push(
      say(words, beside, PAPER_TEXT_MM.plain, {
        rotationDeg: 90,
        across: 'right',
        upright: isLeft ? 'baseline' : 'top',
      }),
    );
  };
  if (leftMm !== null) {
    match(leftMm, index - 1);
    const rows = [...drawing.rows].sort((a, b) => a.y - b.y);
    const ys = spread(
      rows.map((r) => at(0, r.y).y),
      PAPER_TEXT_MM.plain * 1.35,
    );
    rows.forEach((r, i) => {
      shapes.push(say(r.text, { x: left - 2, y: ys[i]! }, PAPER_TEXT_MM.plain, { across: 'right', upright: 'middle' }));
    });
  }
  if (rightMm !== null) match(rightMm, index + 1);
  const viewport: Viewport = {
    centre: { x: left + widthMm / 2, y: top - heightMm / 2 },
    widthMm,
    heightMm,
    lookAt: { x: (w.minX + w.maxX) / 2, y: (w.minY + w.maxY) / 2 },
    scale,
  };
  return { shapes, viewport };
};

export const partBottom = (placing: Placing): number => placing.y - paperHeight(placing.part);

/** Match lines of a tile of the plan. `sheetOf`: number of the sheet of a tile. */
export const drawEdges = ({ placing, edges }: PlanPart, sheetOf: (tile: string) => number): Shape[] => {
  const { part, x, y } = placing;
  const [w, h] = [
    (part.window.maxX - part.window.minX) / part.scale,
    (part.window.maxY - part.window.minY) / part.scale,
  ];
  const top = y - headMm(part.drawing);
  const [low, high] = [
    { x, y: top - h },
    { x: x + w, y: top },
  ];
  const { window, scale } = part;
  return edges.flatMap(({ side, atMm, beyond }) => {
    const words = `MATCH LINE - SEE SHEET ${sheetOf(beyond)}`;
    const isUpright = side === 'left' || side === 'right';
    const line = isUpright ? low.x + (atMm - window.minX) / scale : low.y + (atMm - window.minY) / scale;
    const from = isUpright ? { x: line, y: low.y } : { x: low.x, y: line };
    const to = isUpright ? { x: line, y: high.y } : { x: high.x, y: line };
    // At the line's own end and across it, since the window goes on beyond the line; outside of the window, where nothing of the plan lies.
    // Of a line across they run back along the window, clear of those of an upright line under it.
    const across = isUpright ? 'centre' : side === 'below' ? 'left' : 'right';
    const pose = { rotationDeg: isUpright ? 0 : 90, across, upright: 'baseline' } as const;
    const beside = isUpright ? { x: line, y: low.y - 1.5 - PAPER_TEXT_MM.plain } : { x: low.x - 1.5, y: line };
    return [...chainLine(from, to, 'SHET'), say(words, beside, PAPER_TEXT_MM.plain, pose)];
  });
};

/** What is cut on site, mark by mark: the list that report, CSV and workbook share. Counted from the schedule, decided nowhere here. */

import { marksOf } from './marks.js';
import { byNumber, byText, inOrder } from './order.js';
import { postOf } from './pilasters.js';
import type { Piece, Result, ScheduleRow } from './vocabulary.js';

/** All things of a row weigh the same. */
export const massOf = (row: ScheduleRow, count: number): number =>
  row.count === 0 ? 0 : (row.massKg * count) / row.count;

/** What is cut on site to one size, at one wall. */
export interface CutRow {
  readonly mark: string;
  readonly wall: string;
  readonly row: ScheduleRow;
  /** Net, across the face; of tapered timber the wide side. */
  readonly widthMm: number;
  /** Along the concrete's height. */
  readonly lengthMm: number;
  readonly thicknessMm: number;
  readonly count: number;
  readonly massKg: number;
  /** In the order of the layout. */
  readonly pieces: readonly string[];
}

/** By mark, then by wall. */
export const cutRows = (result: Result): readonly CutRow[] => {
  const { plan, catalogue, layout, schedule } = result;
  const marks = marksOf(plan, catalogue, layout);
  const rowByItem = new Map(schedule.rows.map((row) => [`${row.kind}\n${row.item}`, row]));
  const pieces = new Map(layout.pieces.map((p) => [p.id, p]));
  const rank = new Map(plan.walls.map((w, i) => [w.id, i]));
  const cuts = new Map<string, { piece: Piece; mark: string; wall: string; row: ScheduleRow; ids: string[] }>();
  for (const { piece: id, kind, item, wall } of schedule.setting ?? []) {
    const piece = pieces.get(id);
    const row = rowByItem.get(`${kind}\n${item}`);
    if (piece === undefined || row === undefined || piece.item !== null) continue;
    const { mark } = marks.ofPiece(piece);
    const key = `${mark}\n${item}\n${wall}`;
    const cut = cuts.get(key) ?? { piece, mark, wall, row, ids: [] };
    cut.ids.push(id);
    cuts.set(key, cut);
  }
  return [...cuts.values()]
    .map(({ piece, mark, wall, row, ids }) => ({
      mark,
      wall,
      row,
      widthMm: row.widthMm,
      lengthMm: row.heightMm,
      thicknessMm: postOf(plan, piece)?.depthMm ?? catalogue.frameDepthMm,
      count: ids.length,
      massKg: massOf(row, ids.length),
      pieces: ids,
    }))
    .sort(
      inOrder<CutRow>(
        byText((c) => c.mark.replace(/\d.*$/, '')),
        byNumber((c) => Number(/\d+/.exec(c.mark)?.[0] ?? 0)),
        byText((c) => c.row.item),
        byNumber((c) => rank.get(c.wall) ?? plan.walls.length),
      ),
    );
};

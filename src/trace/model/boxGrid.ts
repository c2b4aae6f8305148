/** Boxes found by place: a grid of cells, so that the time grows with the number of boxes and not with its square. */

import type { Box } from './region.js';

const CELL_MM = 2000;
/** A box over more cells than this stands in a list of its own. */
const CELLS_MOST = 256;

/** Those of the items whose box may meet a box, in their own order. */
export const boxGrid = <T>(
  items: readonly T[],
  boxOf: (item: T) => Box | null,
): ((box: Box | null, withinMm?: number) => T[]) => {
  const cells = new Map<string, number[]>();
  const wide: number[] = [];
  const spanOf = (b: Box) =>
    [b.x0, b.y0, b.x1, b.y1].map((v) => Math.floor(v / CELL_MM)) as [number, number, number, number];
  items.forEach((item, n) => {
    const box = boxOf(item);
    if (!box) return;
    const [x0, y0, x1, y1] = spanOf(box);
    if ((x1 - x0 + 1) * (y1 - y0 + 1) > CELLS_MOST) {
      wide.push(n);
      return;
    }
    for (let x = x0; x <= x1; x++)
      for (let y = y0; y <= y1; y++) {
        const own = cells.get(`${x} ${y}`);
        if (own) own.push(n);
        else cells.set(`${x} ${y}`, [n]);
      }
  });
  return (box, withinMm = 0) => {
    if (!box) return [];
    const by = { x0: box.x0 - withinMm, y0: box.y0 - withinMm, x1: box.x1 + withinMm, y1: box.y1 + withinMm };
    const [x0, y0, x1, y1] = spanOf(by);
    const found = new Set(wide);
    if ((x1 - x0 + 1) * (y1 - y0 + 1) > cells.size) for (const own of cells.values()) for (const n of own) found.add(n);
    else
      for (let x = x0; x <= x1; x++)
        for (let y = y0; y <= y1; y++) for (const n of cells.get(`${x} ${y}`) ?? []) found.add(n);
    return [...found]
      .sort((a, b) => a - b)
      .map((n) => items[n]!)
      .filter((item) => {
        const own = boxOf(item)!;
        return own.x0 <= by.x1 && by.x0 <= own.x1 && own.y0 <= by.y1 && by.y0 <= own.y1;
      });
  };
};

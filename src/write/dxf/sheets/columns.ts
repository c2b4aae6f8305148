/** Lists on sheets: columns one beside the other, each list parted between its lines where it is longer than a sheet. */

import { type Bounds, isEmpty } from '../bounds.js';
import { type Area, GAP_MM, heightOf, widthOf } from './paper.js';
import { NAME_MM, type Placing } from './parts.js';

/** `least`: the scale at which the text of the lists comes to the least height. */
export const columnParts = (
  lists: readonly { readonly bounds: Bounds; readonly cutsY: readonly number[] }[],
  least: number,
  room: Area,
): Placing[][] => {
  const columns = lists.flatMap(({ bounds, cutsY }, list) => {
    if (isEmpty(bounds)) return [];
    // A list that is too wide for a sheet is drawn smaller rather than cut.
    const scale = Math.max(least, Math.ceil((bounds.maxX - bounds.minX) / widthOf(room)));
    const most = (heightOf(room) - NAME_MM) * scale;
    const windows: Bounds[] = [];
    const falling = [...cutsY].sort((a, b) => b - a);
    let top = bounds.maxY;
    while (top - bounds.minY > most + 1e-6) {
      const cut = falling.filter((y) => y < top - 1 && y >= top - most).at(-1) ?? top - most;
      windows.push({ ...bounds, maxY: top, minY: cut });
      top = cut;
    }
    windows.push({ ...bounds, maxY: top });
    return windows.map((window, i) => ({ window, scale, name: list === 0 ? `NOTES ${i + 1}` : `SCHEDULE ${i + 1}` }));
  });
  const sheets: Placing[][] = [];
  let sheet: Placing[] = [];
  let x = room.left;
  for (const { window, scale, name } of columns) {
    const w = (window.maxX - window.minX) / scale;
    if (x > room.left && x + w > room.right + 1e-6) {
      sheets.push(sheet);
      sheet = [];
      x = room.left;
    }
    const drawing = { name, says: [], faces: [], bounds: window, cutsX: [], rows: [], least };
    const part = { drawing, index: 0, count: 1, window, leftMm: null, rightMm: null, scale };
    sheet.push({ part, x, y: room.top });
    x += w + GAP_MM;
  }
  if (sheet.length > 0) sheets.push(sheet);
  return sheets;
};

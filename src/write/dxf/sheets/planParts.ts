/**
 * The plan on sheets: whole at the scale for which its texts are sized, if it fits; else an overview at a smaller one and the plan in tiles, parted by
 * match lines.
 */

import type { Catalogue } from '../../../ground/vocabulary.js';
import { type Bounds, isEmpty } from '../bounds.js';
import { type Area, fittingScale, heightOf, widthOf } from './paper.js';
import { NAME_MM, type Placed, type Placing } from './parts.js';

export interface PlanPart {
  readonly title: string;
  readonly placing: Placing;
  /** Edges at which the plan goes on, with the name of the tile beyond. */
  readonly edges: readonly { readonly side: 'left' | 'right' | 'below' | 'above'; readonly beyond: string }[];
}

/** More tiles than this are not made: the plan is shown at a smaller scale. */
const MOST_TILES = 40;

const windowOf = (drawing: Placed, window: Bounds, scale: number, room: Area): Placing => {
  const [w, h] = [(window.maxX - window.minX) / scale, (window.maxY - window.minY) / scale];
  const part = { drawing, index: 0, count: 1, window, leftMm: null, rightMm: null, scale };
  return { part, x: room.left + (widthOf(room) - w) / 2, y: room.top - (heightOf(room) - NAME_MM - h) / 2 };
};

const plain = (name: string, bounds: Bounds, least: number): Placed => ({
  name,
  says: [],
  faces: [],
  bounds,
  cutsX: [],
  rows: [],
  least,
});

const meets = (a: Bounds, b: Bounds): boolean =>
  a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;

/** `first`: the scale for which its texts are sized. */
export const planParts = (
  plan: Bounds,
  inPlan: readonly Bounds[],
  gear: Catalogue['lengthUnit'],
  first: number,
  room: Area,
): PlanPart[] => {
  if (isEmpty(plan)) return [];
  const high = heightOf(room) - NAME_MM;
  const [w, h] = [plan.maxX - plan.minX, plan.maxY - plan.minY];
  const scale = fittingScale(gear, w, h, { ...room, bottom: room.bottom + NAME_MM }, first);
  const whole = {
    title: 'FORM PLAN',
    placing: windowOf(plain('FORM PLAN', plan, first), plan, scale, room),
    edges: [],
  };
  const [columns = 1, rows = 1] = [w / (widthOf(room) * first), h / (high * first)].map((n) =>
    Math.max(1, Math.ceil(n - 1e-9)),
  );

  if (scale === first || columns * rows > MOST_TILES) return [whole];
  const [tileW, tileH] = [w / columns, h / rows];
  const tiles: { readonly name: string; readonly window: Bounds }[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const minX = plan.minX + c * tileW;
      const maxY = plan.maxY - r * tileH;
      const window = { minX, maxX: minX + tileW, maxY, minY: maxY - tileH };
      if (inPlan.some((b) => meets(b, window)))
        tiles.push({ name: columns === 1 ? `PLAN, PART ${r + 1}` : `PLAN, ROW ${r + 1} COLUMN ${c + 1}`, window });
    }
  }
  return [
    { ...whole, title: 'FORM PLAN, OVERVIEW' },
    ...tiles.map(({ name, window }) => ({
      title: `FORM ${name}`,
      placing: windowOf(plain(name, window, first), window, first, room),
      edges: tiles.flatMap((other) => {
        const [dx, dy] = [other.window.minX - window.minX, other.window.minY - window.minY];
        const [across, up] = [Math.round(dx / tileW), Math.round(dy / tileH)];
        if (Math.abs(across) + Math.abs(up) !== 1) return [];
        const side = across < 0 ? 'left' : across > 0 ? 'right' : up < 0 ? 'below' : 'above';
        return [{ side, beyond: other.name } as const];
      }),
    })),
  ];
};

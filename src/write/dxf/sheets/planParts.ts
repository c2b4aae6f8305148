/**
 * The plan on sheets: whole at the scale for which its texts are sized, if it fits; else an overview at a smaller one and the plan in tiles, parted by
 * match lines. Tiles overlap, so that a mark that a match line would cut stands whole on one of them at least.
 */

import type { Catalogue } from '../../../ground/vocabulary.js';
import { type Bounds, isEmpty } from '../bounds.js';
import { type Strip, stripsOf } from './overlaps.js';
import { type Area, fittingScale, heightOf, widthOf } from './paper.js';
import { NAME_MM, type Placed, type Placing } from './parts.js';

export interface PlanPart {
  readonly title: string;
  readonly placing: Placing;
  /** Match lines beyond which the plan goes on: place (x or y) in the model, and the name of the tile beyond. */
  readonly edges: readonly {
    readonly side: 'left' | 'right' | 'below' | 'above';
    readonly atMm: number;
    readonly beyond: string;
  }[];
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

const holds = (a: Bounds, b: Bounds): boolean =>
  a.minX <= b.minX && b.maxX <= a.maxX && a.minY <= b.minY && b.maxY <= a.maxY;

const meets = (a: Bounds, b: Bounds): boolean =>
  a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;

/** A tile: what its window shows, and its own part of the plan, up to its match lines. */
interface Tile {
  readonly name: string;
  readonly column: number;
  readonly row: number;
  readonly window: Bounds;
  readonly own: Bounds;
}

const boxOf = (x: Pick<Strip, 'fromMm' | 'toMm'>, y: Pick<Strip, 'fromMm' | 'toMm'>): Bounds => ({
  minX: x.fromMm,
  maxX: x.toMm,
  minY: y.fromMm,
  maxY: y.toMm,
});

const tilesOf = (columns: readonly Strip[], rows: readonly Strip[]): Tile[] =>
  [...rows].reverse().flatMap((y, r) =>
    columns.map(
      (x, c): Tile => ({
        name: columns.length === 1 ? `PLAN, PART ${r + 1}` : `PLAN, ROW ${r + 1} COLUMN ${c + 1}`,
        column: c,
        row: r,
        window: boxOf(x, y),
        own: boxOf(x.own, y.own),
      }),
    ),
  );

/** Those with something of the plan in their own part, and those that alone show a mark whole. */
const needed = (tiles: readonly Tile[], inPlan: readonly Bounds[], marks: readonly Bounds[]): Tile[] => {
  const kept = new Set(tiles.filter((t) => inPlan.some((b) => meets(b, t.own))));
  for (const mark of marks) {
    if ([...kept].some((t) => holds(t.window, mark))) continue;
    const more = tiles.find((t) => holds(t.window, mark)) ?? tiles.find((t) => meets(mark, t.own));
    if (more) kept.add(more);
  }
  return tiles.filter((t) => kept.has(t));
};

const edgesOf = (tile: Tile, tiles: readonly Tile[]): PlanPart['edges'] =>
  tiles.flatMap(({ column, row, name: beyond }): PlanPart['edges'] => {
    const [across, down] = [column - tile.column, row - tile.row];
    if (Math.abs(across) + Math.abs(down) !== 1) return [];
    const { minX, maxX, minY, maxY } = tile.own;
    if (across !== 0) return [{ side: across < 0 ? 'left' : 'right', atMm: across < 0 ? minX : maxX, beyond }];
    return [{ side: down > 0 ? 'below' : 'above', atMm: down > 0 ? minY : maxY, beyond }];
  });

/** `inPlan`: what stands in the plan; `marks`: its texts and signs; `first`: the scale for which its texts are sized. */
export const planParts = (
  plan: Bounds,
  { inPlan, marks }: { readonly inPlan: readonly Bounds[]; readonly marks: readonly Bounds[] },
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
  if (scale === first) return [whole];
  const columns = stripsOf(
    { fromMm: plan.minX, toMm: plan.maxX },
    widthOf(room) * first,
    first,
    marks.map((m) => ({ fromMm: m.minX, toMm: m.maxX })),
  );
  const rows = stripsOf(
    { fromMm: plan.minY, toMm: plan.maxY },
    high * first,
    first,
    marks.map((m) => ({ fromMm: m.minY, toMm: m.maxY })),
  );
  if (columns.length * rows.length > MOST_TILES) return [whole];
  const tiles = needed(tilesOf(columns, rows), inPlan, marks);
  return [
    { ...whole, title: 'FORM PLAN, OVERVIEW' },
    ...tiles.map((tile) => ({
      title: `FORM ${tile.name}`,
      placing: windowOf(plain(tile.name, tile.window, first), tile.window, first, room),
      edges: edgesOf(tile, tiles),
    })),
  ];
};

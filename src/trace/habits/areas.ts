/**
 * Areas of concrete as the drawing shows them: hatched regions, and the bodies of walls that are drawn by their axis. Local mm.
 * An area is a set of rings; a point is in it when an odd number of its rings goes round it, so that inner rings are holes.
 */

import type { Vec } from '../../ground/plane.js';

export interface Ring {
  readonly points: readonly Vec[];
  /**
   * Who drew the side from each point to the next; as many as there are points. Null: a chord of a curve, or a face that is drawn, which
   * only bounds the concrete here.
   */
  readonly sources: readonly (string | null)[];
}

export interface Area {
  readonly rings: readonly Ring[];
  readonly layer: string;
}

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export const boxOf = (points: readonly Vec[]): Box => {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (const p of points) {
    box.x0 = Math.min(box.x0, p.x);
    box.y0 = Math.min(box.y0, p.y);
    box.x1 = Math.max(box.x1, p.x);
    box.y1 = Math.max(box.y1, p.y);
  }
  return box;
};

/** Side of the squares that things are looked up by; about a room. *Practice, no source.* */
const CELL_MM = 4000;
/** Things over more squares than this are looked at every time. */
const CELLS_MOST = 400;

interface Boxed<T> {
  readonly item: T;
  readonly box: Box;
}

/** Finds the things whose boxes come near a place without looking at all of them. */
export class BoxBook<T> {
  private readonly cells = new Map<string, Boxed<T>[]>();
  private readonly everywhere: Boxed<T>[] = [];
  /** How many things were looked at so far. */
  looks = 0;

  constructor(items: readonly T[], boxOfItem: (item: T) => Box) {
    for (const item of items) {
      const box = boxOfItem(item);
      const entry = { item, box };
      const keys = this.keys(box);
      if (keys === null) this.everywhere.push(entry);
      else {
        for (const key of keys) {
          const list = this.cells.get(key);
          if (list) list.push(entry);
          else this.cells.set(key, [entry]);
        }
      }
    }
  }

  private keys(b: Box): string[] | null {
    const [i0, i1] = [Math.floor(b.x0 / CELL_MM), Math.floor(b.x1 / CELL_MM)];
    const [j0, j1] = [Math.floor(b.y0 / CELL_MM), Math.floor(b.y1 / CELL_MM)];
    if (!((i1 - i0 + 1) * (j1 - j0 + 1) <= CELLS_MOST)) return null;
    const out: string[] = [];
    for (let i = i0; i <= i1; i++) for (let j = j0; j <= j1; j++) out.push(`${i} ${j}`);
    return out;
  }

  /** Things whose boxes touch this one, each once, in no particular order. */
  near(b: Box): T[] {
    const keys = this.keys(b);
    const lists = keys === null ? [...this.cells.values()] : keys.flatMap((k) => [this.cells.get(k) ?? []]);
    const found = new Set<T>();
    for (const list of [...lists, this.everywhere]) {
      this.looks += list.length;
      for (const { item, box: o } of list) {
        if (o.x0 <= b.x1 && o.x1 >= b.x0 && o.y0 <= b.y1 && o.y1 >= b.y0) found.add(item);
      }
    }
    return [...found];
  }

  /** Is there a thing at the place for which this holds? */
  someAt(p: Vec, holds: (item: T) => boolean): boolean {
    const here = this.cells.get(`${Math.floor(p.x / CELL_MM)} ${Math.floor(p.y / CELL_MM)}`) ?? [];
    for (const list of [here, this.everywhere]) {
      this.looks += list.length;
      for (const { item, box } of list) {
        if (p.x >= box.x0 && p.x <= box.x1 && p.y >= box.y0 && p.y <= box.y1 && holds(item)) return true;
      }
    }
    return false;
  }
}

/** Does the ring go round the point? Rays to the right; a point on the ring itself may count either way. */
export const goesRound = (points: readonly Vec[], p: Vec): boolean => {
  let odd = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const a = points[i]!;
    const b = points[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
};

/** Areas by place. */
export const areaBook = (areas: readonly Area[]): BoxBook<Area> =>
  new BoxBook(areas, (a) => boxOf(a.rings.flatMap((r) => r.points)));

const holds =
  (p: Vec) =>
  (area: Area): boolean => {
    let odd = false;
    for (const r of area.rings) if (goesRound(r.points, p)) odd = !odd;
    return odd;
  };

/** Tells concrete from air: is the point in any of the areas? */
export const filledIn =
  (book: BoxBook<Area>) =>
  (p: Vec): boolean =>
    book.someAt(p, holds(p));

export const filledBy = (areas: readonly Area[]): ((p: Vec) => boolean) => filledIn(areaBook(areas));

/** Twice the ring's area, positive anticlockwise. */
export const twiceArea = (points: readonly Vec[]): number =>
  points.reduce((sum, p, i) => {
    const q = points[(i + 1) % points.length]!;
    const o = points[0]!;
    return sum + (p.x - o.x) * (q.y - o.y) - (q.x - o.x) * (p.y - o.y);
  }, 0);

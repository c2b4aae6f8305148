/**
 * Strips between neighbouring parallel lines. Along each direction the drawing is cut at every line end into stations between which the
 * same lines run side by side; two lines that are neighbours there bound a strip, and nothing parallel lies between them.
 * A strip is a candidate for concrete or for air; which, sides.ts decides.
 *
 * Complexity: for n lines of a direction 2n stations, each with the lines that run there.
 */

import { SAME_POINT_MM, WALL_LEAST_MM, WALL_MOST_MM } from '../ground/tolerance.js';
import { type Interval, union } from './intervals.js';
import { FOOTING_EQUAL_MM, STATION_ENTRIES_MOST, USUAL_MOST_MM } from './limits.js';
import type { LineSet } from './lines.js';

/** The strip between two lines (indices); `low` has the lower v, so concrete in the strip lies to its left. */
export interface Strip {
  readonly low: number;
  readonly high: number;
  readonly thicknessMm: number;
  readonly a: number;
  readonly b: number;
}

/** Lines side by side between two stations, by rising v. */
export interface Station {
  readonly a: number;
  readonly b: number;
  readonly lines: readonly number[];
}

export const isWallThickness = (mm: number): boolean =>
  mm >= WALL_LEAST_MM - SAME_POINT_MM && mm <= WALL_MOST_MM + SAME_POINT_MM;

/** Stations of one direction, in order, while `budget` lasts. Lines of one offset never run side by side. */
const stationsOf = (set: LineSet, direction: number, budget: { left: number }): Station[] | null => {
  const events: { u: number; line: number; opens: boolean }[] = [];
  set.lines.forEach((l, line) => {
    if (l.direction === direction) events.push({ u: l.a, line, opens: true }, { u: l.b, line, opens: false });
  });
  events.sort((p, q) => p.u - q.u || Number(p.opens) - Number(q.opens) || p.line - q.line);
  const out: Station[] = [];
  // Lines are numbered by rising v within a direction, so the sorted list of numbers is the list by v.
  const active: number[] = [];
  let from = Number.NEGATIVE_INFINITY;
  for (const e of events) {
    if (e.u > from && active.length > 1) {
      budget.left -= active.length;
      if (budget.left < 0) return null;
      out.push({ a: from, b: e.u, lines: [...active] });
    }
    from = Math.max(from, e.u);
    let k = active.findIndex((x) => x >= e.line);
    if (k < 0) k = active.length;
    if (e.opens) active.splice(k, 0, e.line);
    else if (active[k] === e.line) active.splice(k, 1);
  }
  return out;
};

/** Stations of every direction, or null when that is more than tracing works through. */
export const buildStations = (set: LineSet): Station[][] | null => {
  const budget = { left: STATION_ENTRIES_MOST };
  const used = new Set(set.lines.map((l) => l.direction));
  const out: Station[][] = [];
  for (let i = 0; i < set.directions.length; i++) {
    const list = used.has(i) ? stationsOf(set, i, budget) : [];
    if (list === null) return null;
    out.push(list);
  }
  return out;
};

/** All strips up to the thickest wall, each over an unbroken interval, by low line, high line and place. */
export const buildStrips = (set: LineSet, byStation: readonly (readonly Station[])[]): Strip[] => {
  const found = new Map<string, { low: number; high: number; parts: Interval[] }>();
  for (const list of byStation) {
    for (const s of list) {
      for (let i = 0; i + 1 < s.lines.length; i++) {
        const low = s.lines[i]!;
        const high = s.lines[i + 1]!;
        if (set.lines[high]!.v - set.lines[low]!.v > WALL_MOST_MM + SAME_POINT_MM) continue;
        const key = `${low} ${high}`;
        const entry = found.get(key) ?? { low, high, parts: [] };
        entry.parts.push({ a: s.a, b: s.b });
        found.set(key, entry);
      }
    }
  }
  const out: Strip[] = [];
  for (const { low, high, parts } of found.values()) {
    const thicknessMm = set.lines[high]!.v - set.lines[low]!.v;
    for (const { a, b } of union(parts, 1e-6)) out.push({ low, high, thicknessMm, a, b });
  }
  return out.sort((p, q) => p.low - q.low || p.high - q.high || p.a - q.a);
};

export interface ExtraLines {
  /** Lines that run outside both faces of a wall at equal distances, over most of their length. */
  readonly footing: ReadonlySet<number>;
  /** Lines midway between two others over most of their length. */
  readonly centre: ReadonlySet<number>;
}

/** Cuts the lines of a station into rows whose neighbours are at most a wall's thickness apart. */
const rows = (set: LineSet, s: Station): number[][] => {
  const out: number[][] = [];
  s.lines.forEach((line, i) => {
    const before = s.lines[i - 1];
    if (before !== undefined && set.lines[line]!.v - set.lines[before]!.v <= WALL_MOST_MM) out.at(-1)!.push(line);
    else out.push([line]);
  });
  return out;
};

/** Shares of a line's length over which it has to play a part to be taken for it. */
const MOST_OF_A_LINE = 0.6;

/**
 * Where layers are named for walls, footings are believed only about walls of usual thickness, with a projection that forms can stand on, and only
 * if nearly the whole plan is drawn so, in two directions at least: two walls side by side look the same, but not everywhere.
 */
const PROJECTION_LEAST_MM = 100;
const PROJECTION_MOST_MM = 1000;
const WHOLE_PLAN_SHARE = 0.6;

/** Are a row of four lines footing, wall, wall, footing? `componentOf`: lines that touch share a component; a footing touches no wall. */
const isFootingRow = (
  row: readonly number[],
  v: readonly number[],
  footings: 'likely' | 'possible' | 'none',
  componentOf: readonly number[],
  lengthOf: (line: number) => number,
): boolean => {
  if (row.length !== 4 || footings === 'none') return false;
  // The jamb lines of an opening stand in rows, too, but are no longer than the wall is thick.
  const wall = v[2]! - v[1]!;
  if ([row[0]!, row[3]!].some((i) => lengthOf(i) < wall)) return false;
  const [first, wallMm, last] = [v[1]! - v[0]!, v[2]! - v[1]!, v[3]! - v[2]!];
  if (Math.abs(first - last) > FOOTING_EQUAL_MM || !isWallThickness(wallMm)) return false;
  if (footings === 'likely') return true;
  const [a, b, c, d] = row.map((line) => componentOf[line]);
  return (
    wallMm <= USUAL_MOST_MM &&
    first >= PROJECTION_LEAST_MM - SAME_POINT_MM &&
    first <= PROJECTION_MOST_MM + SAME_POINT_MM &&
    a !== b &&
    c !== d &&
    a !== c &&
    b !== d
  );
};

/** With most of an outline (lines that touch one another) the rest of it is footing, too. */
const wholeRings = (
  set: LineSet,
  lines: readonly number[],
  componentOf: readonly number[],
  lengthOf: (line: number) => number,
): number[] => {
  const total = new Map<number, number>();
  const found = new Map<number, number>();
  const put = (book: Map<number, number>, line: number) => {
    const c = componentOf[line]!;
    book.set(c, (book.get(c) ?? 0) + lengthOf(line));
  };
  set.lines.forEach((_, line) => {
    put(total, line);
  });
  for (const line of lines) put(found, line);
  const own = new Set(lines);
  return set.lines.flatMap((_, line) => {
    const c = componentOf[line]!;
    return own.has(line) || (found.get(c) ?? 0) > MOST_OF_A_LINE * total.get(c)! ? [line] : [];
  });
};

/**
 * Lines that are no wall faces by the pattern of their neighbours. A row of exactly four with equal outer gaps: footing, wall, wall,
 * footing (as far as the caller says that footings may lie among the walls). A row of exactly three with equal gaps: face, centre, face.
 */
export const extraLines = (
  set: LineSet,
  byStation: readonly (readonly Station[])[],
  footings: 'likely' | 'possible' | 'none',
  componentOf: readonly number[],
): ExtraLines => {
  const asFooting = new Map<number, number>();
  const asCentre = new Map<number, number>();
  const directions = new Set<number>();
  let inRowsMm = 0;
  const lengthOf = (line: number): number => set.lines[line]!.b - set.lines[line]!.a;
  // A footing's line runs round the corners beyond its wall's face: it plays its part over most of the shorter of the two.
  const against = new Map<number, number>();
  const beside = (line: number, face: number) =>
    against.set(line, Math.min(against.get(line) ?? lengthOf(line), lengthOf(face)));
  const add = (book: Map<number, number>, line: number, mm: number) => book.set(line, (book.get(line) ?? 0) + mm);
  for (const list of byStation) {
    for (const s of list) {
      for (const row of rows(set, s)) {
        const v = row.map((l) => set.lines[l]!.v);
        const lengthMm = s.b - s.a;
        if (
          row.length === 3 &&
          Math.abs(v[0]! + v[2]! - 2 * v[1]!) <= 2 * SAME_POINT_MM &&
          isWallThickness(v[2]! - v[0]!)
        ) {
          add(asCentre, row[1]!, lengthMm);
        }
        if (isFootingRow(row, v, footings, componentOf, lengthOf)) {
          inRowsMm += 4 * lengthMm;
          directions.add(set.lines[row[0]!]!.direction);
          add(asFooting, row[0]!, lengthMm);
          add(asFooting, row[3]!, lengthMm);
          beside(row[0]!, row[1]!);
          beside(row[3]!, row[2]!);
        }
      }
    }
  }
  const most = (book: Map<number, number>) =>
    [...book]
      .filter(([line, mm]) => mm >= MOST_OF_A_LINE * (against.get(line) ?? lengthOf(line)))
      .map(([line]) => line)
      .sort((p, q) => p - q);
  const drawnMm = set.lines.reduce((sum, l) => sum + l.b - l.a, 0);
  const believed = footings === 'likely' || (directions.size > 1 && inRowsMm >= WHOLE_PLAN_SHARE * drawnMm);
  const footing = believed ? wholeRings(set, most(asFooting), componentOf, lengthOf) : [];
  return { footing: new Set(footing), centre: new Set(most(asCentre)) };
};

/** Lines of forms: the stretches of a face over which forms stand without a gap, as aligners, braces and platforms go along them. */

import { byNumber, inOrder } from '../../ground/order.js';
import { reachOf } from '../../ground/runs.js';
import type { Face, Run, Side, Vertex, Wall } from '../../ground/vocabulary.js';
import { type Context, faceOf, type PlacedCover } from '../context.js';

/** How a line of forms ends: in the inner angle of the concrete, at an outer edge, or free (a free end, a riser, an opening). */
export type LineEnd = 're-entrant' | 'salient' | 'free';

export interface FormLine {
  readonly run: Run;
  readonly wall: Wall;
  readonly side: Side;
  readonly face: Face;
  readonly fromMm: number;
  readonly toMm: number;
  readonly ends: readonly [LineEnd, LineEnd];
  /** Level up to which forms stand over the whole line, and from which. */
  readonly topMm: number;
  readonly baseMm: number;
  /** The ground before it: the top of the footing. */
  readonly groundMm: number;
  readonly pourMm: number;
  /** What stands there, by station. */
  readonly covers: readonly PlacedCover[];
}

const GAP_MM = 1;

/** Does a cover belong to a run: by its rigid group, else by where its middle lies. */
const isOf = (ctx: Context, run: Run, { piece, cover }: PlacedCover): boolean => {
  const known = piece.covers.length === 1 ? ctx.runOfPiece.get(piece.id) : undefined;
  if (known !== undefined) return known === run.id;
  const [low, high] = reachOf(run);
  const middle = (cover.fromMm + cover.toMm) / 2;
  return middle >= low && middle < high;
};

/** The highest top of forms over each elementary stretch between joints; the least of them reaches over the whole line. */
const commonTop = (covers: readonly PlacedCover[]): number => {
  const cuts = [...new Set(covers.flatMap(({ cover }) => [cover.fromMm, cover.toMm]))].sort((a, b) => a - b);
  const tops = cuts.slice(1).flatMap((to, i) => {
    const middle = (cuts[i]! + to) / 2;
    if (to - cuts[i]! < GAP_MM) return [];
    const here = covers.filter(({ cover }) => cover.fromMm < middle && cover.toMm > middle);
    return here.length > 0 ? [Math.max(...here.map(({ cover }) => cover.topMm))] : [];
  });
  return Math.min(...tops);
};

/** Cuts covers, by station, into stretches without a gap. */
const unbroken = (covers: readonly PlacedCover[]): PlacedCover[][] => {
  const lines: PlacedCover[][] = [];
  let reach = Number.NEGATIVE_INFINITY;
  for (const placed of covers) {
    if (placed.cover.fromMm > reach + GAP_MM) lines.push([]);
    lines.at(-1)!.push(placed);
    reach = Math.max(reach, placed.cover.toMm);
  }
  return lines;
};

/** How far from a vertex a line that ends there may end: an outside corner may have a face width of its own. */
const VERTEX_MM = 60;

const endAt = (vertices: readonly Vertex[], run: Run, side: Side, stationMm: number): LineEnd =>
  vertices.find((v) =>
    v.arms.some(
      (arm) => arm.wall === run.wall && arm.side === side && Math.abs(arm.stationMm - stationMm) <= VERTEX_MM,
    ),
  )?.kind ?? 'free';

const linesOf = (ctx: Context, run: Run, side: Side): FormLine[] => {
  const wall = ctx.walls.get(run.wall);
  const face = faceOf(ctx, run.wall, side);
  if (!wall || wall.arc || !face) return [];
  // Boards over a lower wall carry no gear.
  const covers = (ctx.covers.get(face.id) ?? []).filter(
    (c) => c.piece.course > 0 && c.piece.kind !== 'bulkhead' && isOf(ctx, run, c),
  );
  const vertices = ctx.plan.vertices;
  return unbroken(covers).map((own): FormLine => {
    const fromMm = own[0]!.cover.fromMm;
    const toMm = Math.max(...own.map(({ cover }) => cover.toMm));
    return {
      run,
      wall,
      side,
      face,
      fromMm,
      toMm,
      ends: [endAt(vertices, run, side, fromMm), endAt(vertices, run, side, toMm)],
      topMm: commonTop(own),
      baseMm: Math.min(...own.map(({ cover }) => cover.baseMm)),
      groundMm: run.footingMm,
      pourMm: run.topMm,
      covers: own,
    };
  });
};

/** All lines, in the order of the plan's runs, left before right, by station. Curved walls have none. */
export const formLines = (ctx: Context): FormLine[] =>
  ctx.plan.runs.flatMap((run) => (['left', 'right'] as const).flatMap((side) => linesOf(ctx, run, side)));

/** Stations of the joints between forms that stand side by side at a level, within the line. */
export const jointsAt = (line: FormLine, levelMm: number): number[] => {
  const here = line.covers.filter(({ cover }) => cover.baseMm < levelMm && cover.topMm > levelMm);
  const edges = here.flatMap(({ cover }) => [cover.fromMm, cover.toMm]);
  return [...new Set(edges)].filter((s) => s > line.fromMm + GAP_MM && s < line.toMm - GAP_MM).sort((a, b) => a - b);
};

/** Levels of the joints between forms that stand over each other at a station. */
export const coursesAt = (line: FormLine, stationMm: number): { readonly joints: number[]; readonly topMm: number } => {
  const here = line.covers
    .filter(({ cover }) => cover.fromMm <= stationMm && cover.toMm >= stationMm)
    .sort(inOrder(byNumber((c) => c.cover.baseMm)));
  const topMm = Math.max(...here.map(({ cover }) => cover.topMm));
  const joints = [...new Set(here.map(({ cover }) => cover.topMm))].filter((z) => z < topMm - GAP_MM);
  return { joints, topMm };
};

/** Whether anywhere on the line forms stand over each other. */
export const isStacked = (line: FormLine): boolean => line.covers.some(({ piece }) => piece.course > 1);

export const lengthOf = ({ fromMm, toMm }: FormLine): number => toMm - fromMm;
export const heightOf = ({ topMm, groundMm }: FormLine): number => topMm - groundMm;

/** Short stretches between corners need neither aligner nor brace of their own. */
export const isHeldByCorners = (line: FormLine, shortMm: number): boolean =>
  lengthOf(line) <= shortMm && line.ends.every((end) => end !== 'free');

/** Distinct levels of the ties of a run. */
export const tieLevels = (ctx: Context, run: string): number[] => [
  ...new Set((ctx.ties.get(run) ?? []).map((t) => t.levelMm)),
];

/** Distinct stations of the ties of a run that pass this line's forms. */
export const tieStations = (ctx: Context, run: string): number[] =>
  [...new Set((ctx.ties.get(run) ?? []).map((t) => t.stationMm))].sort((a, b) => a - b);

/** One hinged line under the ties of one row: whether it stands, what its ties carry, how far its groups span. */

import type { Catalogue, FormUnit } from '../ground/vocabulary.js';
import { type ChainAnswer, type ChainProblem, chainReactions, fixedGroups, isFixed } from './chain.js';
import type { Context } from './context.js';
import { EQUAL_MM } from './context.js';
import type { Line } from './lines.js';
import { overhangAsSet, spanAsSet } from './onSide.js';

export interface SolvedLine {
  /** null: a mechanism. */
  readonly answer: ChainAnswer | null;
  readonly supportsMm: readonly number[];
  /** By station: exact reaction, null in a mechanism. */
  readonly reactionAt: ReadonlyMap<number, number>;
  /** By station: half-gap strip. */
  readonly stripAt: ReadonlyMap<number, number>;
  /** For each element its longest span between supports; null where it does not stand, or stands out too far. */
  readonly spansMm: readonly (number | null)[];
}

/** The panel of each element, which governs its rating and its overhang. */
export const panelOf = (ctx: Context, line: Line, element: number): { unit: FormUnit; turned: boolean } | undefined => {
  const group = line.elements[element]?.group;
  for (const id of group?.pieces ?? []) {
    const piece = ctx.pieces.get(id);
    const unit = piece?.kind === 'panel' && piece.item !== null ? ctx.units.get(piece.item) : undefined;
    if (piece && unit) return { unit, turned: piece.turned };
  }
  return undefined;
};

/**
 * How far a panel may stand out with the strip `v` hanging on its tip at pressure p: p (o^2 / 2 + v o) <= p_u w_u^2 / 8, and not more than
 * the catalogue allows. Bending of a cantilever against the moment of the rated span; mm.
 */
export const overhangLimit = (
  catalogue: Catalogue,
  unit: FormUnit,
  pressureKpa: number,
  tipMm: number,
  turned = false,
): number => {
  const most = overhangAsSet(catalogue, unit, turned, pressureKpa);
  if (pressureKpa <= 0) return most;
  const w = spanAsSet(unit, turned);
  const v = Math.max(0, tipMm);
  const o = -v + Math.sqrt(v * v + (w * w * unit.ratedKpa) / (4 * pressureKpa));
  return Math.min(most, o);
};

/** Half-way to the neighbours; to a vertex or the concrete's end whole, to a held edge half; cut to the concrete. */
export const halfGaps = (line: Line, tiesMm: readonly number[]): number[] => {
  const { low, high, jointsMm, heldMm } = line;
  const heldLow = heldMm.includes(jointsMm[0]!);
  const heldHigh = heldMm.includes(jointsMm[jointsMm.length - 1]!);
  return tiesMm.map((s, i) => {
    const before = tiesMm[i - 1];
    const after = tiesMm[i + 1];
    const from = before !== undefined ? (before + s) / 2 : heldLow ? (low.stationMm + s) / 2 : low.stationMm;
    const to = after !== undefined ? (s + after) / 2 : heldHigh ? (s + high.stationMm) / 2 : high.stationMm;
    return Math.max(0, Math.min(to, high.stationMm) - Math.max(from, low.stationMm));
  });
};

/** Stations closer than this to the limit still hold: layouts are rounded to 1e-4 mm. */
const REACH_SLACK_MM = EQUAL_MM;

/** Reactions of a chain, or null for a mechanism. Rows tied alike, and other pressures, ask the same: it is solved once. */
const reactions = ({ memo }: Context, chain: ChainProblem): ChainAnswer | null => {
  const key = JSON.stringify(chain);
  const known = memo.chains.get(key);
  if (known !== undefined) return known;
  const answer = isFixed(chain.jointsMm, chain.supportsMm) ? chainReactions(chain) : null;
  memo.chains.set(key, answer);
  return answer;
};

/** Solves a line that is tied at these stations; `pressureKpa` is the largest in its course. */
export const solveLine = (
  ctx: Context,
  line: Line,
  tieStationsMm: readonly number[],
  pressureKpa: number,
): SolvedLine => {
  const { jointsMm, heldMm } = line;
  const [first, last] = [jointsMm[0]!, jointsMm[jointsMm.length - 1]!];
  const ties = [...new Set(tieStationsMm)].filter((s) => s >= first && s <= last).sort((a, b) => a - b);
  const supportsMm = [...ties, ...heldMm].sort((a, b) => a - b);
  const { startShearMm, endShearMm, loadedMm, unloadedMm = [] } = line;
  const answer = reactions(ctx, { jointsMm, supportsMm, startShearMm, endShearMm, loadedMm, unloadedMm });
  const reach = (element: number, end: -1 | 1): number => {
    const panel = panelOf(ctx, line, element);
    if (!panel) return 0;
    const shears = answer?.shearsMm;
    const tip = shears ? (end === -1 ? shears[element]! : -shears[element + 1]!) : 0;
    return overhangLimit(ctx.catalogue, panel.unit, pressureKpa, tip, panel.turned) + REACH_SLACK_MM;
  };
  const strips = halfGaps(line, ties);
  return {
    answer,
    supportsMm,
    reactionAt: new Map(answer ? supportsMm.map((s, i) => [s, answer.reactionsMm[i]!]) : []),
    stripAt: new Map(ties.map((s, i) => [s, strips[i]!])),
    spansMm: fixedGroups(jointsMm, supportsMm, reach).map((g) => g?.spanMm ?? null),
  };
};

/**
 * Pairs: where the two faces do not begin at the same station, the first group of the face that begins earlier carries stiff fillers towards the
 * end, so that both groups have the same panel, one tie and a common joint behind it (rule T5: w against w + f).
 *
 * The tie stands beside the panel's first edge; the fillers stand out beyond it by no more than a panel may overhang (rule T10). So such an end
 * needs no held edge.
 */

import { groupUses, type RunContext, tieUses } from './bound.js';
import type { ChainLimits, ChainState } from './chain.js';
import { canEnd, carried, setGroup } from './chain.js';
import { addCost, type Cost } from './cost.js';
import type { FillerSet } from './gear.js';
import { fillerHolds, type Group, makeGroup, spanHolds } from './groups.js';
import type { ZoneEnd } from './zone.js';

/** What the chain of one face needs of its group in the pair. */
export interface PairFace {
  readonly lengthGu: number;
  /** Its tie, from the edge of lower station. */
  readonly tieGu: number;
}

/** [left face, right face]; between them and the zone lies the zone's joint. */
export type EndPair = readonly [PairFace, PairFace];

export interface PairOption {
  readonly pair: EndPair;
  /** Joint behind the pair, towards the zone. */
  readonly jointGu: number;
  readonly tieAtGu: number;
  /** By face: the group as it stands, and its edge of lower station. */
  readonly groups: readonly [Group, Group];
  readonly fromGu: readonly [number, number];
  readonly cost: Cost;
}

const lowEdge = (beginGu: number, lengthGu: number, d: 1 | -1): number => (d === 1 ? beginGu : beginGu - lengthGu);

/**
 * Every pair for faces that begin at these stations and run in direction `d`, panels beginning at `far`: where the later face does, unless more fillers
 * are asked for. None where their distance is no sum of fillers.
 */
export const pairOptions = (
  ctx: RunContext,
  d: 1 | -1,
  beginGu: readonly [number, number],
  far = d * Math.max(d * beginGu[0], d * beginGu[1]),
): PairOption[] => {
  const { gear, pressureKpa } = ctx;
  const sets = beginGu.map((b): FillerSet | null | undefined => {
    const f = d * (far - b);
    return f === 0 ? null : gear.fillerSets.find((s) => s.widthGu === f);
  });
  if (sets.some((s) => s === undefined)) return [];
  return gear.panels.flatMap((panel) => {
    const groups = sets.map((set) => (d === 1 ? makeGroup(panel, set!, null) : makeGroup(panel, null, set!)));
    const [left, right] = groups as [Group, Group];
    if (!groups.every((g) => fillerHolds(g, gear.gridMm, pressureKpa))) return [];
    return panel.holesGu.flatMap((hole): PairOption[] => {
      const h = d === 1 ? hole : panel.widthGu - hole;
      const stands = sets.every((s) => (s?.widthGu ?? 0) + h <= gear.overhangGu);
      if (!stands || !spanHolds(panel, panel.widthGu - h, pressureKpa)) return [];
      const tieAtGu = far + d * h;
      const fromGu = [lowEdge(beginGu[0], left.lengthGu, d), lowEdge(beginGu[1], right.lengthGu, d)] as const;
      const fillers = left.fillerCount + right.fillerCount;
      return [
        {
          pair: [
            { lengthGu: left.lengthGu, tieGu: tieAtGu - fromGu[0] },
            { lengthGu: right.lengthGu, tieGu: tieAtGu - fromGu[1] },
          ],
          jointGu: far + d * panel.widthGu,
          tieAtGu,
          groups: [left, right],
          fromGu,
          cost: ctx.cost({
            steelFillers: fillers * gear.courses,
            tiesAndUnits: (2 + fillers) * gear.courses + ctx.rows,
            squares: 2 * panel.widthGu ** 2 * gear.courses,
            uses: [...groups.flatMap((g) => groupUses(gear, g, 1)), ...tieUses(ctx, ctx.rows)],
          }),
        },
      ];
    });
  });
};

/** The pairs whose tie clears what is in the wall; where none does all of them, each counted as a failure. */
export const clearFirst = (
  ctx: RunContext,
  options: readonly PairOption[],
): { options: PairOption[]; clear: boolean } => {
  const clear = options.filter((o) => ctx.isClear(o.tieAtGu));
  if (clear.length > 0) return { options: clear, clear: true };
  const failed = ctx.cost({ failures: 1 });
  return { options: options.map((o) => ({ ...o, cost: addCost(o.cost, failed) })), clear: false };
};

const plainLoad = (length: number, perGu: number) => ({ size: perGu * length, moment: (perGu * length ** 2) / 2 });

/**
 * The chain of both faces at the zone's first joint, one and the same where both faces begin alike; `fromEnd` reads the end from behind. `perGu`: load
 * of a grid unit. null: the pair cannot stand.
 */
export const statesAt = (
  end: ZoneEnd,
  limits: ChainLimits,
  fromEnd: boolean,
  perGu = 1,
): readonly [ChainState, ChainState] | null => {
  if (!end.pair && end.v[0] === end.v[1]) {
    const both = carried(end.v[0]);
    return [both, both];
  }
  const states = ([0, 1] as const).map((face): ChainState | null => {
    const v = carried(end.v[face]);
    if (!end.pair) return v;
    const { lengthGu, tieGu } = end.pair[face];
    return setGroup(v, lengthGu, plainLoad(lengthGu, perGu), [fromEnd ? lengthGu - tieGu : tieGu], limits);
  });
  const [left, right] = states;
  return left && right ? [left, right] : null;
};

/** Can the zone end here in these states? Both must be fixed; a pair is set after them. */
export const closes = (
  states: readonly [ChainState, ChainState],
  end: ZoneEnd,
  limits: ChainLimits,
  perGu = 1,
): boolean =>
  ([0, 1] as const).every((face) => {
    const state = states[face];
    if (!end.pair) return canEnd(state, end.v[face]);
    const { lengthGu, tieGu } = end.pair[face];
    const after = state.kind === 'F' ? setGroup(state, lengthGu, plainLoad(lengthGu, perGu), [tieGu], limits) : null;
    return after !== null && canEnd(after, end.v[face]);
  });

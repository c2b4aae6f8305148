/** What closes one end of a zone, on both faces, and the pieces of it that corners, stems and free ends share. */

import type { Run, RunEnd, RunPilaster, Side } from '../ground/vocabulary.js';
import { type Cost, type CostParts, type Uses, ZERO_COST } from './cost.js';
import { fillerOf, type Gear, type Leg } from './gear.js';
import { exactGroup, type Group, type TiedGroup } from './groups.js';
import type { Jambs, Reach } from './jambs.js';
import type { OpenedRun } from './opened.js';
import { stockKey } from './stock/keys.js';
import type { ZoneEnd } from './zone.js';

/** Columns of ties at an opening, which lack rows. */
export interface VoidStrip {
  readonly fromGu: number;
  readonly toGu: number;
  /** Rows that a tie column has there. */
  readonly rows: number;
}

/** What stands on one face between the zones. */
export interface FaceZone {
  readonly legs: readonly { readonly vertex: string; readonly fromGu: number; readonly toGu: number }[];
  /** Timber strips bolted to a leg; a post in a jog closes the return as well; one that is there to be struck first is no fill. */
  readonly pads: readonly {
    readonly fromGu: number;
    readonly toGu: number;
    readonly returnFace?: string;
    readonly isStrip?: true;
  }[];
  /** A rigid group that the search does not set. */
  readonly group: {
    readonly group: Group;
    readonly fromGu: number;
    readonly held: boolean;
    /** Ties of the group, stations: the same on the other face. None: it has no tie of its own. */
    readonly tiesGu?: readonly number[];
  } | null;
  /** A part of the face that nothing of the yard closes: drawn as timber, always with a failure. */
  readonly unsolved: { readonly fromGu: number; readonly toGu: number } | null;
  /** Pilasters whose fronts are boarded here, over the posts beside them, which close their sides: from joint to joint. */
  readonly boxes?: readonly { readonly pilaster: RunPilaster; readonly fromGu: number; readonly toGu: number }[];
}

export const NO_FACE_ZONE: FaceZone = { legs: [], pads: [], group: null, unsolved: null };

export interface Bound extends ZoneEnd {
  readonly left: FaceZone;
  readonly right: FaceZone;
  /** Why this end is not laid out, in words; null when it is. */
  readonly failure: string | null;
  /** Rules of the failure. */
  readonly rule: 'fit.special-form' | 'fit.end-not-laid-out' | 'fit.no-corner-unit' | 'fit.ties-not-clear' | null;
  /** What the units of the outer face fall short of the concrete's edge, mm; negative: what they stand past it. Below the tolerance of cover. */
  readonly residueMm?: number;
}

/** What columns with panels on their side need, beside the panels themselves. */
export interface OnSide {
  /** Rows of the panels on their side, and what a tie of the heaviest of them carries, as a strip in grid units. */
  readonly rows: number;
  readonly tieStripGu: number;
  /** Largest pressure at their foot. */
  readonly pressureKpa: number;
}

/** What every cost and check of one run needs; lengths in grid units. */
export interface RunContext {
  readonly run: Run;
  readonly gear: Gear;
  readonly pressureKpa: number;
  /** Height of the concrete. */
  readonly heightGu: number;
  readonly rows: number;
  /** Rows of the column that has fewest, at an opening or not. */
  readonly leastRows: number;
  /** Catalogue id of the run's ties; null where none fits. */
  readonly tieItem: string | null;
  /** Columns with panels on their side; null where none may stand. */
  readonly onSide: OnSide | null;
  readonly cost: (parts: CostParts) => Cost;
  readonly toGu: (mm: number) => number;
  readonly bulkheadGu: number;
  readonly runPastLeastGu: number;
  readonly runPastMostGu: number;
  readonly edgeClearGu: number;
  /** Half the tie's diameter, rounded up. */
  readonly tieRadiusGu: number;
  /** May a tie stand at this station for all that is in the wall: bars, sleeves, pipes? */
  readonly isClear: (stationGu: number) => boolean;
  readonly voidStrips: readonly VoidStrip[];
  /** The openings of the run, and how near joints are to their jambs. */
  readonly openings: readonly Jambs[];
  readonly reach: Reach;
  /** What openings take of loads and rows; null where the run has none. */
  readonly opened: OpenedRun | null;
  /** Nothing is in the wall that would keep a tie away. */
  readonly allClear: boolean;
  /** Corner units of the yard that stand in a re-entrant vertex. */
  readonly legsAt: (vertex: string) => readonly Leg[];
  /** How far a frame stands out from the face. */
  readonly frameDepthGu: number;
  /** Least width of a strip that lets a closed room go; null: none are laid out. */
  readonly stripGu: number | null;
}

export interface LegOf {
  /** Length of the leg that stands at a vertex. */
  (vertex: string): number;
  /** Whether a strip that lets a closed room go stands beside that leg on this wall; without it: nowhere. */
  readonly hasStrip?: (vertex: string, wall: string) => boolean;
}

/** How many widths of strip beside a leg are tried: the narrowest ones; wider strips only cost more timber. */
export const PADS_TRIED = 3;

export const sideOf = (end: { leftMm: number; rightMm: number }, side: Side): number =>
  side === 'left' ? end.leftMm : end.rightMm;

/** The units of a rigid group, all courses, `times` over. */
export const groupUses = (gear: Gear, group: Group, times: number): Uses => {
  const fillers = [...(group.low?.widthsGu ?? []), ...(group.high?.widthsGu ?? [])];
  const items = [group.panel, ...fillers.map((w) => fillerOf(gear, w))].flatMap((u) => u.items);
  return items.map((u) => [stockKey(u.id, gear.pour), times]);
};

export const tieUses = (ctx: RunContext, ties: number): Uses =>
  ctx.tieItem === null || ties === 0 ? [] : [[stockKey(ctx.tieItem, ctx.gear.pour), ties]];

/** Rows of a tie column of an upright panel: fewer at an opening. */
const rowsAtGu = (ctx: RunContext, stationGu: number): number =>
  ctx.voidStrips.find((v) => stationGu > v.fromGu && stationGu < v.toGu)?.rows ?? ctx.rows;

/**
 * Rows of all ties of a group that begins here and goes up (1) or down (-1) the run; panels on their side have rows of their own. `null`: the least,
 * wherever it stands.
 */
export const rowsOfTies = (
  ctx: RunContext,
  { group, tiesGu }: TiedGroup,
  fromGu: number | null,
  d: 1 | -1 = 1,
): number => {
  if (group.panel.turned) return tiesGu.length * (ctx.onSide?.rows ?? 0);
  return tiesGu.reduce((sum, t) => sum + (fromGu === null ? ctx.leastRows : rowsAtGu(ctx, fromGu + d * t)), 0);
};

/** A tied group on both faces. */
export const tiedUses = (ctx: RunContext, tied: TiedGroup, fromGu: number | null): Uses => [
  ...groupUses(ctx.gear, tied.group, 2),
  ...tieUses(ctx, rowsOfTies(ctx, tied, fromGu)),
];

export const groupCost = (ctx: RunContext, group: Group): Cost =>
  ctx.cost({
    uses: groupUses(ctx.gear, group, 1),
    steelFillers: group.fillerCount * ctx.gear.courses,
    tiesAndUnits: (1 + group.fillerCount) * ctx.gear.courses,
    squares: group.panel.widthGu ** 2 * ctx.gear.courses,
  });

export const padCost = (ctx: RunContext, padGu: number): Cost =>
  padGu > 0 ? ctx.cost({ places: 1, timberArea: padGu * ctx.heightGu }) : ZERO_COST;

interface Pad {
  readonly padGu: number;
  readonly group: Group;
}

/** Strips found before, by gear: each stem and corner asks for the same ones with every choice of legs and picks. */
const padTables = new WeakMap<Gear, Map<string, readonly Pad[]>>();

/** Strip widths x >= 0 for which base + x is one rigid group: 0 first if that works, then the narrowest few. */
export const padsFor = (ctx: RunContext, baseGu: number, both: boolean): readonly Pad[] =>
  padsHeld(ctx, baseGu, both, null);

/** The same for a strip that lets a closed room go: never 0, and no narrower than such strips are. */
export const stripsFor = (ctx: RunContext, baseGu: number, both: boolean, times = 1): readonly Pad[] =>
  ctx.stripGu === null ? [] : padsHeld(ctx, baseGu, both, times * ctx.stripGu);

const padsHeld = (
  { gear, pressureKpa }: RunContext,
  baseGu: number,
  both: boolean,
  leastGu: number | null,
): readonly Pad[] => {
  const table = padTables.get(gear) ?? new Map<string, readonly Pad[]>();
  padTables.set(gear, table);
  const key = `${pressureKpa} ${baseGu} ${both} ${leastGu}`;
  const pads = table.get(key) ?? padsOf(gear, pressureKpa, baseGu, both, leastGu);
  table.set(key, pads);
  return pads;
};

const padsOf = (gear: Gear, pressureKpa: number, baseGu: number, both: boolean, leastGu: number | null): Pad[] => {
  const plain = baseGu > 0 && leastGu === null ? exactGroup(gear, baseGu, pressureKpa, both) : null;
  const found: Pad[] = [];
  const from = Math.max(gear.timberLeastGu, leastGu ?? 0);
  // A strip that lets a room go is no wider than needs no backing, if that can be.
  const mostGu = leastGu !== null && from <= gear.timberMostGu ? gear.timberMostGu : gear.timberLimitGu;
  for (let x = from; x <= mostGu && found.length < PADS_TRIED; x++) {
    const group = exactGroup(gear, baseGu + x, pressureKpa, both);
    if (group) found.push({ padGu: x, group });
  }
  return plain ? [{ padGu: 0, group: plain }, ...found] : found;
};

export const span = (a: number, b: number) => ({ fromGu: Math.min(a, b), toGu: Math.max(a, b) });

/** An end at which nothing stands but the joint itself, with what hangs there on either face, as a strip. */
export const bareBound = (jointGu: number, hangsGu: number, cost: Cost = ZERO_COST): Bound => ({
  jointGu,
  v: [hangsGu, hangsGu],
  cost,
  left: NO_FACE_ZONE,
  right: NO_FACE_ZONE,
  failure: null,
  rule: null,
});

/** Leg and strip on a face, from its vertex towards the zone (`d` is +1 at a run's start). */
export const legZone = (
  vertex: string,
  stationGu: number,
  d: 1 | -1,
  legGu: number,
  padGu: number,
  isStrip = false,
): FaceZone => ({
  ...NO_FACE_ZONE,
  legs: [{ vertex, ...span(stationGu, stationGu + d * legGu) }],
  pads:
    padGu > 0
      ? [{ ...span(stationGu + d * legGu, stationGu + d * (legGu + padGu)), ...(isStrip ? { isStrip } : {}) }]
      : [],
});

/** The same group seen from its other end. */
export const flip = (group: Group): Group => ({
  ...group,
  low: group.high,
  high: group.low,
  holesGu: group.holesGu.map((h) => group.lengthGu - h).sort((a, b) => a - b),
});

/** An end that this version does not lay out: the zone begins behind both faces' ends, the rest is marked. */
export const openBound = (ctx: RunContext, end: RunEnd, d: 1 | -1, why: string): Bound => {
  const left = ctx.toGu(end.leftMm);
  const right = ctx.toGu(end.rightMm);
  const jointGu = d === 1 ? Math.max(left, right) : Math.min(left, right);
  const rest = (at: number): FaceZone => ({ ...NO_FACE_ZONE, unsolved: at === jointGu ? null : span(at, jointGu) });
  return {
    jointGu,
    v: [0, 0],
    cost: ctx.cost({ failures: 1 }),
    left: rest(left),
    right: rest(right),
    failure: why,
    rule: 'fit.end-not-laid-out',
  };
};

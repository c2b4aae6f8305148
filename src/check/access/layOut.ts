/** Lays out access platforms (rule T15): on one side of each run that is high enough, brackets at joints of panels, floor, guards, ladder. */

import type { BracketItem, CornerDeck, Platform, Run, Side } from '../../ground/vocabulary.js';
import { chooseAmong } from '../bracing/choosePlaces.js';
import { type FormLine, isHeldByCorners, jointsAt } from '../bracing/formLines.js';
import { RULES, type SiteOptions } from '../bracing/options.js';
import { other, sideFor, wallSides } from '../bracing/sides.js';
import { reachOfLine } from '../bracing/tubes.js';
import type { Context } from '../context.js';
import {
  BRACKETS_MOST_MM,
  FLOOR_UNDER_MM,
  floorMost,
  floorWeight,
  LEAST_WIDTH_MM,
  OVERHANG_MM,
  RAILS,
} from './codes.js';
import { cornersOf, decksOf, guardsOf } from './corners.js';
import { deckParts } from './deck.js';

type Unnamed = Omit<Platform, 'id' | 'joins' | 'endRails' | 'guardMm' | 'ladderMm' | 'parts'>;

export const isHigh = (run: Run, { dropMm }: SiteOptions): boolean => run.topMm - run.footingMm > dropMm;

/** The bracket that is used: wide enough, the lightest. */
export const bracketOf = (ctx: Context, { code }: SiteOptions): BracketItem | null =>
  [...(ctx.catalogue.brackets ?? [])]
    .filter((b) => b.widthMm >= LEAST_WIDTH_MM[code] - 1)
    .sort((a, b) => a.massKg - b.massKg || (a.id < b.id ? -1 : 1))[0] ?? null;

const NEAR_MM = 1;

/** Joints on which a bracket may hang: of two panels or fillers over its whole height, none of which comes out as a clean-out. */
export const bracketJoints = (
  line: FormLine,
  floorMm: number,
  bracket: BracketItem,
  cleanOuts: ReadonlySet<string>,
): number[] => {
  const footMm = floorMm - bracket.heightMm;
  const levels = [floorMm - NEAR_MM, (floorMm + footMm) / 2, footMm + NEAR_MM];
  const isGood = (s: number): boolean => {
    const beside = line.covers.filter(
      ({ cover: c }) =>
        (Math.abs(c.fromMm - s) < NEAR_MM || Math.abs(c.toMm - s) < NEAR_MM) && c.baseMm < floorMm && c.topMm > footMm,
    );
    return (
      beside.length >= 2 &&
      beside.every(({ piece }) => (piece.kind === 'panel' || piece.kind === 'filler') && !cleanOuts.has(piece.id))
    );
  };
  const everywhere = levels.map((z) => new Set(jointsAt(line, z).map((s) => Math.round(s))));
  return jointsAt(line, levels[0]!).filter((s) => isGood(s) && everywhere.every((set) => set.has(Math.round(s))));
};

/** Widest spacing of brackets: the catalogue's, the code's, the planks' and what the load allows. */
export const spacingMost = (ctx: Context, bracket: BracketItem, { code, platformKpa }: SiteOptions): number => {
  const { planks = [] } = ctx.catalogue;
  const span = planks.length > 0 ? Math.max(...planks.map((p) => p.spanMm)) : Number.POSITIVE_INFINITY;
  return Math.min(
    BRACKETS_MOST_MM,
    bracket.spacingMm,
    span,
    floorMost(code, bracket, platformKpa, floorWeight(planks)),
  );
};

/** Runs of joints none further from the next than brackets may be. */
const within = (joints: readonly number[], mostMm: number): number[][] => {
  const groups: number[][] = [];
  for (const s of joints) {
    const last = groups.at(-1);
    if (last && s - last.at(-1)! <= mostMm) last.push(s);
    else groups.push([s]);
  }
  return groups.filter((g) => g.length > 1);
};

const platformsOn = (
  ctx: Context,
  line: FormLine,
  bracket: BracketItem,
  options: SiteOptions,
  cleanOuts: ReadonlySet<string>,
): Unnamed[] => {
  const floorMm = line.pourMm - FLOOR_UNDER_MM[options.code];
  if (floorMm - bracket.heightMm < line.baseMm) return [];
  const mostMm = spacingMost(ctx, bracket, options);
  const { lowMm: low, highMm: high } = reachOfLine(line, ctx.catalogue.frameDepthMm);
  // Planks reach past the last bracket by a least length.
  const joints = bracketJoints(line, floorMm, bracket, cleanOuts).filter(
    (s) => s - low >= OVERHANG_MM[0] && high - s >= OVERHANG_MM[0],
  );
  return within(joints, mostMm).map((group): Unnamed => {
    const [first, last] = [group[0]!, group.at(-1)!];
    const brackets = chooseAmong(group, { fromMm: first, toMm: last, endMostMm: 0, spacingMostMm: mostMm })!;
    return {
      item: bracket.id,
      face: line.face.id,
      run: line.run.id,
      fromMm: Math.max(low, first - OVERHANG_MM[1]),
      toMm: Math.min(high, last + OVERHANG_MM[1]),
      levelMm: floorMm,
      widthMm: bracket.widthMm,
      brackets,
      rails: RAILS[options.code],
    };
  });
};

export interface LaidPlatforms {
  readonly platforms: readonly Platform[];
  /** Inner angles in which two floors meet, with what closes the holes there. */
  readonly corners: readonly { readonly platforms: readonly [string, string] }[];
  readonly decks: readonly CornerDeck[];
}

/** Names them, joins those that meet, gives each joined set one ladder. */
const joined = (ctx: Context, made: readonly Unnamed[]): LaidPlatforms => {
  const corners = cornersOf(ctx, made);
  const id = (i: number) => `PF${i + 1}`;
  const guards = guardsOf(ctx, made, corners);
  const joins = made.map((): [string | null, string | null] => [null, null]);
  const lowest = made.map((_, i) => i);
  const rootOf = (i: number): number => (lowest[i] === i ? i : rootOf(lowest[i]!));
  for (const { a, b, endA, endB } of corners) {
    joins[a]![endA] = id(b);
    joins[b]![endB] = id(a);
    const [x, y] = [rootOf(a), rootOf(b)];
    lowest[Math.max(x, y)] = Math.min(x, y);
  }
  const platforms = made.map((p, i): Platform => {
    const endRails: [boolean, boolean] = [joins[i]![0] === null, joins[i]![1] === null];
    const [first, second] = p.brackets;
    const ladderMm = rootOf(i) === i ? (first! + second!) / 2 : null;
    const whole = { ...p, joins: joins[i]!, endRails, guardMm: guards[i]!, ladderMm };
    return { id: id(i), ...whole, parts: deckParts(whole, ctx.catalogue) };
  });
  return {
    platforms,
    corners: corners.map(({ a, b }) => ({ platforms: [id(a), id(b)] })),
    decks: decksOf(ctx, made, corners, id),
  };
};

/** The side of a run that has no braces, or the one that is asked for. */
export const platformSides = (
  ctx: Context,
  braced: ReadonlyMap<string, Side>,
  options: SiteOptions,
): ((run: Run) => Side) => {
  const sides = wallSides(ctx);
  return (run) => {
    if (options.platforms !== null) return sideFor(sides, run, options.platforms);
    return other(braced.get(run.id) ?? sides.outside(run));
  };
};

export const layOutPlatforms = (
  ctx: Context,
  lines: readonly FormLine[],
  braced: ReadonlyMap<string, Side>,
  options: SiteOptions,
  cleanOuts: ReadonlySet<string>,
): LaidPlatforms => {
  const bracket = bracketOf(ctx, options);
  if (!bracket) return { platforms: [], corners: [], decks: [] };
  const sideOf = platformSides(ctx, braced, options);
  const made = lines
    .filter((l) => isHigh(l.run, options) && l.side === sideOf(l.run) && !isHeldByCorners(l, RULES.shortMm))
    .flatMap((line) => platformsOn(ctx, line, bracket, options, cleanOuts));
  return joined(ctx, made);
};

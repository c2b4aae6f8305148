/**
 * Check: a layout against the layout rules T1, T2, T10 and T11, from its pieces, ties and groups alone. It shares no statics with the fit:
 * reactions by the matrix of the chain, stability by matching and by plain iteration, holes from the catalogue's own lists.
 *
 * Bars and obstacles are those of a model or of the job file; bars that a drawing notes have no places. Clamps are set here, by the loads that come to
 * them; aligners, braces and platforms are laid out here too (./site.ts) and then judged like the rest.
 */

import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { describeRun, middleOf } from '../ground/runs.js';
import type { CheckedLayout, CheckedTie, PressureCase } from '../ground/vocabulary.js';
import { bendFindings } from './bends.js';
import { bulkheadFindings } from './bulkheads.js';
import { clampedJoints, clampFindings } from './clamps/findings.js';
import { layOutClamps, loadedJoints } from './clamps/index.js';
import { cleanOutFindings } from './cleanOut.js';
import { type CheckInput, type Context, contextOf, placeOn } from './context.js';
import { coverFindings } from './cover.js';
import { curveFindings } from './curves.js';
import { boardFindings } from './fillBoards.js';
import { groupFindings } from './groups.js';
import { DEFAULT_HAND_SET, handlingFindings } from './handling.js';
import { inPlaneFindings } from './inPlane.js';
import { inTheWayFindings } from './inTheWay.js';
import { returnFindings } from './jogs.js';
import { checkRun, type RunChecks } from './loads.js';
import { missingTies } from './missingTies.js';
import { openingFindings } from './openings.js';
import { overLowerFindings } from './overLower.js';
import { pieceFindings } from './pieces.js';
import { rateFindings } from './rateFindings.js';
import { ratesOf } from './rates.js';
import { jointMoments, rateUnits, type WallLoad } from './ratings.js';
import { risingFindings, risingRun } from './risingRuns.js';
import { roomFindings } from './rooms.js';
import { seatFindings } from './seat.js';
import { siteOf } from './site.js';
import { stripSum } from './stripSums.js';
import { tieKindFindings } from './tieKinds.js';
import { tieFindings } from './ties.js';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export type { CheckInput } from './context.js';

/** What loads each run; runs without a stack, rows or pressure are named by a failure. */
const wallLoads = (ctx: Context): { loads: Map<string, WallLoad>; findings: Finding[] } => {
  const loads = new Map<string, WallLoad>();
  const findings: Finding[] = [];
  for (const run of ctx.plan.runs) {
    const demand = ctx.demands.get(run.id);
    const pressure = ctx.pressure.get(run.id);
    const rows = [...(demand?.rows ?? []), ...(demand?.turnedTop?.rows ?? [])];
    if (demand && pressure && rows.length > 0) {
      loads.set(run.id, { demand, pressure, footingMm: run.footingMm, topMm: run.topMm });
      continue;
    }
    const lacking = !demand ? 'no stack of courses' : !pressure ? 'no pressure' : 'no tie row';
    const at = placeOn(ctx, run.wall, null, middleOf(run));
    const message = `${capital(describeRun(run))} has ${lacking}, so its ties and units are not checked.`;
    findings.push(finding('check.not-checked', message, { at, subject: run.wall }));
  }
  return { loads, findings };
};

/** Ties of walls that are not checked keep their place, without a load. */
const unchecked = (ctx: Context, tieId: string): CheckedTie => {
  const tie = ctx.layout.ties.find((t) => t.id === tieId)!;
  const workingLoadKn = ctx.tieItems.get(tie.item)?.workingLoadKn ?? 0;
  return { ...tie, loadKn: 0, stripKn: 0, workingLoadKn, governingFace: '' };
};

/** The pressure cases of all runs in their order, each once, and which of them a run has. */
const pressureCases = (ctx: Context): { cases: PressureCase[]; caseOfRun: Map<string, number> } => {
  const places = new Map<string, number>();
  const cases: PressureCase[] = [];
  const caseOfRun = new Map<string, number>();
  for (const run of ctx.plan.runs) {
    const pressure = ctx.pressure.get(run.id);
    if (!pressure) continue;
    const key = JSON.stringify(pressure);
    const place = places.get(key) ?? cases.push(pressure) - 1;
    places.set(key, place);
    caseOfRun.set(run.id, place);
  }
  return { cases, caseOfRun };
};

const merged = <V>(maps: readonly ReadonlyMap<string, V>[]): Map<string, V> => new Map(maps.flatMap((m) => [...m]));

/** The runs of a wall share its faces. */
const joined = <V>(maps: readonly ReadonlyMap<string, readonly V[]>[]): Map<string, readonly V[]> => {
  const all = new Map<string, V[]>();
  for (const map of maps) for (const [key, list] of map) all.set(key, [...(all.get(key) ?? []), ...list]);
  return all;
};

/**
 * Checks a layout. `demands` and `pressure` are by run id; a run that lacks one is a failure and its ties carry 0 in the result.
 *
 * Tie load = row load x the larger of the two faces' exact chain reactions (strips where a face's line is a mechanism, which is a failure of
 * its own). Every rule that is not met is a finding with the rule's number and the tie, piece, group or wall as its subject. Ties keep the
 * layout's order; ratings the order of the pieces; findings are sorted by compareFindings.
 */
export const check = (input: CheckInput): Staged<CheckedLayout> => {
  const ctx = contextOf(input);
  const { loads, findings } = wallLoads(ctx);
  const checked = ctx.plan.runs.flatMap((run) => {
    const load = loads.get(run.id);
    return load ? [{ run, load, checks: checkRun(ctx, run, load) }] : [];
  });
  const walls: RunChecks[] = checked.map((c) => c.checks);
  const rising = checked.flatMap(({ run, load }) => risingRun(ctx, run, load) ?? []);
  const rated = rateUnits(ctx, loads, merged(walls.map((w) => w.spans)));
  const ties = new Map(walls.flatMap((w) => w.ties.map((t) => [t.id, t])));
  const held = merged(walls.map((w) => w.held));
  const joints = loadedJoints(ctx, { loads, held, shears: joined(walls.map((w) => w.shears)) });
  const clamps = input.clamps ?? layOutClamps(ctx, joints);
  const rates =
    input.rates && ctx.plan.runs.length > 0
      ? ratesOf(ctx, loads, clampedJoints(ctx, joints, clamps), input.rates)
      : undefined;
  const all = [
    ...findings,
    ...coverFindings(ctx),
    ...pieceFindings(ctx),
    ...groupFindings(
      ctx,
      walls.flatMap((w) => w.lines),
    ),
    ...tieFindings(ctx),
    ...bendFindings(ctx),
    ...curveFindings(ctx, input.chordMostMm ?? Number.POSITIVE_INFINITY),
    ...inTheWayFindings(ctx),
    ...handlingFindings(ctx, input.handSet ?? DEFAULT_HAND_SET),
    ...cleanOutFindings(ctx),
    ...roomFindings(ctx),
    ...seatFindings(ctx),
    ...openingFindings(ctx, loads),
    ...walls.flatMap((w) => w.findings),
    ...rated.findings,
    ...jointMoments(ctx, loads),
    ...returnFindings(ctx, loads),
    ...inPlaneFindings(ctx, loads, held),
    ...clampFindings(ctx, joints, clamps),
    ...(rates ? rateFindings(rates) : []),
    ...boardFindings(ctx, loads),
    ...bulkheadFindings(ctx, loads),
    ...overLowerFindings(ctx, loads),
    ...risingFindings(ctx, rising),
    ...tieKindFindings(ctx, input.coverOfBars),
  ];
  const site = input.site ? siteOf(ctx, input.site, clamps) : null;
  all.push(...(site?.findings ?? []));
  const { pieces, groups, tiers, work } = ctx.layout;
  const { cases, caseOfRun } = pressureCases(ctx);
  const value: CheckedLayout = {
    pieces,
    ties: ctx.layout.ties.map((t) => ties.get(t.id) ?? unchecked(ctx, t.id)),
    groups,
    tiers,
    work,
    ratings: rated.ratings,
    clamps,
    pressure: cases,
    missingTies: missingTies(
      ctx,
      checked.map(({ run, load, checks }) => ({ run, load, lines: checks.lines, ties: checks.ties })),
    ),
    rising,
    stripSums: checked.flatMap(({ run, load, checks }) => stripSum(run, load, checks.ties) ?? []),
    caseOfRun,
    ...(rates ? { rates } : {}),
    ...(site?.value ?? {}),
  };
  return { value, findings: all.sort(compareFindings) };
};

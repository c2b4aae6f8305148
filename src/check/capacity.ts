/**
 * The largest design pressure that the forms of a run carry, by bisection through the loads of the check: rows, ties, spans, overhangs, ratings, stiff joints,
 * returns, boards of fill and clamps. Every method has one family of envelopes, a fluid's slope down to the design pressure, so that one number tells what a run carries.
 * Lines of forms and reactions of hinged chains do not depend on the pressure and are worked out once (context.ts: memo).
 */

import type { Finding } from '../ground/findings.js';
import { listsBy } from '../ground/groups.js';
import type { LimitItem, Piece, RowLoad, Run, Stack } from '../ground/vocabulary.js';
import { envelopeOf } from './cases.js';
import { type ClampedJoint, overloads } from './clamps/findings.js';
import { jointUnder } from './clamps/index.js';
import type { Context } from './context.js';
import { boardFindings } from './fillBoards.js';
import { returnFindings } from './jogs.js';
import { checkRun } from './loads.js';
import { isMixed } from './mixedColumns.js';
import { jointMoments, rateUnits, runsOf, type WallLoad } from './ratings.js';
import { rowLoads } from './rows.js';

/** Failures that come and go with the pressure. */
const BY_PRESSURE: ReadonlySet<string> = new Set([
  'check.tie-overload',
  'check.rating',
  'check.joint-moment',
  'check.overhang',
  'check.return-not-held',
  'check.row-pushed',
  'check.tie-pushed',
  'check.clamp-overload',
  'check.timber-span',
]);
/** Failures that no pressure cures: what a run carries is not known. */
const AT_ANY: ReadonlySet<string> = new Set([
  'check.mechanism',
  'check.course-without-row',
  'check.no-row',
  'check.tie-row',
  'check.not-checked',
]);

/** A run alone with what belongs to it, and what loads it. */
export interface RunAlone {
  readonly ctx: Context;
  readonly run: Run;
  readonly load: WallLoad;
  /** Rise of a fluid's pressure, kPa per m. */
  readonly slopeKpaPerM: number;
  readonly fluidKpa: number;
  readonly joints: readonly ClampedJoint[];
}

/** Every run that is checked, alone. */
export const runsAlone = (
  ctx: Context,
  loads: ReadonlyMap<string, WallLoad>,
  clamped: readonly ClampedJoint[],
): RunAlone[] => {
  const joints = listsBy(
    clamped.filter((c) => c.set.length > 0),
    (c) => c.loaded.on?.load,
  );
  const pieces = new Map<string, Piece[]>();
  for (const piece of ctx.layout.pieces)
    for (const id of new Set(runsOf(ctx, piece).map((r) => r.id))) pieces.set(id, [...(pieces.get(id) ?? []), piece]);
  return ctx.plan.runs.flatMap((run) => {
    const load = loads.get(run.id);
    const point = load?.pressure.envelope.points[0];
    if (!load || !point || !(point.depthMm > 0)) return [];
    const slopeKpaPerM = (point.kpa / point.depthMm) * 1000;
    const { layout, plan } = ctx;
    const own: Context = {
      ...ctx,
      plan: { ...plan, runs: [run] },
      layout: {
        ...layout,
        pieces: pieces.get(run.id) ?? [],
        groups: layout.groups.filter((g) => g.run === run.id),
        ties: layout.ties.filter((t) => t.run === run.id),
      },
    };
    const fluidKpa = (slopeKpaPerM * load.pressure.pourHeightMm) / 1000;
    return [{ ctx: own, run, load, slopeKpaPerM, fluidKpa, joints: joints.get(load) ?? [] }];
  });
};

/** The load of a run under another design pressure. */
const loadAt = (
  { load, slopeKpaPerM, run }: RunAlone,
  kpa: number,
): { load: WallLoad; findings: readonly Finding[] } => {
  const envelope = envelopeOf(kpa, slopeKpaPerM);
  const { demand, pressure, footingMm, topMm } = load;
  const rowsOf = (stack: Stack, rows: readonly RowLoad[]) => {
    const rowLevelsMm = rows.map((r) => r.levelMm);
    const liftMm = pressure.pourHeightMm;
    const made = rowLoads({ stack, rowLevelsMm, footingMm, topMm, envelope, liftMm, subject: run.wall });
    const at = new Map(made.value.map((r) => [r.levelMm, r]));
    return { rows: rows.map((r) => ({ ...r, ...at.get(r.levelMm), row: r.row })), findings: made.findings };
  };
  const { stack, turnedTop } = demand;
  const made = rowsOf(stack, demand.rows);
  const turnedStack = turnedTop && { ...stack, heightsMm: [...stack.heightsMm.slice(0, -1), turnedTop.heightMm] };
  const turned = turnedStack && { turnedTop: { ...turnedTop, rows: rowsOf(turnedStack, turnedTop.rows).rows } };
  return {
    load: {
      demand: { ...demand, ...turned, rows: made.rows, designKpa: kpa },
      pressure: { ...pressure, designKpa: kpa, envelope },
      footingMm,
      topMm,
    },
    findings: made.findings,
  };
};

const itemOf = (run: Run, { code, rule, subject, message }: Finding): LimitItem => ({
  code,
  rule,
  subject,
  wall: run.wall,
  message,
});

export interface Failing {
  /** What a lower pressure would cure. */
  readonly items: readonly LimitItem[];
  /** What none would. */
  readonly never: readonly LimitItem[];
}

/** What fails in a run under a design pressure, in the order of the check. */
export const failingAt = (one: RunAlone, kpa: number): Failing => {
  const { ctx, run } = one;
  const { load, findings } = loadAt(one, kpa);
  const loads = new Map([[run.id, load]]);
  const checks = checkRun(ctx, run, load);
  // Where panels lie on their side the columns tell of their own rows.
  const ofRows = isMixed(ctx, run) ? [] : findings;
  const all = [
    ...ofRows,
    ...checks.findings,
    ...rateUnits(ctx, loads, checks.spans).findings,
    ...jointMoments(ctx, loads),
    ...returnFindings(ctx, loads),
    ...boardFindings(ctx, loads),
    ...one.joints.flatMap(({ loaded, set }) => overloads(ctx, jointUnder(ctx, loaded, load), set)),
  ].filter((f) => f.severity === 'failure');
  return {
    items: all.filter((f) => BY_PRESSURE.has(f.code)).map((f) => itemOf(run, f)),
    never: all.filter((f) => AT_ANY.has(f.code)).map((f) => itemOf(run, f)),
  };
};

/** What a run carries. */
export interface Capacity {
  readonly one: RunAlone;
  /** null: full fluid pressure. */
  readonly mostKpa: number | null;
  /** What fails first above it; null where nothing does, or where the run was only held against what another one carries. */
  readonly item: LimitItem | null;
  /** Where no pressure is carried: why. */
  readonly never: readonly LimitItem[];
  readonly underFluid: readonly LimitItem[];
}

/** The bisection ends when the bounds are as close as this, kPa. */
const CLOSE_KPA = 1e-6;
/** A pressure that any form carries, as a share of fluid pressure: what fails under it fails under all. */
const LEAST_SHARE = 1e-3;

/**
 * Largest design pressure that the run carries; the pressure that it was laid out for is tried first. A run that carries `enoughKpa` is not looked at
 * further: another one poured alike carries no more.
 */
export const capacityOf = (one: RunAlone, enoughKpa: number | null = null): Capacity => {
  const { fluidKpa, load } = one;
  const fluid = failingAt(one, fluidKpa);
  const underFluid = fluid.items;
  if (fluid.never.length > 0) return { one, mostKpa: 0, item: null, never: fluid.never, underFluid };
  if (underFluid.length === 0) return { one, mostKpa: null, item: null, never: [], underFluid };
  if (enoughKpa !== null && failingAt(one, enoughKpa).items.length === 0)
    return { one, mostKpa: enoughKpa, item: null, never: [], underFluid };
  let high = { kpa: fluidKpa, items: underFluid };
  let lowKpa = fluidKpa * LEAST_SHARE;
  const atDesign = failingAt(one, load.pressure.designKpa).items;
  if (atDesign.length === 0) lowKpa = load.pressure.designKpa;
  else {
    high = { kpa: load.pressure.designKpa, items: atDesign };
    const least = failingAt(one, lowKpa).items;
    if (least.length > 0) return { one, mostKpa: 0, item: null, never: least, underFluid };
  }
  while (high.kpa - lowKpa > CLOSE_KPA) {
    const kpa = (lowKpa + high.kpa) / 2;
    const { items } = failingAt(one, kpa);
    if (items.length === 0) lowKpa = kpa;
    else high = { kpa, items };
  }
  return { one, mostKpa: lowKpa, item: high.items[0]!, never: [], underFluid };
};

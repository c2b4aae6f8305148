/** Curved walls beside the straight ones: what they add to the cost of the job, and what is said of them. */

import { versineMm } from '../ground/arcs.js';
import { type Finding, finding } from '../ground/findings.js';
import { placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, RunEnd } from '../ground/vocabulary.js';
import type { SolvedArc } from './arcs.js';
import { addCost } from './cost.js';
import { tiesFor } from './gear.js';
import type { FitOptions } from './options.js';
import type { SolvedPlan } from './plan.js';
import { stockByPour, stockKey } from './stock/keys.js';

/** What hangs of a curved wall's fill on the straight wall at a node: half of it. */
const hangingAt = (arcs: readonly SolvedArc[], node: string): number =>
  arcs
    .flatMap(({ run, joints }) => [
      ...(run.start.node === node ? joints.filter((j) => j.fromMm <= run.start.leftMm) : []),
      ...(run.end.node === node ? joints.filter((j) => j.toMm >= run.end.leftMm) : []),
    ])
    .reduce((most, j) => Math.max(most, (j.toMm - j.fromMm) / 2), 0);

/** The straight runs of a plan, which are solved together, with what hangs on them where curved walls go on. */
export const straightOf = (plan: FacePlan, arcs: readonly SolvedArc[]): FacePlan => {
  const curved = new Set(plan.walls.filter((w) => w.arc).map((w) => w.id));
  if (curved.size === 0) return plan;
  const loaded = (end: RunEnd): RunEnd =>
    end.kind === 'tangent' ? { ...end, hangsMm: hangingAt(arcs, end.node) } : end;
  const runs = plan.runs.filter((r) => !curved.has(r.wall));
  return { ...plan, runs: runs.map((r) => ({ ...r, start: loaded(r.start), end: loaded(r.end) })) };
};

/** What the yard has left for straight walls: curved ones take theirs first, since fewer widths stand on them. */
export const stockBeside = (
  plan: FacePlan,
  { stock, ties }: Catalogue,
  arcs: readonly SolvedArc[],
): ReadonlyMap<string, number> => {
  const left = stockByPour(plan, stock);
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour]));
  for (const { run, demand, forms } of arcs) {
    const take = (item: string | undefined, n: number): void => {
      if (item === undefined) return;
      const key = stockKey(item, pourOf.get(run.wall));
      const had = left.get(key);
      if (had !== undefined) left.set(key, Math.max(0, had - n));
    };
    const tie = tiesFor({ ties }, run.thicknessMm)[0]?.id;
    for (const { panel, tiesMm } of forms) {
      for (const unit of panel.items) take(unit.id, 2);
      take(tie, tiesMm.length * demand.rows.length);
    }
  }
  return left;
};

/** Cost, bound and work of the whole job. */
export const withArcs = (solved: SolvedPlan, arcs: readonly SolvedArc[]): SolvedPlan => {
  let { cost, bound, work, cutShort } = solved;
  for (const arc of arcs) {
    cost = addCost(cost, arc.cost);
    bound = addCost(bound, arc.bound);
    work += arc.work;
    cutShort ||= arc.cutShort;
  }
  return { ...solved, cost, bound, work, cutShort };
};

const middleMm = ({ start, end }: Run): number => (start.leftMm + end.leftMm) / 2;

const mm = (n: number): string => plainNumber(n, 1);

const chordFinding = (plan: FacePlan, arc: SolvedArc): Finding => {
  const { run, wall, forms, joints, gear } = arc;
  const widths = new Map<number, number>();
  for (const { panel } of forms) widths.set(panel.widthGu, (widths.get(panel.widthGu) ?? 0) + 1);
  const named = [...widths].map(([w, n]) => `${n} of ${mm(w * gear.gridMm)} mm`).join(', ');
  const widest = Math.max(...widths.keys()) * gear.gridMm;
  const versine = versineMm(wall.arc.innerRadiusMm, widest);
  const most = (of: (j: (typeof joints)[number]) => number) => mm(Math.max(0, ...joints.map(of)));
  const fill =
    joints.length === 0
      ? ''
      : ` Between them stands tapered timber, at the concrete up to ${most((j) => j.inner.faceMm)} mm wide on the inner and ${most((j) => j.outer.faceMm)} mm on the outer face.`;
  const message = `Curved wall ${wall.id} (inner radius ${mm(wall.arc.innerRadiusMm)} mm) is formed by chords, on each face ${named}. Their joints lie on the arcs, the middles of the widest ${mm(versine)} mm nearer to the centre, on both faces alike.${fill}`;
  return finding('fit.curve-chords', message, { at: placeAlong(plan, wall.id, middleMm(run)), subject: wall.id });
};

/** Fill that needs backing: once for a wall, with its widest. */
const wideFindings = (plan: FacePlan, { wall, joints, gear }: SolvedArc): Finding[] => {
  const widthOf = (j: (typeof joints)[number]) => Math.max(j.inner.faceMm, j.outer.faceMm);
  const wide = joints.filter((j) => widthOf(j) > gear.timberMostGu * gear.gridMm);
  const widest = Math.max(...wide.map(widthOf));
  const [first] = wide;
  if (!first) return [];
  const at = placeAlong(plan, wall.id, (first.fromMm + first.toMm) / 2);
  const message = `${wide.length} joints of curved wall ${wall.id} have timber up to ${mm(widest)} mm wide, which needs backing.`;
  return [finding('fit.timber-wide', message, { at, subject: wall.id })];
};

/** What is said of each curved wall: how it is formed, or why it is not. */
export const arcFindings = (plan: FacePlan, arcs: readonly SolvedArc[], options: FitOptions): Finding[] =>
  arcs.flatMap((arc) => {
    const { run, wall, refused } = arc;
    const at = placeAlong(plan, wall.id, middleMm(run));
    const cut = arc.cutShort
      ? [
          finding('fit.cut-short', `The search on curved wall ${wall.id} reached its limit of steps.`, {
            at,
            subject: wall.id,
          }),
        ]
      : [];
    if (refused === null) return [chordFinding(plan, arc), ...wideFindings(plan, arc), ...cut];
    const message = `No forms stand on curved wall ${wall.id}: ${refused}.`;
    const assumed = `nothing is formed there; chords may leave the arc by ${mm(options.chordMostMm)} mm`;
    return [finding('fit.curve-refused', message, { at, subject: wall.id, assumed }), ...cut];
  });

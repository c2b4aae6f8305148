/**
 * Fit: FacePlan + catalogue → Layout. The least formable layout of both faces of every wall, with the bound that proves it.
 *
 * Done: straight runs, corners, tees and crosses of any angle, free ends, steps, stacks of courses, hinged chain with exact tie reactions, ties clear of
 * bars, pipes, sleeves and openings, jogs, curved walls, panels on their side, limited stock. What is not laid out is said by findings.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { describeRun, middleOf, placeAlong, runAt, runOfArm } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Layout, Run, RunDemand } from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { arcFindings, stockBeside, straightOf, withArcs } from './arcFindings.js';
import { type SolvedArc, solveArcs } from './arcs.js';
import { barAdvice } from './barShift.js';
import { bendFindings } from './bendFindings.js';
import type { Bound } from './bound.js';
import { withCleanOuts, withoutCleanOut } from './cleanOuts.js';
import { cornerFindings, jogFindings, returnFindings, vertexFindings } from './cornerFindings.js';
import { compareTiers, costOrder, type Prices } from './cost.js';
import { type Emitted, emit } from './emit.js';
import { tiesFor } from './gear.js';
import { growthFindings } from './growth.js';
import { withJointsAtOpenings } from './joints.js';
import { fewerKinds } from './kinds.js';
import { nicheFinding } from './niches.js';
import type { FitOptions } from './options.js';
import { servesBoth } from './overLower.js';
import { together } from './parts.js';
import { pilasterFindings, type StemBound } from './pilasters.js';
import { modelRuns, type SolvedPlan, type SolvedRun } from './plan.js';
import { searchesOf, solvePlan } from './search.js';
import { stickUpFindings } from './stacks.js';
import { stepFindings } from './stepFindings.js';
import { stockFindings, type Unlimited } from './stock/findings.js';
import { shortCount, shortItems } from './stock/keys.js';
import { underStock } from './stock/limited.js';
import type { Programs } from './stock/programs.js';
import { tiersOf } from './tiers.js';
import { withTopCourses } from './topCourse.js';
import type { ZoneSolution } from './zones.js';

export { laterStarts } from './barShift.js';
export { tiesFor } from './gear.js';
export { DEFAULT_FIT_OPTIONS, type FitOptions, type OrderedTier } from './options.js';
export { gapAreaMm2, type Phase, phaseOf, type Setup, setupsOf } from './phases.js';
export { chooseStacks, type StackChoice, type StackRules } from './stacks.js';
export type { RowRules, Stands } from './standingRows.js';
export { loadPrograms, type Programs } from './stock/programs.js';
export { wishedFindings } from './wished.js';

/** What would help where an opening leaves no tie row over so wide a stretch that no form bridges it. */
const whyNotClear = (plan: FacePlan, { model: { ctx, demand } }: SolvedRun): string => {
  const { panels, overhangGu, gridMm } = ctx.gear;
  const widestMm = Math.max(...panels.map((p) => p.widthGu)) * gridMm;
  const mostMm = widestMm + 2 * overhangGu * gridMm;
  return voidsOf(plan, ctx.run)
    .flatMap((v) => {
      const middle = (v.fromMm + v.toMm) / 2;
      const none = demand.keepClear?.find((k) => k.fromMm <= middle && k.toMm >= middle);
      if (!none || none.toMm - none.fromMm <= mostMm) return [];
      const [reach, most, widest] = [none.toMm - none.fromMm, mostMm, widestMm].map((x) => plainNumber(x, 0));
      return ` Opening ${v.opening} leaves no row of ties that holds a column over ${reach} mm, more than one form of ${widest} bridges between its neighbours (${most}): a head that leaves a row of ties over it, a sill that leaves one under it, walers across it, or a wall that ends at its jambs would help.`;
    })
    .join('');
};

const zoneFindings = (plan: FacePlan, run: SolvedRun, zone: ZoneSolution): Finding[] => {
  const { wall } = run.model.ctx.run;
  const { gridMm } = plan;
  const mm = (guValue: number) => plainNumber(guValue * gridMm, 1);
  const at = placeAlong(plan, wall, ((zone.fromGu + zone.toGu) / 2) * gridMm);
  const where = `between stations ${mm(zone.fromGu)} and ${mm(zone.toGu)} of wall ${wall}`;
  const found: Finding[] = [];
  const niche = nicheFinding(plan, run, zone);
  if (niche) found.push(niche);
  else if (zone.level === 'none') {
    found.push(
      finding(
        'fit.special-form',
        zone.toGu < zone.fromGu
          ? `The corner legs on wall ${wall} overlap by ${mm(zone.fromGu - zone.toGu)} mm; no units of the yard fit there.`
          : zone.cutShort
            ? `The search found no units ${where} within its limit of steps; there may be some.`
            : `No units of the yard fit ${where} (${mm(zone.toGu - zone.fromGu)} mm between the corner legs).`,
        {
          at,
          subject: wall,
          assumed: 'drawn as timber to be designed',
        },
      ),
    );
  }
  if (zone.level === 'not-clear') {
    found.push(
      finding(
        'fit.ties-not-clear',
        `No arrangement ${where} keeps every tie clear of what is in the wall.${whyNotClear(plan, run)}`,
        {
          at,
          subject: wall,
          assumed: 'units shown that stand but for that',
        },
      ),
    );
  }
  if (zone.level === 'not-at-openings') {
    const more = zone.cutShort ? ' that was found within the limit of steps' : '';
    const message = `No arrangement${more} ${where} keeps the ties beside openings within their working load: rows that openings leave take what forms across a jamb hand on. A head or a sill that leaves more rows, a lower rate of rise, or a wall that ends at the jambs would help.`;
    found.push(
      finding('fit.load-not-met', message, { at, subject: wall, assumed: 'units shown that stand but for that' }),
    );
  }
  if (zone.level === 'no-loads') {
    found.push(
      finding('fit.load-not-met', `No arrangement carries ${plainNumber(run.model.ctx.pressureKpa, 1)} kPa ${where}.`, {
        at,
        subject: wall,
        assumed: 'units shown that cover the stretch and stand, loads left out of account',
      }),
    );
  }
  if (zone.cutShort) {
    found.push(finding('fit.cut-short', `The search ${where} reached its limit of steps.`, { at, subject: wall }));
  }
  const pads = [zone.start, zone.end].flatMap((b) => [...b.left.pads, ...b.right.pads]);
  for (const pad of pads.filter((x) => x.toGu - x.fromGu > run.model.ctx.gear.timberMostGu)) {
    const spot = placeAlong(plan, wall, ((pad.fromGu + pad.toGu) / 2) * gridMm);
    const message = `A timber strip ${mm(pad.toGu - pad.fromGu)} mm wide beside a leg of wall ${wall} needs backing.`;
    found.push(finding('fit.timber-wide', message, { at: spot, subject: wall }));
  }
  for (const placed of zone.answer?.placed ?? []) {
    if (placed.tied || placed.lengthGu <= run.model.ctx.gear.timberMostGu) continue;
    const spot = placeAlong(plan, wall, (placed.fromGu + placed.lengthGu / 2) * gridMm);
    const message = `A timber strip ${mm(placed.lengthGu)} mm wide at station ${mm(placed.fromGu)} of wall ${wall} needs backing.`;
    found.push(finding('fit.timber-wide', message, { at: spot, subject: wall }));
  }
  return found;
};

const boundFindings = (plan: FacePlan, run: SolvedRun, bound: Bound | StemBound): Finding[] => {
  if (!bound.failure) return [];
  const { wall } = run.model.ctx.run;
  const joint = 'before' in bound ? (bound.before.jointGu + bound.after.jointGu) / 2 : bound.jointGu;
  const at = placeAlong(plan, wall, joint * plan.gridMm);
  const code = ('rule' in bound ? bound.rule : null) ?? 'fit.special-form';
  return [
    finding(code, `On wall ${wall} ${bound.failure}.`, {
      at,
      subject: wall,
      assumed: 'drawn as timber to be designed',
    }),
  ];
};

const runFindings = (plan: FacePlan, catalogue: Catalogue, run: SolvedRun): Finding[] => {
  const { ctx, demand } = run.model;
  const { wall, thicknessMm } = ctx.run;
  const at = placeAlong(plan, wall, middleOf(ctx.run));
  const found: Finding[] = [];
  if (tiesFor(catalogue, thicknessMm).length === 0) {
    const pushKn = demand.rows.reduce((sum, r) => sum + r.stripKnPerM, 0);
    const push = pushKn > 0 ? ` The concrete pushes each face with ${plainNumber(pushKn, 1)} kN per m of wall.` : '';
    const message = `No tie of the catalogue fits wall ${wall}, ${plainNumber(thicknessMm, 1)} mm thick.${push}`;
    found.push(
      finding('fit.no-tie', message, {
        at,
        subject: wall,
      }),
    );
  }
  if (demand.rows.length === 0 && !demand.turnedTop) {
    found.push(finding('fit.no-row', `No tie row lies in the concrete of wall ${wall}.`, { at, subject: wall }));
  }
  const ends = [run.zones[0]?.start, run.zones[run.zones.length - 1]?.end];
  for (const bound of ends) if (bound && !('before' in bound)) found.push(...boundFindings(plan, run, bound));
  found.push(...cornerFindings(plan, run));
  for (const { bound } of run.stems) found.push(...boundFindings(plan, run, bound));
  for (const zone of run.zones) found.push(...zoneFindings(plan, run, zone));
  return found;
};

const withoutVerticals = (demands: ReadonlyMap<string, RunDemand>): Map<string, RunDemand> =>
  new Map([...demands].map(([wall, { verticals: _, ...rest }]) => [wall, rest]));

/** Where bars of an even spacing cost something: how they would have to start so that they do not. */
const barFindings = (
  plan: FacePlan,
  demands: ReadonlyMap<string, RunDemand>,
  solved: SolvedPlan,
  solveHeedless: () => SolvedPlan,
): Finding[] => {
  const given = solved.runs.filter((r) => demands.get(r.model.ctx.run.id)?.verticals !== undefined);
  if (given.length === 0) return [];
  const heedless = new Map(solveHeedless().runs.map((r) => [r.model.ctx.run.id, r]));
  return given.flatMap((run) => {
    const own = run.model.ctx.run;
    const free = heedless.get(own.id);
    const advice = free ? barAdvice(demands.get(own.id)!.verticals!, run, free) : null;
    if (advice === null) return [];
    const message = `If the vertical bars of ${describeRun(own)} started ${advice}, its ties would clear them without costing units or fill.`;
    return [
      finding('fit.bars-elsewhere', message, { at: placeAlong(plan, own.wall, middleOf(own)), subject: own.wall }),
    ];
  });
};

/** What stands open under the higher of two footings that meet, with the force on it, in words. */
const openBelow = (a: Run, b: Run, demands: ReadonlyMap<string, RunDemand>): string => {
  if (a.footingMm === b.footingMm) return '';
  const [deep, high] = a.footingMm < b.footingMm ? [a, b] : [b, a];
  const kpa = demands.get(deep.id)?.designKpa ?? 0;
  const [height, width] = [high.footingMm - deep.footingMm, high.thicknessMm].map((x) => plainNumber(x, 0));
  const force = plainNumber((kpa * high.thicknessMm) / 1000, 1);
  return ` Over ${height} mm below the footing of wall ${high.wall} nothing closes the ${width} mm where it meets wall ${deep.wall}: up to ${force} kN per m of height, unless its footing stands there.`;
};

/** Corners whose two walls do not take the same courses, where what stands cannot serve both. */
const stackFindings = (plan: FacePlan, demands: ReadonlyMap<string, RunDemand>, solved: SolvedPlan): Finding[] => {
  const serves = servesBoth(plan, solved);
  return plan.vertices.flatMap((v) => {
    const [first, second] = v.arms.map((arm) => runOfArm(plan.runs, arm));
    const [a, b] = [first, second].map((run) => demands.get(run?.id ?? '')?.stack);
    if (v.kind !== 're-entrant' || !first || !second || !a || !b || serves(first, second, v.node)) return [];
    if (a.baseMm === b.baseMm && a.heightsMm.join() === b.heightsMm.join()) return [];
    const walls = v.arms.map((arm) => arm.wall).join(' and ');
    const open = openBelow(first, second, demands);
    return [
      finding('fit.stacks-differ', `Walls ${walls} meet but take different courses.${open}`, {
        at: [v.at.x, v.at.y, 0],
        subject: v.node,
      }),
    ];
  });
};

/** Stretches whose top course only panels on their side could close, and do not. */
const topFindings = (plan: FacePlan, solved: SolvedPlan): Finding[] =>
  solved.runs.flatMap(({ model, zones, tops }) => {
    if (!model.demand.turnedTop?.only) return [];
    const { run } = model.ctx;
    return zones.flatMap((zone, i) => {
      if (tops?.[i] || zone.fromGu >= zone.toGu) return [];
      const [from, to] = [zone.fromGu, zone.toGu].map((s) => s * plan.gridMm) as [number, number];
      const message = `Panels on their side do not close the top course of ${describeRun(run)} between stations ${plainNumber(from, 1)} and ${plainNumber(to, 1)}, and upright ones have no tie row there.`;
      const at = placeAlong(plan, run.wall, (from + to) / 2);
      return [finding('fit.top-course', message, { at, subject: run.wall, assumed: 'upright forms without ties' })];
    });
  });

/** How far the forms of runs stick up in which columns of two heights may stand: that is known only of what was laid out. */
const onSideFindings = (plan: FacePlan, demands: ReadonlyMap<string, RunDemand>, { pieces }: Emitted): Finding[] =>
  plan.runs.flatMap((run) => {
    if (!demands.get(run.id)?.turnedTop) return [];
    const faces = new Set(plan.faces.filter((f) => f.wall === run.wall).map((f) => f.id));
    const tops = pieces.flatMap((p) =>
      p.covers
        .filter((c) => faces.has(c.face) && runAt(plan.runs, run.wall, (c.fromMm + c.toMm) / 2) === run)
        .map((c) => c.topMm),
    );
    return stickUpFindings(plan, run, Math.max(run.topMm, ...tops));
  });

const catalogueFindings = (catalogue: Catalogue): Finding[] => {
  const found: Finding[] = [];
  const legs = catalogue.units.filter((u) => u.legsMm && u.legsMm[0] !== u.legsMm[1]);
  if (legs.length > 0)
    found.push(finding('fit.legs-unused', `${legs.length} inside corners with unequal legs are not used.`));
  const loose = catalogue.units.filter((u) => u.kind === 'filler' && u.stiffTo === null);
  if (loose.length > 0)
    found.push(finding('fit.fillers-unused', `${loose.length} fillers that are not stiff to a panel are not used.`));
  return found;
};

interface Least {
  readonly solved: SolvedPlan;
  readonly emitted: Emitted;
  readonly unlimited?: Unlimited;
}

/** The least layout; where the yard's counts do not suffice for it, the least under them. */
const leastOf = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
  programs: Programs | null,
  arcs: readonly SolvedArc[],
): Least => {
  const order = costOrder(options.costOrder);
  const straight = straightOf(plan, arcs);
  const model = modelRuns(straight, catalogue, demands, options, order);
  const parts = searchesOf(model);
  const first = together(
    model,
    parts.map((p) => p.solve()),
  );
  const laid = (solved: SolvedPlan): Least => ({ solved, emitted: emit(plan, catalogue, solved, arcs) });
  const shortOf = ({ emitted }: Least) => shortCount(shortItems(plan, catalogue, emitted));
  /** A layout changed, unless that takes more of what the yard has too few of. */
  const changed = (before: Least, solved: SolvedPlan): Least => {
    if (solved === before.solved) return before;
    const after = { ...before, ...laid(solved) };
    return programs !== null && shortOf(after) > shortOf(before) ? before : after;
  };
  // Panels on their side in the top course are taken where the yard has them.
  const lain = (upright: Least): Least => changed(upright, withTopCourses(upright.solved, order));
  const opened = (least: Least): Least =>
    options.cleanOuts ? changed(least, withCleanOuts(plan, least.solved)) : least;
  /** What clean-outs ask for may be a width that was given up for fewer kinds: kinds count last. */
  const openedOf = (fewest: Least): Least => {
    const few = opened(fewest);
    if (fewest.solved === first || (few === fewest && withoutCleanOut(plan, few.solved) === 0)) return few;
    const all = opened(laid(first));
    const more = withoutCleanOut(plan, all.solved) - withoutCleanOut(plan, few.solved);
    return (more || compareTiers(all.solved.cost, few.solved.cost)) < 0 ? all : few;
  };
  const jointed = (least: Least): Least => changed(least, withJointsAtOpenings(least.solved));

  // Under the yard's counts a layout of fewer kinds may be the one that the yard has the units for.
  const asIs = !options.fewestKinds && programs === null;
  const fewest = laid(asIs ? first : fewerKinds(straight, catalogue, demands, options, order, first));
  if (programs === null || shortOf(fewest) === 0) return lain(jointed(openedOf(fewest)));
  const unlimited = fewest.solved === first ? fewest : laid(first);
  if (shortOf(unlimited) === 0) return lain(jointed(opened(unlimited)));
  const partsWith = (prices: Prices) =>
    searchesOf(modelRuns(straight, catalogue, demands, options, costOrder(options.costOrder, prices)));
  const stock = stockBeside(plan, catalogue, arcs);
  const solved = underStock(model, parts, first, stock, partsWith, order, programs, options.stepLimit);
  return lain(jointed({ ...laid(solved), unlimited }));
};

/**
 * Lays out every run that has a demand. `demands` is by run id: the stack, the loads of its tie rows and the design pressure. Without `programs` what the
 * yard is short of is counted, and the layout does not give way to it.
 * Never throws for input; what cannot be laid out is covered by timber and named by a failure at its place.
 */
export const fit = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
  programs: Programs | null = null,
): Staged<Layout> => {
  const order = costOrder(options.costOrder);
  const arcs = solveArcs(plan, catalogue, demands, options, order);
  const { solved, emitted, unlimited } = leastOf(plan, catalogue, demands, options, programs, arcs);
  const whole = withArcs(solved, arcs);
  const findings = [
    ...catalogueFindings(catalogue),
    ...stackFindings(plan, demands, solved),
    ...stepFindings(plan, solved),
    ...growthFindings(plan, solved),
    ...solved.runs.flatMap((run) => runFindings(plan, catalogue, run)),
    ...solved.runs.flatMap((run) => pilasterFindings(plan, run)),
    ...arcFindings(plan, arcs, options),
    ...vertexFindings(plan, solved),
    ...bendFindings(plan, catalogue, emitted.pieces),
    ...onSideFindings(plan, demands, emitted),
    ...topFindings(plan, solved),
    ...jogFindings(plan, solved),
    ...returnFindings(plan, solved),
    // Under limited stock a layout that heeds no bars is no measure: it takes what it likes.
    ...(unlimited
      ? []
      : barFindings(plan, demands, solved, () =>
          solvePlan(modelRuns(straightOf(plan, arcs), catalogue, withoutVerticals(demands), options, order)),
        )),
    ...stockFindings(plan, catalogue, solved, emitted, unlimited, order),
  ];
  const failures = findings.filter((f) => f.severity === 'failure').length;
  const short = shortCount(shortItems(plan, catalogue, emitted));
  const tiers = tiersOf(whole, emitted, short, options, order, plan.gridMm, failures);
  const { pieces, ties, groups } = emitted;
  return { value: { pieces, ties, groups, tiers, work: { steps: whole.work, cutShort: whole.cutShort } }, findings };
};

/** The rules by which a run's zones are searched, tables and limits made once for all zones of one height, stack and load. */

import { type RunContext, rowsOfTies, tiedUses } from './bound.js';
import type { ChainLimits } from './chain.js';
import type { Cost } from './cost.js';
import type { Gear, Panel } from './gear.js';
import { makeGroup, spanHolds, stretchGroups, type TiedGroup, tiedGroups } from './groups.js';
import { arcsOf, atEnd, type ChainBit, Togo, type TogoRules } from './togo.js';

export interface Level {
  readonly rules: TogoRules;
  readonly togo: Togo;
  /** Those that hold for every panel that stands upright: what may hang on a tip is the weakest's. */
  readonly limits: ChainLimits;
  /** Those that no panel exceeds: for bounds. */
  readonly widest: ChainLimits;
  readonly limitsOf: (panel: Panel) => ChainLimits;
}

/** Search rules of a run: with loads and ratings, and without. */
export interface Levels {
  readonly strict: Level;
  readonly loose: Level;
  /** The strict rules without the widest panels, one more left out each: what a search that was cut short falls back to. */
  readonly narrower: () => readonly Level[];
  /** The strict rules without groups that lean on both neighbours: quicker, and seldom dearer. */
  readonly unleaning: () => Level;
  /** The strict rules without ties that a chain does not need; last also without panels that take more than two, so that its forces are those of statics. */
  readonly determinate: () => readonly Level[];
}

/** Greatest common divisor of whole numbers. */
export const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Longest stretch between supports that a tied group spans, given whether it is carried or fixed from the left, and whether its right neighbour holds it too. */
const longestSpan = (t: TiedGroup, from: ChainBit, leans: boolean): number => {
  const l = t.group.lengthGu;
  const [h1, h2] = t.tiesGu;
  if (h1 === undefined) return l;
  if (h2 === undefined && from === 0) return l - h1;
  const last = t.tiesGu[t.tiesGu.length - 1]!;
  const between = t.tiesGu.slice(1).map((h, i) => h - t.tiesGu[i]!);
  return Math.max(...between, ...(from === 0 ? [] : [h1]), ...(leans ? [l - last] : []));
};

/** Does the panel of a tied group carry the pressure over its longest span, carried (0) or fixed (1) from the left? `leans`: as of its arc. */
export const spansOf = (t: TiedGroup, from: ChainBit, pressureKpa: number, leans = false): boolean =>
  spanHolds(t.group.panel, longestSpan(t, from, leans), pressureKpa);

/** `limitsOf`: of a panel under loads; null where they are left out. */
const rulesFor = (
  ctx: RunContext,
  gear: Gear,
  pressureKpa: number,
  limitsOf: ((panel: Panel) => ChainLimits) | null,
): TogoRules => {
  // Over other courses panels on their side end on the joints below: they are set after those (topCourse.ts).
  const onSide = gear.courses === 1 ? gear.onSide : [];
  const groups = [...stretchGroups(gear, pressureKpa), ...onSide.map((panel) => makeGroup(panel, null, null))];
  const costOf = (t: TiedGroup) => {
    // Where a column has more rows than the least, the search adds them.
    const uses = tiedUses(ctx, t, null);
    const cost = ctx.cost({
      steelFillers: 2 * t.group.fillerCount * gear.courses,
      tiesAndUnits: 2 * (1 + t.group.fillerCount) * gear.courses + rowsOfTies(ctx, t, null),
      squares: 2 * t.group.panel.widthGu ** 2 * gear.courses,
      uses,
    });
    return { cost, uses };
  };
  // Where upright columns do not stand on their rows only panels on their side are tied.
  const unheld = (t: TiedGroup) => onSide.length > 0 && ctx.rows === 0 && !t.group.panel.turned && t.tiesGu.length > 0;
  const allowed = (t: TiedGroup, from: ChainBit, leans: boolean) =>
    !unheld(t) && (!limitsOf || spansOf(t, from, pressureKpa, leans));
  // Nothing heavier hangs on a tip than a tie beyond it takes.
  const tipHolds = ({ group: { panel } }: TiedGroup, tailGu: number) => {
    const limits = limitsOf?.(panel);
    return !limits || limits.tipGu(tailGu) >= limits.mostGu;
  };
  const timber: { widthGu: number; cost: Cost }[] = [];
  for (let w = gear.timberLeastGu; w <= gear.timberLimitGu; w++) {
    timber.push({ widthGu: w, cost: ctx.cost({ places: 1, timberArea: 2 * w * ctx.heightGu }) });
  }
  return {
    arcs: arcsOf(tiedGroups(groups), costOf, allowed, tipHolds),
    timber,
    stepGu: groups.reduce((g, x) => gcd(g, x.lengthGu), 0) || 1,
  };
};

const NO_LIMITS: ChainLimits = {
  mostGu: Number.POSITIVE_INFINITY,
  leastGu: Number.NEGATIVE_INFINITY,
  tipGu: () => 1e9,
};

/** Rules for a run: `tieStripGu` is the working load of its tie over the load of the heaviest row, as a strip. */
export const levelsFor = (ctx: RunContext, tieStripGu: number): Levels => {
  const zero = ctx.cost({});
  const p = Math.max(ctx.pressureKpa, 1e-6);
  const panelW2 = (panel: Panel) => (panel.ratedSpanGu ** 2 * panel.ratedKpa) / (4 * p);
  const within = (w2: number, mostGu: number): ChainLimits => ({
    mostGu,
    leastGu: 0,
    tipGu: (o) => (o <= 0 ? 1e9 : (w2 - o * o) / (2 * o)),
  });
  const onSide = ctx.gear.courses === 1 ? ctx.gear.onSide : [];
  const all = [...ctx.gear.panels, ...onSide].map(panelW2);
  const stripOf = (panel: Panel) => (panel.turned ? (ctx.onSide?.tieStripGu ?? 0) : tieStripGu);
  const own = new Map([...ctx.gear.panels, ...onSide].map((panel) => [panel, within(panelW2(panel), stripOf(panel))]));
  const limits = within(Math.min(...all, 1e12), tieStripGu);
  const widest = within(Math.max(...all, 0), Math.max(tieStripGu, ...onSide.map(stripOf)));
  const limitsOf = (panel: Panel): ChainLimits => own.get(panel) ?? limits;
  const strict = rulesFor(ctx, ctx.gear, p, limitsOf);
  const loose = rulesFor(ctx, ctx.gear, 0, null);
  const level = (rules: TogoRules): Level => ({ rules, togo: new Togo(rules, atEnd(zero)), limits, widest, limitsOf });
  // Made only when a search has run out, which few do.
  let made: readonly Level[] | null = null;
  const narrower = () => {
    made ??= ctx.gear.panels.slice(1, -1).map((_, i) => {
      const gear = { ...ctx.gear, panels: ctx.gear.panels.slice(i + 1) };
      return level(rulesFor(ctx, gear, p, limitsOf));
    });
    return made;
  };
  let quick: Level | null = null;
  const unleaning = () => {
    quick ??= level({ ...strict, arcs: strict.arcs.filter((a) => !a.leans) });
    return quick;
  };
  let few: readonly Level[] | null = null;
  const determinate = () => {
    const arcs = strict.arcs.filter(({ leans, from, tied }) => !leans && (from === 0 || tied.tiesGu.length !== 2));
    const least = arcs.filter((a) => a.tied.tiesGu.length <= 2);
    const lists = onSide.length > 0 ? [arcs, least] : [least];
    few ??= lists.map((list) => level({ ...strict, arcs: list }));
    return few;
  };
  return {
    strict: level(strict),
    narrower,
    unleaning,
    determinate,
    loose: {
      rules: loose,
      togo: new Togo(loose, atEnd(zero)),
      limits: NO_LIMITS,
      widest: NO_LIMITS,
      limitsOf: () => NO_LIMITS,
    },
  };
};

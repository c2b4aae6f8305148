/** The rules by which a run's zones are searched, tables and limits made once for all zones of one height, stack and load. */

import { groupUses, type RunContext, tieUses } from './bound.js';
import type { ChainLimits } from './chain.js';
import type { Cost } from './cost.js';
import type { Gear, Panel } from './gear.js';
import { spanHolds, stretchGroups, type TiedGroup, tiedGroups } from './groups.js';
import { arcsOf, type ChainBit, Togo, type TogoRules } from './togo.js';

export interface Level {
  readonly rules: TogoRules;
  readonly togo: Togo;
  /** Those that hold for every panel: what may hang on a tip is the weakest's. */
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
  /** The strict rules without ties that a chain does not need: its forces are those of statics. */
  readonly determinate: () => Level;
}

/** Greatest common divisor of whole numbers. */
export const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Longest stretch between supports that a tied group spans, given whether it is carried or fixed from the left. */
const longestSpan = (t: TiedGroup, from: ChainBit): number => {
  const l = t.group.lengthGu;
  const [h1, h2] = t.tiesGu;
  if (h1 === undefined) return l;
  if (h2 === undefined) return from === 0 ? l - h1 : h1;
  return from === 0 ? h2 - h1 : Math.max(h1, h2 - h1);
};

const rulesFor = (ctx: RunContext, gear: Gear, pressureKpa: number, rated: boolean): TogoRules => {
  const groups = stretchGroups(gear, pressureKpa);
  const costOf = (t: TiedGroup): Cost =>
    ctx.cost({
      steelFillers: 2 * t.group.fillerCount * gear.courses,
      tiesAndUnits: 2 * (1 + t.group.fillerCount) * gear.courses + t.tiesGu.length * ctx.rows,
      squares: 2 * t.group.panel.widthGu ** 2 * gear.courses,
      uses: [...groupUses(gear, t.group, 2), ...tieUses(ctx, t.tiesGu.length)],
    });
  const allowed = (t: TiedGroup, from: ChainBit) =>
    !rated || spanHolds(t.group.panel, longestSpan(t, from), pressureKpa);
  const timber: { widthGu: number; cost: Cost }[] = [];
  for (let w = gear.timberLeastGu; w <= gear.timberLimitGu; w++) {
    timber.push({ widthGu: w, cost: ctx.cost({ places: 1, timberArea: 2 * w * ctx.heightGu }) });
  }
  return {
    arcs: arcsOf(tiedGroups(groups), gear.overhangGu, costOf, allowed),
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
  const strict = rulesFor(ctx, ctx.gear, p, true);
  const loose = rulesFor(ctx, ctx.gear, 0, false);
  const panelW2 = (panel: Panel) => (panel.ratedSpanGu ** 2 * panel.ratedKpa) / (4 * p);
  const within = (w2: number): ChainLimits => ({
    mostGu: tieStripGu,
    leastGu: 0,
    tipGu: (o) => (o <= 0 ? 1e9 : (w2 - o * o) / (2 * o)),
  });
  const all = ctx.gear.panels.map(panelW2);
  const own = new Map(ctx.gear.panels.map((panel) => [panel.widthGu, within(panelW2(panel))]));
  const limits = within(Math.min(...all, 1e12));
  const widest = within(Math.max(...all, 0));
  const limitsOf = (panel: Panel): ChainLimits => own.get(panel.widthGu) ?? limits;
  const level = (rules: TogoRules): Level => ({ rules, togo: new Togo(rules, zero), limits, widest, limitsOf });
  // Made only when a search has run out, which few do.
  let made: readonly Level[] | null = null;
  const narrower = () => {
    made ??= ctx.gear.panels.slice(1, -1).map((_, i) => {
      const gear = { ...ctx.gear, panels: ctx.gear.panels.slice(i + 1) };
      return level(rulesFor(ctx, gear, p, true));
    });
    return made;
  };
  let few: Level | null = null;
  const determinate = () => {
    few ??= level({ ...strict, arcs: strict.arcs.filter((a) => a.from === 0 || a.tied.tiesGu.length < 2) });
    return few;
  };
  return {
    strict: level(strict),
    narrower,
    determinate,
    loose: {
      rules: loose,
      togo: new Togo(loose, zero),
      limits: NO_LIMITS,
      widest: NO_LIMITS,
      limitsOf: () => NO_LIMITS,
    },
  };
};

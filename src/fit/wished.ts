/**
 * The one item more that would help a plan most: every panel width and every leg of inside corners in the steps of the yard that it does not own is put
 * in the catalogue by itself, as its neighbours are made, and the plan solved again.
 */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, FormUnit, RunDemand } from '../ground/vocabulary.js';
import { straightOf } from './arcFindings.js';
import { solveArcs } from './arcs.js';
import { type Cost, compareCost, compareTiers, costOrder } from './cost.js';
import { gcd } from './levels.js';
import type { FitOptions } from './options.js';
import { modelRuns } from './plan.js';
import { solvePlan, solvePlanWithin } from './search.js';

/** No more than this many are tried; the widest first, since they replace most units. */
const TRIED_MOST = 16;

interface Wish {
  readonly words: string;
  readonly units: readonly FormUnit[];
}

const stepsOf = (sizesMm: readonly number[], gridMm: number): number =>
  sizesMm.reduce((g, w) => gcd(g, Math.round(w / gridMm)), 0) * gridMm;

/** Sizes in steps between two that are not owned, largest first. */
const missing = (owned: readonly number[], stepMm: number, fromMm: number, toMm: number): number[] => {
  const found: number[] = [];
  for (let s = toMm; s >= fromMm - 0.01 && stepMm > 0; s -= stepMm)
    if (!owned.some((w) => Math.abs(w - s) < 0.01)) found.push(s);
  return found;
};

/** A panel of another width with its holes as far from its edges. */
const widened = (unit: FormUnit, widthMm: number): FormUnit => ({
  ...unit,
  id: `wished-${widthMm}x${unit.heightMm}`,
  widthMm,
  holes: unit.holes.map((h) => (h.xMm > unit.widthMm / 2 ? { ...h, xMm: h.xMm + widthMm - unit.widthMm } : h)),
  massKg: (unit.massKg * widthMm) / unit.widthMm,
});

const widthWishes = ({ units, gridMm, lengthUnit }: Catalogue): Wish[] => {
  const panels = units.filter((u) => u.kind === 'panel');
  const owned = [...new Set(panels.map((p) => p.widthMm))];
  if (owned.length < 2) return [];
  return missing(owned, stepsOf(owned, gridMm), Math.min(...owned), Math.max(...owned)).map((widthMm) => {
    // As the next wider panel of each height is made.
    const heights = [...new Set(panels.map((p) => p.heightMm))];
    const made = heights.map(
      (h) => panels.filter((p) => p.heightMm === h && p.widthMm > widthMm).sort((a, b) => a.widthMm - b.widthMm)[0],
    );
    return {
      words: `a panel ${sizeWords(widthMm, lengthUnit)} wide`,
      units: made.flatMap((u) => (u ? [widened(u, widthMm)] : [])),
    };
  });
};

const legWishes = ({ units, gridMm, lengthUnit }: Catalogue): Wish[] => {
  const corners = units.filter((u) => u.kind === 'inside-corner' && u.legsMm && u.legsMm[0] === u.legsMm[1]);
  const owned = [...new Set(corners.map((c) => c.legsMm![0]))];
  const widths = units.filter((u) => u.kind === 'panel').map((u) => u.widthMm);
  if (owned.length === 0) return [];
  const stepMm = stepsOf([...owned, ...widths], gridMm);
  return missing(owned, stepMm, 2 * stepMm, Math.max(...owned) + 2 * stepMm).map((legMm) => {
    const like = corners.filter((c) => c.legsMm![0] === owned[0]);
    return {
      words: `an inside corner with legs of ${sizeWords(legMm, lengthUnit)}`,
      units: like.map((u) => ({ ...u, id: `wished-corner-${legMm}x${u.heightMm}`, legsMm: [legMm, legMm] as const })),
    };
  });
};

const sizeWords = (mm: number, unit: Catalogue['lengthUnit']): string =>
  unit === 'in' ? `${plainNumber(mm / 25.4, 4)} in` : `${plainNumber(mm, 1)} mm`;

/**
 * What one more item would save, as a finding; none where the least layout needs neither timber nor fillers and breaks no rule. `demands` is by run id.
 */
export const wishedFindings = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
): Finding[] => {
  const order = costOrder(options.costOrder);
  const straight = straightOf(plan, solveArcs(plan, catalogue, demands, options, order));
  const modelOf = (yard: Catalogue) => modelRuns(straight, yard, demands, options, order);
  const words = (cost: Cost): string => {
    const part = (tier: Parameters<typeof order.part>[1]) => order.part(cost, tier);
    const areaM2 = (part('timberAreaM2') * plan.gridMm ** 2) / 1e6;
    const failing = part('failures') > 0 ? `${part('failures')} places that are not laid out, ` : '';
    const [places, fillers, units] = [part('places'), part('steelFillers'), part('tiesAndUnits')];
    return `${failing}${plainNumber(places, 1)} places of timber (${plainNumber(areaM2, 3)} m2), ${fillers} steel fillers, ${units} ties and units`;
  };
  const now = solvePlan(modelOf(catalogue)).cost;
  const isClean = (['failures', 'places', 'timberAreaM2', 'steelFillers'] as const).every(
    (t) => order.part(now, t) === 0,
  );
  if (isClean) return [];
  let best: { readonly wish: Wish | null; readonly cost: Cost } = { wish: null, cost: now };
  for (const wish of [...widthWishes(catalogue), ...legWishes(catalogue)].slice(0, TRIED_MOST)) {
    const yard = { ...catalogue, units: [...catalogue.units, ...wish.units] };
    const cost = solvePlanWithin(modelOf(yard), best.cost).solved?.cost;
    if (cost && compareCost(cost, best.cost) < 0) best = { wish, cost };
  }
  if (best.wish === null || compareTiers(best.cost, now) === 0) {
    const message =
      'No width of panel and no leg in the steps of the yard that it does not own would lessen the fill of this plan.';
    return [finding('fit.item-would-help', message, { subject: 'catalogue' })];
  }
  const message = `Of the widths and legs that the yard does not own ${best.wish.words} would help this plan most: ${words(best.cost)}, where it takes ${words(now)} now.`;
  return [finding('fit.item-would-help', message, { subject: 'catalogue' })];
};

/** What the same job would cost otherwise: at another pitch of the flange holes, and with area before places or the other way round. */

import { wishedFindings } from '../fit/index.js';
import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { CostTier, Layout, RunDemand } from '../ground/vocabulary.js';
import { chooseStanding, laidWith, type PhaseQuestion, type Standing, tierValue } from './phases.js';

const fillOf = (tiers: readonly CostTier[]) => ({
  places: tierValue(tiers, 'places'),
  areaM2: tierValue(tiers, 'timberAreaM2'),
  failures: tierValue(tiers, 'failures'),
});

const words = (tiers: readonly CostTier[]): string => {
  const { places, areaM2, failures } = fillOf(tiers);
  const failing = failures > 0 ? `, with ${failures} ${failures === 1 ? 'failure' : 'failures'}` : '';
  return `${places} ${places === 1 ? 'place' : 'places'} and ${plainNumber(areaM2, 4)} m2 of timber${failing}`;
};

/** The whole job laid out anew, with panels on their side where they lie already: what is told is timber. */
const anew = (q: PhaseQuestion, { onSide }: Standing): readonly CostTier[] =>
  laidWith(q, chooseStanding(q, onSide)).tiers;

/** Area before places, or places before area: whichever of the two the job does not ask for. */
const otherOrder = (q: PhaseQuestion, layout: Layout, standing: Standing): Finding[] => {
  const { places } = fillOf(layout.tiers);
  // Without a place of fill there is nothing to trade.
  if (places === 0) return [];
  const order = q.options.costOrder;
  const [p, a] = [order.indexOf('places'), order.indexOf('timberAreaM2')];
  const swapped = order.map((tier, i) => (i === p ? order[a]! : i === a ? order[p]! : tier));
  const tiers = anew({ ...q, options: { ...q.options, costOrder: swapped } }, standing);
  const first = p < a ? 'least area first' : 'fewest places first';
  const now = fillOf(layout.tiers);
  const then = fillOf(tiers);
  if (then.places === now.places && Math.abs(then.areaM2 - now.areaM2) < 1e-4) {
    const message = `Fewest places and least area of timber are one layout here: ${words(layout.tiers)}.`;
    return [finding('fit.other-order', message, { subject: 'costOrder' })];
  }
  const message = `With ${first} the job would take ${words(tiers)}; as laid out it takes ${words(layout.tiers)}.`;
  return [finding('fit.other-order', message, { subject: 'costOrder' })];
};

const otherPitch = (q: PhaseQuestion, layout: Layout, standing: Standing, pitchMm: number): Finding[] => {
  const tiers = anew({ ...q, catalogue: { ...q.catalogue, pitchMm } }, standing);
  const message = `At a pitch of ${plainNumber(pitchMm, 2)} mm the job would take ${words(tiers)}; at the catalogue's ${plainNumber(q.catalogue.pitchMm, 2)} mm it takes ${words(layout.tiers)}.`;
  return [finding('fit.other-pitch', message, { subject: 'comparePitchMm' })];
};

/** `standing`: how the runs of the layout stand; `demands`, by run id: what it was made for. */
export const alternatives = (
  q: PhaseQuestion,
  layout: Layout,
  standing: Standing,
  demands: ReadonlyMap<string, RunDemand>,
): Finding[] => [
  ...otherOrder(q, layout, standing),
  ...(q.job.comparePitchMm === undefined ? [] : otherPitch(q, layout, standing, q.job.comparePitchMm)),
  ...(q.job.compareItems === true ? wishedFindings(q.plan, q.catalogue, demands, q.options) : []),
];

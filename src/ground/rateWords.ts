/** Words for rates of rise. A limit is rounded down, so that what is printed is held. */

import { plainNumber } from './units.js';
import type { LimitItem, RateLimit, Rates, RateUnits } from './vocabulary.js';

export const RATE_UNIT: Readonly<Record<RateUnits, string>> = { si: 'm/h', us: 'ft/h' };
export const DEGREES: Readonly<Record<RateUnits, string>> = { si: 'degrees C', us: 'degrees F' };

/** Rounded down to two places, which a person can read off a gauge; a hair below a round figure is that figure. */
export const roundedDown = (rate: number): number => Math.floor(rate * 100 + 1e-3) / 100;

/** '1.98 m/h', 'any rate', 'no rate'. */
export const limitText = (units: RateUnits, { bound, rate }: Pick<RateLimit, 'bound' | 'rate'>): string => {
  if (bound === 'any') return 'any rate';
  if (rate === null) return 'no rate';
  return `${plainNumber(roundedDown(rate), 2)} ${RATE_UNIT[units]}`;
};

/** Kinds of what fails, by the code of its failure; others are told by their name alone. */
const KINDS: Readonly<Record<string, string>> = {
  'check.tie-overload': 'tie ',
  'check.tie-pushed': 'tie ',
  'check.clamp-overload': 'clamp ',
  'check.rating': 'piece ',
  'check.joint-moment': 'the joint of filler ',
  'check.return-not-held': 'return ',
  'check.overhang': 'the overhang in ',
  'check.row-pushed': 'a tie row of ',
};

const itemName = ({ code, subject }: LimitItem): string => `${KINDS[code] ?? ''}${subject}`;

/** What bounds a rate, in words without a full stop; empty where nothing does. */
export const boundText = (rates: Rates, { bound, by }: RateLimit): string => {
  const carried = by === null ? undefined : rates.carried[by];
  const item = carried?.item;
  if (bound === 'any' || !carried) return '';
  const fails = item ? `${itemName(item)} in wall ${item.wall} fails (${item.rule}, ${item.code})` : 'the forms fail';
  if (bound === 'none') return `even the slowest rise presses so much that ${fails}`;
  if (bound === 'fluid') return `the method gives full fluid pressure there at every rate, and under it ${fails}`;
  return bound === 'range' ? `beyond, full fluid pressure counts and ${fails}` : `faster, ${fails}`;
};

/** The allowed rate in one sentence. */
export const allowedText = (rates: Rates): string => {
  const { atJob, units, jobTemperature, notHeld, clampsChecked } = rates;
  const carrying = clampsChecked ? 'Ties, units and clamps' : 'Ties and units';
  const clamps = clampsChecked ? '' : ' Clamps are not checked.';
  const walls =
    notHeld.length === 0
      ? ''
      : ` Not for ${notHeld.map((n) => n.wall).join(', ')}: forms there do not stand or are not checked.`;
  if (rates.carried.length === 0) return `No rate of rise is told: no wall is checked.${walls}`;
  if (atJob.bound === 'any')
    return `${carrying} carry full fluid pressure: no rate of rise is too fast for them.${clamps}${walls}`;
  const at = `${plainNumber(jobTemperature, 1)} ${DEGREES[units]}`;
  const why = boundText(rates, atJob);
  return atJob.rate === null
    ? `${carrying} carry no rate of rise at ${at}: ${why}.${walls}`
    : `Concrete of ${at} may rise at ${limitText(units, atJob)} at most: ${why}.${clamps}${walls}`;
};

/**
 * Hours that count towards the striking of wall forms. ACI 347, as quoted from 347R-94 in 'Stripping wall forms during cold weather' (Concrete Construction):
 * 12 hours, counted while the surrounding air is at or above 50 degrees F (10 C), not necessarily in a row. A condition among others, never a permission.
 */

import type { AirSpell, Stripping } from '../ground/vocabulary.js';

export const NEEDED_H = 12;
export const LEAST_AIR_C = 10;
/** 50 degrees F is 10 C; sums of conversions may miss it by this. */
const SLACK_C = 1e-6;

export const countedHours = (spells: readonly AirSpell[]): number =>
  spells.reduce((sum, s) => (s.airC >= LEAST_AIR_C - SLACK_C ? sum + s.hours : sum), 0);

/** Hours after the pour at which the count is full; null: not within the spells. */
export const fullAfterH = (spells: readonly AirSpell[]): number | null => {
  let [counted, passed] = [0, 0];
  for (const { hours, airC } of spells) {
    const counts = airC >= LEAST_AIR_C - SLACK_C;
    if (counts && counted + hours >= NEEDED_H) return passed + NEEDED_H - counted;
    counted += counts ? hours : 0;
    passed += hours;
  }
  return null;
};

/** What is told of striking; `spells` as they are expected or were measured. */
export const stripping = (spells: readonly AirSpell[]): Stripping => ({
  neededH: NEEDED_H,
  leastAirC: LEAST_AIR_C,
  spells,
  countedH: countedHours(spells),
  fullAfterH: fullAfterH(spells),
});

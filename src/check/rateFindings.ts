/** What the rates of a layout say to a person (rule T20). */

import { type Finding, finding } from '../ground/findings.js';
import { allowedText, limitText, RATE_UNIT } from '../ground/rateWords.js';
import { plainNumber } from '../ground/units.js';
import type { Rates } from '../ground/vocabulary.js';

/** A supply that makes a faster rise than the pressure was worked out for by more than this share no longer agrees with it. */
const AGREES = 1.05;

const subject = 'concrete';

const floorFindings = ({ atJob, jobRate, method, floor, units }: Rates): Finding[] => {
  const unit = RATE_UNIT[units];
  const least = `${plainNumber(floor, 2)} ${unit}, below which a layer may stiffen before it is covered`;
  if (atJob.rate !== null && atJob.rate < floor)
    return [
      finding('check.rate-floor', `The forms carry ${limitText(units, atJob)} at most; that is less than ${least}.`, {
        subject,
      }),
    ];
  return method !== 'hydrostatic' && jobRate < floor
    ? [
        finding('check.rate-floor', `The job's rate of ${plainNumber(jobRate, 2)} ${unit} is less than ${least}.`, {
          subject,
        }),
      ]
    : [];
};

const supplyFindings = (rates: Rates): Finding[] =>
  rates.supplies.flatMap(({ pour, rate }): Finding[] => {
    const { units, atJob, jobRate, floor, method } = rates;
    if (rate === null) return [];
    const limit = atJob.bound === 'any' ? null : (atJob.rate ?? 0);
    const which = pour === null ? 'The supply' : `The supply of pour ${pour}`;
    const makes = `${which} makes the concrete rise at ${plainNumber(rate, 2)} ${RATE_UNIT[units]}`;
    const said = (words: string) => [finding('check.rate-supply', `${makes}: ${words}.`, { subject: pour ?? subject })];
    if (limit !== null && rate > limit)
      return said(`the forms carry ${limitText(units, atJob)}, so it must be held back`);
    if (method !== 'hydrostatic' && rate > jobRate * AGREES)
      return said(`the pressure is that of ${plainNumber(jobRate, 2)} ${RATE_UNIT[units]}`);
    return rate < floor
      ? said(`less than ${plainNumber(floor, 2)}, so that a layer may stiffen before it is covered`)
      : [];
  });

/** The allowed rate as a note; floor and supply where they do not agree with it. */
export const rateFindings = (rates: Rates): Finding[] => [
  finding('check.rate-limit', allowedText(rates), { subject }),
  ...floorFindings(rates),
  ...supplyFindings(rates),
];

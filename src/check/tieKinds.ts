/**
 * What ties leave in the wall, by item: steel that stays with its depth under the face, holes to fill, what goes back to the yard; and whether the hole that is left
 * comes too near the bars.
 */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { TieItem } from '../ground/vocabulary.js';
import type { Context } from './context.js';

/** Bars may lie this much nearer to the face than planned: 3/8 in, ACI 117-06 for members of 4 to 12 in. */
export const BAR_TOLERANCE_MM = 9.525;

/** Concrete over the first bar, as it was stated. */
export interface CoverOfBars {
  readonly coverMm: number;
  /** false: a default. */
  readonly isGiven: boolean;
}

const mm = (value: number): string => plainNumber(value, 1);

/** What an item leaves, in words. */
const leaves = (tie: TieItem, count: number): string => {
  const hole = mm(tie.holeMm ?? tie.diameterMm);
  const seal = tie.isSealed ? ', sealed against water' : '';
  if (tie.kind === 'left-in') {
    return `${count} of ${tie.id} stay in the wall, broken off ${mm(tie.breakBackMm)} mm behind either face${seal}: ${2 * count} holes of ${hole} mm to fill.`;
  }
  const when = tie.removedBefore ? 'before' : 'after';
  return `${count} of ${tie.id} are drawn ${when} the forms are struck and go back to the yard: ${count} holes of ${hole} mm through the wall to fill${seal}.`;
};

/** Clear concrete between the bottom of the hole and a bar that lies as near to the face as it may. */
export const leftOverHoleMm = (coverMm: number, breakBackMm: number): number =>
  coverMm - BAR_TOLERANCE_MM - breakBackMm;

const nearBars = (tie: TieItem, { coverMm, isGiven }: CoverOfBars): Finding[] => {
  if (tie.kind !== 'left-in' || tie.breakBackMm <= 0) return [];
  const left = leftOverHoleMm(coverMm, tie.breakBackMm);
  const assumed = isGiven ? {} : { assumed: `${mm(coverMm)} mm of cover` };
  // Steel that stays is itself covered by no more than the filled hole.
  if (left > LEAST_LEFT_MM && tie.breakBackMm >= coverMm) return [];
  const over =
    left > LEAST_LEFT_MM
      ? []
      : [
          finding(
            'check.break-back-bars',
            `The holes of ${tie.id} are ${mm(tie.breakBackMm)} mm deep; a bar under ${mm(coverMm)} mm of cover that lies ${mm(BAR_TOLERANCE_MM)} mm too near leaves ${mm(left)} mm behind them.`,
            { subject: tie.id, ...assumed },
          ),
        ];
  const steel = finding(
    'check.break-back-cover',
    `What stays of ${tie.id} ends ${mm(tie.breakBackMm)} mm behind the face, less than the cover of ${mm(coverMm)} mm: only the filling protects it.`,
    { subject: tie.id, ...assumed },
  );
  return tie.breakBackMm < coverMm ? [...over, steel] : over;
};

/** Less than this between a hole and a bar is said (common practice, no source). */
const LEAST_LEFT_MM = 5;

export const tieKindFindings = (ctx: Context, cover: CoverOfBars | undefined): Finding[] => {
  const counts = new Map<string, number>();
  for (const { item } of ctx.layout.ties) counts.set(item, (counts.get(item) ?? 0) + 1);
  return [...counts].flatMap(([id, count]) => {
    const tie = ctx.tieItems.get(id);
    if (!tie) return [];
    const said = finding('check.tie-leaves', leaves(tie, count), { subject: id });
    return [said, ...(cover ? nearBars(tie, cover) : [])];
  });
};

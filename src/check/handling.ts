/** Units by who sets them (rule T18): by one person, by two, or by crane. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Context } from './context.js';

/** The most that one person and two set by hand, kg. */
export interface HandSet {
  readonly oneKg: number;
  readonly twoKg: number;
}

/** 25 kg for one person, 33 kg for two. Common practice, no source; many employers and codes ask for less. */
export const DEFAULT_HAND_SET: HandSet = { oneKg: 25, twoKg: 33 };

interface Heavy {
  readonly item: string;
  readonly massKg: number;
  readonly count: number;
}

const listed = (heavy: readonly Heavy[]): string =>
  heavy.map((h) => `${h.count} of ${h.item} (${plainNumber(h.massKg, 1)} kg)`).join(', ');

export const handlingFindings = (ctx: Context, handSet: HandSet): Finding[] => {
  const counts = new Map<string, number>();
  for (const { item } of ctx.layout.pieces) if (item !== null) counts.set(item, (counts.get(item) ?? 0) + 1);
  const heavy = [...counts]
    .map(([item, count]): Heavy => ({ item, count, massKg: ctx.units.get(item)?.massKg ?? 0 }))
    .sort((a, b) => b.massKg - a.massKg || (a.item < b.item ? -1 : 1));
  const byCrane = heavy.filter((h) => h.massKg > handSet.twoKg);
  const byTwo = heavy.filter((h) => h.massKg > handSet.oneKg && h.massKg <= handSet.twoKg);
  const found: Finding[] = [];
  const { oneKg, twoKg } = handSet;
  if (byCrane.length > 0) {
    const message = `By crane, heavier than ${plainNumber(twoKg, 1)} kg: ${listed(byCrane)}.`;
    found.push(finding('check.by-crane', message, { subject: byCrane[0]!.item }));
  }
  if (byTwo.length > 0) {
    const message = `By two people, heavier than ${plainNumber(oneKg, 1)} kg: ${listed(byTwo)}.`;
    found.push(finding('check.by-two', message, { subject: byTwo[0]!.item }));
  }
  if (oneKg > DEFAULT_HAND_SET.oneKg || twoKg > DEFAULT_HAND_SET.twoKg) {
    const message = `The job allows ${plainNumber(oneKg, 1)} kg for one person and ${plainNumber(twoKg, 1)} kg for two, more than the usual ${DEFAULT_HAND_SET.oneKg} and ${DEFAULT_HAND_SET.twoKg}.`;
    found.push(finding('check.lax-weights', message, { subject: 'limits.handSetKg' }));
  }
  return found;
};

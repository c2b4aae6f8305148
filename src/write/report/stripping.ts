/** Conditions of striking the forms. They are told as conditions: the program sees no concrete and permits nothing. */

import { plainNumber } from '../../ground/units.js';
import type { Result, Stripping } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { type Row, table } from './table.js';

/** Each with where it comes from. */
const CONDITIONS: readonly string[] = [
  'The person who is responsible for the work says when, by a strength that was proven as the specification asks (specimens cured as the wall is, or maturity), or by written conditions of removal that are followed (29 CFR 1926.703(e), in outline).',
  'Where the specification leaves it to time: 12 hours, counted only while the air round the wall is at or above 10 °C (50 °F), not necessarily in a row (ACI 347, as quoted from 347R-94). Shorter only where it is approved.',
  'Where the wall’s form also carries the form of a slab, the slab decides (ACI 347, as quoted).',
  'EN 13670 gives no hours: forms stay until edges and faces take no harm, loads are carried and deflections stay in tolerance; 2 to 5 N/mm² for upright faces is common practice (from memory, not confirmed).',
  'Bracing stays until the wall stands by itself or is held otherwise; in closed rooms the strips come out first, as the findings name them.',
];

const told = (s: Stripping): string => {
  const counted = `${plainNumber(s.countedH, 1)} of ${plainNumber(s.neededH, 0)} hours at or above ${plainNumber(s.leastAirC, 0)} °C`;
  return s.fullAfterH === null
    ? `Within the spells that the job file gives ${counted} are counted: the count is not full.`
    : `By the spells that the job file gives the count is full ${plainNumber(s.fullAfterH, 1)} hours after the pour (${counted}). That is one condition, and no permission.`;
};

const spellRows = (s: Stripping): readonly Row[] => {
  let after = 0;
  let counted = 0;
  return s.spells.map(({ hours, airC }): Row => {
    const counts = airC >= s.leastAirC;
    after += hours;
    counted += counts ? hours : 0;
    return {
      cells: [
        plainNumber(after, 1),
        plainNumber(hours, 1),
        plainNumber(airC, 1),
        counts ? 'yes' : 'no',
        plainNumber(counted, 1),
      ],
    };
  });
};

const COLUMNS = [
  { head: 'Hours after the pour', figures: true },
  { head: 'Hours', figures: true },
  { head: 'Air, °C', figures: true },
  { head: 'Counts' },
  { head: 'Counted so far, h', figures: true },
];

const spells = (s: Stripping | undefined): Markup =>
  s === undefined || s.spells.length === 0
    ? html`<p>The air after the pour is not given (stripping.air in the job file): keep a record of it on site.</p>`
    : html`<p>${told(s)}</p>${table('Hours that count', COLUMNS, spellRows(s), 'None.')}`;

export const strippingSection = ({ stripping }: Result): Markup => html`<section id="stripping">
<h2>Stripping</h2>
<p>Conditions, not a permission: nothing here says that this concrete may be struck.</p>
<ul>${CONDITIONS.map((c) => html`<li>${c}</li>`)}</ul>
${spells(stripping)}
</section>`;

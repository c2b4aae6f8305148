/** How far walls may be off, for who lines up the forms before the pour. */

import { plainNumber } from '../../ground/units.js';
import type { Result, Tolerances } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { type GearUnit, lengthText } from './sizes.js';
import { type Row, table } from './table.js';

const SOURCE: Readonly<Record<Tolerances['code'], string>> = {
  'aci-117':
    'ACI 117: thickness up to 12 in as quoted in UFGS 03700; thicker walls and plumb (the lesser of 0.3 % of the height and 1 in; 1 in in the edition of 1990) from memory, not confirmed.',
  'en-13670': 'EN 13670, class 1, from memory, not confirmed; plumb is the greater of 15 mm and 1/400 of the height.',
};

const columnsIn = (gear: GearUnit) => [
  { head: 'Walls' },
  { head: `Thickness, ${gear}`, figures: true },
  { head: `Thicker by, ${gear}`, figures: true },
  { head: `Thinner by, ${gear}`, figures: true },
  { head: `Height, ${gear}`, figures: true },
  { head: `Top out of plumb by, ${gear}`, figures: true },
];

const rowOf = (row: Tolerances['rows'][number], gear: GearUnit): Row => ({
  cells: [
    row.walls.join(', '),
    lengthText(row.thicknessMm, gear),
    lengthText(row.plusMm, gear),
    lengthText(row.minusMm, gear),
    gear === 'in' ? lengthText(row.heightMm, gear) : plainNumber(row.heightMm, 0),
    row.plumbMm === null ? 'not known for this height' : lengthText(row.plumbMm, gear),
  ],
});

/** Nothing where no wall was found. */
export const tolerancesSection = ({ tolerances, catalogue }: Result): Markup =>
  tolerances === undefined || tolerances.rows.length === 0
    ? html``
    : html`<section id="tolerances">
<h2>Tolerances</h2>
<p>What the concrete may be off at most where the specification says nothing else; line up the forms closer than that and check them again while the concrete rises. The specification counts.</p>
${table(
  'Limits by wall',
  columnsIn(catalogue.lengthUnit),
  tolerances.rows.map((r) => rowOf(r, catalogue.lengthUnit)),
  'None.',
)}
<p>${SOURCE[tolerances.code]}</p>
</section>`;

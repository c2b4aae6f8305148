/** How far walls may be off, for who lines up the forms before the pour. */

import { plainNumber } from '../../ground/units.js';
import type { Result, Tolerances } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { type Row, table } from './table.js';

const SOURCE: Readonly<Record<Tolerances['code'], string>> = {
  'aci-117':
    'ACI 117: thickness up to 12 in as quoted in UFGS 03700; thicker walls and plumb (the lesser of 0.3 % of the height and 1 in; 1 in in the edition of 1990) from memory, not confirmed.',
  'en-13670': 'EN 13670, class 1, from memory, not confirmed; plumb is the greater of 15 mm and 1/400 of the height.',
};

const COLUMNS = [
  { head: 'Walls' },
  { head: 'Thickness, mm', figures: true },
  { head: 'Thicker by, mm', figures: true },
  { head: 'Thinner by, mm', figures: true },
  { head: 'Height, mm', figures: true },
  { head: 'Top out of plumb by, mm', figures: true },
];

const rowOf = (row: Tolerances['rows'][number]): Row => ({
  cells: [
    row.walls.join(', '),
    plainNumber(row.thicknessMm, 1),
    plainNumber(row.plusMm, 1),
    plainNumber(row.minusMm, 1),
    plainNumber(row.heightMm, 0),
    row.plumbMm === null ? 'not known for this height' : plainNumber(row.plumbMm, 1),
  ],
});

/** Nothing where no wall was found. */
export const tolerancesSection = ({ tolerances }: Result): Markup =>
  tolerances === undefined || tolerances.rows.length === 0
    ? html``
    : html`<section id="tolerances">
<h2>Tolerances</h2>
<p>What the concrete may be off at most where the specification says nothing else; line up the forms closer than that and check them again while the concrete rises. The specification counts.</p>
${table('Limits by wall', COLUMNS, tolerances.rows.map(rowOf), 'None.')}
<p>${SOURCE[tolerances.code]}</p>
</section>`;

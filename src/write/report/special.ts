/** Stretches that are not laid out but to be designed, with what pushes them. Nothing where there are none. */

import { plainNumber } from '../../ground/units.js';
import type { Result, SpecialForm } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { type GearUnit, lengthText } from './sizes.js';
import { type Row, table } from './table.js';

const columnsIn = (gear: GearUnit) => [
  { head: 'Face' },
  { head: `Stations, ${gear}` },
  { head: 'Cast against' },
  { head: `Footing, ${gear}`, figures: true },
  { head: `Pour line, ${gear}`, figures: true },
  { head: 'Force, kN/m', figures: true },
  { head: 'At, m above the footing', figures: true },
  { head: 'Moment at the footing, kNm/m', figures: true },
];

const rowOf = (form: SpecialForm, gear: GearUnit): Row => ({
  cells: [
    form.face,
    `${lengthText(form.fromMm, gear)} to ${lengthText(form.toMm, gear)}`,
    form.against ?? 'not said',
    lengthText(form.footingMm, gear),
    lengthText(form.topMm, gear),
    plainNumber(form.forceKnPerM, 1),
    plainNumber(form.armM, 2),
    plainNumber(form.momentKnmPerM, 1),
  ],
});

export const specialSection = ({ specialForms, catalogue }: Result): Markup => {
  if (!specialForms) return lines([]);
  const gear = catalogue.lengthUnit;
  const rows = specialForms.map((f) => rowOf(f, gear));
  return html`<section id="special">
<h2>Special forms</h2>
<p>These walls are formed on one face only, so that no tie holds their forms. Nothing is laid out there: frame, anchors and footing are to be designed for the force of the fresh concrete, which is told for each metre of wall. It also wants to lift an inclined frame; that part depends on the frame.</p>
${table('Walls formed on one side', columnsIn(gear), rows, 'None.')}
</section>`;
};

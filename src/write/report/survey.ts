/** Drawn and measured levels of the footings side by side, and what the difference changes. Nothing where nothing was measured. */

import { plainNumber } from '../../ground/units.js';
import type { Result, Stood, SurveyChange } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { type GearUnit, lengthText } from './sizes.js';
import { type Row, table } from './table.js';

const LEVELS = [
  { head: 'Footing' },
  { head: 'Walls' },
  { head: 'Points', figures: true },
  { head: 'Drawn', figures: true },
  { head: 'Lowest', figures: true },
  { head: 'Highest', figures: true },
  { head: 'Gap under the forms', figures: true },
];

const CHANGES = [
  { head: 'Footing' },
  { head: 'Levels' },
  { head: 'Bases, mm', figures: true },
  { head: 'Courses' },
  { head: 'Fill under the forms, m², at most', figures: true },
  { head: 'Tie rows, mm', figures: true },
];

const mm = (n: number): string => plainNumber(n, 1);

const levelRow = ({ stretch: { id, parts, drawnMm, measured }, measured: stood }: SurveyChange): Row => {
  const [least, most] = stood.gapMm.map(mm);
  return {
    cells: [
      id,
      [...new Set(parts.map((p) => p.wall))].join(', '),
      plainNumber(measured?.points ?? 0, 0),
      mm(drawnMm),
      measured ? mm(measured.lowestMm) : 'not measured',
      measured ? mm(measured.highestMm) : 'not measured',
      least === most ? least! : `${least} to ${most}`,
    ],
  };
};

const standRow = (id: string, by: string, stood: Stood, gear: GearUnit): Row => ({
  cells: [
    id,
    by,
    stood.basesMm.map(mm).join(', '),
    stood.courses.map((c) => c.map((h) => lengthText(h, gear)).join(' + ')).join(' or '),
    plainNumber(stood.fillM2, 3),
    stood.rowsMm.map(mm).join(', '),
  ],
});

export const surveySection = ({ survey, catalogue }: Result): Markup => {
  if (!survey) return lines([]);
  const gear = catalogue.lengthUnit;
  const changes = survey.flatMap(({ stretch: { id }, drawn, measured }) => [
    standRow(id, 'drawn', drawn, gear),
    standRow(id, 'measured', measured, gear),
  ]);
  return html`<section id="survey">
<h2>Measured levels</h2>
<p>The layout stands on the measured levels: forms over the highest of each stretch, the gap under them as deep as the lowest, the pour line as drawn. Levels are mm in the drawing's datum, courses ${gear}.</p>
${table('Footings, drawn and measured, mm', LEVELS, survey.map(levelRow), 'No footing.')}
${table('What the measured levels change', CHANGES, changes, 'Nothing.')}
</section>`;
};

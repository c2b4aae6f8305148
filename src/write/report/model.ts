/** The walls of the model: which were taken, which were not, and why. Nothing where the input was a drawing. */

import { plainNumber } from '../../ground/units.js';
import type { ModelChoice, Result } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { lengthText } from './sizes.js';
import { type Row, table } from './table.js';

const COLUMNS = [{ head: 'GlobalId' }, { head: 'Name' }, { head: 'Entity' }, { head: 'Storey' }, { head: 'Why' }];

export const modelSection = ({ model, foundation, source, catalogue }: Result): Markup => {
  const found = foundation.model;
  if (!model || !found) return lines([]);
  const storeyName = new Map(model.storeys.map((s) => [s.id, s.name ?? s.id]));
  const rowOf = ({ id, name, entity, storey, why }: ModelChoice): Row => ({
    cells: [id, name ?? '', entity, storey === null ? '' : (storeyName.get(storey) ?? storey), why],
  });
  const rows = (taken: boolean): Row[] => found.elements.filter((e) => e.taken === taken).map(rowOf);
  const gear = catalogue.lengthUnit;
  const levelText = (mm: number) => (gear === 'in' ? `${lengthText(mm, gear)} in` : `${plainNumber(mm, 0)} mm`);
  const storeys = model.storeys.map((s) => `${s.name ?? s.id} at ${levelText(s.levelMm)}`).join('; ');
  return html`<section id="model">
<h2>Walls of the model</h2>
<p>${source.file}, ${model.schemaName}. Storeys: ${storeys === '' ? 'none' : storeys}. Ties were held against ${plainNumber(found.bars.length, 0)} bars and ${plainNumber(found.obstacles.length, 0)} pipes, sleeves and openings of the model; what the model does not hold was not looked at.</p>
${table('Formed', COLUMNS, rows(true), 'No wall of the model is formed.')}
${table('Left out', COLUMNS, rows(false), 'No wall of the model was left out.')}
</section>`;
};

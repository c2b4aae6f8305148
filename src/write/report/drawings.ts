/** Plan and developed elevations in the page, with the legend. */

import { plainNumber } from '../../ground/units.js';
import type { Face, PieceKind, Result } from '../../ground/vocabulary.js';
import { html, idOf, type Markup } from './markup.js';
import { elevatedFaces } from './pictures.js';
import { sheet } from './sheet.js';
import { KIND_LETTERS, KIND_WORDS, lengthText } from './sizes.js';
import { elevationDrawing, elevationParts } from './svg/elevation.js';
import { patternDefs, pieceFill } from './svg/fills.js';
import { planDrawing } from './svg/plan.js';
import { siteSwatches } from './svg/site.js';

const LEGEND = 'legend';
const SHOWN: readonly PieceKind[] = [
  'panel',
  'filler',
  'inside-corner',
  'outside-corner',
  'hinged-corner',
  'timber',
  'strip',
  'bulkhead',
  'box-out',
];

/** One swatch a kind that the layout has, with its letter: what a black-and-white print tells apart by hatch. */
const legend = (result: Result): Markup => {
  const kinds = SHOWN.filter((kind) => result.layout.pieces.some((p) => p.kind === kind));
  const items = kinds.map((kind, i) => {
    const letter = KIND_LETTERS[kind] === '' ? 'width alone' : KIND_LETTERS[kind];
    const defs = i === 0 ? patternDefs(LEGEND) : null;
    return html`<li><svg width="36" height="20" viewBox="0 0 270 150" aria-hidden="true">${defs}<rect x="6" y="6" width="258" height="138" fill="${pieceFill(kind, LEGEND)}" stroke="#1d2733" stroke-width="12"/></svg>${KIND_WORDS[kind]} (${letter})</li>`;
  });
  const gear = siteSwatches(result).map(
    ({ name, sign }) =>
      html`<li><svg width="36" height="20" viewBox="0 0 270 150" aria-hidden="true">${sign}</svg>${name}</li>`,
  );
  return html`<ul class="legend">${items}${gear}</ul>`;
};

const faceHeading = (face: Face): string =>
  face.stands
    ? `Face ${face.id}: front of a pilaster of wall ${face.wall}`
    : `Face ${face.id}: ${face.side} side of wall ${face.wall}`;

const elevation = (result: Result, face: Face): Markup => {
  const gear = result.catalogue.lengthUnit;
  const parts = elevationParts(result, face);
  const drawings = parts.map((part, i) => {
    const drawn = elevationDrawing(result, face, part);
    if (drawn === null) return null;
    const stations = `stations ${lengthText(part.fromMm, gear)} to ${lengthText(part.toMm, gear)} ${gear}`;
    const head =
      parts.length === 1
        ? null
        : html`<p>Part ${plainNumber(i + 1, 0)} of ${plainNumber(parts.length, 0)}: ${stations}</p>`;
    return html`<div class="part">${head}${sheet(drawn, `Elevation of face ${face.id}, ${stations}`)}</div>`;
  });
  return html`<div class="elevation">
<h3 id="${idOf('face', face.id)}">${faceHeading(face)}</h3>
${drawings.every((d) => d === null) ? html`<p>This face has no length.</p>` : drawings}
</div>`;
};

export const planSection = (result: Result): Markup => {
  const drawn = planDrawing(result);
  const body =
    drawn === null
      ? html`<p>There is no concrete and no form to draw.</p>`
      : html`<p>Printed at full size the drawings are at 1:50 where the sheet is wide enough; else the scale bar counts. Up is the drawing’s y axis; true north is not read. Lengths in ${result.catalogue.lengthUnit === 'in' ? 'inches' : 'mm'}. The pointer after a wall’s name leads from its start to its end.</p>
${legend(result)}
${sheet(drawn, 'Plan of the forms')}`;
  return html`<section id="plan" class="drawn">
<h2>Plan</h2>
${body}
</section>`;
};

export const elevationsSection = (result: Result): Markup => {
  const faces = elevatedFaces(result);
  if (faces.length === 0) return html``;
  return html`<section id="elevations" class="drawn">
<h2>Elevations</h2>
<p>Each face as the crew sees it that stands before it: stations of a left face run from right to left. Full dots are ties through concrete, open dots ties beyond it; a square marks a tie over its working load. Bold broken line: pour line; heavy line: footing.</p>
${faces.map((face) => elevation(result, face))}
</section>`;
};

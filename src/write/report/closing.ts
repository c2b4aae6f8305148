/** What the program did not look at, and the cautions. */

import { CAUTIONS } from '../../ground/cautions.js';
import { html, type Markup } from './markup.js';

/** By name, so that nobody takes silence for a check. */
export const NOT_CHECKED: readonly string[] = [
  'reinforcement beyond the bars that the job file states and a model holds: bars that a drawing notes, starters, laps',
  'the strength and bracing of box-outs, units across openings, pockets, and sleeves that no model holds',
  'clamps between the units: number, closing range and load, also under the pull along the walls at corners, tees and bulkheads (its size is a finding where it was worked out)',
  'bulkheads: their own strength and their fixing',
  'timber fill: its strength and backing',
  'aligners, braces, wind on one face standing alone, and their anchors',
  'platforms, guardrails and access',
  'footing and soil; the seat of the forms where no footing is drawn or told of',
  'pour joints, waterstops and sealing below the water table',
  'whether what comes out of a closed room (strips, clean-outs, the largest unit) passes what stands in its way',
  'weight for setting by hand or crane, lifting gear',
  'tolerance of the footing',
  'existing structures, and the strength of the concrete when it is stripped',
];

export const closingSections = (): Markup => html`<section id="not-checked">
<h2>Not checked</h2>
<p>This program has not looked at any of these. Somebody must.</p>
<ul>${NOT_CHECKED.map((item) => html`<li>${item}</li>`)}</ul>
</section>
<section id="cautions">
<h2>Cautions</h2>
<ul>${CAUTIONS.map((caution) => html`<li>${caution}</li>`)}</ul>
</section>`;

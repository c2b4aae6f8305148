/** What the program did not look at, and the cautions. */

import { CAUTIONS } from '../../ground/cautions.js';
import { html, type Markup } from './markup.js';

/** By name, so that nobody takes silence for a check. */
export const NOT_CHECKED: readonly string[] = [
  'reinforcement beyond the bars that the job file states and a model holds: bars that a drawing notes, starters, laps',
  'the strength and bracing of box-outs, units across openings, pockets, and sleeves that no model holds',
  'clamps where the catalogue has none, the moment of clamps that are stiff, and whether a clamp and a tie are in each other’s way where the catalogue does not say how near they may stand',
  'bulkheads: their own strength and their fixing (the force is a finding)',
  'timber fill: its backing, and its strength where the catalogue does not rate it',
  'aligners, braces and platforms of curved walls and of walls formed on one side; the anchors of braces and the ground under them',
  'planks and rails of platforms beyond their heights, ladders, and what hangs on a crane',
  'footing and soil; the seat of the forms where no footing is drawn or told of',
  'pour joints, waterstops and sealing below the water table',
  'whether what comes out of a closed room (strips, clean-outs, the largest unit) passes what stands in its way',
  'lifts: crane, slings, ground and wind, and units that slide along the joints of a gang',
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

/** What a reader must know first: what is wrong, how much there is, and how far the layout is proven to be the least. */

import type { Finding } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { CostTier, Result } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { type Amount, amountNumber, amountUnit, type GearUnit, lengthText } from './sizes.js';
import { findingId } from './svg/marks.js';
import { table } from './table.js';

/** How many failures are told in the box at the top; the table has all. */
const TOLD = 10;

const count = (n: number, one: string, many: string): string => `${plainNumber(n, 0)} ${n === 1 ? one : many}`;

const failureItem = (finding: Finding, number: number): Markup =>
  html`<li><a href="#${findingId(number)}">${finding.message}</a> <span class="quiet">(rule ${finding.rule})</span></li>`;

/** The box at the very top: failures in plain words, or what is left to look at. Never says that the layout is safe. */
export const verdict = (result: Result): Markup => {
  const numbered = result.findings.map((finding, i) => ({ finding, number: i + 1 }));
  const failures = numbered.filter(({ finding }) => finding.severity === 'failure');
  const cares = numbered.filter(({ finding }) => finding.severity === 'attention');
  if (failures.length > 0) {
    const more = failures.length - TOLD;
    return html`<section class="verdict fails" aria-label="Verdict">
<p><strong>Do not build from this layout as it stands: ${count(failures.length, 'failure', 'failures')}.</strong></p>
<ol>${failures.slice(0, TOLD).map(({ finding, number }) => failureItem(finding, number))}</ol>
${more > 0 ? html`<p>And ${count(more, 'more failure', 'more failures')} in the <a href="#findings">findings</a>.</p>` : null}</section>`;
  }
  const rest =
    cares.length === 0
      ? html`<p>Nothing needs attention beyond the <a href="#not-checked">list of what is not checked</a>.</p>`
      : html`<p>${count(cares.length, 'finding needs', 'findings need')} a person’s attention: see the <a href="#findings">findings</a>.</p>`;
  return html`<section class="verdict${cares.length > 0 ? ' care' : ''}" aria-label="Verdict">
<p><strong>No broken rule was found. A competent person must check and approve it before it is built.</strong></p>
${rest}</section>`;
};

const facts = (result: Result): Markup => {
  const { plan, schedule, layout } = result;
  const t = schedule.totals;
  const gear = result.catalogue.lengthUnit;
  const amount = (of: Amount, value: number, places: number) =>
    `${amountNumber(of, value, gear, places)} ${amountUnit(of, gear)}`;
  const places = layout.tiers.find((x) => x.name === 'places')?.value ?? 0;
  const list: readonly (readonly [string, string])[] = [
    ['walls', plainNumber(plan.walls.length, 0)],
    ['of wall along the axes', amount('length', t.wallLengthM, 2)],
    ['of contact area', amount('area', t.contactAreaM2, 2)],
    ['pieces of formwork', plainNumber(layout.pieces.length, 0)],
    ['ties', plainNumber(t.tieCount, 0)],
    [
      `of timber on wall faces${places === 0 ? '' : `, in ${count(places, 'place', 'places')}`}`,
      amount('area', t.timberAreaM2, 3),
    ],
    ['of gear and timber', amount('mass', t.massKg, 0)],
    ['of concrete', amount('volume', t.concreteM3, 2)],
  ];
  return html`<dl class="facts">${list.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
};

const TIER_WORDS: Readonly<Record<CostTier['name'], string>> = {
  failures: 'rules broken',
  short: 'units short of the yard’s stock',
  places: 'places of timber fill',
  timberAreaM2: 'timber area',
  steelFillers: 'steel fillers',
  tiesAndUnits: 'ties and units',
  runPast: 'run past ends beyond the least',
  kinds: 'different units',
};

/** A tier's value as the crew reads it, with its unit where it has one. */
const tierValue = (name: CostTier['name'], value: number, gear: GearUnit): string => {
  if (name === 'runPast') return `${lengthText(value, gear)} ${gear}`;
  if (name === 'timberAreaM2') return `${amountNumber('area', value, gear, 4)} ${amountUnit('area', gear)}`;
  return plainNumber(value, 4);
};

const proof = (tier: CostTier, gear: GearUnit): string => {
  if (tier.optimal) return 'least, proven';
  if (tier.bound === null) return 'nothing proven';
  return `not proven: the least may be lower by up to ${tierValue(tier.name, Math.max(0, tier.value - tier.bound), gear)}`;
};

const certificate = (result: Result): Markup => {
  const gear = result.catalogue.lengthUnit;
  const rows = result.layout.tiers.map((tier) => ({
    cells: [
      TIER_WORDS[tier.name],
      tierValue(tier.name, tier.value, gear),
      tier.bound === null ? 'none' : tierValue(tier.name, tier.bound, gear),
      proof(tier, gear),
    ],
  }));
  const columns = [
    { head: 'Made as small as possible, in this order' },
    { head: 'Value', figures: true },
    { head: 'Proven bound', figures: true },
    { head: 'Certificate' },
  ];
  const cut = result.layout.work.cutShort
    ? html`<p>The search ended at its limit of work before all was proven; the bounds above hold.</p>`
    : null;
  return html`${table('How far this layout is the least', columns, rows, 'No cost was worked out.')}${cut}`;
};

export const summarySection = (result: Result): Markup =>
  lines([html`<section id="summary">`, html`<h2>Summary</h2>`, facts(result), certificate(result), html`</section>`]);

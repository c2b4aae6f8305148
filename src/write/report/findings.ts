/** All findings in a table. Severity stands in words and as a sign; its colour only repeats it. */

import type { Finding, Severity } from '../../ground/findings.js';
import { fromMm, plainNumber } from '../../ground/units.js';
import type { Result } from '../../ground/vocabulary.js';
import { type Alike, type FindingGroup, findingGroups } from './findingGroups.js';
import { type Content, html, type Markup } from './markup.js';
import { lengthText } from './sizes.js';
import { findingId, markId } from './svg/marks.js';
import { planMarks } from './svg/plan.js';
import { type Row, table } from './table.js';

const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  failure: '✖ failure',
  attention: '⚠ attention',
  note: 'ℹ note',
};

/** Place in the drawing's own unit, so that it can be typed into the drawing program; the level in the gear’s. */
const place = (finding: Finding, result: Result): string => {
  if (finding.at === null) return '';
  const unit = result.source.lengthUnit;
  const gear = result.catalogue.lengthUnit;
  const [x, y, z] = finding.at;
  const xy = [x, y].map((v) => plainNumber(fromMm(v, unit), unit === 'mm' ? 0 : 3)).join(', ');
  return `${xy} ${unit}${z === 0 ? '' : `, level ${lengthText(gear === 'mm' ? Math.round(z) : z, gear)} ${gear}`}`;
};

/** A code or a key that may break after its dots and dashes, and before a capital. */
const breakable = (code: string): Markup =>
  html`${code.split(/(?<=[.-])|(?<=[a-z])(?=[A-Z])/).map((part, i) => (i === 0 ? part : html`<wbr>${part}`))}`;

/** The number; where the plan shows the finding it leads there. */
const numberOf = (number: number, inPlan: boolean): Content => {
  const figure = plainNumber(number, 0);
  return inPlan
    ? html`<a href="#${markId(number)}" aria-label="Finding ${figure}, show in the plan">${figure} ▲</a>`
    : figure;
};

/** What the others of a group have where the first sentence is bold, one a line. */
const othersMarkup = (others: readonly Alike[], inPlan: ReadonlySet<number>): Markup | null =>
  others.length === 0
    ? null
    : html`<div class="alike">The same, with these in place of the bold, at ${plainNumber(others.length, 0)} more:${others.map(
        ({ number, values }) =>
          html`<br><span id="${findingId(number)}">${numberOf(number, inPlan.has(number))}: ${values.join(' · ')}</span>`,
      )}</div>`;

const sentence = ({ first, parts, others }: FindingGroup): Content =>
  others.length === 0 ? first.finding.message : html`${parts.map((p) => (p.varies ? html`<b>${p.text}</b>` : p.text))}`;

const rowOf = (group: FindingGroup, inPlan: ReadonlySet<number>, result: Result): Row => {
  const { number, finding } = group.first;
  return {
    id: findingId(number),
    look: finding.severity,
    cells: [
      numberOf(number, inPlan.has(number)),
      html`<span class="severity">${SEVERITY_WORDS[finding.severity]}</span>`,
      finding.rule,
      breakable(finding.subject),
      html`<div class="message">${sentence(group)}</div>${othersMarkup(group.others, inPlan)}`,
      finding.assumed ?? '',
      place(finding, result),
      html`<span class="code">${breakable(finding.code)}</span>`,
    ],
  };
};

export const findingsSection = (result: Result): Markup => {
  const inPlan = new Set(planMarks(result).map((mark) => mark.number));
  const rows = findingGroups(result.findings).map((group) => rowOf(group, inPlan, result));
  const columns = [
    { head: 'No.' },
    { head: 'Severity' },
    { head: 'Rule' },
    { head: 'About' },
    { head: 'Finding' },
    { head: 'Assumed' },
    { head: 'Place in the drawing' },
    { head: 'Code' },
  ];
  return html`<section id="findings">
<h2>Findings</h2>
<p>A number with ▲ leads to the triangle of that number in the plan. What is said of several places alike stands once.</p>
${table('All findings, failures first', columns, rows, 'There are no findings.')}
</section>`;
};

/** All findings in a table. Severity stands in words and as a sign; its colour only repeats it. */

import type { Finding, Severity } from '../../ground/findings.js';
import { fromMm, plainNumber } from '../../ground/units.js';
import type { Result } from '../../ground/vocabulary.js';
import { type Content, html, type Markup } from './markup.js';
import { findingId, markId } from './svg/marks.js';
import { planMarks } from './svg/plan.js';
import { type Row, table } from './table.js';

const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  failure: '✖ failure',
  attention: '⚠ attention',
  note: 'ℹ note',
};

/** Place in the drawing's own unit, so that it can be typed into the drawing program; the level in mm. */
const place = (finding: Finding, result: Result): string => {
  if (finding.at === null) return '';
  const unit = result.source.lengthUnit;
  const [x, y, z] = finding.at;
  const xy = [x, y].map((v) => plainNumber(fromMm(v, unit), unit === 'mm' ? 0 : 3)).join(', ');
  return `${xy} ${unit}${z === 0 ? '' : `, level ${plainNumber(z, 0)} mm`}`;
};

/** A code or a key that may break after its dots and dashes, and before a capital. */
const breakable = (code: string): Markup =>
  html`${code.split(/(?<=[.-])|(?<=[a-z])(?=[A-Z])/).map((part, i) => (i === 0 ? part : html`<wbr>${part}`))}`;

const rowOf = (finding: Finding, number: number, inPlan: boolean, result: Result): Row => {
  const figure = plainNumber(number, 0);
  const head: Content = inPlan
    ? html`<a href="#${markId(number)}" aria-label="Finding ${figure}, show in the plan">${figure} ▲</a>`
    : figure;
  const assumed = finding.assumed === null ? '' : finding.assumed;
  return {
    id: findingId(number),
    look: finding.severity,
    cells: [
      head,
      html`<span class="severity">${SEVERITY_WORDS[finding.severity]}</span>`,
      finding.rule,
      breakable(finding.subject),
      html`<div class="message">${finding.message}</div>`,
      assumed,
      place(finding, result),
      html`<span class="code">${breakable(finding.code)}</span>`,
    ],
  };
};

export const findingsSection = (result: Result): Markup => {
  const inPlan = new Set(planMarks(result).map((mark) => mark.number));
  const rows = result.findings.map((f, i) => rowOf(f, i + 1, inPlan.has(i + 1), result));
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
<p>A number with ▲ leads to the triangle of that number in the plan.</p>
${table('All findings, failures first', columns, rows, 'There are no findings.')}
</section>`;
};

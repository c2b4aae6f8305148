/** The report of a job with inch gear: what a crew reads is in inches, feet, yards and pounds. And the cut list, which the page has from the same list as the workbook. */

import { describe, expect, it } from 'vitest';
import { cutRows } from '../../src/ground/cutList.js';
import type { Result } from '../../src/ground/vocabulary.js';
import { reportHtml } from '../../src/write/report/index.js';
import { amountNumber } from '../../src/write/report/sizes.js';
import { exampleResult } from '../support/exampleResult.js';
import { readMarkup } from './markupReader.js';

const inches: Result = {
  ...exampleResult,
  findings: [],
  source: { ...exampleResult.source, lengthUnit: 'in' },
  catalogue: { ...exampleResult.catalogue, lengthUnit: 'in' },
};
const sectionOf = (result: Result, id: string): string => {
  const html = reportHtml(result);
  const from = html.indexOf(`<section id="${id}"`);
  return readMarkup(html.slice(from, html.indexOf('</section>', from) + 10)).text;
};

describe('amounts', () => {
  it('are metric, or by exact definition feet, cubic yards and pounds (international yard and pound, 1959)', () => {
    expect(amountNumber('length', 3.048, 'in', 2)).toBe('10');
    expect(amountNumber('area', 0.09290304, 'in', 4)).toBe('1');
    expect(amountNumber('volume', 0.764554857984, 'in', 4)).toBe('1');
    expect(amountNumber('mass', 45.359237, 'in', 1)).toBe('100');
    expect(amountNumber('mass', 45.36, 'mm', 1)).toBe('45.4');
  });
});

describe('the report for a crew in inches', () => {
  it('has no metric amount in the summary and among the totals', () => {
    for (const text of [sectionOf(inches, 'summary'), sectionOf(inches, 'schedule')]) {
      expect(text).not.toMatch(/\d (m|m²|m³|mm)\b/);
      for (const unit of ['ft', 'ft²', 'yd³', 'lb']) if (text.includes('wall length')) expect(text).toContain(unit);
    }
    expect(sectionOf(inches, 'summary')).toContain('ft²');
    expect(sectionOf(exampleResult, 'summary')).toMatch(/\d m²/);
  });

  it('has its levels in inches among the inputs', () => {
    const units = (result: Result) => [...reportHtml(result).matchAll(/<td>(mm|in)<\/td>/g)].map((m) => m[1]);
    expect(new Set(units(inches))).toEqual(new Set(['in']));
    expect(new Set(units(exampleResult))).toEqual(new Set(['mm']));
  });
});

describe('the cut list in the report', () => {
  it('names mark, wall, net size, count and pieces of everything that is cut', () => {
    const cuts = cutRows(exampleResult);
    expect(cuts.length).toBeGreaterThan(1);
    const html = reportHtml(exampleResult);
    const table = html.slice(html.indexOf('<caption>Cut on site'));
    const body = table.slice(table.indexOf('<tbody>'), table.indexOf('</tbody>'));
    expect(body.split('<tr>').length - 1).toBe(cuts.length);
    for (const cut of cuts) {
      expect(body).toContain(`<th scope="row">${cut.mark}</th><td>${cut.wall}</td>`);
      expect(body).toContain(`<td>${cut.pieces.join(', ')}</td>`);
    }
  });
});

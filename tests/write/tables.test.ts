/** The CSV read back by a reader of RFC 4180, and the promise that a spreadsheet runs none of its text. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../src/ground/cautions.js';
import { csvText } from '../../src/write/tables/csv.js';
import { scheduleCsv } from '../../src/write/tables/index.js';
import { exampleResult } from '../support/exampleResult.js';
import { renamed } from './renamed.js';

const SEED = Number(process.env.FC_SEED ?? 4180);

/** Records after the grammar of RFC 4180, section 2: file = record CRLF ...; a quoted field holds anything, a quote doubled. */
const records = (text: string): string[][] => {
  const all: string[][] = [];
  let at = 0;
  while (at < text.length) {
    const record: string[] = [];
    for (;;) {
      let field = '';
      if (text[at] === '"') {
        for (at++; ; at++) {
          if (at >= text.length) throw new Error('a quote is not closed');
          if (text[at] !== '"') field += text[at];
          else if (text[at + 1] === '"') {
            field += '"';
            at++;
          } else break;
        }
        at++;
      } else {
        while (at < text.length && !/[",\r\n]/.test(text[at]!)) field += text[at++];
        if (text[at] === '"') throw new Error('a quote inside a bare field');
      }
      record.push(field);
      if (text[at] === ',') at++;
      else if (text.startsWith('\r\n', at)) {
        at += 2;
        break;
      } else throw new Error(`neither comma nor line end: ${text.slice(at, at + 20)}`);
    }
    all.push(record);
  }
  return all;
};

const csv = scheduleCsv(exampleResult);
const [header, ...rows] = records(csv);
const column = (row: string[], name: string): string => row[header!.indexOf(name)]!;
const of = (list: string) => rows.filter((r) => column(r, 'list') === list);

describe('records', () => {
  it('all have the header’s fields', () => {
    expect(header!.slice(0, 7)).toEqual(['list', 'item', 'kind', 'width_mm', 'height_mm', 'count', 'mass_kg']);
    expect(new Set(rows.map((r) => r.length))).toEqual(new Set([header!.length]));
  });

  it('tell every row of the schedule', () => {
    const seen = of('item').map((r) =>
      ['item', 'kind', 'width_mm', 'height_mm', 'count'].map((name) => column(r, name)),
    );
    expect(seen).toEqual(
      exampleResult.schedule.rows.map((r) => [r.item, r.kind, `${r.widthMm}`, `${r.heightMm}`, `${r.count}`]),
    );
    const mass = of('item').reduce((sum, r) => sum + Number(column(r, 'mass_kg')), 0);
    expect(mass).toBeCloseTo(exampleResult.schedule.totals.massKg, 1);
  });

  it('tell stock and what is short of it', () => {
    const short = { ...exampleResult, schedule: { ...exampleResult.schedule } };
    short.schedule.rows = short.schedule.rows.map((r) => (r.kind === 'filler' ? { ...r, stock: 1 } : r));
    const filler = records(scheduleCsv(short)).find((r) => column(r, 'kind') === 'filler')!;
    expect([column(filler, 'stock'), column(filler, 'short')]).toEqual(['1', '1']);
    const corner = rows.find((r) => column(r, 'kind') === 'inside-corner')!;
    expect([column(corner, 'stock'), column(corner, 'short')]).toEqual(['', '']);
  });

  it('carry totals with their units, the drawing’s name and digest, and every caution', () => {
    expect(of('total')).toHaveLength(Object.keys(exampleResult.schedule.totals).length);
    expect(of('total').every((r) => column(r, 'unit') !== '' && column(r, 'value') !== '')).toBe(true);
    expect(of('source').map((r) => column(r, 'item'))).toEqual(['ell.dxf']);
    expect(column(of('source')[0]!, 'remark')).toContain(exampleResult.source.sha256);
    expect(of('caution').map((r) => column(r, 'remark'))).toEqual([...CAUTIONS]);
  });

  it('are the same for the same result', () => {
    expect(scheduleCsv(structuredClone(exampleResult))).toBe(csv);
  });
});

describe('text from outside', () => {
  const nasty = fc.oneof(
    fc.constantFrom(
      '=1+1',
      '+1',
      '-1',
      '@SUM(A1)',
      '\t=1',
      '\r=1',
      ' =1',
      '\u00a0=1',
      '\u200b=1',
      '＝1',
      '"',
      '","',
      '\r\n=x',
      "'=1",
      'a,b',
    ),
    fc.string({ unit: 'grapheme' }),
    fc.string({ unit: 'binary' }),
  );

  it('comes back as it was, with an apostrophe before what would be a formula', () => {
    fc.assert(
      fc.property(nasty, (text) => {
        const [[field]] = records(csvText([[text]])) as [[string]];
        expect([text, `'${text}`]).toContain(field);
        // What a spreadsheet takes for a formula: the first sign that is no blank, control or format sign.
        expect(field.replace(/^[\s\p{Cc}\p{Cf}]+/u, '')).not.toMatch(/^[=+\-@＝＋－＠]/);
        expect(/^[\t\r]/.test(field)).toBe(false);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  it('does not change the number of records and fields', () => {
    fc.assert(
      fc.property(nasty, (text) => {
        const made = records(scheduleCsv(renamed(exampleResult, (name) => `${text}${name}`)));
        expect(made.map((r) => r.length)).toEqual([header!, ...rows].map((r) => r.length));
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('numbers stay numbers: a minus before one is no formula, anything else in its place is our own mistake', () => {
    expect(csvText([[{ number: '-1.5' }]])).toBe('-1.5\r\n');
    for (const number of ['1e9', 'NaN', '', '=1', '1,5']) expect(() => csvText([[{ number }]])).toThrow();
  });
});

/** How high the texts of dimensions stand: by their block, by style and scale, by overrides, through inserts. Group codes: DXF reference, 'DIMSTYLE', 'DIMENSION'. */

import { describe, expect, it } from 'vitest';
import { dxf, readText } from './samples.js';

const section = (name: string, lines: readonly string[]): string[] => ['0 SECTION', `2 ${name}`, ...lines, '0 ENDSEC'];

/** Styles: PLAN 2.5 high at overall scale 50; FIXED takes its text style's height of 3; SEEN is scaled by the window (0). */
const TABLES = section('TABLES', [
  ...['0 TABLE', '2 STYLE', '70 1', '0 STYLE', '5 2A', '2 NOTES', '70 0', '40 3.0', '0 ENDTAB'],
  ...['0 TABLE', '2 DIMSTYLE', '70 3'],
  ...['0 DIMSTYLE', '105 30', '2 PLAN', '70 0', '40 50.0', '140 2.5'],
  ...['0 DIMSTYLE', '105 31', '2 FIXED', '70 0', '40 20.0', '140 2.5', '340 2a'],
  ...['0 DIMSTYLE', '105 32', '2 SEEN', '70 0', '40 0.0', '140 2.5'],
  '0 ENDTAB',
]);

const DIMENSION = ['0 DIMENSION', '8 DIMS', '70 32', '13 0.0', '23 0.0', '14 1000.0', '24 0.0'];
const styled = (style: string, more: readonly string[] = []): string[] => [...DIMENSION, `3 ${style}`, ...more];

const block = (name: string, lines: readonly string[]): string[] => [
  ...['0 BLOCK', '8 0', `2 ${name}`, '70 0', '10 0.0', '20 0.0', '30 0.0', `3 ${name}`],
  ...lines,
  ...['0 ENDBLK', '8 0'],
];

const heights = (entities: readonly string[], blocks: readonly string[] = []): (number | null)[] =>
  readText(
    dxf([
      ...section('HEADER', ['9 $ACADVER', '1 AC1015']),
      ...TABLES,
      ...section('BLOCKS', blocks),
      ...section('ENTITIES', entities),
      '0 EOF',
    ]),
  ).drawing.dimensions.map((d) => d.textHeight);

const overridden = (pairs: readonly string[]): string[] => [
  ...['1001 ACAD', '1000 DSTYLE', '1002 {'],
  ...pairs,
  '1002 }',
];

describe('the height of a dimension’s text', () => {
  it('is that of its style times the overall scale', () => {
    expect(heights(styled('PLAN'))).toEqual([125]);
    expect(heights(styled('plan'))).toEqual([125]);
  });

  it('is the fixed height of the style of text, where it has one, times the overall scale', () => {
    expect(heights(styled('FIXED'))).toEqual([60]);
  });

  it('heeds what the dimension overrides', () => {
    expect(heights(styled('PLAN', overridden(['1070 140', '1040 3.5'])))).toEqual([175]);
    expect(heights(styled('PLAN', overridden(['1070 40', '1040 100.0', '1070 140', '1040 2.0'])))).toEqual([200]);
  });

  it('is what the block shows, whatever the style says', () => {
    const shown = block('*D1', ['0 MTEXT', '8 DIMS', '10 0.0', '20 0.0', '40 87.5', '1 1000']);
    expect(heights(styled('PLAN', ['2 *D1']), shown)).toEqual([87.5]);
    // Annotative: the style's scale is 0, the block has the height at the scale last looked at.
    expect(heights(styled('SEEN', ['2 *D1']), shown)).toEqual([87.5]);
  });

  it('grows with the insert in which the dimension stands', () => {
    const insert = ['0 INSERT', '8 0', '2 VIEW', '10 0.0', '20 0.0', '41 -2.0', '42 2.0', '43 2.0'];
    expect(heights(insert, block('VIEW', styled('PLAN')))).toEqual([250]);
  });

  it('is not known where neither block nor style tells it', () => {
    expect(heights(styled('SEEN'))).toEqual([null]);
    expect(heights(styled('NOWHERE'))).toEqual([null]);
    expect(heights(styled('PLAN', overridden(['1070 40', '1040 -1.0'])))).toEqual([null]);
  });
});

/** The looks of cells (ECMA-376 part 1, 18.8): one style for each look of a row and each kind of content. */

import type { NumberFormat, RowLook } from './sheet.js';
import { part } from './xml.js';

/** Built-in formats 1, 2 and 4 (18.8.30) and our own from 164 on. */
const FORMAT_IDS: Readonly<Record<NumberFormat, number>> = { whole: 3, one: 164, two: 4, three: 165, fraction: 166 };
const OWN_FORMATS = [
  [164, '#,##0.0'],
  [165, '#,##0.000'],
  [166, '# ?/??'],
] as const;

const FONTS = [
  '<font><sz val="10"/><name val="Arial"/><family val="2"/></font>',
  '<font><b/><sz val="10"/><name val="Arial"/><family val="2"/></font>',
  '<font><b/><sz val="14"/><name val="Arial"/><family val="2"/></font>',
];
const solid = (rgb: string) =>
  `<fill><patternFill patternType="solid"><fgColor rgb="FF${rgb}"/><bgColor indexed="64"/></patternFill></fill>`;
/** The first two are fixed by the format. */
const FILLS = [
  '<fill><patternFill patternType="none"/></fill>',
  '<fill><patternFill patternType="gray125"/></fill>',
  solid('E4E8EC'),
  solid('FFF3D6'),
];
const border = (top: string, bottom: string) =>
  `<border><left/><right/>${top === '' ? '<top/>' : `<top style="${top}"><color rgb="FF1D2733"/></top>`}${bottom === '' ? '<bottom/>' : `<bottom style="${bottom}"><color rgb="FF8A939C"/></bottom>`}<diagonal/></border>`;
const BORDERS = [border('', ''), border('', 'hair'), border('', 'medium'), border('thin', 'double')];

/** Font, fill and border of a row's look. */
const LOOKS: Readonly<Record<RowLook, readonly [font: number, fill: number, border: number]>> = {
  plain: [0, 0, 1],
  short: [0, 3, 1],
  group: [1, 2, 1],
  total: [1, 0, 3],
};
const LOOK_ORDER: readonly RowLook[] = ['plain', 'short', 'group', 'total'];
type Content = 'text' | 'wrapped' | NumberFormat;
const CONTENTS: readonly Content[] = ['text', 'wrapped', 'whole', 'one', 'two', 'three', 'fraction'];

/** Styles before those of the rows. */
export const STYLE = { none: 0, title: 1, head: 2, headFigures: 3, note: 4 } as const;
const FIRST_ROW_STYLE = 5;

export const rowStyle = (look: RowLook, content: Content): number =>
  FIRST_ROW_STYLE + LOOK_ORDER.indexOf(look) * CONTENTS.length + CONTENTS.indexOf(content);

const xf = (font: number, fill: number, edge: number, format: number, alignment: string): string =>
  `<xf numFmtId="${format}" fontId="${font}" fillId="${fill}" borderId="${edge}" xfId="0" applyNumberFormat="1" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><alignment ${alignment}/></xf>`;

const rowXf = (look: RowLook, content: Content): string => {
  const [font, fill, edge] = LOOKS[look];
  if (content === 'text') return xf(font, fill, edge, 0, 'vertical="top"');
  if (content === 'wrapped') return xf(font, fill, edge, 0, 'horizontal="left" indent="1" vertical="top" wrapText="1"');
  return xf(font, fill, edge, FORMAT_IDS[content], 'horizontal="right" vertical="top"');
};

export const stylesXml = (): string => {
  const xfs = [
    xf(0, 0, 0, 0, 'vertical="top"'),
    xf(2, 0, 0, 0, 'vertical="center"'),
    xf(1, 2, 2, 0, 'vertical="bottom" wrapText="1"'),
    xf(1, 2, 2, 0, 'horizontal="right" vertical="bottom" wrapText="1"'),
    xf(0, 0, 0, 0, 'vertical="top" wrapText="1"'),
    ...LOOK_ORDER.flatMap((look) => CONTENTS.map((content) => rowXf(look, content))),
  ];
  const formats = OWN_FORMATS.map(([id, code]) => `<numFmt numFmtId="${id}" formatCode="${code}"/>`);
  const list = (name: string, items: readonly string[]) =>
    `<${name} count="${items.length}">${items.join('')}</${name}>`;
  return part(
    `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">${list('numFmts', formats)}${list('fonts', FONTS)}${list('fills', FILLS)}${list('borders', BORDERS)}<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>${list('cellXfs', xfs)}<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`,
  );
};

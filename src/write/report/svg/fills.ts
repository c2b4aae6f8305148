/** How each kind of piece is filled: by hatch and shade, so that a black-and-white print tells them apart. */

import { plainNumber } from '../../../ground/units.js';
import type { PieceKind } from '../../../ground/vocabulary.js';
import { html, idOf, lines, type Markup } from '../markup.js';

interface Hatch {
  readonly ground: string;
  readonly ink: string;
  readonly spacingMm: number;
  readonly widthMm: number;
  readonly degs: readonly number[];
}

const HATCHES: Readonly<Record<'concrete' | 'filler' | 'corner' | 'bulkhead' | 'strip', Hatch>> = {
  concrete: { ground: '#f4f2ec', ink: '#cbc5b6', spacingMm: 70, widthMm: 7, degs: [45] },
  filler: { ground: '#ffffff', ink: '#1d2733', spacingMm: 34, widthMm: 8, degs: [45] },
  corner: { ground: '#e6eadd', ink: '#5b6b3f', spacingMm: 60, widthMm: 6, degs: [45, -45] },
  bulkhead: { ground: '#f3e3cf', ink: '#8a5a1f', spacingMm: 40, widthMm: 8, degs: [0] },
  strip: { ground: '#ffffff', ink: '#1d2733', spacingMm: 40, widthMm: 8, degs: [0, 90] },
};

const FILL_OF: Readonly<Record<PieceKind, keyof typeof HATCHES | '#dbe6ee' | '#1d1712'>> = {
  panel: '#dbe6ee',
  filler: 'filler',
  'inside-corner': 'corner',
  'outside-corner': 'corner',
  'hinged-corner': 'corner',
  timber: '#1d1712',
  strip: 'strip',
  bulkhead: 'bulkhead',
  'box-out': 'bulkhead',
};

const patternId = (name: string, key: string): string => idOf(key, name);

/** Value of a fill attribute for a piece in the drawing of that name. */
export const pieceFill = (kind: PieceKind, name: string): string => {
  const fill = FILL_OF[kind];
  return fill.startsWith('#') ? fill : `url(#${patternId(name, fill)})`;
};

export const concreteFill = (name: string): string => `url(#${patternId(name, 'concrete')})`;

/** The patterns of a drawing; ids carry its name, since several drawings stand in one page. */
export const patternDefs = (name: string): Markup => {
  const patterns = Object.entries(HATCHES).map(([key, hatch]) => {
    const s = plainNumber(hatch.spacingMm);
    const strokes = hatch.degs.map((deg) =>
      deg === hatch.degs[0] ? html`<path d="M0 0H${s}"/>` : html`<path d="M0 0V${s}"/>`,
    );
    return html`<pattern id="${patternId(name, key)}" patternUnits="userSpaceOnUse" width="${s}" height="${s}" patternTransform="rotate(${plainNumber(-hatch.degs[0]!)})"><rect width="${s}" height="${s}" fill="${hatch.ground}"/><g stroke="${hatch.ink}" stroke-width="${plainNumber(hatch.widthMm * 2)}">${strokes}</g></pattern>`;
  });
  return html`<defs>${lines(patterns)}</defs>`;
};

/**
 * The ground that all drawings of the report stand on: a frame of the plane in mm, y up, turned into SVG units of mm from its own corner
 * (sites have coordinates in millions, which renderers hold in single precision). Sizes are for 1:50: 140 reads as 2.8 mm.
 */

import type { Vec } from '../../../ground/plane.js';
import { plainNumber } from '../../../ground/units.js';
import { html, idOf, type Markup } from '../markup.js';

/** Text and line widths, mm of the building. */
export const TEXT_MM = 140;
export const SMALL_TEXT_MM = 95;
export const LINE = { form: 22, tie: 16, thin: 9, hair: 5 } as const;

/** CSS pixels for a mm of the building at 1:50 (96 px an inch). */
const PX_PER_MM = 96 / 25.4 / 50;
/** Mean width of a sign over its height in common sans serif fonts, on the wide side. */
const SIGN_WIDTH = 0.6;

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export interface Drawing {
  readonly markup: Markup;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The box round points, or null without any. */
export const boxOf = (points: readonly Vec[]): Box | null => {
  if (points.length === 0) return null;
  let box: Box = { minX: points[0]!.x, minY: points[0]!.y, maxX: points[0]!.x, maxY: points[0]!.y };
  for (const p of points)
    box = {
      minX: Math.min(box.minX, p.x),
      minY: Math.min(box.minY, p.y),
      maxX: Math.max(box.maxX, p.x),
      maxY: Math.max(box.maxY, p.y),
    };
  return box;
};

export const grow = (box: Box, left: number, bottom = left, right = left, top = bottom): Box => ({
  minX: box.minX - left,
  minY: box.minY - bottom,
  maxX: box.maxX + right,
  maxY: box.maxY + top,
});

export type View = (p: Vec) => Vec;

export const viewOf =
  (box: Box): View =>
  (p) => ({ x: p.x - box.minX, y: box.maxY - p.y });

/** A coordinate as it is written: a tenth of a mm. Throws on what is no number, since a renderer would drop the shape without a word. */
export const num = (value: number): string => {
  if (!Number.isFinite(value)) throw new Error(`a drawing cannot hold ${value}`);
  return plainNumber(value, 1);
};

/** Path data of a polyline in the plane. */
export const pathData = (points: readonly Vec[], view: View, closed: boolean): string => {
  const parts = points.map((p, i) => {
    const v = view(p);
    return `${i === 0 ? 'M' : 'L'}${num(v.x)} ${num(v.y)}`;
  });
  return parts.join('') + (closed ? 'Z' : '');
};

export const lineMarkup = (a: Vec, b: Vec, view: View): Markup => html`<path d="${pathData([a, b], view, false)}"/>`;

export const textWidth = (text: string, sizeMm: number): number => [...text].length * SIGN_WIDTH * sizeMm;

/** The angle in degrees, SVG's way round, by which text along a direction of the plane is turned so that it never stands on its head. */
export const uprightDeg = (direction: Vec): number => {
  const deg = (-Math.atan2(direction.y, direction.x) * 180) / Math.PI;
  if (deg > 90 - 1e-6) return deg - 180;
  return deg < -90 - 1e-6 ? deg + 180 : deg;
};

export interface TextStyle {
  readonly sizeMm?: number;
  readonly deg?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: string;
  readonly bold?: boolean;
  /** White rim that keeps text readable over lines. */
  readonly rim?: boolean;
}

/** Text whose middle height stands at a point of the plane. */
export const textMarkup = (text: string, at: Vec, view: View, style: TextStyle = {}): Markup => {
  const { sizeMm = TEXT_MM, deg = 0, anchor = 'middle', fill = INK, bold = false, rim = true } = style;
  const v = view(at);
  const turn = deg === 0 ? null : html` transform="rotate(${num(deg)} ${num(v.x)} ${num(v.y)})"`;
  const halo = rim ? html` paint-order="stroke" stroke="#fff" stroke-width="${num(sizeMm * 0.22)}"` : null;
  const weight = bold ? html` font-weight="700"` : null;
  return html`<text x="${num(v.x)}" y="${num(v.y)}" dy="0.35em" font-size="${num(sizeMm)}" text-anchor="${anchor}" fill="${fill}"${weight}${halo}${turn}>${text}</text>`;
};

export const INK = '#1d2733';
export const FAIL_INK = '#9b2c00';
export const NOTE_INK = '#0b4f7d';
export const QUIET_INK = '#5a6470';

/** A drawing with its name and a sentence that says what is seen; `name` makes the ids in it its own. */
export const drawing = (args: {
  readonly box: Box;
  readonly name: string;
  readonly title: string;
  readonly desc: string;
  readonly body: Markup;
}): Drawing => {
  const { box, name, title, desc, body } = args;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const widthPx = Math.ceil(width * PX_PER_MM);
  const heightPx = Math.ceil(height * PX_PER_MM);
  const titleId = idOf('title', name);
  const descId = idOf('desc', name);
  const markup = html`<svg xmlns="http://www.w3.org/2000/svg" role="group" aria-labelledby="${titleId} ${descId}" viewBox="0 0 ${num(width)} ${num(height)}" width="${num(widthPx)}" height="${num(heightPx)}" font-family="system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif">
<title id="${titleId}">${title}</title>
<desc id="${descId}">${desc}</desc>
${body}
</svg>`;
  return { markup, widthPx, heightPx };
};

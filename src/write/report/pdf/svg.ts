/**
 * Draws our own SVG as vectors: the elements and attributes that ../svg writes, and no others. Something that it does not know throws, so that a new shape in
 * a drawing is not lost on paper without a word.
 */

import type { Paper } from './paper.js';
import { attribute, type Element, elementsOf, find, findAll, isElement, type Node, textOf } from './tree.js';

interface Style {
  readonly fill: string;
  readonly fillOpacity: number;
  readonly stroke: string;
  readonly strokeWidth: number;
  readonly dash: string;
  readonly join: string;
  readonly rule: string;
}

const START: Style = {
  fill: '#000000',
  fillOpacity: 1,
  stroke: 'none',
  strokeWidth: 1,
  dash: 'none',
  join: 'miter',
  rule: 'nonzero',
};

/** Attributes that say nothing of how it looks here. */
const SILENT = new Set([
  'id',
  'href',
  'class',
  'role',
  'tabindex',
  'aria-labelledby',
  'aria-label',
  'aria-hidden',
  'data-finding',
]);
const STYLED = new Set([
  'fill',
  'fill-opacity',
  'fill-rule',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-linejoin',
  'transform',
]);
const OWN: Readonly<Record<string, readonly string[]>> = {
  path: ['d'],
  rect: ['x', 'y', 'width', 'height'],
  circle: ['cx', 'cy', 'r'],
  text: ['x', 'y', 'dy', 'font-size', 'text-anchor', 'font-weight', 'paint-order'],
  g: [],
  a: [],
};

const numberOf = (element: Element, name: string, otherwise = 0): number => {
  const value = attribute(element, name);
  if (value === null) return otherwise;
  const number = Number(value);
  if (!Number.isFinite(number)) throw new Error(`${element.name} ${name}="${value}" is no number`);
  return number;
};

const styleOf = (element: Element, outer: Style): Style => ({
  fill: attribute(element, 'fill') ?? outer.fill,
  fillOpacity: numberOf(element, 'fill-opacity', outer.fillOpacity),
  stroke: attribute(element, 'stroke') ?? outer.stroke,
  strokeWidth: numberOf(element, 'stroke-width', outer.strokeWidth),
  dash: attribute(element, 'stroke-dasharray') ?? outer.dash,
  join: attribute(element, 'stroke-linejoin') ?? outer.join,
  rule: attribute(element, 'fill-rule') ?? outer.rule,
});

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The box round what a shape's attributes name; of a path its points, which are all absolute in our drawings. */
const boxOf = (shape: Element): Box => {
  if (shape.name === 'circle') {
    const r = numberOf(shape, 'r');
    return { x: numberOf(shape, 'cx') - r, y: numberOf(shape, 'cy') - r, width: 2 * r, height: 2 * r };
  }
  if (shape.name === 'rect')
    return {
      x: numberOf(shape, 'x'),
      y: numberOf(shape, 'y'),
      width: numberOf(shape, 'width'),
      height: numberOf(shape, 'height'),
    };
  const numbers = (attribute(shape, 'd') ?? '').match(/-?\d+(\.\d+)?/g)?.map(Number) ?? [];
  const xs = numbers.filter((_, i) => i % 2 === 0);
  const ys = numbers.filter((_, i) => i % 2 === 1);
  const min = (all: readonly number[]) => all.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const max = (all: readonly number[]) => all.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  return { x: min(xs), y: min(ys), width: max(xs) - min(xs), height: max(ys) - min(ys) };
};

/** What a hatch is made of; see ../svg/fills.ts. */
interface Hatch {
  readonly ground: string;
  readonly ink: string;
  readonly widthMm: number;
  readonly spacing: number;
  readonly degs: readonly number[];
}

const hatchOf = (pattern: Element): Hatch => {
  const ground = find(pattern.children, 'rect');
  const group = find(pattern.children, 'g');
  const turned = /^rotate\((-?[\d.]+)\)$/.exec(attribute(pattern, 'patternTransform') ?? '');
  if (ground === null || group === null || turned === null) throw new Error('a hatch that the PDF cannot draw');
  const first = Number(turned[1]);
  const strokes = elementsOf(group.children).map((path) => attribute(path, 'd') ?? '');
  return {
    ground: attribute(ground, 'fill') ?? '#ffffff',
    ink: attribute(group, 'stroke') ?? '#000000',
    // Half of each line lies in the neighbouring tile, which a pattern does not draw.
    widthMm: numberOf(group, 'stroke-width') / 2,
    spacing: numberOf(pattern, 'width'),
    degs: strokes.map((d) => (d.includes('V') ? first + 90 : first)),
  };
};

export type Hatches = ReadonlyMap<string, Hatch>;

/** All hatches of the document, by id: drawings may share them. */
export const hatchesOf = (nodes: readonly Node[]): Hatches =>
  new Map(findAll(nodes, 'pattern').map((p) => [attribute(p, 'id') ?? '', hatchOf(p)]));

class Pen {
  readonly #hatches: Hatches;

  constructor(
    readonly paper: Paper,
    hatches: Hatches,
    /** From the drawing's units to the page. */
    readonly scale: number,
    readonly x: number,
    readonly y: number,
  ) {
    this.#hatches = hatches;
  }

  draw(element: Element, outer: Style): void {
    const own = OWN[element.name];
    if (element.name === 'defs' || element.name === 'title' || element.name === 'desc') return;
    if (own === undefined) throw new Error(`the PDF cannot draw <${element.name}>`);
    for (const name of element.attributes.keys()) {
      if (!SILENT.has(name) && !STYLED.has(name) && !own.includes(name))
        throw new Error(`the PDF cannot draw ${name} of <${element.name}>`);
    }
    const { doc } = this.paper;
    const style = styleOf(element, outer);
    const transform = attribute(element, 'transform');
    if (transform !== null) {
      doc.save();
      this.#transform(transform);
    }
    if (element.name === 'text') this.#text(element, style);
    else if (element.name === 'g' || element.name === 'a') this.#group(element, style);
    else this.#shape(element, style);
    if (transform !== null) doc.restore();
  }

  #transform(text: string): void {
    const { doc } = this.paper;
    const turn = /^rotate\((-?[\d.]+)(?:[ ,]+(-?[\d.]+)[ ,]+(-?[\d.]+))?\)$/.exec(text);
    const shift = /^translate\((-?[\d.]+)[ ,]+(-?[\d.]+)\)$/.exec(text);
    if (turn) doc.rotate(Number(turn[1]), { origin: [Number(turn[2] ?? 0), Number(turn[3] ?? 0)] });
    else if (shift) doc.translate(Number(shift[1]), Number(shift[2]));
    else throw new Error(`the PDF cannot draw transform="${text}"`);
  }

  /** A group; one that links becomes a link over its first shape, and the aim of links to its id. */
  #group(element: Element, style: Style): void {
    for (const child of elementsOf(element.children)) this.draw(child, style);
    const shape = element.name === 'a' ? elementsOf(element.children).find((e) => e.name === 'path') : undefined;
    if (shape === undefined) return;
    const box = boxOf(shape);
    const at = { x: this.x + box.x * this.scale, y: this.y + box.y * this.scale };
    const id = attribute(element, 'id');
    if (id !== null) this.paper.anchor(id, at.x - 40, at.y - 40);
    const to = attribute(element, 'href');
    if (to?.startsWith('#')) this.paper.link(to.slice(1), at.x, at.y, box.width * this.scale, box.height * this.scale);
  }

  #outline(shape: Element): void {
    const { doc } = this.paper;
    if (shape.name === 'path') doc.path(attribute(shape, 'd') ?? '');
    else if (shape.name === 'circle') doc.circle(numberOf(shape, 'cx'), numberOf(shape, 'cy'), numberOf(shape, 'r'));
    else {
      const { x, y, width, height } = boxOf(shape);
      doc.rect(x, y, width, height);
    }
  }

  #shape(shape: Element, style: Style): void {
    if (shape.name === 'path' && (attribute(shape, 'd') ?? '') === '') return;
    const { doc } = this.paper;
    const hatch = /^url\(#(.+)\)$/.exec(style.fill);
    if (hatch) this.#hatch(shape, hatch[1]!, style);
    else if (style.fill !== 'none') {
      this.#outline(shape);
      doc.fillOpacity(style.fillOpacity);
      doc.fill(style.fill, style.rule === 'evenodd' ? 'even-odd' : 'non-zero');
      doc.fillOpacity(1);
    }
    if (style.stroke === 'none') return;
    this.#outline(shape);
    doc.lineWidth(style.strokeWidth).lineJoin(style.join === 'round' ? 'round' : 'miter');
    if (style.dash === 'none') doc.undash();
    else {
      const [length, ...space] = style.dash.split(/[ ,]+/).map(Number);
      if (space.length === 1) doc.dash(length!, { space: space[0]! });
      // The types know one length alone; the program takes a whole pattern.
      else doc.dash([length!, ...space] as unknown as number, {});
    }
    doc.stroke(style.stroke);
    doc.undash();
  }

  #hatch(shape: Element, name: string, style: Style): void {
    const hatch = this.#hatches.get(name);
    if (hatch === undefined) throw new Error(`a drawing has no hatch ${name}`);
    const { doc } = this.paper;
    const rule = style.rule === 'evenodd' ? 'even-odd' : 'non-zero';
    this.#outline(shape);
    doc.fill(hatch.ground, rule);
    doc.save();
    this.#outline(shape);
    doc.clip(rule);
    doc.lineWidth(hatch.widthMm).undash();
    const box = boxOf(shape);
    for (const deg of hatch.degs) this.#strokes(box, deg, hatch.spacing);
    doc.stroke(hatch.ink);
    doc.restore();
  }

  /** Parallel lines over a box, at distances from the drawing's corner, so that neighbours' hatches meet. */
  #strokes(box: Box, deg: number, spacing: number): void {
    const { doc } = this.paper;
    const rad = (deg * Math.PI) / 180;
    const along = { x: Math.cos(rad), y: Math.sin(rad) };
    const corners = [
      [box.x, box.y],
      [box.x + box.width, box.y],
      [box.x, box.y + box.height],
      [box.x + box.width, box.y + box.height],
    ] as const;
    const across = corners.map(([x, y]) => y * along.x - x * along.y);
    const lengths = corners.map(([x, y]) => x * along.x + y * along.y);
    const [from, to] = [Math.min(...lengths), Math.max(...lengths)];
    for (let i = Math.ceil(Math.min(...across) / spacing); i * spacing <= Math.max(...across); i++) {
      const at = i * spacing;
      doc.moveTo(along.x * from - along.y * at, along.y * from + along.x * at);
      doc.lineTo(along.x * to - along.y * at, along.y * to + along.x * at);
    }
  }

  #text(element: Element, style: Style): void {
    const text = textOf(element.children).trim();
    if (text === '') return;
    const { doc } = this.paper;
    const size = numberOf(element, 'font-size');
    const bold = attribute(element, 'font-weight') === '700';
    const shift = Number((attribute(element, 'dy') ?? '0em').replace('em', '')) * size;
    const width = this.paper.measure(size)(text, bold);
    const anchor = attribute(element, 'text-anchor') ?? 'start';
    const x = numberOf(element, 'x') - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
    const y = numberOf(element, 'y') + shift;
    doc.font(bold ? 'bold' : 'regular').fontSize(size);
    const options = { lineBreak: false, baseline: 'alphabetic' } as const;
    if (style.stroke !== 'none') {
      // The rim first, as paint-order asks.
      doc.lineWidth(style.strokeWidth).lineJoin('round').strokeColor(style.stroke).undash();
      doc.text(text, x, y, { ...options, fill: false, stroke: true });
    }
    doc.fillColor(style.fill).text(text, x, y, { ...options, fill: true, stroke: false });
  }
}

/** Title and description of a drawing: what is read out instead of it. */
export const alternative = (svg: Element): string =>
  ['title', 'desc']
    .map((name) => elementsOf(svg.children).find((e) => e.name === name))
    .map((e) => (e ? textOf(e.children).trim() : ''))
    .filter((text) => text !== '')
    .join('. ');

export const sizeOf = (svg: Element): { readonly width: number; readonly height: number } => {
  const [, , width, height] = (attribute(svg, 'viewBox') ?? '').split(' ').map(Number);
  if (!(width! > 0) || !(height! > 0)) throw new Error('a drawing without a size');
  return { width: width!, height: height! };
};

/** Draws with the upper left corner at x, y; `scale` in points for a unit of the drawing. */
export const drawSvg = (paper: Paper, hatches: Hatches, svg: Element, x: number, y: number, scale: number): void => {
  const { doc } = paper;
  doc.save();
  doc.translate(x, y).scale(scale);
  const pen = new Pen(paper, hatches, scale, x, y);
  for (const child of svg.children) if (isElement(child)) pen.draw(child, START);
  doc.restore();
};

/**
 * The pages of the PDF: sizes, cursor, text, tags. pdfkit writes the file; nothing here asks for the time, since the kit brings its date. Lengths in points
 * (1/72 in), y down from the upper edge.
 */

import PDFDocument from 'pdfkit';
import { type Line, linesOf, type Measure, type Word } from './inline.js';

/** What must be brought from outside to write a PDF: a font that may be embedded, and the date that every PDF says that it was made on. */
export interface PaperKit {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
  readonly date: Date;
}

export interface PageSize {
  readonly width: number;
  readonly height: number;
}

export const MARGIN = 36;
/** Header and footer stand within the margins' inner edge. */
const HEAD = 22;
const FOOT = 30;

export const INK = '#1d2733';
export const QUIET = '#4f5964';
const LINK = '#0b4f7d';

/** Text line over its size. */
const LEADING = 1.32;
const ASCENT = 0.93;

export type Tag = PDFKit.PDFStructureElement;

export class Paper {
  readonly doc: PDFKit.PDFDocument;
  readonly root: Tag;
  /** Next free height. */
  y = 0;
  #page: PageSize = { width: 0, height: 0 };
  readonly #widths = new Map<string, number>();
  readonly #anchors: ReadonlySet<string>;

  /** `anchors`: the ids that links may lead to. */
  constructor(
    kit: PaperKit,
    facts: { readonly title: string; readonly subject: string },
    anchors: ReadonlySet<string>,
  ) {
    this.#anchors = anchors;
    this.doc = new PDFDocument({
      autoFirstPage: false,
      bufferPages: true,
      tagged: true,
      lang: 'en',
      displayTitle: true,
      pdfVersion: '1.7',
      info: { Title: facts.title, Subject: facts.subject, Creator: 'shutterwright', CreationDate: kit.date },
    });
    // The types know Node's Buffer alone; the program takes any bytes.
    this.doc.registerFont('regular', kit.regular as unknown as string);
    this.doc.registerFont('bold', kit.bold as unknown as string);
    this.root = this.doc.struct('Document');
    this.doc.addStructure(this.root);
  }

  get page(): PageSize {
    return this.#page;
  }

  get left(): number {
    return MARGIN;
  }

  get width(): number {
    return this.#page.width - 2 * MARGIN;
  }

  get top(): number {
    return MARGIN + HEAD;
  }

  get bottom(): number {
    return this.#page.height - MARGIN - FOOT;
  }

  /** A new page, of the size of the one before unless told otherwise. */
  addPage(size: PageSize = this.#page): void {
    this.#page = size;
    this.doc.addPage({ size: [size.width, size.height], margin: 0 });
    this.y = this.top;
  }

  /** Goes to a new page unless so much room is left; on an empty page nothing is gained by that. */
  ensure(height: number): void {
    if (this.y + height > this.bottom && this.y > this.top) this.addPage();
  }

  measure(size: number): Measure {
    return (text, bold) => {
      const key = `${bold ? 'b' : 'r'}${text}`;
      let width = this.#widths.get(key);
      if (width === undefined) {
        width = this.doc
          .font(bold ? 'bold' : 'regular')
          .fontSize(100)
          .widthOfString(text);
        this.#widths.set(key, width);
      }
      return (width * size) / 100;
    };
  }

  lines(words: readonly Word[], width: number, size: number): readonly Line[] {
    return linesOf(words, width, this.measure(size));
  }

  lineHeight(size: number): number {
    return size * LEADING;
  }

  /** One text with its base line at `y`. */
  text(text: string, x: number, y: number, size: number, bold = false, ink = INK): void {
    this.doc
      .font(bold ? 'bold' : 'regular')
      .fontSize(size)
      .fillColor(ink)
      .text(text, x, y, { lineBreak: false, baseline: 'alphabetic' });
  }

  /** Lines from `top` down; links become annotations. `right`: the width over which lines stand to the right. */
  drawLines(lines: readonly Line[], x: number, top: number, size: number, right: number | null, ink = INK): void {
    const step = this.lineHeight(size);
    lines.forEach((line, i) => {
      const base = top + i * step + size * ASCENT;
      const from = right === null ? x : x + right - line.width;
      for (const part of line.parts) {
        const { to, bold, quiet } = part.look;
        const leads = to !== null && this.#anchors.has(to);
        this.text(part.text, from + part.x, base, size, bold, leads ? LINK : quiet ? QUIET : ink);
        if (leads) this.doc.goTo(from + part.x, top + i * step, part.width, step, to);
      }
    });
  }

  /** What `draw` puts on the page stands in the tree of tags under `parent`. */
  tagged(parent: Tag, type: string, draw: (tag: Tag) => void, options: object = {}): void {
    const tag = this.doc.struct(type, options);
    parent.add(tag);
    draw(tag);
    tag.end();
  }

  /** Marks of no meaning of their own: lines, grounds, headers. */
  artifact(draw: () => void, type?: 'Pagination' | 'Layout'): void {
    this.doc.markContent('Artifact', type === undefined ? {} : { type });
    draw();
    this.doc.endMarkedContent();
  }

  /** The place that links of this id lead to. */
  anchor(id: string, x: number, y: number): void {
    this.doc.addNamedDestination(id, 'XYZ', x, Math.max(0, y - 4), 0);
  }

  /** A link over a rectangle, where its aim is in the document. */
  link(to: string, x: number, y: number, width: number, height: number): void {
    if (this.#anchors.has(to)) this.doc.goTo(x, y, width, height, to);
  }

  /** Draws on every page, when all are there. */
  onEachPage(draw: (number: number, count: number, size: PageSize) => void): void {
    const { count } = this.doc.bufferedPageRange();
    for (let i = 0; i < count; i++) {
      const page = this.doc.switchToPage(i);
      this.#page = { width: page.width, height: page.height };
      this.artifact(() => draw(i + 1, count, this.#page), 'Pagination');
    }
  }

  /** The bytes of the file. */
  end(): Uint8Array {
    this.root.end();
    this.doc.end();
    const bytes: unknown = this.doc.read();
    if (!(bytes instanceof Uint8Array)) throw new Error('the PDF came out without bytes');
    return new Uint8Array(bytes);
  }
}

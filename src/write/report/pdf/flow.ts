/** Puts blocks on pages: headings stay with what follows, drawings stand at 1:50 where a sheet holds them, and say so where it does not. */

import { plainNumber } from '../../../ground/units.js';
import type { Block, Section } from './blocks.js';
import { PLAIN, type Word, wordsOf } from './inline.js';
import { type PageSize, type Paper, QUIET, type Tag } from './paper.js';
import { alternative, drawSvg, type Hatches, sizeOf } from './svg.js';
import { drawTable } from './table.js';
import { attribute, type Element, elementsOf, find, isElement, type Node, textOf } from './tree.js';

export interface Sizes {
  readonly upright: PageSize;
  /** Landscape sheets, the smaller one first. */
  readonly wide: readonly PageSize[];
}

const turned = ({ width, height }: PageSize): PageSize => ({ width: height, height: width });
const A4: PageSize = { width: 595.28, height: 841.89 };
const A3: PageSize = { width: 841.89, height: 1190.55 };
const LETTER: PageSize = { width: 612, height: 792 };
const TABLOID: PageSize = { width: 792, height: 1224 };
export const METRIC: Sizes = { upright: A4, wide: [turned(A4), turned(A3)] };
export const INCHES: Sizes = { upright: LETTER, wide: [turned(LETTER), turned(TABLOID)] };

/** Points for a mm of the building at 1:50. */
const AT_50 = 72 / 25.4 / 50;
const POINTS_PER_MM = 72 / 25.4;
const BODY = 9;
const HEADING = { 2: 14, 3: 10.5 } as const;
const INDENT = 14;
const NOTE = 7;
/** Room that a heading needs below it for the first of a text or a table. */
const KEPT = 58;

const LEAST_SHARE = 0.8;

const VERDICT = {
  fails: { edge: '#9b2c00', ground: '#fdeee6' },
  care: { edge: '#8a5a00', ground: '#fff3d6' },
  plain: { edge: '#1d2733', ground: '#ffffff' },
} as const;

export class Flow {
  readonly #paper: Paper;
  readonly #sizes: Sizes;
  readonly #hatches: Hatches;

  constructor(paper: Paper, sizes: Sizes, hatches: Hatches) {
    this.#paper = paper;
    this.#hatches = hatches;
    this.#sizes = sizes;
  }

  section(section: Section): void {
    const paper = this.#paper;
    if (section.isDrawn) paper.addPage(this.#wideFor(section.blocks));
    else if (paper.page.width !== this.#sizes.upright.width) paper.addPage(this.#sizes.upright);
    paper.tagged(paper.root, 'Sect', (tag) => {
      section.blocks.forEach((block, i) => {
        this.#block(block, tag, section.blocks.slice(i + 1), i === 0 ? section.id : null, section.isDrawn);
      });
    });
    paper.y += 6;
  }

  /** The smallest wide sheet on which every drawing of a section stands at 1:50; the largest where none does. */
  #wideFor(blocks: readonly Block[]): PageSize {
    const drawings = blocks.flatMap((b) => (b.kind === 'drawing' ? [sizeOf(b.svg)] : []));
    const holds = (page: PageSize) =>
      drawings.every((d) => d.width * AT_50 <= page.width - 72 && d.height * AT_50 <= page.height - 200);
    return this.#sizes.wide.find(holds) ?? this.#sizes.wide.at(-1)!;
  }

  #block(block: Block, tag: Tag, after: readonly Block[], id: string | null, isToScale: boolean): void {
    const paper = this.#paper;
    switch (block.kind) {
      case 'heading':
        this.#heading(block, tag, after, id);
        return;
      case 'text':
        this.#text(wordsOf(block.nodes), tag, 'P', 0);
        paper.y += 4;
        return;
      case 'item':
        this.#item(block.sign, block.nodes, tag);
        return;
      case 'legend':
        this.#legend(block.items, tag);
        return;
      case 'facts':
        this.#facts(block.facts, tag);
        return;
      case 'verdict':
        this.#verdict(block.look, block.blocks, tag);
        return;
      case 'table':
        drawTable(paper, tag, block.table);
        return;
      case 'drawing':
        this.#drawing(block.svg, tag, isToScale);
    }
  }

  #scaleFor(svg: Element): number {
    const { width, height } = sizeOf(svg);
    const room = this.#paper.bottom - this.#paper.top - 60;
    return Math.min(AT_50, this.#paper.width / width, room / height);
  }

  /** Room that a block needs for its beginning. */
  #needs(block: Block | undefined): number {
    if (block === undefined) return 0;
    if (block.kind === 'drawing') return sizeOf(block.svg).height * this.#scaleFor(block.svg) * LEAST_SHARE + 22;
    return KEPT;
  }

  #heading(block: Block & { kind: 'heading' }, tag: Tag, after: readonly Block[], id: string | null): void {
    const paper = this.#paper;
    const { level } = block;
    const size = HEADING[level];
    const lines = paper.lines(wordsOf(block.nodes, { ...PLAIN, bold: true }), paper.width, size);
    const height = lines.length * paper.lineHeight(size);
    const [next, second] = after;
    const kept = next?.kind === 'text' && second?.kind === 'drawing' ? 16 + this.#needs(second) : this.#needs(next);
    paper.ensure(height + 14 + kept);
    if (paper.y > paper.top) paper.y += level === 2 ? 12 : 6;
    for (const name of new Set([id, block.id])) if (name !== null) paper.anchor(name, 0, paper.y);
    const text = textOf(block.nodes).trim();
    if (level === 2) this.#bookmark = paper.doc.outline.addItem(text, { expanded: false });
    else this.#bookmark?.addItem(text);
    paper.tagged(tag, `H${level}`, (own) => own.add(() => paper.drawLines(lines, paper.left, paper.y, size, null)));
    paper.y += height + 4;
  }

  #bookmark: PDFKit.PDFOutline | null = null;

  /** Lines over as many pages as they take. */
  #text(words: readonly Word[], tag: Tag, type: string, indent: number): void {
    const paper = this.#paper;
    const step = paper.lineHeight(BODY);
    paper.ensure(step * 2);
    const lines = paper.lines(words, paper.width - indent, BODY);
    paper.tagged(tag, type, (own) => {
      for (let from = 0; from < lines.length; ) {
        const fits = Math.max(1, Math.floor((paper.bottom - paper.y) / step));
        const shown = lines.slice(from, from + fits);
        own.add(() => paper.drawLines(shown, paper.left + indent, paper.y, BODY, null));
        paper.y += shown.length * step;
        from += shown.length;
        if (from < lines.length) paper.addPage();
      }
    });
  }

  #item(sign: string, nodes: readonly Node[], tag: Tag): void {
    const paper = this.#paper;
    paper.ensure(paper.lineHeight(BODY) * 2);
    paper.tagged(tag, 'L', (list) => {
      paper.tagged(list, 'LI', (li) => {
        const base = paper.y + BODY * 0.93;
        paper.tagged(li, 'Lbl', (label) => label.add(() => paper.text(sign, paper.left + 2, base, BODY)));
        this.#text(wordsOf(nodes), li, 'LBody', INDENT);
      });
    });
    paper.y += 2.5;
  }

  #legend(items: readonly Element[], tag: Tag): void {
    const paper = this.#paper;
    const size = 8;
    const swatch = { width: 27, height: 15 };
    let x = paper.left;
    paper.ensure(swatch.height + 8);
    paper.tagged(tag, 'P', (own) => {
      for (const item of items) {
        const text = textOf(item.children.filter((n) => !isElement(n) || n.name !== 'svg')).trim();
        const width = swatch.width + 5 + paper.measure(size)(text, false) + 16;
        if (x > paper.left && x + width > paper.left + paper.width) {
          x = paper.left;
          paper.y += swatch.height + 5;
        }
        const svg = find(item.children, 'svg');
        own.add(() => {
          if (svg !== null) drawSvg(paper, this.#hatches, svg, x, paper.y, swatch.width / sizeOf(svg).width);
          paper.text(text, x + swatch.width + 5, paper.y + 10.5, size);
        });
        x += width;
      }
    });
    paper.y += swatch.height + 8;
  }

  #facts(facts: readonly (readonly [name: string, value: string])[], tag: Tag): void {
    const paper = this.#paper;
    const columns = 4;
    const gap = 8;
    const width = (paper.width - (columns - 1) * gap) / columns;
    const inner = width - 12;
    const texts = facts.map(([name]) => paper.lines(wordsOf([name]), inner, 7.6));
    for (let i = 0; i < facts.length; i += columns) {
      const row = facts.slice(i, i + columns);
      const most = Math.max(...texts.slice(i, i + columns).map((l) => l.length));
      const height = 22 + most * paper.lineHeight(7.6) + 6;
      paper.ensure(height);
      row.forEach(([, value], k) => {
        const x = paper.left + k * (width + gap);
        paper.artifact(() => paper.doc.rect(x, paper.y, width, height).fill('#eef1f4'), 'Layout');
        paper.tagged(tag, 'P', (own) => {
          own.add(() => {
            paper.text(value, x + 6, paper.y + 17, 12.5, true);
            paper.drawLines(texts[i + k]!, x + 6, paper.y + 22, 7.6, null, QUIET);
          });
        });
      });
      paper.y += height + gap;
    }
    paper.y += 4;
  }

  /** The box at the top, in as many boxes as it takes pages. */
  #verdict(look: keyof typeof VERDICT, blocks: readonly Block[], tag: Tag): void {
    const paper = this.#paper;
    const size = 9.5;
    const step = paper.lineHeight(size);
    const inner = paper.width - 26;
    const texts = blocks.flatMap((b) =>
      b.kind === 'text' || b.kind === 'item'
        ? [
            {
              sign: b.kind === 'item' ? b.sign : null,
              lines: paper.lines(wordsOf(b.nodes), b.kind === 'item' ? inner - 16 : inner, size),
            },
          ]
        : [],
    );
    const { edge, ground } = VERDICT[look];
    let rest = [...texts];
    while (rest.length > 0) {
      const shown: typeof texts = [];
      let height = 14;
      for (const text of rest) {
        const own = text.lines.length * step + 3;
        if (shown.length > 0 && paper.y + height + own > paper.bottom) break;
        shown.push(text);
        height += own;
      }
      if (paper.y + height > paper.bottom && paper.y > paper.top) {
        paper.addPage();
        continue;
      }
      paper.artifact(() => {
        paper.doc.rect(paper.left, paper.y, paper.width, height).fill(ground);
        paper.doc.rect(paper.left, paper.y, 6, height).fill(edge);
        paper.doc.lineWidth(1).undash().rect(paper.left, paper.y, paper.width, height).stroke(edge);
      }, 'Layout');
      paper.y += 7;
      for (const { sign, lines } of shown) {
        paper.tagged(tag, 'P', (own) => {
          own.add(() => {
            if (sign !== null) paper.text(sign, paper.left + 14, paper.y + size * 0.93, size);
            paper.drawLines(lines, paper.left + 14 + (sign === null ? 0 : 16), paper.y, size, null);
          });
        });
        paper.y += lines.length * step + 3;
      }
      paper.y += 12;
      rest = rest.slice(shown.length);
    }
  }

  #drawing(svg: Element, tag: Tag, isToScale: boolean): void {
    const paper = this.#paper;
    const { width, height } = sizeOf(svg);
    // Rather a little smaller than a page that is half empty.
    const here = Math.min(AT_50, paper.width / width, (paper.bottom - paper.y - 18) / height);
    const scale = here >= this.#scaleFor(svg) * LEAST_SHARE ? here : this.#scaleFor(svg);
    paper.ensure(height * scale + 16);
    const x = paper.left + (paper.width - width * scale) / 2;
    const { y } = paper;
    const box = [x, y, x + width * scale, y + height * scale];
    const options = { alt: alternative(svg), bbox: box };
    paper.tagged(tag, 'Figure', (own) => own.add(() => drawSvg(paper, this.#hatches, svg, x, y, scale)), options);
    paper.y += height * scale;
    if (!isToScale) {
      paper.y += 8;
      return;
    }
    const note =
      scale === AT_50
        ? 'Scale 1:50 on paper of this size.'
        : `Scale about 1:${plainNumber(POINTS_PER_MM / scale, 0)} on paper of this size; the scale bar or the written lengths count.`;
    paper.tagged(tag, 'P', (own) => own.add(() => paper.text(note, paper.left, paper.y + NOTE, NOTE, false, QUIET)));
    paper.y += 14;
  }
}

/** All ids that links of the document may lead to: of rows, headings, sections and marks that are drawn. */
export const anchorsOf = (nodes: readonly Node[]): ReadonlySet<string> => {
  const ids = new Set<string>();
  const visit = (element: Element): void => {
    const id = attribute(element, 'id');
    const isAim = ['section', 'h2', 'h3', 'tr', 'a', 'span'].includes(element.name);
    if (id !== null && isAim) ids.add(id);
    for (const child of elementsOf(element.children)) visit(child);
  };
  for (const element of elementsOf(nodes)) visit(element);
  return ids;
};

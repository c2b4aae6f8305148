/** Tables on paper: columns as wide as their words ask, the header again on every page, no row cut unless it is higher than a page. */

import { type Line, type Measure, unbroken, type Word, wordsOf } from './inline.js';
import { type Paper, QUIET, type Tag } from './paper.js';
import { attribute, type Element, elementsOf, find, hasClass, textOf } from './tree.js';

/** Sizes of text that are tried, the largest first. */
const SIZES = [7.6, 7, 6.4, 5.8, 5.2] as const;
const PAD_X = 3;
const PAD_Y = 1.8;
/** No column asks for more than this in one line while others wait. */
const WIDEST = 420;

/** A word that is longer (a digest) is cut rather than given a wide column. */
const LONGEST_WORD = 100;
/** Columns that are left to be filled by hand. */
const BLANK = 120;

const GROUNDS: Readonly<Record<string, string>> = { failure: '#fdeee6', attention: '#fff3d6' };
const HEAD_GROUND = '#e4e8ec';
const RULE = '#b6bec6';

/** Of a head cell. The types do not know it, the program does. */
const scopeOf = (isHead: boolean): object => ({ scope: isHead ? 'Column' : 'Row' });

interface CellOf {
  readonly words: readonly Word[];
  readonly isHead: boolean;
  readonly toRight: boolean;
}

interface RowOf {
  readonly cells: readonly CellOf[];
  readonly look: string | null;
  /** Of the row itself and of places within. */
  readonly ids: readonly string[];
}

const idsIn = (element: Element): readonly string[] => {
  const id = attribute(element, 'id');
  return [...(id === null ? [] : [id]), ...elementsOf(element.children).flatMap(idsIn)];
};

const rowOf = (tr: Element): RowOf => ({
  cells: elementsOf(tr.children).map((cell) => ({
    words: wordsOf(hasClass(cell, 'figures') && cell.name === 'td' ? [unbroken(cell.children)] : cell.children, {
      bold: cell.name === 'th',
      quiet: false,
      to: null,
    }),
    isHead: cell.name === 'th',
    toRight: hasClass(cell, 'figures'),
  })),
  look: attribute(tr, 'class'),
  ids: idsIn(tr),
});

const rowsIn = (part: Element | null): readonly RowOf[] =>
  part === null
    ? []
    : elementsOf(part.children)
        .filter((e) => e.name === 'tr')
        .map(rowOf);

/** The widest run of words that must stay together, and the whole text in one line. */
const asks = (words: readonly Word[], measure: Measure): readonly [least: number, most: number] => {
  let least = 0;
  let most = 0;
  let run = 0;
  for (const word of words) {
    const own = measure(word.text, word.look.bold);
    least = Math.max(least, Math.min(own, LONGEST_WORD));
    run = word.breaks ? own : run + own + (word.spaced && run > 0 ? measure(' ', word.look.bold) : 0);
    most = Math.max(most, run);
  }
  return [least, Math.min(most, Math.max(WIDEST, least))];
};

interface Fitted {
  readonly size: number;
  readonly widths: readonly number[];
}

/** Widths of the columns and the largest size of text at which no word need be cut; at the smallest size words are cut. */
const fitted = (paper: Paper, rows: readonly RowOf[], columns: number, room: number): Fitted => {
  for (const size of SIZES) {
    const measure = paper.measure(size);
    const least = Array.from({ length: columns }, () => 8);
    const most = Array.from({ length: columns }, () => 8);
    for (const row of rows)
      row.cells.forEach((cell, i) => {
        const [a, b] = asks(cell.words, measure);
        least[i] = Math.max(least[i]!, a);
        most[i] = Math.max(most[i]!, b);
      });
    most.forEach((width, i) => {
      const isBlank = rows.every(
        (row) => row.cells[i] === undefined || row.cells[i].isHead || row.cells[i].words.length === 0,
      );
      if (isBlank && i > 0) most[i] = Math.max(width, BLANK);
    });
    const pads = columns * 2 * PAD_X;
    const sum = (all: readonly number[]) => all.reduce((x, y) => x + y, 0);
    const [needs, wants] = [sum(least) + pads, sum(most) + pads];
    if (wants <= room) return { size, widths: most.map((w) => w + 2 * PAD_X) };
    if (needs <= room) {
      const share = (room - needs) / (wants - needs);
      return { size, widths: least.map((w, i) => w + (most[i]! - w) * share + 2 * PAD_X) };
    }
    if (size === SIZES.at(-1)) return { size, widths: least.map((w) => (w * (room - pads)) / sum(least) + 2 * PAD_X) };
  }
  throw new Error('no size of text was tried');
};

class TableOf {
  readonly #paper: Paper;
  readonly #tag: Tag;
  readonly #head: readonly RowOf[];
  readonly #fit: Fitted;

  constructor(paper: Paper, tag: Tag, head: readonly RowOf[], fit: Fitted) {
    this.#paper = paper;
    this.#tag = tag;
    this.#head = head;
    this.#fit = fit;
  }

  get #size(): number {
    return this.#fit.size;
  }

  get #step(): number {
    return this.#paper.lineHeight(this.#size);
  }

  #lines(row: RowOf): readonly (readonly Line[])[] {
    return row.cells.map((cell, i) =>
      this.#paper.lines(cell.words, this.#fit.widths[i]! - 2 * PAD_X + 0.01, this.#size),
    );
  }

  #heightOf(lines: number): number {
    return Math.max(1, lines) * this.#step + 2 * PAD_Y;
  }

  /** The header's height; what keeps it with the first row. */
  height(rows: readonly RowOf[]): number {
    return rows.reduce((sum, row) => sum + this.#heightOf(Math.max(...this.#lines(row).map((l) => l.length))), 0);
  }

  #ground(row: RowOf, height: number, isHead: boolean): void {
    const { doc, left, y } = this.#paper;
    const width = this.#fit.widths.reduce((a, b) => a + b, 0);
    const fill = isHead ? HEAD_GROUND : (GROUNDS[row.look ?? ''] ?? null);
    this.#paper.artifact(() => {
      if (fill !== null) doc.rect(left, y, width, height).fill(fill);
      doc
        .lineWidth(isHead ? 0.9 : 0.35)
        .undash()
        .moveTo(left, y + height)
        .lineTo(left + width, y + height)
        .stroke(isHead ? QUIET : RULE);
    }, 'Layout');
  }

  /** Lines `from` to `to` of a row; `tags` of its cells, or none where the row is a header that stands again. */
  #part(
    row: RowOf,
    lines: readonly (readonly Line[])[],
    from: number,
    to: number,
    isHead: boolean,
    tags: readonly Tag[] | null,
  ): void {
    const paper = this.#paper;
    const height = this.#heightOf(Math.min(to, Math.max(...lines.map((l) => l.length))) - from);
    this.#ground(row, height, isHead);
    let x = paper.left;
    row.cells.forEach((cell, i) => {
      const width = this.#fit.widths[i]! - 2 * PAD_X;
      const shown = lines[i]!.slice(from, to);
      const right = cell.toRight ? width : null;
      const at = x + PAD_X;
      const draw = () => paper.drawLines(shown, at, paper.y + PAD_Y, this.#size, right);
      if (shown.length > 0) {
        if (tags === null) paper.artifact(draw, 'Pagination');
        else tags[i]!.add(draw);
      }
      x += this.#fit.widths[i]!;
    });
    paper.y += height;
  }

  headAgain(): void {
    for (const row of this.#head) this.#part(row, this.#lines(row), 0, Number.POSITIVE_INFINITY, true, null);
  }

  row(row: RowOf, isHead: boolean): void {
    const paper = this.#paper;
    const lines = this.#lines(row);
    const count = Math.max(1, ...lines.map((l) => l.length));
    const fits = () => Math.floor((paper.bottom - paper.y - 2 * PAD_Y) / this.#step);
    const most = Math.floor((paper.bottom - paper.top - this.height(this.#head) - 2 * PAD_Y) / this.#step);
    if (fits() < Math.min(count, most)) {
      paper.addPage();
      if (!isHead) this.headAgain();
    }
    paper.tagged(this.#tag, 'TR', (tr) => {
      const tags = row.cells.map((cell) => {
        const tag = cell.isHead ? paper.doc.struct('TH', scopeOf(isHead)) : paper.doc.struct('TD');
        tr.add(tag);
        return tag;
      });
      for (const id of row.ids) paper.anchor(id, 0, paper.y - 30);
      for (let from = 0; from < count; ) {
        const to = from + Math.max(1, Math.min(count - from, fits()));
        this.#part(row, lines, from, to, isHead, tags);
        from = to;
        if (from < count) {
          paper.addPage();
          if (!isHead) this.headAgain();
        }
      }
      for (const tag of tags) tag.end();
    });
  }
}

/** A table with its caption, below the cursor. */
export const drawTable = (paper: Paper, parent: Tag, table: Element): void => {
  const caption = find(table.children, 'caption');
  const head = rowsIn(find(table.children, 'thead'));
  const body = rowsIn(find(table.children, 'tbody'));
  const columns = Math.max(...[...head, ...body].map((r) => r.cells.length));
  const fit = fitted(paper, [...head, ...body], columns, paper.width);
  paper.tagged(parent, 'Table', (tag) => {
    const drawn = new TableOf(paper, tag, head, fit);
    const size = 8.6;
    paper.ensure(paper.lineHeight(size) + 4 + drawn.height([...head, ...body.slice(0, 2)]));
    if (caption !== null) {
      const words = wordsOf([textOf(caption.children)], { bold: true, quiet: false, to: null });
      const lines = paper.lines(words, paper.width, size);
      paper.tagged(tag, 'Caption', (own) => own.add(() => paper.drawLines(lines, paper.left, paper.y, size, null)));
      paper.y += lines.length * paper.lineHeight(size) + 2;
    }
    for (const row of head) drawn.row(row, true);
    for (const row of body) drawn.row(row, false);
  });
  paper.y += 8;
};

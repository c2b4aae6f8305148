/** Running text: pieces of one look, broken into lines at blanks and at the places where the markup allows it (wbr). */

import { attribute, type Element, hasClass, isElement, type Node, textOf } from './tree.js';

export interface Look {
  readonly bold: boolean;
  readonly quiet: boolean;
  /** Id within the document, of what the text leads to. */
  readonly to: string | null;
}

/** Text of one look that does not break. */
export interface Word {
  readonly text: string;
  readonly look: Look;
  /** A blank stands before it unless it begins a line. */
  readonly spaced: boolean;
  /** Begins a line of its own. */
  readonly breaks: boolean;
}

export const PLAIN: Look = { bold: false, quiet: false, to: null };
const INLINE = new Set(['a', 'strong', 'b', 'em', 'span', 'code', 'div', 'wbr', 'br', 'p']);

const lookOf = (element: Element, look: Look): Look => {
  const href = attribute(element, 'href');
  return {
    bold: look.bold || element.name === 'strong' || element.name === 'b' || hasClass(element, 'severity'),
    quiet: look.quiet || hasClass(element, 'quiet') || hasClass(element, 'code'),
    to: href?.startsWith('#') ? href.slice(1) : look.to,
  };
};

export const isInline = (node: Node): boolean => !isElement(node) || INLINE.has(node.name);

/** A text in one piece: what the page keeps from breaking. */
export const unbroken = (nodes: readonly Node[]): string => textOf(nodes).trim().replaceAll(' ', '\u00a0');

/** The words of some nodes, in order. */
export const wordsOf = (nodes: readonly Node[], look: Look = PLAIN): readonly Word[] => {
  const words: Word[] = [];
  let spaced = false;
  let breaks = false;
  const put = (node: Node, own: Look): void => {
    if (isElement(node)) {
      // A division after words begins a line of its own, as on the page.
      if (node.name === 'div' && words.length > 0) breaks = true;
      if (node.name === 'br') breaks = true;
      else if (hasClass(node, 'severity')) put(unbroken(node.children), lookOf(node, own));
      else if (node.name !== 'wbr') for (const child of node.children) put(child, lookOf(node, own));
      return;
    }
    // A blank that does not break (U+00A0) belongs to its word.
    for (const part of node.split(/([ \t\n]+)/)) {
      if (part === '') continue;
      if (/^[ \t\n]+$/.test(part)) spaced = true;
      else {
        words.push({ text: part, look: own, spaced, breaks });
        spaced = false;
        breaks = false;
      }
    }
  };
  for (const node of nodes) put(node, look);
  return words;
};

/** How wide a text is at the size in question, points. */
export type Measure = (text: string, bold: boolean) => number;

export interface Placed {
  readonly text: string;
  readonly look: Look;
  /** From the line's start, points. */
  readonly x: number;
  readonly width: number;
}

export interface Line {
  readonly parts: readonly Placed[];
  readonly width: number;
}

/** Parts of a word that is wider than the line, as long as they fit. */
const chopped = (word: Word, width: number, measure: Measure): readonly Word[] => {
  if (measure(word.text, word.look.bold) <= width) return [word];
  const parts: Word[] = [];
  let text = '';
  for (const sign of word.text) {
    if (text !== '' && measure(text + sign, word.look.bold) > width) {
      parts.push({ ...word, text, ...(parts.length > 0 ? { spaced: false, breaks: false } : {}) });
      text = '';
    }
    text += sign;
  }
  return [...parts, { ...word, text, ...(parts.length > 0 ? { spaced: false, breaks: false } : {}) }];
};

/** First-fit lines no wider than `width`. Neighbours of one look become one text, so that it is read as words. */
export const linesOf = (words: readonly Word[], width: number, measure: Measure): readonly Line[] => {
  const lines: Line[] = [];
  let parts: Placed[] = [];
  let x = 0;
  const end = () => {
    lines.push({ parts, width: x });
    parts = [];
    x = 0;
  };
  for (const word of words.flatMap((w) => chopped(w, width, measure))) {
    const own = measure(word.text, word.look.bold);
    const blank = parts.length > 0 && word.spaced ? measure(' ', word.look.bold) : 0;
    if (parts.length > 0 && (word.breaks || x + blank + own > width + 0.01)) end();
    const gap = parts.length > 0 ? blank : 0;
    const before = parts.at(-1);
    const { look } = word;
    if (before && before.look.bold === look.bold && before.look.quiet === look.quiet && before.look.to === look.to) {
      const text = `${before.text}${gap > 0 ? ' ' : ''}${word.text}`;
      parts[parts.length - 1] = { ...before, text, width: before.width + gap + own };
    } else parts.push({ text: word.text, look, x: x + gap, width: own });
    x += gap + own;
  }
  if (parts.length > 0) end();
  return lines;
};

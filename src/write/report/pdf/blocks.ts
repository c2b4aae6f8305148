/** The report's sections as a row of blocks: what follows what on paper, without the boxes that only a screen needs. */

import { isInline } from './inline.js';
import { attribute, type Element, elementsOf, hasClass, isElement, type Node, textOf } from './tree.js';

export type Block =
  | { readonly kind: 'heading'; readonly level: 2 | 3; readonly id: string | null; readonly nodes: readonly Node[] }
  | { readonly kind: 'text'; readonly nodes: readonly Node[] }
  | { readonly kind: 'item'; readonly sign: string; readonly nodes: readonly Node[] }
  | { readonly kind: 'legend'; readonly items: readonly Element[] }
  | { readonly kind: 'facts'; readonly facts: readonly (readonly [name: string, value: string])[] }
  | { readonly kind: 'verdict'; readonly look: 'fails' | 'care' | 'plain'; readonly blocks: readonly Block[] }
  | { readonly kind: 'table'; readonly table: Element }
  | { readonly kind: 'drawing'; readonly svg: Element };

export interface Section {
  readonly id: string | null;
  /** Stands on the wide page. */
  readonly isDrawn: boolean;
  readonly blocks: readonly Block[];
}

const SKIPPED = new Set(['nav', 'style', 'script', 'button', 'template']);

const listItems = (list: Element): readonly Block[] =>
  elementsOf(list.children).map((li, i) => ({
    kind: 'item',
    sign: list.name === 'ol' ? `${String(i + 1)}.` : '•',
    nodes: li.children,
  }));

const factsOf = (list: Element): Block => ({
  kind: 'facts',
  facts: elementsOf(list.children).map((div) => {
    const named = (name: string) =>
      textOf(elementsOf(div.children).find((e) => e.name === name)?.children ?? []).trim();
    return [named('dt'), named('dd')] as const;
  }),
});

const blockOf = (element: Element): readonly Block[] => {
  const { name, children } = element;
  if (SKIPPED.has(name)) return [];
  if (name === 'h2' || name === 'h3')
    return [{ kind: 'heading', level: name === 'h2' ? 2 : 3, id: attribute(element, 'id'), nodes: children }];
  if (name === 'p' || name === 'summary') return [{ kind: 'text', nodes: children }];
  if (name === 'ul' && hasClass(element, 'legend')) return [{ kind: 'legend', items: elementsOf(children) }];
  if (name === 'ul' || name === 'ol') return listItems(element);
  if (name === 'dl') return [factsOf(element)];
  if (name === 'table') return [{ kind: 'table', table: element }];
  if (name === 'svg') return [{ kind: 'drawing', svg: element }];
  if (hasClass(element, 'verdict')) {
    const look = hasClass(element, 'fails') ? 'fails' : hasClass(element, 'care') ? 'care' : 'plain';
    return [{ kind: 'verdict', look, blocks: blocksOf(children) }];
  }
  return blocksOf(children);
};

/** Text that stands between blocks is a block too, so that nothing is lost. */
export const blocksOf = (nodes: readonly Node[]): readonly Block[] => {
  const blocks: Block[] = [];
  let loose: Node[] = [];
  const flush = () => {
    if (textOf(loose).trim() !== '') blocks.push({ kind: 'text', nodes: loose });
    loose = [];
  };
  for (const node of nodes) {
    if (!isElement(node) || (isInline(node) && node.name !== 'p' && node.name !== 'div')) loose.push(node);
    else {
      flush();
      blocks.push(...blockOf(node));
    }
  }
  flush();
  return blocks;
};

/** Sections as they stand; what is no section by itself goes with the one before. */
export const sectionsOf = (nodes: readonly Node[]): readonly Section[] =>
  elementsOf(nodes).map((element) => ({
    id: attribute(element, 'id'),
    isDrawn: hasClass(element, 'drawn'),
    blocks: element.name === 'section' && !hasClass(element, 'verdict') ? blocksOf(element.children) : blockOf(element),
  }));

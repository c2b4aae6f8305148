/**
 * The report's own markup as a tree, so that page and PDF are made of one thing. It reads what ../markup.ts and its users write (every element closed in
 * order, attributes in double quotes, the entities of escapeText) and nothing else; anything else is our own mistake and throws.
 */

export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly Node[];
}

export type Node = Element | string;

const VOID = new Set(['meta', 'br', 'wbr', 'hr']);
const TAG = /<(\/?)([A-Za-z][A-Za-z0-9]*)((?:\s+[A-Za-z][A-Za-z0-9:-]*="[^"]*")*)\s*(\/?)>/y;
const ATTRIBUTE = /([A-Za-z][A-Za-z0-9:-]*)="([^"]*)"/g;
const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

const decoded = (text: string): string =>
  text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => ENTITIES[name] ?? '');

interface Open {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: Node[];
}

/** The nodes of a fragment. */
export const treeOf = (markup: string): readonly Node[] => {
  const root: Open = { name: '', attributes: new Map(), children: [] };
  const open: Open[] = [root];
  let at = 0;
  while (at < markup.length) {
    const next = markup.indexOf('<', at);
    const end = next < 0 ? markup.length : next;
    const parent = open.at(-1)!;
    if (end > at) parent.children.push(decoded(markup.slice(at, end)));
    at = end;
    if (next < 0) break;
    TAG.lastIndex = at;
    const match = TAG.exec(markup);
    if (match === null) throw new Error(`markup that the PDF cannot read: ${markup.slice(at, at + 80)}`);
    at = TAG.lastIndex;
    const [, closing, name, raw, empty] = match as unknown as [string, string, string, string, string];
    if (closing === '/') {
      if (open.pop()?.name !== name || open.length === 0) throw new Error(`markup closes ${name} out of order`);
      continue;
    }
    const attributes = new Map<string, string>();
    for (const [, key, value] of raw.matchAll(ATTRIBUTE)) attributes.set(key!, decoded(value!));
    const element: Open = { name, attributes, children: [] };
    parent.children.push(element);
    if (empty !== '/' && !VOID.has(name)) open.push(element);
  }
  if (open.length !== 1) throw new Error(`markup leaves ${open.at(-1)!.name} open`);
  return root.children;
};

export const isElement = (node: Node): node is Element => typeof node !== 'string';
export const elementsOf = (nodes: readonly Node[]): readonly Element[] => nodes.filter(isElement);
export const attribute = (element: Element, name: string): string | null => element.attributes.get(name) ?? null;
export const hasClass = (element: Element, name: string): boolean =>
  (attribute(element, 'class') ?? '').split(' ').includes(name);

/** All text within, blanks folded. */
export const textOf = (nodes: readonly Node[]): string =>
  nodes
    .map((node) => (isElement(node) ? textOf(node.children) : node))
    .join('')
    .replace(/\s+/g, ' ');

/** The first element of a name within, in the order of the text. */
export const find = (nodes: readonly Node[], name: string): Element | null => {
  for (const element of elementsOf(nodes)) {
    const found = element.name === name ? element : find(element.children, name);
    if (found) return found;
  }
  return null;
};

/** All elements of a name within, in the order of the text. */
export const findAll = (nodes: readonly Node[], name: string): readonly Element[] =>
  elementsOf(nodes).flatMap((e) => [...(e.name === name ? [e] : []), ...findAll(e.children, name)]);

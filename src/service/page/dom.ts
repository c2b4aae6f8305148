/** Elements without markup in texts: whatever a drawing says stays text. */

export type Child = Node | string | null | false;
type Attributes = Readonly<Record<string, string | number | boolean | null | ((event: Event) => void)>>;

const filled = <E extends Element>(element: E, attributes: Attributes, children: readonly Child[]): E => {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') element.addEventListener(name, value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value !== null) element.setAttribute(name, String(value));
  }
  element.append(...children.filter((c): c is Node | string => c !== null && c !== false));
  return element;
};

export const el = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] => filled(document.createElement(tag), attributes, children);

export const svg = <K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[K] => filled(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);

/** An element of the page as it is written. */
export const byId = <E extends HTMLElement = HTMLElement>(id: string): E => {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no element ${id}`);
  return found as E;
};

/** Shows a section and leads the reader to its heading. */
export const lead = (section: string): void => {
  byId(section).hidden = false;
  const title = byId(`${section}-title`);
  title.focus({ preventScroll: true });
  const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  byId(section).scrollIntoView({ behavior: calm ? 'auto' : 'smooth', block: 'start' });
};

/** '12.5' with at most so many decimals. */
export const figure = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

export const size = (bytes: number): string =>
  bytes < 1e3 ? `${bytes} B` : bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${figure(bytes / 1e6, 1)} MB`;

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

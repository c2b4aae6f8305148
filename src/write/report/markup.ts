/**
 * Markup that cannot be built with raw text by accident: `html` escapes every string that it is given; only other markup goes through unchanged.
 * Used for HTML and for SVG alike (the five characters are escaped the same way in both).
 */

export class Markup {
  constructor(readonly text: string) {}
}

/** What may stand in a template. Bare numbers may not: they must be formatted first. */
export type Content = string | Markup | null | readonly Content[];

/** Signs that HTML and XML forbid or that turn the reading direction of what follows; a person sees that something stood there. */
const UNFIT = /[\p{Cc}\p{Surrogate}\u202a-\u202e\u2066-\u2069\ufffe\uffff]/gu;
const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in an element or in a quoted attribute. Line breaks and tabs become spaces. */
export const escapeText = (text: string): string =>
  text
    .replace(/[\t\r\n]+/g, ' ')
    .replace(UNFIT, '\ufffd')
    .replace(/[&<>"']/g, (c) => ENTITIES[c]!);

const contentText = (content: Content): string => {
  if (content === null) return '';
  if (typeof content === 'string') return escapeText(content);
  if (content instanceof Markup) return content.text;
  return content.map(contentText).join('');
};

/** Template for markup: html`<p>${text}</p>`. Attributes must stand in double quotes. */
export const html = (strings: TemplateStringsArray, ...values: readonly Content[]): Markup =>
  new Markup(strings.map((s, i) => s + (i < values.length ? contentText(values[i]!) : '')).join(''));

/** Markup put one after the other, each on its line. */
export const lines = (parts: readonly (Markup | null)[]): Markup =>
  new Markup(
    parts
      .filter((p) => p !== null)
      .map((p) => p.text)
      .join('\n'),
  );

/** The id-safe form of a name that comes from outside: letters and digits stay, everything else becomes its code. */
export const idOf = (prefix: string, name: string): string =>
  `${prefix}-${[...name].map((c) => (/[A-Za-z0-9]/.test(c) ? c : `_${c.codePointAt(0)!.toString(16)}_`)).join('')}`;

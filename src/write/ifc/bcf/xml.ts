/** XML text of elements: names and attributes are ours, texts are escaped, and characters that XML 1.0 does not allow become U+FFFD. */

export interface Xml {
  readonly xml: string;
}

/** Outside the Char production of XML 1.0 (W3C, 5th ed., 2.2): control characters, halves of surrogate pairs, U+FFFE, U+FFFF. */
const NOT_XML = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

const escaped = (text: string): string =>
  text
    .replace(NOT_XML, '\uFFFD')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\r', '&#13;');

type Attributes = Readonly<Record<string, string | null>>;

/** An element with text, or with further elements; null among those is left out. */
export const element = (name: string, content: string | readonly (Xml | null)[], attributes: Attributes = {}): Xml => {
  const given = Object.entries(attributes).flatMap(([key, value]) =>
    value === null ? [] : [` ${key}="${escaped(value).replaceAll('\n', '&#10;').replaceAll('\t', '&#9;')}"`],
  );
  const inside = typeof content === 'string' ? escaped(content) : content.map((child) => child?.xml ?? '').join('');
  const open = `<${name}${given.join('')}`;
  return { xml: inside === '' ? `${open}/>` : `${open}>${inside}</${name}>` };
};

/** A whole document. */
export const document = (root: Xml): string => `<?xml version="1.0" encoding="UTF-8"?>\n${root.xml}\n`;

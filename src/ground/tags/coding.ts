/** From the bytes of a string to text and back: code pages, UTF-8 and the escapes for characters that a code page lacks. */

import { PAGES } from './codepages.js';
import type { TextCoding } from './types.js';

/** Names of code pages as $DWGCODEPAGE has them (lower case, without 'ansi_', 'dos', 'cp') → label of the decoder, where it differs. */
const WEB_LABELS: Readonly<Record<string, string>> = {
  utf8: 'utf-8',
  cp866: 'ibm866',
  cp874: 'windows-874',
  cp932: 'shift_jis',
  cp936: 'gbk',
  cp949: 'euc-kr',
  cp950: 'big5',
  mac: 'macintosh',
  'iso8859-9': 'windows-1254',
};

/** The decoder's label for a code page, or null where there is none. */
const webLabel = (label: string): string | null => {
  if (WEB_LABELS[label] !== undefined) return WEB_LABELS[label];
  if (/^cp125[013-8]$/.test(label)) return `windows-${label.slice(2)}`;
  if (/^iso8859-([2-8]|1[03456])$/.test(label)) return `iso-8859-${label.slice(8)}`;
  return null;
};

const NAMED: Readonly<Record<string, string>> = {
  ascii: 'cp1252',
  'iso8859-1': 'cp1252',
  big5: 'cp950',
  gb2312: 'cp936',
  gbk: 'cp936',
  ksc5601: 'cp949',
  johab: 'cp1361',
  'mac-roman': 'mac',
  mac_roman: 'mac',
  'utf-8': 'utf8',
  utf8: 'utf8',
};

/**
 * The coding that a $DWGCODEPAGE value ('ANSI_1252', 'dos850', 'iso8859-9' …) names, and whether it is one that can be decoded.
 * Names of pages: DXF reference, $DWGCODEPAGE, and the list that is common among readers of it.
 */
export const codingOf = (codePage: string): { readonly coding: TextCoding; readonly known: boolean } => {
  const name = codePage.trim().toLowerCase();
  const number = /^(?:ansi|dos|cp|ibm|windows)?[-_ ]?(\d{3,5})$/.exec(name)?.[1];
  const iso = /^iso[-_ ]?8859[-_](\d+)$/.exec(name)?.[1];
  const plain = number ? `cp${number}` : iso ? `iso8859-${iso}` : name;
  const label = NAMED[plain] ?? plain;
  if (label === 'cp65001') return { coding: { label: 'utf8' }, known: true };
  const known = PAGES[label] !== undefined || webLabel(label) !== null;
  return { coding: { label: known ? label : 'cp1252' }, known };
};

const bytesOf = (raw: string): Uint8Array => {
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return bytes;
};

type Decoder = (raw: string) => string;

const fromTable =
  (table: string): Decoder =>
  (raw) => {
    let text = '';
    for (let i = 0; i < raw.length; i++) {
      const byte = raw.charCodeAt(i);
      text += byte < 128 ? raw[i] : table[byte - 128];
    }
    return text;
  };

const decoders = new Map<string, Decoder>();

const decoderOf = (label: string): Decoder => {
  const made = decoders.get(label);
  if (made) return made;
  const table = PAGES[label];
  const web = webLabel(label) ?? 'utf-8';
  let decoder: Decoder;
  if (table !== undefined) decoder = fromTable(table);
  else if (web === 'utf-8') decoder = utf8;
  else {
    const inner = new TextDecoder(web);
    decoder = (raw) => inner.decode(bytesOf(raw));
  }
  decoders.set(label, decoder);
  return decoder;
};

const strictUtf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

/** UTF-8; a string that is none is read in the Western code page, as exporters that mix the two mean it. */
const utf8: Decoder = (raw) => {
  try {
    return strictUtf8.decode(bytesOf(raw));
  } catch {
    return decoderOf('cp1252')(raw);
  }
};

/** Whether these bytes (latin-1) are UTF-8 and hold at least one character outside ASCII. */
export const looksUtf8 = (raw: string): boolean => {
  if (!beyondAscii(raw)) return false;
  try {
    strictUtf8.decode(bytesOf(raw));
    return true;
  } catch {
    return false;
  }
};

export const beyondAscii = (text: string): boolean => {
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) > 127) return true;
  return false;
};

/** Code pages of \M+n. Source: common among readers of DXF (1 Japanese, 2 traditional Chinese, 3 and 4 Korean, 5 simplified Chinese). */
const MULTIBYTE = ['', 'cp932', 'cp950', 'cp949', 'cp1361', 'cp936'];

const resolveEscapes = (text: string): string =>
  text
    .replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    .replace(/\\M\+([1-5])([0-9A-Fa-f]{4})/g, (whole, page: string, hex: string) => {
      const label = MULTIBYTE[Number(page)]!;
      if (webLabel(label) === null) return whole;
      return decoderOf(label)(
        String.fromCharCode(Number.parseInt(hex.slice(0, 2), 16), Number.parseInt(hex.slice(2), 16)),
      );
    });

/** Text of a value as it stands in the file: decoded, with \U+XXXX and \M+nXXXX resolved. */
export const decodeText = (coding: TextCoding, raw: string): string => {
  const text = beyondAscii(raw) ? decoderOf(coding.label)(raw) : raw;
  return text.includes('\\') ? resolveEscapes(text) : text;
};

const escapeUnit = (unit: number): string => `\\U+${unit.toString(16).toUpperCase().padStart(4, '0')}`;

/**
 * Text of ours as a value for this document: ASCII stands as it is, other characters become UTF-8 from AC1021 on and \U+XXXX before.
 * Control characters (line ends too) take the caret form of DXF ('^J'), so that no text can become a tag; a caret becomes '^ '.
 */
export const encodeText = (document: { readonly version: string }, text: string): string => {
  let safe = '';
  for (const c of text) {
    const point = c.codePointAt(0)!;
    if (point < 32) safe += `^${String.fromCharCode(point + 64)}`;
    else if (c === '^') safe += '^ ';
    else if (point < 127) safe += c;
    else if (document.version >= 'AC1021') for (const b of new TextEncoder().encode(c)) safe += String.fromCharCode(b);
    else for (let i = 0; i < c.length; i++) safe += escapeUnit(c.charCodeAt(i));
  }
  return safe;
};

/** Text of a STEP file: bytes of UTF-8 (older ones of Latin 1) with the escapes of ISO 10303-21. */

const [QUOTE, BACKSLASH] = [39, 92];

/** Code pages of \P.\: A is ISO 8859-1, B 8859-2 and so on. Source: ISO 10303-21, 6.4.3. */
const pageOf = (letter: string): string => `iso-8859-${letter.charCodeAt(0) - 64}`;

const upper = (page: string, code: number): string => {
  try {
    return new TextDecoder(page).decode(Uint8Array.of(code));
  } catch {
    return String.fromCharCode(code);
  }
};

/** Characters of hexadecimal digits, `size` digits each: UTF-16 (4) or UCS-4 (8). */
const ofDigits = (digits: string, size: 4 | 8): string => {
  let text = '';
  for (let i = 0; i + size <= digits.length; i += size) {
    const code = Number.parseInt(digits.slice(i, i + size), 16);
    text += size === 4 ? String.fromCharCode(code) : code <= 0x10ffff ? String.fromCodePoint(code) : '\ufffd';
  }
  return text;
};

const ESCAPES =
  /\\X2\\((?:[0-9A-F]{4})*)\\X0\\|\\X4\\((?:[0-9A-F]{8})*)\\X0\\|\\X\\([0-9A-F]{2})|\\S\\(.)|\\P([A-I])\\|\\(\\)/gis;

/** Escapes turned into letters; those that are none stay as they are. */
export const unescaped = (text: string): string => {
  let page = pageOf('A');
  return text.replace(ESCAPES, (whole, wide, widest, byte, shifted, letter, backslash) => {
    if (wide !== undefined) return ofDigits(wide, 4);
    if (widest !== undefined) return ofDigits(widest, 8);
    if (byte !== undefined) return String.fromCharCode(Number.parseInt(byte, 16));
    if (shifted !== undefined) return upper(page, (shifted.charCodeAt(0) & 0x7f) + 128);
    if (letter !== undefined) {
      page = pageOf(letter.toUpperCase());
      return '';
    }
    return backslash ?? whole;
  });
};

const utf8 = new TextDecoder('utf-8', { fatal: true });
const latin1 = new TextDecoder('latin1');

const ofBytes = (bytes: Uint8Array): string => {
  try {
    return utf8.decode(bytes);
  } catch {
    return latin1.decode(bytes);
  }
};

/** Shorter texts are sooner put together letter by letter than by a decoder. */
const SHORT = 12;

/** Text of bytes that are ASCII. */
export const plainText = (bytes: Uint8Array, from: number, to: number): string => {
  if (to - from >= SHORT) return latin1.decode(bytes.subarray(from, to));
  let text = '';
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]!);
  return text;
};

/** Text between quotation marks, the bytes from `from` to `to`; a doubled mark is one. */
export const decodedText = (bytes: Uint8Array, from: number, to: number): string => {
  let all = 0;
  let quotes = false;
  let escapes = false;
  for (let i = from; i < to; i++) {
    const c = bytes[i]!;
    all |= c;
    if (c === QUOTE) quotes = true;
    else if (c === BACKSLASH) escapes = true;
  }
  let text = all < 128 ? plainText(bytes, from, to) : ofBytes(bytes.subarray(from, to));
  if (quotes) text = text.replaceAll("''", "'");
  return escapes ? unescaped(text) : text;
};

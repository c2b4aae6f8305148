/** The smallest pieces of STEP text (ISO 10303-21): blanks, comments, strings, words and statements, found in its bytes. */

export const [QUOTE, BINARY, SLASH, STAR, HASH] = [39, 34, 47, 42, 35];
export const [EQUALS, SEMICOLON, OPEN, CLOSE, ZERO] = [61, 59, 40, 41, 48];

export const isBlank = (c: number): boolean => c <= 32;
export const isSmall = (c: number): boolean => c >= 97 && c <= 122;
const isDigit = (c: number): boolean => c >= ZERO && c <= 57;

/** Of each byte that a word may hold the capital letter, digit or underscore; 0 of all others. */
export const CAPITALS = Uint8Array.from({ length: 256 }, (_, c) =>
  isSmall(c) ? c - 32 : (c >= 65 && c <= 90) || isDigit(c) || c === 95 ? c : 0,
);

/** Place after the string that begins at `at`; past the end of the bytes where it is not closed. */
const afterString = (bytes: Uint8Array, at: number): number => {
  const mark = bytes[at]!;
  let i = at + 1;
  while (i < bytes.length && bytes[i] !== mark) i++;
  return i + 1;
};

/** Place after the comment that begins at `at`; past the end of the bytes where it is not closed. */
export const afterComment = (bytes: Uint8Array, at: number): number => {
  let i = at + 2;
  while (i < bytes.length && !(bytes[i] === STAR && bytes[i + 1] === SLASH)) i++;
  return i + 2;
};

/** Place of the first byte from `at` on that is neither blank nor in a comment. */
export const pastBlanks = (bytes: Uint8Array, at: number): number => {
  let i = at;
  while (i < bytes.length) {
    if (isBlank(bytes[i]!)) i++;
    else if (bytes[i] === SLASH && bytes[i + 1] === STAR) i = afterComment(bytes, i);
    else break;
  }
  return i;
};

/** Whether the word (capital letters) stands at `at`, in letters of any case. */
export const wordAt = (bytes: Uint8Array, at: number, word: string): boolean => {
  for (let i = 0; i < word.length; i++) {
    const c = bytes[at + i];
    const w = word.charCodeAt(i);
    if (c !== w && c !== w + 32) return false;
  }
  return true;
};

/** End of the statement that begins at `at`: the place of its semicolon, or -1 where it is not closed. */
export const endOfStatement = (bytes: Uint8Array, at: number): number => {
  let i = at;
  while (i < bytes.length) {
    const c = bytes[i]!;
    if (c === SEMICOLON) return i;
    if (c === QUOTE || c === BINARY) i = afterString(bytes, i);
    else if (c === SLASH && bytes[i + 1] === STAR) i = afterComment(bytes, i);
    else i++;
  }
  return -1;
};

/** Whether the bytes are STEP text: 'ISO-10303-21' after a mark of byte order, blanks and comments. */
export const isStep = (bytes: Uint8Array): boolean => {
  const mark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  return wordAt(bytes, pastBlanks(bytes, mark), 'ISO-10303-21');
};

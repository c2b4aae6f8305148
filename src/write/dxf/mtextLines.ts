/** How much room a multiline text takes: its lines, roughly, since its font is not known here. */

/** Of a letter with its gap, in heights of letters: wide for most fonts, so that nothing is set into the text. */
export const LETTER_WIDTH = 0.9;

const CODES = /\\P|\\U\+[0-9A-Fa-f]{4}|\\S([^;]*);|\\[ACcFfHQTWp][^;\\]*;|\\[LlOoKk]|\\~|\\([\\{}])|%%[A-Za-z%]|[{}]/g;

/** What is shown of a text with its codes of form taken out; a line feed for each new paragraph, x for a letter told by its number. */
export const plainOf = (text: string): string =>
  text.replace(CODES, (code, stacked: string | undefined, escaped: string | undefined) => {
    if (stacked !== undefined || escaped !== undefined) return stacked ?? escaped ?? '';
    if (code === '\\P') return '\n';
    if (code === '\\~') return ' ';
    return code.startsWith('\\U') || code.startsWith('%%') ? 'x' : '';
  });

/** Lines of a text that is broken between words where it is wider than `mostLetters` (0: never), and letters of the longest. */
export const wrapped = (text: string, mostLetters: number): { readonly lines: number; readonly longest: number } => {
  let [lines, longest] = [0, 0];
  for (const paragraph of plainOf(text).split('\n')) {
    let at = 0;
    lines++;
    for (const word of paragraph.split(' ')) {
      const next = at === 0 ? word.length : at + 1 + word.length;
      if (mostLetters > 0 && next > mostLetters && at > 0) {
        lines++;
        at = word.length;
      } else at = next;
      longest = Math.max(longest, at);
    }
  }
  return { lines, longest };
};

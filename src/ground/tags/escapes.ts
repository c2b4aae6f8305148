/** What a person sees of a text: DXF's control codes and MTEXT's formatting resolved. */

/** %%c diameter, %%d degree, %%p plus-minus, %%% percent, %%nnn a character by number; %%u %%o %%k switch lines and are left out. */
const percentCodes = (text: string): string =>
  text.includes('%%')
    ? text.replace(/%%(\d{3}|[cdpuokCDPUOK%])/g, (_, what: string) => {
        switch (what.toLowerCase()) {
          case 'c':
            return '⌀';
          case 'd':
            return '°';
          case 'p':
            return '±';
          case '%':
            return '%';
          case 'u':
          case 'o':
          case 'k':
            return '';
          default:
            return String.fromCharCode(Number(what));
        }
      })
    : text;

/** '^J' line end, '^I' tab, '^ ' the caret itself; other control characters are left out. */
const caretCodes = (text: string): string =>
  text.includes('^')
    ? text.replace(/\^(.)/g, (whole, c: string) => {
        if (c === ' ') return '^';
        if (c === 'J') return '\n';
        if (c === 'I') return '\t';
        return c >= '@' && c <= '_' ? '' : whole;
      })
    : text;

/** Plain text of a TEXT, ATTRIB or DIMENSION value that decodeText gave. */
export const plainText = (text: string): string => percentCodes(caretCodes(text));

/** Formatting codes of MTEXT that run up to a semicolon: font, height, width, colour, slant, tracking, alignment, paragraph. */
const WITH_VALUE = 'fFHWCcQTAp';

/** '\S1#2;' and its kin: a stack, upper over lower. */
const stack = (inner: string): string => {
  const at = inner.search(/[/#^]/);
  if (at < 0) return inner;
  const upper = inner.slice(0, at).trim();
  const lower = inner.slice(at + 1).trim();
  if (inner[at] === '^') return [upper, lower].filter((part) => part !== '').join(' ');
  return `${upper}/${lower}`;
};

/** Plain text of an MTEXT value that decodeText gave: groups and formatting dropped, '\P' a line end, a stack as 'a/b'. */
export const plainMText = (source: string): string => {
  let text = '';
  // The last character put out; asking the growing text itself would copy it each time.
  let last = '';
  const put = (piece: string): void => {
    text += piece;
    last = piece;
  };
  for (let at = 0; at < source.length; at++) {
    const c = source[at]!;
    if (c === '{' || c === '}') continue;
    if (c !== '\\') {
      put(c);
      continue;
    }
    const what = source[++at];
    if (what === undefined) break;
    if (what === 'P' || what === 'N' || what === 'X') put('\n');
    else if (what === '~') put(' ');
    else if (what === '\\' || what === '{' || what === '}') put(what);
    else if (what === 'S') {
      const end = source.indexOf(';', at);
      const inner = source.slice(at + 1, end < 0 ? source.length : end);
      const before = last >= '0' && last <= '9' && /^\s*\d/.test(inner) ? ' ' : '';
      put(before + stack(inner));
      last = '';
      at = end < 0 ? source.length : end;
    } else if (WITH_VALUE.includes(what)) {
      const end = source.indexOf(';', at);
      at = end < 0 ? source.length : end;
    } else if (!'LlOoKk'.includes(what)) put(what);
  }
  return percentCodes(caretCodes(text));
};

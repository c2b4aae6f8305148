/** Values of a job file as YAML on one line. JSON is YAML, so only what reads better without quotes differs from JSON. */

/** Words that YAML readers, also old ones, take for something else than a text. */
const TAKEN = /^(true|false|null|yes|no|on|off|y|n)$/i;

/** Signs that JSON lets stand though some readers and editors take them for the end of a line, or do not show them. */
const UNSEEN = /[\u007f-\u009f\u2028\u2029\ufeff]/g;

const quoted = (word: string): string =>
  JSON.stringify(word).replace(UNSEEN, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);

const plain = (word: string): string =>
  /^[A-Za-z][A-Za-z0-9_-]*$/.test(word) && !TAKEN.test(word) ? word : quoted(word);

const number = (value: number): string => {
  if (Number.isNaN(value)) return '.nan';
  return Number.isFinite(value) ? String(value) : value > 0 ? '.inf' : '-.inf';
};

export const flow = (value: unknown): string => {
  if (typeof value === 'string') return plain(value);
  if (typeof value === 'number') return number(value);
  if (typeof value === 'boolean') return String(value);
  if (Array.isArray(value)) return `[${value.map(flow).join(', ')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, inner]) => inner !== undefined);
    return entries.length === 0
      ? '{}'
      : `{ ${entries.map(([key, inner]) => `${plain(key)}: ${flow(inner)}`).join(', ')} }`;
  }
  return 'null';
};

/** Text for a comment: one line, without what would end it. */
export const oneLine = (words: string): string => words.replace(/[\s\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ').trim();

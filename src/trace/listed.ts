/** Findings of one kind that are many: the first of them one by one, the rest counted. */

import { type Finding, finding } from '../ground/findings.js';
import { LISTED_MOST } from './limits.js';

/**
 * Of each code and severity the first LISTED_MOST in the order given, then one finding without a place that says how many more there are: a failure is never
 * counted as less. Kinds come in the order of their first.
 */
export const listed = (
  findings: readonly Finding[],
  rest: (count: number) => string = (count) => `${count} more of this kind.`,
): Finding[] => {
  const kinds = new Map<string, Finding[]>();
  for (const f of findings) {
    const key = `${f.code} ${f.severity}`;
    const kind = kinds.get(key);
    if (kind) kind.push(f);
    else kinds.set(key, [f]);
  }
  return [...kinds.values()].flatMap((kind) => {
    const more = kind.length - LISTED_MOST;
    if (more <= 0) return kind;
    const { code, severity } = kind[0]!;
    return [...kind.slice(0, LISTED_MOST), finding(code, rest(more), { severity })];
  });
};

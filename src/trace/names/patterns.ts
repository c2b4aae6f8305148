/** Patterns of layer names in the job file. */

import { withoutXref } from './split.js';

/** Does a pattern (`*` any run, `?` one character, case not heeded) match the name, with or without its xref prefix? */
export const matchesPattern = (pattern: string, name: string): boolean => {
  const fits = (p: string, s: string): boolean => {
    // Two-pointer wildcard match: linear in practice and never exponential, whatever the pattern.
    let i = 0;
    let j = 0;
    let star = -1;
    let mark = 0;
    while (j < s.length) {
      if (i < p.length && p[i] === '*') {
        star = i++;
        mark = j;
      } else if (i < p.length && (p[i] === '?' || p[i] === s[j])) {
        i++;
        j++;
      } else if (star >= 0) {
        i = star + 1;
        j = ++mark;
      } else return false;
    }
    while (p[i] === '*') i++;
    return i === p.length;
  };
  const p = pattern.toLowerCase();
  return fits(p, name.toLowerCase()) || fits(p, withoutXref(name).toLowerCase());
};

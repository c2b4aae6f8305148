/**
 * Findings that say the same of many places stand in one row: the first in full, of the others what differs, in the same order. Nobody reads a sentence
 * twenty times; nothing of it is lost either. Failures are never gathered.
 */

import type { Finding } from '../../ground/findings.js';

export interface NumberedFinding {
  /** From 1: the place in the result's list. */
  readonly number: number;
  readonly finding: Finding;
}

/** A part of the first message; `varies`: it is another one in a message of the group. */
export interface Part {
  readonly text: string;
  readonly varies: boolean;
}

export interface Alike extends NumberedFinding {
  /** What its own message has where the first one's varies, in that order. */
  readonly values: readonly string[];
}

export interface FindingGroup {
  readonly first: NumberedFinding;
  readonly parts: readonly Part[];
  readonly others: readonly Alike[];
}

/** Fewer stand in full, one a row. */
const LEAST_ALIKE = 3;

/** Marks of walls, faces, nodes and pieces, pairs of faces, numbers, inches with their fraction: what may differ in one sentence about several places. */
const VARIES =
  /((?:(?:outer and inner|inner and outer|left and right|right and left) face|[A-Z]{1,3}\d+(?:-[A-Z]\d*)?|-?\d+(?:\.\d+)?(?: \d+\/\d+|\/\d+)?)(?![\p{L}\p{N}]))/u;

const split = (message: string): readonly string[] => message.split(VARIES);

/** Alike are findings of one code and severity whose messages and assumptions differ in marks and numbers only. */
const keyOf = ({ code, severity, rule, message, assumed }: Finding): string =>
  [
    code,
    severity,
    rule,
    assumed ?? '',
    split(message)
      .filter((_, i) => i % 2 === 0)
      .join('#'),
  ].join('\n');

const groupOf = (members: readonly NumberedFinding[]): FindingGroup => {
  const [first, ...rest] = members as [NumberedFinding, ...NumberedFinding[]];
  const own = split(first.finding.message);
  const others = rest.map((m) => ({ ...m, split: split(m.finding.message) }));
  const varies = own.map((text, i) => others.some((o) => o.split[i] !== text));
  return {
    first,
    parts: own.map((text, i) => ({ text, varies: varies[i]! })).filter((p) => p.text !== ''),
    others: others.map(({ number, finding, split: texts }) => ({
      number,
      finding,
      values: texts.filter((_, i) => varies[i]).map((t) => t.trim()),
    })),
  };
};

/** In the order of the first of each. */
export const findingGroups = (findings: readonly Finding[]): readonly FindingGroup[] => {
  const gathered = new Map<string, NumberedFinding[]>();
  findings.forEach((finding, i) => {
    const key = finding.severity === 'failure' ? `${i}` : keyOf(finding);
    gathered.set(key, [...(gathered.get(key) ?? []), { number: i + 1, finding }]);
  });
  return [...gathered.values()]
    .flatMap((members) => (members.length < LEAST_ALIKE ? members.map((m) => [m]) : [members]))
    .map(groupOf)
    .sort((a, b) => a.first.number - b.first.number);
};

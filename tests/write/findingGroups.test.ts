/** Findings that say the same of several places: once in full, nothing lost, in page and PDF. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Finding, finding } from '../../src/ground/findings.js';
import type { Result } from '../../src/ground/vocabulary.js';
import { findingGroups } from '../../src/write/report/findingGroups.js';
import { reportHtml } from '../../src/write/report/index.js';
import { exampleResult } from '../support/exampleResult.js';
import { readMarkup } from './markupReader.js';

const SEED = Number(process.env.FC_SEED ?? 6127);

const seat = (face: string, from: string, to: string): Finding =>
  finding('check.no-seat', `Beside face ${face} the footing projects 4 in at stations ${from} to ${to} in.`, {
    subject: face,
  });
const pull = (wall: string, kN: string, faces: string): Finding =>
  finding('check.in-plane', `Wall ${wall}: the forms pull with ${kN} kN (${faces} face) at the foot.`, {
    subject: wall,
  });

describe('findings that differ in marks and numbers only', () => {
  it('stand in one row: the first in full, of the others what differs, in its order', () => {
    const groups = findingGroups([seat('W1-L', '8', '344'), seat('W1-R', '8', '344 1/2'), seat('W9-L', '12', '86')]);
    expect(groups).toHaveLength(1);
    const [{ parts, others }] = groups as [(typeof groups)[0]];
    expect(parts.filter((p) => p.varies).map((p) => p.text)).toEqual(['W1-L', '8', '344']);
    expect(others.map((o) => [o.number, ...o.values])).toEqual([
      [2, 'W1-R', '8', '344 1/2'],
      [3, 'W9-L', '12', '86'],
    ]);
  });

  it('tell which faces are meant where that differs', () => {
    const [group] = findingGroups([
      pull('W1', '8.6', 'outer and inner'),
      pull('W2', '8.6', 'outer and inner'),
      pull('W4', '8.6', 'left and right'),
    ]);
    expect(group!.others.map((o) => o.values)).toEqual([
      ['W2', 'outer and inner face'],
      ['W4', 'left and right face'],
    ]);
  });

  it('stand by themselves where they are two, fail, or assume something else', () => {
    const alike = ['W1', 'W2', 'W3'].map((w) => pull(w, '8.6', 'outer and inner'));
    expect(findingGroups(alike.slice(0, 2))).toHaveLength(2);
    expect(findingGroups(alike.map((f) => ({ ...f, severity: 'failure' as const })))).toHaveLength(3);
    expect(findingGroups(alike.map((f, i) => ({ ...f, assumed: `${i}` })))).toHaveLength(3);
    expect(findingGroups(alike)).toHaveLength(1);
  });

  it('lose nothing: every message can be put together again from the first and its values', () => {
    const mark = fc.constantFrom('W1', 'W12-L', 'N3', 'P151', '4', '-101.6', '12 1/2', '3/16');
    const list = fc.array(fc.tuple(mark, mark, mark), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(list, (values) => {
        const findings = values.map(([a, b, c]) =>
          finding('check.in-plane', `At ${a} a gap of ${b} in; see ${c}, twice.`),
        );
        const told = findingGroups(findings).flatMap(({ first, parts, others }) => [
          [first.number, parts.map((p) => p.text).join('')],
          ...others.map((o) => {
            const own = [...o.values];
            return [o.number, parts.map((p) => (p.varies ? own.shift() : p.text)).join('')];
          }),
        ]);
        expect(new Map(told as [number, string][])).toEqual(new Map(findings.map((f, i) => [i + 1, f.message])));
      }),
      { seed: SEED },
    );
  });

  it('keep each its number, its place to lead to and its way to the plan', () => {
    const findings = ['W1', 'W2', 'W3'].map((w, i) => ({
      ...pull(w, '8.6', 'outer and inner'),
      at: [500 + i, 100, 0] as const,
    }));
    const result: Result = { ...exampleResult, findings };
    const { tags, text } = readMarkup(reportHtml(result));
    for (const n of [1, 2, 3]) {
      expect(tags.filter((t) => t.attributes.get('id') === `finding-${n}`)).toHaveLength(1);
      expect(tags.filter((t) => t.attributes.get('href') === `#mark-${n}`)).toHaveLength(1);
    }
    expect(text.split('the forms pull with').length - 1).toBe(1 + 3); // the row, and the title of each triangle
  });
});

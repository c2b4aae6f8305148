/** Documents and code say the same. */

import { describe, expect, it } from 'vitest';
import { FINDINGS } from '../../src/ground/findings.js';
import { documents } from '../support/documents.js';
import { filesUnder, textOf } from '../support/repository.js';

const codes = Object.keys(FINDINGS);
const sources = filesUnder('src').filter((path) => path.endsWith('.ts'));
const isTable = (path: string): boolean => path.startsWith('src/ground/findings/');

describe('documents made from the code', () => {
  for (const [path, text] of Object.entries(documents())) {
    it(`${path} is up to date (npm run docs)`, () => {
      expect(textOf(path)).toBe(text);
    });
  }
});

describe('findings', () => {
  it('are many, and each has a heading in docs/FINDINGS.md', () => {
    expect(codes.length).toBeGreaterThan(60);
    const headings = [...textOf('docs/FINDINGS.md').matchAll(/^### (\S+)$/gm)].map((m) => m[1]!);
    expect(headings.sort()).toEqual([...codes].sort());
  });

  it('have codes that begin with the name of the table that they stand in', () => {
    const wrong = sources.filter(isTable).flatMap((path) => {
      // A stage may have more tables than one: traceChoice is of trace.
      const stage = path.slice('src/ground/findings/'.length, -'.ts'.length).replace(/[A-Z].*$/, '');
      const here = [...textOf(path).matchAll(/^ {2}'([^']+)': \{/gm)].map((m) => m[1]!);
      return here.filter((code) => !code.startsWith(`${stage}.`)).map((code) => `${path}: ${code}`);
    });
    expect(wrong).toEqual([]);
  });

  it('are each reported somewhere, and only by the folder that they belong to or by pipeline, which joins them', () => {
    const uses = new Map(codes.map((code) => [code, new Set<string>()]));
    for (const path of sources.filter((p) => !isTable(p))) {
      for (const [, code] of textOf(path).matchAll(/'([a-z]+\.[a-z-]+)'/g)) uses.get(code!)?.add(path);
    }
    const unused = codes.filter((code) => uses.get(code)!.size === 0);
    expect(unused).toEqual([]);
    const astray = codes.flatMap((code) => {
      const [stage] = code.split('.');
      const homes =
        stage === 'pipeline' ? ['src/pipeline/', 'src/jobs/', 'src/cli/'] : [`src/${stage}/`, 'src/pipeline/'];
      return [...uses.get(code)!]
        .filter((path) => !homes.some((home) => path.startsWith(home)) && !path.startsWith('src/ground/'))
        .map((path) => `${code} in ${path}`);
    });
    expect(astray).toEqual([]);
  });

  it('say in whole sentences what they mean and what to do', () => {
    const bare = Object.entries(FINDINGS).filter(([, kind]) => !/\.$/.test(kind.meaning) || !/\.$/.test(kind.action));
    expect(bare.map(([code]) => code)).toEqual([]);
  });
});

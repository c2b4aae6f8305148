/** What the repository as a whole keeps to. */

import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { filesUnder, ROOT, textOf } from '../support/repository.js';

const TOP_LEVEL = new Set([
  'README.md',
  'DEVELOPERS.md',
  'LICENSE',
  'package.json',
  'package-lock.json',
  'biome.json',
  'tsconfig.json',
  'tsconfig.build.json',
  'vitest.config.ts',
  '.gitignore',
  '.git',
  '.ci',
  'src',
  'tests',
  'fixtures',
  'docker',
  'docs',
  // Made, not kept:
  'node_modules',
  'dist',
  'out',
  'coverage',
]);

const MOST_LINES = 500;
const all = filesUnder('.');
const isText = (path: string): boolean => /\.(ts|md|json|ya?ml|py|mjs|sh)$|(^|\/)(run|LICENSE|\.gitignore)$/.test(path);
const texts = all.filter((path) => isText(path) && path !== 'package-lock.json');
const code = all.filter((path) => /^(src|tests)\/.*\.ts$/.test(path));

const linesWith = (paths: readonly string[], pattern: RegExp): string[] =>
  paths.flatMap((path) =>
    textOf(path)
      .split('\n')
      .flatMap((line, i) => (pattern.test(line) ? [`${path}:${i + 1} ${line.trim().slice(0, 100)}`] : [])),
  );

describe('repository', () => {
  it('has been looked at', () => {
    expect(texts.length).toBeGreaterThan(150);
    expect(code.length).toBeGreaterThan(120);
  });

  it('has nothing new at the top level', () => {
    expect(readdirSync(ROOT).filter((name) => !TOP_LEVEL.has(name))).toEqual([]);
  });

  it(`keeps files within ${MOST_LINES} lines`, () => {
    const long = code.filter((path) => textOf(path).split('\n').length > MOST_LINES);
    expect(long).toEqual([]);
  });

  it('holds no paths of a machine', () => {
    const homes = ['home', 'Users', 'work', 'root', 'tmp'].join('|');
    expect(linesWith(texts, new RegExp(`(^|[\\s"'\`(=])/(${homes})/`))).toEqual([]);
  });

  it('names no package registry but leaves that to npm', () => {
    const host = new RegExp(['registry', '\\.npmjs|npm', '\\.pkg\\.github|registry', '\\.yarnpkg'].join(''));
    expect(linesWith([...texts, 'package-lock.json'], host)).toEqual([]);
  });

  it('has no tests that are left out or run alone, and nothing put off in comments', () => {
    const alone = new RegExp(['\\b(describe|it|test)', '\\.(only|todo|skip)\\('].join(''));
    // A test that needs an outside program or file may stand back, if it says which.
    expect(linesWith(code, alone).filter((line) => !line.includes('skipped, needs'))).toEqual([]);
    const later = new RegExp(['\\bTO', 'DO\\b|\\bFIX', 'ME\\b|\\bXX', 'X\\b'].join(''));
    expect(linesWith(code, later)).toEqual([]);
  });

  it('does not let a person print to stdout from below the front ends', () => {
    const below = code.filter((path) => path.startsWith('src/') && !path.startsWith('src/cli/'));
    expect(linesWith(below, /process\.std(out|err)/)).toEqual([]);
  });

  it('links only to files that are there', () => {
    const kept = new Set(all);
    const broken = all
      .filter((path) => path.endsWith('.md'))
      .flatMap((path) =>
        [...textOf(path).matchAll(/\]\((?!https?:|#)([^)\s]+)\)/g)].flatMap(([, target]) => {
          const [file] = target!.split('#');
          const from = path.includes('/') ? path.slice(0, path.lastIndexOf('/') + 1) : '';
          const parts: string[] = [];
          for (const part of (from + file!).split('/')) {
            if (part === '..') parts.pop();
            else if (part !== '.') parts.push(part);
          }
          const full = parts.join('/').replace(/\/$/, '');
          return kept.has(full) || all.some((p) => p.startsWith(`${full}/`)) ? [] : [`${path} links to ${target}`];
        }),
      );
    expect(broken).toEqual([]);
  });
});

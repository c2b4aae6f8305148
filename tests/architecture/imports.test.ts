/** Who may import whom: the table of DEVELOPERS.md, held over every file of src/. */

import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, importsOf, sourceOf, textOf } from '../support/repository.js';

const STAGES = [
  'read/dxf',
  'read/ifc',
  'trace',
  'shape',
  'fit',
  'check',
  'schedule',
  'write/dxf',
  'write/ifc',
  'write/json',
  'write/report',
  'write/tables',
] as const;

/** Folder → folders it may import besides itself. 'node' stands for node:*. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  ground: [],
  catalogue: ['ground'],
  ...Object.fromEntries(STAGES.map((stage) => [stage, ['ground']])),
  pipeline: ['ground', 'catalogue', ...STAGES],
  jobs: ['ground', 'pipeline', 'node'],
  watch: ['ground', 'pipeline', 'jobs', 'node'],
  service: ['ground', 'pipeline', 'jobs', 'node'],
  cli: ['ground', 'catalogue', 'pipeline', 'jobs', 'watch', 'service', 'node'],
};

/** Package → the folders that are its home. */
const HOMES: Readonly<Record<string, readonly string[]>> = {
  zod: ['catalogue', 'pipeline', 'write/json', 'service'],
  'clipper-lib': ['shape', 'trace'],
  fflate: ['read/ifc', 'write/ifc', 'write/tables'],
  uuid: ['write/ifc'],
  highs: ['fit'],
  'web-ifc': ['read/ifc'],
  'dxf-parser': ['write/dxf'],
  'dxf-writer': ['write/dxf'],
  commander: ['cli'],
  yaml: ['jobs'],
  pg: ['jobs'],
  'pg-boss': ['jobs'],
  pdfkit: ['write/report'],
  '@resvg/resvg-wasm': ['write/report'],
  express: ['service'],
  'express-rate-limit': ['service'],
  helmet: ['service'],
  multer: ['service'],
  pino: ['service'],
  'prom-client': ['service'],
};

const FOLDERS = Object.keys(MAY_IMPORT);
const files = filesUnder('src').filter((path) => path.endsWith('.ts'));

/** 'write/dxf' of 'src/write/dxf/plan.ts'; null when the table does not know the folder. */
const folderOf = (path: string): string | null => FOLDERS.find((folder) => path.startsWith(`src/${folder}/`)) ?? null;

const targetOf = (path: string, specifier: string): string => {
  if (specifier.startsWith('.')) {
    const target = posix.normalize(posix.join(posix.dirname(path), specifier));
    return folderOf(target) ?? `unknown folder (${target})`;
  }
  if (specifier.startsWith('node:')) return 'node';
  return `package ${specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/')}`;
};

const packageAllowed = (folder: string, target: string): boolean =>
  HOMES[target.slice('package '.length)]?.includes(folder) ?? false;

const breaches = files.flatMap((path) => {
  const folder = path === 'src/ground/findings.ts' ? 'ground' : folderOf(path);
  if (folder === null) return [`${path}: its folder is not in the table`];
  return importsOf(sourceOf(path)).flatMap(({ specifier }) => {
    const target = targetOf(path, specifier);
    const allowed =
      target === folder ||
      MAY_IMPORT[folder]!.includes(target) ||
      (target.startsWith('package ') && packageAllowed(folder, target));
    return allowed ? [] : [`${path} imports ${specifier}: ${folder} may not import ${target}`];
  });
});

describe('imports', () => {
  it('has looked at the whole of src and at every folder of the table', () => {
    expect(files.length).toBeGreaterThan(90);
    for (const folder of FOLDERS) {
      expect(files.filter((path) => folderOf(path) === folder).length, folder).toBeGreaterThan(0);
    }
  });

  it('sees imports of every form', () => {
    const total = files.reduce((sum, path) => sum + importsOf(sourceOf(path)).length, 0);
    expect(total).toBeGreaterThan(files.length);
  });

  it('keeps to the table', () => {
    expect(breaches).toEqual([]);
  });

  it('names files with their ending, as ESM needs', () => {
    const bare = files.flatMap((path) =>
      importsOf(sourceOf(path))
        .filter(({ specifier }) => specifier.startsWith('.') && !/\.(js|json)$/.test(specifier))
        .map(({ specifier }) => `${path}: ${specifier}`),
    );
    expect(bare).toEqual([]);
  });

  it('imports no folder in a circle among files at run time', () => {
    const graph = new Map(
      files.map((path) => [
        path,
        importsOf(sourceOf(path))
          .filter(({ specifier, typeOnly }) => specifier.startsWith('.') && !typeOnly)
          .map(({ specifier }) => posix.join(posix.dirname(path), specifier).replace(/\.js$/, '.ts')),
      ]),
    );
    expect(circleIn(graph)).toBeNull();
  });

  it('uses every dependency of package.json in src, and declares every package that it uses', () => {
    const declared = Object.keys((JSON.parse(textOf('package.json')) as { dependencies: object }).dependencies).sort();
    const used = new Set(
      files.flatMap((path) =>
        importsOf(sourceOf(path))
          .map(({ specifier }) => targetOf(path, specifier))
          .filter((target) => target.startsWith('package '))
          .map((target) => target.slice('package '.length)),
      ),
    );
    // Files of a package that are read rather than imported: fonts, engines.
    const jobs = files.filter((path) => path.startsWith('src/jobs/')).map(textOf);
    for (const name of declared) if (jobs.some((text) => text.includes(`'${name}/`))) used.add(name);
    expect([...used].sort()).toEqual(declared);
  });
});

/** The files of one circle, or null. */
const circleIn = (graph: ReadonlyMap<string, readonly string[]>): string[] | null => {
  const done = new Set<string>();
  const visit = (path: string, trail: readonly string[]): string[] | null => {
    if (trail.includes(path)) return [...trail.slice(trail.indexOf(path)), path];
    if (done.has(path)) return null;
    for (const next of graph.get(path) ?? []) {
      const circle = visit(next, [...trail, path]);
      if (circle) return circle;
    }
    done.add(path);
    return null;
  };
  for (const path of graph.keys()) {
    const circle = visit(path, []);
    if (circle) return circle;
  }
  return null;
};

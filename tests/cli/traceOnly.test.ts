/** layout --trace-only as a person meets it: files, streams, exit codes, and that no file of theirs is written over. */

import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { shutterwright } from '../support/dist.js';
import { FIXTURES } from '../support/makeFixtures.js';
import { textOf } from '../support/repository.js';

let folder: string;
const path = (name: string): string => join(folder, name);
const run = (...args: string[]) => shutterwright(['layout', ...args], folder);
const PROPOSED = 'out/weir-store.job.proposed.yaml';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'shutterwright-'));
  copyFileSync(`${FIXTURES}07-questions-to-answer/weir-store.dxf`, path('weir-store.dxf'));
});

describe('layout --trace-only', () => {
  it('writes what was understood and nothing laid out; questions on stdout, progress on stderr', () => {
    const { status, stdout, stderr } = run('weir-store.dxf', '--trace-only');
    expect(status).toBe(0);
    expect(readdirSync(path('out')).sort()).toEqual([
      'weir-store.job.proposed.yaml',
      'weir-store.trace.dxf',
      'weir-store.trace.json',
    ]);
    expect(stderr.trim().split('\n')).toEqual(
      ['read', 'trace', 'shape', 'write'].map((stage) => `weir-store.dxf: ${stage}`),
    );
    expect(stdout).toMatch(/^weir-store\.dxf: traced, no failures; nothing is laid out yet\n {2}5 walls, 17\.9 m, /);
    expect(stdout).toContain('levels: footing 0 mm (assumed), top 2400 mm (assumed)');
    expect(stdout).toMatch(/\?\d attention trace\.gap-in-wall: Is this break an opening/);
    expect(stdout).toContain('answer: drawing.openings');
    expect(readdirSync(folder).sort()).toEqual(['out', 'weir-store.dxf']);
  });

  it('says what the guide shows', () => {
    const guide = textOf('docs/guide/confirm.md');
    const blocks = [...guide.matchAll(/```\n(weir-store\.dxf: [\s\S]*?)```/g)].map((m) => m[1]!);
    const first = run('weir-store.dxf', '--trace-only').stdout;
    writeFileSync(path('weir-store.job.yaml'), readFileSync(`${FIXTURES}07-questions-to-answer/weir-store.job.yaml`));
    const second = run('weir-store.dxf', '--trace-only').stdout;
    expect(blocks).toEqual([first, second]);
  });

  it('with --json prints the summary with the questions', () => {
    const { status, stdout } = run('weir-store.dxf', '--trace-only', '--json');
    expect(status).toBe(0);
    const document = JSON.parse(stdout) as {
      drawings: { files: string[]; summary: { walls: number; questions: { number: number }[] } }[];
    };
    const [drawing] = document.drawings;
    expect(drawing!.files).toHaveLength(3);
    expect(drawing!.summary.walls).toBe(5);
    expect(drawing!.summary.questions.map((q) => q.number)).toEqual([1, 2, 3]);
  });

  it('exits with 1 where no wall was found and with 2 where nothing could be read', () => {
    const none = run(`${FIXTURES}04-no-walls/notes-only.dxf`, '--trace-only');
    expect(none.status).toBe(1);
    expect(none.stdout).toContain('traced, with 1 failure');
    expect(existsSync(path('out/notes-only.trace.dxf'))).toBe(true);
    const empty = run(`${FIXTURES}03-broken-inputs/empty.dxf`, '--trace-only');
    expect(empty.status).toBe(2);
    expect(empty.stdout).toMatch(/empty\.dxf: refused\. /);
    const late = run('weir-store.dxf', '--trace-only', '--time-limit', '0.001');
    expect(late.status).toBe(2);
    expect(late.stdout).toContain('did not end within');
  });

  it('takes --mode', () => {
    run('weir-store.dxf', '--trace-only', '--mode', 'merged');
    expect(readFileSync(path('out/weir-store.trace.dxf'), 'latin1')).toContain('STORE BY THE WEIR');
    expect(readFileSync(path(PROPOSED), 'utf8')).not.toContain('mode:');
  });

  it('goes from question to answer: the edited proposal, saved as the job file, is heeded', () => {
    run('weir-store.dxf', '--trace-only');
    const answered = readFileSync(path(PROPOSED), 'utf8')
      .replace('# - { near: [2950, 125], wallEnds: true }', '- { near: [2950, 125], sillMm: 900, headMm: 2000 }')
      .replace('# unit: mm', 'unit: mm');
    writeFileSync(path('weir-store.job.yaml'), answered);
    const { stdout } = run('weir-store.dxf', '--trace-only');
    expect(stdout).toContain('4 walls');
    expect(stdout).toContain('1 opening');
    expect(stdout).not.toContain('drawing.openings');
    expect(stdout).not.toContain('drawing.unit');
    expect(readFileSync(path('weir-store.job.yaml'), 'utf8')).toBe(answered);
    expect(readFileSync(path(PROPOSED), 'utf8')).toContain('- { near: [2950, 125], sillMm: 900, headMm: 2000 }');
  });
});

describe('files of the person', () => {
  it('a proposal that nobody changed is written anew', () => {
    run('weir-store.dxf', '--trace-only');
    const first = readFileSync(path(PROPOSED), 'utf8');
    writeFileSync(path('weir-store.job.yaml'), 'drawing: { unit: mm }\n');
    expect(run('weir-store.dxf', '--trace-only').status).toBe(0);
    const second = readFileSync(path(PROPOSED), 'utf8');
    expect(second).not.toBe(first);
    expect(second).toContain('\n  unit: mm\n');
  });

  it('a proposal that was changed is not written over, nor is any other file of its name', () => {
    for (const [status, content] of [
      [2, 'levels: { topMm: 2000 }\n'],
      [2, ''],
    ] as const) {
      run('weir-store.dxf', '--trace-only');
      writeFileSync(path(PROPOSED), content);
      const again = run('weir-store.dxf', '--trace-only');
      expect(again.status).toBe(status);
      expect(again.stdout).toContain('was changed since it was written; save it as weir-store.job.yaml');
      expect(readFileSync(path(PROPOSED), 'utf8')).toBe(content);
    }
  });

  it('a layout leaves the trace alone, and a trace the layout', () => {
    writeFileSync(path('weir-store.job.yaml'), 'output: { pdf: false, sheets: false }\n');
    run('weir-store.dxf', '--trace-only');
    const before = readFileSync(path('out/weir-store.trace.dxf'));
    expect(run('weir-store.dxf').stdout).not.toContain('older');
    expect(Buffer.compare(readFileSync(path('out/weir-store.trace.dxf')), before)).toBe(0);
    expect(existsSync(path('out/weir-store.forms.dxf'))).toBe(true);
  });

  it('a drawing is not written over by the trace of another', () => {
    copyFileSync(path('weir-store.dxf'), path('weir-store.trace.dxf'));
    const { status, stderr } = run('weir-store.dxf', 'weir-store.trace.dxf', '--trace-only', '--out', '.');
    expect(status).toBe(2);
    expect(stderr).toContain('The trace of weir-store.dxf would be written over weir-store.trace.dxf');
  });
});

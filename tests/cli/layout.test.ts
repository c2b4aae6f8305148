/** The command line as a person meets it: exit codes, streams, files, sentences. */

import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { shutterwright } from '../support/dist.js';
import { FIXTURES } from '../support/makeFixtures.js';
import { textOf } from '../support/repository.js';
import { gardenWall } from '../support/scenes.js';
import { dxfBytes } from '../support/sheet.js';

let folder: string;
const put = (name: string, content: string | Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};
/** A small drawing under this name. */
const drawing = (name = 'plan.dxf'): string => {
  put(name, dxfBytes(gardenWall));
  return name;
};
/** The same with a job file beside it that asks for no more than a test needs. */
const plainDrawing = (name = 'plan.dxf'): string => {
  put(name.replace('.dxf', '.job.yaml'), 'output: { pdf: false, sheets: false }\n');
  return drawing(name);
};
const run = (...args: string[]) => shutterwright(args, folder);
/** The PDF takes as long as all the rest: one test is enough for it. */
const WITH_PDF =
  'levels: { footingMm: 0, topMm: 2350 }\nconcrete: { rateMPerH: 1.5, temperatureC: 15 }\ncatalogue: demo\n';
const JOB = `${WITH_PDF}output: { pdf: false, sheets: false }\n`;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'shutterwright-'));
});

describe('layout', () => {
  it('writes its files into out, says so on stdout and its progress on stderr', () => {
    drawing();
    put('plan.job.yaml', WITH_PDF);
    mkdirSync(join(folder, 'out'));
    put('out/plan.elevation-W9-L.svg', '<svg/>');
    const { status, stdout, stderr } = run('layout', 'plan.dxf', '--pictures', 'svg');
    expect(stdout).toContain('plan.elevation-W9-L.svg is older');
    expect(stdout).toMatch(/^plan\.dxf: laid out, no failures\n/);
    expect(status).toBe(0);
    expect(readdirSync(join(folder, 'out')).sort()).toEqual([
      'plan.elevation-W1-L.svg',
      'plan.elevation-W1-R.svg',
      'plan.elevation-W9-L.svg',
      'plan.forms.dxf',
      'plan.layout.json',
      'plan.plan.svg',
      'plan.report.html',
      'plan.report.pdf',
      'plan.schedule.csv',
      'plan.schedule.xlsx',
    ]);
    expect(stderr.trim().split('\n')).toEqual(
      ['read', 'trace', 'shape', 'fit', 'check', 'schedule', 'write'].map((stage) => `plan.dxf: ${stage}`),
    );
    expect(readdirSync(folder).sort()).toEqual(['out', 'plan.dxf', 'plan.job.yaml']);
  });

  it('takes the job file beside the drawing, and --job before it', () => {
    drawing();
    put('plan.job.yaml', `${JOB.replace('2350', '2000')}`);
    put('other.json', JSON.stringify({ levels: { footingMm: 0, topMm: 1150 }, output: { pdf: false } }));
    run('layout', 'plan.dxf', '--out', 'a');
    run('layout', 'plan.dxf', '--out', 'b', '--job', 'other.json');
    const top = (out: string) =>
      (
        JSON.parse(readFileSync(join(folder, out, 'plan.layout.json'), 'utf8')) as {
          walls: { top: { levelMm: number }[] }[];
        }
      ).walls[0]!.top[0]!.levelMm;
    expect(top('a')).toBe(2000);
    expect(top('b')).toBe(1150);
  });

  it('with --json prints one JSON document and nothing else on stdout', () => {
    plainDrawing();
    plainDrawing('second.dxf');
    put('broken.dxf', '');
    const { status, stdout } = run('layout', 'plan.dxf', 'broken.dxf', 'second.dxf', '--json');
    const document = JSON.parse(stdout) as {
      format: string;
      exitCode: number;
      drawings: { drawing: string; exitCode: number; files: string[]; findings: unknown[] }[];
    };
    expect(document.format).toBe('shutterwright-run');
    expect(document.drawings.map((d) => [d.drawing, d.exitCode, d.files.length])).toEqual([
      ['plan.dxf', 0, 5],
      ['broken.dxf', 2, 0],
      ['second.dxf', 0, 5],
    ]);
    expect(document.exitCode).toBe(2);
    expect(status).toBe(2);
  });

  it('in overlay mode writes a drawing without the architect’s entities', () => {
    plainDrawing();
    run('layout', 'plan.dxf', '--mode', 'overlay');
    const text = readFileSync(join(folder, 'out/plan.forms.dxf'), 'latin1');
    expect(text).not.toContain('ELDERWICK');
    expect(text).toContain('S-FORM-PANL');
    run('layout', 'plan.dxf', '--mode', 'merged');
    expect(readFileSync(join(folder, 'out/plan.forms.dxf'), 'latin1')).toContain('ELDERWICK');
  });

  it('takes a catalogue from a file, by option beside the caller and by job file beside the job file', () => {
    plainDrawing();
    mkdirSync(join(folder, 'jobs'));
    const yard = {
      name: 'small yard',
      lengthUnit: 'mm',
      pitchMm: 25,
      units: [
        ...[600, 300].map((widthMm) => ({
          id: `p${widthMm}`,
          kind: 'panel',
          widthMm,
          heightMm: 2400,
          ratedKpa: 60,
          massKg: 40,
          holes: [300, 900, 1500, 2100].flatMap((yMm) => [50, widthMm - 50].map((xMm) => ({ xMm, yMm }))),
        })),
        {
          id: 'f50',
          kind: 'filler',
          widthMm: 50,
          heightMm: 2400,
          ratedKpa: 60,
          massKg: 5,
          stiffTo: 'panel',
          momentKnmPerM: 1,
        },
        { id: 'ic', kind: 'inside-corner', legsMm: [150, 150], heightMm: 2400, ratedKpa: 60, massKg: 20 },
        { id: 'oc', kind: 'outside-corner', heightMm: 2400, ratedKpa: 60, massKg: 8 },
      ],
      ties: [{ id: 't', wallMm: [200], workingLoadKn: 24, ultimateKn: 48, diameterMm: 14, massKg: 0.5 }],
    };
    put('jobs/yard.json', JSON.stringify(yard));
    put('jobs/a.yaml', `${JOB.replace('catalogue: demo', 'catalogue: yard.json')}`);
    expect(run('layout', 'plan.dxf', '--job', 'jobs/a.yaml').stdout).toContain("catalogue 'small yard'");
    expect(run('layout', 'plan.dxf', '--catalogue', 'jobs/yard.json').stdout).toContain("catalogue 'small yard'");
    expect(run('layout', 'plan.dxf', '--job', 'jobs/a.yaml', '--catalogue', 'demo').stdout).toContain(
      "catalogue 'demo yard'",
    );
    const printed = run('gear', 'jobs/yard.json');
    expect(printed.status).toBe(0);
    expect(printed.stdout).toMatch(/^small yard: gear in mm/);
    expect(printed.stdout).toMatch(/p600\s+panel\s+600\s+2400\s+8\s+60\s+40/);
  });

  it('says which older file it did not write', () => {
    plainDrawing();
    run('layout', 'plan.dxf');
    put('plan.dxf', '');
    const { status, stdout } = run('layout', 'plan.dxf');
    expect(status).toBe(2);
    expect(stdout).toContain('plan.forms.dxf is older: it is not of this run');
  });
});

describe('layout refuses with exit code 2 and one sentence', () => {
  const sentence = (text: string): void => {
    expect(text.trim().split('\n')).toHaveLength(1);
    expect(text.trim()).toMatch(/\.$/);
  };

  it('a file that is not there', () => {
    const { status, stdout } = run('layout', 'no.dxf');
    expect(status).toBe(2);
    sentence(stdout);
    expect(stdout).toContain('There is no file no.dxf');
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('a folder', () => {
    mkdirSync(join(folder, 'plans.dxf'));
    const { status, stdout } = run('layout', 'plans.dxf');
    expect(status).toBe(2);
    sentence(stdout);
    expect(stdout).toContain('is a folder');
  });

  it('files that are no drawing', () => {
    // All kinds of them are in the fixtures' own tests.
    for (const name of ['empty', 'unknown-bytes']) {
      const { status, stdout } = run('layout', `${FIXTURES}03-broken-inputs/${name}.dxf`);
      expect(status, name).toBe(2);
      sentence(stdout);
    }
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('a job file that is not there, no YAML, not UTF-8, or has an unknown key', () => {
    drawing();
    put('bad.yaml', 'levels: [1, 2\nconcrete: }');
    put('bytes.yaml', Uint8Array.of(0xff, 0xfe, 0x80));
    put('unknown.yaml', 'levels: { topMM: 2000 }');
    put(
      'bomb.yaml',
      `a: &a [x, x, x, x, x, x, x, x, x]\n${'bcdefghi'
        .split('')
        .map((c, i) => `${c}: &${c} [${Array(9).fill(`*${'abcdefgh'[i]}`).join(', ')}]`)
        .join('\n')}\n`,
    );
    for (const [name, part] of [
      ['none.yaml', 'There is no file none.yaml'],
      ['bad.yaml', 'bad.yaml is not valid YAML or JSON'],
      ['bytes.yaml', 'bytes.yaml is not UTF-8 text'],
      ['unknown.yaml', 'levels.topMM is not known (known there: footingMm, topMm, at, steps)'],
      ['bomb.yaml', 'bomb.yaml'],
    ] as const) {
      const { status, stdout } = run('layout', 'plan.dxf', '--job', name);
      expect(status, name).toBe(2);
      sentence(stdout);
      expect(stdout).toContain(part);
    }
  });

  it('a catalogue that is none, with its fault named', () => {
    drawing();
    put('yard.yaml', 'name: x\nlengthUnit: mm\npitchMm: 25\nunits: []\n');
    const { status, stdout } = run('layout', 'plan.dxf', '--catalogue', 'yard.yaml');
    expect(status).toBe(2);
    expect(stdout).toContain('units');
    expect(run('gear', 'yard.yaml').status).toBe(2);
  });

  it('to write over a drawing that it was given, or two layouts over each other', () => {
    drawing();
    drawing('plan.forms.dxf');
    const over = run('layout', 'plan.dxf', 'plan.forms.dxf', '--out', '.');
    expect(over.status).toBe(2);
    expect(over.stderr).toContain('would be written over plan.forms.dxf');
    mkdirSync(join(folder, 'b'));
    drawing('b/plan.dxf');
    const both = run('layout', 'plan.dxf', 'b/plan.dxf');
    expect(both.status).toBe(2);
    expect(both.stderr).toContain('would both write plan.forms.dxf');
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('a folder for results that cannot be made', () => {
    drawing();
    put('taken', 'a file');
    for (const out of ['taken', 'taken/results']) {
      const { status, stdout, stderr } = run('layout', 'plan.dxf', '--out', out);
      expect(status, out).toBe(2);
      sentence(stdout);
      expect(stdout).toContain('is a file');
      // Said before the work, not after it.
      expect(stderr).not.toContain('fit');
    }
  });

  it('wrong usage', () => {
    for (const args of [['layout'], ['layuot', 'x'], ['layout', 'a.dxf', '--mode', 'both'], ['--nope'], []]) {
      expect(run(...args).status, args.join(' ')).toBe(2);
    }
  });

  it('a job beyond its time', () => {
    drawing();
    const { status, stdout } = run('layout', 'plan.dxf', '--time-limit', '0.001');
    expect(status).toBe(2);
    expect(stdout).toContain('did not end within 0.001 s');
  });
});

describe('layout with failures', () => {
  it('exits with 1, writes all files and names the failures', () => {
    const { status, stdout } = run('layout', `${FIXTURES}04-no-walls/notes-only.dxf`);
    expect(status).toBe(1);
    expect(stdout).toContain('failure   trace.no-wall');
    expect(readdirSync(join(folder, 'out'))).toHaveLength(6);
  });
});

describe('a search that is cut short', () => {
  it('is said to be so, and its result is not called least', () => {
    drawing();
    put('short.yaml', 'limits: { searchSteps: 1 }\noutput: { pdf: false, sheets: false }\n');
    const { stdout } = run('layout', 'plan.dxf', '--job', 'short.yaml');
    expect(stdout).toContain('fit.cut-short');
    expect(stdout).not.toContain('proven least)');
    expect(stdout).toContain('not proven least');
  });
});

describe('the other commands', () => {
  it('demo lays out the sample into out/demo', () => {
    const { status, stdout } = run('demo');
    expect(status).toBe(0);
    expect(readdirSync(join(folder, 'out/demo'))).toHaveLength(6);
    expect(stdout).toContain('corner-house.forms.dxf');
    // What README shows of the sample is what a reader sees.
    const shown = textOf('README.md');
    const told = stdout.split('\n').slice(1, stdout.split('\n').indexOf('  files:'));
    expect(told.length).toBeGreaterThan(6);
    expect(shown).toContain(told.join('\n'));
  });

  it('gear prints our yards', () => {
    for (const name of ['demo', 'demo-inch']) {
      const { status, stdout } = run('gear', name);
      expect(status).toBe(0);
      expect(stdout).toContain('inside-corner');
    }
  });

  it('help and version go to stdout with exit code 0', () => {
    const { version } = JSON.parse(textOf('package.json')) as { version: string };
    expect(run('--version')).toMatchObject({ status: 0, stdout: `${version}\n` });
    for (const args of [['--help'], ['layout', '--help'], ['gear', '--help']]) {
      const { status, stdout } = run(...args);
      expect(status).toBe(0);
      expect(stdout).toContain('Usage: shutterwright');
    }
    expect(run('--help').stdout).toContain('shutterwright demo');
  });

  it('is an executable file after the build', () => {
    expect(textOf('src/cli/main.ts').startsWith('#!/usr/bin/env node\n')).toBe(true);
  });
});

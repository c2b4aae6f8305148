/** Models at the command line: files, exit codes, sentences for what cannot be read. */

import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zipSync } from 'fflate';
import { beforeEach, describe, expect, it } from 'vitest';
import { shutterwright } from '../support/dist.js';
import { cornerHouseModel, ifcText } from '../support/houseModel.js';
import { gardenWall } from '../support/scenes.js';
import { dxfBytes } from '../support/sheet.js';

const isGarden = ({ name }: { readonly name: string }): boolean => name.startsWith('Garden');
/** One wall on its footing. */
const MODEL = ifcText({
  ...cornerHouseModel,
  walls: cornerHouseModel.walls.filter(isGarden),
  footings: cornerHouseModel.footings.filter(isGarden),
});
const JOB = 'concrete: { rateMPerH: 1.5, temperatureC: 15 }\ncatalogue: demo\noutput: { pdf: false, sheets: false }\n';

let folder: string;
const put = (name: string, content: string | Uint8Array): void => writeFileSync(join(folder, name), content);
const run = (...args: string[]) => shutterwright(args, folder);
const out = (): string[] => readdirSync(join(folder, 'out')).sort();

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'shutterwright-'));
});

describe('layout of a model', () => {
  it('writes its files, with the levels of the model', () => {
    put('wall.ifc', MODEL);
    put('wall.job.yaml', JOB);
    const { status, stdout } = run('layout', 'wall.ifc');
    expect(stdout).toMatch(
      /^wall\.ifc: laid out, no failures\n {2}1 wall, 4 m, from level 0 to 2350 mm; drawing in mm\n/,
    );
    expect(status).toBe(0);
    expect(out()).toEqual([
      'wall.findings.bcf',
      'wall.forms.dxf',
      'wall.forms.ifc',
      'wall.layout.json',
      'wall.report.html',
      'wall.schedule.csv',
      'wall.schedule.xlsx',
    ]);
    expect(readFileSync(join(folder, 'out/wall.report.html'), 'utf8')).toContain('Walls of the model');
  });

  it('takes it out of a ZIP, and gives the same layout', () => {
    put('wall.ifc', MODEL);
    put('wall.ifczip', zipSync({ 'wall.ifc': new TextEncoder().encode(MODEL) }));
    run('layout', 'wall.ifc', '--out', 'out/a');
    expect(run('layout', 'wall.ifczip', '--out', 'out/b').status).toBe(0);
    const read = (of: string) => {
      const file = JSON.parse(readFileSync(join(folder, `out/${of}/wall.layout.json`), 'utf8')) as object;
      return { ...file, source: null };
    };
    expect(read('b')).toEqual(read('a'));
  });

  it('--trace-only proposes the walls that were taken, and takes its own proposal', () => {
    put('wall.ifc', MODEL);
    expect(run('layout', 'wall.ifc', '--trace-only').status).toBe(0);
    expect(out()).toEqual(['wall.job.proposed.yaml', 'wall.trace.dxf', 'wall.trace.json']);
    const proposed = readFileSync(join(folder, 'out/wall.job.proposed.yaml'), 'utf8');
    expect(proposed).toMatch(/# takeElements: \[/);
    put('wall.job.yaml', proposed.replace(/^( *)# /gm, '$1'));
    const again = run('layout', 'wall.ifc', '--trace-only', '--json', '--out', 'again');
    expect(again.status).toBe(0);
    expect(
      (JSON.parse(again.stdout) as { drawings: { summary: { walls: number } }[] }).drawings[0]!.summary.walls,
    ).toBe(1);
  });

  it('--ifc writes the model of a drawing too', () => {
    put('plan.dxf', dxfBytes(gardenWall));
    put('plan.job.yaml', `levels: { footingMm: 0, topMm: 2350 }\n${JOB}`);
    expect(run('layout', 'plan.dxf', '--ifc').status).toBe(0);
    expect(out()).toContain('plan.forms.ifc');
    expect(out()).toContain('plan.findings.bcf');
  });
});

describe('a model that cannot be read', () => {
  const cases: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
    ['no schema', MODEL.replace(/FILE_SCHEMA.*\n/, ''), /schema/i],
    ['a schema that is not read', MODEL.replace("'IFC4'", "'IFC5'"), /IFC5.*IFC2X3, IFC4 and IFC4X3/],
    ['a ZIP without a model', zipSync({ 'readme.txt': new Uint8Array([65]) }), /ZIP|archive/i],
  ];
  for (const [what, content, says] of cases) {
    it(`is refused with one sentence: ${what}`, () => {
      put('bad.ifc', content);
      const { status, stdout } = run('layout', 'bad.ifc');
      expect(stdout).toMatch(/^bad\.ifc: refused\. /);
      expect(stdout).toMatch(says);
      expect(stdout.trim().split('\n')).toHaveLength(1);
      expect(status).toBe(2);
    });
  }

  it('in part is laid out in part, and fails: cut in the middle', () => {
    put('bad.ifc', MODEL.slice(0, MODEL.length * 0.97));
    const { status, stdout } = run('layout', 'bad.ifc', '--json');
    const [drawing] = (
      JSON.parse(stdout) as { drawings: { exitCode: number; findings: { severity: string; message: string }[] }[] }
    ).drawings;
    expect([1, 2]).toContain(status);
    expect(drawing!.findings.some((f) => f.severity === 'failure' && /ends|cut/i.test(f.message))).toBe(true);
  });

  it('for want of walls exits with 1 and says why each was left out', () => {
    put('bad.ifc', MODEL.replace('Concrete C30/37', 'Facing brick'));
    put('bad.job.yaml', JOB);
    const { status, stdout } = run('layout', 'bad.ifc');
    expect(status).toBe(1);
    expect(stdout).toMatch(/trace\.no-wall-in-model: .*not concrete/);
  });
});

/** Models through the whole chain: the layout of a model is that of the drawing of the same building, and what stands in a tie's way is said. */

import { describe, expect, it } from 'vitest';
import type { LayoutFile } from '../../src/write/json/index.js';
import { cornerHouseModel, type HouseOfModel, ifcText } from '../support/houseModel.js';
import { laidOut, layFile, laySheet, textFileOf } from '../support/lay.js';
import { memo } from '../support/memo.js';
import { cornerHouse, gardenWall } from '../support/scenes.js';

const JOB = { concrete: { method: 'aci-347-si', rateMPerH: 1.5, temperatureC: 15 }, catalogue: 'demo' };
const LEVELS = { levels: { footingMm: 0, topMm: 2350 } };

const isGarden = ({ name }: { readonly name: string }): boolean => name.startsWith('Garden');
/** One wall alone, y = -2500. */
const garden: HouseOfModel = {
  ...cornerHouseModel,
  walls: cornerHouseModel.walls.filter(isGarden),
  footings: cornerHouseModel.footings.filter(isGarden),
};

const bytesOf = (house: HouseOfModel): Uint8Array => new TextEncoder().encode(ifcText(house));
const lay = async (house: HouseOfModel, job: object = JOB) => laidOut(await layFile(bytesOf(house), job, 'house.ifc'));
/** The whole house: laid out once for all that look at it. */
const house = memo(() => lay(cornerHouseModel));
const jsonOf = (outcome: ReturnType<typeof laidOut>): LayoutFile => JSON.parse(textFileOf(outcome, '.layout.json'));

/** What is laid out, without where it came from. */
const layoutOf = (file: LayoutFile) => ({
  walls: file.walls.map(({ sources: _, ...wall }) => wall),
  nodes: file.nodes,
  faces: file.faces,
  pieces: file.pieces,
  ties: file.ties,
  groups: file.groups,
  fill: file.fill,
  schedule: file.schedule,
  totals: file.totals,
});

describe('a building as model and as drawing', () => {
  it('gives one layout, though no one told the levels of the model', async () => {
    const drawing = JSON.parse(textFileOf(laySheet(cornerHouse, { ...JOB, ...LEVELS }), '.layout.json')) as LayoutFile;
    const model = jsonOf(await house());
    expect(drawing.pieces.length).toBeGreaterThan(100);
    expect(layoutOf(model)).toEqual(layoutOf(drawing));
  });

  it('names every wall of the model, formed or not, with its reason', async () => {
    const { model } = jsonOf(await house());
    const of = (taken: boolean) => model!.elements.filter((e) => e.taken === taken).map((e) => e.name);
    expect(of(true).sort()).toEqual(
      cornerHouseModel.walls
        .filter((w) => w.storey === 0 && w.material !== 'Facing brick')
        .map((w) => w.name)
        .sort(),
    );
    expect(of(false).sort()).toEqual(['Coal bunker', 'Upper wall south', 'Upper wall west']);
    expect(model!.elements.every((e) => e.why.length > 5)).toBe(true);
  });
});

describe('files of a model', () => {
  it('are the drawing, the model of the forms, the topics and the lists', async () => {
    const { files } = await house();
    const endings = [
      'forms.dxf',
      'forms.ifc',
      'layout.json',
      'schedule.csv',
      'schedule.xlsx',
      'report.html',
      'findings.bcf',
    ];
    expect(files.map((f) => f.name)).toEqual(endings.map((e) => `house.${e}`));
    expect(files.every((f) => f.bytes.length > 100)).toBe(true);
  });

  it('are without model and topics where the job file says so, and a drawing has them where it does', async () => {
    const without = await lay(garden, { ...JOB, output: { ifc: false } });
    expect(without.files.some((f) => /\.(ifc|bcf)$/.test(f.name))).toBe(false);
    const drawing = laidOut(laySheet(gardenWall, { ...JOB, ...LEVELS, output: { ifc: true } }));
    expect(drawing.files.map((f) => f.name)).toContain('plan.forms.ifc');
  });

  it('are the same bytes twice', async () => {
    const [a, b] = [await house(), await lay(cornerHouseModel)];
    for (const [i, file] of a.files.entries()) expect(Buffer.compare(file.bytes, b.files[i]!.bytes), file.name).toBe(0);
  });
});

describe('what a model holds in the way of ties', () => {
  const clashes = (o: Awaited<ReturnType<typeof lay>>) =>
    o.result.findings.filter((f) => f.code === 'check.tie-bar' || f.code === 'check.tie-obstacle');

  it('is missed by the layout: a bar and a sleeve put where it would set ties', async () => {
    const plain = jsonOf(await lay(garden));
    const [first, , , second] = [...new Set(plain.ties.filter((t) => !t.outsideConcrete).map((t) => t.stationMm))];
    const { levelMm } = plain.ties[0]!;
    const start = plain.walls[0]!.start[0];
    const made = await lay({
      ...garden,
      bars: [{ name: 'V16', diameterMm: 16, path: [0, 2300].map((z) => [start + first!, -2450, z] as const) }],
      sleeves: [{ name: 'DN 100', at: [start + second!, -2500, levelMm], radiusMm: 55, lengthMm: 400, along: 'y' }],
    });
    expect(made.result.foundation.model!.bars).toHaveLength(1);
    expect(made.result.foundation.model!.obstacles).toHaveLength(1);
    expect(clashes(made)).toEqual([]);
    const stations = new Set(made.result.layout.ties.map((t) => t.stationMm));
    expect(stations.has(first!)).toBe(false);
    expect(stations.has(second!)).toBe(false);
  });

  it('is a failure at each tie where no other place helps: a pipe inside the wall along a row', async () => {
    const plain = jsonOf(await lay(garden));
    const { levelMm } = plain.ties[0]!;
    const pipe = {
      name: 'DN 50',
      at: [3000, -2500, levelMm] as const,
      radiusMm: 25,
      lengthMm: 1800,
      along: 'x' as const,
    };
    const made = await lay({ ...garden, sleeves: [pipe] });
    const along = plain.ties.filter(
      (t) => t.row === 1 && Math.abs(t.stationMm + plain.walls[0]!.start[0] - 3000) < 900,
    );
    expect(along.length).toBeGreaterThan(1);
    expect(clashes(made).map((f) => f.code)).toEqual(along.map(() => 'check.tie-obstacle'));
    expect(clashes(made).every((f) => f.severity === 'failure' && f.message.includes('DN 50'))).toBe(true);
    expect(made.exitCode).toBe(1);
  });
});

describe('keys of the job file', () => {
  it('take exactly the walls that they name', async () => {
    const job = { ...JOB, drawing: { takeElements: ['Foundation wall *'] } };
    const { model } = jsonOf(await lay(cornerHouseModel, job));
    expect(model!.elements.filter((e) => e.taken).every((e) => e.name!.startsWith('Foundation wall'))).toBe(true);
    expect(model!.elements.filter((e) => e.taken)).toHaveLength(7);
  });

  it('that only a drawing has a use for are said, and the other way round', async () => {
    const model = await lay(garden, { ...JOB, drawing: { wallLayers: ['S-WALL'], unit: 'm' } });
    const drawing = laidOut(laySheet(gardenWall, { ...JOB, ...LEVELS, drawing: { storeys: ['Foundation'] } }));
    const of = (o: typeof model) =>
      o.result.findings.filter((f) => f.code === 'pipeline.not-used-here').map((f) => f.subject);
    expect(of(model).sort()).toEqual(['drawing.unit', 'drawing.wallLayers']);
    expect(of(drawing)).toEqual(['drawing.storeys']);
  });
});

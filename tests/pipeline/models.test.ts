/** Models through the whole chain: the layout of a model is that of the drawing of the same building, and what stands in a tie's way is said. */

import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/plane.js';
import type { LayoutFile } from '../../src/write/json/index.js';
import { type HouseOfModel, cornerHouseModel, ifcText } from '../support/houseModel.js';
import { laidOut, layFile, laySheet, textFileOf } from '../support/lay.js';
import { cornerHouse } from '../support/scenes.js';

const JOB = { concrete: { method: 'aci-347-si', rateMPerH: 1.5, temperatureC: 15 }, catalogue: 'demo' };
const LEVELS = { levels: { footingMm: 0, topMm: 2350 } };

const bytesOf = (house: HouseOfModel): Uint8Array => new TextEncoder().encode(ifcText(house));
const lay = async (house: HouseOfModel, job: object = JOB) => laidOut(await layFile(bytesOf(house), job, 'house.ifc'));
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
    const model = jsonOf(await lay(cornerHouseModel));
    expect(drawing.pieces.length).toBeGreaterThan(100);
    expect(layoutOf(model)).toEqual(layoutOf(drawing));
  });

  it('names every wall of the model, formed or not, with its reason', async () => {
    const { model } = jsonOf(await lay(cornerHouseModel));
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
    const { files } = await lay(cornerHouseModel);
    const endings = ['forms.dxf', 'forms.ifc', 'layout.json', 'schedule.csv', 'report.html', 'findings.bcf'];
    expect(files.map((f) => f.name)).toEqual(endings.map((e) => `house.${e}`));
    expect(files.every((f) => f.bytes.length > 100)).toBe(true);
  });

  it('are without model and topics where the job file says so, and a drawing has them where it does', async () => {
    const without = await lay(cornerHouseModel, { ...JOB, output: { ifc: false } });
    expect(without.files.some((f) => /\.(ifc|bcf)$/.test(f.name))).toBe(false);
    const drawing = laidOut(laySheet(cornerHouse, { ...JOB, ...LEVELS, output: { ifc: true } }));
    expect(drawing.files.map((f) => f.name)).toContain('plan.forms.ifc');
  });

  it('are the same bytes twice', async () => {
    const [a, b] = [await lay(cornerHouseModel), await lay(cornerHouseModel)];
    for (const [i, file] of a.files.entries()) expect(Buffer.compare(file.bytes, b.files[i]!.bytes), file.name).toBe(0);
  });
});

describe('what a model holds in the way of ties', () => {
  it('is a failure at the tie: a bar and a sleeve put where the layout sets one', async () => {
    const plain = jsonOf(await lay(cornerHouseModel));
    const wall = plain.walls.find((w) => w.start[1] === w.end[1] && w.sources.length > 0)!;
    const own = plain.ties.filter((t) => t.wall === wall.id && !t.outsideConcrete);
    const [first, second] = [own[0]!, own.at(-1)!];
    const asWall = {
      start: { x: wall.start[0], y: wall.start[1] },
      end: { x: wall.end[0], y: wall.end[1] },
      thicknessMm: wall.thicknessMm,
    };
    const at = (stationMm: number) => facePoint(asWall, 'axis', stationMm);
    const [bar, sleeve] = [at(first.stationMm), at(second.stationMm)];
    const made = await lay({
      ...cornerHouseModel,
      bars: [{ name: 'V16', diameterMm: 16, path: [0, first.levelMm + 100].map((z) => [bar.x, bar.y, z] as const) }],
      sleeves: [{ name: 'DN 150', at: [sleeve.x, sleeve.y, second.levelMm], radiusMm: 75, lengthMm: 400, along: 'y' }],
    });
    const clashes = made.result.findings.filter((f) => f.code === 'check.tie-bar' || f.code === 'check.tie-obstacle');
    expect(clashes.filter((f) => f.code === 'check.tie-bar').map((f) => f.subject)).toContain(first.id);
    expect(clashes.filter((f) => f.code === 'check.tie-obstacle').map((f) => f.subject)).toContain(second.id);
    expect(clashes.every((f) => f.severity === 'failure')).toBe(true);
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
    const model = await lay(cornerHouseModel, { ...JOB, drawing: { wallLayers: ['S-WALL'], unit: 'm' } });
    const drawing = laidOut(laySheet(cornerHouse, { ...JOB, ...LEVELS, drawing: { storeys: ['Foundation'] } }));
    const of = (o: typeof model) =>
      o.result.findings.filter((f) => f.code === 'pipeline.not-used-here').map((f) => f.subject);
    expect(of(model).sort()).toEqual(['drawing.unit', 'drawing.wallLayers']);
    expect(of(drawing)).toEqual(['drawing.storeys']);
  });
});

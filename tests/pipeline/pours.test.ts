/**
 * A job poured in parts: the yard's counts hold for each pour by itself. What each pour takes is held against the same walls laid out as a drawing of their
 * own, and against a count of what was drawn.
 */

import { describe, expect, it } from 'vitest';
import type { Result } from '../../src/ground/vocabulary.js';
import { parseJob } from '../../src/pipeline/index.js';
import { laidOut, layFile, textFileOf } from '../support/lay.js';
import { cornerHouse } from '../support/scenes.js';
import { dxfBytes, type Sheet } from '../support/sheet.js';

const JOB = { levels: { footingMm: 0, topMm: 2350 }, concrete: { rateMPerH: 1.5, temperatureC: 15 } };

/** A free wall 200 thick that begins at x = 0. */
const wallAt = (y: number, lengthMm: number): Sheet['marks'][number] => ({
  kind: 'outline',
  layer: 'S-FNDN-WALL',
  points: [
    { x: 0, y },
    { x: lengthMm, y },
    { x: lengthMm, y: y + 200 },
    { x: 0, y: y + 200 },
  ],
});

const sheetOf = (...marks: Sheet['marks']): Sheet => ({
  version: 'AC1015',
  unitCode: 4,
  layers: [{ name: 'S-FNDN-WALL', color: 2 }],
  marks,
});
const LONG = wallAt(0, 6050);
const SHORT = wallAt(5000, 4100);

const lay = async (sheet: Sheet, job: object): Promise<Result> =>
  laidOut(await layFile(dxfBytes(sheet), { ...JOB, ...job }, 'plan.dxf')).result;

const tiersOf = ({ layout }: Result) => new Map<string, number>(layout.tiers.map((t) => [t.name, t.value]));
const codesOf = (result: Result) => result.findings.map((f) => f.code);
const itemsOf = ({ layout }: Result) => [...layout.pieces, ...layout.ties].map((x) => x.item).sort();

const POURS = [
  { name: 'A', near: [[3000, 100]] },
  { name: 'B', near: [[2000, 5100]] },
];

describe('a stock that serves one pour after the other', () => {
  const stock = { 'panel-600x2400': 18, 'panel-450x2400': 2 };

  it('gives each pour what it would take by itself, and the cost is the sum of both', async () => {
    const both = await lay(sheetOf(LONG, SHORT), { stock, pours: POURS });
    const alone = [await lay(sheetOf(LONG), { stock }), await lay(sheetOf(SHORT), { stock })] as const;
    expect(itemsOf(both)).toEqual(alone.flatMap(itemsOf).sort());
    const [long, short] = alone.map(tiersOf) as [Map<string, number>, Map<string, number>];
    for (const [name, value] of tiersOf(both))
      if (name !== 'kinds') expect(`${name} ${value}`).toBe(`${name} ${long.get(name)! + short.get(name)!}`);
    expect(codesOf(both)).not.toContain('fit.short-stock');
  });

  it('does not suffice for both at once, at no more cost', async () => {
    const once = tiersOf(await lay(sheetOf(LONG, SHORT), { stock }));
    const parted = tiersOf(await lay(sheetOf(LONG, SHORT), { stock, pours: POURS }));
    const names = ['failures', 'short', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits'];
    const first = names.find((name) => once.get(name) !== parted.get(name))!;
    expect(once.get(first)!).toBeGreaterThan(parted.get(first)!);
  });

  it('is short by pour, and says in which', async () => {
    const result = await lay(sheetOf(LONG, SHORT), { stock: { 'tie-100-250': 40 }, pours: POURS });
    const count = (wall: string) => result.layout.ties.filter((t) => t.wall === wall).length;
    const pourOf = new Map(result.plan.walls.map((w) => [w.id, w.pour]));
    const short = result.plan.walls
      .filter((w) => count(w.id) > 40)
      .map((w) => `${count(w.id) - 40} of tie-100-250 more than the 40 that the yard owns in pour ${pourOf.get(w.id)}`);
    expect(short).toHaveLength(1);
    const said = result.findings.filter((f) => f.code === 'fit.short-stock').map((f) => f.message);
    expect(said).toHaveLength(1);
    expect(said[0]).toContain(short[0]);
    expect(tiersOf(result).get('short')).toBe(Math.max(...result.plan.walls.map((w) => count(w.id) - 40)));
  });
});

describe('what is told of pours', () => {
  it('stands in the schedule: what each takes, the most at once, what is short', async () => {
    const outcome = await layFile(
      dxfBytes(sheetOf(LONG, SHORT)),
      { ...JOB, stock: { 'tie-100-250': 40 }, pours: POURS },
      'plan.dxf',
    );
    const { result } = laidOut(outcome);
    const pourOf = new Map(result.plan.walls.map((w) => [w.id, w.pour]));
    const ties = (pour: string) => result.layout.ties.filter((t) => pourOf.get(t.wall) === pour).length;
    const lines = textFileOf(outcome, '.schedule.csv').split('\r\n');
    expect(lines[0]!.endsWith('remark,wall,pour,mark,thickness_mm,pieces,at_once,pour A,pour B')).toBe(true);
    const row = lines.find((l) => l.startsWith('item,tie-100-250'))!.split(',');
    expect(row.slice(-3)).toEqual([String(Math.max(ties('A'), ties('B'))), String(ties('A')), String(ties('B'))]);
    expect(new Set(lines.filter((l) => l !== '' && !l.includes('"')).map((l) => l.split(',').length))).toEqual(
      new Set([20]),
    );
  });

  it('stands in layout.json: each wall’s pour, a pressure for each, and every piece in its own', async () => {
    const outcome = await layFile(dxfBytes(sheetOf(LONG, SHORT)), { ...JOB, pours: POURS }, 'plan.dxf');
    const file = JSON.parse(textFileOf(outcome, '.layout.json')) as {
      walls: { id: string; pour: string }[];
      faces: { id: string; wall: string }[];
      pressure: { pour: string; name: string }[];
      pieces: { pours: string[]; covers: { face: string }[] }[];
    };
    expect(file.walls.map((w) => w.pour).sort()).toEqual(['A', 'B']);
    expect(file.pressure.map((p) => p.name)).toEqual(['A', 'B']);
    const wallOf = new Map(file.faces.map((f) => [f.id, f.wall]));
    const nameOf = new Map(file.pressure.map((p) => [p.pour, p.name]));
    for (const piece of file.pieces) {
      const walls = new Set(piece.covers.map((c) => wallOf.get(c.face)));
      const pours = file.walls.filter((w) => walls.has(w.id)).map((w) => w.pour);
      expect(piece.pours.map((p) => nameOf.get(p)).sort()).toEqual(pours.sort());
    }
  });

  it('names walls of no pour, places where two meet, points far away and walls named twice', async () => {
    const result = await lay(cornerHouse, {
      pours: [
        { name: 'west', near: [[100, 3000]] },
        {
          name: 'south',
          near: [
            [4000, 100],
            [120, 3100],
            [3000, -6000],
          ],
        },
      ],
    });
    const said = (code: string) => result.findings.filter((f) => f.code === code);
    const rest = said('pipeline.pour-rest');
    expect(rest).toHaveLength(1);
    const pourOf = new Map(result.plan.walls.map((w) => [w.id, w.pour]));
    const unnamed = [...pourOf].filter(([, pour]) => pour === 'rest').map(([wall]) => wall);
    expect(unnamed).toHaveLength(5);
    for (const wall of unnamed) expect(rest[0]!.message).toContain(wall);
    expect(said('pipeline.pour-far').map((f) => f.subject)).toEqual(['W4']);
    expect(said('pipeline.pour-twice').map((f) => f.subject)).toEqual(['W1']);
    expect(pourOf.get('W1')).toBe('west');
    const joints = result.plan.nodes.filter((n) => new Set(n.walls.map((w) => pourOf.get(w))).size > 1);
    expect(
      said('pipeline.pour-joint')
        .map((f) => f.subject)
        .sort(),
    ).toEqual(joints.map((n) => n.id).sort());
    expect(result.plan.pours).toEqual(['west', 'south', 'rest']);
  });

  it('is refused with two pours of one name, a name that no drawing could bear, or no place', () => {
    const inputs = [
      [
        { name: 'A', near: [[0, 0]] },
        { name: 'A', near: [[1, 1]] },
      ],
      [{ name: 'rest', near: [[0, 0]] }],
      [{ name: 'A\nB', near: [[0, 0]] }],
      [{ name: 'A', near: [] }],
    ];
    for (const pours of inputs) {
      const parsed = parseJob({ ...JOB, pours });
      expect(parsed.ok).toBe(false);
      expect(parsed.findings.map((f) => f.message).join(' ')).toContain('pours');
    }
  });

  it('counts what stands at a corner between two pours in both', async () => {
    const result = await lay(cornerHouse, { pours: [{ name: 'west', near: [[100, 3000]] }] });
    const corners = result.schedule.rows.filter((r) => r.kind === 'inside-corner');
    const sum = (of: (r: (typeof corners)[number]) => number) => corners.reduce((n, r) => n + of(r), 0);
    // W1 has a corner at each end: one inside corner unit at each.
    expect(sum((r) => r.inPours!.reduce((n, p) => n + p.count, 0)) - sum((r) => r.count)).toBe(2);
  });
});

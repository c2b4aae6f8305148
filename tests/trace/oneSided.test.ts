/** Walls that the drawing shows as formed on one side: by a note, or by a wall that stands along them (rule T21). */

import { describe, expect, it } from 'vitest';
import { parseJob } from '../../src/pipeline/options.js';
import { traceOnly } from '../../src/pipeline/traceOnly.js';
import { readOneSided } from '../../src/trace/notes/oneSidedNotes.js';
import { laidOut, laySheet, sha256 } from '../support/lay.js';
import { cornerHouse, loneWall } from '../support/scenes.js';
import { dxfBytes, type Mark, type Sheet } from '../support/sheet.js';

const JOB = {
  levels: { footingMm: 0, topMm: 1150 },
  concrete: { rateMPerH: 1, temperatureC: 15 },
  output: { sheets: false },
};
const with_ = (sheet: Sheet, ...marks: readonly Mark[]): Sheet => ({
  ...sheet,
  layers: [
    ...sheet.layers,
    ...[...new Set(marks.map((m) => m.layer))]
      .filter((name) => !sheet.layers.some((l) => l.name === name))
      .map((name) => ({ name, color: 8 })),
  ],
  marks: [...sheet.marks, ...marks],
});
const text = (words: string, x: number, y: number): Mark => ({
  kind: 'text',
  layer: 'NOTES',
  at: { x, y },
  height: 100,
  text: words,
});
const box = (layer: string, x0: number, y0: number, x1: number, y1: number): Mark => ({
  kind: 'outline',
  layer,
  points: [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ],
});
const codes = (o: ReturnType<typeof laidOut>) =>
  o.result.findings.map((f) => f.code).filter((c) => /trace.one-sided|standing|check.one-sided/.test(c));

describe('what a text says', () => {
  it.each([
    ['ONE-SIDED FORM', null],
    ['SINGLE SIDED FORMWORK THIS WALL', null],
    ['BLIND SIDE WALL', null],
    ['FORM ONE FACE ONLY', null],
    ['Wand einhäuptig schalen', null],
    ['coffrage une face', null],
    ['WALL CAST AGAINST EARTH', 'earth'],
    ['Conc. wall poured directly against sheet piling', 'earth'],
    ['POUR AGAINST EXISTING WALL', 'wall'],
    ['POUR AGAINST EXIST. FOUNDATION', 'wall'],
    ['CAST AGAINST EXISTING BASEMENT', 'wall'],
    ['PLACED AGAINST ROCK', 'rock'],
    ['gegen Erdreich betonieren', 'earth'],
    ['gegen Bestand betoniert', 'wall'],
    ['mur coulé contre terre', 'earth'],
    ['bétonné contre terre', 'earth'],
    ['CAST AGAINST (E) WALL', 'wall'],
    ['POUR TIGHT TO EXISTING WALL', 'wall'],
    ['CAST AGAINST ADJACENT BUILDING', 'wall'],
    ['gegen bestehende Wand betoniert', 'wall'],
    ['SHOTCRETE AGAINST LAGGING', 'earth'],
    ['8" CONC. WALL CAST AGAINST EARTH', 'earth'],
    ['SINGLE-SIDED', null],
  ])('%s: %s', (words, against) => {
    expect(readOneSided(words)).toEqual({ against });
  });

  it.each([
    // Cover as ACI 318-19 table 20.5.1.3.1 words it.
    'CONCRETE CAST AGAINST AND PERMANENTLY IN CONTACT WITH EARTH: 3"',
    'CLEAR COVER WHERE CAST AGAINST EARTH 75',
    'FOOTING CAST AGAINST EARTH',
    'POUR SLAB AGAINST EXISTING WALL',
    'DO NOT POUR AGAINST EXISTING WALL',
    'BACKFILL AGAINST WALL',
    '3" WHERE CAST AGAINST EARTH',
    '75 mm WHERE CAST AGAINST SOIL',
    'CAST AGAINST EARTH: 3"',
    'INSULATION PLACED AGAINST EXISTING WALL',
    'WATERPROOFING PLACED AGAINST EARTH',
    'DRAIN BOARD PLACED AGAINST EARTH',
    'BACKFILL PLACED AGAINST EXISTING FOUNDATION',
    'JOINT FILLER PLACED AGAINST EXISTING WALL',
    'VOID FORM PLACED AGAINST SOIL',
    'BLINDSIDE WATERPROOFING',
    "DON'T CAST AGAINST EARTH",
    'CANNOT BE CAST AGAINST EARTH',
    'MUST NEVER BE CAST AGAINST EXISTING WALL',
    'AVOID CASTING AGAINST ROCK',
    'KEINE EINHÄUPTIGE SCHALUNG',
    'non coulé contre terre',
    '21 SIDED FORM',
    '200 WALL',
    'ONE SIDE OF HOUSE',
    'SEE DETAIL 1 FACE',
  ])('%s: nothing', (words) => {
    expect(readOneSided(words)).toBeNull();
  });
});

describe('a wall with such a note', () => {
  const noted = with_(cornerHouse, text('CAST AGAINST EARTH', 6500, -250));
  const laid = laidOut(laySheet(noted, JOB));

  it('gets no ties, a form to be designed, and a question; the forms stand on the side of the other walls', () => {
    const { plan, layout, specialForms } = laid.result;
    expect(codes(laid)).toEqual(['check.one-sided', 'trace.one-sided-noted']);
    const [own] = plan.oneSided!;
    expect(plan.oneSided).toHaveLength(1);
    const wall = plan.walls.find((w) => w.id === own!.wall)!;
    const inner = plan.walls.reduce((sum, w) => sum + w.start.y + w.end.y, 0) / plan.walls.length / 2;
    expect(Math.max(wall.start.y, wall.end.y)).toBeLessThan(inner);
    // Left of a wall that runs along +x lies +y, where the house is.
    expect(own!.formed).toBe(wall.end.x > wall.start.x ? 'left' : 'right');
    expect(own!.against).toBe('earth');
    expect(layout.ties.filter((t) => t.wall === own!.wall)).toEqual([]);
    expect(specialForms!.length).toBeGreaterThan(0);
  });

  it('has two faces again where the job file says that there is none', () => {
    const both = laidOut(laySheet(noted, { ...JOB, oneSided: [] }));
    expect(codes(both)).toEqual(['trace.one-sided-overruled']);
    expect(both.result.layout.ties.length).toBeGreaterThan(laid.result.layout.ties.length);
  });

  it('is proposed as a key, which gives the same when it is taken', () => {
    const bytes = dxfBytes(noted);
    const job = parseJob(JOB);
    if (!job.ok) throw new Error('no job');
    const traced = traceOnly({ fileName: 'plan.dxf', bytes, sha256: sha256(bytes), job: job.value });
    if (traced.kind !== 'traced') throw new Error('not traced');
    const proposal = new TextDecoder().decode(traced.files.find((f) => f.name.includes('job'))!.bytes);
    const line = /oneSided:\n(?: *##.*\n)* *# - \{ ?near: \[([^\]]+)\], against: earth ?\}/.exec(proposal);
    expect(line, proposal).not.toBeNull();
    const near = line![1]!.split(',').map(Number) as [number, number];
    const taken = laidOut(laySheet(noted, { ...JOB, oneSided: [{ near, against: 'earth' }] }));
    expect(taken.result.plan.oneSided).toEqual(laid.result.plan.oneSided);
    expect(taken.result.layout.pieces).toEqual(laid.result.layout.pieces);
  });

  it('that stands near none is asked for', () => {
    const far = laidOut(laySheet(with_(cornerHouse, text('ONE-SIDED FORM', -9000, -9000)), JOB));
    expect(codes(far)).toEqual(['trace.one-sided-unplaced']);
    expect(far.result.plan.oneSided ?? []).toEqual([]);
  });
});

describe('a wall beside one that stands', () => {
  const wall = loneWall(4000, 200);
  // The wall's own outline is read from the sheet, so that the test does not know where the scene puts it.
  const points = wall.marks.flatMap((m) => (m.kind === 'outline' ? m.points : []));
  const [x0, y0] = [Math.min(...points.map((p) => p.x)), Math.min(...points.map((p) => p.y))];
  const [x1, y1] = [Math.max(...points.map((p) => p.x)), Math.max(...points.map((p) => p.y))];
  const beside = (gap: number, layer = 'EXISTING-WALL') => with_(wall, box(layer, x0, y1 + gap, x1, y1 + gap + 300));

  it('is cast against it where no form fits between them', () => {
    const laid = laidOut(laySheet(beside(20), JOB));
    expect(codes(laid)).toEqual(['check.one-sided', 'trace.one-sided-noted']);
    expect(laid.result.plan.oneSided![0]!.against).toBe('wall');
    expect(laid.result.layout.ties).toEqual([]);
  });

  it('is laid out, with a word, where there is little room', () => {
    const laid = laidOut(laySheet(beside(400), JOB));
    expect(codes(laid)).toEqual(['trace.standing-close']);
    expect(laid.result.findings.find((f) => f.code === 'trace.standing-close')!.message).toContain(
      '400 mm from a face',
    );
    expect(laid.result.layout.ties.length).toBeGreaterThan(0);
  });

  it('is laid out without a word where there is room, or where what is there is no wall or goes on from it', () => {
    expect(codes(laidOut(laySheet(beside(700), JOB)))).toEqual([]);
    expect(codes(laidOut(laySheet(beside(20, 'GARDEN-FENCE'), JOB)))).toEqual([]);
    const inLine = with_(wall, box('EXISTING-WALL', x1, y0, x1 + 3000, y1));
    expect(codes(laidOut(laySheet(inLine, JOB)))).toEqual([]);
  });

  it('a single line along it is no wall: near, and said', () => {
    const line: Mark = { kind: 'line', layer: 'EXISTING-WALL', from: { x: x0, y: y1 + 20 }, to: { x: x1, y: y1 + 20 } };
    expect(codes(laidOut(laySheet(with_(wall, line), JOB)))).toEqual(['trace.standing-close']);
  });

  it('between two of them is not decided', () => {
    const both = with_(beside(20), box('EXISTING-WALL', x0, y0 - 320, x1, y0 - 20));
    expect(codes(laidOut(laySheet(both, JOB)))).toEqual(['trace.standing-touches', 'trace.standing-touches']);
  });

  it('along a part of its face, or in the concrete itself, cannot be formed as laid out', () => {
    const part = with_(wall, box('EXISTING-WALL', x0, y1 + 10, x0 + (x1 - x0) * 0.45, y1 + 310));
    expect(codes(laidOut(laySheet(part, JOB)))).toEqual(['trace.standing-touches']);
    for (const depth of [6, 50]) {
      const into = with_(wall, box('EXISTING-WALL', x0, y1 - depth, x1, y1 + 300));
      expect(codes(laidOut(laySheet(into, JOB))), `${depth}`).toEqual(['trace.standing-touches']);
    }
  });

  it('is seen though it is a little askew, or very thick', () => {
    const skew: Mark = {
      kind: 'outline',
      layer: 'EXISTING-WALL',
      points: [
        { x: x0, y: y1 + 10 },
        { x: x1, y: y1 + 80 },
        { x: x1, y: y1 + 400 },
        { x: x0, y: y1 + 330 },
      ],
    };
    expect(codes(laidOut(laySheet(with_(wall, skew), JOB)))).toContain('trace.one-sided-noted');
    const thick = with_(wall, box('EXISTING-WALL', x0, y1 + 10, x1, y1 + 1100));
    expect(codes(laidOut(laySheet(thick, JOB)))).toContain('trace.one-sided-noted');
  });

  it('is only near where its layer does not say wall, and nothing where it lies above or below', () => {
    expect(codes(laidOut(laySheet(beside(20, 'EXISTING'), JOB)))).toEqual(['trace.standing-close']);
    for (const layer of ['EXIST-FTG', 'EXIST-WALL-ABOVE'])
      expect(codes(laidOut(laySheet(beside(20, layer), JOB))), layer).toEqual([]);
  });

  it('is still said where the job file lists one-sided walls', () => {
    expect(codes(laidOut(laySheet(beside(20), { ...JOB, oneSided: [] })))).toEqual(['trace.one-sided-overruled']);
    expect(codes(laidOut(laySheet(beside(400), { ...JOB, oneSided: [] })))).toEqual(['trace.standing-close']);
  });

  it('alone with a note has its forms on the side away from the words', () => {
    const formed = [1, -1].map((side) => {
      const note = text('CAST AGAINST EARTH', (x0 + x1) / 2 - 500, (y0 + y1) / 2 + side * 500);
      const { plan } = laidOut(laySheet(with_(wall, note), JOB)).result;
      const own = plan.walls.find((w) => w.id === plan.oneSided![0]!.wall)!;
      const isAlong = own.end.x > own.start.x;
      return (plan.oneSided![0]!.formed === 'left') === isAlong ? 'up' : 'down';
    });
    expect(formed).toEqual(['down', 'up']);
  });
});

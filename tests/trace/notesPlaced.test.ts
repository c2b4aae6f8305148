/** What notes say of walls, at their places. A house of 10 x 6 m stands in a drawing in mm; its walls are 200 thick. */

import { describe, expect, it } from 'vitest';
import type {
  DrawingLeader,
  DrawingPath,
  DrawingText,
  TraceOptions,
  WallStretch,
} from '../../src/ground/vocabulary.js';
import { type NotesInput, placeNotes } from '../../src/trace/notes/placed.js';
import { drawingOf, OPTIONS, pathOf } from './plans.js';

const p = (x: number, y: number) => ({ x, y });
const wall = (x0: number, y0: number, x1: number, y1: number, sources: string[] = []): WallStretch => ({
  start: p(x0, y0),
  end: p(x1, y1),
  thicknessMm: 200,
  startCapped: false,
  endCapped: false,
  sources,
});
const SOUTH = wall(0, 0, 10000, 0, ['S']);
const NORTH = wall(0, 6000, 10000, 6000, ['N']);
const WEST = wall(0, 0, 0, 6000, ['W']);
const EAST = wall(10000, 0, 10000, 6000, ['E']);
const HOUSE = [SOUTH, NORTH, WEST, EAST];

let made = 0;
const text = (words: string, x: number, y: number, source = `T${made++}`): DrawingText => ({
  source,
  layer: 'S-ANNO',
  blocks: [],
  at: p(x, y),
  height: 150,
  rotationRad: 0,
  text: words,
});
const leader = (tip: [number, number], tail: [number, number]): DrawingLeader => ({
  source: `L${made++}`,
  layer: 'S-ANNO',
  points: [p(...tip), p(...tail)],
  text: null,
});
const NONE: TraceOptions = { ...OPTIONS, levels: { footingMm: null, topMm: null } };

const place = (texts: DrawingText[], more: Partial<NotesInput> = {}) => {
  const paths: DrawingPath[] = [...(more.paths ?? [])];
  return placeNotes({
    drawing: drawingOf(paths),
    texts,
    leaders: [],
    unit: 'mm',
    walls: HOUSE,
    curves: [],
    paths,
    options: NONE,
    ...more,
  });
};
const codes = (r: ReturnType<typeof place>) => [...new Set(r.findings.map((f) => f.code))].sort();
const says = (r: ReturnType<typeof place>, code: string) => r.findings.filter((f) => f.code === code);

describe('general levels', () => {
  it('are those that most notes say, and no default is then taken', () => {
    const r = place([
      text('T.O.W. EL. +1.20\nT.O.F. EL. -0.30', 3000, 400),
      text('T.O.W. EL. +1.20\nT.O.F. EL. -0.30', 3000, 5600),
      text('T.O.W. EL. +0.90', 9500, 3000),
    ]);
    expect(r.value.levels).toEqual({ footingMm: -300, topMm: 1200, footingFrom: 'drawing', topFrom: 'drawing' });
    expect(codes(r)).toEqual(['trace.level-near', 'trace.levels-noted']);
    expect(r.value.levelsAt).toEqual([
      { near: p(10000, 3000), footingMm: null, topMm: 900, from: 'drawing', text: 'T.O.W. EL. +0.90' },
    ]);
  });

  it('are what a general note says, however many single notes say something else', () => {
    const r = place([
      text('ALL FOOTINGS T.O.F. -1.200 U.N.O.', 20000, 9000),
      text('T.O.F. -1.500', 3000, 400),
      text('T.O.F. -1.500', 3000, 5600),
    ]);
    expect(r.value.levels.footingMm).toBe(-1200);
    expect(r.value.levelsAt.map((l) => [l.near, l.footingMm])).toEqual([
      [p(3000, 0), -1500],
      [p(3000, 6000), -1500],
    ]);
    // The top is nowhere said.
    expect(says(r, 'trace.levels-assumed')[0]!.assumed).toBe('top of the walls at 1200 mm');
  });

  it('are the job file’s where it speaks; what the drawing says then is a finding', () => {
    const r = place([text('T.O.W. EL. +1.20', 3000, 400)], {
      options: { ...NONE, levels: { footingMm: -300, topMm: 1500 } },
    });
    expect(r.value.levels).toEqual({ footingMm: -300, topMm: 1500, footingFrom: 'job', topFrom: 'job' });
    expect(r.value.levelsAt).toEqual([]);
    expect(says(r, 'trace.level-conflict')[0]!.message).toMatch(/1500 mm.*1200 mm/);
  });

  it('are asked for where no level is that of most notes', () => {
    const r = place([text('T.O.F. -1.50', 3000, 400), text('T.O.F. -0.90', 3000, 5600)]);
    // Walls of one length: the lower one makes the higher forms.
    expect(r.value.levels.footingMm).toBe(-1500);
    expect(says(r, 'trace.level-conflict')[0]!.message).toMatch(/-1500 mm.*-900 mm.*levels\.footingMm/);
  });

  it('of the job file in another datum leave no note unsaid', () => {
    const r = place([text('ALL T.O.F. 96.00', 20000, 9000), text('T.O.F. 95.00', 3000, 400)], {
      options: { ...NONE, levels: { footingMm: 0, topMm: 2400 } },
    });
    expect(r.value.levelsAt).toEqual([]);
    const messages = says(r, 'trace.level-conflict').map((f) => f.message);
    expect(messages).toHaveLength(2);
    for (const level of ['96000 mm', '95000 mm']) expect(messages.join()).toContain(level);
  });

  it('are taken in the datum of the drawing, in feet too', () => {
    const r = place([text('T.O.W. EL. 100\'-0"', 3000, 400), text('T/FTG EL. 96\'-0"', 3000, 700)]);
    expect(r.value.levels).toMatchObject({ footingMm: 29260.8, topMm: 30480 });
  });

  it('are refused where two data are mixed: no wall is 34 m high', () => {
    const r = place([text('T.O.W. EL. 100\'-0"', 3000, 400), text('T/FTG (-4\'-0")', 3000, 700)]);
    expect(r.value.levels).toMatchObject({ footingFrom: 'default', topFrom: 'default' });
    expect(r.value.levelsAt).toEqual([]);
    expect(codes(r)).toEqual(['trace.level-absurd', 'trace.levels-assumed']);
  });

  it('keep the job file’s footing where the drawing’s top would be absurd above it', () => {
    const r = place([text('T.O.W. EL. 100\'-0"', 3000, 400)], {
      options: { ...NONE, levels: { footingMm: -300, topMm: null } },
    });
    expect(r.value.levels).toEqual({ footingMm: -300, topMm: 2100, footingFrom: 'job', topFrom: 'default' });
    expect(says(r, 'trace.level-absurd')).toHaveLength(1);
  });

  it('come from the bottom of the footing only with its depth', () => {
    const bare = place([text('B.O.F. -1.50', 3000, 400), text('T.O.W. +1.00', 3000, 5600)]);
    expect(bare.value.levels.footingFrom).toBe('default');
    expect(says(bare, 'trace.footing-bottom')[0]!.assumed).toBeNull();
    const deep = place([
      text('B.O.F. -1.50', 3000, 400),
      text('T.O.W. +1.00', 3000, 5600),
      text('600x300 FTG', 3000, -500),
    ]);
    expect(deep.value.levels).toMatchObject({ footingMm: -1200, footingFrom: 'drawing' });
    expect(says(deep, 'trace.footing-bottom')[0]!.assumed).toBe('top of footing at -1200 mm');
  });

  it('come from the height of the lines where no text gives any', () => {
    const paths = [
      pathOf([p(0, 100), p(10000, 100)], 'S', { elevation: -300, extrusion: 1500 }),
      pathOf([p(0, 5900), p(10000, 5900)], 'N', { elevation: -300, extrusion: 1500 }),
      pathOf([p(100, 0), p(100, 6000)], 'W', { elevation: -300, extrusion: 1200 }),
    ];
    const r = place([], { paths });
    expect(r.value.levels).toEqual({ footingMm: -300, topMm: 1200, footingFrom: 'drawing', topFrom: 'drawing' });
    expect(r.value.levelsAt).toMatchObject([{ near: p(0, 3000), footingMm: -300, topMm: 900, from: 'drawing' }]);
    expect(codes(r)).toEqual(['trace.levels-drawn']);
    const flat = place([], { paths: paths.map((x) => ({ ...x, extrusion: 0 })) });
    expect(flat.value.levels.footingFrom).toBe('default');
    expect(codes(flat)).toEqual(['trace.levels-assumed', 'trace.levels-drawn']);
    const against = place([text('T.O.W. +0.80', 3000, 400)], { paths });
    expect(against.value.levels.topMm).toBe(800);
    expect(says(against, 'trace.level-conflict')[0]!.message).toMatch(/-300 mm to 1200 mm.*800 mm/);
    expect(codes(place([], { paths: paths.map((x) => ({ ...x, elevation: 0, extrusion: 0 })) }))).toEqual([
      'trace.levels-assumed',
    ]);
  });

  it('are not taken from a level that does not say of what', () => {
    const r = place([text('-1.250', 3000, 400), text('FFL +0.00', 5000, 3000)]);
    expect(r.value.levels).toMatchObject({ footingFrom: 'default', topFrom: 'default' });
    const [f] = says(r, 'trace.level-unclear');
    expect(f!.message).toMatch(/-1250 mm.*levels\.at: near: \[3000, 400\]/);
    expect(f!.at).toEqual([3000, 400, -1250]);
  });

  it('take the top of concrete for the wall’s where nothing else is, and say so', () => {
    const r = place([text('T.O.C. +1.20', 3000, 400), text('T.O.F. -0.30', 3000, 700)]);
    expect(r.value.levels).toMatchObject({ footingMm: -300, topMm: 1200 });
    expect(says(r, 'trace.level-unclear')[0]!.assumed).toBe('it is the top of the wall');
  });
});

describe('levels of one wall', () => {
  const general = [text('T.O.W. +1.20 T.O.F. -0.30 TYP', 20000, 9000)];

  it('belong to the wall at the tip of the leader, not to the one beside the text', () => {
    const note = text('T.O.W. +0.60', 5000, 1200);
    const r = place([...general, note], { leaders: [leader([9900, 3000], [4950, 1200])] });
    expect(r.value.levelsAt).toMatchObject([{ near: p(10000, 3000), topMm: 600, text: 'T.O.W. +0.60' }]);
  });

  it('are asked for where two walls are about as near', () => {
    const r = place([...general, text('T.O.W. +0.60', 1000, 1000)]);
    expect(r.value.levelsAt).toEqual([]);
    expect(says(r, 'trace.level-unclear')[0]!.message).toMatch(/two walls.*topMm: 600/);
  });

  it('are asked for where no wall is near', () => {
    const r = place([...general, text('T.O.W. +0.60', 5000, 3000)]);
    expect(r.value.levelsAt).toEqual([]);
    expect(says(r, 'trace.level-unclear')[0]!.message).toMatch(/more than 1500 mm/);
  });

  it('give way to the job file’s for that wall', () => {
    const r = place([...general, text('T.O.W. +0.60', 5000, 400)], {
      options: { ...NONE, levelsAt: [{ near: p(2000, 0), footingMm: null, topMm: 800 }] },
    });
    expect(r.value.levelsAt).toEqual([{ near: p(2000, 0), footingMm: null, topMm: 800, from: 'job', text: null }]);
    expect(says(r, 'trace.level-conflict')[0]!.message).toMatch(/800 mm.*600 mm/);
  });

  it('are refused where that wall would be absurd', () => {
    const r = place([...general, text('T.O.W. EL. 100\'-0"', 5000, 400)]);
    expect(r.value.levelsAt).toEqual([]);
    expect(says(r, 'trace.level-absurd')[0]!.message).toMatch(/-300 mm to 30480 mm/);
  });

  it('of a wall on an arc are found on its axis', () => {
    const curve = {
      centre: p(0, 0),
      radiusMm: 4000,
      fromRad: 0,
      toRad: Math.PI,
      thicknessMm: 200,
      startCapped: true,
      endCapped: true,
      sources: ['A'],
    };
    const r = place([...general, text('T.O.W. +0.60', 0, 4400)], { walls: [], curves: [curve] });
    expect(r.value.levelsAt).toMatchObject([{ near: p(0, 4000), topMm: 600 }]);
  });
});

describe('steps', () => {
  const low = text('T.O.F. -1.20', 2000, 400);
  const high = text('T.O.F. -0.60', 8000, 400);
  const usual = [text('T.O.W. +1.20 T.O.F. -0.60 U.N.O.', 20000, 9000)];

  it('are asked for where one wall has two levels and no mark', () => {
    const r = place([...usual, low, high]);
    expect(r.value.levelsAt).toEqual([]);
    const [f] = says(r, 'trace.step-where');
    expect(f!.message).toMatch(/-1200 mm and -600 mm.*levels\.steps \(at, kind: footing\)/);
    expect(f!.assumed).toBe('the whole wall has its top of footing at -600 mm');
  });

  it('part the levels of a wall where a text marks them', () => {
    const r = place([...usual, low, high, text('STEP FTG', 5000, 400)]);
    expect(r.value.steps).toMatchObject([{ kind: 'footing', at: p(5000, 0), riseMm: null, text: 'STEP FTG' }]);
    expect(r.value.levelsAt.map((l) => [l.near.x, l.footingMm])).toEqual([
      [2000, -1200],
      [8000, -600],
    ]);
    expect(codes(r)).toEqual(['trace.level-near', 'trace.levels-noted', 'trace.step-noted']);
  });

  it('whose noted rise is not the difference of the levels are a conflict', () => {
    const right = place([...usual, low, high, text('STEP DN 600', 5000, 400)]);
    expect(codes(right)).not.toContain('trace.level-conflict');
    const wrong = place([...usual, low, high, text('STEP DN 400', 5000, 400)]);
    expect(says(wrong, 'trace.level-conflict')[0]!.message).toMatch(/400 mm high.*differ by 600 mm/);
  });

  it('do so across the stretches that a crossing wall makes of one', () => {
    const walls = [wall(0, 0, 4900, 0), wall(5100, 0, 10000, 0), NORTH, WEST, EAST];
    const without = place([...usual, low, high], { walls });
    expect(says(without, 'trace.step-where')).toHaveLength(1);
    const r = place([...usual, low, high, text('STEP FTG', 5000, 400)], { walls });
    expect(r.value.levelsAt).toHaveLength(2);
  });

  it('stand where the job file has them; a note beside is left to that', () => {
    const r = place([...usual, low, high, text('STEP FTG', 5000, 400)], {
      options: { ...NONE, steps: [{ at: p(5300, 50), kind: 'footing' }] },
    });
    expect(r.value.steps).toEqual([{ kind: 'footing', at: p(5300, 0), riseMm: null, text: null, sources: [] }]);
    expect(r.value.levelsAt).toHaveLength(2);
  });

  it('stand at the line across the footing, with the rise that is noted', () => {
    const mark = pathOf([p(4600, -300), p(4600, 300)], 'M', { layer: 'S-FTNG' });
    const r = place([text('STEP DN 600', 5000, 400)], { drawing: drawingOf([mark]) });
    expect(r.value.steps).toMatchObject([{ kind: 'footing', at: p(4600, 0), riseMm: 600 }]);
    expect(r.value.steps[0]!.sources).toContain('M');
    // A layer that the table does not list is visible.
    const unlisted = place([text('STEP DN 600', 5000, 400)], { drawing: drawingOf([mark], { layers: [] }) });
    expect(unlisted.value.steps).toMatchObject([{ kind: 'footing', at: p(4600, 0), riseMm: 600 }]);
  });

  it('are not marked by lines along the wall, faces of walls, or lines on hidden layers', () => {
    const lines = [
      pathOf([p(4600, -300), p(4600, 300)], 'E', { layer: 'S-FTNG' }),
      pathOf([p(4000, 0), p(5000, 20)], 'M', { layer: 'S-FTNG' }),
      pathOf([p(4700, -300), p(4700, 300)], 'H', { layer: 'OFF' }),
    ];
    const drawing = drawingOf(lines, {
      layers: ['OFF', 'S-FTNG'].map((name) => ({ name, visible: name !== 'OFF', lineType: 'CONTINUOUS' })),
    });
    expect(place([text('STEP FTG', 5000, 400)], { drawing }).value.steps).toMatchObject([{ at: p(5000, 0) }]);
  });

  it('noted at both ends of a leader or twice are one', () => {
    const r = place([text('STEP FTG', 5000, 400), text('STEP DN 600', 5200, -400)]);
    expect(r.value.steps).toMatchObject([{ at: p(5000, 0), riseMm: 600 }]);
  });

  it('of no more than the word count only where a leader points at the wall', () => {
    const alone = place([text('STEP', 5000, 400)]);
    expect(alone.value.steps).toEqual([]);
    expect(codes(alone)).toContain('trace.step-unclear');
    const pointed = place([text('STEP', 5000, 400)], { leaders: [leader([6000, 50], [5050, 400])] });
    expect(pointed.value.steps).toMatchObject([{ at: p(6000, 0), kind: 'footing' }]);
  });

  it('are not read from a rule', () => {
    const r = place([text('2H:1V MAX STEP', 5000, 400)]);
    expect(r.value.steps).toEqual([]);
    expect(codes(r)).toEqual(['trace.levels-assumed']);
  });
});

describe('notes written as several texts', () => {
  const level = (r: ReturnType<typeof place>) => [r.value.levels.topMm, r.value.levels.topFrom];

  it.each([
    ['below', 3000, 150],
    ['beside', 3900, 400],
    ['above', 3000, 650],
  ])('a level %s its name belongs to it', (_, x, y) => {
    expect(level(place([text('T.O.W.', 3000, 400), text('98\'-6"', x, y)]))).toEqual([30022.8, 'drawing']);
  });

  it('also in a block, whatever the places of its texts', () => {
    const r = place([text('T.O.W.', 3000, 400, 'B/1'), text('+1.20', 3500, 1400, 'B/2')]);
    expect(level(r)).toEqual([1200, 'drawing']);
  });

  it('a step’s two words are one note', () => {
    const r = place([text('STEP', 5000, 400), text('FTG', 5000, 170)]);
    expect(r.value.steps).toMatchObject([{ kind: 'footing', at: p(5000, 0) }]);
  });

  it('whole notes in a column stay apart, and so do names far from a level', () => {
    const column = [text('T.O.W. +1.20', 9700, 3000), text('T.O.W. +0.90', 9700, 2770)];
    const leaders = [leader([10000, 3000], [9690, 3050]), leader([3000, 0], [9690, 2800])];
    expect(place(column, { leaders }).value.levelsAt).toHaveLength(1);
    expect(level(place([text('T.O.W.', 3000, 400), text('+1.20', 3000, -400)]))[1]).toBe('default');
  });

  it('a leader that names the second half points for both', () => {
    const named = { ...leader([10000, 3000], [3000, 100]), text: 'V' };
    const r = place(
      [text('T.O.W. +1.20 TYP', 20000, 20000), text('T.O.W.', 3000, 400), text('+0.90', 3000, 170, 'V')],
      {
        leaders: [named],
      },
    );
    expect(r.value.levelsAt).toMatchObject([{ near: p(10000, 3000), topMm: 900 }]);
  });
});

describe('bars', () => {
  it('are offered with their place, one finding for each kind; those of footings are not', () => {
    const r = place([
      text('#5 VERT. @ 16" O.C. E.F.', 3000, 400),
      text('#5 VERT. @ 16" O.C. E.F.', 3000, 5600),
      text('#4 HORIZ. @ 12" O.C.', 3000, 700),
      text('CONT. FTG W/ (2) #5 CONT', 3000, -500),
    ]);
    expect(r.value.bars.map((b) => [b.at, b.diameterMm, b.spacingMm, b.direction, b.faces])).toEqual([
      [p(3000, 400), 15.875, 406.4, 'vertical', 'each'],
      [p(3000, 700), 12.7, 304.8, 'horizontal', null],
      [p(3000, 5600), 15.875, 406.4, 'vertical', 'each'],
    ]);
    const found = says(r, 'trace.bars-noted').map((f) => f.message);
    expect(found).toHaveLength(2);
    expect(found[0]).toContain('until you confirm');
  });
});

describe('order and odd input', () => {
  it('does not depend on the order of texts, leaders, walls or paths', () => {
    const texts = [
      text('T.O.W. +1.20 T.O.F. -0.60', 2000, 400, 'A'),
      text('T.O.F. -1.20', 8000, 400, 'B'),
      text('STEP FTG', 5000, 400, 'C'),
      text('STEP FTG', 5400, -400, 'D'),
      text('T.O.W. +0.90', 9700, 3000, 'E'),
      text('-1.250', 300, 3000, 'F'),
      text('#5 @ 12" O.C.', 3000, 5600, 'G'),
      text('T.O.W. +0.90', 3000, 5600, 'H'),
    ];
    const leaders = [leader([6000, 100], [5000, 420]), leader([7000, 100], [5400, -380])];
    const paths = [
      pathOf([p(4600, -300), p(4600, 300)], 'M'),
      pathOf([p(4600, -300), p(4600, 300)], 'O'),
      pathOf([p(0, 100), p(9000, 100)], 'S', { elevation: 5, extrusion: 2000 }),
    ];
    const one = place(texts, { leaders, paths, drawing: drawingOf(paths) });
    const other = place([...texts].reverse(), {
      leaders: [...leaders].reverse(),
      walls: [...HOUSE].reverse(),
      paths: [...paths].reverse(),
      drawing: drawingOf([...paths].reverse()),
    });
    expect(other).toEqual(one);
  });

  it('survives numbers that are none, empty lists and no walls', () => {
    const odd = [
      { ...text('T.O.W. +1.20', Number.NaN, 0) },
      { ...text('T.O.W. +1.20', 0, 0), height: Number.POSITIVE_INFINITY },
      { ...text('STEP FTG', 0, 0), height: 0 },
      text('', 0, 0),
    ];
    const r = place(odd, { walls: [], leaders: [{ source: 'L', layer: '', points: [], text: null }] });
    expect(r.value).toMatchObject({ levelsAt: [], steps: [] });
    expect(place([], { walls: [] }).value.bars).toEqual([]);
  });
});

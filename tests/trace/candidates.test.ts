/** Which linework is taken when names and geometry are held against each other. Scenes in mm. */

import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, TraceOptions } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, OPTIONS, pathOf } from './plans.js';

const box = (x: number, y: number, w: number, d: number): Vec[] => [
  { x, y },
  { x: x + w, y },
  { x: x + w, y: y + d },
  { x, y: y + d },
];
let n = 0;
const ring = (layer: string, by = 0, more: Partial<DrawingPath> = {}): DrawingPath =>
  pathOf(box(by, by, 9000 - 2 * by, 6000 - 2 * by), `P${n++}`, { layer, ...more });
const line = (layer: string, x0: number, y0: number, x1: number, y1: number, more: Partial<DrawingPath> = {}) =>
  pathOf(
    [
      { x: x0, y: y0 },
      { x: x1, y: y1 },
    ],
    `L${n++}`,
    { layer, ...more },
  );
const seen = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}, dashed: readonly string[] = []) => {
  const drawing = drawingOf(paths);
  const layers = drawing.layers.map((l) => (dashed.includes(l.name) ? { ...l, lineType: 'DASHED' } : l));
  const { value, findings } = trace({ ...drawing, layers }, { ...OPTIONS, ...options });
  return {
    walls: value.stretches.map((s) => Math.round(s.thicknessMm)),
    layers: findings.find((f) => f.code === 'trace.layers')?.message ?? '',
    codes: findings.map((f) => f.code),
    of: (code: string) => findings.filter((f) => f.code === code),
  };
};

describe('names against geometry', () => {
  it('the finding says how much of the lines pairs', () => {
    // Inner outline 28 400 long, outer 30 000: 2 x 28 400 of 58 400.
    expect(seen([ring('S-FNDN-WALL'), ring('S-FNDN-WALL', 200)]).layers).toMatch(/97 % .* mostly at 200 mm/);
  });

  it('a telling name on lines that do not pair loses to walls that do, with a question', () => {
    // Outline of the slab and a few marks on the foundation layer, the walls on A-WALL.
    const marks = [0, 1, 2].map((i) => line('S-FNDN-WALL', 12000, 3000 * i, 15000, 3000 * i));
    const found = seen([...marks, ring('A-WALL'), ring('A-WALL', 240)]);
    expect(found.walls).toEqual([240, 240, 240, 240]);
    expect(found.layers).toMatch(/taken from A-WALL/);
    expect(found.codes).toContain('trace.layers-doubtful');
  });

  it('a telling name keeps its place when both pair', () => {
    const found = seen([ring('S-FNDN-WALL'), ring('S-FNDN-WALL', 200), ring('A-WALL', 20), ring('A-WALL', 140)]);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    expect(found.codes).not.toContain('trace.layers-doubtful');
  });

  it.each([
    ['S-FNDN-WALL', 'S-FNDN'],
    ['S-FNDN-WALL', '0'],
  ])('outer faces on %s and inner ones on %s make the walls together', (outer, inner) => {
    const found = seen([ring(outer), ring(inner, 250), line('0', 12000, 0, 12000, 6000)]);
    expect(found.walls).toEqual([250, 250, 250, 250]);
    expect(found.of('trace.faces-shared')[0]?.message).toMatch(/face lines on S-FNDN-WALL/);
  });

  it.each(['S-FNDN-FTNG', 'A-FLOR-PATT', 'A-DOOR', 'S-FNDN-WALL-D'])(
    'lines on %s are never the other face',
    (other) => {
      const found = seen([ring('S-FNDN-WALL'), ring(other, 250)]);
      expect(found.codes).not.toContain('trace.faces-shared');
      expect(found.walls).toEqual([]);
    },
  );

  it('structural walls that stand elsewhere are asked about', () => {
    const alone = [line('S-WALL', 12000, 0, 12000, 6000), line('S-WALL', 12300, 0, 12300, 6000)];
    const found = seen([ring('S-FNDN-WALL'), ring('S-FNDN-WALL', 200), ...alone]);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    const asked = found.of('trace.walls-elsewhere');
    expect(asked.length).toBe(1);
    expect(asked[0]!.message).toMatch(/S-WALL \(2\).*12 m/);
    expect(asked[0]!.at![0]).toBeGreaterThan(11999);
  });

  it('structural walls over the foundation walls are no question', () => {
    const found = seen([ring('S-FNDN-WALL'), ring('S-FNDN-WALL', 250), ring('S-WALL', 50), ring('S-WALL', 200)]);
    expect(found.codes).not.toContain('trace.walls-elsewhere');
  });
});

describe('line types', () => {
  const dashed = { lineType: 'DASHED' };
  it('dashed footing outlines on the wall layer are left out by entity', () => {
    const paths = [ring('S-WALL'), ring('S-WALL', 200), ring('S-WALL', -300, dashed), ring('S-WALL', 500, dashed)];
    const found = seen(paths);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    expect(found.of('trace.broken-lines')[0]?.message).toMatch(/DASHED on S-WALL \(2\)/);
  });

  it('dashed lines are the walls where nothing solid pairs', () => {
    const found = seen([ring('S-WALL', 0, dashed), ring('S-WALL', 200, dashed), line('S-WALL', 0, -5000, 9000, -5000)]);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    expect(found.codes).not.toContain('trace.broken-lines');
  });

  it('dashed lines that pair like walls beside solid walls are a matter for attention', () => {
    const below = [line('S-WALL', 12000, 0, 12000, 6000, dashed), line('S-WALL', 12200, 0, 12200, 6000, dashed)];
    const found = seen([ring('S-WALL'), ring('S-WALL', 200), ...below]);
    expect(found.walls.length).toBe(4);
    expect(found.of('trace.broken-lines')[0]).toMatchObject({ severity: 'attention', at: [12000, 0, 0] });
  });

  it('a dashed layer that the job file names is taken', () => {
    const paths = [
      ring('S-WALL'),
      ring('S-WALL', 200),
      line('S-WALL-BELW', 12000, 0, 12000, 6000, dashed),
      line('S-WALL-BELW', 12300, 0, 12300, 6000, dashed),
    ];
    expect(seen(paths, { wallLayers: ['S-WALL*'] }, ['S-WALL-BELW']).walls).toContain(300);
    expect(seen(paths, {}, ['S-WALL-BELW']).walls).not.toContain(300);
  });

  // AutoCAD's own line type names, as its line type files spell them; the last three: common words, no source.
  it.each([
    'ACAD_ISO02W100',
    'HIDDEN2',
    'CENTERX2',
    'DASHDOT',
    'JIS_02_0.7',
    'Strichlinie',
    'TRATTEGGIATA',
    'Штриховая',
  ])('%s is a broken line', (lineType) => {
    const found = seen([ring('S-WALL'), ring('S-WALL', 200), ring('S-WALL', -300, { lineType })]);
    expect(found.codes).toContain('trace.broken-lines');
  });
});

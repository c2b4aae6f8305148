/** The trace drawing: everything that was understood stands at its true place, the questions by the numbers of the list, and the architect's drawing whole. */

import DxfParser, { type IDxf, type IEntity } from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import type { TraceResult } from '../../../src/ground/questions.js';
import { type LengthUnit, MM_PER } from '../../../src/ground/units.js';
import { textCorners } from '../../../src/write/dxf/bounds.js';
import { NOTHING } from '../../../src/write/dxf/compose.js';
import { writeTraceDxf } from '../../../src/write/dxf/index.js';
import { composeTrace } from '../../../src/write/dxf/trace/compose.js';
import { inkOf } from '../../../src/write/dxf/trace/ink.js';
import { read } from '../../read/samples.js';
import { exampleTrace } from '../../support/exampleTrace.js';
import { cornerHouse, inchCellar } from '../../support/scenes.js';
import { dxfBytes } from '../../support/sheet.js';

const written = (result: TraceResult = exampleTrace, from: Uint8Array | null = null, layerNames = {}): Uint8Array => {
  const document = from ? read(from).drawing.document : null;
  const out = writeTraceDxf(result, document, { mode: from ? 'merged' : 'overlay', layerNames });
  if (!out.ok) throw new Error(out.findings.map((f) => f.message).join(' '));
  return out.value;
};

type Point = { readonly x: number; readonly y: number };
type Entity = IEntity & {
  readonly text?: string;
  readonly vertices?: readonly Point[];
  readonly shape?: boolean;
  readonly center?: Point;
};

/** Entities as dxf-parser reads them, which shares no line with our own reader. */
const entitiesOf = (bytes: Uint8Array): Entity[] => {
  const Parser = DxfParser as unknown as new () => { parseSync(source: string): IDxf | null };
  return new Parser().parseSync(new TextDecoder('latin1').decode(bytes))!.entities as Entity[];
};

const on = (entities: readonly Entity[], layer: string): Entity[] => entities.filter((e) => e.layer === layer);
const wordsOn = (entities: readonly Entity[], layer: string): string[] =>
  on(entities, layer).flatMap((e) => (e.text === undefined ? [] : [e.text]));
const near = (p: Point | undefined, x: number, y: number): boolean =>
  p !== undefined && Math.hypot(p.x - x, p.y - y) < 1e-6;

describe('the trace drawing', () => {
  const entities = entitiesOf(written());

  it('has the axis of each wall and the outline of the concrete at their places', () => {
    const axes = on(entities, 'S-FORM-TRCE-AXIS').filter((e) => e.type === 'LINE');
    for (const wall of exampleTrace.plan.walls) {
      const found = axes.filter(
        (a) => near(a.vertices![0], wall.start.x, wall.start.y) && near(a.vertices![1], wall.end.x, wall.end.y),
      );
      expect(found, wall.id).toHaveLength(1);
    }
    const ring = on(entities, 'S-FORM-TRCE-FACE').find((e) => e.shape === true)!;
    expect(ring.vertices!.map(({ x, y }) => [x, y])).toEqual(exampleTrace.plan.concrete[0]!.map(({ x, y }) => [x, y]));
  });

  it('labels each wall with its name, length, thickness and levels, both of a wall that steps', () => {
    const words = wordsOn(entities, 'S-FORM-TRCE-LABL');
    expect(words).toContain('W1 2700 x 200');
    expect(words).toContain('+0 / +2350');
    expect(words).toContain('W2 1900 x 200');
    expect(words).toContain('+0, +310 / +2350');
  });

  it('hatches no more than where both faces were seen', () => {
    const hatches = on(entities, 'S-FORM-TRCE-HTCH').slice(0, 2);
    expect(hatches).toHaveLength(2);
    const xs = hatches[0]!.vertices!.map((v) => v.x);
    const ys = hatches[0]!.vertices!.map((v) => v.y);
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([100, 2700]);
    expect([Math.min(...ys), Math.max(...ys)]).toEqual([-100, 100]);
  });

  it('draws a curved wall on its radius: axis and both faces', () => {
    const { centre, radiusMm, thicknessMm } = exampleTrace.foundation.curves[0]!;
    const arcs = entities.filter((e) => e.shape === false && near(e.vertices![0], centre.x + radiusMm, 0));
    expect(arcs.map((e) => e.layer)).toEqual(['S-FORM-TRCE-AXIS']);
    const radii = on(entities, 'S-FORM-TRCE-FACE')
      .filter((e) => e.shape === false)
      .map((e) => e.vertices!.map((v) => Math.hypot(v.x - centre.x, v.y - centre.y)));
    expect(radii).toHaveLength(2);
    for (const [i, r] of [radiusMm - thicknessMm / 2, radiusMm + thicknessMm / 2].entries()) {
      for (const away of radii[i]!) expect(away).toBeCloseTo(r, 6);
      // A chord that turns by a strays r (1 - cos(a / 2)) from its arc: within 1 mm.
      const turn = Math.PI / 2 / (radii[i]!.length - 1);
      expect(r * (1 - Math.cos(turn / 2))).toBeLessThan(1.01);
    }
    expect(wordsOn(entities, 'S-FORM-TRCE-LABL')).toContain('C1 R 2000 x 250');
  });

  it('has openings, steps, pilasters, levels with where they came from, bars and views', () => {
    const openings = wordsOn(entities, 'S-FORM-TRCE-OPNG');
    expect(openings).toEqual(
      expect.arrayContaining(['WINDOW 900', 'sill +900 head +2100', 'DOOR 900', 'sill ? head ?', 'PILASTER 400 x 200']),
    );
    const box = on(entities, 'S-FORM-TRCE-OPNG').find((e) => e.shape === true)!;
    const corners = box.vertices!.map((v) => `${Math.round(v.x)} ${Math.round(v.y)}`).sort();
    expect(corners).toEqual(['400 100', '400 300', '800 100', '800 300']);
    const levels = wordsOn(entities, 'S-FORM-TRCE-LEVL');
    expect(levels).toEqual(
      expect.arrayContaining([
        'FOOTING STEP 310',
        'TOP STEP',
        'FOOTING +310',
        'drawing: T/FTG +0.310',
        'TOP +2350',
        'job file',
      ]),
    );
    expect(wordsOn(entities, 'S-FORM-TRCE-BARS')).toEqual(['BARS 16 mm at 200', 'vertical, each face']);
    expect(wordsOn(entities, 'S-FORM-TRCE-VIEW')).toEqual([
      'VIEW 1 FOUNDATION PLAN: TAKEN, its title says foundation',
      'VIEW 2: LEFT OUT, it shows a section',
    ]);
  });

  it('marks each question that has a place there, and lists all by the same numbers', () => {
    const { questions } = exampleTrace;
    expect(questions.map((q) => q.number)).toEqual([1, 2, 3]);
    const marks = wordsOn(entities, 'S-FORM-FLAG').filter((w) => /^\?\d+$/.test(w));
    expect(marks).toEqual(questions.filter((q) => q.finding.at !== null).map((q) => `?${q.number}`));
    for (const { finding } of questions) {
      if (finding.at === null) continue;
      const dots = on(entities, 'S-FORM-FLAG').filter((e) => e.type === 'CIRCLE');
      expect(dots.filter((d) => near(d.center, finding.at![0], finding.at![1]))).toHaveLength(1);
    }
    const list = wordsOn(entities, 'S-FORM-NOTE');
    expect(list.filter((w) => /^\?\d+$/.test(w))).toEqual(questions.map((q) => `?${q.number}`));
    for (const { keys } of questions) for (const key of keys) expect(list).toContain(key);
  });

  it('carries the cautions and says that nothing is laid out', () => {
    const list = wordsOn(entities, 'S-FORM-NOTE').join(' ');
    expect(list).toContain('Nobody works under a form that is not braced.');
    expect(list).toContain('Nothing has been laid out yet');
  });

  it('tells lengths in feet and inches where the drawing is in them, at the same places', () => {
    for (const unit of ['in', 'ft', 'm'] as const satisfies readonly LengthUnit[]) {
      const result: TraceResult = {
        ...exampleTrace,
        source: { ...exampleTrace.source, lengthUnit: unit },
        foundation: { ...exampleTrace.foundation, lengthUnit: unit },
      };
      const told = entitiesOf(written(result));
      const axis = on(told, 'S-FORM-TRCE-AXIS').find((e) => e.type === 'LINE')!;
      expect(axis.vertices![1]!.x).toBeCloseTo(2700 / MM_PER[unit], 9);
      const label = wordsOn(told, 'S-FORM-TRCE-LABL').find((w) => w.startsWith('W1'));
      // 2700 mm are 106.299 in, to the sixteenth 106 5/16 in: 8 ft 10 5/16 in; 200 mm are 7 7/8 in.
      expect(label).toBe(unit === 'm' ? 'W1 2700 x 200' : `W1 8'-10 5/16" x 7 7/8"`);
    }
  });

  it('takes other names for its layers', () => {
    const renamed = entitiesOf(written(exampleTrace, null, { 'TRCE-AXIS': 'Z-AXIS', 'S-FORM-TRCE-FACE': 'Z-FACE' }));
    expect(on(renamed, 'Z-AXIS').length).toBe(on(entities, 'S-FORM-TRCE-AXIS').length);
    expect(on(renamed, 'S-FORM-TRCE-AXIS')).toEqual([]);
    expect(on(renamed, 'Z-FACE').length).toBeGreaterThan(0);
  });

  it('is the same bytes from the same result', () => {
    expect(Buffer.compare(written(), written())).toBe(0);
  });

  it('is written where there is neither wall nor question', () => {
    const nothing: TraceResult = {
      ...exampleTrace,
      plan: { ...exampleTrace.plan, walls: [], concrete: [] },
      foundation: {
        ...exampleTrace.foundation,
        ...{ stretches: [], curves: [], openings: [], steps: [], pilasters: [], bars: [], views: [], levelsAt: [] },
      },
      layers: [],
      textHeightMm: null,
      questions: [],
      findings: [],
    };
    expect(wordsOn(entitiesOf(written(nothing)), 'S-FORM-NOTE')).toContain('None.');
  });
});

describe('merged into a drawing', () => {
  for (const [name, sheet] of [
    ['R2000', cornerHouse],
    ['R12', inchCellar],
  ] as const) {
    it(`leaves every entity of it whole and is taken out again (${name})`, () => {
      const bytes = dxfBytes(sheet);
      const out = written(exampleTrace, bytes);
      expect(entitiesOf(out).length).toBeGreaterThan(entitiesOf(bytes).length + 50);
      const again = read(out).drawing;
      const before = read(bytes).drawing;
      expect(again.paths).toEqual(before.paths);
      expect(again.texts).toEqual(before.texts);
      expect(again.layers.map((l) => l.name)).toEqual(before.layers.map((l) => l.name));
      const twice = writeTraceDxf(exampleTrace, again.document, { mode: 'merged' });
      expect(twice.ok && entitiesOf(twice.value).length).toBe(entitiesOf(out).length);
    });
  }

  it('in overlay has none of it, and keeps clear of it', () => {
    const { document } = read(dxfBytes(cornerHouse)).drawing;
    const out = writeTraceDxf(exampleTrace, document, { mode: 'overlay' });
    if (!out.ok) throw new Error('refused');
    const entities = entitiesOf(out.value);
    expect(entities.every((e) => e.layer.startsWith('S-FORM-'))).toBe(true);
    const notes = on(entities, 'S-FORM-NOTE').flatMap((e) => e.vertices ?? []);
    expect(Math.min(...notes.map((v) => v.x))).toBeGreaterThan(9250);
  });
});

/** Whether two convex quadrilaterals overlap by more than a hair: no edge of either parts them. */
const overlap = (a: readonly Point[], b: readonly Point[]): boolean =>
  ![a, b].some((box) =>
    box.some((p, i) => {
      const q = box[(i + 1) % box.length]!;
      const normal = { x: p.y - q.y, y: q.x - p.x };
      const size = Math.hypot(normal.x, normal.y);
      const reach = (points: readonly Point[]) => points.map((v) => (v.x * normal.x + v.y * normal.y) / size);
      const [ra, rb] = [reach(a), reach(b)];
      return Math.max(...ra) <= Math.min(...rb) + 0.01 || Math.max(...rb) <= Math.min(...ra) + 0.01;
    }),
  );

describe('texts of the trace', () => {
  it('lie over no other text and over no wall', () => {
    const { sheet } = composeTrace(exampleTrace, inkOf(exampleTrace), NOTHING);
    const texts = sheet.shapes.flatMap((s) => (s.type === 'text' ? [{ s, box: textCorners(s.text, s) }] : []));
    const clashes = texts.flatMap((a, i) =>
      texts
        .slice(i + 1)
        .filter((b) => overlap(a.box, b.box))
        .map((b) => `${a.s.text} over ${b.s.text}`),
    );
    expect(clashes).toEqual([]);
    const [ring] = exampleTrace.plan.concrete;
    const legs = [
      [ring![0]!, ring![1]!, ring![2]!, { x: -100, y: 100 }],
      [ring![0]!, { x: 100, y: -100 }, ring![4]!, ring![5]!],
    ];
    const over = texts.filter((t) => legs.some((leg) => overlap(t.box, leg))).map((t) => t.s.text);
    expect(over).toEqual([]);
  });
});

/** The unit of the numbers, whatever the header says. */

import { describe, expect, it } from 'vitest';
import { type LengthUnit, MM_PER } from '../../src/ground/units.js';
import type { DrawingDimension, DrawingPath } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, knownPlan, OPTIONS, pathOf, textOf } from './plans.js';

const plan = knownPlan({ widthMm: 9000, depthMm: 6000, outerMm: 200, partition: null, alone: null });
const paths = (unit: LengthUnit): DrawingPath[] =>
  plan.rings.map((r, i) =>
    pathOf(
      r.map((v) => ({ x: v.x / MM_PER[unit], y: v.y / MM_PER[unit] })),
      `R${i}`,
    ),
  );
const dimension = (measured: number, text: string | null): DrawingDimension => ({
  textHeight: null,
  source: 'D',
  layer: 'A-DIMS',
  from: { x: 0, y: 0 },
  to: { x: measured, y: 0 },
  measured,
  text,
});
const CODES: Record<LengthUnit, number> = { in: 1, ft: 2, mm: 4, cm: 5, m: 6 };
const header = (unit: LengthUnit | null) => ({ declaredUnit: unit, declaredUnitCode: unit === null ? 0 : CODES[unit] });
const seen = (drawing: Parameters<typeof trace>[0], options = OPTIONS) => {
  const { value, findings } = trace(drawing, options);
  return { unit: value.lengthUnit, finding: findings.find((f) => f.code.startsWith('trace.unit')) };
};

describe('unit', () => {
  it.each(['mm', 'cm', 'm', 'in', 'ft'] as const)('an honest header (%s) is agreed with', (unit) => {
    const found = seen(drawingOf(paths(unit), header(unit)));
    expect(found.unit).toBe(unit);
    expect(found.finding).toMatchObject({ code: 'trace.unit-agreed', severity: 'note' });
  });

  it.each([
    ['mm', 'in'],
    ['in', 'mm'],
    ['m', 'mm'],
    ['mm', 'm'],
    ['m', null],
    ['mm', null],
  ] as const)('walls tell %s though the header says %s', (unit, says) => {
    const found = seen(drawingOf(paths(unit), { ...header(says), texts: [textOf('ROOM', 150 / MM_PER[unit])] }));
    expect(found.unit).toBe(unit);
    expect(found.finding).toMatchObject({ code: 'trace.unit-inferred', severity: 'attention' });
    expect(found.finding?.message).toMatch(/200 mm apart/);
  });

  it('feet and inches in the texts settle it', () => {
    const dimensions = [dimension(100, '8\'-4"'), dimension(82.5, '6\'-101/2"'), dimension(3.5, '31/2"')];
    const found = seen(drawingOf(paths('in'), { ...header('mm'), dimensions }));
    expect(found.unit).toBe('in');
    expect(found.finding?.message).toMatch(/3 of 3 dimension texts fit it, such as "8'-4"" at a measured 100/);
  });

  it.each([
    ['mm', 150, '0.15'],
    ['m', 0.15, '150'],
    ['cm', 15, '0.15'],
    ['m', 4.25, '425'],
  ] as const)('texts in another metric unit settle it: %s, %s written as %s', (unit, measured, text) => {
    const dimensions = [1, 2, 3, 4].map(() => dimension(measured, text));
    expect(seen(drawingOf(paths(unit), { ...header(null), dimensions })).unit).toBe(unit);
  });

  it('one overwritten dimension does not overrule the walls and the header', () => {
    const dimensions = [dimension(9000, '9.50'), ...[1, 2, 3].map(() => dimension(6000, '6.00'))];
    expect(seen(drawingOf(paths('mm'), { ...header('mm'), dimensions })).unit).toBe('mm');
  });

  it('the job file decides, and a drawing that speaks against it is named', () => {
    const dimensions = [1, 2, 3, 4].map(() => dimension(100, '8\'-4"'));
    const found = seen(drawingOf(paths('in'), { ...header('mm'), dimensions }), { ...OPTIONS, unit: 'cm' });
    expect(found.unit).toBe('cm');
    expect(found.finding?.code).toBe('trace.unit-contradicted');
  });

  it('a header that makes the building impossibly small does not stand, though no wall pairs', () => {
    // Four single lines round 9 by 6: 9 mm over all if the header were right.
    const sides = [
      [0, 0, 9, 0],
      [9, 0, 9, 6],
      [9, 6, 0, 6],
      [0, 6, 0, 0],
    ] as const;
    const lines = sides.map(([x0, y0, x1, y1], i) =>
      pathOf(
        [
          { x: x0, y: y0 },
          { x: x1, y: y1 },
        ],
        `L${i}`,
      ),
    );
    const found = seen(drawingOf(lines, { ...header('mm'), texts: [textOf('PLAN', 0.2)] }));
    expect(found.unit).toBe('m');
    expect(found.finding).toMatchObject({ code: 'trace.unit-inferred', severity: 'attention' });
  });

  it('with nothing to go by it is a guess, and said to be', () => {
    const found = seen(drawingOf([], header(null)));
    expect(found.finding).toMatchObject({ code: 'trace.unit-inferred' });
    expect(found.finding?.message).toMatch(/guess/);
  });

  // A plan as it would be drawn in each unit, with nothing else to go by: no dimensions, no texts, no header.
  it.each([
    ['mm', 200, 9000],
    ['cm', 24, 1200],
    ['m', 0.3, 14],
    ['in', 8, 384],
    ['in', 12, 480],
    ['ft', 8 / 12, 30],
  ] as const)('bare walls in %s, %d thick, %d long', (unit, t, w) => {
    const ring = (by: number): DrawingPath =>
      pathOf(
        [
          { x: by, y: by },
          { x: w - by, y: by },
          { x: w - by, y: w * 0.75 - by },
          { x: by, y: w * 0.75 - by },
        ],
        `R${by}`,
      );
    const found = seen(drawingOf([ring(0), ring(t)], header(null)));
    expect(found.unit).toBe(unit);
    expect(found.finding).toMatchObject({ code: 'trace.unit-inferred' });
  });

  it('lengths in whole inches tell feet from metres', () => {
    // 26'-4" by 19'-8", walls of 1'-4" (0.41 m as feet, 1.33 m as metres would be too thick; 0.5 would be both).
    const box = (x: number, y: number, w: number, d: number, source: string) =>
      pathOf(
        [
          { x, y },
          { x: x + w, y },
          { x: x + w, y: y + d },
          { x, y: y + d },
        ],
        source,
      );
    const rings = [box(0, 0, 26 + 4 / 12, 19 + 8 / 12, 'A'), box(0.5, 0.5, 25 + 4 / 12, 18 + 8 / 12, 'B')];
    const found = seen(drawingOf(rings, { ...header(null), texts: [textOf('ROOM', 0.75)] }));
    expect(found.unit).toBe('ft');
    expect(found.finding?.message).toMatch(/whole inches/);
  });

  it.each([
    ['in', 'mm', '8" CONC. WALL', 8],
    ['mm', 'in', '200 THK', 200],
    ['cm', null, '24 cm Wand', 24],
  ] as const)('a note of the thickness tells %s though the header says %s', (unit, says, words, t) => {
    const rings = [0, t].map((by) =>
      pathOf(
        [
          { x: by, y: by },
          { x: 45 * t - by, y: by },
          { x: 45 * t - by, y: 30 * t - by },
          { x: by, y: 30 * t - by },
        ],
        `N${by}`,
      ),
    );
    const found = seen(drawingOf(rings, { ...header(says), texts: [textOf(words, t)] }));
    expect(found.unit).toBe(unit);
    expect(found.finding?.message).toMatch(/what the note/);
  });

  it('details with a factor of their own in the dimensions do not outvote the plan', () => {
    // The plan is in mm; details ten times as large, dimensioned with what they stand for.
    const dimensions = [
      ...[9000, 6000, 4500, 3000].map((mm) => dimension(mm, (mm / 1000).toFixed(2))),
      dimension(2000, '0.20'),
      dimension(3000, '0.30'),
    ];
    const found = seen(drawingOf(paths('mm'), { ...header('mm'), dimensions }));
    expect(found.unit).toBe('mm');
    expect(found.finding?.code).toBe('trace.unit-agreed');
  });

  it('huge survey coordinates change nothing', () => {
    const far = paths('m').map((p) => ({
      ...p,
      vertices: p.vertices.map((v) => ({ ...v, x: v.x + 3455123.25, y: v.y + 5432111.5 })),
    }));
    expect(seen(drawingOf(far, header('mm'))).unit).toBe('m');
  });

  it('a drawing that is no building in any unit is asked about', () => {
    const tiny = pathOf(
      [
        { x: 0, y: 0 },
        { x: 0.009, y: 0 },
        { x: 0.009, y: 0.006 },
      ],
      'T',
    );
    const { findings } = trace(drawingOf([tiny], header('mm')), OPTIONS);
    expect(findings.map((f) => f.code)).toContain('trace.unit-doubtful');
  });

  it('a header in which a house would be 9 mm wide is belied by that alone', () => {
    const single = [
      pathOf(
        [
          { x: 0, y: 0 },
          { x: 9, y: 0 },
          { x: 9, y: 6 },
          { x: 0, y: 6 },
        ],
        'S',
      ),
    ];
    expect(seen(drawingOf(single, { ...header('mm'), texts: [textOf('ROOM', 0.2)] })).unit).toBe('m');
  });
});

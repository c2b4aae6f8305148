/** The unit of the numbers, whatever the header says. */

import { describe, expect, it } from 'vitest';
import { MM_PER, type LengthUnit } from '../../src/ground/units.js';
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
});

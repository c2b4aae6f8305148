/**
 * Layouts on measured footing levels: the worked step of 310 at station 2430 with its footings 20 low and 15 high, by hand. What the worked example says
 * of phases is 'common practice, no source'; the tolerance of +13 and -50 is ACI 117's, as quoted by concreteconstruction.net.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_FIT_OPTIONS, setupsOf } from '../../src/fit/index.js';
import type { FacePlan, Layout, SurveyPoint } from '../../src/ground/vocabulary.js';
import { parseSurvey } from '../../src/pipeline/surveyList.js';
import { withSurvey } from '../../src/shape/survey.js';
import { layoutSchema } from '../../src/write/json/index.js';
import { checked, faults, sceneOf } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { laidOut, laySheet, textFileOf } from '../support/lay.js';
import { loneWall } from '../support/scenes.js';
import { corner, onePlan } from '../support/straightPlan.js';

/** 6000 inside, the footing rising by 310 at 2430 of the inner face; its axis runs along x, its inner face begins at 100. */
const drawn: FacePlan = onePlan(
  6200,
  200,
  2660,
  corner(0, 200, 'start'),
  corner(6200, 200, 'end'),
  [],
  [
    [-100, 0],
    [2530, 310],
  ],
);

const point = (x: number, levelMm: number, y = -150): SurveyPoint => ({ at: { x, y }, levelMm });

const laid = (plan: FacePlan) => {
  const [setup] = setupsOf(plan, workedExampleCatalogue, DEFAULT_FIT_OPTIONS);
  const scene = sceneOf(
    plan,
    workedExampleCatalogue,
    undefined,
    new Map(plan.runs.map((r) => [r.id, setup!.phases[0]!.phaseMm])),
  );
  return { scene, phases: setup!.phases.map((p) => p.phaseMm) };
};

/** Timber under the forms and under the overhang on the inner face, m2. */
const under = (layout: Layout): number =>
  layout.pieces
    .filter((p) => p.course === 0 && p.covers[0]!.face === 'W1-L')
    .reduce((sum, { covers: [c] }) => sum + ((c!.toMm - c!.fromMm) * (c!.topMm - c!.baseMm)) / 1e6, 0);

const bases = (layout: Layout): number[] =>
  [...new Set(layout.pieces.filter((p) => p.course === 1).map((p) => p.baseMm))].sort((a, b) => a - b);

describe('the step of 310, measured', () => {
  it.each([
    // Low run 20 low, upper 15 high: a step of 345. Phase 5: 5 x 3570 over the upper, 30 x 350 under the overhang.
    { points: [point(300, -20), point(2000, -20), point(5000, 325)], stood: [-20, 330], areaM2: 0.02835, first: 5 },
    // Uneven low run, +15 to -20: it stands at 15 with 35 under it; the upper at 315 with 5; overhang 30 x 335.
    { points: [point(300, 15), point(2000, -20), point(5000, 310)], stood: [15, 315], areaM2: 0.1119, first: 15 },
    // As drawn: the worked example itself.
    { points: [point(300, 0), point(5000, 310)], stood: [10, 310], areaM2: 0.0333, first: 10 },
  ])('stands at $stood and leaves $areaM2 m2 a face', ({ points, stood, areaM2, first }) => {
    const { value } = withSurvey(drawn, points);
    const { scene, phases } = laid(value);
    expect(phases[0]).toBe(first);
    expect(scene.fitFindings.filter((f) => f.severity === 'failure')).toEqual([]);
    expect(bases(scene.layout)).toEqual(stood);
    expect(under(scene.layout)).toBeCloseTo(areaM2, 6);
    // A hand-made plan has no vertices, so that its corners have no forms: nothing else is amiss.
    const told = checked(scene).findings.map((f) => f.code);
    expect(told).not.toContain('check.below-footing');
  });

  it('fills the gap by the lowest point, and no form stands below the highest', () => {
    const { value } = withSurvey(drawn, [point(300, 15), point(2000, -20), point(5000, 310)]);
    const { scene } = laid(value);
    const low = scene.layout.pieces.filter((p) => p.course === 0 && p.covers[0]!.toMm <= 2530);
    expect(Math.min(...low.map((p) => p.baseMm))).toBe(-20);
    const sunk = scene.layout.pieces.map((p) => {
      if (p.course !== 1 || p.baseMm !== 15) return p;
      return { ...p, baseMm: 12, covers: p.covers.map((c) => ({ ...c, baseMm: 12 })) };
    });
    const told = checked({ ...scene, layout: { ...scene.layout, pieces: sunk } }).findings;
    expect(told.filter((f) => f.code === 'check.below-footing').length).toBeGreaterThan(0);
  });

  it('keeps pour line and presses by the deepest footing', () => {
    const { value } = withSurvey(drawn, [point(300, -40), point(5000, 310)]);
    expect(value.runs.map((r) => [r.footingMm, r.highMm, r.topMm])).toEqual([
      [-40, -40, 2660],
      [310, 310, 2660],
    ]);
    expect(laid(value).scene.pressure.get('W1.1')!.pourHeightMm).toBe(2700);
  });

  it('takes a point beside the riser to the footing whose level it has', () => {
    const { value } = withSurvey(drawn, [point(2500, 312), point(2560, 3)]);
    expect(value.survey!.map((s) => s.measured)).toEqual([
      { lowestMm: 3, highestMm: 3, points: 1 },
      { lowestMm: 312, highestMm: 312, points: 1 },
    ]);
  });
});

describe('what is said of measured levels', () => {
  const codes = (points: readonly SurveyPoint[]) => withSurvey(drawn, points).findings.map((f) => f.code);

  it.each([
    ['13 over the drawn level is within the tolerance', [point(300, 13), point(5000, 310)], []],
    ['14 over is not', [point(300, 14), point(5000, 310)], ['shape.survey-off']],
    ['50 under is within it', [point(300, -50), point(5000, 310)], []],
    ['51 under is not', [point(300, -51), point(5000, 310)], ['shape.survey-off']],
    ['a stretch without a point keeps its drawn level', [point(300, 5)], ['shape.survey-missing']],
    [
      'two points of one place that differ',
      [point(300, 12), point(320, 1), point(5000, 310)],
      ['shape.survey-conflict'],
    ],
    [
      'a point far from every wall',
      [point(300, 0), point(5000, 310), point(3000, 0, -1200)],
      ['shape.survey-not-used'],
    ],
    ['a level in another unit', [point(300, 0), point(5000, 310), point(4000, 3)], ['shape.survey-doubtful']],
  ] as const)('%s', (_, points, expected) => {
    expect(codes(points).filter((c) => c !== 'shape.surveyed')).toEqual(expected);
  });

  it('all levels in another datum are said once, and none is used', () => {
    const { value, findings } = withSurvey(drawn, [point(300, 101_200), point(5000, 101_515)]);
    const told = findings.filter((f) => f.code === 'shape.survey-doubtful');
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toContain('another datum');
    expect(value.runs.map((r) => r.footingMm)).toEqual([0, 310]);
  });

  it('levels as drawn change nothing', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 6200 }), { maxLength: 6 }), (xs) => {
        const points = xs.map((x) => point(x, x < 2530 ? 0 : 310));
        const { value } = withSurvey(drawn, points);
        expect(
          value.runs.map(({ highMm: _, ...r }) => ({
            ...r,
            start: { ...r.start, beyondHighMm: 0 },
            end: { ...r.end, beyondHighMm: 0 },
          })),
        ).toEqual(
          drawn.runs.map((r) => ({ ...r, start: { ...r.start, beyondHighMm: 0 }, end: { ...r.end, beyondHighMm: 0 } })),
        );
      }),
      { seed: 31, numRuns: 60 },
    );
  });
});

describe('a file of measured levels', () => {
  const read = (text: string) => {
    const read = parseSurvey(text);
    return read.ok ? read.value : read.findings.at(-1)!.message;
  };
  it.each([
    [
      'without names levels are mm',
      '0,0,12\n100.5, -3 ,-4.25\n',
      [
        [0, 0, 12],
        [100.5, -3, -4.25],
      ],
    ],
    ['names tell order and unit', '\uFEFFpoint,levelM,y,x\r\nP1,0.0125,2,1\r\n', [[1, 2, 12.5]]],
    ['feet', 'x,y,Level (ft)\n1,2,1\n', [[1, 2, 304.8]]],
    ['decimal commas between semicolons', '# site\n\nx;y;level_mm\n1,5;2;-3,25\n', [[1.5, 2, -3.25]]],
  ])('%s', (_, text, points) => {
    expect(read(text)).toEqual(points.map(([x, y, levelMm]) => ({ at: [x, y], levelMm })));
  });
  it.each([
    ['', 'no point'],
    ['x,y,level\n1,2,3', 'line 1 must'],
    ['1,2\n', 'line 1 is no point'],
    ['0,0,1\n1,2,3,4\n', 'line 2 is no point'],
    ['0,0,1e999\n', 'line 1 is no point'],
    ['x,y,levelMm\n', 'no point'],
  ])('%j is refused', (text, why) => {
    expect(read(text)).toContain(why);
  });
});

describe('a whole job with measured levels', () => {
  // A wall of its own on a footing 15 to 20 low, under a pour line 10 below the top of forms of 2400.
  const job = {
    levels: { footingMm: 0, topMm: 2390 },
    concrete: { method: 'aci-347-si', rateMPerH: 1.5, temperatureC: 15 },
    survey: [
      { at: [200, -100], levelMm: -20 },
      { at: [3000, -100], levelMm: -15 },
    ],
  };
  const out = laidOut(laySheet(loneWall(4000, 200), job));

  it('tells drawn and measured in the report and in layout.json', () => {
    const html = textFileOf(out, '.report.html');
    expect(html).toContain('id="survey"');
    expect(html).toContain('Measured levels');
    const file = layoutSchema.parse(JSON.parse(textFileOf(out, '.layout.json')));
    const [stretch] = file.survey!;
    expect([stretch!.drawnMm, stretch!.lowestMm, stretch!.highestMm, stretch!.points]).toEqual([0, -20, -15, 2]);
    expect(stretch!.byDrawn.basesMm).toEqual([0]);
    expect(stretch!.byMeasured.basesMm).toEqual([-15]);
    expect(stretch!.byMeasured.gapMm).toEqual([0, 5]);
    expect(file.walls[0]!.base[0]).toMatchObject({ levelMm: -20, highMm: -15 });
  });

  it('says that other courses stand, since the forms would end under the pour line', () => {
    // 2400 on -15 ends at 2385, 5 under the pour line of 2390.
    expect(out.result.findings.filter((f) => f.code === 'pipeline.survey-courses')).toHaveLength(1);
    const tops = out.result.layout.pieces.filter((p) => p.kind === 'panel').map((p) => p.topMm);
    expect(Math.max(...tops)).toBeGreaterThanOrEqual(2390);
  });

  it('passes its own check', () => {
    expect(faults(out.result.findings).filter((f) => f.severity === 'failure')).toEqual([]);
  });
});

/** Walls formed on one side (worked layout 14): nothing is laid out there, and the force on the form is told. */

import { describe, expect, it } from 'vitest';
import { specialForms } from '../../src/check/index.js';
import type { FacePlan, OneSidedWish, PressureCase, Side } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { layoutSchema } from '../../src/write/json/index.js';
import { checked, faults, roomStretches, sceneOf, stretch } from '../check/support.js';
import { laidOut, laySheet, textFileOf } from '../support/lay.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';
import { loneWall } from '../support/scenes.js';

/** A room of 6000 by 4000 inside, walls of 200, perhaps with a wall across it; the lower long wall from (0, -100). */
const planWith = (oneSided: readonly OneSidedWish[], across = false, topMm = 3000): FacePlan => {
  const stretches = [...roomStretches(6000, 4000, 200), ...(across ? [stretch(3000, 0, 3000, 4000, 200)] : [])];
  const levels = { footingMm: 0, topMm, footingFrom: 'job', topFrom: 'job' } as const;
  return shape(
    { lengthUnit: 'mm', stretches, faceLines: [], ...NOTHING_ELSE, levels, levelsAt: [], oneSided },
    { gridMm: 1 },
  ).value;
};

const wish = (x: number, y: number, formed: Side | null = null): OneSidedWish => ({
  near: { x, y },
  formed,
  against: 'earth',
});

/** 25 kN/m3, limited to 60 kPa. */
const LIMITED: PressureCase = {
  method: 'worked example',
  designKpa: 60,
  rateMPerH: 2,
  temperatureC: 10,
  pourHeightMm: 3000,
  inputs: {},
  envelope: { points: [{ depthMm: 2400, kpa: 60 }] },
};

describe('worked layout 14: 3.0 m on one side', () => {
  const { value, findings } = specialForms(planWith([wish(3000, 300)]), () => LIMITED);

  it('is pushed by 108 kN/m at 1.03 m: 111.6 kNm/m', () => {
    expect(value).toHaveLength(1);
    expect(value[0]!.forceKnPerM).toBeCloseTo(108, 9);
    expect(value[0]!.armM).toBeCloseTo(1.033, 3);
    expect(value[0]!.momentKnmPerM).toBeCloseTo(111.6, 9);
  });

  it('is a failure that tells it at its place', () => {
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ code: 'check.one-sided', severity: 'failure', rule: 'T21' });
    for (const words of ['108 kN per m', '1.03 m above', '111.6 kNm', 'against earth'])
      expect(findings[0]!.message).toContain(words);
    expect(findings[0]!.at![1]).toBe(0);
  });
});

describe('a room with one wall formed on one side', () => {
  it.each([
    ['corners', false, 2],
    ['a tee', true, 3],
  ] as const)('has no piece and no tie on it, and its neighbours hold (%s)', (_, across, open) => {
    const plan = planWith([wish(4500, 300)], across, 2350);
    const wall = plan.oneSided![0]!.wall;
    expect(plan.oneSided![0]!.formed).toBe('left');
    const scene = sceneOf(plan);
    const own = new Set(plan.faces.filter((f) => f.wall === wall).map((f) => f.id));
    expect(scene.layout.pieces.filter((p) => p.covers.some((c) => own.has(c.face)))).toEqual([]);
    expect(scene.layout.ties.filter((t) => t.wall === wall)).toEqual([]);
    const told = scene.fitFindings.filter((f) => f.severity === 'failure');
    expect(told.map((f) => f.code)).toEqual(Array(open).fill('fit.end-not-laid-out'));
    // Everything else is checked as ever, and stands.
    expect(faults(checked(scene).findings)).toEqual([]);
  });

  it('that meets a through wall leaves its forms at the faces, both halves standing', () => {
    const plan = planWith([wish(2800, 2000)], true, 2350);
    const scene = sceneOf(plan);
    const told = scene.fitFindings.filter((f) => f.severity === 'failure');
    expect(told.map((f) => f.code)).toEqual(['fit.special-form', 'fit.special-form']);
    expect(faults(checked(scene).findings)).toEqual([]);
    // In the corners beside it no unit stands.
    expect(scene.layout.pieces.filter((p) => p.kind === 'inside-corner')).toHaveLength(4);
  });

  it.each([
    ['within the wall', [wish(3000, -100)], 1],
    ['said by its face', [wish(3000, -100, 'right')], 0],
    ['both sides', [wish(3000, 300), wish(3000, -400)], 1],
    ['twice the same', [wish(3000, 300), wish(1000, 300)], 0],
    ['far from every wall', [wish(3000, -5000)], 1],
  ] as const)('is unclear or clear: %s', (_, wishes, count) => {
    const levels = { footingMm: 0, topMm: 2350, footingFrom: 'job', topFrom: 'job' } as const;
    const stretches = roomStretches(6000, 4000, 200);
    const { findings } = shape(
      { lengthUnit: 'mm', stretches, faceLines: [], ...NOTHING_ELSE, levels, levelsAt: [], oneSided: wishes },
      { gridMm: 1 },
    );
    expect(findings.filter((f) => f.code === 'shape.one-sided-unclear')).toHaveLength(count);
  });
});

describe('a job that names such a wall', () => {
  const out = laidOut(
    laySheet(loneWall(4000, 200), { levels: { topMm: 2350 }, oneSided: [{ near: [2000, 500], against: 'rock' }] }),
  );

  it('ends as a failure, with the force in report, drawing and layout.json', () => {
    expect(out.exitCode).toBe(1);
    expect(out.result.layout.ties).toEqual([]);
    const file = layoutSchema.parse(JSON.parse(textFileOf(out, '.layout.json')));
    expect(file.specialForms).toHaveLength(1);
    const [form] = file.specialForms!;
    expect(form!.against).toBe('rock');
    expect(form!.momentKnmPerM).toBeCloseTo(form!.forceKnPerM * form!.armM, 2);
    expect(textFileOf(out, '.report.html')).toContain('id="special"');
    expect(textFileOf(out, '.forms.dxf')).toContain('SPECIAL FORM');
    // One face of 4.0 m by 2.35 m.
    expect(file.totals.contactAreaM2).toBeCloseTo(9.4, 6);
  });
});

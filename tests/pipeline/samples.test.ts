/** Drawings by others through the whole chain. Facts about them were read off the drawings by hand or with other programs, not off our own output. */

import { describe, expect } from 'vitest';
import { itWithSamples, sample } from '../read/samples.js';
import { fileOf, laidOut, layBytes, textFileOf } from '../support/lay.js';

/** Each sample is laid out once, when the first test asks for it. */
const outcomes = new Map<string, ReturnType<typeof layBytes>>();
const outcomeOf = (file: string) => {
  const known = outcomes.get(file);
  if (known) return known;
  const made = layBytes(sample(file), {}, file);
  outcomes.set(file, made);
  return made;
};

const essence = (outcome: ReturnType<typeof layBytes>) => {
  const layout = JSON.parse(textFileOf(outcome, '.layout.json')) as { findings: { code: string }[] };
  return { ...layout, source: null, findings: layout.findings.filter((f) => f.code !== 'read.own-entities') };
};

describe('a house plan in inches whose header says millimetres', () => {
  const FILE = 'house_foundation_plan_inches.dxf';
  itWithSamples('is read in inches, and that is said with its evidence', () => {
    const { result } = laidOut(outcomeOf(FILE));
    expect(result.source.lengthUnit).toBe('in');
    expect(result.findings.find((f) => f.code === 'trace.unit-inferred')?.severity).toBe('attention');
    expect(result.catalogue.lengthUnit).toBe('in');
  });

  itWithSamples('has eight-inch walls from the stem-wall layer, none from the floor plan or the footings', () => {
    const { result } = laidOut(outcomeOf(FILE));
    expect(new Set(result.plan.walls.map((w) => w.thicknessMm))).toEqual(new Set([203.2]));

    expect(result.plan.walls.length).toBeGreaterThanOrEqual(10);
    expect(result.plan.walls.length).toBeLessThan(20);
  });

  itWithSamples('laid out again from the returned drawing gives the same layout', () => {
    const first = outcomeOf(FILE);
    expect(essence(layBytes(fileOf(first, '.forms.dxf'), {}, FILE))).toEqual(essence(first));
  });
});

describe('a cabin of two outlines without a unit', () => {
  const FILE = 'cabin_wall_outlines.dxf';
  // Two C-shaped outlines, 150 thick, on a square of 2 x 2 m, parted by a door of 800 and a window of 1200 (dimension texts of the drawing).
  itWithSamples('has six walls of 150 on a square of two metres, in mm', () => {
    const { result } = laidOut(outcomeOf(FILE));
    expect(result.source.lengthUnit).toBe('mm');
    expect(result.plan.walls).toHaveLength(6);
    expect(result.plan.walls.every((w) => w.thicknessMm === 150)).toBe(true);
    const xs = result.plan.walls.flatMap((w) => [w.start.x, w.end.x]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(1850, 3);
    const planM2 = 4 * 2 * 0.15 - 4 * 0.15 * 0.15 - (0.8 + 1.2) * 0.15;
    expect(result.schedule.totals.concreteM3).toBeCloseTo(planM2 * 2.4, 3);
  });

  itWithSamples('laid out again from the returned drawing gives the same layout', () => {
    const first = outcomeOf(FILE);
    expect(essence(layBytes(fileOf(first, '.forms.dxf'), {}, FILE))).toEqual(essence(first));
  });
});

describe('a pavilion of single lines in metres', () => {
  const FILE = 'pavilion_plan_metres_r2013.dxf';
  itWithSamples('is read in metres from the layer Walls alone', () => {
    const { result } = laidOut(outcomeOf(FILE));
    expect(result.source.lengthUnit).toBe('m');
    const layers = result.findings.find((f) => f.code === 'trace.layers')!.message;
    expect(layers).toMatch(/taken from Walls \(60\)/);
    expect(result.plan.walls.length).toBeGreaterThan(10);
  });

  itWithSamples('keeps what can be laid out beside what cannot', () => {
    const { result } = laidOut(outcomeOf(FILE));
    const tied = new Set(result.layout.ties.map((t) => t.wall));
    expect(tied.size).toBeGreaterThan(result.plan.walls.length - 4);
  });
});

/** Hand-made face plans of one wall, for tests of the fit that need no other stage. Stations on the wall's axis, mm. */

import type { Face, FacePlan, LevelBand, RunEnd, RunStem } from '../../src/ground/vocabulary.js';
import { partAtSteps } from '../../src/shape/steps.js';

/** A square corner with a wall of `otherMm`, the left face being the inner one. `at` is the axis crossing. */
export const corner = (at: number, otherMm: number, which: 'start' | 'end'): RunEnd => {
  const d = which === 'start' ? 1 : -1;
  return {
    kind: 'corner',
    node: which === 'start' ? 'N1' : 'N2',
    inner: 'left',
    other: 'other',
    otherThicknessMm: otherMm,
    deflectionDeg: 90,
    leftMm: at + (d * otherMm) / 2,
    rightMm: at - (d * otherMm) / 2,
    leftVertex: `${which} inner`,
    rightVertex: `${which} outer`,
  };
};

export const freeEnd = (at: number, which: 'start' | 'end'): RunEnd => ({
  kind: 'free',
  node: which === 'start' ? 'N1' : 'N2',
  leftMm: at,
  rightMm: at,
});

export const stem = (fromMm: number, toMm: number): RunStem => ({
  node: 'N3',
  side: 'left',
  wall: 'stem',
  thicknessMm: toMm - fromMm,
  angleDeg: 90,
  fromMm,
  toMm,
  fromVertex: 'stem low',
  toVertex: 'stem high',
});

/** From which station on which level. */
export type Levels = readonly (readonly [fromMm: number, levelMm: number])[];

export const onePlan = (
  lengthMm: number,
  thicknessMm: number,
  topMm: number | Levels,
  start: RunEnd,
  end: RunEnd,
  stems: RunStem[] = [],
  footing: number | Levels = 0,
): FacePlan => {
  const [fromMm, toMm] = [Math.min(start.leftMm, start.rightMm), Math.max(end.leftMm, end.rightMm)];
  const bands = (levels: number | Levels): LevelBand[] => {
    const list: Levels = typeof levels === 'number' ? [[fromMm, levels]] : levels;
    return list.map(([from, levelMm], i) => ({ fromMm: from, toMm: list[i + 1]?.[0] ?? toMm, levelMm }));
  };
  const levels = { base: bands(footing), top: bands(topMm) };
  const faces: Face[] = [
    { id: 'W1-L', wall: 'W1', side: 'left', fromMm: start.leftMm, toMm: end.leftMm },
    { id: 'W1-R', wall: 'W1', side: 'right', fromMm: start.rightMm, toMm: end.rightMm },
  ];
  if (start.kind === 'free') faces.push({ id: 'W1-S', wall: 'W1', side: 'start', fromMm: 0, toMm: thicknessMm });
  if (end.kind === 'free') faces.push({ id: 'W1-E', wall: 'W1', side: 'end', fromMm: 0, toMm: thicknessMm });
  return {
    gridMm: 1,
    lengthUnit: 'mm',
    walls: [
      {
        id: 'W1',
        start: { x: 0, y: 0 },
        end: { x: lengthMm, y: 0 },
        lengthMm,
        thicknessMm,
        ...levels,
        sources: [],
      },
    ],
    nodes: [],
    faces,
    vertices: [],
    runs: partAtSteps({ wall: 'W1', thicknessMm, start, end, stems }, levels),
    openings: [],
    concrete: [],
  };
};

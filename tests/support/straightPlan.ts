/** Hand-made face plans of one wall, for tests of the fit that need no other stage. Stations on the wall's axis, mm. */

import type { Face, FacePlan, Run, RunEnd, RunStem } from '../../src/ground/vocabulary.js';

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

export const onePlan = (
  lengthMm: number,
  thicknessMm: number,
  topMm: number,
  start: RunEnd,
  end: RunEnd,
  stems: RunStem[] = [],
): FacePlan => {
  const run: Run = { wall: 'W1', thicknessMm, footingMm: 0, topMm, start, end, stems };
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
        base: [{ fromMm: start.rightMm, toMm: end.rightMm, levelMm: 0 }],
        top: [{ fromMm: start.rightMm, toMm: end.rightMm, levelMm: topMm }],
        sources: [],
      },
    ],
    nodes: [],
    faces,
    vertices: [],
    runs: [run],
    openings: [],
    concrete: [],
  };
};

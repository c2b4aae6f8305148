/** The runs of the example result: one for each of its two walls. */

import type { Run } from '../../src/ground/vocabulary.js';

export const exampleRuns = (topMm: number): Run[] => [
  {
    id: 'W1',
    wall: 'W1',
    thicknessMm: 200,
    footingMm: 0,
    topMm,
    start: {
      kind: 'corner',
      node: 'N1',
      inner: 'left',
      other: 'W2',
      otherThicknessMm: 200,
      deflectionDeg: 90,
      leftMm: 100,
      rightMm: -100,
      leftVertex: 'V2',
      rightVertex: 'V1',
    },
    end: { kind: 'free', node: 'N3', leftMm: 2700, rightMm: 2700 },
    stems: [],
  },
  {
    id: 'W2',
    wall: 'W2',
    thicknessMm: 200,
    footingMm: 0,
    topMm,
    start: {
      kind: 'corner',
      node: 'N1',
      inner: 'right',
      other: 'W1',
      otherThicknessMm: 200,
      deflectionDeg: 90,
      leftMm: -100,
      rightMm: 100,
      leftVertex: 'V1',
      rightVertex: 'V2',
    },
    end: { kind: 'free', node: 'N2', leftMm: 1900, rightMm: 1900 },
    stems: [],
  },
];

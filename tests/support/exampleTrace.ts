/** A trace made by hand with one of everything that tracing may find: for tests of its writers and of the proposed job file. No stage made it. */

import { finding } from '../../src/ground/findings.js';
import { questionsOf, type TraceResult } from '../../src/ground/questions.js';
import type { Foundation } from '../../src/ground/vocabulary.js';
import { examplePlan } from './exampleResult.js';

/** Two walls in an L (those of examplePlan), a quarter of a ring to the east, and notes around them. */
export const exampleFoundation: Foundation = {
  lengthUnit: 'mm',
  stretches: [
    {
      start: { x: 100, y: 0 },
      end: { x: 2700, y: 0 },
      thicknessMm: 200,
      startCapped: false,
      endCapped: true,
      sources: ['2A', '2B'],
    },
    {
      start: { x: 0, y: 100 },
      end: { x: 0, y: 1900 },
      thicknessMm: 200,
      startCapped: false,
      endCapped: true,
      sources: ['2C', '2D'],
    },
  ],
  faceLines: [],
  curves: [
    {
      centre: { x: 6000, y: 0 },
      radiusMm: 2000,
      fromRad: 0,
      toRad: Math.PI / 2,
      thicknessMm: 250,
      startCapped: true,
      endCapped: false,
      sources: ['3A', '3B'],
    },
  ],
  openings: [
    {
      from: { x: 1000, y: 0 },
      to: { x: 1900, y: 0 },
      thicknessMm: 200,
      kind: 'window',
      sillMm: 900,
      headMm: 2100,
      sources: ['40'],
    },
    {
      from: { x: 2700, y: 0 },
      to: { x: 3600, y: 0 },
      thicknessMm: 200,
      kind: 'door',
      sillMm: null,
      headMm: null,
      sources: ['41'],
    },
  ],
  steps: [
    { kind: 'footing', at: { x: 0, y: 1450 }, riseMm: 310, text: 'STEP FTG 310', sources: ['50'] },
    { kind: 'top', at: { x: 2000, y: 0 }, riseMm: null, text: null, sources: [] },
  ],
  pilasters: [{ at: { x: 600, y: 300 }, widthMm: 400, projectionMm: 200, sources: ['60'] }],
  bars: [
    {
      at: { x: 500, y: -900 },
      text: 'T16-200 EF',
      diameterMm: 16,
      spacingMm: 200,
      direction: 'vertical',
      faces: 'each',
      source: '70',
    },
  ],
  views: [
    { box: [-500, -1200, 8600, 2600], title: 'FOUNDATION PLAN', chosen: true, why: 'its title says foundation' },
    { box: [-500, 4000, 3000, 6000], title: null, chosen: false, why: 'it shows a section' },
  ],
  levels: { footingMm: 0, topMm: 2350, footingFrom: 'default', topFrom: 'drawing' },
  levelsAt: [
    { near: { x: 0, y: 1700 }, footingMm: 310, topMm: null, from: 'drawing', text: 'T/FTG +0.310' },
    { near: { x: 2400, y: 200 }, footingMm: null, topMm: 2350, from: 'job', text: null },
  ],
};

const findings = [
  finding('trace.no-wall', 'A failure with a place, to see its sign.', { at: [7000, 1000, 0] }),
  finding('trace.opening-unclear', 'A door of 900 mm between two walls in line.', { at: [3150, 0, 0] }),
  finding('trace.levels-assumed', 'Levels were not given.', { assumed: 'top of the footing at 0 mm' }),
  finding('trace.layers', 'Wall linework was taken from S-FNDN-WALL (4).'),
];

export const exampleTrace: TraceResult = {
  source: { file: 'plan.dxf', sha256: 'ab'.repeat(32), kind: 'dxf', lengthUnit: 'mm' },
  foundation: exampleFoundation,
  plan: {
    ...examplePlan,
    concrete: [
      [
        { x: -100, y: -100 },
        { x: 2700, y: -100 },
        { x: 2700, y: 100 },
        { x: 100, y: 100 },
        { x: 100, y: 1900 },
        { x: -100, y: 1900 },
      ],
    ],
  },
  layers: ['S-FNDN-WALL'],
  textHeightMm: 150,
  questions: questionsOf(findings),
  findings,
};

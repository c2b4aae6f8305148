/** Nothing told by the job file: tracing decides, and says so. */

import type { ModelTraceOptions, TraceOptions } from '../../src/ground/vocabulary.js';

export const NOTHING_TOLD: TraceOptions = {
  unit: null,
  wallLayers: [],
  ignoreLayers: [],
  centreLineLayers: [],
  thicknessMm: null,
  area: null,
  levels: { footingMm: null, topMm: null },
  levelsAt: [],
  steps: [],
  openings: [],
};

export const NOTHING_TOLD_OF_MODEL: ModelTraceOptions = {
  ...NOTHING_TOLD,
  storeys: [],
  takeElements: [],
  ignoreElements: [],
  concreteMaterials: [],
};

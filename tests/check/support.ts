/** From walls to a checked layout: the stages between, as the pipeline joins them, for tests of the check. */

import type { SiteOptions } from '../../src/check/bracing/options.js';
import {
  type AciSiInputs,
  type ConcreteInputs,
  check,
  pressureCase,
  rowLoads,
  voidColumns,
} from '../../src/check/index.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS, fit as fitRuns } from '../../src/fit/index.js';
import type { Finding, Staged } from '../../src/ground/findings.js';
import type {
  Catalogue,
  CheckedLayout,
  FacePlan,
  Foundation,
  Layout,
  PressureCase,
  RunDemand,
  WallStretch,
} from '../../src/ground/vocabulary.js';
import { voidsOf } from '../../src/ground/voids.js';
import { shape } from '../../src/shape/index.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';

/** Aligners, braces and platforms as the pipeline asks for them by default, by the European rules. */
export const SITE: SiteOptions = {
  code: 'en',
  aligners: null,
  platforms: null,
  windKpa: null,
  windCoefficient: null,
  freeOutsideMm: null,
  dropMm: 1800,
  platformKpa: 1.5,
};

/** The concrete of the worked examples: ACI 347 SI, W1, 43.1 kPa at a pour of 2350. */
export const WORKED_CONCRETE: AciSiInputs = {
  method: 'aci-347-si',
  rateMPerH: 1.5,
  temperatureC: 15,
  densityKgPerM3: 2400,
  chemistryCoefficient: 1,
  slumpMm: 100,
};

export const stretch = (
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  thicknessMm: number,
  caps: readonly [boolean, boolean] = [false, false],
): WallStretch => ({
  start: { x: x0, y: y0 },
  end: { x: x1, y: y1 },
  thicknessMm,
  startCapped: caps[0],
  endCapped: caps[1],
  sources: [`${x0},${y0}`],
});

/** Four walls round a room of these inside lengths. */
export const roomStretches = (insideX: number, insideY: number, t: number): WallStretch[] => [
  stretch(0, -t / 2, insideX, -t / 2, t),
  stretch(0, insideY + t / 2, insideX, insideY + t / 2, t),
  stretch(-t / 2, 0, -t / 2, insideY, t),
  stretch(insideX + t / 2, 0, insideX + t / 2, insideY, t),
];

export const planOf = (stretches: readonly WallStretch[], topMm: number, gridMm = 1): FacePlan => {
  const foundation: Foundation = {
    lengthUnit: 'mm',
    stretches,
    faceLines: [],
    ...NOTHING_ELSE,
    levels: { footingMm: 0, topMm, footingFrom: 'job', topFrom: 'job' },
    levelsAt: [],
  };
  return shape(foundation, { gridMm }).value;
};

export interface Scene {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly demands: ReadonlyMap<string, RunDemand>;
  readonly pressure: ReadonlyMap<string, PressureCase>;
  readonly layout: Layout;
  readonly fitFindings: readonly Finding[];
}

/** From a tie's axis to an edge of the concrete: the setting's 75 and half a tie. */
export const TIE_TO_EDGE_MM = 75 + 6;

export const sceneOf = (
  plan: FacePlan,
  catalogue: Catalogue = workedExampleCatalogue,
  concrete: ConcreteInputs = WORKED_CONCRETE,
  phaseOf: ReadonlyMap<string, number> | undefined = undefined,
): Scene => {
  const stacks = chooseStacks(plan, catalogue, DEFAULT_FIT_OPTIONS, phaseOf);
  const demands = new Map<string, RunDemand>();
  const pressure = new Map<string, PressureCase>();
  for (const run of plan.runs) {
    const choice = stacks.value.get(run.id);
    if (!choice) continue;
    const made = pressureCase(concrete, run.topMm - run.footingMm).value;
    const rows = rowLoads({
      ...choice,
      footingMm: run.footingMm,
      topMm: run.topMm,
      envelope: made.envelope,
      subject: run.id,
    });
    const { envelope } = made;
    const opened = voidColumns({
      run,
      rows: rows.value,
      voids: voidsOf(plan, run),
      clearMm: TIE_TO_EDGE_MM,
      ...choice,
      envelope,
    });
    pressure.set(run.id, made);
    demands.set(run.id, {
      stack: choice.stack,
      rows: rows.value,
      designKpa: made.designKpa,
      ...(opened.none.length > 0 ? { keepClear: opened.none } : {}),
      ...(opened.columns.length > 0 ? { voidColumns: opened.columns } : {}),
      ...(opened.shares ? { shares: opened.shares } : {}),
    });
  }
  const laid = fitRuns(plan, catalogue, demands, DEFAULT_FIT_OPTIONS);
  return { plan, catalogue, demands, pressure, layout: laid.value, fitFindings: laid.findings };
};

export const checked = (scene: Scene): Staged<CheckedLayout> => check(scene);

const ON_EVERY_LAYOUT: readonly string[] = [
  'check.in-plane',
  'check.clamps-not-checked',
  'check.tie-leaves',
  'check.bulkhead',
  'check.rising-foot',
  'check.by-crane',
  'check.by-two',
  'check.clean-out',
  'check.no-clean-out',
  'check.no-strip',
];

/** Findings less those that stand on every layout. */
export const faults = (findings: readonly Finding[]): Finding[] =>
  findings.filter((f) => !ON_EVERY_LAYOUT.includes(f.code));

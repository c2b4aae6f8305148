/** A plan laid out and checked under the hand-worked row loads: ACI 347 SI, 1.5 m/h, 15 degC, pour 2350, tributary strips. */

import { check } from '../../src/check/index.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS, fit as fitPlan } from '../../src/fit/index.js';
import type { Catalogue, Foundation, PressureCase, RunDemand } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';

const ROW_LOADS = [25.78, 20.48, 12.0, 3.56];
/** Design pressure, kPa. */
export const P = 43.1;

/** `share` of the loads and of the pressure. */
export const layOutByHand = (found: Foundation, catalogue: Catalogue, share = 1, options = DEFAULT_FIT_OPTIONS) => {
  const plan = shape(found, { gridMm: 1 }).value;
  const demands = new Map<string, RunDemand>();
  const pressure = new Map<string, PressureCase>();
  for (const [run, { stack, rowLevelsMm }] of chooseStacks(plan, catalogue, options).value) {
    const rows = rowLevelsMm.map((levelMm, i) => ({
      row: i + 1,
      levelMm,
      kNPerM: ROW_LOADS[i]! * share,
      stripKnPerM: ROW_LOADS[i]! * share,
    }));
    demands.set(run, { stack, rows, designKpa: P * share });
    const points = [
      { depthMm: 0, kpa: 0 },
      { depthMm: 1831, kpa: P * share },
      { depthMm: 2350, kpa: P * share },
    ];
    pressure.set(run, { method: 'by hand', envelope: { points } } as unknown as PressureCase);
  }
  const { value: layout, findings } = fitPlan(plan, catalogue, demands, options);
  const checked = check({ plan, catalogue, layout, demands, pressure }).findings;
  const failures = [...findings, ...checked].filter((f) => f.severity === 'failure');
  return { plan, layout, findings, checked, failures, demands, pressure };
};

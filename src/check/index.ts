/** Check: pressure of fresh concrete, loads of tie rows, and the statics of a layout, independent of how the fit found it. */

export type { SideWish, SiteCode, SiteOptions } from './bracing/options.js';
export { velocityPressureKpa } from './bracing/wind.js';
export { type ChainAnswer, type ChainProblem, chainReactions, fixedGroups, isFixed } from './chain.js';
export { type CheckInput, check } from './check.js';
export type {
  AciSiInputs,
  AciUsInputs,
  CiriaInputs,
  ConcreteInputs,
  Consistency,
  DinInputs,
  HydrostaticInputs,
  Placing,
  PourShape,
} from './concrete.js';
export type { InTheWay } from './context.js';
export { pressureAt } from './envelope.js';
export { type BarSpec, barSpacing, barsFromMm, type EvenBars, evenBars, horizontalLevels } from './evenBars.js';
export { GANG_RULES } from './gangs/options.js';
export { DEFAULT_HAND_SET, type HandSet } from './handling.js';
export { type KeepClearQuestion, keepClear, mergedIntervals, metAlong, RIBS } from './keepClear.js';
export { specialForms } from './oneSided.js';
export { carriesOnRows } from './onRows.js';
export { pressureCase } from './pressure.js';
export type { PourAmount, RateQuestion } from './rates.js';
export { type RowsQuestion, rowLoads } from './rows.js';
export { stripping } from './stripping.js';
export type { CoverOfBars } from './tieKinds.js';
export { tolerances } from './tolerances.js';
export { type VoidColumns, type VoidColumnsQuestion, voidColumns } from './voidColumns.js';

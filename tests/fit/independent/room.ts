/** A closed room for the project's fit and for the integer program of the whole plan. */

import { DEFAULT_FIT_OPTIONS, fit as fitPlan, type Programs } from '../../../src/fit/index.js';
import type { Catalogue, Layout, RunDemand } from '../../../src/ground/vocabulary.js';
import { planOf, roomStretches } from '../../check/support.js';
import type { RoomWall } from './milpPlan.js';
import { type Cost, type FillerRule, zoneOf } from './problem.js';
import { HEIGHT_MM, TIE_KN } from './yards.js';

const TOP_MM = 2350;

export interface RoomCase {
  readonly catalogue: Catalogue;
  readonly insideMm: readonly [number, number];
  readonly thicknessMm: number;
  readonly designKpa: number;
  readonly tieStripMm: number;
}

const facesOf = ({ insideMm, thicknessMm }: RoomCase) => planOf(roomStretches(...insideMm, thicknessMm), TOP_MM);

export const roomWalls = (room: RoomCase, rule: FillerRule): RoomWall[] =>
  facesOf(room).runs.map((run) => ({
    startNode: run.start.node!,
    endNode: run.end.node!,
    zone: zoneOf(
      run,
      room.catalogue,
      HEIGHT_MM,
      { ...DEFAULT_FIT_OPTIONS, designKpa: room.designKpa, tieStripMm: room.tieStripMm, rows: 1, keepClear: [] },
      rule,
      true,
    ),
  }));

export const roomByTheFit = (
  room: RoomCase,
  programs: Programs | null = null,
): { cost: Cost | null; short: number; layout: Layout } => {
  const plan = facesOf(room);
  const kNPerM = (TIE_KN / room.tieStripMm) * 1000;
  const demand: RunDemand = {
    stack: { baseMm: 0, heightsMm: [HEIGHT_MM] },
    rows: [{ row: 1, levelMm: 300, kNPerM, stripKnPerM: kNPerM }],
    designKpa: room.designKpa,
  };
  const demands = new Map(plan.runs.map((run): [string, RunDemand] => [run.wall, demand]));
  const { value } = fitPlan(plan, room.catalogue, demands, DEFAULT_FIT_OPTIONS, programs);
  const tier = (name: string) => value.tiers.find((t) => t.name === name)!.value;
  const area = Math.round((tier('timberAreaM2') * 1e6) / TOP_MM);
  const cost: Cost = [tier('places'), area, tier('steelFillers'), tier('tiesAndUnits'), tier('runPast')];
  return { cost: tier('failures') > 0 ? null : cost, short: tier('short'), layout: value };
};

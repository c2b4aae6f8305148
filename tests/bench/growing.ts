/** How the time of the fit grows: with houses that stand apart, with walls that all hang together, with the steps of one wall. Ratios to the first row. */

import { demoCatalogue } from '../../src/catalogue/index.js';
import { costOrder } from '../../src/fit/cost.js';
import { emit } from '../../src/fit/emit.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import { modelRuns } from '../../src/fit/plan.js';
import { solvePlan } from '../../src/fit/search.js';
import type { FacePlan, RunDemand } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, stretch } from '../check/support.js';
import { corner, onePlan } from '../support/straightPlan.js';

const THICKNESS_MM = 250;
const HALF_MM = THICKNESS_MM / 2;
const TOP_MM = 2350;

/** Lengths that differ from one to the next, on a grid of 25, the same in every run. */
const varied = (i: number): number => ((i * 7919) % 13) * 25;

/** Rooms that share nothing. */
const apart = (rooms: number): FacePlan =>
  planOf(
    Array.from({ length: rooms }, (_, i) =>
      roomStretches(5000 + varied(i), 4000 + varied(i + 5), THICKNESS_MM).map((s) => {
        const [dx, dy] = [(i % 100) * 15_000, Math.floor(i / 100) * 15_000];
        const by = (p: { x: number; y: number }) => ({ x: p.x + dx, y: p.y + dy });
        return { ...s, start: by(s.start), end: by(s.end) };
      }),
    ).flat(),
    TOP_MM,
  );

/** Houses in a row with party walls between them: two long walls, tees along both. */
const terrace = (houses: number): FacePlan => {
  const [widthMm, depthMm] = [5000, 8000];
  const lengthMm = houses * widthMm;
  const long = [0, depthMm].map((y) => stretch(HALF_MM, y, lengthMm - HALF_MM, y, THICKNESS_MM));
  const party = Array.from({ length: houses + 1 }, (_, i) => {
    const x = i * widthMm + (i > 0 && i < houses ? varied(i) : 0);
    return stretch(x, HALF_MM, x, depthMm - HALF_MM, THICKNESS_MM);
  });
  return planOf([...long, ...party], TOP_MM);
};

/** One wall that turns at every corner, like stairs seen from above: as many corners as walls. */
const stairs = (walls: number): FacePlan => {
  const list: ReturnType<typeof stretch>[] = [];
  let [x, y] = [0, 0];
  for (let i = 0; i < walls; i++) {
    const [nextX, nextY] = i % 2 === 1 ? [x, y + 3000 + varied(i)] : [x + 5000 + varied(i), y];
    const [from, to] = [i > 0 ? HALF_MM : 0, i < walls - 1 ? HALF_MM : 0];
    const caps = [i === 0, i === walls - 1] as const;
    list.push(
      i % 2 === 1
        ? stretch(x, y + from, nextX, nextY - to, THICKNESS_MM, caps)
        : stretch(x + from, y, nextX - to, nextY, THICKNESS_MM, caps),
    );
    [x, y] = [nextX, nextY];
  }
  return planOf(list, TOP_MM);
};

/** One wall between corners with risers of 190 some 2400 apart. */
const stepped = (steps: number): FacePlan => {
  const lengthMm = (steps + 1) * 2400 + 600;
  const levels = Array.from({ length: steps + 1 }, (_, i): [number, number] => [
    i === 0 ? -100 : i * 2400 + varied(i),
    i * 190,
  ]);
  const tops = levels.map(([s, z]): [number, number] => [s, z + TOP_MM]);
  return onePlan(lengthMm, 200, tops, corner(0, 200, 'start'), corner(lengthMm, 200, 'end'), [], levels);
};

/** Row loads of the worked examples, kN/m: ACI 347 SI, 1.5 m/h, 15 degC. */
const ROWS_KN_PER_M = [25.78, 20.48, 12.0, 3.56];

const demandsFor = (plan: FacePlan): Map<string, RunDemand> =>
  new Map(
    [...chooseStacks(plan, demoCatalogue, DEFAULT_FIT_OPTIONS).value].map(([run, { stack, rowLevelsMm }]) => {
      const rows = rowLevelsMm.map((levelMm, i) => {
        const kNPerM = ROWS_KN_PER_M[Math.min(i, ROWS_KN_PER_M.length - 1)]!;
        return { row: i + 1, levelMm, kNPerM, stripKnPerM: kNPerM };
      });
      return [run, { stack, rows, designKpa: 43.1 }];
    }),
  );

const rows = (name: string, unit: string, planFor: (n: number) => FacePlan, counts: readonly number[]): void => {
  console.log(`\ngrowth of the fit: ${name}`);
  let first: number | null = null;
  for (const n of counts) {
    const plan = planFor(n);
    const demands = demandsFor(plan);
    const start = performance.now();
    const model = modelRuns(
      plan,
      demoCatalogue,
      demands,
      DEFAULT_FIT_OPTIONS,
      costOrder(DEFAULT_FIT_OPTIONS.costOrder),
    );
    const solved = solvePlan(model);
    const { pieces } = emit(plan, demoCatalogue, solved, []);
    const each = (performance.now() - start) / n;
    first ??= each;
    const text = `${String(n).padStart(6)} ${unit}   ${String(plan.walls.length).padStart(6)} walls   time of each ${(each / first).toFixed(2)} of the first row's`;
    console.log(`  ${text}   pieces of each ${(pieces.length / n).toFixed(0)}`);
  }
};

export const growing = (quick: boolean): void => {
  // What is compiled once is compiled before anything is measured.
  solvePlan(
    modelRuns(
      apart(1),
      demoCatalogue,
      demandsFor(apart(1)),
      DEFAULT_FIT_OPTIONS,
      costOrder(DEFAULT_FIT_OPTIONS.costOrder),
    ),
  );
  rows('rooms apart', 'rooms', apart, quick ? [2, 10] : [2, 20, 200, 2500]);
  rows('a terrace, all walls hanging together', 'houses', terrace, quick ? [2, 5] : [2, 10, 100, 1000]);
  rows('one wall that turns', 'walls', stairs, quick ? [10, 40] : [10, 100, 1000, 10_000]);
  rows('one wall with steps', 'steps', stepped, quick ? [1, 4] : [1, 4, 16, 64]);
};

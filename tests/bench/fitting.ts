/**
 * The fit: what it gains over filling each stretch widest first, how its time grows, and how it stands against a mixed-integer program of the same
 * walls. Times are ratios within one run.
 */

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { costOrder } from '../../src/fit/cost.js';
import { DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import { modelRuns, type SolvedPlan } from '../../src/fit/plan.js';
import { solvePlan } from '../../src/fit/search.js';
import { milp } from '../fit/independent/milp.js';
import { byTheFit, referenceZone, type WallCase } from '../fit/independent/wall.js';
import { yardOf } from '../fit/independent/yards.js';
import { jobBeside } from '../support/lay.js';
import { FIXTURES } from '../support/makeFixtures.js';
import { jobOf, type Question, questionOf } from '../support/question.js';
import { growing } from './growing.js';

const LEVELS = { levels: { footingMm: 0, topMm: 2350 }, concrete: { rateMPerH: 1.5, temperatureC: 15 } };
const SAMPLE_FOLDER = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

const solve = ({ plan, catalogue, demands }: Question): SolvedPlan =>
  solvePlan(modelRuns(plan, catalogue, demands, DEFAULT_FIT_OPTIONS, costOrder(DEFAULT_FIT_OPTIONS.costOrder)));

interface Fill {
  places: number;
  areaM2: number;
}

/**
 * Each stretch between corner units filled widest first, what is left by fillers, what they leave by timber. Where that is too narrow to be cut the last
 * unit set is taken out again. Ties, loads and common joints are left out of account, which favours this way of filling.
 */
const widestFirst = (solved: SolvedPlan): Fill => {
  const fill: Fill = { places: 0, areaM2: 0 };
  for (const run of solved.runs) {
    const { gear, heightGu } = run.model.ctx;
    for (const zone of run.zones) {
      let left = zone.toGu - zone.fromGu;
      let last = 0;
      const widths = [
        ...gear.panels.map((p) => p.widthGu),
        ...gear.fillers.map((f) => f.widthGu).sort((a, b) => b - a),
      ];
      for (const widthGu of widths) {
        const n = Math.max(0, Math.floor(left / widthGu));
        left -= n * widthGu;
        if (n > 0) last = widthGu;
      }
      if (left <= 0) continue;
      if (left < gear.timberLeastGu) left += last;
      fill.places++;
      fill.areaM2 += (2 * left * heightGu * gear.gridMm ** 2) / 1e6;
    }
  }
  return fill;
};

/** Places and area between the corner units, as the fit leaves them. */
const asFitted = (solved: SolvedPlan): Fill => {
  const fill: Fill = { places: 0, areaM2: 0 };
  for (const run of solved.runs) {
    const { gear, heightGu } = run.model.ctx;
    for (const zone of run.zones)
      for (const placed of zone.answer?.placed ?? []) {
        if (placed.tied) continue;
        fill.places++;
        fill.areaM2 += (2 * placed.lengthGu * heightGu * gear.gridMm ** 2) / 1e6;
      }
  }
  return fill;
};

/** Quick: the fixtures alone. */
const gain = (quick: boolean): void => {
  const fixtures = readdirSync(FIXTURES).flatMap((folder) =>
    readdirSync(FIXTURES + folder)
      .filter((f) => f.endsWith('.dxf') && !folder.startsWith('03') && !folder.startsWith('04'))
      .map((f) => ({
        name: `${folder}/${f}`,
        path: `${FIXTURES}${folder}/${f}`,
        job: jobBeside(`${FIXTURES}${folder}/${f}`),
      })),
  );
  const samples =
    !quick && existsSync(SAMPLE_FOLDER)
      ? readdirSync(SAMPLE_FOLDER)
          .filter((f) => f.endsWith('.dxf'))
          .sort()
          .map((f) => ({ name: f, path: SAMPLE_FOLDER + f, job: LEVELS }))
      : [];
  console.log(
    `\n${'fill, against widest first'.padEnd(44)} stretches   fit: places    m2   widest first: places    m2`,
  );
  for (const { name, path, job } of [...fixtures, ...samples]) {
    const question = questionOf(new Uint8Array(readFileSync(path)), jobOf(job));
    if (!question || question.demands.size === 0) continue;
    const solved = solve(question);
    const [ours, greedy] = [asFitted(solved), widestFirst(solved)];
    const zones = solved.runs.reduce((n, r) => n + r.zones.length, 0);
    const col = (n: number, digits = 0) => n.toFixed(digits).padStart(9);
    console.log(
      `${name.padEnd(44)} ${col(zones)}     ${col(ours.places)} ${col(ours.areaM2, 3)}        ${col(greedy.places)} ${col(greedy.areaM2, 3)}`,
    );
  }
};

const timed = (body: () => unknown): number => {
  body();
  const start = performance.now();
  body();
  return performance.now() - start;
};

const lengths = (list: readonly number[]): void => {
  const yard = yardOf({ widths: [600, 450, 300], fillers: [50] });
  const wallOf = (innerMm: number): WallCase => ({
    catalogue: yard,
    innerMm,
    thicknessMm: 250,
    start: { kind: 'corner', otherMm: 250 },
    end: { kind: 'corner', otherMm: 250 },
    designKpa: 43.1,
    tieStripMm: 776,
  });
  console.log('\nfit against the mixed-integer program of the same wall');
  let first: { innerMm: number; ms: number } | null = null;
  for (const innerMm of list) {
    const wall = wallOf(innerMm);
    const ours = timed(() => byTheFit(wall));
    const zone = referenceZone(wall, { mostPerPanel: 2, bothEdges: true });
    first ??= { innerMm, ms: ours };
    const growthHere = ours / first.ms / (innerMm / first.innerMm);
    const withProgram = innerMm <= 4000;
    const start = performance.now();
    const peer = withProgram ? milp(zone) : null;
    const ms = performance.now() - start;
    const same = peer && JSON.stringify(peer.cost) === JSON.stringify(byTheFit(wall).cost);
    const against = withProgram
      ? `program ${(ms / ours).toFixed(0)} times slower, ${same ? 'equal cost' : 'OTHER COST'}`
      : 'program not run';
    console.log(
      `  ${String(innerMm).padStart(6)} mm   ${against}   time a metre ${growthHere.toFixed(2)} of the first row's`,
    );
  }
};

export const fitting = (quick: boolean): void => {
  gain(quick);
  growing(quick);
  lengths(quick ? [1500, 3000] : [1500, 2500, 4000, 8000, 16000, 32000]);
};

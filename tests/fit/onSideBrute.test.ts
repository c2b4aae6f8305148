/**
 * Every sequence of a short low wall, tried one by one: units upright and on their side, every choice of holes, reactions by the stiffness matrix of the
 * chain and standing by plain iteration, both written apart from the fit. The cheapest is what the fit must find.
 */

import { describe, expect, it } from 'vitest';
import type { Catalogue } from '../../src/ground/vocabulary.js';
import { matrixReactions } from '../support/chainMatrix.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { standAndLay } from '../support/standing.js';
import { corner, onePlan } from '../support/straightPlan.js';

const UPRIGHT = [600, 450, 250];
const LONG = [1200, 900];
/** Stations of the holes of the panels on their side, from their ends. */
const HOLES: Readonly<Record<number, readonly number[]>> = { 1200: [300, 900], 900: [300, 600] };
/** Pressure at the foot of 450 of concrete of 23.54 kN/m3, and the rating over 600 of every unit. */
const [P, RATED, SPAN] = [0.45 * 23.536, 60, 600];
/** What the corner hands on, on either face: (k + a) / 2 = (300 + 150) / 2. */
const V = 225;

const yard: Catalogue = {
  ...workedExampleCatalogue,
  units: workedExampleCatalogue.units.filter((u) =>
    u.kind === 'panel'
      ? (u.heightMm === 600 && UPRIGHT.includes(u.widthMm)) || (u.widthMm === 450 && LONG.includes(u.heightMm))
      : u.kind !== 'filler' && u.heightMm === 600,
  ),
};

interface Unit {
  readonly from: number;
  readonly length: number;
  readonly turned: boolean;
  readonly ties: readonly number[];
}

/** Does every unit stand on two supports, within its overhang, and span no further than its rating lasts? */
const stands = (units: readonly Unit[]): boolean => {
  const joints = [units[0]!.from, ...units.map((u) => u.from + u.length)];
  const supports = units.flatMap((u) => u.ties);
  const reactions = matrixReactions(joints, supports, V, V);
  if (!reactions || reactions.some((r) => r < -1e-6)) return false;
  const shears = [V];
  units.forEach((u, i) => {
    const taken = supports.reduce((sum, s, k) => (s > u.from && s < u.from + u.length ? sum + reactions[k]! : sum), 0);
    shears.push(shears[i]! + u.length - taken);
  });
  const reach = (turned: boolean, v: number) => {
    const tip = Math.max(0, v);
    const bending = -tip + Math.sqrt(tip * tip + (SPAN * SPAN * RATED) / (4 * P));
    return Math.min(turned ? Math.min((150 * RATED) / P, 300) : 150, bending) + 1e-6;
  };
  const longest = SPAN * (RATED / P) ** (1 / 3) + 1e-6;
  const fixed = units.map(() => false);
  for (let changed = true; changed; ) {
    const next = units.flatMap((u, i) => {
      const points = [...(fixed[i - 1] ? [u.from] : []), ...u.ties, ...(fixed[i + 1] ? [u.from + u.length] : [])];
      if (fixed[i] || points.length < 2) return [];
      const [low, high] = [points[0]! - u.from, u.from + u.length - points[points.length - 1]!];
      const spans = points.slice(1).map((x, k) => x - points[k]!);
      const holds =
        low <= reach(u.turned, shears[i]!) && high <= reach(u.turned, -shears[i + 1]!) && Math.max(...spans) <= longest;
      return holds ? [i] : [];
    });
    for (const i of next) fixed[i] = true;
    changed = next.length > 0;
  }
  return fixed.every(Boolean);
};

/** Units on both faces and ties of all rows of the cheapest way to close a zone; Infinity where none does. */
const cheapest = (zone: number): number => {
  let best = Number.POSITIVE_INFINITY;
  const subsets = (holes: readonly number[]) =>
    Array.from({ length: 2 ** holes.length }, (_, m) => holes.filter((_h, i) => (m >> i) & 1));
  const visit = (units: readonly Unit[], at: number, cost: number): void => {
    if (cost >= best) return;
    if (at === zone) {
      if (units.length > 0 && stands(units)) best = cost;
      return;
    }
    const offer = (length: number, turned: boolean, holes: readonly number[]) => {
      if (at + length > zone) return;
      for (const ties of subsets(holes)) {
        const unit = { from: at, length, turned, ties: ties.map((t) => at + t) };
        visit([...units, unit], at + length, cost + 2 + ties.length * (turned ? 2 : 1));
      }
    };
    for (const l of LONG) offer(l, true, HOLES[l]!);
    for (const w of UPRIGHT) offer(w, false, [50, w - 50]);
  };
  visit([], 0, 0);
  return best;
};

describe('short low walls, 450 high and 300 thick', () => {
  it.each([900, 1050, 1200, 1350, 1450, 1650, 1800, 1950, 2100])('%d between the corner legs', (zone) => {
    const length = zone + 2 * 300;
    const plan = onePlan(length, 300, 450, corner(0, 300, 'start'), corner(length, 300, 'end'));
    const { layout } = standAndLay(plan, yard);
    const tier = (name: string) => layout.tiers.find((t) => t.name === name)!;
    expect(tier('failures').value + tier('places').value).toBe(0);
    // One panel more at either end of the outer face.
    expect(tier('tiesAndUnits')).toMatchObject({ value: cheapest(zone) + 2, optimal: true });
  });
});

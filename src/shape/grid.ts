/**
 * Brings faces and ends onto the grid of the gear.
 *
 * Not lengths are rounded but the coordinates of face lines, per direction: so every length between parallel faces is a whole number
 * of grid steps and a closed room still closes. The grid's phase in each direction is where most length of the drawing lies
 * already, so a plan that is drawn in whole steps is not moved at all, wherever it lies and however it is turned.
 */

import { byNumber, inOrder } from '../ground/order.js';
import { type Bar, type Direction, endOf, type Joint, lengthOf } from './model.js';

export interface Grid {
  readonly stepMm: number;
  /** The nearest grid line to a coordinate along the unit vector of the direction. */
  readonly snap: (direction: Direction, coordinateMm: number) => number;
  /** Fractional place between two grid lines, 0 to 1. */
  readonly fractionOf: (direction: Direction, coordinateMm: number) => number;
}

interface WeightedLine {
  readonly coordinateMm: number;
  readonly weight: number;
}

/** Lines that lie within this part of a step of each other count as agreeing. */
const AGREE_STEPS = 0.1;
/** Only this many of the heaviest lines are tried as the phase. */
const PHASES_TRIED = 100;
/** Lines half-way between two grid lines go to the upper one, and floating-point noise must not decide otherwise. */
const HALF_BIAS = 1e-6;

const keyOf = (direction: Direction): number => 2 * direction.family + direction.axis;
/** Key of the direction across, and +1 when n is that direction's own unit vector, -1 when it is opposite. */
const acrossOf = (d: Direction): { readonly key: number; readonly sign: 1 | -1 } => ({
  key: 2 * d.family + (1 - d.axis),
  sign: (Math.abs(d.n.x) <= 1e-9 ? d.n.y > 0 : d.n.x > 0) ? 1 : -1,
});

/** a - b in steps, brought to [-1/2, 1/2]. */
const offStep = (a: number, b: number, stepMm: number): number => {
  const d = (a - b) / stepMm;
  return d - Math.round(d);
};

/** The phase on which most weight agrees; of equals the one nearest to the heaviest line. */
const phaseOf = (lines: readonly WeightedLine[], stepMm: number): number => {
  const heaviest = [...lines].sort(
    inOrder(
      byNumber((l) => -l.weight),
      byNumber((l) => l.coordinateMm),
    ),
  );
  const agreeing = (at: number) => lines.filter((l) => Math.abs(offStep(l.coordinateMm, at, stepMm)) <= AGREE_STEPS);
  const weightOf = (ls: readonly WeightedLine[]) => ls.reduce((sum, l) => sum + l.weight, 0);
  let best: readonly WeightedLine[] = [];
  let bestAt = 0;
  for (const line of heaviest.slice(0, PHASES_TRIED)) {
    const agreed = agreeing(line.coordinateMm);
    if (weightOf(agreed) > weightOf(best) * (1 + 1e-9)) {
      best = agreed;
      bestAt = line.coordinateMm;
    }
  }
  if (best.length === 0) return 0;
  const mean = best.reduce((sum, l) => sum + offStep(l.coordinateMm, bestAt, stepMm) * l.weight, 0) / weightOf(best);
  const steps = (bestAt / stepMm + mean) % 1;
  // A phase that is 0 but for noise is 0: coordinates that were drawn whole stay whole.
  return Math.abs(steps - Math.round(steps)) < 1e-6 ? 0 : steps * stepMm;
};

/** Joints where the concrete ends square across a bar: free ends and changes of thickness. */
const isSquareEnd = (joint: Joint, bars: readonly Bar[]): boolean =>
  joint.passes.length === 0 &&
  (joint.ends.length === 1 ||
    (joint.ends.length === 2 && bars[joint.ends[0]!.bar]!.direction === bars[joint.ends[1]!.bar]!.direction));

const meanEnd = (joint: Joint, bars: readonly Bar[]): number =>
  joint.ends.reduce((sum, e) => sum + endOf(bars[e.bar]!, e.end), 0) / joint.ends.length;

const linesOf = (bars: readonly Bar[], joints: readonly Joint[], stepMm: number): Map<number, WeightedLine[]> => {
  const lines = new Map<number, WeightedLine[]>();
  const put = (key: number, coordinateMm: number, weight: number) => {
    const list = lines.get(key);
    if (list) list.push({ coordinateMm, weight });
    else lines.set(key, [{ coordinateMm, weight }]);
  };
  for (const bar of bars) {
    const { key, sign } = acrossOf(bar.direction);
    const half = onStep(bar.thicknessMm, stepMm) / 2;
    put(key, sign * bar.offsetMm - half, lengthOf(bar));
    put(key, sign * bar.offsetMm + half, lengthOf(bar));
  }
  for (const joint of joints) {
    if (!isSquareEnd(joint, bars)) continue;
    const bar = bars[joint.ends[0]!.bar]!;
    put(keyOf(bar.direction), meanEnd(joint, bars), bar.thicknessMm);
  }
  return lines;
};

const onStep = (lengthMm: number, stepMm: number): number => Math.max(1, Math.round(lengthMm / stepMm)) * stepMm;

/** The grid of this plan: `stepMm` with a phase for each direction. */
const gridOf = (bars: readonly Bar[], joints: readonly Joint[], stepMm: number): Grid => {
  const phases = new Map([...linesOf(bars, joints, stepMm)].map(([key, lines]) => [key, phaseOf(lines, stepMm)]));
  const steps = (key: number, coordinateMm: number) => (coordinateMm - (phases.get(key) ?? 0)) / stepMm;
  return {
    stepMm,
    snap: (direction, coordinateMm) => {
      const key = keyOf(direction);
      return (phases.get(key) ?? 0) + Math.round(steps(key, coordinateMm) + HALF_BIAS) * stepMm;
    },
    fractionOf: (direction, coordinateMm) => {
      const s = steps(keyOf(direction), coordinateMm);
      return s - Math.floor(s);
    },
  };
};

export interface Snapped {
  readonly grid: Grid;
  /** The same bars in the same order: thickness, faces and square ends on the grid. */
  readonly bars: readonly Bar[];
}

/** Puts thicknesses, face lines, free ends and changes of thickness on the grid of `stepMm`. */
export const snapToGrid = (bars: readonly Bar[], joints: readonly Joint[], stepMm: number): Snapped => {
  const grid = gridOf(bars, joints, stepMm);
  const snapped = bars.map((bar): Bar => {
    const thicknessMm = onStep(bar.thicknessMm, stepMm);
    const { sign } = acrossOf(bar.direction);
    const across: Direction = { ...bar.direction, axis: bar.direction.axis === 0 ? 1 : 0 };
    const lowFace = grid.snap(across, sign * bar.offsetMm - thicknessMm / 2);
    return { ...bar, thicknessMm, offsetMm: sign * (lowFace + thicknessMm / 2) };
  });
  for (const joint of joints) {
    if (!isSquareEnd(joint, bars)) continue;
    const at = grid.snap(bars[joint.ends[0]!.bar]!.direction, meanEnd(joint, bars));
    for (const { bar, end } of joint.ends)
      snapped[bar] = { ...snapped[bar]!, ...(end === 'lo' ? { loMm: at } : { hiMm: at }) };
  }
  return { grid, bars: snapped };
};

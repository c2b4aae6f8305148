/** What pushes a form that stands alone: the least loads of the code, and the job's wind on a wall standing free. */

import type { FormLine, LineEnd } from './formLines.js';
import { heightOf, lengthOf } from './formLines.js';
import { LEAST, type SiteOptions } from './options.js';

/** Density of air, kg/m3. EN 1991-1-4, 4.5 (recommended value); from memory. */
const AIR_KG_PER_M3 = 1.25;

/** Velocity pressure of a wind of this speed (gust), kPa: rho v^2 / 2, Bernoulli. */
export const velocityPressureKpa = (speedMPerS: number): number => (AIR_KG_PER_M3 * speedMPerS ** 2) / 2 / 1000;

interface Zone {
  readonly fromMm: number;
  readonly toMm: number;
  readonly coefficient: number;
}

/**
 * Net coefficients of a free-standing wall without openings, by distance from its end over its height: to 0.3, 2, 4 and beyond. EN 1991-1-4, table 7.9,
 * from memory and not confirmed. At a corner the other wall stands as a return.
 */
const ENDS = [0.3, 2, 4] as const;
const AT_RETURN = [2.1, 1.8, 1.4, 1.2] as const;
const AT_FREE_END = { short: [2.3, 1.4, 1.2, 1.2], middle: [2.9, 1.8, 1.4, 1.2], long: [3.4, 2.1, 1.7, 1.2] } as const;

const coefficientsAt = (end: LineEnd, lengthOverHeight: number): readonly number[] => {
  if (end !== 'free') return AT_RETURN;
  if (lengthOverHeight <= 3) return AT_FREE_END.short;
  return lengthOverHeight < 10 ? AT_FREE_END.middle : AT_FREE_END.long;
};

/** The net coefficient at a station: the larger of what its distances from the two ends give. */
export const netCoefficient = (line: FormLine, stationMm: number): number => {
  const heightMm = heightOf(line);
  const ratio = lengthOf(line) / heightMm;
  const from = [stationMm - line.fromMm, line.toMm - stationMm];
  return Math.max(
    ...line.ends.map((end, i) => {
      const zone = ENDS.findIndex((e) => from[i]! < e * heightMm);
      return coefficientsAt(end, ratio).at(zone)!;
    }),
  );
};

/** Cuts a line where its coefficient changes. */
const zones = (line: FormLine): Zone[] => {
  const heightMm = heightOf(line);
  const cuts = ENDS.flatMap((e) => [line.fromMm + e * heightMm, line.toMm - e * heightMm]);
  const edges = [line.fromMm, ...cuts.filter((s) => s > line.fromMm && s < line.toMm), line.toMm].sort((a, b) => a - b);
  return edges.slice(1).map((toMm, i) => {
    const fromMm = edges[i]!;
    return { fromMm, toMm, coefficient: netCoefficient(line, (fromMm + toMm) / 2) };
  });
};

/** Mean wind on the form over these stations, kPa, never below the code's least. */
export const windOn = (line: FormLine, options: SiteOptions, fromMm: number, toMm: number): number => {
  const { windKpa, windCoefficient, code } = options;
  const least = LEAST[code].windKpa;
  if (windKpa === null || toMm <= fromMm) return least;
  if (windCoefficient !== null) return Math.max(least, windKpa * windCoefficient);
  const sum = zones(line).reduce((total, z) => {
    const width = Math.min(z.toMm, toMm) - Math.max(z.fromMm, fromMm);
    return width > 0 ? total + width * z.coefficient : total;
  }, 0);
  return Math.max(least, (windKpa * sum) / (toMm - fromMm));
};

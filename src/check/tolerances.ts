/**
 * How far a wall may be off: thickness and plumb, as the specification says where it says nothing else. Told to the crew before the pour, never judged.
 *
 * Sources. ACI 117-90 as quoted in UFGS 03700 (p. 26): walls up to 12 in thick +3/8, -1/4 in; plumb within 1 in up to 100 ft. From memory, not confirmed:
 * ACI 117 for thicker walls; ACI 117-10 plumb, the lesser of 0.3 % of the height and 1 in; EN 13670 class 1, sections of 150, 400 and 2500 mm within 10,
 * 15 and 30 mm, linear between, and inclination of walls up to 10 m by the greater of 15 mm and 1/400 of the height.
 */

import type { FacePlan, ToleranceCode, Tolerances, Wall } from '../ground/vocabulary.js';

const MM_PER_IN = 25.4;

/** How much thicker and thinner than drawn a wall may be, mm, and whether the figures were seen in a published page. */
export interface ThicknessLimits {
  readonly plusMm: number;
  readonly minusMm: number;
  readonly confirmed: boolean;
}

const ACI_THICKNESS: readonly { readonly upToMm: number; readonly limits: ThicknessLimits }[] = [
  { upToMm: 12 * MM_PER_IN, limits: { plusMm: 0.375 * MM_PER_IN, minusMm: 0.25 * MM_PER_IN, confirmed: true } },
  { upToMm: 36 * MM_PER_IN, limits: { plusMm: 0.5 * MM_PER_IN, minusMm: 0.375 * MM_PER_IN, confirmed: false } },
  {
    upToMm: Number.POSITIVE_INFINITY,
    limits: { plusMm: 1 * MM_PER_IN, minusMm: 0.75 * MM_PER_IN, confirmed: false },
  },
];

const EN_SECTION: readonly (readonly [sizeMm: number, limitMm: number])[] = [
  [150, 10],
  [400, 15],
  [2500, 30],
];

/** EN 13670 class 1: smaller and greater sections have the limit of the last one known. */
const enSectionMm = (sizeMm: number): number => {
  const next = EN_SECTION.findIndex(([size]) => sizeMm <= size);
  if (next === 0) return EN_SECTION[0]![1];
  if (next < 0) return EN_SECTION[EN_SECTION.length - 1]![1];
  const [[a, fa], [b, fb]] = [EN_SECTION[next - 1]!, EN_SECTION[next]!];
  return fa + ((sizeMm - a) / (b - a)) * (fb - fa);
};

/** Thickness in mm. */
export const thicknessLimits = (code: ToleranceCode, thicknessMm: number): ThicknessLimits => {
  if (code === 'aci-117') return ACI_THICKNESS.find((x) => thicknessMm <= x.upToMm + 0.5)!.limits;
  const limitMm = enSectionMm(thicknessMm);
  return { plusMm: limitMm, minusMm: limitMm, confirmed: false };
};

/** Beyond this height neither code's figure for walls is known here. */
export const plumbHeightMostMm = (code: ToleranceCode): number => (code === 'aci-117' ? 100 * 12 * MM_PER_IN : 10_000);

/** How far the top of a wall may stand out of plumb, mm; null: higher than what is known of the code goes. Height in mm. */
export const plumbLimitMm = (code: ToleranceCode, heightMm: number): number | null => {
  if (heightMm > plumbHeightMostMm(code)) return null;
  return code === 'aci-117' ? Math.min(0.003 * heightMm, MM_PER_IN) : Math.max(15, heightMm / 400);
};

const heightOf = ({ base, top }: Wall): number =>
  Math.max(...top.map((b) => b.levelMm)) - Math.min(...base.map((b) => b.levelMm));

/** One row for each thickness and height of the plan's walls, thin and low ones first. */
export const tolerances = ({ walls }: FacePlan, code: ToleranceCode): Tolerances => {
  const rows = new Map<string, { thicknessMm: number; heightMm: number; walls: string[] }>();
  for (const wall of walls) {
    const [thicknessMm, heightMm] = [wall.thicknessMm, heightOf(wall)];
    const key = `${thicknessMm} ${heightMm}`;
    const held = rows.get(key) ?? { thicknessMm, heightMm, walls: [] };
    rows.set(key, held);
    held.walls.push(wall.id);
  }
  return {
    code,
    rows: [...rows.values()]
      .sort((a, b) => a.thicknessMm - b.thicknessMm || a.heightMm - b.heightMm)
      .map((row) => ({
        ...row,
        ...thicknessLimits(code, row.thicknessMm),
        plumbMm: plumbLimitMm(code, row.heightMm),
      })),
  };
};

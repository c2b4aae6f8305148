/** Aligners, braces, brackets, planks and rails of the two invented yards. */

interface SiteGearSizes {
  readonly unit: 'Mm' | 'In';
  readonly aligners: readonly number[];
  readonly lap: number;
  readonly fixingEvery: number;
  /** Kind, lengths, heights of forms, push and pull in kN, mass. */
  readonly braces: readonly (readonly [
    'fixed' | 'telescopic',
    readonly [number, number],
    readonly [number, number],
    number,
    number,
    number,
  ])[];
  readonly bracket: { readonly width: number; readonly height: number; readonly spacing: number };
  readonly planks: readonly number[];
  readonly plankWidth: number;
  readonly rails: readonly number[];
  /** Metres in one unit. */
  readonly unitM: number;
}

/** Mass of a tube, kg per m; of a plank, kg per m2; of a rail and a toe board, kg per m. */
const TUBE_KG_PER_M = 4;
const PLANK_KG_PER_M2 = 20;
const RAIL_KG_PER_M = 3;

const tenth = (x: number): number => Math.round(x * 10) / 10;

/** Aligners, braces, brackets, planks and rails: invented round numbers as everything here. */
export const siteGear = (sizes: SiteGearSizes): Record<string, Record<string, unknown>[]> => {
  const { unit, unitM, bracket } = sizes;
  const key = (name: string) => `${name}${unit}`;
  return {
    aligners: sizes.aligners.map((length) => ({
      id: `aligner-${length}`,
      [key('length')]: length,
      joint: 'lap',
      [key('lap')]: sizes.lap,
      fixing: { id: 'aligner-clamp', [key('spacing')]: sizes.fixingEvery, massKg: 1 },
      massKg: tenth(length * unitM * TUBE_KG_PER_M),
    })),
    braces: sizes.braces.map(([kind, [from, to], [low, high], pushKn, pullKn, massKg]) => ({
      id: `brace-${kind}-${to}`,
      kind,
      [key('length')]: { from, to },
      [key('wall')]: { from: low, to: high },
      pushKn,
      pullKn,
      footUpliftKn: 10,
      footShearKn: 10,
      massKg,
    })),
    brackets: [
      {
        id: `bracket-${bracket.width}`,
        [key('width')]: bracket.width,
        [key('height')]: bracket.height,
        ratedKpa: 2,
        [key('spacing')]: bracket.spacing,
        ultimateKn: 14,
        massKg: 12,
      },
    ],
    liftingBrackets: [{ id: 'lifting-bracket', workingLoadKn: 12, massKg: 6 }],
    planks: sizes.planks.map((length) => ({
      id: `plank-${length}`,
      [key('length')]: length,
      [key('width')]: sizes.plankWidth,
      [key('span')]: bracket.spacing,
      massKg: tenth(length * sizes.plankWidth * unitM ** 2 * PLANK_KG_PER_M2),
    })),
    rails: (['rail', 'toe-board'] as const).flatMap((kind) =>
      sizes.rails.map((length) => ({
        id: `${kind}-${length}`,
        kind,
        [key('length')]: length,
        massKg: tenth(length * unitM * RAIL_KG_PER_M),
      })),
    ),
  };
};

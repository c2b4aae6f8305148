/** What the job says of gangs: panels that are joined on the ground and lifted as one. */

export interface GangOptions {
  /** What the crane may lift at its farthest reach, less slings and hook, kg. */
  readonly craneKg: number;
  readonly longestMm: number;
  /** Largest angle between the two legs of the sling, degrees. */
  readonly legAngleDeg: number;
  /** Gusts above which nothing is lifted, m/s; null: not said. */
  readonly windMPerS: number | null;
}

/** All of these: common practice, no source. */
export const GANG_RULES = {
  longestMm: 6000,
  legAngleDeg: 60,
  /** Fewer units side by side are no gang: two lift points need two joints between units. */
  leastBlocks: 3,
  /** Neither lift point takes more than this share of the weight: as good as symmetrical about the centre of gravity. */
  shareMost: 0.55,
  /** The lift points stand apart by at least this share of the gang's length. */
  spreadLeast: 0.25,
  /** Remainders shorter than this are lined up by the aligners of the gang beside them. */
  remainderMm: 1200,
} as const;

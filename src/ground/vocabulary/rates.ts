/** What rates of rise a layout carries: worked out by check, printed by the writers. Rates and temperatures in the units of `units`. */

/** SI: m/h, degrees C. US: ft/h, degrees F. */
export type RateUnits = 'si' | 'us';

/** Something that would fail: the finding's code, rule and words, and where. */
export interface LimitItem {
  readonly code: string;
  readonly rule: string;
  /** Tie, piece, face or wall. */
  readonly subject: string;
  readonly wall: string;
  readonly message: string;
}

/** What the forms of one pour height carry. */
export interface CarriedPressure {
  readonly pourHeightMm: number;
  readonly walls: readonly string[];
  /** Largest design pressure that everything carries; null: full fluid pressure is carried. */
  readonly mostKpa: number | null;
  readonly fluidKpa: number;
  /** What fails first above it. */
  readonly item: LimitItem | null;
}

/**
 * Fastest rise at a concrete temperature. `item`: faster, and the item fails. `range`: the formula does not hold beyond this rate, and full fluid pressure is
 * not carried. `any`: every rate is carried, as a fluid. `none`: no rate is. `fluid`: no rate is, since full fluid pressure counts at every rate there (outside the
 * method, or by a condition that is not met).
 */
export interface RateLimit {
  readonly temperature: number;
  readonly bound: 'item' | 'range' | 'any' | 'none' | 'fluid';
  /** null for any, none and fluid. */
  readonly rate: number | null;
  /** Place in `carried` of the pour that bounds it; null for any. */
  readonly by: number | null;
}

/** What comes of another pressure. */
export interface RateCase {
  readonly what: string;
  /** Largest design pressure of all pours. */
  readonly mostKpa: number;
  readonly failing: readonly LimitItem[];
}

/** Walls that are poured at once. */
export interface PourSupply {
  /** null: the whole job is one pour. */
  readonly pour: string | null;
  readonly planAreaM2: number;
  readonly volumeM3: number;
  /** Rate of rise that the supply makes; null where no supply is stated. */
  readonly rate: number | null;
}

export interface Rates {
  readonly units: RateUnits;
  readonly method: string;
  /** The catalogue has clamps, and the rates hold for those that are laid out. */
  readonly clampsChecked: boolean;
  /** As the job states or assumes it. */
  readonly jobRate: number;
  readonly jobTemperature: number;
  readonly atJob: RateLimit;
  /** By rising temperature; empty where the method knows none. */
  readonly table: readonly RateLimit[];
  readonly carried: readonly CarriedPressure[];
  /** Walls that no rate is told of: their forms do not stand, or were not checked, with why. */
  readonly notHeld: readonly LimitItem[];
  /** Least rate at which a layer is covered before it stiffens. */
  readonly floor: number;
  /** m3/h; null where it is not stated. */
  readonly supplyM3PerH: number | null;
  readonly supplies: readonly PourSupply[];
  readonly underFluid: RateCase;
  readonly sensitivity: readonly RateCase[];
}

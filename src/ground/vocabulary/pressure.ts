/** Pressure of the concrete and the loads of tie rows: made by check, handed to fit by pipeline. */

/** Pressure by depth below the pour line; linear between points, 0 at depth 0, constant below the last. */
export interface Envelope {
  readonly points: readonly { readonly depthMm: number; readonly kpa: number }[];
}

export interface PressureCase {
  readonly method: string;
  readonly designKpa: number;
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly pourHeightMm: number;
  /** Everything that went into the formula, as it is to be printed. */
  readonly inputs: Readonly<Record<string, number | string>>;
  readonly envelope: Envelope;
  /** Of methods that know it: height of the form, where that is not the pour's. */
  readonly formHeightMm?: number;
  /** What is poured stands alone and is no wider than a column. */
  readonly isColumn?: boolean;
  /** How the method came to it; absent where no pressure could be formed. */
  readonly facts?: PressureFacts;
}

/** What the method presupposes: true met, false not met, null not stated and taken as met. */
export interface PressureCondition {
  readonly text: string;
  readonly met: boolean | null;
}

/** How a method came to its pressure, in words and numbers for those who sign it. */
export interface PressureFacts {
  readonly edition: string;
  readonly chosen: string;
  /** Why this case. */
  readonly why: string;
  readonly notChosen: readonly { readonly name: string; readonly why: string }[];
  readonly conditions: readonly PressureCondition[];
  readonly formula: string;
  /** The formula with its numbers, then floor and cap, step by step. */
  readonly worked: readonly string[];
  /** Coefficients that no one here has compared with the standard's own text. */
  readonly notConfirmed: readonly string[];
}

/** Courses of a wall from the foot up: heights, and base of the lowest. */
export interface Stack {
  readonly baseMm: number;
  readonly heightsMm: readonly number[];
}

/** Load per metre of wall of one tie row, from the statics of the stack. */
export interface RowLoad {
  readonly row: number;
  readonly levelMm: number;
  /** kN per metre of wall, exact (courses are groups, horizontal joints hinges), never below the tributary value. */
  readonly kNPerM: number;
  /** The plain tributary value, printed beside it. */
  readonly stripKnPerM: number;
  /** Level of the surface at which it carries the most, where that is before the pour is full. */
  readonly fillMm?: number;
}

/** Stations on a wall's axis, without the two ends. */
export interface StationInterval {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Vertical bars at an even spacing, as the job file states them: stations on a wall's axis. */
export interface BarSpacing {
  readonly firstMm: number;
  readonly spacingMm: number;
  /** A tie's axis keeps this from a bar's. */
  readonly reachMm: number;
}

/**
 * What a column of ties takes from each band of levels between sills and heads (ground/voids.ts), kN on a tie for each metre of strip in the band: by
 * row, from below, as the statics of its courses tell it, and again as plain strips do. A tie carries the larger of its two.
 */
export type BandShares = readonly (readonly number[])[];

/** Stations at an opening at which a column of ties lacks rows; open interval. */
export interface VoidColumn {
  readonly fromMm: number;
  readonly toMm: number;
  /** The rows that are left and what they carry there; numbers and levels are those of the run's rows. */
  readonly rows: readonly RowLoad[];
  /** Whether the forms stand there only with their foot held. */
  readonly isFootHeld: boolean;
  readonly shares: BandShares;
}

/**
 * Another way to stand a column: panels on their side in place of the top course of the run's stack, lower than that course. Where the stack has one
 * course they stand on its base.
 */
export interface TurnedTop {
  /** Height of the course: the width of the panels that lie in it. */
  readonly heightMm: number;
  /** Rows of such a column, those of the lower courses included; a row that the run has too has the run's number. */
  readonly rows: readonly RowLoad[];
  /** Largest pressure at the foot of the course, kPa. */
  readonly designKpa: number;
  /** Upright forms have no row to stand on in that course: columns must end in panels on their side, and the run's rows are those below. */
  readonly only?: boolean;
}

/** What pipeline hands to the fit for each run: its stack, the loads of its tie rows, the pressure, and where no tie may stand. */
export interface RunDemand {
  readonly stack: Stack;
  readonly rows: readonly RowLoad[];
  readonly designKpa: number;
  /** Columns with panels on their side that may stand in the run; none where the yard has nothing lower than the stack. */
  readonly turnedTop?: TurnedTop;
  /** What is at one place, in order and apart; absent or empty: nothing. */
  readonly keepClear?: readonly StationInterval[];
  /** Bars of an even spacing over the whole wall, beside `keepClear`: they can be asked to start elsewhere. */
  readonly verticals?: BarSpacing;
  /** Columns at openings, in order and apart. */
  readonly voidColumns?: readonly VoidColumn[];
  /** Of columns with all rows, in a run with openings. */
  readonly shares?: BandShares;
}

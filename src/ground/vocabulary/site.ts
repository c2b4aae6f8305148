/** What holds the forms straight and upright and lets people reach them: aligners, braces, platforms (check → write). */

import type { Side } from './plan.js';

/** What goes with an aligner or a platform and is only counted. */
export interface SmallPart {
  readonly item: string;
  readonly kind: 'fixing' | 'plank' | 'rail';
  readonly count: number;
}

export interface Aligner {
  readonly id: string;
  readonly item: string;
  readonly kind: 'horizontal' | 'vertical';
  readonly face: string;
  readonly run: string;
  /** Of a vertical one both are its station. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Of a vertical one its foot. */
  readonly levelMm: number;
  /** Of a vertical one alone. */
  readonly topMm?: number;
  readonly parts: readonly SmallPart[];
}

export interface Brace {
  readonly id: string;
  readonly item: string;
  readonly face: string;
  readonly run: string;
  readonly stationMm: number;
  /** Level of its head, on an aligner, and of its foot on the ground. */
  readonly headMm: number;
  readonly footMm: number;
  /** From the face of the concrete to its foot. */
  readonly footOffsetMm: number;
}

/** With its forces, kN: characteristic, of the first face standing alone. */
export interface CheckedBrace extends Brace {
  /** Width of form that it holds. */
  readonly widthMm: number;
  readonly lengthMm: number;
  /** To the ground. */
  readonly angleDeg: number;
  readonly pushKn: number;
  readonly pullKn: number;
  /** Working loads of its item. */
  readonly mostPushKn: number;
  readonly mostPullKn: number;
  /** Upward on the form when it is pushed, and what of that the form's weight does not hold (0.9 of it). */
  readonly upliftKn: number;
  readonly holdDownKn: number;
  /** On the anchor of its foot. */
  readonly footUpliftKn: number;
  readonly footShearKn: number;
}

/** Heights of the upper edges over the floor. */
export interface RailHeights {
  readonly topMm: number;
  /** null: there is none. */
  readonly midMm: number | null;
  readonly toeMm: number;
}

export interface Platform {
  readonly id: string;
  /** Of its brackets. */
  readonly item: string;
  readonly face: string;
  readonly run: string;
  readonly fromMm: number;
  readonly toMm: number;
  /** Of its floor. */
  readonly levelMm: number;
  readonly widthMm: number;
  /** Stations, rising. */
  readonly brackets: readonly number[];
  readonly rails: RailHeights;
  /** Ends that rails close: at `fromMm`, at `toMm`. */
  readonly endRails: readonly [boolean, boolean];
  /** Stations over which the guard along its floor stands: in a corner it ends where the other floor's guard meets it. */
  readonly guardMm: readonly [number, number];
  /** Platforms on which its floor lies on at the two ends, round a corner. */
  readonly joins: readonly [string | null, string | null];
  /** Where its ladder stands; null: people come from a platform that it joins. */
  readonly ladderMm: number | null;
  readonly parts: readonly SmallPart[];
}

/** What closes the hole between two floors and the forms in an inner angle of the concrete. */
export interface CornerDeck {
  readonly id: string;
  readonly platforms: readonly [string, string];
  /** Of the first platform. */
  readonly face: string;
  readonly vertex: string;
  readonly levelMm: number;
  /** Along the face of the first arm of the vertex and along that of the second: of the hole, and of the deck with its lap on either floor. */
  readonly holeMm: readonly [number, number];
  readonly sizeMm: readonly [number, number];
  /** Planks, battened together. */
  readonly parts: readonly SmallPart[];
}

export interface CheckedPlatform extends Platform {
  /** What the code asks of the most loaded bracket, and what it carries, kN. */
  readonly bracketKn: number;
  readonly mostBracketKn: number;
}

/** One braced face of one run: what pushes it, and what holds its foot, per metre of wall. */
export interface BracedFace {
  readonly run: string;
  readonly face: string;
  readonly side: Side;
  /** From the ground to the top of the forms. */
  readonly heightMm: number;
  readonly headMm: number;
  readonly lineKnPerM: number;
  readonly windKpa: number;
  readonly platformKnmPerM: number;
  /** What the braces take, level, in the case that governs. */
  readonly braceKnPerM: number;
  readonly governs: 'line' | 'wind';
  /** Shear at the foot under wind, and under the line load at the top, where it points the other way. */
  readonly baseWindKnPerM: number;
  readonly baseLineKnPerM: number;
}

/** One leg of the sling of a gang. */
export interface LiftLeg {
  /** Joint on whose upper end its lifting bracket sits. */
  readonly stationMm: number;
  readonly lengthMm: number;
  /** From plumb, degrees. */
  readonly leanDeg: number;
  /** Along the leg: static, without a factor for jerks. */
  readonly forceKn: number;
}

/** Panels of one face that are joined on the ground and lifted as one. */
export interface Gang {
  readonly id: string;
  readonly face: string;
  readonly run: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly baseMm: number;
  readonly topMm: number;
  /** By station, then level. */
  readonly pieces: readonly string[];
  /** Aligners that lie on it and are lifted with it. */
  readonly aligners: readonly string[];
  /** Ties through its units. */
  readonly ties: number;
  /** With all that hangs on it. */
  readonly massKg: number;
  readonly unitsKg: number;
  readonly clampsKg: number;
  readonly alignersKg: number;
  readonly platformsKg: number;
  /** Centre of gravity: station, level, and how far behind the face of the concrete. */
  readonly centreMm: readonly [number, number, number];
  /** Lifting bracket; null: the catalogue lists none that carries it. */
  readonly bracket: string | null;
  readonly legs: readonly [LiftLeg, LiftLeg];
  /** Height of the hook over the lift points. */
  readonly hookMm: number;
}

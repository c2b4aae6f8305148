/** The layout: pieces, ties and groups, and what the checks add (fit → check → write). */

import type { PressureCase } from './pressure.js';
import type { Rates } from './rates.js';
import type { Aligner, BracedFace, CheckedBrace, CheckedPlatform, CornerDeck, Gang } from './site.js';

export type PieceKind =
  | 'panel'
  | 'filler'
  | 'inside-corner'
  | 'outside-corner'
  | 'hinged-corner'
  | 'timber'
  | 'strip'
  | 'bulkhead'
  | 'box-out';

export interface Cover {
  /** Face id. */
  readonly face: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly baseMm: number;
  readonly topMm: number;
}

/** Fill between two forms that stand at an angle to each other: widths at the concrete and at the back of the frames, mm. */
export interface Taper {
  readonly faceMm: number;
  readonly backMm: number;
}

export interface Piece {
  readonly id: string;
  readonly kind: PieceKind;
  /** Catalogue id; null for timber. */
  readonly item: string | null;
  readonly turned: boolean;
  /** 1 is the lowest; 0 is what closes the gap between the footing and the forms, and what hangs under them at a step. */
  readonly course: number;
  readonly covers: readonly Cover[];
  /** Of tapered fill on a curved wall, whose cover tells its place in stations, not its width; and of the strips over the vertices of a bend. */
  readonly taper?: Taper;
  /** Node of a corner piece, bulkhead. */
  readonly node?: string;
  /** Vertex of a corner piece. */
  readonly vertex?: string;
  readonly baseMm: number;
  readonly topMm: number;
}

export interface Tie {
  readonly id: string;
  readonly item: string;
  readonly wall: string;
  /** The run whose forms it ties: beside a step not always the one in whose concrete it stands. */
  readonly run: string;
  /** 1 is the lowest row of the run. */
  readonly row: number;
  readonly stationMm: number;
  readonly levelMm: number;
  /** The two pieces whose holes it passes: left face, right face. */
  readonly pieces: readonly [string, string];
  /** 0-based places in the catalogue's hole lists of those two units. */
  readonly holes: readonly [number, number];
  /** Beyond the concrete's end: it holds a bulkhead and passes no concrete. */
  readonly outsideConcrete: boolean;
}

/** Units joined stiffly that move as one; between groups the clamped joint is a hinge. */
export interface Group {
  readonly id: string;
  readonly face: string;
  readonly run: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly course: number;
  readonly pieces: readonly string[];
  /** Ties (ids, lowest row of each station first) and 'held' for a held salient edge. */
  readonly supports: readonly string[];
}

/** One tier of the cost (docs/reference/rules.md), with what was proven of it. */
export interface CostTier {
  readonly name:
    | 'failures'
    | 'short'
    | 'places'
    | 'timberAreaM2'
    | 'steelFillers'
    | 'tiesAndUnits'
    | 'runPast'
    | 'kinds';
  readonly value: number;
  /** Proven lower bound, the tiers before it at their value; null where nothing is proven. */
  readonly bound: number | null;
  readonly optimal: boolean;
}

export interface Layout {
  readonly pieces: readonly Piece[];
  readonly ties: readonly Tie[];
  readonly groups: readonly Group[];
  readonly tiers: readonly CostTier[];
  /** Fit's own work, for the certificate: labels made, and whether a limit cut it short. */
  readonly work: { readonly steps: number; readonly cutShort: boolean };
}

export interface CheckedTie extends Tie {
  /** Exact reaction of the hinged chain on the governing face times the row's load. */
  readonly loadKn: number;
  /** Half-gap strip times the row's tributary load, printed beside it. */
  readonly stripKn: number;
  readonly workingLoadKn: number;
  readonly governingFace: string;
}

/** What comes of one tie that is left out. Shares of what its most loaded neighbour may carry; null: nothing stands that way. */
export interface MissingTie {
  readonly tie: string;
  /** Along its row: the chain of the row without it. */
  readonly along: number | null;
  /** Up and down its column: the courses on the rows that are left there. */
  readonly up: number | null;
  /** The better of the two; null: this tie may not be missing. */
  readonly use: number | null;
  readonly neighbour: string | null;
}

export interface MissingTies {
  /** Worst first. */
  readonly ties: readonly MissingTie[];
  /** Ties that were not looked at: beside openings, under panels on their side. */
  readonly notLooked: number;
  /** Columns of ties without which the forms fold, and those without which they stand. */
  readonly columnsNeeded: number;
  readonly columnsSpare: number;
}

/** Rows of one run while the concrete rises, per metre of wall. */
export interface RisingRun {
  readonly run: string;
  /** 1: the wall is poured in one go. */
  readonly lifts: number;
  readonly rows: readonly {
    readonly levelMm: number;
    readonly fullKnPerM: number;
    readonly mostKnPerM: number;
    /** Level of the surface at which it carries the most; null: when the pour, or a lift, is full. */
    readonly fillMm: number | null;
  }[];
  /** What the foot must be held for, outwards, and the level of the surface at which. */
  readonly footKnPerM: number;
  readonly footFillMm: number;
}

/** Strips of the rows of one run against the pressure diagram. */
export interface StripSum {
  readonly run: string;
  /** Row by row from below, kN per m of wall. */
  readonly rowsKnPerM: readonly number[];
  /** Area of the diagram over the height of the pour, kN per m. */
  readonly areaKnPerM: number;
  /** Columns with a tie in every row, each with one strip: the strips of their ties against the area times the strip, largest difference. */
  readonly columns: number;
  readonly offKn: number;
  /** Columns that lack a tie in some row, or stand beside one that does. */
  readonly otherColumns: number;
}

/** A clamp over the joint of two units, and what it carries. */
export interface Clamp {
  readonly id: string;
  readonly item: string;
  readonly face: string;
  /** 'upright': beside each other; 'level': one upon the other. */
  readonly joint: 'upright' | 'level';
  /** Of an upright joint the middle of its gap. */
  readonly stationMm: number;
  readonly levelMm: number;
  /** The unit at lower stations, or below, first. */
  readonly pieces: readonly [string, string];
  /** What fills the joint: fillers, strips, timber. */
  readonly gapMm: number;
  /** Its share of the pull along the forms; 0 at level joints. */
  readonly inPlaneKn: number;
  /** Its share of what one unit hands on to the other across the joint; null where that is not known. */
  readonly shearKn: number | null;
  /** Pull and shear over what it may carry, added; 1 is full. */
  readonly utilisation: number;
}

export interface CheckedPiece {
  readonly piece: string;
  readonly pressureKpa: number;
  readonly ratedKpa: number;
}

export interface CheckedLayout {
  readonly pieces: readonly Piece[];
  readonly ties: readonly CheckedTie[];
  readonly groups: readonly Group[];
  readonly tiers: readonly CostTier[];
  readonly work: Layout['work'];
  readonly ratings: readonly CheckedPiece[];
  /** In the order of the faces, then by station and level; empty where the catalogue has none. */
  readonly clamps: readonly Clamp[];
  readonly pressure: readonly PressureCase[];
  /** By run id: the place of its case in `pressure`. */
  readonly caseOfRun?: ReadonlyMap<string, number>;
  /** Where anything was checked. */
  readonly missingTies?: MissingTies;
  readonly stripSums?: readonly StripSum[];
  readonly rising?: readonly RisingRun[];
  /** Rates of rise that it carries, where they were asked for. */
  readonly rates?: Rates;
  /** Absent where they were not asked for. Sorted by run, face, level, station. */
  readonly aligners?: readonly Aligner[];
  readonly braces?: readonly CheckedBrace[];
  readonly platforms?: readonly CheckedPlatform[];
  readonly decks?: readonly CornerDeck[];
  readonly braced?: readonly BracedFace[];
  /** Absent where the job asks for none. Sorted like the platforms. */
  readonly gangs?: readonly Gang[];
}

/** What the yard owns: units, ties, and what holds the forms straight and lets people reach them. */

export type UnitKind = 'panel' | 'filler' | 'inside-corner' | 'outside-corner' | 'hinged-corner' | 'bulkhead';

/** A tie hole: x from the unit's left edge, y from its foot, seen from outside the wall. */
export interface Hole {
  readonly xMm: number;
  readonly yMm: number;
}

export interface FormUnit {
  readonly id: string;
  readonly kind: UnitKind;
  /** Face width of panels, fillers, bulkheads; 0 for corners. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Legs of inside and hinged corners. */
  readonly legsMm: readonly [number, number] | null;
  /** Width that an outside corner takes on each face; usually 0. */
  readonly faceWidthMm: number;
  /** Deflections that a corner unit takes, degrees: of hinged corners and hinged outside corners. None: square corners alone. */
  readonly deflectionDeg?: { readonly least: number; readonly most: number };
  readonly holes: readonly Hole[];
  readonly turnable: boolean;
  /** Pressure with every tie row in use; a strip of bulkheads and corners has one too. */
  readonly ratedKpa: number;
  /** Span between supports for which ratedKpa holds; 0: the unit's own width. */
  readonly ratedSpanMm: number;
  readonly ratingIs: 'deflection' | 'strength';
  /** A filler that is bolted stiff to a panel's edge; null: its joints are hinges. */
  readonly stiffTo: 'panel' | null;
  /** Moment that the stiff joint carries, kNm per m of height. */
  readonly momentKnmPerM: number;
  readonly massKg: number;
}

export interface TieItem {
  readonly id: string;
  /** Wall thicknesses that it fits: a list, or a range. */
  readonly wallMm: readonly number[] | { readonly fromMm: number; readonly toMm: number };
  readonly workingLoadKn: number;
  readonly ultimateKn: number;
  readonly diameterMm: number;
  readonly kind: 'left-in' | 'removable';
  /** How deep in the concrete a left-in tie is broken off. */
  readonly breakBackMm: number;
  /** A removable tie that is drawn before the forms are struck. */
  readonly removedBefore?: boolean;
  /** Hole that it leaves, mm; null or absent: its own diameter. */
  readonly holeMm?: number | null;
  /** Stops water along itself. */
  readonly isSealed?: boolean;
  /** What locks it behind the frames. */
  readonly lock?: { readonly id: string; readonly perTie: number; readonly massKg: number } | null;
  readonly massKg: number;
}

/** Joins two units edge to edge; what it joins is a hinge. */
export interface ClampItem {
  readonly id: string;
  /** Clear widths between the two frames over which it closes: 0 where they touch. */
  readonly closesMm: { readonly least: number; readonly most: number };
  /** Working load along the forms, kN. */
  readonly pullKn: number;
  /** Working load across the joint, kN; null: the catalogue does not say. */
  readonly shearKn: number | null;
  readonly mostSpacingMm: number;
  /** The first and the last of a joint stand no farther than this from its ends. */
  readonly mostFromEndMm: number;
  /** From its middle to the axis of a tie, in the plane of the forms; null or absent: it may stand beside one. */
  readonly tieClearMm?: number | null;
  readonly massKg: number;
}

/** Boards that close fill, with their working stresses. */
export interface FillBoards {
  readonly thicknessMm: number;
  readonly bendingMpa: number;
  readonly shearMpa: number;
}

/** A straight tube clamped across the forms. It carries no concrete pressure (rule T13). */
export interface AlignerItem {
  readonly id: string;
  readonly lengthMm: number;
  readonly stands: 'horizontal' | 'vertical' | 'either';
  /** Two lengths lie side by side over the lap, or meet in a sleeve of that length. */
  readonly joint: 'lap' | 'sleeve';
  readonly lapMm: number;
  /** What holds it to the frames, one at least every `spacingMm`. */
  readonly fixing: { readonly id: string; readonly spacingMm: number; readonly massKg: number } | null;
  readonly massKg: number;
}

/** An inclined prop with its foot; working loads, characteristic. */
export interface BraceItem {
  readonly id: string;
  readonly kind: 'fixed' | 'telescopic';
  readonly lengthMm: { readonly fromMm: number; readonly toMm: number };
  /** Heights of forms that it is meant for. */
  readonly wallMm: { readonly fromMm: number; readonly toMm: number };
  /** Axial; 0: it does not work that way. */
  readonly pushKn: number;
  readonly pullKn: number;
  /** What its foot is anchored for, away from the ground and along it. */
  readonly footUpliftKn: number;
  readonly footShearKn: number;
  readonly massKg: number;
}

/** A bracket of an access platform, hung on the joint of two panels. */
export interface BracketItem {
  readonly id: string;
  /** Width of the floor that it carries, and how far it reaches down below the floor. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Evenly spread load on the floor for which it is rated at its widest spacing, without its own weight. */
  readonly ratedKpa: number;
  readonly spacingMm: number;
  /** For codes that ask for a multiple of the intended load. */
  readonly ultimateKn: number;
  readonly massKg: number;
}

export interface PlankItem {
  readonly id: string;
  readonly lengthMm: number;
  readonly widthMm: number;
  /** The widest spacing of brackets that it spans. */
  readonly spanMm: number;
  readonly massKg: number;
}

export interface RailItem {
  readonly id: string;
  readonly kind: 'rail' | 'toe-board';
  readonly lengthMm: number;
  readonly massKg: number;
}

/** Sits on the upper end of a joint of two units and takes a leg of the sling. */
export interface LiftingBracketItem {
  readonly id: string;
  /** Working load along a leg that leans as the job allows. */
  readonly workingLoadKn: number;
  readonly massKg: number;
}

export interface Catalogue {
  readonly name: string;
  readonly lengthUnit: 'mm' | 'in';
  readonly gridMm: number;
  readonly pitchMm: number;
  readonly frameDepthMm: number;
  /** How far a panel may overhang its outermost support. */
  readonly overhangMm: number;
  readonly timberLeastMm: number;
  /** Timber wider than this needs backing (rule T7). */
  readonly timberMostMm: number;
  /** The widest timber at all. */
  readonly timberLimitMm: number;
  /** null or absent: the strength of fill is not known. */
  readonly timber?: FillBoards | null;
  readonly units: readonly FormUnit[];
  readonly ties: readonly TieItem[];
  /** By the widths that they close, narrow before wide; absent or empty: clamps are not laid out. */
  readonly clamps?: readonly ClampItem[];
  /** Absent lists are empty. */
  readonly aligners?: readonly AlignerItem[];
  readonly braces?: readonly BraceItem[];
  readonly brackets?: readonly BracketItem[];
  readonly planks?: readonly PlankItem[];
  readonly rails?: readonly RailItem[];
  readonly liftingBrackets?: readonly LiftingBracketItem[];
  /** Item → how many the yard owns; an item that is not named is not limited. */
  readonly stock: Readonly<Record<string, number>>;
}

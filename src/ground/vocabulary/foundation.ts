/** The foundation as traced: stretches of wall, curves, openings, levels, and what was asked for (trace → shape). */

import type { Vec } from '../plane.js';
import type { LengthUnit } from '../units.js';
import type { FoundInModel } from './model.js';

/** A stretch of wall where both faces were seen. Shape joins stretches into corners and junctions. */
export interface WallStretch {
  /** Ends on the axis (mid-way between the faces) of the part where both faces are seen. */
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
  /** The linework closes the wall across its thickness at that end: a free end, unless another wall stands there. */
  readonly startCapped: boolean;
  readonly endCapped: boolean;
  /** Sources of the linework that made it, sorted. */
  readonly sources: readonly string[];
}

/** A line of the drawing that was taken as a wall face or end, mm. */
export interface FaceLine {
  readonly from: Vec;
  readonly to: Vec;
  readonly source: string;
}

export interface Levels {
  readonly footingMm: number;
  readonly topMm: number;
  /** Where the two came from. */
  readonly footingFrom: 'job' | 'drawing' | 'default';
  readonly topFrom: 'job' | 'drawing' | 'default';
}

export interface LevelsAt {
  /** mm in the drawing's axes. */
  readonly near: Vec;
  readonly footingMm: number | null;
  readonly topMm: number | null;
  readonly from: 'job' | 'drawing';
  /** What the drawing says, as it is written there; null from the job file. */
  readonly text: string | null;
}

/** A curved wall between two concentric faces. Angles are of the axis' ends as seen from the centre, anticlockwise from `fromRad` to `toRad`; a full ring spans 2π. */
export interface WallCurve {
  readonly centre: Vec;
  /** Radius of the axis. */
  readonly radiusMm: number;
  readonly fromRad: number;
  readonly toRad: number;
  readonly thicknessMm: number;
  readonly startCapped: boolean;
  readonly endCapped: boolean;
  readonly sources: readonly string[];
}

/** A gap in a wall that is known to be an opening in standing concrete, not the end of one wall and the start of another. */
export interface FoundOpening {
  /** Ends on the wall's axis. */
  readonly from: Vec;
  readonly to: Vec;
  readonly thicknessMm: number;
  readonly kind: 'door' | 'window' | 'opening';
  /** Levels in the drawing's datum; null: not said. */
  readonly sillMm: number | null;
  readonly headMm: number | null;
  readonly sources: readonly string[];
}

/** A place where the footing or the top of a wall changes its level. */
export interface FoundStep {
  readonly kind: 'footing' | 'top';
  /** On or near the wall. */
  readonly at: Vec;
  /** Height of the step where the drawing says it. */
  readonly riseMm: number | null;
  readonly text: string | null;
  readonly sources: readonly string[];
}

/** A short thickening of a wall on one face, or a block in the inner angle of a corner. */
export interface Pilaster {
  /** Middle of its outer face; of a block in a corner the edge of it that stands in the room. */
  readonly at: Vec;
  /** Along the wall. */
  readonly widthMm: number;
  /** Beyond the wall's face. */
  readonly projectionMm: number;
  /** It stands in the inner angle of a corner: its sizes are those along the two walls. */
  readonly inCorner?: true;
  readonly sources: readonly string[];
}

/** Reinforcement as the plan notes it; to be confirmed by a person before it is relied on. */
export interface BarNote {
  readonly at: Vec;
  /** As it is written. */
  readonly text: string;
  readonly diameterMm: number;
  readonly spacingMm: number | null;
  readonly direction: 'vertical' | 'horizontal' | 'both' | null;
  readonly faces: 'each' | 'inside' | 'outside' | 'middle' | null;
  readonly source: string;
}

/** One of several drawings in a model space: a plan, a section, a detail. */
export interface DrawingView {
  /** Lower left and upper right corner, mm in the drawing's axes. */
  readonly box: readonly [number, number, number, number];
  readonly title: string | null;
  readonly chosen: boolean;
  /** Why it was chosen or left out, in a few words. */
  readonly why: string;
}

/** A level of the footing as it was measured on site. */
export interface SurveyPoint {
  /** mm in the drawing's axes. */
  readonly at: Vec;
  /** In the drawing's datum. */
  readonly levelMm: number;
}

/** What the unformed face of a wall stands against. */
export type Against = 'earth' | 'rock' | 'wall';

/** A wall of which only one face is formed, as the job file or the drawing has it. */
export interface OneSidedWish {
  /** mm in the drawing's axes: on the side where the forms stand, unless `formed` says it. */
  readonly near: Vec;
  /** Seen from the wall's start to its end. */
  readonly formed: 'left' | 'right' | null;
  readonly against: Against | null;
}

/** A line of a footing's outline, mm in the drawing's axes. */
export interface FootingLine {
  readonly from: Vec;
  readonly to: Vec;
}

export interface FoundFootings {
  readonly lines: readonly FootingLine[];
  /** Outlines that close: a line within one of them is where two footings meet, no edge. */
  readonly rings: readonly (readonly Vec[])[];
}

/** What the job file says of footings that are not drawn; mm, places in the drawing's axes. */
export interface FootingSaid {
  readonly projectionMm: number | null;
  readonly at: readonly { readonly near: Vec; readonly leftMm: number | null; readonly rightMm: number | null }[];
}

export interface Foundation {
  /** The unit in which the drawing's numbers were taken. */
  readonly lengthUnit: LengthUnit;
  readonly stretches: readonly WallStretch[];
  readonly faceLines: readonly FaceLine[];
  readonly curves: readonly WallCurve[];
  readonly openings: readonly FoundOpening[];
  readonly steps: readonly FoundStep[];
  readonly pilasters: readonly Pilaster[];
  readonly bars: readonly BarNote[];
  /** One when the model space holds a single drawing. */
  readonly views: readonly DrawingView[];
  readonly levels: Levels;
  readonly levelsAt: readonly LevelsAt[];
  /** Measured levels of the footings, sorted by place. */
  readonly survey?: readonly SurveyPoint[];
  readonly oneSided?: readonly OneSidedWish[];
  /** Outlines of footings, as far as they are drawn. */
  readonly footings?: FoundFootings;
  readonly footingSaid?: FootingSaid;
  /** Of a model alone: what was chosen and what stands around it. */
  readonly model?: FoundInModel;
}

export interface TraceOptions {
  readonly unit: LengthUnit | null;
  /** Patterns with * and ?, case not heeded; empty: the program decides. A pattern matches the name with or without an xref prefix (`name$0$`). */
  readonly wallLayers: readonly string[];
  readonly ignoreLayers: readonly string[];
  /** Layers (patterns) with outlines of footings; empty or absent: as the names of the layers say. */
  readonly footingLayers?: readonly string[];
  /** The job file lists the walls that are formed on one side: the drawing is not asked. */
  readonly oneSidedGiven?: boolean;
  /** Layers (patterns) whose lines are axes of walls, not faces. */
  readonly centreLineLayers: readonly string[];
  /** Thickness of walls drawn as centre lines; null: from a text, the layer's name or the line's width. */
  readonly thicknessMm: number | null;
  /** Only linework inside this rectangle (drawing units): [x0, y0, x1, y1]; null: all. */
  readonly area: readonly [number, number, number, number] | null;
  readonly levels: { readonly footingMm: number | null; readonly topMm: number | null };
  /** `near` in drawing units. */
  readonly levelsAt: readonly {
    readonly near: Vec;
    readonly footingMm: number | null;
    readonly topMm: number | null;
  }[];
  /** Where footing or top steps, drawing units. */
  readonly steps: readonly { readonly at: Vec; readonly kind: 'footing' | 'top' }[];
  /** What the openings nearest to these places (drawing units) are. `wallEnds`: no opening, two walls end there. */
  readonly openings: readonly {
    readonly near: Vec;
    readonly wallEnds: boolean;
    readonly sillMm: number | null;
    readonly headMm: number | null;
    /** For an opening that is not drawn: its width, about the place. */
    readonly widthMm: number | null;
  }[];
}

/** What the job file says of a model besides: patterns with * and ?, case not heeded. Empty: the program decides. */
export interface ModelTraceOptions extends TraceOptions {
  /** Storeys (by name or GlobalId) whose walls are looked at. */
  readonly storeys: readonly string[];
  /** Exactly these walls (by GlobalId, name, type or tag) are taken, whatever else speaks against them. */
  readonly takeElements: readonly string[];
  readonly ignoreElements: readonly string[];
  /** Materials that are cast in place. */
  readonly concreteMaterials: readonly string[];
}

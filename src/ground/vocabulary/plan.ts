/** The plan of faces: walls, nodes, vertices and runs (shape → fit). */

import type { Vec } from '../plane.js';
import type { LengthUnit } from '../units.js';
import type { Against } from './foundation.js';

export type Side = 'left' | 'right';
export type WallSide = Side | 'start' | 'end';
/** `pilaster`: one of the three faces of a pilaster, which says itself where it stands. */
export type FaceSide = WallSide | 'pilaster';

export interface LevelBand {
  readonly fromMm: number;
  readonly toMm: number;
  readonly levelMm: number;
  /** Of a footing that was measured: its highest level, over which forms stand; `levelMm` is then the lowest. */
  readonly highMm?: number;
}

/**
 * The arc of a curved wall. It runs anticlockwise, so that its left face is the inner (hollow) one and its right face the outer one. Stations of a curved
 * wall, of either face, are measured along the outer face: there the forms' strips of load are widest.
 */
export interface WallArc {
  readonly centre: Vec;
  /** Radius of the inner face. */
  readonly innerRadiusMm: number;
  readonly fromRad: number;
  /** At most 2π: a ring. */
  readonly sweepRad: number;
}

export interface Wall {
  readonly id: string;
  /** Axis ends; lower x, then lower y, is the start, of a curved wall the end at `fromRad`. Axes end where axes cross; a stem's on the through wall's axis. */
  readonly start: Vec;
  readonly end: Vec;
  /** Of the axis. */
  readonly lengthMm: number;
  /** Of a curved wall alone. */
  readonly arc?: WallArc;
  /** On the catalogue's grid. */
  readonly thicknessMm: number;
  readonly base: readonly LevelBand[];
  readonly top: readonly LevelBand[];
  /** Name of the pour, where the job is poured in parts. */
  readonly pour?: string;
  readonly sources: readonly string[];
}

export type NodeKind = 'corner' | 'tee' | 'cross' | 'end' | 'pour-joint' | 'thickness-change' | 'bend';

export interface PlanNode {
  readonly id: string;
  readonly kind: NodeKind;
  readonly at: Vec;
  /** Angle between the walls: deflection at a corner (90 for a square one), angle of the stem to the through wall at a tee; 0 at an end. */
  readonly angleDeg: number;
  readonly walls: readonly string[];
}

export interface Face {
  readonly id: string;
  readonly wall: string;
  readonly side: FaceSide;
  /** Stations from vertex to vertex; of `start` and `end` faces (ends of the concrete, returns of jogs): across from the left. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Of a pilaster's face alone. Stations of its front rise with the wall's, those of its sides from the wall's face outwards. */
  readonly stands?: {
    /** The point of station 0, mm in the drawing's axes. */
    readonly origin: Vec;
    /** Unit vectors of rising stations and away from the concrete. */
    readonly along: Vec;
    readonly outward: Vec;
    /** Station of the wall at its middle. */
    readonly stationMm: number;
  };
}

/** A vertex of the concrete's plan outline where two faces meet. Re-entrant ones take an inside corner, salient ones an outside corner. */
export interface Vertex {
  readonly id: string;
  readonly node: string;
  readonly kind: 're-entrant' | 'salient';
  readonly at: Vec;
  /** Angle by which one face turns into the other: 90 at a square corner. */
  readonly deflectionDeg: number;
  /** The two faces that meet here: along each, `stationMm` is the vertex and `direction` (+1, -1) leads away from it along the face. */
  readonly arms: readonly [VertexArm, VertexArm];
}

export interface VertexArm {
  readonly wall: string;
  /** `start` or `end`: the return of a jog. */
  readonly side: WallSide;
  /** Of a return: across the wall from the left. */
  readonly stationMm: number;
  readonly direction: 1 | -1;
  /** Id of the return, of which one end of a wall may have two. */
  readonly face?: string;
}

/** How one end of a run is closed. Left and right give the ids of the vertices of each face there (null at a free end). */
export type RunEnd =
  | {
      /** A corner of two walls: one face re-entrant, the other salient. */
      readonly kind: 'corner';
      readonly node: string;
      readonly inner: Side;
      readonly other: string;
      readonly otherThicknessMm: number;
      readonly deflectionDeg: number;
      readonly leftMm: number;
      readonly rightMm: number;
      readonly leftVertex: string;
      readonly rightVertex: string;
    }
  | {
      /** This wall is the stem of a tee (or an arm of a cross that does not run through): re-entrant on both faces. */
      readonly kind: 'stem';
      readonly node: string;
      readonly through: string;
      readonly throughThicknessMm: number;
      readonly angleDeg: number;
      readonly leftMm: number;
      readonly rightMm: number;
      readonly leftVertex: string;
      readonly rightVertex: string;
    }
  | {
      /** The concrete ends: bulkhead. */
      readonly kind: 'free';
      readonly node: string;
      readonly leftMm: number;
      readonly rightMm: number;
    }
  | {
      /** The wall goes on as another one in line, with one or both faces out of line: a change of thickness, or a jog sideways. */
      readonly kind: 'jog';
      readonly node: string;
      readonly other: string;
      readonly leftMm: number;
      readonly rightMm: number;
      /** How far this wall's face stands out beyond the other's, mm; negative: stands back, 0: in line. */
      readonly leftOutMm: number;
      readonly rightOutMm: number;
      /** Face of the return on that side, across the wall that stands out; null where the faces are in line. */
      readonly leftReturn: string | null;
      readonly rightReturn: string | null;
    }
  | {
      /** The footing or the top steps here: the wall goes on as another run. Both stations are the riser's. */
      readonly kind: 'step';
      readonly node: null;
      /** Id of the run beyond. */
      readonly beyond: string;
      readonly beyondFootingMm: number;
      readonly beyondTopMm: number;
      /** As `highMm` of a run. */
      readonly beyondHighMm?: number;
      readonly leftMm: number;
      readonly rightMm: number;
    }
  | {
      /** The wall goes on in line: a straight one as a curved one, or the other way round. Both stand by themselves; fill between their forms hangs on both. */
      readonly kind: 'tangent';
      readonly node: string;
      readonly other: string;
      readonly leftMm: number;
      readonly rightMm: number;
      /** What hangs on this wall of the fill beyond its end, mm of strip: known once the curved wall is laid out. */
      readonly hangsMm?: number;
    }
  | {
      /** A curved wall that closes upon itself: its first form stands beside its last. */
      readonly kind: 'ring';
      readonly node: null;
      readonly leftMm: number;
      readonly rightMm: number;
    }
  | {
      /** Something that the fit does not lay out yet (a jog where another wall meets): the finding says what. Faces end here. */
      readonly kind: 'open';
      readonly node: string;
      readonly why: string;
      readonly leftMm: number;
      readonly rightMm: number;
    };

/** A stem that stands on a face of a run: the face is interrupted from `fromMm` to `toMm`, with a re-entrant vertex at each side. */
export interface RunStem {
  readonly node: string;
  readonly side: Side;
  readonly wall: string;
  readonly thicknessMm: number;
  readonly angleDeg: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly fromVertex: string;
  readonly toVertex: string;
  /** That wall is formed on one side only, and no corner units stand beside it. */
  readonly isOneSided?: boolean;
}

/** A thickening on a face of a run: the face is interrupted from `fromMm` to `toMm` by the pilaster's three faces. */
export interface RunPilaster {
  readonly id: string;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
  /** How far its front lies beyond the wall's face. */
  readonly projectionMm: number;
  /** Ids of its faces: the front, and the sides at its lower and its higher station. */
  readonly front: string;
  readonly low: string;
  readonly high: string;
}

/** What is fitted at once: a wall, or the part of it between two steps. */
export interface Run {
  /** The wall's id; where steps part the wall, with the number of the part: 'W3.1', 'W3.2'. */
  readonly id: string;
  readonly wall: string;
  readonly thicknessMm: number;
  /** Where it was measured, the lowest level. */
  readonly footingMm: number;
  /** Where it was measured, the highest level: forms stand on it or over it. */
  readonly highMm?: number;
  readonly topMm: number;
  readonly start: RunEnd;
  readonly end: RunEnd;
  /** Sorted by fromMm, then side. Two at the same stations on both sides are a cross. */
  readonly stems: readonly RunStem[];
  /** Sorted as the stems are; absent where the run has none. */
  readonly pilasters?: readonly RunPilaster[];
}

/** An opening in a wall's faces; units may run across it. */
export interface PlanOpening {
  readonly id: string;
  readonly wall: string;
  readonly fromMm: number;
  readonly toMm: number;
  /** Levels in the drawing's datum; the footing's and the top's where nothing else is said. */
  readonly sillMm: number;
  readonly headMm: number;
}

/** A stretch of footing of one drawn level, round corners, with what was measured on it. */
export interface SurveyedStretch {
  readonly id: string;
  /** In the order of the walls, then of stations. */
  readonly parts: readonly { readonly wall: string; readonly fromMm: number; readonly toMm: number }[];
  readonly drawnMm: number;
  /** null: no point was measured there, the drawn level stands. */
  readonly measured: { readonly lowestMm: number; readonly highestMm: number; readonly points: number } | null;
}

/** A wall of which one face is formed, the other stands against earth, rock or a wall: no tie passes through, and nothing is laid out. */
export interface OneSidedWall {
  readonly wall: string;
  readonly formed: Side;
  readonly against: Against | null;
  /** Its runs, which are not among those of the plan. */
  readonly runs: readonly Run[];
}

/** How far the footing projects beyond a face of a wall, by stretch. */
export interface FootingSeat {
  readonly wall: string;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
  readonly projectionMm: number;
  readonly from: 'drawing' | 'job';
}

export interface FacePlan {
  /** Fit's integer grid: 1 mm for metric gear, 25.4/16 mm for inch gear. Stations and thicknesses are multiples of it. */
  readonly gridMm: number;
  readonly lengthUnit: LengthUnit;
  readonly walls: readonly Wall[];
  readonly nodes: readonly PlanNode[];
  readonly faces: readonly Face[];
  readonly vertices: readonly Vertex[];
  readonly runs: readonly Run[];
  /** Sorted by wall, then station. */
  readonly openings: readonly PlanOpening[];
  /** Outlines of the concrete, mm, outer rings anticlockwise, holes clockwise: for drawing and area checks. */
  readonly concrete: readonly (readonly Vec[])[];
  /** In the order of the walls; absent where all walls are formed on both faces. */
  readonly oneSided?: readonly OneSidedWall[];
  /** Where footings are drawn or told of: what is known, by wall, side and station. */
  readonly seats?: readonly FootingSeat[];
  /** Where footings were measured: all stretches of footing, in the order of their first wall. */
  readonly survey?: readonly SurveyedStretch[];
  /** Names of the pours in their order, where the job is poured in parts; every wall names one then. */
  readonly pours?: readonly string[];
}

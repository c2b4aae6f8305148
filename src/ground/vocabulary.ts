/**
 * The words in which the stages talk to each other. Every length is in mm, every level in mm in the drawing's datum, pressures in kPa,
 * forces in kN, masses in kg, angles in degrees where the name says Deg, unless the name says otherwise.
 *
 * - *station*: distance along a wall's axis from its start, for both faces (so a salient face runs below 0 or past the length).
 * - *left*, *right*: seen looking from the wall's start to its end.
 * - *run*: what the fit solves at once; one wall. Corners, free ends and changes of thickness end it, tees and crosses do not.
 */

import type { Finding } from './findings.js';
import type { Vec } from './plane.js';
import type { TagDocument } from './tags.js';
import type { LengthUnit } from './units.js';

// ---------------------------------------------------------------- read → trace

/** One vertex of a path; `bulge` is tan(included angle / 4) of the arc to the next vertex, 0 for a straight piece. */
export interface PathVertex extends Vec {
  readonly bulge: number;
}

/** One piece of linework in world coordinates and drawing units, out of any nesting of blocks. */
export interface DrawingPath {
  /**
   * Handle of the entity; inside blocks the handles of the inserts before it, joined by '/'; '#n' (n-th entity) where there is none. Unique: '~2'
   * tells entities with one handle apart, '[column,row]' the copies of an array, '.2' further outlines of one entity.
   */
  readonly source: string;
  /** DXF type it was: LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE, ELLIPSE, SPLINE, HATCH, SOLID, MLINE … */
  readonly entity: string;
  /** The effective layer: layer 0 inside a block is the insert's. */
  readonly layer: string;
  /** Names of the blocks that it came through, outermost first. */
  readonly blocks: readonly string[];
  readonly vertices: readonly PathVertex[];
  readonly closed: boolean;
  /** z of the entity, drawing units. */
  readonly elevation: number;
  /** Group 39: how far the entity is extruded along z, drawing units; 0 when flat. With `elevation` it is a wall's foot and height. */
  readonly extrusion: number;
  /** Effective line type, as the table spells it: BYLAYER and BYBLOCK resolved. */
  readonly lineType: string;
  /** Width of a polyline that is drawn with one and the same width throughout, drawing units; else 0. */
  readonly width: number;
  /** Name of the hatch pattern in capitals, 'SOLID' for filled areas; null for linework. */
  readonly fill: string | null;
}

export interface DrawingText {
  readonly source: string;
  readonly layer: string;
  readonly blocks: readonly string[];
  readonly at: Vec;
  /** Height, drawing units. */
  readonly height: number;
  readonly rotationRad: number;
  /** Plain text, escapes resolved, lines parted by '\n'. */
  readonly text: string;
}

export interface DrawingDimension {
  readonly source: string;
  readonly layer: string;
  /** The two measured points (definition points), world coordinates. */
  readonly from: Vec;
  readonly to: Vec;
  /** What the dimension measures, in drawing units: along its own direction for rotated ones. */
  readonly measured: number;
  /** The text that a person sees where it is not the bare measurement: from group 1 or from the dimension's block; null if unknown. */
  readonly text: string | null;
}

/** A leader: from the arrow's tip to where its text hangs. */
export interface DrawingLeader {
  readonly source: string;
  readonly layer: string;
  /** World coordinates, tip first; at least two. */
  readonly points: readonly Vec[];
  /** Source of the text that hangs on it, where the drawing says which; null: the nearest text to its tail. */
  readonly text: string | null;
}

/** One placed block (each copy of an array by itself). What is in it stands among paths and texts, with sources that begin with this one's and '/'. */
export interface DrawingInsert {
  readonly source: string;
  readonly block: string;
  readonly layer: string;
  /** Names of the blocks that it came through, outermost first, without its own. */
  readonly blocks: readonly string[];
  readonly at: Vec;
  readonly rotationRad: number;
  readonly attributes: readonly { readonly tag: string; readonly text: string }[];
}

/** Entities of one type on one layer that could not be turned into linework. */
export interface UnreadEntities {
  readonly entity: string;
  readonly layer: string;
  readonly count: number;
}

export interface DrawingLayer {
  readonly name: string;
  /** Neither off nor frozen. */
  readonly visible: boolean;
  readonly lineType: string;
}

/** A drawing as read: nothing about walls yet. Invisible layers' entities are included; tracing leaves them out and says so. */
export interface Drawing {
  readonly kind: 'dxf' | 'ifc';
  /** $ACADVER. */
  readonly version: string;
  /** $INSUNITS as it stands (null when absent) and as a unit, if it is one that we know. */
  readonly declaredUnitCode: number | null;
  readonly declaredUnit: LengthUnit | null;
  readonly layers: readonly DrawingLayer[];
  readonly paths: readonly DrawingPath[];
  readonly texts: readonly DrawingText[];
  readonly dimensions: readonly DrawingDimension[];
  readonly leaders: readonly DrawingLeader[];
  readonly inserts: readonly DrawingInsert[];
  /** How many entities of each type could not be turned into linework, for the report. */
  readonly unread: Readonly<Record<string, number>>;
  /** The same by effective layer, sorted by layer and type. */
  readonly unreadOn: readonly UnreadEntities[];
  /** The whole drawing, with what this program once added already taken out: what merged output is spliced into. */
  readonly document: TagDocument;
}

// ---------------------------------------------------------------- trace → shape

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

/** A short thickening of a wall on one face. */
export interface Pilaster {
  /** Middle of its outer face. */
  readonly at: Vec;
  /** Along the wall. */
  readonly widthMm: number;
  /** Beyond the wall's face. */
  readonly projectionMm: number;
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
}

export interface TraceOptions {
  readonly unit: LengthUnit | null;
  /** Patterns with * and ?, case not heeded; empty: the program decides. A pattern matches the name with or without an xref prefix (`name$0$`). */
  readonly wallLayers: readonly string[];
  readonly ignoreLayers: readonly string[];
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

// ---------------------------------------------------------------- shape → fit

export type Side = 'left' | 'right';
export type FaceSide = Side | 'start' | 'end';

export interface LevelBand {
  readonly fromMm: number;
  readonly toMm: number;
  readonly levelMm: number;
}

export interface Wall {
  readonly id: string;
  /** Axis ends; lower x, then lower y, is the start. Axes end where axes cross; a stem's on the through wall's axis. */
  readonly start: Vec;
  readonly end: Vec;
  readonly lengthMm: number;
  /** On the catalogue's grid. */
  readonly thicknessMm: number;
  readonly base: readonly LevelBand[];
  readonly top: readonly LevelBand[];
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
  /** Stations from vertex to vertex; of `start` and `end` faces: across from the left. */
  readonly fromMm: number;
  readonly toMm: number;
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
  readonly side: Side;
  readonly stationMm: number;
  readonly direction: 1 | -1;
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
      /** Something that the fit does not lay out yet (a change of thickness, a jog): the finding says what. Faces end here. */
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
}

export interface Run {
  /** The wall's id; a run is one wall. */
  readonly wall: string;
  readonly thicknessMm: number;
  readonly footingMm: number;
  readonly topMm: number;
  readonly start: RunEnd;
  readonly end: RunEnd;
  /** Sorted by fromMm, then side. Two at the same stations on both sides are a cross. */
  readonly stems: readonly RunStem[];
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
}

// ---------------------------------------------------------------- catalogue

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
  readonly breakBackMm: number;
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
  readonly units: readonly FormUnit[];
  readonly ties: readonly TieItem[];
  /** Item → how many the yard owns; an item that is not named is not limited. */
  readonly stock: Readonly<Record<string, number>>;
}

// ---------------------------------------------------------------- pressure (made by check, handed to fit by pipeline)

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
}

/** What pipeline hands to the fit for each run: its stack, the loads of its tie rows and the envelope. */
export interface RunDemand {
  readonly stack: Stack;
  readonly rows: readonly RowLoad[];
  readonly designKpa: number;
}

// ---------------------------------------------------------------- fit → check → write

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

export interface Piece {
  readonly id: string;
  readonly kind: PieceKind;
  /** Catalogue id; null for timber. */
  readonly item: string | null;
  readonly turned: boolean;
  /** 1 is the lowest. */
  readonly course: number;
  readonly covers: readonly Cover[];
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
  /** 1 is the lowest row. */
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
  readonly pressure: readonly PressureCase[];
}

// ---------------------------------------------------------------- schedule

export interface ScheduleRow {
  /** Catalogue id, or 'timber W x H' for timber. */
  readonly item: string;
  readonly kind: PieceKind | 'tie';
  readonly widthMm: number;
  readonly heightMm: number;
  readonly count: number;
  /** The row's total. */
  readonly massKg: number;
  /** What the yard owns, if its stock is limited. */
  readonly stock: number | null;
  /** How a number of the row came about where it is not the catalogue's: travels into every list. */
  readonly remark?: string;
}

export interface Totals {
  readonly wallLengthM: number;
  /** Left and right faces, gross. */
  readonly contactAreaM2: number;
  readonly contactAreaNetM2: number;
  readonly endAreaM2: number;
  readonly panelAreaM2: number;
  readonly timberAreaM2: number;
  readonly massKg: number;
  readonly concreteM3: number;
  readonly tieCount: number;
}

/** One piece in the order in which the crew sets it: by wall, face, course, station. */
export interface SettingRow {
  readonly piece: string;
  /** Item of its schedule row. */
  readonly item: string;
  readonly kind: PieceKind;
  readonly wall: string;
  /** Face of its first cover; of an outside corner the first face at its vertex; '' where it has none. */
  readonly face: string;
  readonly course: number;
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Schedule {
  readonly rows: readonly ScheduleRow[];
  readonly totals: Totals;
  readonly setting?: readonly SettingRow[];
}

// ---------------------------------------------------------------- all of it → write

export interface SourceFacts {
  /** File name without folders. */
  readonly file: string;
  readonly sha256: string;
  readonly kind: 'dxf' | 'ifc';
  readonly lengthUnit: LengthUnit;
}

/** Everything that a writer may need. */
export interface Result {
  readonly source: SourceFacts;
  readonly foundation: Foundation;
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly layout: CheckedLayout;
  readonly schedule: Schedule;
  /** All findings so far, in the order of compareFindings. */
  readonly findings: readonly Finding[];
}

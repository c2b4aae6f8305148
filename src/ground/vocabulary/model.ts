/**
 * A building model as read from IFC: solids, storeys and bars in the model's own world axes, mm and z up; nothing about walls yet (read → trace).
 * Every placement has been applied. Coordinates are never moved: a model far from its origin keeps them, and whoever calculates takes off an origin first.
 */

import type { LengthUnit } from '../units.js';
import type { PathVertex } from './drawing.js';

export interface Vec3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** A place and three perpendicular unit axes (right-handed), in world axes, mm. */
export interface Frame {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
}

/** A profile swept straight: exact. */
export interface Prism {
  readonly kind: 'prism';
  /** The profile lies in its x-y plane. */
  readonly frame: Frame;
  /** Closed, in the frame, mm; the outer one first, then voids. Bulges as in drawings: arcs are arcs. */
  readonly outlines: readonly (readonly PathVertex[])[];
  /** Unit vector of the sweep, world axes; need not be the frame's z. */
  readonly direction: Vec3;
  readonly depthMm: number;
}

/** Flat faces: breps, face sets, and what the engine tessellated. */
export interface Mesh {
  readonly kind: 'mesh';
  readonly points: readonly Vec3[];
  /** Each face: its loops as places in `points`, the outer loop first. */
  readonly faces: readonly (readonly (readonly number[])[])[];
}

/** All that lies on the side to which `normal` does not point. */
export interface HalfSpace {
  readonly kind: 'half-space';
  readonly origin: Vec3;
  /** Unit vector out of the half space. */
  readonly normal: Vec3;
  /** Only over this outline (in the frame, swept along the frame's z both ways); null: unbounded. */
  readonly boundary: { readonly frame: Frame; readonly outline: readonly PathVertex[] } | null;
}

export interface Combined {
  readonly kind: 'difference' | 'union' | 'intersection';
  readonly first: Solid;
  readonly second: Solid;
}

export type Solid = Prism | Mesh | HalfSpace | Combined;

/** One solid of an element's body. */
export interface BodySolid {
  readonly solid: Solid;
  /** How it came: 'extrusion' and 'clipped' are exact, 'faces' are flat faces of the file, 'engine' the tessellation of what nothing else reads. */
  readonly from: 'extrusion' | 'clipped' | 'faces' | 'engine';
  /** Material of this very solid where the file tells it (a layer, a constituent, a part); null: the element's. */
  readonly material: string | null;
  /** GlobalId of the part that it belongs to, where the element's body is in parts. */
  readonly part: string | null;
}

export interface ModelMaterial {
  readonly name: string;
  readonly category: string | null;
  /** Of a layer; null where the material is not in layers. */
  readonly thicknessMm: number | null;
}

/** What an element is, by its entity (subtypes and standard cases included). */
export type ElementKind =
  | 'wall'
  | 'footing'
  | 'slab'
  | 'column'
  | 'beam'
  | 'pile'
  /** Pipes, ducts, cables and their fittings: whatever runs through walls. */
  | 'service'
  | 'other';

/** A hole that is cut into an element. */
export interface ModelOpening {
  /** GlobalId. */
  readonly id: string;
  readonly line: number;
  readonly name: string | null;
  /** IfcOpeningElement.PredefinedType where there is one: OPENING, RECESS. */
  readonly predefinedType: string | null;
  /** What fills it. */
  readonly filling: 'door' | 'window' | 'other' | null;
  readonly body: readonly BodySolid[];
}

export interface ModelElement {
  /** GlobalId. */
  readonly id: string;
  /** Number of the instance in the file, for messages: #123. */
  readonly line: number;
  readonly kind: ElementKind;
  /** The entity's name as IFC spells it: 'IfcWallStandardCase'. */
  readonly entity: string;
  readonly name: string | null;
  readonly tag: string | null;
  readonly objectType: string | null;
  /** Of the element, else of its type; null where neither says it (or NOTDEFINED). */
  readonly predefinedType: string | null;
  readonly typeName: string | null;
  /** GlobalId of its storey; null where it stands in none. */
  readonly storey: string | null;
  /** Outermost layer first; of the element, else of its type. */
  readonly materials: readonly ModelMaterial[];
  /** Whole, openings not cut out; but for those whose faces already have the holes (meshes of some exporters). Empty: no body could be read. */
  readonly body: readonly BodySolid[];
  readonly openings: readonly ModelOpening[];
}

/** A reinforcing bar (each copy by itself). */
export interface ModelBar {
  /** GlobalId; further copies of one bar have '#2', '#3' behind it. */
  readonly id: string;
  readonly line: number;
  readonly name: string | null;
  readonly diameterMm: number;
  /** Centre line; arcs as chords within 1 mm. At least two points. */
  readonly path: readonly Vec3[];
}

export interface ModelStorey {
  /** GlobalId. */
  readonly id: string;
  readonly name: string | null;
  /** Level of its placement in world z; `Elevation` where the placement says nothing. */
  readonly levelMm: number;
  /** Attribute Elevation as the file has it, mm; null where absent. */
  readonly elevationMm: number | null;
}

/** The unit of length of the file. */
export interface ModelUnit {
  /** Unit in which the drawing that is returned has its numbers; of an odd unit (dm, survey foot) the nearest of ours, and a finding says so. */
  readonly lengthUnit: LengthUnit;
  /** Size of the file's own unit, mm, exact. */
  readonly mmPerUnit: number;
  /** SI: the prefix ('MILLI', null for the metre); else the name of the conversion based unit ('FOOT'). */
  readonly prefix: string | null;
  readonly conversionName: string | null;
}

/** IfcMapConversion and its IfcProjectedCRS, values as in the file. */
export interface MapConversion {
  readonly eastings: number;
  readonly northings: number;
  readonly orthogonalHeight: number;
  readonly xAxisAbscissa: number | null;
  readonly xAxisOrdinate: number | null;
  readonly scale: number | null;
  readonly crs: {
    readonly name: string | null;
    readonly description: string | null;
    readonly geodeticDatum: string | null;
    readonly verticalDatum: string | null;
    readonly mapProjection: string | null;
    readonly mapZone: string | null;
    /** Prefix of an SI metre or name of a conversion based unit, and its size; null: the project's. */
    readonly unit: {
      readonly prefix: string | null;
      readonly conversionName: string | null;
      readonly mmPerUnit: number;
    } | null;
  };
}

export interface Georeference {
  readonly map: MapConversion | null;
  /** Direction of true north in the model's x-y plane; null: y. */
  readonly trueNorth: readonly [number, number] | null;
  /** World coordinate system of the model context where it is not the identity, mm. */
  readonly worldFrame: Frame | null;
  /** Of the site: degrees, minutes, seconds (and millionths), elevation in mm; null where absent. */
  readonly latitude: readonly number[] | null;
  readonly longitude: readonly number[] | null;
  readonly siteElevationMm: number | null;
}

export interface Named {
  /** GlobalId. */
  readonly id: string;
  readonly name: string | null;
}

/** What a model of the formwork takes over, so that it lies over the model that it came from. */
export interface ModelHeader {
  readonly schema: 'IFC2X3' | 'IFC4' | 'IFC4X3';
  /** As FILE_SCHEMA spells it: 'IFC4X3_ADD2'. */
  readonly schemaName: string;
  /** FILE_NAME's time stamp as it stands there; null where it has none. What is written takes this date: no clock below the front ends. */
  readonly timeStamp: string | null;
  readonly unit: ModelUnit;
  readonly project: Named;
  readonly sites: readonly Named[];
  readonly buildings: readonly Named[];
  /** By level, then GlobalId. */
  readonly storeys: readonly ModelStorey[];
  readonly georeference: Georeference;
}

export interface Model extends ModelHeader {
  readonly kind: 'ifc';
  /** By GlobalId. */
  readonly elements: readonly ModelElement[];
  readonly bars: readonly ModelBar[];
  /** Entities with a body that were not read as elements, and how many: furniture, spaces … */
  readonly unread: Readonly<Record<string, number>>;
}

// ---------------------------------------------------------------- what tracing adds to the foundation of a model

/** Why an element became a wall of the foundation, or did not. */
export interface ModelChoice {
  /** GlobalId. */
  readonly id: string;
  readonly entity: string;
  readonly name: string | null;
  readonly storey: string | null;
  readonly taken: boolean;
  /** In a few words: 'stands on footing 2O2Fr…, concrete by material', 'not concrete: brick', 'above the foundation'. */
  readonly why: string;
}

/** An element's outline in plan, mm in the model's axes: what the drawing of a model shows under the forms. */
export interface ModelOutline {
  /** GlobalId. */
  readonly id: string;
  readonly kind: 'wall' | 'wall-left-out' | 'footing' | 'slab' | 'column' | 'obstacle';
  /** Outer rings anticlockwise, holes clockwise. */
  readonly rings: readonly (readonly { readonly x: number; readonly y: number }[])[];
  readonly baseMm: number;
  readonly topMm: number;
}

/** What a tie must not meet, as triangles, mm. */
export interface Obstacle {
  /** GlobalId. */
  readonly id: string;
  readonly name: string | null;
  /** 'sleeve', 'pipe', 'opening', 'IfcDuctSegment' …: a word for the person who reads. */
  readonly what: string;
  readonly points: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
}

export interface FoundInModel {
  /** Every wall of the model, by GlobalId. */
  readonly elements: readonly ModelChoice[];
  readonly outlines: readonly ModelOutline[];
  /** Bars that lie in or reach into the walls taken. */
  readonly bars: readonly ModelBar[];
  readonly obstacles: readonly Obstacle[];
}

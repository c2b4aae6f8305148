/** A drawing as read from DXF: linework, texts and blocks in world coordinates, nothing about walls yet (read → trace). */

import type { Vec } from '../plane.js';
import type { TagDocument } from '../tags.js';
import type { LengthUnit } from '../units.js';

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
  /** Height of its text as it is shown, drawing units; null where nothing tells it. */
  readonly textHeight: number | null;
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
  readonly kind: 'dxf';
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

/**
 * What is to be drawn, before it is DXF: shapes and block definitions in mm in the drawing's own axes. The encoder turns them into tags for a version
 * and a unit; the second reader compares what came of it with these.
 */

import { add, type Vec } from '../../ground/plane.js';
import type { LayerKey } from './layers.js';

export type Across = 'left' | 'centre' | 'right';
export type Upright = 'baseline' | 'middle' | 'top';

interface Common {
  /** null inside blocks: layer 0, which takes the insert's layer. */
  readonly layer: LayerKey | null;
  /** What it is about, kept with it as application data: 'piece', 'P12'. */
  readonly about: readonly string[];
}

export interface LineShape extends Common {
  readonly type: 'line';
  readonly from: Vec;
  readonly to: Vec;
}

export interface PolylineShape extends Common {
  readonly type: 'polyline';
  readonly vertices: readonly Vec[];
  readonly closed: boolean;
}

/** A filled triangle or quadrilateral; corners in order round it (three or four). */
export interface SolidShape extends Common {
  readonly type: 'solid';
  readonly corners: readonly Vec[];
}

/** An area filled with a pattern of lines. */
export interface HatchShape extends Common {
  readonly type: 'hatch';
  readonly pattern: 'steel' | 'wood';
  /** What is filled, and then what within it stays clear. */
  readonly paths: readonly (readonly Vec[])[];
  /** Between the lines of the pattern. */
  readonly spacingMm: number;
}

export interface CircleShape extends Common {
  readonly type: 'circle';
  readonly centre: Vec;
  readonly radiusMm: number;
}

/** How a text stands: its anchor, height and direction. */
export interface TextPose {
  readonly at: Vec;
  readonly heightMm: number;
  readonly rotationDeg: number;
  readonly across: Across;
  readonly upright: Upright;
}

export interface TextShape extends Common, TextPose {
  readonly type: 'text';
  readonly text: string;
}

export interface Attribute extends TextPose {
  readonly tag: string;
  readonly text: string;
  readonly visible: boolean;
}

export interface InsertShape extends Common {
  readonly type: 'insert';
  readonly block: string;
  readonly at: Vec;
  readonly rotationDeg: number;
  readonly attributes: readonly Attribute[];
}

/** Dimensions in plan, as large as marks, and in elevations, smaller. */
export type DimensionStyleKey = 'plan' | 'elevation';

/** A measured length; its block holds the picture of it in the drawing's own axes. */
export interface DimensionShape extends Common {
  readonly type: 'dimension';
  /** null until what is drawn stands at its place. */
  readonly block: string | null;
  readonly picture: readonly Shape[];
  /** Height of its text. */
  readonly textMm: number;
  readonly style: DimensionStyleKey;
  /** What is shown, and what that is made of where it is more than the measured length ('<>'). */
  readonly says: string;
  readonly pattern: string | null;
  /** Of the text, against the line. */
  readonly turnDeg: number;
  /** Whether the text stands elsewhere than over the middle of the line. */
  readonly isTextPlaced: boolean;
  /** The two points that are measured. */
  readonly from: Vec;
  readonly to: Vec;
  /** Where the dimension line meets the second extension line. */
  readonly through: Vec;
  readonly textAt: Vec;
}

export type Shape =
  | LineShape
  | PolylineShape
  | SolidShape
  | HatchShape
  | CircleShape
  | TextShape
  | InsertShape
  | DimensionShape;

export interface BlockDefinition {
  readonly name: string;
  readonly shapes: readonly Shape[];
  /** Tags of the attributes that its inserts carry. */
  readonly attributes: readonly string[];
  /** An anonymous block that a dimension draws itself with. */
  readonly isPicture?: boolean;
}

/** A window of a sheet of paper onto the model space. */
export interface Viewport {
  /** Its middle and size, mm of paper. */
  readonly centre: Vec;
  readonly widthMm: number;
  readonly heightMm: number;
  /** What of the model space lies in its middle, mm in the drawing's axes. */
  readonly lookAt: Vec;
  /** mm of the model space to one of paper. */
  readonly scale: number;
}

/** A sheet in paper space: a layout of its own. Its lower left corner is the origin; all of it in mm of paper, whatever the drawing's unit is. */
export interface PaperSheet {
  /** Name of its layout. */
  readonly name: string;
  /** Name of the paper as plotters know it. */
  readonly paper: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly shapes: readonly Shape[];
  readonly viewports: readonly Viewport[];
}

export interface Sheet {
  readonly blocks: readonly BlockDefinition[];
  readonly shapes: readonly Shape[];
  /** Absent where no sheets are wanted. */
  readonly papers?: readonly PaperSheet[];
}

/** Layers on which something of the sheet lies, in model space or on paper. */
export const layersUsed = ({ shapes, papers = [] }: Sheet): ReadonlySet<LayerKey | null> =>
  new Set([
    ...shapes.map((s) => s.layer),
    ...papers.flatMap((p) => [...p.shapes.map((s) => s.layer), ...(p.viewports.length > 0 ? (['VPRT'] as const) : [])]),
  ]);

/** Width of a character with its gap over the text height, at WIDTH_FACTOR: not below that of the plain stroke fonts. *Practice, no source.* */
export const CHARACTER_WIDTH = 0.84;
/** Width factor of all our texts. */
export const WIDTH_FACTOR = 0.8;

export const textWidth = (text: string, heightMm: number): number => [...text].length * heightMm * CHARACTER_WIDTH;

export const line = (layer: LayerKey | null, from: Vec, to: Vec, about: readonly string[] = []): LineShape => ({
  type: 'line',
  layer,
  from,
  to,
  about,
});

export const polyline = (
  layer: LayerKey | null,
  vertices: readonly Vec[],
  closed: boolean,
  about: readonly string[] = [],
): PolylineShape => ({ type: 'polyline', layer, vertices, closed, about });

export const rectangle = (
  layer: LayerKey | null,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  about: readonly string[] = [],
): PolylineShape =>
  polyline(
    layer,
    [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ],
    true,
    about,
  );

export const text = (
  layer: LayerKey,
  content: string,
  at: Vec,
  heightMm: number,
  more: Partial<TextPose> & { readonly about?: readonly string[] } = {},
): TextShape => ({
  type: 'text',
  layer,
  text: content,
  at,
  heightMm,
  rotationDeg: 0,
  across: 'left',
  upright: 'baseline',
  about: [],
  ...more,
});

/** The shape moved by (dx, dy). */
export const moved = (shape: Shape, by: Vec): Shape => {
  switch (shape.type) {
    case 'line':
      return { ...shape, from: add(shape.from, by), to: add(shape.to, by) };
    case 'polyline':
      return { ...shape, vertices: shape.vertices.map((v) => add(v, by)) };
    case 'solid':
      return { ...shape, corners: shape.corners.map((v) => add(v, by)) };
    case 'hatch':
      return { ...shape, paths: shape.paths.map((path) => path.map((v) => add(v, by))) };
    case 'circle':
      return { ...shape, centre: add(shape.centre, by) };
    case 'text':
      return { ...shape, at: add(shape.at, by) };
    case 'insert':
      return {
        ...shape,
        at: add(shape.at, by),
        attributes: shape.attributes.map((a) => ({ ...a, at: add(a.at, by) })),
      };
    case 'dimension':
      return {
        ...shape,
        picture: shape.picture.map((s) => moved(s, by)),
        from: add(shape.from, by),
        to: add(shape.to, by),
        through: add(shape.through, by),
        textAt: add(shape.textAt, by),
      };
  }
};

/** What every part of the drawing needs to know: the result, the marks, the faces' frames, and where the blocks are kept. */

import { listsBy } from '../../ground/groups.js';
import { LETTERING_MM } from '../../ground/lettering.js';
import { type Marks, marksOf } from '../../ground/marks.js';
import { armFace, endFaceAt, type FaceFrame, framesOf, vertexOf } from '../../ground/places.js';
import { holesLeftOut } from '../../ground/rowsLeftOut.js';
import type { Cover, FormUnit, Piece, Result } from '../../ground/vocabulary.js';
import { Blocks } from './blocks.js';
import { paperScaleOf } from './sheets/paper.js';

export interface Scene {
  readonly result: Result;
  readonly marks: Marks;
  readonly frames: ReadonlyMap<string, FaceFrame>;
  /** Version of DXF that is written. */
  readonly version: string;
  readonly blocks: Blocks;
  readonly sizes: TextSizes;
  /** At which plan and elevations stand on their sheets: texts are sized for it. */
  readonly paperScale: number;
  readonly unitOf: (piece: Piece) => FormUnit | null;
  /** Ids of the faces that the piece covers; of an outside corner the two that it joins; of a bulkhead the end that it closes. */
  readonly facesOf: (piece: Piece) => readonly string[];
  readonly frameOf: (face: string) => FaceFrame;
  /** What stands on a face, in the layout's order: a piece and which of its covers lies there; of what has no cover (0) the face that it is drawn on. */
  readonly onFace: (face: string) => readonly { readonly piece: Piece; readonly nth: number }[];
  /** Whether some row of holes against concrete has no ties. */
  readonly hasRowsLeftOut: boolean;
  /** The first cover of a piece. */
  readonly coverOf: (piece: string) => Cover | undefined;
}

/** Heights of texts in the model space, mm. */
export interface TextSizes {
  readonly table: number;
  readonly title: number;
  readonly mark: number;
  readonly dimension: number;
  /** The least that is still drawn inside a unit. */
  readonly least: number;
  /** By how much what is sized by text (leads, lanes, strokes, flags) is larger than usual. */
  readonly factor: number;
}

/**
 * Heights that follow that of the marks. At the usual 125, which fits across a unit of 200, plan and elevations stand on their sheets at 1:25: none is less than
 * 3.5 mm of paper, marks are 5, so that half size still reads.
 */
export const textSizes = (markMm: number): TextSizes => {
  const factor = markMm / LETTERING_MM.usual;
  return { table: markMm, title: 175 * factor, mark: markMm, dimension: 90 * factor, least: 90 * factor, factor };
};

export const USUAL_SIZES: TextSizes = textSizes(LETTERING_MM.usual);

/** `markMm`: height of the marks in the model space. */
export const makeScene = (
  result: Result,
  version: string,
  takenBlocks: ReadonlySet<string>,
  markMm: number = result.lettering?.heightMm ?? LETTERING_MM.usual,
): Scene => {
  const { plan, catalogue, layout } = result;
  const units = new Map(catalogue.units.map((u) => [u.id, u]));
  const frames = framesOf(plan);
  const sizes = textSizes(markMm);
  const covers = new Map(layout.pieces.map((p) => [p.id, p.covers[0]]));
  const facesOf = (piece: Piece): readonly string[] => {
    if (piece.covers.length > 0) return piece.covers.map((c) => c.face);
    if (piece.kind === 'bulkhead') {
      const face = endFaceAt(plan, piece.node);
      return face ? [face.id] : [];
    }
    const vertex = vertexOf(plan, piece);
    if (!vertex) return [];
    return [armFace(plan, vertex, 0), armFace(plan, vertex, 1)].filter((f): f is string => f !== null);
  };
  const drawnOn = (piece: Piece) => (piece.covers.length > 0 ? facesOf(piece) : facesOf(piece).slice(0, 1));
  const standing = listsBy(
    layout.pieces.flatMap((piece) => drawnOn(piece).map((face, nth) => ({ face, piece, nth }))),
    ({ face }) => face,
  );
  return {
    result,
    frames,
    facesOf,
    version,
    sizes,
    paperScale: paperScaleOf(catalogue.lengthUnit, sizes.factor),
    onFace: (face) => standing.get(face) ?? [],
    marks: marksOf(plan, catalogue, layout),
    hasRowsLeftOut: [...frames.values()].some((frame) => holesLeftOut(result, frame).length > 0),
    coverOf: (piece) => covers.get(piece),
    blocks: new Blocks(version, takenBlocks),
    unitOf: (piece) => (piece.item === null ? null : (units.get(piece.item) ?? null)),
    frameOf: (id) => {
      const frame = frames.get(id);
      if (!frame) throw new Error(`a cover names face ${id}, which the plan does not have`);
      return frame;
    },
  };
};

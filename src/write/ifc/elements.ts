/** Pieces and ties as elements: name, type, place, properties, and which tie holds which two pieces. */

import { tieLine } from '../../ground/arcs.js';
import type { Marks } from '../../ground/marks.js';
import { sub, unit } from '../../ground/plane.js';
import type { CheckedTie, Cover, FaceSide, FormUnit, Piece, TieItem, Vec3, Wall } from '../../ground/vocabulary.js';
import type { Author, Property } from './author.js';
import type { Standing } from './bodies.js';
import { pieceType, tieType } from './itemFacts.js';
import { KINDS } from './kinds.js';
import type { Types } from './shapes.js';
import { sourceProperty } from './source.js';
import { list, type StepRef, text, word } from './step/values.js';
import type { WallFrame } from './wallFrame.js';

/** There is one pour today. */
export const POUR = 'pour 1';

const UP: Vec3 = { x: 0, y: 0, z: 1 };

export interface Workshop {
  readonly author: Author;
  readonly types: Types;
  readonly marks: Marks;
  readonly units: ReadonlyMap<string, FormUnit>;
  readonly ties: ReadonlyMap<string, TieItem>;
  /** First cover of each piece. */
  readonly covers: ReadonlyMap<string, Cover | undefined>;
  readonly pieceKeys: ReadonlyMap<Piece, string>;
  readonly tieKeys: ReadonlyMap<CheckedTie, string>;
  /** Side of each face. */
  readonly sides: ReadonlyMap<string, FaceSide>;
  /** Gang of each piece that is lifted in one. */
  readonly gangs: ReadonlyMap<string, string>;
  readonly ratings: ReadonlyMap<string, { readonly pressureKpa: number; readonly ratedKpa: number }>;
}

/** Load over capacity, rounded up to two decimals, so that nothing above 1 is told as 1; the step back takes off binary noise of a billionth. */
const roundedUp = (load: number, capacity: number): number =>
  capacity > 0 ? Math.ceil((load / capacity) * 100 - 1e-7) / 100 : Number.NaN;

/** What both have: the wall in this program's name and in the architect's. */
export const ofWall = (author: Author, wall: Wall): Property[] => [
  { name: 'Wall', value: author.is.identifier(wall.id) },
  sourceProperty(author, wall),
  { name: 'Pour', value: author.is.label(POUR) },
];

const coverProperties = ({ author, sides }: Workshop, standing: Standing): Property[] => {
  const { is } = author;
  return standing.faces.flatMap((face, i) => {
    const cover = standing.piece.covers.find((c) => c.face === face);
    const other = i === 0 ? '' : 'Other';
    return [
      { name: `${other}Face`, value: is.identifier(face) },
      { name: `${other}Side`, value: is.label(sides.get(face) ?? '') },
      { name: `${other}FromStation`, value: cover ? is.length(cover.fromMm) : null },
      { name: `${other}ToStation`, value: cover ? is.length(cover.toMm) : null },
    ];
  });
};

const pieceProperties = (shop: Workshop, standing: Standing): Property[] => {
  const { author } = shop;
  const { is } = author;
  const { piece, wall } = standing;
  const { mark, size } = shop.marks.ofPiece(piece);
  const unit = piece.item === null ? undefined : shop.units.get(piece.item);
  const rating = shop.ratings.get(piece.id);
  const gang = shop.gangs.get(piece.id);
  return [
    { name: 'Temporary', value: is.truth(true) },
    { name: 'Piece', value: is.identifier(piece.id), about: 'Its id in layout.json and in the drawing' },
    { name: 'Mark', value: is.label(mark) },
    { name: 'Size', value: is.label(size) },
    { name: 'Kind', value: is.label(piece.kind) },
    { name: 'Item', value: piece.item === null ? null : is.identifier(piece.item) },
    ...ofWall(author, wall),
    ...coverProperties(shop, standing),
    { name: 'Course', value: is.count(piece.course), about: '1 is the lowest' },
    { name: 'Turned', value: is.truth(piece.turned) },
    { name: 'BaseLevel', value: is.length(piece.baseMm) },
    { name: 'TopLevel', value: is.length(piece.topMm) },
    { name: 'Mass', value: unit ? is.measure('IfcMassMeasure', unit.massKg) : null },
    { name: 'ActingPressure', value: rating ? is.measure('IfcPressureMeasure', rating.pressureKpa) : null },
    {
      name: 'Gang',
      value: gang === undefined ? null : is.identifier(gang),
      about: 'Lifted with the other pieces of it',
    },
    { name: 'RatedPressure', value: rating ? is.measure('IfcPressureMeasure', rating.ratedKpa) : null },
  ];
};

/** Writes a piece in its wall's axes. */
export const writePiece = (shop: Workshop, standing: Standing, frame: WallFrame, placement: StepRef): StepRef => {
  const { author, types } = shop;
  const { piece } = standing;
  const { mark, size } = shop.marks.ofPiece(piece);
  const type = pieceType(author, shop.marks, shop.units, piece);
  const along = frame.turn(standing.along);
  const back = { x: -along.x, y: -along.y, z: 0 };
  const at = frame.point(standing.at, standing.levelMm);
  const axes = standing.turned ? author.axes(at, back, UP) : author.axes(at, UP, along);
  const key = shop.pieceKeys.get(piece)!;
  const ref = author.file.add('IfcBuildingElementProxy', {
    GlobalId: text(author.ids.make(key)),
    Name: author.label(mark),
    Description: author.label(`${piece.kind} ${size}, course ${piece.course}, ${standing.faces.join(' and ')}`),
    ObjectType: text(KINDS[piece.kind].objectType),
    ObjectPlacement: author.placement(placement, axes),
    Representation: types.mapped(type, standing.body),
    Tag: author.label(piece.item ?? `${piece.kind} ${size}`),
    PredefinedType: word('USERDEFINED'),
  });
  types.isOf(type, ref);
  author.describe(key, [ref], 'Shutterwright_Piece', pieceProperties(shop, standing));
  return ref;
};

const tieProperties = (author: Author, tie: CheckedTie, wall: Wall, item: TieItem): Property[] => {
  const { is } = author;
  return [
    {
      name: 'Temporary',
      value: is.truth(item.kind !== 'left-in'),
      about: 'Whether nothing of it stays in the concrete',
    },
    { name: 'Tie', value: is.identifier(tie.id), about: 'Its id in layout.json and in the drawing' },
    { name: 'Item', value: is.identifier(tie.item) },
    ...ofWall(author, wall),
    { name: 'Row', value: is.count(tie.row), about: '1 is the lowest' },
    {
      name: 'Station',
      value: is.length(tie.stationMm),
      about: wall.arc ? "Along the wall's outer face from its start" : "Along the wall's axis from its start",
    },
    { name: 'Level', value: is.length(tie.levelMm) },
    { name: 'LeftPiece', value: is.identifier(tie.pieces[0]) },
    { name: 'RightPiece', value: is.identifier(tie.pieces[1]) },
    { name: 'OutsideConcrete', value: is.truth(tie.outsideConcrete) },
    { name: 'Load', value: is.measure('IfcForceMeasure', tie.loadKn) },
    { name: 'WorkingLoad', value: is.measure('IfcForceMeasure', tie.workingLoadKn) },
    {
      name: 'Utilisation',
      value: is.measure('IfcRatioMeasure', roundedUp(tie.loadKn, tie.workingLoadKn)),
      about: 'Load over working load, rounded up to two decimals',
    },
    { name: 'GoverningFace', value: is.identifier(tie.governingFace) },
  ];
};

/** Where a tie begins on the right, its direction and one across it, in the wall's axes. */
const tieAxes = (
  shop: Workshop,
  tie: CheckedTie,
  frame: WallFrame,
  lengthMm: number,
): { readonly at: Vec3; readonly axis: Vec3; readonly across: Vec3 } => {
  const { wall } = frame;
  const z = tie.levelMm - frame.footMm;
  if (!wall.arc)
    return { at: { x: tie.stationMm, y: -lengthMm / 2, z }, axis: { x: 0, y: 1, z: 0 }, across: { x: 1, y: 0, z: 0 } };
  const beyondMm = (lengthMm - wall.thicknessMm) / 2;
  const [left, right] = tieLine(wall, tie, (piece) => shop.covers.get(piece), beyondMm);
  const axis = unit(sub(left, right));
  return {
    at: frame.point(right, tie.levelMm),
    axis: frame.turn(axis),
    across: frame.turn({ x: axis.y, y: -axis.x }),
  };
};

/** Writes a tie: a rod from the outer side of one form to that of the other, square through the wall. */
export const writeTie = (
  shop: Workshop,
  tie: CheckedTie,
  item: TieItem,
  frame: WallFrame,
  placement: StepRef,
): StepRef => {
  const { author, types } = shop;
  const { wall } = frame;
  const lengthMm = wall.thicknessMm + 2 * author.result.catalogue.frameDepthMm;
  const type = tieType(author, item);
  const { at, axis, across } = tieAxes(shop, tie, frame, lengthMm);
  const key = shop.tieKeys.get(tie)!;
  const ref = author.file.add('IfcMechanicalFastener', {
    GlobalId: text(author.ids.make(key)),
    Name: author.label(tie.id),
    Description: author.label(`${item.kind} tie, row ${tie.row}, ${wall.id}`),
    ObjectType: text(KINDS.tie.objectType),
    ObjectPlacement: author.placement(placement, author.axes(at, axis, across)),
    Representation: types.mapped(type, { kind: 'rod', radiusMm: item.diameterMm / 2, heightMm: lengthMm }),
    Tag: author.label(tie.item),
    NominalDiameter: author.length(item.diameterMm),
    NominalLength: author.length(lengthMm),
    PredefinedType: word('USERDEFINED'),
  });
  types.isOf(type, ref);
  author.describe(key, [ref], 'Shutterwright_Tie', tieProperties(author, tie, wall, item));
  return ref;
};

/** Says which two pieces a tie holds together. */
export const connect = (shop: Workshop, tie: CheckedTie, ref: StepRef, pieces: ReadonlyMap<string, StepRef>): void => {
  const left = pieces.get(tie.pieces[0]);
  const right = pieces.get(tie.pieces[1]);
  if (!left || !right || left.id === right.id) return;
  shop.author.file.add('IfcRelConnectsWithRealizingElements', {
    GlobalId: text(shop.author.ids.make(`${shop.tieKeys.get(tie)!}/holds`)),
    RelatingElement: left,
    RelatedElement: right,
    RealizingElements: list([ref]),
    ConnectionType: text('FORM TIE'),
  });
};

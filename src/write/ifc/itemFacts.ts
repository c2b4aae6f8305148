/** Types of pieces and ties with the catalogue's data. */

import { cutSize, type Marks } from '../../ground/marks.js';
import { plainNumber } from '../../ground/units.js';
import type { FormUnit, Piece, TieItem } from '../../ground/vocabulary.js';
import type { Author, Property } from './author.js';
import type { TypeFacts } from './shapes.js';

const ofUnit = (author: Author, unit: FormUnit): Property[] => {
  const { is } = author;
  const { name, frameDepthMm } = author.result.catalogue;
  const some = (mm: number) => (mm > 0 ? is.length(mm) : null);
  return [
    { name: 'Catalogue', value: is.label(name) },
    { name: 'Item', value: is.identifier(unit.id) },
    { name: 'Kind', value: is.label(unit.kind) },
    { name: 'Width', value: some(unit.widthMm) },
    { name: 'Height', value: is.length(unit.heightMm) },
    { name: 'FirstLeg', value: unit.legsMm ? is.length(unit.legsMm[0]) : null },
    { name: 'SecondLeg', value: unit.legsMm ? is.length(unit.legsMm[1]) : null },
    { name: 'FaceWidth', value: some(unit.faceWidthMm) },
    { name: 'FrameDepth', value: is.length(frameDepthMm) },
    { name: 'Mass', value: is.measure('IfcMassMeasure', unit.massKg) },
    {
      name: 'RatedPressure',
      value: is.measure('IfcPressureMeasure', unit.ratedKpa),
      about: 'With every tie row in use',
    },
    { name: 'RatingIs', value: is.label(unit.ratingIs) },
  ];
};

/** The type of a piece: its catalogue item, or its size where it is cut on site. */
export const pieceType = (
  author: Author,
  marks: Marks,
  units: ReadonlyMap<string, FormUnit>,
  piece: Piece,
): TypeFacts => {
  // A type is the unit however it stands.
  const { mark, size } = marks.ofPiece({ ...piece, turned: false });
  const unit = piece.item === null ? undefined : units.get(piece.item);
  if (unit) {
    return {
      key: `unit ${unit.id}`,
      kind: piece.kind,
      name: unit.id,
      tag: mark,
      description: `${unit.kind} ${size}`,
      properties: () => ofUnit(author, unit),
    };
  }
  const { widthMm, heightMm, narrowMm } = cutSize(author.result.plan, piece);
  const { is } = author;
  const tapers = narrowMm === undefined ? '' : `/${plainNumber(narrowMm, 1)}`;
  const name = `${piece.kind} ${size}`;
  return {
    key: `cut ${piece.kind} ${plainNumber(widthMm, 1)}${tapers} x ${plainNumber(heightMm, 1)}`,
    kind: piece.kind,
    name,
    tag: mark,
    description: `${name}, cut on site`,
    properties: () => [
      { name: 'Kind', value: is.label(piece.kind) },
      { name: 'Width', value: is.length(widthMm) },
      { name: 'NarrowWidth', value: narrowMm === undefined ? null : is.length(narrowMm) },
      { name: 'Height', value: is.length(heightMm) },
    ],
  };
};

export const tieType = (author: Author, tie: TieItem): TypeFacts => {
  const { is } = author;
  return {
    key: `tie ${tie.id}`,
    kind: 'tie',
    name: tie.id,
    tag: tie.id,
    description: `${tie.kind} form tie`,
    nominal: { diameterMm: tie.diameterMm },
    properties: () => [
      { name: 'Catalogue', value: is.label(author.result.catalogue.name) },
      { name: 'Item', value: is.identifier(tie.id) },
      { name: 'Kind', value: is.label(tie.kind) },
      { name: 'Diameter', value: is.length(tie.diameterMm) },
      { name: 'BreakBack', value: tie.breakBackMm > 0 ? is.length(tie.breakBackMm) : null },
      { name: 'WorkingLoad', value: is.measure('IfcForceMeasure', tie.workingLoadKn) },
      { name: 'UltimateLoad', value: is.measure('IfcForceMeasure', tie.ultimateKn) },
      { name: 'Mass', value: is.measure('IfcMassMeasure', tie.massKg) },
    ],
  };
};

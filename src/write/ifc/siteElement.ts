/** One element before a face: entity by its kind, type, place, properties. What all kinds of site gear have in common. */

import { type FaceFrame, frameAt, onFace, seenDirection } from '../../ground/places.js';
import type { SmallPart, Vec3 } from '../../ground/vocabulary.js';
import type { Author, Property } from './author.js';
import { ofWall, type Workshop } from './elements.js';
import { type GearPart, KINDS } from './kinds.js';
import type { AnyBody, TypeFacts } from './shapes.js';
import type { ClampSet, SiteGear } from './siteGear.js';
import { type StepRef, text, word } from './step/values.js';
import type { WallFrame } from './wallFrame.js';

/** Axes of a wall, in which what belongs to it is placed. */
export interface SiteBay {
  readonly frame: WallFrame;
  readonly placement: StepRef;
}

export interface SiteShop {
  readonly shop: Workshop;
  readonly gear: SiteGear;
  readonly frames: ReadonlyMap<string, FaceFrame>;
  /** Clamps that were written. */
  readonly written: Map<ClampSet, StepRef>;
  /** Level of the footing at a station of a wall. */
  readonly groundMm: (wall: string, stationMm: number) => number;
}

export interface GearElement {
  readonly part: GearPart;
  readonly key: string;
  readonly name: string;
  readonly description: string;
  /** Catalogue id; null: it has none. */
  readonly item: string | null;
  readonly body: AnyBody;
  readonly places?: readonly Vec3[];
  readonly set: string;
  readonly properties: readonly Property[];
  readonly typeProperties: readonly Property[];
}

const UP: Vec3 = { x: 0, y: 0, z: 1 };

/** Puts one element before a face: its origin at a station of the contact face and a level. */
export const writeGear = (
  { shop }: SiteShop,
  frame: FaceFrame,
  stationMm: number,
  levelMm: number,
  bay: SiteBay,
  w: GearElement,
): StepRef => {
  const { author, types } = shop;
  const { objectType, entity = 'IfcBuildingElementProxy', predefined = 'USERDEFINED' } = KINDS[w.part];
  const axes = author.axes(
    bay.frame.point(onFace(frame, stationMm), levelMm),
    UP,
    bay.frame.turn(seenDirection(frameAt(frame, stationMm))),
  );
  const name = w.item ?? objectType.toLowerCase();
  const type: TypeFacts = {
    key: `${w.part} ${name}`,
    kind: w.part,
    name,
    tag: name,
    description: objectType.toLowerCase(),
    properties: () => [
      { name: 'Catalogue', value: author.is.label(author.result.catalogue.name) },
      ...w.typeProperties,
    ],
  };
  const ref = author.file.add(entity, {
    GlobalId: text(author.ids.make(w.key)),
    Name: author.label(w.name),
    Description: author.label(w.description),
    ObjectType: text(objectType),
    ObjectPlacement: author.placement(bay.placement, axes),
    Representation: types.mapped(type, w.body, w.places),
    Tag: author.label(name),
    PredefinedType: word(predefined),
  });
  types.isOf(type, ref);
  author.describe(w.key, [ref], w.set, [
    { name: 'Temporary', value: author.is.truth(true) },
    ...(w.item === null ? [] : [{ name: 'Item', value: author.is.identifier(w.item) }]),
    ...ofWall(author, frame.wall),
    { name: 'Face', value: author.is.identifier(frame.face.id) },
    { name: 'Side', value: author.is.label(frame.face.side) },
    ...w.properties,
  ]);
  return ref;
};

export const kg = ({ is }: Author, massKg: number | undefined): Property => ({
  name: 'Mass',
  value: massKg === undefined ? null : is.measure('IfcMassMeasure', massKg),
});

export const force = ({ is }: Author, name: string, kn: number, about?: string): Property => ({
  name,
  value: is.measure('IfcForceMeasure', kn),
  ...(about === undefined ? {} : { about }),
});

/** What goes with a thing and is only counted: '6 of plank-2400'. */
export const partsOf = ({ is }: Author, parts: readonly SmallPart[]): Property => ({
  name: 'Parts',
  value: parts.map((p) => is.label(`${p.count} of ${p.item}`)),
  about: 'Small parts that go with it, without a body of their own',
});

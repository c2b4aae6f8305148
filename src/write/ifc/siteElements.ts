/**
 * Clamps, aligners, braces and platforms as elements. IFC4: a tube along the forms and a bracket are members, an inclined prop is a member of the type BRACE,
 * a floor is a plate, rails are a railing of the type GUARDRAIL, clamps are mechanical fasteners. Clamps of one joint are one element with a mapped body
 * each, as the schema has it for components that are alike (IfcElementComponent): there are several times as many of them as of forms.
 */

import { type FaceFrame, frameAt, onFace, seenDirection } from '../../ground/places.js';
import { dot, sub, type Vec } from '../../ground/plane.js';
import { ALIGNER_OUT_MM } from '../../ground/siteSizes.js';
import type { Aligner, CheckedBrace, Vec3, Wall } from '../../ground/vocabulary.js';
import { writeDeck, writePlatform } from './platformElements.js';
import { alignerBody, braceBody, clampBody } from './siteBodies.js';
import { force, kg, partsOf, type SiteBay, type SiteShop, writeGear } from './siteElement.js';
import type { ClampSet } from './siteGear.js';
import { list, type StepRef, text } from './step/values.js';

const writeAligner = (site: SiteShop, frame: FaceFrame, bay: SiteBay, a: Aligner): StepRef => {
  const { author } = site.shop;
  const { is, result } = author;
  const isUpright = a.kind === 'vertical';
  const item = result.catalogue.aligners?.find((x) => x.id === a.item);
  const lengthMm = isUpright ? (a.topMm ?? a.levelMm) - a.levelMm : a.toMm - a.fromMm;
  return writeGear(site, frame, (a.fromMm + a.toMm) / 2, a.levelMm, bay, {
    part: 'aligner',
    key: site.gear.keyOf(a),
    name: a.id,
    description: `${a.kind} aligner, ${a.face}`,
    item: a.item,
    body: alignerBody(lengthMm, result.catalogue.frameDepthMm, isUpright),
    set: 'Shutterwright_Aligner',
    properties: [
      { name: 'Aligner', value: is.identifier(a.id), about: 'Its id in layout.json and in the drawing' },
      { name: 'Stands', value: is.label(a.kind) },
      { name: 'FromStation', value: is.length(a.fromMm) },
      { name: 'ToStation', value: is.length(a.toMm) },
      { name: 'Level', value: is.length(a.levelMm) },
      { name: 'TopLevel', value: a.topMm === undefined ? null : is.length(a.topMm) },
      partsOf(author, a.parts),
      kg(author, item?.massKg),
    ],
    typeProperties: [{ name: 'Length', value: item ? is.length(item.lengthMm) : null }, kg(author, item?.massKg)],
  });
};

const writeBrace = (site: SiteShop, frame: FaceFrame, bay: SiteBay, b: CheckedBrace): StepRef => {
  const { author } = site.shop;
  const { is, result } = author;
  const item = result.catalogue.braces?.find((x) => x.id === b.item);
  const headOutMm = result.catalogue.frameDepthMm + ALIGNER_OUT_MM;
  return writeGear(site, frame, b.stationMm, b.footMm, bay, {
    part: 'brace',
    key: site.gear.keyOf(b),
    name: b.id,
    description: `brace, ${b.face}`,
    item: b.item,
    body: braceBody(headOutMm, b.footOffsetMm, b.headMm - b.footMm),
    set: 'Shutterwright_Brace',
    properties: [
      { name: 'Brace', value: is.identifier(b.id), about: 'Its id in layout.json and in the drawing' },
      { name: 'Station', value: is.length(b.stationMm) },
      { name: 'HeadLevel', value: is.length(b.headMm) },
      { name: 'FootLevel', value: is.length(b.footMm) },
      { name: 'FootOffset', value: is.length(b.footOffsetMm), about: 'From the face of the concrete' },
      { name: 'Length', value: is.length(b.lengthMm) },
      { name: 'AngleDegrees', value: is.measure('IfcReal', b.angleDeg), about: 'To the ground' },
      { name: 'WidthHeld', value: is.length(b.widthMm) },
      force(author, 'Push', b.pushKn),
      force(author, 'Pull', b.pullKn),
      force(author, 'WorkingPush', b.mostPushKn),
      force(author, 'WorkingPull', b.mostPullKn),
      force(author, 'HoldDown', b.holdDownKn, 'What lifts the form beyond 0.9 of its weight'),
      force(author, 'FootUplift', b.footUpliftKn),
      force(author, 'FootShear', b.footShearKn),
      kg(author, item?.massKg),
    ],
    typeProperties: [
      { name: 'ShortestLength', value: item ? is.length(item.lengthMm.fromMm) : null },
      { name: 'LongestLength', value: item ? is.length(item.lengthMm.toMm) : null },
      kg(author, item?.massKg),
    ],
  });
};

const writeClamps = (site: SiteShop, frame: FaceFrame, bay: SiteBay, set: ClampSet): StepRef => {
  const { author } = site.shop;
  const { is, result } = author;
  const [first] = set.clamps;
  const item = result.catalogue.clamps?.find((x) => x.id === first.item);
  const own = frameAt(frame, first.stationMm);
  const origin = onFace(frame, first.stationMm);
  const local = (at: Vec): { x: number; y: number } => {
    const d = sub(at, origin);
    return { x: dot(seenDirection(own), d), y: -dot(own.outward, d) };
  };
  const places = set.clamps.map((c): Vec3 => ({ ...local(onFace(frame, c.stationMm)), z: c.levelMm - first.levelMm }));
  const worst = Math.max(...set.clamps.map((c) => c.utilisation));
  const ref = writeGear(site, frame, first.stationMm, first.levelMm, bay, {
    part: 'clamp',
    key: site.gear.keyOf(set),
    name: first.id,
    description: `${set.clamps.length} form clamps between ${first.pieces.join(' and ')}, ${set.face}`,
    item: first.item,
    body: clampBody(first.gapMm, result.catalogue.frameDepthMm, first.joint === 'level'),
    places,
    set: 'Shutterwright_Clamps',
    properties: [
      { name: 'Count', value: is.count(set.clamps.length), about: 'One body each' },
      {
        name: 'Clamps',
        value: set.clamps.map((c) => is.identifier(c.id)),
        about: 'Ids in layout.json, in the order of the bodies',
      },
      { name: 'Joint', value: is.label(first.joint) },
      { name: 'Station', value: is.length(first.stationMm), about: 'Of the first' },
      { name: 'Levels', value: set.clamps.flatMap((c) => is.length(c.levelMm) ?? []) },
      { name: 'Gap', value: is.length(first.gapMm) },
      { name: 'Utilisation', value: is.measure('IfcRatioMeasure', worst), about: 'Of the most loaded' },
      kg(author, item?.massKg),
    ],
    typeProperties: [
      { name: 'ClosesFrom', value: item ? is.length(item.closesMm.least) : null },
      { name: 'ClosesTo', value: item ? is.length(item.closesMm.most) : null },
      kg(author, item?.massKg),
    ],
  });
  site.written.set(set, ref);
  return ref;
};

/** Says which two pieces the clamps of each joint hold together; `pieces`: those that were written, by id. */
export const connectClamps = (site: SiteShop, walls: readonly Wall[], pieces: ReadonlyMap<string, StepRef>): void => {
  const { author } = site.shop;
  for (const set of walls.flatMap((wall) => site.gear.ofWall(wall.id).clampSets)) {
    const [a, b] = set.clamps[0].pieces.map((id) => pieces.get(id));
    const ref = site.written.get(set);
    if (!a || !b || !ref || a.id === b.id) continue;
    author.file.add('IfcRelConnectsWithRealizingElements', {
      GlobalId: text(author.ids.make(`${site.gear.keyOf(set)}/holds`)),
      RelatingElement: a,
      RelatedElement: b,
      RealizingElements: list([ref]),
      ConnectionType: text('FORM CLAMP'),
    });
  }
};

/** All that stands before the faces of one wall, in the layout's order. */
export const writeSite = (site: SiteShop, bay: SiteBay, wall: string): StepRef[] => {
  const { clampSets, aligners, braces, platforms, decks } = site.gear.ofWall(wall);
  const at =
    <T extends { readonly face: string }>(one: (frame: FaceFrame, item: T) => readonly StepRef[]) =>
    (item: T) => {
      const frame = site.frames.get(item.face);
      return frame ? one(frame, item) : [];
    };
  return [
    ...clampSets.flatMap(at((frame, set) => [writeClamps(site, frame, bay, set)])),
    ...aligners.flatMap(at((frame, a) => [writeAligner(site, frame, bay, a)])),
    ...braces.flatMap(at((frame, b) => [writeBrace(site, frame, bay, b)])),
    ...platforms.flatMap(at((frame, p) => writePlatform(site, frame, bay, p))),
    ...decks.flatMap(at((frame, d) => writeDeck(site, frame, bay, d))),
  ];
};

/** Platforms as elements: floor, guard, a member for each bracket, the ladder. */

import { deckOutline } from '../../ground/decks.js';
import { type FaceFrame, onFace, seenDirection } from '../../ground/places.js';
import { dot, scale, sub } from '../../ground/plane.js';
import { FLOOR_THICK_MM } from '../../ground/siteSizes.js';
import type { CheckedPlatform, CornerDeck } from '../../ground/vocabulary.js';
import type { Property } from './author.js';
import { bracketBody, type FloorSizes, floorBody, guardBody, ladderBody } from './siteBodies.js';
import { force, kg, partsOf, type SiteBay, type SiteShop, writeGear } from './siteElement.js';
import { stationOf } from './siteGear.js';
import type { StepRef } from './step/values.js';

/** Floor, guard, brackets and, where it has one, the ladder. */
export const writePlatform = (site: SiteShop, frame: FaceFrame, bay: SiteBay, p: CheckedPlatform): StepRef[] => {
  const { author } = site.shop;
  const { is, result } = author;
  const key = site.gear.keyOf(p);
  const depthMm = result.catalogue.frameDepthMm;
  const item = result.catalogue.brackets?.find((x) => x.id === p.item);
  const middle = (p.fromMm + p.toMm) / 2;
  const asSeen = (stationMm: number): number => frame.seen * (stationMm - middle);
  const [atFrom, atTo] = p.endRails;
  const sizes: FloorSizes = {
    lengthMm: p.toMm - p.fromMm,
    widthMm: p.widthMm,
    depthMm,
    rails: p.rails,
    postsMm: p.brackets.map(asSeen).sort((a, b) => a - b),
    endRails: frame.seen > 0 ? [atFrom, atTo] : [atTo, atFrom],
    guardMm: [Math.min(...p.guardMm.map(asSeen)), Math.max(...p.guardMm.map(asSeen))],
  };
  const own: Property = {
    name: 'Platform',
    value: is.identifier(p.id),
    about: 'Its id in layout.json and in the drawing',
  };
  const common = { set: 'Shutterwright_Platform', typeProperties: [] } as const;
  const floor = writeGear(site, frame, middle, p.levelMm, bay, {
    ...common,
    part: 'floor',
    key,
    name: p.id,
    description: `floor of platform ${p.id}, ${p.face}`,
    item: null,
    body: floorBody(sizes),
    properties: [
      own,
      { name: 'FromStation', value: is.length(p.fromMm) },
      { name: 'ToStation', value: is.length(p.toMm) },
      { name: 'Level', value: is.length(p.levelMm) },
      { name: 'Width', value: is.length(p.widthMm) },
      { name: 'Brackets', value: is.count(p.brackets.length) },
      partsOf(author, p.parts),
      { name: 'Joins', value: p.joins.flatMap((j) => (j === null ? [] : [is.identifier(j)])) },
      force(author, 'BracketLoad', p.bracketKn, 'What the code asks of the most loaded bracket'),
      force(author, 'BracketCapacity', p.mostBracketKn),
    ],
  });
  const guard = writeGear(site, frame, middle, p.levelMm, bay, {
    ...common,
    part: 'guard',
    key: `${key}/guard`,
    name: `${p.id} guard`,
    description: `guard of platform ${p.id}`,
    item: null,
    body: guardBody(sizes),
    properties: [
      own,
      { name: 'TopRail', value: is.length(p.rails.topMm), about: 'Upper edges over the floor' },
      { name: 'MidRail', value: p.rails.midMm === null ? null : is.length(p.rails.midMm) },
      { name: 'ToeBoard', value: is.length(p.rails.toeMm) },
    ],
  });
  const brackets = p.brackets.map((stationMm, i) =>
    writeGear(site, frame, stationMm, p.levelMm, bay, {
      ...common,
      part: 'bracket',
      key: `${key}/bracket ${i + 1}`,
      name: `${p.id} bracket ${i + 1}`,
      description: `bracket of platform ${p.id}`,
      item: p.item,
      body: bracketBody(p.widthMm, item?.heightMm ?? p.widthMm, depthMm),
      set: 'Shutterwright_Bracket',
      properties: [own, { name: 'Station', value: is.length(stationMm) }, kg(author, item?.massKg)],
      typeProperties: [kg(author, item?.massKg)],
    }),
  );
  if (p.ladderMm === null) return [floor, guard, ...brackets];
  const groundMm = site.groundMm(frame.wall.id, p.ladderMm);
  const ladder = writeGear(site, frame, p.ladderMm, groundMm, bay, {
    ...common,
    part: 'ladder',
    key: `${key}/ladder`,
    name: `${p.id} ladder`,
    description: `ladder to platform ${p.id}`,
    item: null,
    body: ladderBody(p.levelMm - groundMm + p.rails.topMm, sizes),
    set: 'Shutterwright_Ladder',
    properties: [own, { name: 'Station', value: is.length(p.ladderMm) }],
  });
  return [floor, guard, ...brackets, ladder];
};

/** The deck of an inner corner: it lies on the two floors. */
export const writeDeck = (site: SiteShop, frame: FaceFrame, bay: SiteBay, deck: CornerDeck): StepRef[] => {
  const { author } = site.shop;
  const { is, result } = author;
  const ring = deckOutline(result.plan, deck, result.catalogue.frameDepthMm);
  if (!ring) return [];
  const stationMm = stationOf(result.plan, deck);
  const origin = onFace(frame, stationMm);
  const [right, inward] = [seenDirection(frame), scale(frame.outward, -1)];
  const outline = ring.map((p) => ({ x: dot(sub(p, origin), right), y: dot(sub(p, origin), inward) }));
  return [
    writeGear(site, frame, stationMm, deck.levelMm, bay, {
      part: 'deck',
      key: site.gear.keyOf(deck),
      name: deck.id,
      description: `deck of the inner corner between ${deck.platforms.join(' and ')}`,
      item: null,
      body: { kind: 'prism', outline, heightMm: FLOOR_THICK_MM },
      set: 'Shutterwright_Deck',
      properties: [
        { name: 'Deck', value: is.identifier(deck.id), about: 'Its id in layout.json and in the drawing' },
        { name: 'Platforms', value: deck.platforms.map((p) => is.identifier(p)) },
        { name: 'Level', value: is.length(deck.levelMm) },
        { name: 'FirstLength', value: is.length(deck.sizeMm[0]) },
        { name: 'SecondLength', value: is.length(deck.sizeMm[1]) },
        partsOf(author, deck.parts),
      ],
      typeProperties: [],
    }),
  ];
};

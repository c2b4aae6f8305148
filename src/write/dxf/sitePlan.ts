/** Aligners, braces and platforms in plan: one insert each at its true place, and short names of braces and platforms where nothing else lies. */

import { deckOutline } from '../../ground/decks.js';
import { coverPose, degrees, type FaceFrame, onFace, type Pose, readable } from '../../ground/places.js';
import { add, angleOf, scale, sub, type Vec } from '../../ground/plane.js';
import { ALIGNER_OUT_MM, FLOOR_OUT_MM, FOOT_PLATE_MM } from '../../ground/siteSizes.js';
import { plainNumber } from '../../ground/units.js';
import type { Aligner, CheckedBrace, CheckedPlatform } from '../../ground/vocabulary.js';
import {
  ALIGNER_TAGS,
  alignerAttributes,
  BRACE_TAGS,
  braceAttributes,
  PLATFORM_TAGS,
  platformAttributes,
} from './attributes.js';
import { type Box, leaderBox, type Places } from './labels.js';
import { levelText } from './lengths.js';
import type { Scene } from './scene.js';
import { polyline, type Shape, type TextShape, text, textWidth } from './sheet.js';
import { alignerShapes, braceShapes, inOrderSeen, platformShapes, uprightShapes } from './siteSymbols.js';

/** The pose of what stands over these stations of a face: middle, x from left to right as seen from outside. */
const poseOver = (frame: FaceFrame, fromMm: number, toMm: number): Pose =>
  coverPose(frame, { face: frame.face.id, fromMm, toMm, baseMm: 0, topMm: 0 }, false);

const drawAligner = (scene: Scene, a: Aligner): Shape => {
  const depthMm = scene.result.catalogue.frameDepthMm;
  const pose = poseOver(scene.frameOf(a.face), a.fromMm, a.toMm);
  const shapes = a.kind === 'horizontal' ? alignerShapes(a.toMm - a.fromMm, depthMm) : uprightShapes(depthMm);
  const hint = `${a.item}${a.kind === 'vertical' ? '-UPRIGHT' : ''}-PLAN`;
  return {
    type: 'insert',
    layer: 'ALGN',
    block: scene.blocks.ask(hint, shapes, ALIGNER_TAGS),
    ...pose,
    attributes: alignerAttributes(a, 'PLAN', pose.at),
    about: ['aligner', a.id],
  };
};

const headOut = (scene: Scene): number => scene.result.catalogue.frameDepthMm + ALIGNER_OUT_MM;

const drawBrace = (scene: Scene, b: CheckedBrace): Shape => {
  const pose = poseOver(scene.frameOf(b.face), b.stationMm, b.stationMm);
  const shapes = braceShapes(headOut(scene), b.footOffsetMm);
  return {
    type: 'insert',
    layer: 'BRCE',
    block: scene.blocks.ask(`${b.item}-${plainNumber(b.footOffsetMm, 0)}-PLAN`, shapes, BRACE_TAGS),
    ...pose,
    attributes: braceAttributes(b, 'PLAN', pose.at),
    about: ['brace', b.id],
  };
};

const drawPlatform = (scene: Scene, p: CheckedPlatform): Shape => {
  const frame = scene.frameOf(p.face);
  const pose = poseOver(frame, p.fromMm, p.toMm);
  const middle = (p.fromMm + p.toMm) / 2;
  const asSeen = (stationMm: number) => frame.seen * (stationMm - middle);
  const [a, b] = p.endRails;
  const shapes = platformShapes({
    lengthMm: p.toMm - p.fromMm,
    depthMm: scene.result.catalogue.frameDepthMm,
    widthMm: p.widthMm,
    bracketsMm: p.brackets.map(asSeen).sort((x, y) => x - y),
    endRails: frame.seen > 0 ? [a, b] : [b, a],
    guardMm: inOrderSeen(p.guardMm.map(asSeen)),
    ladderMm: p.ladderMm === null ? null : asSeen(p.ladderMm),
  });
  return {
    type: 'insert',
    layer: 'PLAT',
    block: scene.blocks.ask(`${p.id}-PLAN`, shapes, PLATFORM_TAGS),
    ...pose,
    attributes: platformAttributes(p, 'PLAN', pose.at),
    about: ['platform', p.id],
  };
};

/** Places for a name within a deck, along its first and its second side, from the middle outwards. */
function* deckPlaces(ring: readonly Vec[], wideMm: number, highMm: number) {
  const [a, b, , d] = ring as readonly [Vec, Vec, Vec, Vec];
  const sides = [sub(b, a), sub(d, a)] as const;
  const shares = [0.5, 0.35, 0.65, 0.2, 0.8];
  for (const u of shares)
    for (const v of shares)
      for (const side of sides) {
        const at = add(a, add(scale(sides[0], u), scale(sides[1], v)));
        const rotationDeg = readable(degrees(angleOf(side)));
        const halfMm = [wideMm / 2 + 10, highMm / 2 + 8] as const;
        const box: Box = { kind: 'text', centre: at, halfMm, rotationDeg };
        yield { at, rotationDeg, boxes: [box] as readonly [Box] };
      }
}

/** Decks of inner corners: their outline with its name inside; sizes are told with the findings. */
const drawDecks = (scene: Scene, places: Places): Shape[] => {
  const { layout, plan, catalogue } = scene.result;
  return (layout.decks ?? []).flatMap((deck): Shape[] => {
    const ring = deckOutline(plan, deck, catalogue.frameDepthMm);
    if (!ring) return [];
    const heightMm = scene.sizes.least;
    const { at, rotationDeg } = places.firstFree(deckPlaces(ring, textWidth(deck.id, heightMm), heightMm));
    const about = ['deck', deck.id];
    return [
      polyline('PLAT', ring, true, about),
      text('PLAT', deck.id, at, heightMm, { rotationDeg, across: 'centre', upright: 'middle', about }),
    ];
  });
};

/** What the site's gear takes of the ground: nothing may be written over it. */
export const takeSiteGround = (scene: Scene, places: Places): void => {
  const { aligners = [], braces = [], platforms = [] } = scene.result.layout;
  const deep = scene.result.catalogue.frameDepthMm;
  const lineBox = (frame: FaceFrame, a: readonly [number, number], b: readonly [number, number]): Box =>
    leaderBox(onFace(frame, a[0], a[1]), onFace(frame, b[0], b[1]));
  for (const x of aligners) {
    if (x.kind !== 'horizontal') continue;
    places.take(lineBox(scene.frameOf(x.face), [x.fromMm, headOut(scene)], [x.toMm, headOut(scene)]));
  }
  for (const b of braces) {
    const frame = scene.frameOf(b.face);
    places.take({ ...lineBox(frame, [b.stationMm, headOut(scene)], [b.stationMm, b.footOffsetMm]), kind: 'body' });
    places.take(plateBox(frame, b));
  }
  for (const p of platforms) {
    const frame = scene.frameOf(p.face);
    const outer = deep + FLOOR_OUT_MM + p.widthMm;
    places.take(lineBox(frame, [p.fromMm, outer], [p.toMm, outer]));
    for (const s of [p.fromMm, ...p.brackets, p.toMm]) places.take(lineBox(frame, [s, deep], [s, outer]));
  }
};

const plateBox = (frame: FaceFrame, b: CheckedBrace): Box => ({
  kind: 'body',
  centre: onFace(frame, b.stationMm, b.footOffsetMm),
  halfMm: FOOT_PLATE_MM,
  rotationDeg: degrees(angleOf(frame.along)),
});

interface NamePlace {
  readonly at: Vec;
  readonly boxes: readonly [Box];
}

/** Places for a name: beside a point, moved along the face and outwards in steps. */
function* namePlaces(
  frame: FaceFrame,
  from: Vec,
  widthMm: number,
  heightMm: number,
  rotationDeg: number,
): Generator<NamePlace> {
  for (let out = 0; out < 8; out++) {
    for (let k = 0; k <= 30; k++) {
      const aside = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * 120;
      const at = add(from, add(scale(frame.along, aside), scale(frame.outward, out * heightMm * 1.5)));
      yield { at, boxes: [{ kind: 'text', centre: at, halfMm: [widthMm / 2 + 10, heightMm / 2 + 8], rotationDeg }] };
    }
  }
}

const name = (
  scene: Scene,
  places: Places,
  content: string,
  faceId: string,
  at: Vec,
  layer: 'BRCE' | 'PLAT',
  about: readonly string[],
): TextShape => {
  const frame = scene.frameOf(faceId);
  const heightMm = scene.sizes.dimension;
  const rotationDeg = readable(degrees(angleOf(frame.along)));
  const chosen = places.firstFree(namePlaces(frame, at, textWidth(content, heightMm), heightMm, rotationDeg));
  return text(layer, content, chosen.at, heightMm, { rotationDeg, across: 'centre', upright: 'middle', about });
};

/** Names: of a brace beyond its foot, of a platform within its floor, with the level. */
const drawNames = (scene: Scene, places: Places): Shape[] => {
  const { braces = [], platforms = [] } = scene.result.layout;
  const { frameDepthMm, lengthUnit } = scene.result.catalogue;
  const half = scene.sizes.dimension;
  return [
    ...braces.map((b) => {
      const at = onFace(scene.frameOf(b.face), b.stationMm, b.footOffsetMm + FOOT_PLATE_MM[1] + half);
      return name(scene, places, b.id, b.face, at, 'BRCE', ['brace', b.id]);
    }),
    ...platforms.map((p) => {
      const middle = (p.fromMm + p.toMm) / 2;
      const at = onFace(scene.frameOf(p.face), middle, frameDepthMm + FLOOR_OUT_MM + p.widthMm - 1.2 * half);
      return name(scene, places, `${p.id} FLOOR ${levelText(lengthUnit, p.levelMm)}`, p.face, at, 'PLAT', [
        'platform',
        p.id,
      ]);
    }),
  ];
};

/** All of it; its ground is taken before. */
export const drawSite = (scene: Scene, places: Places): Shape[] => {
  const { aligners = [], braces = [], platforms = [] } = scene.result.layout;
  return [
    ...aligners.map((a) => drawAligner(scene, a)),
    ...braces.map((b) => drawBrace(scene, b)),
    ...platforms.map((p) => drawPlatform(scene, p)),
    ...drawDecks(scene, places),
    ...drawNames(scene, places),
  ];
};

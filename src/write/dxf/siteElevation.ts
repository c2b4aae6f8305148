/** Aligners, heads of braces and platforms in the elevation of the face before which they stand. */

import { layoutIndex } from '../../ground/layoutIndex.js';
import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import {
  ALIGNER_TAGS,
  alignerAttributes,
  BRACE_TAGS,
  braceAttributes,
  PLATFORM_TAGS,
  platformAttributes,
} from './attributes.js';
import { textCorners } from './bounds.js';
import type { View } from './elevationView.js';
import type { Box, Places } from './labels.js';
import { lengthText, levelText } from './lengths.js';
import type { Scene, TextSizes } from './scene.js';
import { type Shape, type TextShape, text, textWidth } from './sheet.js';
import { barShapes, HEAD_MM, headShapes, inOrderSeen, platformElevationShapes } from './siteSymbols.js';

/** From an aligner's middle to its name above it. */
const OVER_MM = 32;

const STEP_MM = 150;
/** Blank at either end of a name, so that two over one line do not read as one. */
const APART_MM = 120;

/** The box of a level text. */
export const textBox = (s: TextShape): Box => {
  const c = textCorners(s.text, s);
  return {
    kind: 'text',
    centre: { x: (c[0]!.x + c[2]!.x) / 2, y: (c[0]!.y + c[2]!.y) / 2 },
    halfMm: [Math.hypot(c[1]!.x - c[0]!.x, c[1]!.y - c[0]!.y) / 2, s.heightMm / 2],
    rotationDeg: s.rotationDeg,
  };
};

/** Where the name of something long and level stands: over its middle, then along it, then under it. */
const along = (sizes: TextSizes, places: Places, name: string, at: Vec, lengthMm: number): Vec => {
  const halfMm = [textWidth(name, sizes.least) / 2 + APART_MM * sizes.factor, sizes.least / 2 + 4] as const;
  const most = Math.max(0, lengthMm / 2 - halfMm[0]);
  function* tries(): Generator<{ readonly boxes: readonly [Box] }> {
    const over = OVER_MM + sizes.least / 2;
    for (const y of [over, -over, 2.2 * over, -2.2 * over, 3.6 * over, -3.6 * over, 5 * over, -5 * over]) {
      for (let k = 0; Math.ceil(k / 2) * STEP_MM <= most; k++) {
        const x = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * STEP_MM;
        yield { boxes: [{ kind: 'text', centre: { x: at.x + x, y: at.y + y }, halfMm, rotationDeg: 0 }] };
      }
    }
  }
  return places.firstFree(tries()).boxes[0].centre;
};

const aligners = (scene: Scene, view: View, places: Places): Shape[] =>
  layoutIndex(scene.result.layout)
    .alignersOn(view.frame.face.id)
    .flatMap((a): Shape[] => {
      const isUpright = a.kind === 'vertical';
      const lengthMm = isUpright ? (a.topMm ?? a.levelMm) - a.levelMm : a.toMm - a.fromMm;
      const at = view.at((a.fromMm + a.toMm) / 2, a.levelMm);
      const insert: Shape = {
        type: 'insert',
        layer: 'ALGN',
        block: scene.blocks.ask(
          `${a.item}${isUpright ? '-UPRIGHT' : ''}-ELEV`,
          barShapes(lengthMm, isUpright),
          ALIGNER_TAGS,
        ),
        at,
        rotationDeg: 0,
        attributes: alignerAttributes(a, 'ELEV', at),
        about: ['aligner', a.id],
      };
      if (isUpright) return [insert];
      const name = `${a.id} ${lengthText(scene.result.catalogue.lengthUnit, lengthMm)}`;
      const about = ['aligner', a.id];
      return [
        insert,
        text('ALGN', name, along(scene.sizes, places, name, at, lengthMm), scene.sizes.least, {
          across: 'centre',
          upright: 'middle',
          about,
        }),
      ];
    });

/** Where the name of a head stands: under it, else over or beside it. */
const besideHead = (sizes: TextSizes, places: Places, name: string, at: Vec): Vec => {
  const halfMm = [textWidth(name, sizes.dimension) / 2 + 4, sizes.dimension / 2 + 4] as const;
  const aside = halfMm[0] + 60;
  const under = HEAD_MM + 15 + sizes.dimension / 2;
  const tries = [
    { x: 0, y: -under },
    { x: 0, y: under },
    { x: aside, y: 0 },
    { x: -aside, y: 0 },
    { x: 0, y: -2 * under },
    { x: 0, y: 2 * under },
  ].map((by) => {
    const centre = { x: at.x + by.x, y: at.y + by.y };
    return { centre, boxes: [{ kind: 'text', centre, halfMm, rotationDeg: 0 }] as const satisfies readonly [Box] };
  });
  return places.firstFree(tries).centre;
};

const heads = (scene: Scene, view: View, places: Places): Shape[] =>
  layoutIndex(scene.result.layout)
    .bracesOn(view.frame.face.id)
    .flatMap((b): Shape[] => {
      const at = view.at(b.stationMm, b.headMm);
      const under = besideHead(scene.sizes, places, b.id, at);
      return [
        {
          type: 'insert',
          layer: 'BRCE',
          block: scene.blocks.ask(`${b.item}-ELEV`, headShapes(), BRACE_TAGS),
          at,
          rotationDeg: 0,
          attributes: braceAttributes(b, 'ELEV', at),
          about: ['brace', b.id],
        },
        text('BRCE', b.id, under, scene.sizes.dimension, {
          across: 'centre',
          upright: 'middle',
          about: ['brace', b.id],
        }),
      ];
    });

const platforms = (scene: Scene, view: View, places: Places): Shape[] => {
  const { brackets = [], lengthUnit } = scene.result.catalogue;
  return layoutIndex(scene.result.layout)
    .platformsOn(view.frame.face.id)
    .flatMap((p): Shape[] => {
      const middle = (p.fromMm + p.toMm) / 2;
      const at = view.at(middle, p.levelMm);
      const asSeen = (stationMm: number) => view.at(stationMm, p.levelMm).x - at.x;
      const [a, b] = p.endRails;
      const shapes = platformElevationShapes({
        lengthMm: p.toMm - p.fromMm,
        bracketsMm: p.brackets.map(asSeen).sort((x, y) => x - y),
        deepMm: brackets.find((x) => x.id === p.item)?.heightMm ?? 0,
        rails: p.rails,
        endRails: view.frame.seen > 0 ? [a, b] : [b, a],
        guardMm: inOrderSeen(p.guardMm.map(asSeen)),
        ladderMm: p.ladderMm === null ? null : asSeen(p.ladderMm),
      });
      const whole = `${p.id} FLOOR ${levelText(lengthUnit, p.levelMm)}, ${plainNumber(p.brackets.length, 0)} BRACKETS`;
      const name = textWidth(whole, scene.sizes.least) < p.toMm - p.fromMm ? whole : p.id;
      return [
        {
          type: 'insert',
          layer: 'PLAT',
          block: scene.blocks.ask(`${p.id}-ELEV`, shapes, PLATFORM_TAGS),
          at,
          rotationDeg: 0,
          attributes: platformAttributes(p, 'ELEV', at),
          about: ['platform', p.id],
        },
        text('PLAT', name, along(scene.sizes, places, name, at, p.toMm - p.fromMm), scene.sizes.least, {
          across: 'centre',
          upright: 'middle',
          about: ['platform', p.id],
        }),
      ];
    });
};

/** `places`: what stands in the elevation already, texts and ties. */
export const drawSiteElevation = (scene: Scene, view: View, places: Places): Shape[] => {
  return [...heads(scene, view, places), ...aligners(scene, view, places), ...platforms(scene, view, places)];
};

/** Levels of aligners and floors, to be told beside the elevation. */
export const siteLevels = (scene: Scene, face: string): { readonly name: string; readonly levelMm: number }[] => {
  const { alignersOn, platformsOn } = layoutIndex(scene.result.layout);
  const lying = alignersOn(face).filter((a) => a.kind === 'horizontal');
  return [
    ...lying.map((a) => ({ name: 'ALIGNER', levelMm: a.levelMm })),
    ...platformsOn(face).map((p) => ({ name: 'FLOOR', levelMm: p.levelMm })),
  ];
};

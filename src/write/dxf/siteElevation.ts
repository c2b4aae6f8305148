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
import type { View } from './elevation.js';
import { lengthText, levelText } from './lengths.js';
import { type Scene, TEXT_MM } from './scene.js';
import { type Shape, text } from './sheet.js';
import { barShapes, headShapes, platformElevationShapes } from './siteSymbols.js';

/** From an aligner's middle to its name above it. */
const OVER_MM = 32;

const aligners = (scene: Scene, view: View): Shape[] =>
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
      const over: Vec = { x: at.x, y: at.y + OVER_MM };
      const about = ['aligner', a.id];
      return [insert, text('ALGN', name, over, TEXT_MM.least, { across: 'centre', upright: 'baseline', about })];
    });

/** Under the triangle of a head. */
const HEAD_TEXT_MM = 85;

const heads = (scene: Scene, view: View): Shape[] =>
  layoutIndex(scene.result.layout)
    .bracesOn(view.frame.face.id)
    .flatMap((b): Shape[] => {
      const at = view.at(b.stationMm, b.headMm);
      const under: Vec = { x: at.x, y: at.y - HEAD_TEXT_MM };
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
        text('BRCE', b.id, under, TEXT_MM.dimension, { across: 'centre', upright: 'top', about: ['brace', b.id] }),
      ];
    });

const platforms = (scene: Scene, view: View): Shape[] => {
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
        ladderMm: p.ladderMm === null ? null : asSeen(p.ladderMm),
      });
      const name = `${p.id} FLOOR ${levelText(lengthUnit, p.levelMm)}, ${plainNumber(p.brackets.length, 0)} BRACKETS`;
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
        text('PLAT', name, { x: at.x, y: at.y + 30 }, TEXT_MM.least, {
          across: 'centre',
          upright: 'baseline',
          about: ['platform', p.id],
        }),
      ];
    });
};

export const drawSiteElevation = (scene: Scene, view: View): Shape[] => [
  ...aligners(scene, view),
  ...heads(scene, view),
  ...platforms(scene, view),
];

/** Levels of aligners and floors, to be told beside the elevation. */
export const siteLevels = (scene: Scene, face: string): { readonly name: string; readonly levelMm: number }[] => {
  const { alignersOn, platformsOn } = layoutIndex(scene.result.layout);
  const lying = alignersOn(face).filter((a) => a.kind === 'horizontal');
  return [
    ...lying.map((a) => ({ name: 'ALIGNER', levelMm: a.levelMm })),
    ...platformsOn(face).map((p) => ({ name: 'FLOOR', levelMm: p.levelMm })),
  ];
};

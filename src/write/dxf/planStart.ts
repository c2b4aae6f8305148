/** The flag in plan at which setting starts, one a pour, where nothing else stands. */

import { degrees, onFace, readable } from '../../ground/places.js';
import { add, angleOf, scale, type Vec } from '../../ground/plane.js';
import type { Box, Places } from './labels.js';
import { leaderBox } from './labels.js';
import type { Scene } from './scene.js';
import { line, type Shape, text, textWidth } from './sheet.js';
import { FLAG_HIGH_MM, FLAG_LONG_MM, flagShapes, pourStarts } from './startFlag.js';

/** At the usual height of texts. */
const FIRST_MM = 420;
const STEP_MM = 100;
const PAD_MM = 30;

interface FlagPlace {
  readonly at: Vec;
  readonly boxes: readonly [Box, Box];
}

export const drawPlanStarts = (scene: Scene, places: Places): Shape[] =>
  pourStarts(scene).flatMap(({ pour, face, start }) => {
    const frame = scene.frameOf(face);
    const x = scale(frame.along, start.direction);
    const { factor } = scene.sizes;
    const words = pour === null ? 'START' : `START ${pour}`;
    const wide = textWidth(words, scene.sizes.mark);
    const longMm = Math.max(FLAG_LONG_MM * factor, wide) + PAD_MM;
    const highMm = FLAG_HIGH_MM * factor + scene.sizes.mark * 1.6;
    const rotationDeg = degrees(angleOf(frame.along));
    const foot = onFace(frame, start.stationMm, scene.result.catalogue.frameDepthMm);
    function* tries(): Generator<FlagPlace> {
      for (let out = 0; out < 14; out++) {
        for (let along = 0; along < 8; along++) {
          const at = add(foot, add(scale(frame.outward, (FIRST_MM + out * STEP_MM) * factor), scale(x, along * 200)));
          const centre = add(
            at,
            add(scale(x, longMm / 2 - PAD_MM), scale(frame.outward, highMm / 2 - scene.sizes.mark * 1.6)),
          );
          yield {
            at,
            boxes: [{ kind: 'text', centre, halfMm: [longMm / 2, highMm / 2], rotationDeg }, leaderBox(foot, at)],
          };
        }
      }
    }
    const { at } = places.firstFree(tries());
    const about = ['start', face];
    const middle = add(at, add(scale(x, wide / 2), scale(frame.outward, -scene.sizes.mark * 0.9)));
    return [
      ...flagShapes('NOTE', at, x, frame.outward, factor, about),
      line('NOTE', foot, at, about),
      text('NOTE', words, middle, scene.sizes.mark, {
        rotationDeg: readable(rotationDeg),
        across: 'centre',
        upright: 'middle',
        about,
      }),
    ];
  });

/** Where the sections are cut: in plan, outside of both faces, an arrow in the direction of view with the letter, where nothing else stands. */

import { degrees, onFace, readable } from '../../ground/places.js';
import { add, angleOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { type Box, leaderBox, type Places } from './labels.js';
import type { Scene } from './scene.js';
import type { Section } from './sections.js';
import { line, type Shape, text } from './sheet.js';

/** At the usual height of texts. */
const FIRST_MM = 420;
const STEP_MM = 90;
const ARROW_MM = 180;

interface CutPlace {
  readonly at: Vec;
  readonly boxes: readonly [Box, Box];
}

export const drawSectionCuts = (scene: Scene, places: Places, sections: readonly Section[]): Shape[] =>
  sections.flatMap(({ letter, wall, stationMm }) => {
    const about = ['section', letter];
    const faces = scene.result.plan.faces.filter((f) => f.wall === wall && (f.side === 'left' || f.side === 'right'));
    return faces
      .filter((f) => f.fromMm <= stationMm && stationMm <= f.toMm)
      .flatMap((face): Shape[] => {
        const frame = scene.frameOf(face.id);
        const foot = onFace(frame, stationMm, scene.result.catalogue.frameDepthMm);
        const outward = unit(sub(onFace(frame, stationMm, 100), onFace(frame, stationMm, 0)));
        const along = unit(sub(onFace(frame, stationMm + 1), onFace(frame, stationMm)));
        const rotationDeg = degrees(angleOf(along));
        const { factor, mark } = scene.sizes;
        const half = mark * 0.7;
        const [first, step, arrow] = [FIRST_MM * factor, STEP_MM * factor, ARROW_MM * factor];
        function* tries(): Generator<CutPlace> {
          for (let i = 0; i < 48; i++) {
            const at = add(foot, scale(outward, first + i * step));
            const centre = add(at, add(scale(along, arrow / 2), scale(outward, half)));
            const halfMm = [arrow / 2 + 20, half + 50 * factor] as const;
            yield { at, boxes: [{ kind: 'text', centre, halfMm, rotationDeg }, leaderBox(foot, at)] };
          }
        }
        const { at } = places.firstFree(tries());
        const tip = add(at, scale(along, arrow));
        const back = add(at, scale(along, arrow / 2));
        const side = scale(outward, 32 * factor);
        return [
          line('FACE', add(foot, scale(outward, first * 0.6)), at, about),
          line('FACE', at, tip, about),
          { type: 'solid', layer: 'FACE', about, corners: [tip, add(back, side), sub(back, side)] },
          text('FACE', letter, add(at, add(scale(along, arrow / 2), scale(outward, half + 10))), mark, {
            rotationDeg: (readable(rotationDeg) + 360) % 360,
            across: 'centre',
            upright: 'middle',
            about,
          }),
        ];
      });
  });

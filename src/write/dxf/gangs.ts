/** Gangs: in plan a light line behind the frames with its number and mass, in elevation its outline, lift points and centre of gravity. */

import { degrees, onFace, readable } from '../../ground/places.js';
import { add, angleOf, scale } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Gang } from '../../ground/vocabulary.js';
import type { View } from './elevationView.js';
import { type Box, leaderBox, type Places } from './labels.js';
import type { Scene } from './scene.js';
import { line, polyline, type Shape, text, textWidth } from './sheet.js';

/** From the backs of the frames to the line of a gang: behind the aligners. */
const BEHIND_MM = 130;
/** Between the ends of two gangs, and the strokes at its ends. */
const INSET_MM = 12;
const END_MM = 60;

const nameOf = (g: Gang): string => `${g.id}  ${plainNumber(g.massKg, 0)} KG`;

function* namePlaces(home: Box, along: Box['centre'], outward: Box['centre'], heightMm: number) {
  for (let out = 0; out < 10; out++)
    for (let k = 0; k <= 12; k++) {
      const aside = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * 150;
      const by = add(scale(along, aside), scale(outward, out * heightMm * 1.4));
      yield { boxes: [{ ...home, centre: add(home.centre, by) }] as const };
    }
}

const inPlan = (scene: Scene, places: Places, g: Gang): Shape[] => {
  const frame = scene.frameOf(g.face);
  const out = scene.result.catalogue.frameDepthMm + BEHIND_MM;
  const at = (stationMm: number, outMm: number) => onFace(frame, stationMm, outMm);
  const [from, to] = [g.fromMm + INSET_MM, g.toMm - INSET_MM];
  const about = ['gang', g.id];
  places.take(leaderBox(at(from, out), at(to, out)));
  const heightMm = scene.sizes.mark;
  const content = nameOf(g);
  const rotationDeg = readable(degrees(angleOf(frame.along)));
  const home: Box = {
    kind: 'text',
    centre: at((from + to) / 2, out + heightMm),
    halfMm: [textWidth(content, heightMm) / 2 + 20, heightMm / 2 + 10],
    rotationDeg,
  };
  const { centre } = places.firstFree(namePlaces(home, frame.along, frame.outward, heightMm)).boxes[0];
  return [
    polyline('GANG', [at(from, out - END_MM), at(from, out), at(to, out), at(to, out - END_MM)], false, about),
    text('GANG', content, centre, heightMm, { rotationDeg, across: 'centre', upright: 'middle', about }),
  ];
};

export const drawGangs = (scene: Scene, places: Places): Shape[] =>
  (scene.result.layout.gangs ?? []).flatMap((g) => inPlan(scene, places, g));

const HOOK_MM = 90;

export const drawGangsElevation = (scene: Scene, view: View): Shape[] =>
  (scene.result.layout.gangs ?? [])
    .filter((g) => g.face === view.frame.face.id)
    .flatMap((g): Shape[] => {
      const about = ['gang', g.id];
      const [from, to] = [g.fromMm + INSET_MM, g.toMm - INSET_MM];
      const [low, high] = [g.baseMm + INSET_MM, g.topMm - INSET_MM];
      const corners = [view.at(from, low), view.at(to, low), view.at(to, high), view.at(from, high)];
      const [station, level] = g.centreMm;
      const centre = view.at(station, level);
      const cross = (dx: number, dy: number) =>
        line('GANG', { x: centre.x - dx, y: centre.y - dy }, { x: centre.x + dx, y: centre.y + dy }, about);
      const lifts = g.legs.flatMap((leg): Shape[] => {
        const foot = view.at(leg.stationMm, g.topMm);
        return [
          line('GANG', foot, { x: foot.x, y: foot.y + HOOK_MM }, about),
          { type: 'circle', layer: 'GANG', about, centre: { x: foot.x, y: foot.y + HOOK_MM + 20 }, radiusMm: 20 },
        ];
      });
      const name = `${nameOf(g)}  CG`;
      return [
        polyline('GANG', corners, true, about),
        ...lifts,
        cross(50, 0),
        cross(0, 50),
        text('GANG', name, { x: centre.x, y: centre.y + 70 }, scene.sizes.least, {
          across: 'centre',
          upright: 'baseline',
          about,
        }),
      ];
    });

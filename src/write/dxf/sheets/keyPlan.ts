/** The key plan: the concrete small, the faces of the sheet bold and named with the arrow in which they are looked at; north, where the input says it. */

import { onFace } from '../../../ground/places.js';
import { add, scale as times, unit, type Vec } from '../../../ground/plane.js';
import { type Bounds, EMPTY, include, isEmpty } from '../bounds.js';
import { type Box, Places } from '../labels.js';
import type { Scene } from '../scene.js';
import { polyline, rectangle, type Shape, textWidth } from '../sheet.js';
import { rule, say } from './ink.js';
import { type Area, PAPER_TEXT_MM } from './paper.js';

const EDGE_MM = 16;
const STEPS = 12;
const TRIES = 4;

/** Bounds of the concrete, mm of the model. */
export const concreteBounds = (scene: Scene): Bounds =>
  scene.result.plan.concrete.flat().reduce<Bounds>((b, p) => include(b, p), EMPTY);

/** Where a face's name stands before it; null where others leave no room near by. */
const placed = (places: Places, content: string, at: Vec, away: Vec): Vec | null => {
  const half = textWidth(content, PAPER_TEXT_MM.plain) / 2;
  for (let i = 0; i < TRIES; i++) {
    const centre = add(at, times(away, Math.abs(away.x) * half + 4 + i * 3));
    const box: Box = { kind: 'text', centre, halfMm: [half + 1, 2.6], rotationDeg: 0 };
    if (!places.isFree(box)) continue;
    places.take(box);
    return centre;
  }
  return null;
};

/** True north as a direction in the drawing, null where it is not known. */
const northOf = (scene: Scene): Vec | null => {
  const north = scene.result.model?.georeference?.trueNorth;
  return north ? unit({ x: north[0], y: north[1] }) : null;
};

export const drawKeyPlan = (scene: Scene, faces: readonly string[], a: Area): Shape[] => {
  const about = ['sheet'];
  const shapes: Shape[] = [
    rectangle('SHET', a.left, a.bottom, a.right, a.top, about),
    say('KEY PLAN', { x: a.left + 4, y: a.top - 3 }, PAPER_TEXT_MM.plain, { upright: 'top' }),
  ];
  const bounds = concreteBounds(scene);
  const north = northOf(scene);
  if (north) {
    const foot = { x: a.right - 14, y: a.top - 16 };
    shapes.push(rule(add(foot, times(north, -8)), add(foot, times(north, 8))));
    shapes.push({ type: 'solid', layer: 'SHET', about, corners: arrowHead(add(foot, times(north, 8)), north, 4) });
    shapes.push(say('N', { x: foot.x + 6, y: foot.y }, PAPER_TEXT_MM.mark, { upright: 'middle' }));
  } else
    shapes.push(
      say('NORTH NOT KNOWN', { x: a.right - 4, y: a.top - 3 }, PAPER_TEXT_MM.plain, {
        across: 'right',
        upright: 'top',
      }),
    );
  if (isEmpty(bounds)) return shapes;
  const room = { w: a.right - a.left - 2 * EDGE_MM, h: a.top - a.bottom - 2 * EDGE_MM + 4 };
  const k = Math.min(room.w / Math.max(1, bounds.maxX - bounds.minX), room.h / Math.max(1, bounds.maxY - bounds.minY));
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  const centre = { x: (a.left + a.right) / 2, y: (a.bottom + a.top) / 2 - 3 };
  const put = (p: Vec): Vec => add(centre, times({ x: p.x - middle.x, y: p.y - middle.y }, k));
  for (const ring of scene.result.plan.concrete) {
    if (ring.length > 1) shapes.push(polyline('CONC', ring.map(put), true, about));
  }
  const places = new Places();
  for (const id of faces) {
    const frame = scene.frameOf(id);
    const { fromMm, toMm } = frame.face;
    const steps = frame.wall.arc ? STEPS : 1;
    const points = Array.from({ length: steps + 1 }, (_, i) => onFace(frame, fromMm + ((toMm - fromMm) * i) / steps));
    const out = times(frame.outward, 1.2);
    shapes.push(
      polyline(
        'PANL',
        points.map((p) => add(put(p), out)),
        false,
        about,
      ),
    );
    const at = placed(places, id, add(put(onFace(frame, (fromMm + toMm) / 2)), out), frame.outward);
    if (at) shapes.push(say(id, at, PAPER_TEXT_MM.plain, { across: 'centre', upright: 'middle' }));
  }
  return shapes;
};

/** A filled arrow head with its tip at `tip`. */
export const arrowHead = (tip: Vec, towards: Vec, lengthMm: number): Vec[] => {
  const back = add(tip, times(towards, -lengthMm));
  const side = { x: -towards.y * lengthMm * 0.35, y: towards.x * lengthMm * 0.35 };
  return [tip, add(back, side), { x: back.x - side.x, y: back.y - side.y }];
};

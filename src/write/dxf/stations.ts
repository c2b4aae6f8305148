/** Under the dimension strings of an elevation: an arrow in the way of the stations, and the flag where setting starts. */

import { add, type Vec } from '../../ground/plane.js';
import type { View } from './elevationView.js';
import type { Scene } from './scene.js';
import { line, type Shape, text, textWidth } from './sheet.js';
import { FLAG_LONG_MM, flagShapes, settingStart } from './startFlag.js';

/** These and the next: at the usual height of texts. */
const ARROW_MM = 1000;
/** On faces shorter than this arrow and words stand over the flag, not beside it. */
const SHORT_MM = 1500;
/** From the arrow of the stations down to the foot of the flag: its staff ends under the string over it. */
const FLAG_UNDER_MM = 150;
/** The same where arrow and words stand over it. */
const FLAG_LANE_MM = 330;
/** Between arrow and words. */
const WORDS_GAP_MM = 60;

/** From where to where (x) flag, arrow and START go. */
const flagSpan = (scene: Scene, view: View): readonly [number, number] | null => {
  const start = settingStart(scene, view.frame.face.id);
  if (!start) return null;
  const x = view.at(start.stationMm, 0).x;
  const far =
    x +
    start.direction *
      view.frame.seen *
      ((FLAG_LONG_MM + 40) * scene.sizes.factor + textWidth('START', scene.sizes.dimension));
  return [Math.min(x, far), Math.max(x, far)];
};

/** START, with the direction of setting. */
const drawStart = (scene: Scene, view: View, y: number, about: readonly string[]): Shape[] => {
  const start = settingStart(scene, view.frame.face.id);
  if (!start) return [];
  const x = view.at(start.stationMm, 0).x;
  const right = start.direction * view.frame.seen;
  const flag = flagShapes('NOTE', { x, y }, { x: right, y: 0 }, { x: 0, y: 1 }, scene.sizes.factor, about);
  const at = { x: x + right * (FLAG_LONG_MM + 40) * scene.sizes.factor, y };
  const words = text('NOTE', 'START', at, scene.sizes.dimension, {
    across: right > 0 ? 'left' : 'right',
    upright: 'middle',
    about,
  });
  return [...flag, words];
};

/** Arrow, words and flag; `y`: height of the arrow. */
export const drawStations = (scene: Scene, view: View, y: number): Shape[] => {
  const { face, wall, seen } = view.frame;
  const { factor } = scene.sizes;
  const about = ['dimension', face.id];
  const along = wall.arc ? 'STATIONS ALONG THE OUTER FACE, START TO END' : 'STATIONS, START TO END';
  const words = face.side === 'left' || face.side === 'right' ? along : 'STATIONS, FROM THE LEFT FACE';
  const wordsMm = textWidth(words, scene.sizes.dimension);
  // Arrow and words stand side by side in the middle, or beside the flag where that would be in the way.
  const middle = (view.at(face.fromMm, 0).x + view.at(face.toMm, 0).x) / 2;
  const isShort = face.toMm - face.fromMm < SHORT_MM * factor;
  const arrowMm = (isShort ? ARROW_MM / 2 : ARROW_MM) * factor;
  const gapMm = WORDS_GAP_MM * factor;
  const longMm = arrowMm + gapMm + wordsMm;
  const flag = flagSpan(scene, view);
  const home = middle - longMm / 2;
  const isFree = isShort || !flag || flag[1] < home - gapMm || flag[0] > home + longMm + gapMm;
  const isRight = !!flag && flag[0] + flag[1] > 2 * middle;
  const left = isFree ? home : isRight ? flag[0] - gapMm - longMm : flag[1] + gapMm;
  const right = left + longMm;
  const [tail, tip] = (seen > 0 ? [left, left + arrowMm] : [left + arrowMm, left]).map((x) => ({ x, y })) as [Vec, Vec];
  const head = [
    tip,
    add(tip, { x: -seen * 120 * factor, y: 40 * factor }),
    add(tip, { x: -seen * 120 * factor, y: -40 * factor }),
  ];
  return [
    line('DIMS', tail, tip, about),
    { type: 'solid', layer: 'DIMS', about, corners: head },
    text('DIMS', words, { x: right - wordsMm, y }, scene.sizes.dimension, { upright: 'middle', about }),
    ...drawStart(scene, view, y - (isShort ? FLAG_LANE_MM : FLAG_UNDER_MM) * factor, about),
  ];
};

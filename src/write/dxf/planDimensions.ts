/**
 * Dimensions in plan: the length of the concrete along each face, from vertex to vertex, as DIMENSION entities, each with the block that draws it.
 * They are never taken from the backs of the panels.
 */

import { degrees, type FaceFrame, onFace, readable } from '../../ground/places.js';
import { add, angleOf, leftOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { dimensionShape } from './dimension.js';
import { type Box, leaderBox, type Places } from './labels.js';
import { lengthText } from './lengths.js';
import type { Scene, TextSizes } from './scene.js';
import { type DimensionShape, type Shape, textWidth } from './sheet.js';
import { TIE_PAST_MM } from './symbols.js';

/** Lanes at the usual height of texts. */
const FIRST_MM = 600;
const STEP_MM = 150;
const LANES = 20;
/** Places along its line at which a dimension's text is tried. */
const SHIFTS = 13;
const SHIFT_MM = 300;
/** Dimension text over its line. */
const OVER_MM = 40;
/** Faces shorter than this are dimensioned in their elevation alone. */
const SHORTEST_MM = 100;

interface DimensionPlace {
  readonly ends: readonly [Vec, Vec];
  readonly textAt: Vec;
  readonly isMoved: boolean;
  /** What goes on from the line under a text beyond its end. */
  readonly leader?: readonly [Vec, Vec];
  readonly boxes: readonly [Box, ...Box[]];
}

/** Lanes further and further from the face, clear of the marks of the units: the text over its line, or, where no lane has room for that, beyond an end. */
function* lanes(sizes: TextSizes, frame: FaceFrame, startMm: number, widthMm: number): Generator<DimensionPlace> {
  const { face } = frame;
  const heightMm = sizes.mark;
  const lengthMm = face.toMm - face.fromMm;
  const along = unit(frame.along);
  const rotationDeg = readable(degrees(angleOf(frame.along)));
  const up = leftOf(along);
  const isTurned = Math.abs(degrees(angleOf(frame.along)) - ((rotationDeg + 360) % 360)) > 1;
  const over = scale(up, (isTurned ? -1 : 1) * (OVER_MM * sizes.factor + heightMm / 2));
  const feet = [onFace(frame, face.fromMm, startMm), onFace(frame, face.toMm, startMm)] as const;
  const endsAt = (lane: number) => {
    const outMm = (FIRST_MM + lane * STEP_MM) * sizes.factor;
    return [onFace(frame, face.fromMm, outMm), onFace(frame, face.toMm, outMm)] as const;
  };
  const place = (ends: readonly [Vec, Vec], textAt: Vec, isMoved: boolean): DimensionPlace => {
    const label: Box = { kind: 'text', centre: textAt, halfMm: [widthMm / 2 + 20, heightMm / 2 + 10], rotationDeg };
    const lines = [leaderBox(ends[0], ends[1]), leaderBox(feet[0], ends[0]), leaderBox(feet[1], ends[1])];
    return { ends, textAt, isMoved, boxes: [label, ...lines] };
  };
  const most = Math.max(0, (lengthMm - widthMm) / 2);
  const step = Math.min(SHIFT_MM, most);
  const shifts = step === 0 ? 1 : SHIFTS;
  for (let lane = 0; lane < LANES; lane++) {
    const ends = endsAt(lane);
    const middle = add(middleOf(ends), over);
    for (let k = 0; k < shifts && Math.ceil(k / 2) * step <= most; k++) {
      const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * step;
      yield place(ends, add(middle, scale(along, shift)), k > 0);
    }
  }
  const beyondMm = widthMm + 2 * heightMm;
  for (let lane = 0; lane < LANES; lane++) {
    const ends = endsAt(lane);
    for (const [far, near] of [ends, [ends[1], ends[0]]] as const) {
      const leader = [near, add(near, scale(unit(sub(near, far)), beyondMm))] as const;
      const beside = place(ends, add(middleOf(leader), over), true);
      yield { ...beside, leader, boxes: [...beside.boxes, leaderBox(...leader)] };
    }
  }
}

const middleOf = ([a, b]: readonly [Vec, Vec]): Vec => scale(add(a, b), 0.5);

const dimensionOf = (scene: Scene, places: Places, frame: FaceFrame): DimensionShape => {
  const { face } = frame;
  const { catalogue } = scene.result;
  const says = lengthText(catalogue.lengthUnit, face.toMm - face.fromMm);
  const startMm = catalogue.frameDepthMm + TIE_PAST_MM;
  const place = places.firstFree(lanes(scene.sizes, frame, startMm, textWidth(says, scene.sizes.mark)));
  return dimensionShape({
    ends: place.ends,
    feet: [onFace(frame, face.fromMm, startMm), onFace(frame, face.toMm, startMm)],
    points: [onFace(frame, face.fromMm), onFace(frame, face.toMm)],
    textAt: place.textAt,
    isTextPlaced: place.isMoved,
    ...(place.leader ? { leader: place.leader } : {}),
    heightMm: scene.sizes.mark,
    style: 'plan',
    says,
    about: ['dimension', face.id],
  });
};

/** One dimension for each left and right face; curved ones are told by their name, with radius and length. */
export const drawPlanDimensions = (scene: Scene, places: Places): Shape[] =>
  scene.result.plan.faces
    .filter((face) => (face.side === 'left' || face.side === 'right') && face.toMm - face.fromMm >= SHORTEST_MM)
    .map((face) => scene.frameOf(face.id))
    .filter((frame) => !frame.wall.arc)
    .map((frame) => dimensionOf(scene, places, frame));

/** Clamps: in plan one insert for all of an upright joint, in elevation a bar across the joint for each. */

import { type FaceFrame, onFace } from '../../ground/places.js';
import { angleOf } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Clamp } from '../../ground/vocabulary.js';
import { CLAMP_TAGS, clampAttributes } from './attributes.js';
import type { View } from './elevationView.js';
import type { Scene } from './scene.js';
import { rectangle, type Shape } from './sheet.js';
import { clampMark, clampShapes } from './symbols.js';

/** Clamps of one joint and one item, in the layout's order. */
const joints = (clamps: readonly Clamp[]): (readonly [Clamp, ...Clamp[]])[] => {
  const byJoint = new Map<string, [Clamp, ...Clamp[]]>();
  for (const clamp of clamps) {
    const key = [clamp.face, clamp.stationMm, clamp.item, ...clamp.pieces].join(' ');
    const own = byJoint.get(key);
    if (own) own.push(clamp);
    else byJoint.set(key, [clamp]);
  }
  return [...byJoint.values()];
};

/** Direction in degrees along the face, the concrete to the left of it. */
const poseOf = (frame: FaceFrame, stationMm: number) => {
  const at = onFace(frame, stationMm, 0);
  const ahead = onFace(frame, stationMm, 1);
  const outwardDeg = (angleOf({ x: ahead.x - at.x, y: ahead.y - at.y }) * 180) / Math.PI;
  return { at, rotationDeg: (((outwardDeg + 90) % 360) + 360) % 360 };
};

/** One insert for each upright joint, at its station on the contact face. */
export const drawClamps = (scene: Scene): Shape[] => {
  const { layout, catalogue } = scene.result;
  return joints(layout.clamps.filter((c) => c.joint === 'upright')).map((set): Shape => {
    const [first] = set;
    const pose = poseOf(scene.frameOf(first.face), first.stationMm);
    const shapes = clampShapes(first.gapMm, catalogue.frameDepthMm);
    return {
      type: 'insert',
      layer: 'CLMP',
      block: scene.blocks.ask(`${first.item}-${plainNumber(first.gapMm, 1)}-PLAN`, shapes, CLAMP_TAGS),
      ...pose,
      attributes: clampAttributes(set, pose.at),
      about: ['clamp', first.id],
    };
  });
};

/** A clamp in the elevation of its face. */
export const drawClamp = (view: View, clamp: Clamp): Shape => {
  const { x, y } = view.at(clamp.stationMm, clamp.levelMm);
  const { halfMm, thickMm } = clampMark(clamp.gapMm);
  const [w, h] = clamp.joint === 'upright' ? [halfMm, thickMm / 2] : [thickMm / 2, halfMm];
  return rectangle('CLMP', x - w, y - h, x + w, y + h, ['clamp', clamp.id]);
};

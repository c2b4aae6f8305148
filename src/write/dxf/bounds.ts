/** Bounding boxes of shapes, texts by their estimated width. */

import { direction } from '../../ground/places.js';
import { add, leftOf, scale, type Vec } from '../../ground/plane.js';
import { type Shape, type TextPose, textWidth } from './sheet.js';

export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export const EMPTY: Bounds = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };

export const isEmpty = (b: Bounds): boolean => b.minX > b.maxX || b.minY > b.maxY;

export const include = (b: Bounds, p: Vec): Bounds => ({
  minX: Math.min(b.minX, p.x),
  minY: Math.min(b.minY, p.y),
  maxX: Math.max(b.maxX, p.x),
  maxY: Math.max(b.maxY, p.y),
});

export const union = (a: Bounds, b: Bounds): Bounds => ({
  minX: Math.min(a.minX, b.minX),
  minY: Math.min(a.minY, b.minY),
  maxX: Math.max(a.maxX, b.maxX),
  maxY: Math.max(a.maxY, b.maxY),
});

/** Corners of the box that a text takes, anticlockwise from its lower left. */
export const textCorners = (content: string, pose: TextPose): readonly Vec[] => {
  const widthMm = textWidth(content, pose.heightMm);
  const left = { left: 0, centre: -widthMm / 2, right: -widthMm }[pose.across];
  const low = { baseline: 0, middle: -pose.heightMm / 2, top: -pose.heightMm }[pose.upright];
  const x = direction(pose.rotationDeg);
  const corner = (dx: number, dy: number): Vec => add(pose.at, add(scale(x, left + dx), scale(leftOf(x), low + dy)));
  return [corner(0, 0), corner(widthMm, 0), corner(widthMm, pose.heightMm), corner(0, pose.heightMm)];
};

/** Points that span a shape. Of an insert: its insertion point and its visible attributes; `blockReachMm` round it. */
const pointsOf = (shape: Shape, blockReachMm: number): readonly Vec[] => {
  switch (shape.type) {
    case 'line':
      return [shape.from, shape.to];
    case 'polyline':
      return shape.vertices;
    case 'solid':
      return shape.corners;
    case 'hatch':
      return shape.paths.flat();
    case 'circle': {
      const { centre, radiusMm: r } = shape;
      return [add(centre, { x: -r, y: -r }), add(centre, { x: r, y: r })];
    }
    case 'text':
      return textCorners(shape.text, shape);
    case 'dimension':
      return [shape.from, shape.to, ...shape.picture.flatMap((s) => pointsOf(s, 0))];
    case 'insert': {
      const shown = shape.attributes.filter((a) => a.visible).flatMap((a) => textCorners(a.text, a));
      const r = blockReachMm;
      return [add(shape.at, { x: -r, y: -r }), add(shape.at, { x: r, y: r }), ...shown];
    }
  }
};

export const boundsOf = (shapes: readonly Shape[], blockReachMm = 0): Bounds => {
  let bounds = EMPTY;
  for (const shape of shapes) for (const p of pointsOf(shape, blockReachMm)) bounds = include(bounds, p);
  return bounds;
};

/**
 * Dimension strings under an elevation: running ones from the concrete's start vertex (never from the backs of panels), single widths, the length of the
 * concrete, and an arrow in the way of the stations.
 */

import { sideShare } from '../../ground/arcs.js';
import { add } from '../../ground/plane.js';
import type { OnFace, View } from './elevation.js';
import { BOTTOM_LANE_MM } from './elevationMarks.js';
import { spread } from './labels.js';
import { lengthText } from './lengths.js';
import { type Scene, TEXT_MM } from './scene.js';
import { line, type Shape, text } from './sheet.js';

/** Two joints nearer than this are one. */
const SAME_JOINT_MM = 0.5;
const TICK_MM = 40;
const LANE_MM = 620;
const LEAD_MM = 90;

/** Stations rising, those that are the same once. */
const distinct = (stations: readonly number[]): number[] => {
  const sorted = [...stations].sort((a, b) => a - b);
  return sorted.filter((s, i) => i === 0 || s - sorted[i - 1]! > SAME_JOINT_MM);
};

/** Stations of the joints between the pieces of a face; what closes gaps under them makes none. */
export const jointsOf = (items: readonly OnFace[]): number[] => {
  const covers = items.filter((i) => i.piece.covers.length > 0 && i.piece.course > 0).map((i) => i.cover);
  return distinct(covers.flatMap((c) => [c.fromMm, c.toMm]));
};

/** A level line with a stroke at each place. */
const string = (xs: readonly number[], y: number, about: readonly string[]): Shape[] => [
  line('DIMS', { x: Math.min(...xs), y }, { x: Math.max(...xs), y }, about),
  ...xs.map((x) =>
    line('DIMS', { x: x - TICK_MM / 2, y: y - TICK_MM / 2 }, { x: x + TICK_MM / 2, y: y + TICK_MM / 2 }, about),
  ),
];

/** Upright texts under a string, spread, each led to its place. */
const uprights = (
  at: readonly { readonly x: number; readonly text: string }[],
  y: number,
  about: readonly string[],
): Shape[] => {
  const sorted = [...at].sort((a, b) => a.x - b.x);
  const places = spread(
    sorted.map((t) => t.x),
    TEXT_MM.dimension * 1.35,
  );
  return sorted.flatMap((t, i) => [
    line('DIMS', { x: t.x, y }, { x: places[i]!, y: y - LEAD_MM }, about),
    text('DIMS', t.text, { x: places[i]!, y: y - LEAD_MM - 15 }, TEXT_MM.dimension, {
      rotationDeg: 90,
      across: 'right',
      upright: 'middle',
      about,
    }),
  ]);
};

/** The dimension strings of an elevation. */
export const drawDimensions = (scene: Scene, view: View, items: readonly OnFace[]): Shape[] => {
  const unit = scene.result.catalogue.lengthUnit;
  const { face, seen } = view.frame;
  const joints = jointsOf(items);
  const { base, top } = view.frame.wall;
  const straight = face.side === 'left' || face.side === 'right';
  const risers = straight ? [...base.slice(1), ...top.slice(1)].map((b) => b.fromMm) : [];
  const marks = distinct([...joints, ...risers, face.fromMm, face.toMm]);
  const about = ['dimension', face.id];
  const xOf = (stationMm: number): number => view.at(stationMm, 0).x;
  const runningY = -BOTTOM_LANE_MM;
  const singleY = runningY - LANE_MM;
  const totalY = singleY - LANE_MM;
  const running = marks.map((s) => ({ x: xOf(s), text: lengthText(unit, s - face.fromMm) }));
  const { wall } = view.frame;
  // Fill on a curve measures less at the concrete than its stations say.
  const fills = items.filter(({ piece }) => piece.taper && piece.vertex === undefined);
  const fillAt = (s: number) => fills.find(({ cover }) => Math.abs(cover.fromMm - s) <= SAME_JOINT_MM)?.piece.taper;
  const single = joints.slice(1).map((s, i) => ({
    x: (xOf(joints[i]!) + xOf(s)) / 2,
    text: lengthText(unit, fillAt(joints[i]!)?.faceMm ?? s - joints[i]!),
  }));
  const ends = [xOf(face.fromMm), xOf(face.toMm)];
  const middle = (ends[0]! + ends[1]!) / 2;
  const total = `CONCRETE = ${lengthText(unit, (face.toMm - face.fromMm) * sideShare(wall, face.side))}`;
  const along = wall.arc ? 'STATIONS ALONG THE OUTER FACE, START TO END' : 'STATIONS, START TO END';
  const arrowY = totalY - 250;
  const tip = { x: middle + seen * 500, y: arrowY };
  const tail = { x: middle - seen * 500, y: arrowY };
  const arrow: Shape[] = [
    line('DIMS', tail, tip, about),
    {
      type: 'solid',
      layer: 'DIMS',
      about,
      corners: [tip, add(tip, { x: -seen * 120, y: 40 }), add(tip, { x: -seen * 120, y: -40 })],
    },
    text('DIMS', straight ? along : 'STATIONS, FROM THE LEFT FACE', { x: middle, y: arrowY - 60 }, TEXT_MM.dimension, {
      across: 'centre',
      upright: 'top',
      about,
    }),
  ];
  return [
    ...string(marks.map(xOf), runningY, about),
    ...uprights(running, runningY, about),
    ...(joints.length > 1 ? string(joints.map(xOf), singleY, about) : []),
    ...uprights(single, singleY, about),
    ...string(ends, totalY, about),
    text('DIMS', total, { x: middle, y: totalY + 50 }, TEXT_MM.dimension, { across: 'centre', about }),
    ...arrow,
  ];
};

/**
 * Dimension strings under an elevation: running ones from the concrete's start vertex (never from the backs of panels), single widths, the length of the
 * concrete, and an arrow in the way of the stations.
 */

import { sideShare } from '../../ground/arcs.js';
import { add, type Vec } from '../../ground/plane.js';
import type { OnFace, View } from './elevation.js';
import { BOTTOM_LANE_MM } from './elevationMarks.js';
import { spread } from './labels.js';
import { type GearUnit, lengthText } from './lengths.js';
import { type Scene, TEXT_MM } from './scene.js';
import { line, type Shape, text, textWidth } from './sheet.js';
import { FLAG_LONG_MM, flagShapes, settingStart } from './startFlag.js';

/** Two joints nearer than this are one. */
const SAME_JOINT_MM = 0.5;
const TICK_MM = 40;
const LEAD_MM = 75;
/** Under the texts of a string. */
const UNDER_MM = 90;
/** From the string of the whole length down to the arrow of the stations: its text stands between. */
const ARROW_LANE_MM = 210;
const ARROW_MM = 1000;

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

/** How much room a string takes with its upright texts. */
const laneOf = (texts: readonly { readonly text: string }[]): number =>
  LEAD_MM + 15 + Math.max(0, ...texts.map((t) => textWidth(t.text, TEXT_MM.dimension))) + UNDER_MM;

/** What closes the strings: units from end to end, and how they come to the concrete's length where they stand beyond it or short of it. */
const sumOf = (unit: GearUnit, { frame }: View, joints: readonly number[]): string[] => {
  const { face, wall } = frame;
  if (joints.length < 2 || wall.arc) return [];
  const beyond = [face.fromMm - joints[0]!, joints.at(-1)! - face.toMm];
  const ends = ['START', 'END'].flatMap((name, i) => {
    const mm = beyond[i]!;
    if (Math.abs(mm) <= SAME_JOINT_MM) return [];
    return [`${lengthText(unit, Math.abs(mm))} ${mm > 0 ? 'BEYOND' : 'SHORT OF'} ${name}`];
  });
  return [`FORMS = ${[lengthText(unit, joints.at(-1)! - joints[0]!), ...ends].join(', ')}`];
};

/** From the arrow of the stations down to the foot of the flag. */
const FLAG_LANE_MM = 330;
/** Between arrow and words. */
const WORDS_GAP_MM = 60;

/** From where to where (x) flag, arrow and START go. */
const flagSpan = (scene: Scene, view: View): readonly [number, number] | null => {
  const start = settingStart(scene, view.frame.face.id);
  if (!start) return null;
  const x = view.at(start.stationMm, 0).x;
  const far = x + start.direction * view.frame.seen * (FLAG_LONG_MM + 40 + textWidth('START', TEXT_MM.dimension));
  return [Math.min(x, far), Math.max(x, far)];
};

/** START, with the direction of setting. */
const drawStart = (scene: Scene, view: View, y: number, about: readonly string[]): Shape[] => {
  const start = settingStart(scene, view.frame.face.id);
  if (!start) return [];
  const x = view.at(start.stationMm, 0).x;
  const right = start.direction * view.frame.seen;
  const flag = flagShapes('NOTE', { x, y }, { x: right, y: 0 }, { x: 0, y: 1 }, about);
  const at = { x: x + right * (FLAG_LONG_MM + 40), y };
  const words = text('NOTE', 'START', at, TEXT_MM.dimension, {
    across: right > 0 ? 'left' : 'right',
    upright: 'middle',
    about,
  });
  return [...flag, words];
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
  const running = marks.map((s) => ({ x: xOf(s), text: lengthText(unit, s - face.fromMm) }));
  const { wall } = view.frame;
  // Fill on a curve measures less at the concrete than its stations say.
  const fills = items.filter(({ piece }) => piece.taper && piece.vertex === undefined);
  const fillAt = (s: number) => fills.find(({ cover }) => Math.abs(cover.fromMm - s) <= SAME_JOINT_MM)?.piece.taper;
  const single = joints.slice(1).map((s, i) => ({
    x: (xOf(joints[i]!) + xOf(s)) / 2,
    text: lengthText(unit, fillAt(joints[i]!)?.faceMm ?? s - joints[i]!),
  }));
  const singleY = runningY - laneOf(running);
  const totalY = singleY - laneOf(single);
  const ends = [xOf(face.fromMm), xOf(face.toMm)];
  const middle = (ends[0]! + ends[1]!) / 2;
  const concrete = `CONCRETE = ${lengthText(unit, (face.toMm - face.fromMm) * sideShare(wall, face.side))}`;
  const total = [concrete, ...sumOf(unit, view, joints)].join(', ');
  const along = wall.arc ? 'STATIONS ALONG THE OUTER FACE, START TO END' : 'STATIONS, START TO END';
  const arrowY = totalY - ARROW_LANE_MM;
  const words = straight ? along : 'STATIONS, FROM THE LEFT FACE';
  const wordsMm = textWidth(words, TEXT_MM.dimension);
  // Arrow and words stand side by side in the middle.
  const left = middle - (ARROW_MM + WORDS_GAP_MM + wordsMm) / 2;
  const [tail, tip] = (seen > 0 ? [left, left + ARROW_MM] : [left + ARROW_MM, left]).map((x) => ({ x, y: arrowY })) as [
    Vec,
    Vec,
  ];
  const arrow: Shape[] = [
    line('DIMS', tail, tip, about),
    {
      type: 'solid',
      layer: 'DIMS',
      about,
      corners: [tip, add(tip, { x: -seen * 120, y: 40 }), add(tip, { x: -seen * 120, y: -40 })],
    },
    text('DIMS', words, { x: left + ARROW_MM + WORDS_GAP_MM, y: arrowY }, TEXT_MM.dimension, {
      upright: 'middle',
      about,
    }),
  ];
  // The flag stands in the same lane where there is room beside arrow and words.
  const flag = flagSpan(scene, view);
  const right = left + ARROW_MM + WORDS_GAP_MM + wordsMm;
  const hasRoom = flag !== null && (flag[1] < left - WORDS_GAP_MM || flag[0] > right + WORDS_GAP_MM);
  return [
    ...string(marks.map(xOf), runningY, about),
    ...uprights(running, runningY, about),
    ...(joints.length > 1 ? string(joints.map(xOf), singleY, about) : []),
    ...uprights(single, singleY, about),
    ...string(ends, totalY, about),
    text('DIMS', total, { x: middle, y: totalY - 30 }, TEXT_MM.dimension, {
      across: 'centre',
      upright: 'top',
      about,
    }),
    ...arrow,
    ...drawStart(scene, view, hasRoom ? arrowY - 60 : arrowY - FLAG_LANE_MM, about),
  ];
};

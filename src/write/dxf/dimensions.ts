/**
 * Dimension strings under an elevation: running ones from the concrete's start vertex (never from the backs of panels), single widths and the length of the
 * concrete. Widths and length are DIMENSION entities; the running ones are lines and texts, since not every program shows ordinates.
 */

import { sideShare } from '../../ground/arcs.js';
import { byNumber } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { boundsOf } from './bounds.js';
import { dimensionShape, MEASURED } from './dimension.js';
import type { OnFace, View } from './elevationView.js';
import { spread } from './labels.js';
import { type GearUnit, lengthText } from './lengths.js';
import type { Scene, TextSizes } from './scene.js';
import { line, type Shape, text, textWidth } from './sheet.js';
import { drawStations } from './stations.js';

/** Two joints nearer than this are one. */
const SAME_JOINT_MM = 0.5;
/** These and the next: at the usual height of texts. */
const TICK_MM = 40;
const LEAD_MM = 75;
/** Under the texts of a string. */
const UNDER_MM = 50;
/** From the string of the whole length down to the arrow of the stations. */
const ARROW_LANE_MM = 90;

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
const string = (sizes: TextSizes, xs: readonly number[], y: number, about: readonly string[]): Shape[] => {
  const half = (TICK_MM / 2) * sizes.factor;
  return [
    line('DIMS', { x: Math.min(...xs), y }, { x: Math.max(...xs), y }, about),
    ...xs.map((x) => line('DIMS', { x: x - half, y: y - half }, { x: x + half, y: y + half }, about)),
  ];
};

/** Upright texts under a string, spread, each led to its place. */
const uprights = (
  sizes: TextSizes,
  at: readonly { readonly x: number; readonly text: string }[],
  y: number,
  about: readonly string[],
): Shape[] => {
  const sorted = [...at].sort((a, b) => a.x - b.x);
  const places = spread(
    sorted.map((t) => t.x),
    sizes.dimension * 1.35,
  );
  const low = y - LEAD_MM * sizes.factor;
  return sorted.flatMap((t, i) => [
    line('DIMS', { x: t.x, y }, { x: places[i]!, y: low }, about),
    text('DIMS', t.text, { x: places[i]!, y: low - 15 }, sizes.dimension, {
      rotationDeg: 90,
      across: 'right',
      upright: 'middle',
      about,
    }),
  ]);
};

/** How much room a string takes with its upright texts. */
const laneOf = (sizes: TextSizes, texts: readonly { readonly text: string }[]): number =>
  (LEAD_MM + UNDER_MM) * sizes.factor + 15 + Math.max(0, ...texts.map((t) => textWidth(t.text, sizes.dimension)));

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

/** From the line of a string up to the middle of its texts. */
const overMm = (sizes: TextSizes): number => sizes.dimension / 2 + 30 * sizes.factor;
/** Blank beside a text over its line. */
const BESIDE_MM = 25;
/** Over a string for the texts on its line. */
const roomOverMm = (sizes: TextSizes): number => sizes.dimension + 60 * sizes.factor;

interface Width {
  readonly from: number;
  readonly to: number;
  readonly says: string;
  readonly pattern?: string;
}

const fits = (sizes: TextSizes, w: Width): boolean =>
  Math.abs(w.to - w.from) >= textWidth(w.says, sizes.dimension) + 2 * BESIDE_MM * sizes.factor;

/** Measured widths side by side in one string: the text over its line, of narrow ones upright below it, spread, each led to its place. */
const chain = (sizes: TextSizes, widths: readonly Width[], y: number, about: readonly string[]): Shape[] => {
  const middle = (w: Width): number => (w.from + w.to) / 2;
  const narrow = widths.filter((w) => !fits(sizes, w)).sort(byNumber(middle));
  const places = spread(narrow.map(middle), sizes.dimension * 1.35);
  return widths.map((w): Shape => {
    const ends: [Vec, Vec] = [
      { x: Math.min(w.from, w.to), y },
      { x: Math.max(w.from, w.to), y },
    ];
    const base = {
      ends,
      points: ends,
      heightMm: sizes.dimension,
      style: 'elevation',
      says: w.says,
      ...(w.pattern === undefined ? {} : { pattern: w.pattern }),
      about,
    } as const;
    const at = { x: middle(w), y: y + overMm(sizes) };
    if (fits(sizes, w)) return dimensionShape({ ...base, textAt: at, isTextPlaced: false });
    const x = places[narrow.indexOf(w)]!;
    const low = y - LEAD_MM * sizes.factor;
    return dimensionShape({
      ...base,
      textAt: { x, y: low - 15 - textWidth(w.says, sizes.dimension) / 2 },
      turnDeg: 90,
      leader: [
        { x: middle(w), y },
        { x, y: low },
      ],
      isTextPlaced: true,
    });
  });
};

/** The length of the concrete over its whole face, and what the forms come to beside it. */
const whole = (unit: GearUnit, view: View, joints: readonly number[], y: number, about: readonly string[]): Shape => {
  const { face, wall } = view.frame;
  const { sizes } = view;
  const [a, b] = [view.at(face.fromMm, 0).x, view.at(face.toMm, 0).x];
  const ends: [Vec, Vec] = [
    { x: Math.min(a, b), y },
    { x: Math.max(a, b), y },
  ];
  const said = (length: string): string => [`CONCRETE = ${length}`, ...sumOf(unit, view, joints)].join(', ');
  // Of a curve the elevation shows the outer face: what its own face measures is written out.
  const share = sideShare(wall, face.side);
  const own = lengthText(unit, (face.toMm - face.fromMm) * share);
  const says = said(share === 1 ? own : `${own} ON THIS FACE`);
  // Where it is wider than the face it stands under its line, clear of the strings over it.
  const hasRoom = Math.abs(b - a) >= textWidth(says, sizes.dimension);
  return dimensionShape({
    ends,
    points: ends,
    textAt: { x: (a + b) / 2, y: hasRoom ? y + overMm(sizes) : y - overMm(sizes) },
    isTextPlaced: !hasRoom,
    heightMm: sizes.dimension,
    style: 'elevation',
    says,
    pattern: share === 1 ? said(MEASURED) : says,
    about,
  });
};

/** The dimension strings of an elevation, from `underMm` below the footing downwards. */
export const drawDimensions = (scene: Scene, view: View, items: readonly OnFace[], underMm: number): Shape[] => {
  const { sizes } = scene;
  const unit = scene.result.catalogue.lengthUnit;
  const { face } = view.frame;
  const joints = jointsOf(items);
  const { base, top } = view.frame.wall;
  const straight = face.side === 'left' || face.side === 'right';
  const risers = straight ? [...base.slice(1), ...top.slice(1)].map((b) => b.fromMm) : [];
  const marks = distinct([...joints, ...risers, face.fromMm, face.toMm]);
  const about = ['dimension', face.id];
  const xOf = (stationMm: number): number => view.at(stationMm, 0).x;
  const runningY = -underMm;
  const running = marks.map((s) => ({ x: xOf(s), text: lengthText(unit, s - face.fromMm) }));
  // Fill on a curve measures less at the concrete than its stations say.
  const fills = items.filter(({ piece }) => piece.taper && piece.vertex === undefined);
  const fillAt = (s: number) => fills.find(({ cover }) => Math.abs(cover.fromMm - s) <= SAME_JOINT_MM)?.piece.taper;
  const single = joints.slice(1).map((to, i): Width => {
    const from = joints[i]!;
    const taper = fillAt(from);
    const says = lengthText(unit, taper?.faceMm ?? to - from);
    const written = taper === undefined ? {} : { pattern: `${says} AT FACE` };
    return { from: xOf(from), to: xOf(to), says: written.pattern ?? says, ...written };
  });
  const singleY = runningY - laneOf(sizes, running) - roomOverMm(sizes);
  const narrow = single.filter((w) => !fits(sizes, w)).map((w) => ({ text: w.says }));
  const totalY = singleY - (narrow.length > 0 ? laneOf(sizes, narrow) : UNDER_MM * sizes.factor) - roomOverMm(sizes);
  const total = whole(unit, view, joints, totalY, about);
  return [
    ...string(sizes, marks.map(xOf), runningY, about),
    ...uprights(sizes, running, runningY, about),
    ...chain(sizes, single, singleY, about),
    total,
    ...drawStations(scene, view, boundsOf([total]).minY - ARROW_LANE_MM * sizes.factor),
  ];
};

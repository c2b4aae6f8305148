/** The walls as understood: outline of the concrete, axes, a hatch where both faces were seen, and a label along each. */

import { byNumber, byText, inOrder } from '../../../ground/order.js';
import { degrees } from '../../../ground/places.js';
import { add, angleOf, distance, leftOf, scale, sub, unit, type Vec } from '../../../ground/plane.js';
import type { TraceResult } from '../../../ground/questions.js';
import type { LevelBand, Wall, WallCurve } from '../../../ground/vocabulary.js';
import type { Places } from '../labels.js';
import { lengthText, levelText } from '../lengths.js';
import { line, polyline, type Shape } from '../sheet.js';
import type { Ink } from './ink.js';
import { putLabel } from './label.js';
import { hatch } from './symbols.js';

/** Strokes of the hatch stand this far apart, over the thickness. */
const HATCH_PITCH = 1.5;

/** Takes the ground of a straight strip, so that no text is put over it. */
const takeStrip = (places: Places, start: Vec, end: Vec, widthMm: number): void =>
  places.take({
    kind: 'body',
    centre: scale(add(start, end), 0.5),
    halfMm: [distance(start, end) / 2, widthMm / 2],
    rotationDeg: degrees(angleOf(sub(end, start))),
  });

/** '+0', or each level in the order of stations where they differ. */
const bandsText = (ink: Ink, bands: readonly LevelBand[]): string =>
  bands
    .map((b) => levelText(ink.unit, b.levelMm))
    .filter((t, i, all) => i === 0 || t !== all[i - 1])
    .join(', ');

const wallLines = (ink: Ink, wall: Wall): string[] => [
  `${wall.id} ${lengthText(ink.unit, wall.lengthMm)} x ${lengthText(ink.unit, wall.thicknessMm)}`,
  `${bandsText(ink, wall.base)} / ${bandsText(ink, wall.top)}`,
];

/** Chords of an arc that stray from it by less than 1 mm, and at most 256 of them. */
const arc = (centre: Vec, radiusMm: number, fromRad: number, toRad: number): Vec[] => {
  const sweep = toRad - fromRad;
  const most = 2 * Math.acos(Math.max(0, 1 - 1 / Math.max(radiusMm, 1)));
  const n = Math.max(2, Math.min(256, Math.ceil(Math.abs(sweep) / Math.max(most, 1e-3))));
  return Array.from({ length: n + 1 }, (_, i) => {
    const angle = fromRad + (sweep * i) / n;
    return { x: centre.x + radiusMm * Math.cos(angle), y: centre.y + radiusMm * Math.sin(angle) };
  });
};

const curveName = (index: number): string => `C${index + 1}`;

const curveLines = (ink: Ink, curve: WallCurve, index: number): string[] => [
  `${curveName(index)} R ${lengthText(ink.unit, curve.radiusMm)} x ${lengthText(ink.unit, curve.thicknessMm)}`,
  `L ${lengthText(ink.unit, curve.radiusMm * Math.abs(curve.toRad - curve.fromRad))}`,
];

const drawCurve = (curve: WallCurve, index: number): Shape[] => {
  const about = ['curve', curveName(index)];
  const { centre, radiusMm, fromRad, toRad, thicknessMm } = curve;
  const at = (r: number): Vec[] => arc(centre, Math.max(r, 0), fromRad, toRad);
  const [inner, outer] = [at(radiusMm - thicknessMm / 2), at(radiusMm + thicknessMm / 2)];
  const caps = [
    ...(curve.startCapped ? [line('TRCE-FACE', inner[0]!, outer[0]!, about)] : []),
    ...(curve.endCapped ? [line('TRCE-FACE', inner.at(-1)!, outer.at(-1)!, about)] : []),
  ];
  return [
    polyline('TRCE-AXIS', at(radiusMm), false, about),
    polyline('TRCE-FACE', inner, false, about),
    polyline('TRCE-FACE', outer, false, about),
    ...caps,
  ];
};

/** Everything of the walls but their labels; takes the ground that they stand on. */
export const drawWalls = ({ foundation, plan }: TraceResult, places: Places): Shape[] => {
  const straight = plan.walls.filter((w) => !w.arc);
  for (const w of straight) takeStrip(places, w.start, w.end, w.thicknessMm);
  for (const s of foundation.stretches) takeStrip(places, s.start, s.end, s.thicknessMm);
  for (const { centre, radiusMm, fromRad, toRad, thicknessMm } of foundation.curves) {
    const points = arc(centre, radiusMm, fromRad, toRad);
    points.slice(1).forEach((p, i) => {
      takeStrip(places, points[i]!, p, thicknessMm);
    });
  }
  return [
    ...foundation.stretches.flatMap((s, i) =>
      hatch(s.start, s.end, s.thicknessMm, s.thicknessMm * HATCH_PITCH, ['stretch', String(i + 1)]),
    ),
    ...plan.concrete.map((ring) => polyline('TRCE-FACE', ring, true, ['concrete'])),
    ...straight.map((w) => line('TRCE-AXIS', w.start, w.end, ['wall', w.id])),
    ...foundation.curves.flatMap(drawCurve),
  ];
};

/** Chords of a curved wall need no label each: the curve has one. */
const isChord = (wall: Wall, curves: readonly WallCurve[]): boolean =>
  curves.some((c) => wall.sources.length > 0 && wall.sources.every((s) => c.sources.includes(s)));

/** Labels of walls, the shortest first since they have the least room, and of curves. */
export const labelWalls = ({ foundation, plan }: TraceResult, ink: Ink, places: Places): Shape[] => {
  const walls = plan.walls
    .filter((w) => !isChord(w, foundation.curves))
    .sort(
      inOrder(
        byNumber((w: Wall) => w.lengthMm),
        byText((w) => w.id),
      ),
    );
  const gapMm = ink.textMm * 0.25;
  const ofWalls = walls.flatMap((wall) =>
    putLabel(places, ink.textMm, {
      at: scale(add(wall.start, wall.end), 0.5),
      along: sub(wall.end, wall.start),
      clearMm: wall.thicknessMm / 2 + gapMm,
      slideMm: wall.lengthMm * 0.4,
      lines: wallLines(ink, wall),
      layer: 'TRCE-LABL',
      about: ['wall', wall.id],
    }),
  );
  const ofCurves = foundation.curves.flatMap((curve, i) => {
    const middle = (curve.fromRad + curve.toRad) / 2;
    const out = unit({ x: Math.cos(middle), y: Math.sin(middle) });
    return putLabel(places, ink.textMm, {
      at: add(curve.centre, scale(out, curve.radiusMm)),
      along: leftOf(out),
      clearMm: curve.thicknessMm / 2 + gapMm,
      slideMm: 0,
      lines: curveLines(ink, curve, i),
      layer: 'TRCE-LABL',
      about: ['curve', curveName(i)],
    });
  });
  return [...ofWalls, ...ofCurves];
};

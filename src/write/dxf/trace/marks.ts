/** What stands on and beside the walls: openings, steps, pilasters, levels by place, notes of bars, and the frames of the views. */

import { add, distance, footOnSegment, leftOf, scale, sub, toSegment, unit, type Vec } from '../../../ground/plane.js';
import type { TraceResult } from '../../../ground/questions.js';
import { plainNumber } from '../../../ground/units.js';
import type { BarNote, FoundOpening, LevelsAt, Pilaster, WallStretch } from '../../../ground/vocabulary.js';
import type { Places } from '../labels.js';
import { lengthText, levelText } from '../lengths.js';
import { polyline, rectangle, type Shape, text, textWidth } from '../sheet.js';
import type { Ink } from './ink.js';
import { putLabel } from './label.js';
import { barSign, levelSign, openingSign, stepSign } from './symbols.js';

/** The stretch nearest to a place; null without stretches. */
const nearest = (stretches: readonly WallStretch[], p: Vec): WallStretch | null => {
  let best: WallStretch | null = null;
  let bestMm = Infinity;
  for (const s of stretches) {
    const awayMm = toSegment(p, s.start, s.end);
    if (awayMm < bestMm) [best, bestMm] = [s, awayMm];
  }
  return best;
};

const openingLines = (ink: Ink, o: FoundOpening): string[] => {
  const level = (mm: number | null): string => (mm === null ? '?' : levelText(ink.unit, mm));
  return [
    `${o.kind.toUpperCase()} ${lengthText(ink.unit, distance(o.from, o.to))}`,
    `sill ${level(o.sillMm)} head ${level(o.headMm)}`,
  ];
};

const drawOpenings = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] =>
  foundation.openings.flatMap((o, i) => {
    const about = ['opening', `O${i + 1}`];
    return [
      ...openingSign(o.from, o.to, o.thicknessMm, about),
      ...putLabel(places, ink.textMm, {
        at: scale(add(o.from, o.to), 0.5),
        along: sub(o.to, o.from),
        clearMm: o.thicknessMm / 2 + ink.textMm * 0.25,
        slideMm: distance(o.from, o.to) / 2,
        lines: openingLines(ink, o),
        layer: 'TRCE-OPNG',
        about,
      }),
    ];
  });

const drawSteps = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] =>
  foundation.steps.flatMap((step, i) => {
    const about = ['step', `S${i + 1}`];
    const wall = nearest(foundation.stretches, step.at);
    const along = wall ? unit(sub(wall.end, wall.start)) : { x: 1, y: 0 };
    const halfMm = (wall?.thicknessMm ?? ink.textMm) / 2 + ink.textMm * 0.5;
    const rise = step.riseMm === null ? '' : ` ${lengthText(ink.unit, step.riseMm)}`;
    return [
      ...stepSign(wall ? footOnSegment(step.at, wall.start, wall.end) : step.at, along, halfMm, about),
      ...putLabel(places, ink.textMm, {
        at: step.at,
        along,
        clearMm: halfMm + ink.textMm * 0.25,
        slideMm: ink.textMm,
        lines: [`${step.kind.toUpperCase()} STEP${rise}`],
        layer: 'TRCE-LEVL',
        about,
      }),
    ];
  });

/** The thickening as a rectangle from its outer face to the wall's. */
const pilasterBox = (p: Pilaster, wall: WallStretch | null): Vec[] => {
  const foot = wall ? footOnSegment(p.at, wall.start, wall.end) : add(p.at, { x: 0, y: -1 });
  const inwards = distance(foot, p.at) > 0 ? unit(sub(foot, p.at)) : { x: 0, y: -1 };
  const half = scale(leftOf(inwards), p.widthMm / 2);
  const inner = add(p.at, scale(inwards, p.projectionMm));
  return [add(p.at, half), sub(p.at, half), sub(inner, half), add(inner, half)];
};

const drawPilasters = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] =>
  foundation.pilasters.flatMap((p, i) => {
    const about = ['pilaster', `P${i + 1}`];
    const box = pilasterBox(p, nearest(foundation.stretches, p.at));
    return [
      polyline('TRCE-OPNG', box, true, about),
      ...putLabel(places, ink.textMm, {
        at: p.at,
        along: sub(box[1]!, box[0]!),
        clearMm: ink.textMm * 0.4,
        slideMm: p.widthMm / 2,
        lines: [`PILASTER ${lengthText(ink.unit, p.widthMm)} x ${lengthText(ink.unit, p.projectionMm)}`],
        layer: 'TRCE-OPNG',
        about,
      }),
    ];
  });

/** Texts of the drawing are quoted in part: the whole stands in the drawing. */
const QUOTED_MOST = 40;
const quoted = (content: string): string => {
  const plain = content.replace(/\s+/g, ' ').trim();
  return [...plain].length <= QUOTED_MOST ? plain : `${[...plain].slice(0, QUOTED_MOST).join('')}...`;
};

const levelLines = (ink: Ink, l: LevelsAt): string[] => [
  ...(l.topMm === null ? [] : [`TOP ${levelText(ink.unit, l.topMm)}`]),
  ...(l.footingMm === null ? [] : [`FOOTING ${levelText(ink.unit, l.footingMm)}`]),
  l.from === 'job' ? 'job file' : `drawing${l.text === null ? '' : `: ${quoted(l.text)}`}`,
];

const drawLevels = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] =>
  foundation.levelsAt.flatMap((l, i) => {
    const about = ['level', `L${i + 1}`];
    return [
      ...levelSign(l.near, ink.textMm * 0.8, about),
      ...putLabel(places, ink.textMm, {
        at: l.near,
        along: { x: 1, y: 0 },
        clearMm: ink.textMm,
        slideMm: ink.textMm * 2,
        lines: levelLines(ink, l),
        layer: 'TRCE-LEVL',
        about,
      }),
    ];
  });

const barLines = (ink: Ink, b: BarNote): string[] => {
  const spacing = b.spacingMm === null ? '' : ` at ${lengthText(ink.unit, b.spacingMm)}`;
  const where = [b.direction, b.faces === null ? null : b.faces === 'each' ? 'each face' : b.faces]
    .filter((w) => w !== null)
    .join(', ');
  return [`BARS ${plainNumber(b.diameterMm, 1)} mm${spacing}`, ...(where === '' ? [] : [where])];
};

const drawBars = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] =>
  foundation.bars.flatMap((b, i) => {
    const about = ['bars', `B${i + 1}`];
    return [
      ...barSign(b.at, ink.textMm * 0.8, about),
      ...putLabel(places, ink.textMm, {
        at: b.at,
        along: { x: 1, y: 0 },
        clearMm: ink.textMm * 0.6,
        slideMm: ink.textMm * 2,
        lines: barLines(ink, b),
        layer: 'TRCE-BARS',
        about,
      }),
    ];
  });

/** Frames with their titles, the chosen ones doubled; none where the sheet holds a single drawing. */
export const drawViews = ({ foundation }: TraceResult, ink: Ink, places: Places): Shape[] => {
  if (foundation.views.length < 2) return [];
  return foundation.views.flatMap((view, i) => {
    const about = ['view', `V${i + 1}`];
    const [x0, y0, x1, y1] = view.box;
    const outMm = ink.textMm / 2;
    const frame = (by: number) => rectangle('TRCE-VIEW', x0 - by, y0 - by, x1 + by, y1 + by, about);
    const title = view.title === null ? '' : ` ${quoted(view.title)}`;
    const words = `VIEW ${i + 1}${title}: ${view.chosen ? 'TAKEN' : 'LEFT OUT'}, ${quoted(view.why)}`;
    const at = { x: x0, y: y1 + outMm * 2 };
    const halfMm = [textWidth(words, ink.textMm) / 2, ink.textMm / 2] as const;
    const centre = { x: at.x + halfMm[0], y: at.y + halfMm[1] };
    places.take({ kind: 'text', centre, halfMm, rotationDeg: 0 });
    return [
      frame(outMm),
      ...(view.chosen ? [frame(outMm * 1.4)] : []),
      text('TRCE-VIEW', words, at, ink.textMm, { about }),
    ];
  });
};

/** All of it but the views, in the order in which room is given. */
export const drawMarks = (result: TraceResult, ink: Ink, places: Places): Shape[] => [
  ...drawOpenings(result, ink, places),
  ...drawSteps(result, ink, places),
  ...drawPilasters(result, ink, places),
  ...drawLevels(result, ink, places),
  ...drawBars(result, ink, places),
];

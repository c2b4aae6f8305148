/**
 * A face developed: seen from outside, from where the crew stands. The left face's stations run from right to left, the right face's from left to
 * right. Pieces with their sizes and ids, ties with theirs, rows R1 … from below, pour line broken, footing line heavy, joints' stations below.
 */

import { layoutIndex } from '../../../ground/layoutIndex.js';
import { byNumber, byText, inOrder } from '../../../ground/order.js';
import { stemTopMm } from '../../../ground/overLower.js';
import { bandsAlong } from '../../../ground/pilasters.js';
import { cross, type Vec } from '../../../ground/plane.js';
import { planIndex } from '../../../ground/planIndex.js';
import { runsOfWall } from '../../../ground/runs.js';
import type { CheckedTie, Cover, Face, LevelBand, Piece, Result, Wall } from '../../../ground/vocabulary.js';
import { html, lines, type Markup } from '../markup.js';
import { lengthText } from '../sizes.js';
import {
  type Box,
  boxOf,
  type Drawing,
  drawing,
  FAIL_INK,
  grow,
  INK,
  LINE,
  NOTE_INK,
  num,
  pathData,
  QUIET_INK,
  SMALL_TEXT_MM,
  textMarkup,
  textWidth,
  type View,
  viewOf,
} from './canvas.js';
import { NARROW_MM, overheadMm, piecesOnFace } from './elevationPieces.js';
import { concreteFill, patternDefs } from './fills.js';
import { spread } from './labels.js';
import { type Mark, marksMarkup } from './marks.js';
import { siteInElevation } from './site.js';

/** Longest stretch of a face in one drawing: at 1:50 it fits across a landscape A4 sheet. Longer faces are parted at a joint. */
const PART_MM = 11000;
const LEFT_MM = 1250;
const RIGHT_MM = 1250;
const TOP_MM = 900;
const FOOT_MM = 120;
/** How far a clamp's bar reaches over the units on either side of its gap. */
const CLAMP_MM = 35;
/** Pieces narrower than this have no room between two ties for the ids of both. */
const TWO_IDS_MM = 560;

/** Stations of a face that one drawing shows. */
export interface Part {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Everything about one face that its drawing needs. */
export interface FaceView {
  readonly result: Result;
  readonly face: Face;
  readonly wall: Wall;
  readonly part: Part;
  readonly name: string;
  readonly covers: readonly { readonly piece: Piece; readonly cover: Cover }[];
  /** Ties of the wall within the part. */
  readonly ties: readonly CheckedTie[];
  /** Station and level to the plane of the drawing. */
  readonly at: (stationMm: number, levelMm: number) => Vec;
  /** +1 where stations run to the right. */
  readonly direction: 1 | -1;
}

const coversOf = ({ layout }: Result, face: Face): FaceView['covers'] => layoutIndex(layout).onFace(face.id);

/** The stretch from the first to the last station of a face and of what stands on it. */
const reachOf = (result: Result, face: Face): Part => {
  const covers = coversOf(result, face).map((c) => c.cover);
  return {
    fromMm: Math.min(face.fromMm, ...covers.map((c) => c.fromMm)),
    toMm: Math.max(face.toMm, ...covers.map((c) => c.toMm)),
  };
};

/**
 * The parts in which a face is drawn, in order of station: as few as PART_MM allows, parted at the joint nearest to an even split. A joint is a
 * station that no piece crosses.
 */
export const elevationParts = (result: Result, face: Face): readonly Part[] => {
  const whole = reachOf(result, face);
  const covers = coversOf(result, face).map((c) => c.cover);
  const joints = [...new Set(covers.flatMap((c) => [c.fromMm, c.toMm]))]
    .filter((s) => s > whole.fromMm && s < whole.toMm && !covers.some((c) => c.fromMm < s && s < c.toMm))
    .sort((a, b) => a - b);
  const count = Math.max(1, Math.ceil((whole.toMm - whole.fromMm) / PART_MM));
  const cuts = new Set<number>();
  for (let i = 1; i < count; i++) {
    const wanted = whole.fromMm + ((whole.toMm - whole.fromMm) * i) / count;
    const nearest = [...joints].sort(byNumber((s) => Math.abs(s - wanted)))[0];
    if (nearest !== undefined) cuts.add(nearest);
  }
  const stations = [whole.fromMm, ...[...cuts].sort((a, b) => a - b), whole.toMm];
  return stations.slice(1).map((toMm, i) => ({ fromMm: stations[i]!, toMm }));
};

const within = (part: Part, stationMm: number): boolean => stationMm >= part.fromMm && stationMm <= part.toMm;

/** Level bands cut to a stretch, empty ones left out; the first and the last band reach to its ends. */
const cutBands = (bands: readonly LevelBand[], part: Part): readonly LevelBand[] =>
  bands
    .map((band, i) => ({
      levelMm: band.levelMm,
      fromMm: i === 0 ? part.fromMm : Math.max(band.fromMm, part.fromMm),
      toMm: i === bands.length - 1 ? part.toMm : Math.min(band.toMm, part.toMm),
    }))
    .filter((band) => band.toMm > band.fromMm);

/** The concrete of the face within the part. */
const concretePart = (v: FaceView): Part => ({
  fromMm: Math.max(v.face.fromMm, v.part.fromMm),
  toMm: Math.min(v.face.toMm, v.part.toMm),
});

const bandLine = (v: FaceView, bands: readonly LevelBand[]): readonly Vec[] =>
  bands.flatMap((b) => [v.at(b.fromMm, b.levelMm), v.at(b.toMm, b.levelMm)]);

const concreteMarkup = (v: FaceView, view: View): Markup => {
  const part = concretePart(v);
  const foot = bandLine(v, cutBands(bandsAlong(v.face, v.wall.base), part));
  const top = bandLine(v, cutBands(bandsAlong(v.face, v.wall.top), part));
  return html`<path d="${pathData([...foot, ...[...top].reverse()], view, true)}" fill="${concreteFill(v.name)}" stroke="${QUIET_INK}" stroke-width="${num(LINE.hair)}"/>`;
};

/** Ends of the concrete that lie inside the part, since the forms run past them. */
const insideEnds = (v: FaceView): readonly number[] =>
  [v.face.fromMm, v.face.toMm].filter((s) => s > v.part.fromMm && s < v.part.toMm);

/** Broken upright lines where the concrete ends behind forms that run past it. */
const endLines = (v: FaceView, inner: Box, view: View): Markup => {
  const paths = insideEnds(v).map((s) => pathData([v.at(s, inner.minY - 200), v.at(s, inner.maxY)], view, false));
  return html`<path d="${paths.join('')}" fill="none" stroke="${INK}" stroke-width="${num(LINE.thin)}" stroke-dasharray="70 30 14 30"/>`;
};

/** Where a stem's or a pilaster's concrete goes on through the face: no form stands there. Crossed, with its name. */
const mouthsMarkup = (v: FaceView, view: View): Markup => {
  const stems = runsOfWall(v.result.plan, v.wall.id)
    .flatMap((run) => [
      ...run.stems.map((s) => ({ ...s, name: `wall ${s.wall}` })),
      ...(run.pilasters ?? []).map((p) => ({ ...p, name: `pilaster ${p.id}` })),
    ])
    .filter((s) => s.side === v.face.side && s.toMm > v.part.fromMm && s.fromMm < v.part.toMm);
  const shapes = stems.map((s) => {
    const own = { fromMm: s.fromMm, toMm: s.toMm };
    const foot = bandLine(v, cutBands(v.wall.base, own));
    const topMm = stemTopMm(v.result.plan, v.wall.id, s);
    const tops = cutBands(v.wall.top, own).map((b) => ({ ...b, levelMm: Math.min(b.levelMm, topMm) }));
    const top = bandLine(v, tops);
    const [a, b, c, d] = [foot[0]!, foot.at(-1)!, top.at(-1)!, top[0]!];
    const cross = pathData([a, c], view, false) + pathData([b, d], view, false);
    const middle = { x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 };
    return html`<path d="${pathData([a, b, c, d], view, true)}${cross}" fill="${concreteFill(v.name)}" stroke="${QUIET_INK}" stroke-width="${num(LINE.thin)}"/>${textMarkup(s.name, middle, view, { deg: -90 })}`;
  });
  return html`<g>${shapes}</g>`;
};

/** Openings with their box-outs: crossed, with name and size. */
const openingsMarkup = (v: FaceView, view: View): Markup => {
  const gear = v.result.catalogue.lengthUnit;
  const openings =
    v.face.side === 'left' || v.face.side === 'right'
      ? v.result.plan.openings.filter((o) => o.wall === v.wall.id && o.toMm > v.part.fromMm && o.fromMm < v.part.toMm)
      : [];
  const shapes = openings.map((o) => {
    const [a, c] = [v.at(o.fromMm, o.sillMm), v.at(o.toMm, o.headMm)];
    const [b, d] = [v.at(o.toMm, o.sillMm), v.at(o.fromMm, o.headMm)];
    const middle = { x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 };
    const size = `${lengthText(o.toMm - o.fromMm, gear)} x ${lengthText(o.headMm - o.sillMm, gear)}`;
    const outline = pathData([a, b, c, d], view, true) + pathData([a, c], view, false) + pathData([b, d], view, false);
    return html`<path d="${outline}" fill="#ffffff" fill-opacity="0.6" stroke="${INK}" stroke-width="${num(LINE.thin)}"/>${textMarkup(`box-out ${o.id}, ${size}`, middle, view, { sizeMm: SMALL_TEXT_MM })}`;
  });
  return html`<g>${shapes}</g>`;
};

/** Footing heavy, pour line broken, each with its level. */
const levelsMarkup = (v: FaceView, view: View): Markup => {
  const part = concretePart(v);
  const gear = v.result.catalogue.lengthUnit;
  const foot = cutBands(bandsAlong(v.face, v.wall.base), part);
  const top = cutBands(bandsAlong(v.face, v.wall.top), part);
  const footTexts = foot.map((b) =>
    textMarkup(`footing ${lengthText(b.levelMm, gear)}`, v.at((b.fromMm + b.toMm) / 2, b.levelMm - 130), view, {
      sizeMm: SMALL_TEXT_MM,
    }),
  );
  const right = v.direction === 1 ? top.at(-1) : top[0];
  const rightStation = v.direction === 1 ? part.toMm : part.fromMm;
  const pourAt = v.at(rightStation, right?.levelMm ?? 0);
  const pour = textMarkup(
    `pour line ${lengthText(right?.levelMm ?? 0, gear)}`,
    { x: pourAt.x + 330, y: pourAt.y },
    view,
    {
      anchor: 'start',
      sizeMm: SMALL_TEXT_MM,
      fill: NOTE_INK,
      bold: true,
    },
  );
  const over = [v.at(rightStation, right?.levelMm ?? 0), { x: pourAt.x + 300, y: pourAt.y }];
  return html`<path d="${pathData(bandLine(v, foot), view, false)}" fill="none" stroke="${INK}" stroke-width="24" transform="translate(0 14)"/>${footTexts}<g fill="none" stroke="${NOTE_INK}" stroke-width="26" stroke-dasharray="130 60"><path d="${pathData(bandLine(v, top), view, false)}"/><path d="${pathData(over, view, false)}"/></g>${pour}`;
};

const tieMarkup = (v: FaceView, tie: CheckedTie, view: View): Markup => {
  const c = view(v.at(tie.stationMm, tie.levelMm));
  const over = !(tie.loadKn <= tie.workingLoadKn);
  const side = idSide(v, tie);
  const fill = tie.outsideConcrete ? '#ffffff' : INK;
  const box = html`<rect x="${num(c.x - 75)}" y="${num(c.y - 75)}" width="150" height="150" fill="none" stroke="${FAIL_INK}" stroke-width="22"/>`;
  const title = `Tie ${tie.id}, row ${num(tie.row)}, station ${num(tie.stationMm)}, level ${num(tie.levelMm)}, ${tie.loadKn.toFixed(1)} of ${tie.workingLoadKn.toFixed(1)} kN${tie.outsideConcrete ? ', outside the concrete' : ''}`;
  const text = textMarkup(
    tie.id,
    { x: v.at(tie.stationMm, 0).x + side * 55, y: tie.levelMm + (side === 0 ? 85 : 70) },
    view,
    {
      sizeMm: 70,
      anchor: side === 0 ? 'middle' : side > 0 ? 'start' : 'end',
      fill: over ? FAIL_INK : INK,
    },
  );
  return html`<g><title>${title}</title><circle cx="${num(c.x)}" cy="${num(c.y)}" r="34" fill="${fill}" stroke="${INK}" stroke-width="14"/>${over ? box : null}${text}</g>`;
};

/** Bars across the joints, behind the ties. */
const clampsMarkup = (v: FaceView, view: View): Markup => {
  const clamps = layoutIndex(v.result.layout)
    .clampsOn(v.face.id)
    .filter((c) => within(v.part, c.stationMm));
  const bars = clamps.map((c) => {
    const at = v.at(c.stationMm, c.levelMm);
    const half = c.gapMm / 2 + CLAMP_MM;
    const [dx, dy] = c.joint === 'upright' ? [half, 0] : [0, half];
    return pathData(
      [
        { x: at.x - dx, y: at.y - dy },
        { x: at.x + dx, y: at.y + dy },
      ],
      view,
      false,
    );
  });
  return html`<path d="${bars.join('')}" fill="none" stroke="${INK}" stroke-width="22"/>`;
};

/** Where a tie's id stands: into its piece (1 right, -1 left), or over the tie (0) where the piece is narrow. */
const idSide = (v: FaceView, tie: CheckedTie): 1 | 0 | -1 => {
  const own = v.covers.find((c) => tie.pieces.includes(c.piece.id))?.cover;
  if (own === undefined || own.toMm - own.fromMm < NARROW_MM) return 0;
  const middle = (own.fromMm + own.toMm) / 2;
  const opposite = (t: CheckedTie) =>
    t.levelMm === tie.levelMm &&
    t.stationMm > own.fromMm &&
    t.stationMm < own.toMm &&
    t.stationMm < middle !== tie.stationMm < middle;
  if (own.toMm - own.fromMm < TWO_IDS_MM && v.ties.some(opposite)) return 0;
  const nearStart = tie.stationMm - own.fromMm < own.toMm - tie.stationMm;
  return nearStart === (v.direction === 1) ? 1 : -1;
};

/** Rows: a thin line across the ties of a level, and its name and level at the left, kept apart. */
const rowsMarkup = (v: FaceView, ties: readonly CheckedTie[], box: Box, view: View): Markup => {
  const rows = new Map<string, { row: number; levelMm: number }>();
  for (const t of ties) rows.set(`${t.row} ${t.levelMm}`, { row: t.row, levelMm: t.levelMm });
  const sorted = [...rows.values()].sort(
    inOrder(
      byNumber((r) => r.levelMm),
      byNumber((r) => r.row),
    ),
  );
  const gear = v.result.catalogue.lengthUnit;
  const places = spread(
    sorted.map((r) => r.levelMm),
    SMALL_TEXT_MM * 1.2,
  );
  const shapes = sorted.map((r, i) => {
    const own = ties.filter((t) => t.row === r.row && t.levelMm === r.levelMm);
    const left = { x: box.minX + LEFT_MM - 300, y: places[i]! };
    const bend = { x: left.x + 170, y: r.levelMm };
    const right = { x: Math.max(...own.map((t) => v.at(t.stationMm, 0).x)), y: r.levelMm };
    const text = textMarkup(`R${num(r.row)}  ${lengthText(r.levelMm, gear)}`, left, view, {
      anchor: 'end',
      sizeMm: SMALL_TEXT_MM,
    });
    return html`<path d="${pathData([{ x: left.x + 40, y: left.y }, bend, right], view, false)}" fill="none" stroke="${QUIET_INK}" stroke-width="${num(LINE.hair)}" stroke-dasharray="30 22"/>${text}`;
  });
  return html`<g>${shapes}</g>`;
};

interface StationTexts {
  readonly stations: readonly number[];
  readonly texts: readonly string[];
  readonly longestMm: number;
}

/** Stations of all joints and ends in the part, from left to right as drawn. */
const stationTexts = (v: FaceView): StationTexts => {
  const gear = v.result.catalogue.lengthUnit;
  const joints = v.covers.flatMap((c) => [c.cover.fromMm, c.cover.toMm]);
  const stations = [...new Set([v.part.fromMm, v.part.toMm, v.face.fromMm, v.face.toMm, ...joints])]
    .filter((s) => within(v.part, s))
    .sort((a, b) => v.direction * (a - b));
  const ends = insideEnds(v);
  const texts = stations.map((s) => (ends.includes(s) ? `${lengthText(s, gear)} end` : lengthText(s, gear)));
  return { stations, texts, longestMm: Math.max(...texts.map((t) => textWidth(t, SMALL_TEXT_MM))) };
};

/** From the footing down to where the stations' texts begin. */
const TICK_MM = 250;
const BEND_MM = 150;

/** Stations below the footing, read upwards, kept apart. */
const stationsMarkup = (v: FaceView, lowestMm: number, view: View): Markup => {
  const { stations, texts } = stationTexts(v);
  const xs = stations.map((s) => v.at(s, 0).x);
  const places = spread(xs, SMALL_TEXT_MM * 1.15);
  const ticks = stations.map((_, i) => {
    const top = { x: xs[i]!, y: lowestMm - TICK_MM };
    const foot = { x: places[i]!, y: top.y - BEND_MM };
    const label = textMarkup(texts[i]!, { x: foot.x, y: foot.y - 30 }, view, {
      deg: -90,
      anchor: 'end',
      sizeMm: SMALL_TEXT_MM,
    });
    const path = pathData([{ x: top.x, y: top.y + 40 }, top, foot], view, false);
    return html`<path d="${path}" fill="none" stroke="${INK}" stroke-width="${num(LINE.thin)}"/>${label}`;
  });
  return html`<g>${ticks}</g>`;
};

/** What stands at either end of the part, and which way the stations run. */
const endsMarkup = (v: FaceView, box: Box, view: View): Markup => {
  const gear = v.result.catalogue.lengthUnit;
  const whole = reachOf(v.result, v.face);
  const endText = (stationMm: number, isFrom: boolean): string => {
    const cut = isFrom ? stationMm > whole.fromMm : stationMm < whole.toMm;
    return `${cut ? 'match line, ' : ''}station ${lengthText(stationMm, gear)}`;
  };
  const [left, right] = v.direction === 1 ? [v.part.fromMm, v.part.toMm] : [v.part.toMm, v.part.fromMm];
  const y = box.maxY - 200;
  const x = [box.minX + LEFT_MM, box.maxX - RIGHT_MM] as const;
  const leftText = textMarkup(`LEFT: ${endText(left, v.direction === 1)}`, { x: x[0] - 300, y }, view, {
    anchor: 'start',
  });
  const rightText = textMarkup(`RIGHT: ${endText(right, v.direction === -1)}`, { x: x[1] + 300, y: y - 210 }, view, {
    anchor: 'end',
  });
  const mid = (x[0] + x[1]) / 2;
  const tail = { x: mid - 300 * v.direction, y: y - 430 };
  const tip = { x: mid + 300 * v.direction, y: y - 430 };
  const barbs = [60, -60]
    .map((dy) => pathData([{ x: tip.x - 110 * v.direction, y: tip.y + dy }, tip], view, false))
    .join('');
  return html`${leftText}${rightText}<path d="${pathData([tail, tip], view, false)}${barbs}" fill="none" stroke="${INK}" stroke-width="${num(LINE.thin)}"/>${textMarkup('stations', { x: mid, y: tail.y + 105 }, view, { sizeMm: SMALL_TEXT_MM })}`;
};

/** Findings about a tie or a piece of this face. */
const faceMarks = (v: FaceView, ties: readonly CheckedTie[]): readonly Mark[] => {
  const tieOf = new Map(ties.map((t) => [t.id, t]));
  const coverOf = new Map([...v.covers].reverse().map((c) => [c.piece.id, c]));
  return v.result.findings.flatMap((finding, i) => {
    const tie = tieOf.get(finding.subject ?? '');
    const own = coverOf.get(finding.subject ?? '');
    if (tie !== undefined) return [{ number: i + 1, finding, at: v.at(tie.stationMm, tie.levelMm + 230) }];
    if (own === undefined) return [];
    const { fromMm, toMm, baseMm, topMm } = own.cover;
    return [{ number: i + 1, finding, at: v.at((fromMm + toMm) / 2, (baseMm + topMm) / 2 + 330) }];
  });
};

const describe = (v: FaceView, ties: readonly CheckedTie[]): string => {
  const { alignersOn, bracesOn, platformsOn } = layoutIndex(v.result.layout);
  const counts = [
    [alignersOn(v.face.id).length, 'aligners'],
    [bracesOn(v.face.id).length, 'heads of braces'],
    [platformsOn(v.face.id).length, 'platforms'],
  ] as const;
  const words = counts.filter(([n]) => n > 0).map(([n, what]) => `${num(n)} ${what}`);
  const gear = words.length > 0 ? ` Before the whole face stand ${words.join(', ')}.` : '';
  const timber = v.covers.filter((c) => c.piece.kind === 'timber').length;
  return `As seen standing before it, wall ${v.wall.id}, ${v.face.side} side. ${num(v.covers.length)} pieces, of them ${num(timber)} of timber, and ${num(ties.length)} ties.${gear} Stations run to the ${v.direction === 1 ? 'right' : 'left'}.`;
};

const faceView = (result: Result, face: Face, wall: Wall, part: Part): FaceView => {
  const { stands } = face;
  const seen = stands ? -Math.sign(cross(stands.along, stands.outward)) : face.side === 'left' ? -1 : 1;
  const direction = seen < 0 ? -1 : 1;
  const inPart = (c: Cover) => c.toMm > part.fromMm && c.fromMm < part.toMm;
  return {
    result,
    face,
    wall,
    part,
    name: `face ${face.id} ${num(part.fromMm)}`,
    covers: coversOf(result, face)
      .filter((c) => inPart(c.cover))
      .sort(
        inOrder(
          byNumber((c) => c.cover.fromMm),
          byNumber((c) => c.cover.baseMm),
          byText((c) => c.piece.id),
        ),
      ),
    // No tie passes a pilaster's front.
    ties: stands
      ? []
      : layoutIndex(result.layout)
          .tiesOf(wall.id)
          .filter((t) => within(part, t.stationMm)),
    at: (stationMm, levelMm) => ({ x: direction * stationMm, y: levelMm }),
    direction,
  };
};

/** One part of a face; null when the plan does not know its wall, or the part has no length. */
export const elevationDrawing = (result: Result, face: Face, part: Part): Drawing | null => {
  const wall = planIndex(result.plan).walls.get(face.wall);
  if (wall === undefined || !(part.toMm > part.fromMm)) return null;
  const v = faceView(result, face, wall, part);
  const { ties } = v;
  const levels = [...wall.base, ...wall.top].map((b) => b.levelMm);
  const heights = v.covers.flatMap((c) => [c.cover.baseMm, c.cover.topMm]);
  const ends = [...levels, ...heights].flatMap((z) => [v.at(part.fromMm, z), v.at(part.toMm, z)]);
  const inner = boxOf(ends) ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  const footMm = TICK_MM + BEND_MM + stationTexts(v).longestMm + FOOT_MM;
  const box = grow(inner, LEFT_MM, footMm, RIGHT_MM, TOP_MM + overheadMm(v));
  const view = viewOf(box);
  const body = lines([
    patternDefs(v.name),
    concreteMarkup(v, view),
    piecesOnFace(v, view),
    mouthsMarkup(v, view),
    openingsMarkup(v, view),
    endLines(v, inner, view),
    levelsMarkup(v, view),
    rowsMarkup(v, ties, box, view),
    siteInElevation(v, view),
    clampsMarkup(v, view),
    html`<g>${ties.map((t) => tieMarkup(v, t, view))}</g>`,
    stationsMarkup(v, inner.minY, view),
    endsMarkup(v, box, view),
    marksMarkup(faceMarks(v, ties), view, false),
  ]);
  return drawing({ box, name: v.name, title: `Face ${face.id}, developed`, desc: describe(v, ties), body });
};

/** A face (or a part of it) as one SVG document; an empty string when the result has no such face or wall. */
export const elevationSvg = (result: Result, faceId: string, part?: Part): string => {
  const face = result.plan.faces.find((f) => f.id === faceId);
  if (face === undefined) return '';
  return elevationDrawing(result, face, part ?? reachOf(result, face))?.markup.text ?? '';
};

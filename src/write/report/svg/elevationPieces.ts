/** The pieces of a developed face: rectangles with size and id, written inside where they fit, beside with a leader where not. */

import { runsPast } from '../../../ground/extent.js';
import { layoutIndex } from '../../../ground/layoutIndex.js';
import { byNumber } from '../../../ground/order.js';
import { armOnFace } from '../../../ground/places.js';
import type { Vec } from '../../../ground/plane.js';
import { planIndex } from '../../../ground/planIndex.js';
import type { CheckedTie, Cover, Piece } from '../../../ground/vocabulary.js';
import { html, lines, type Markup } from '../markup.js';
import { KIND_LETTERS, lengthText } from '../sizes.js';
import {
  INK,
  LINE,
  num,
  pathData,
  QUIET_INK,
  SMALL_TEXT_MM,
  TEXT_MM,
  type TextStyle,
  textMarkup,
  textWidth,
  type View,
} from './canvas.js';
import type { FaceView } from './elevation.js';
import { pieceFill } from './fills.js';
import { lanes } from './labels.js';

/** Room that a text leaves to the edges of its piece. */
const AIR_MM = 60;
/** Pieces narrower than this have their ties' ids over the ties, not beside them. */
export const NARROW_MM = 350;

interface Standing {
  readonly piece: Piece;
  readonly cover: Cover;
}

const rectangle = (v: FaceView, c: Cover): readonly Vec[] => [
  v.at(c.fromMm, c.baseMm),
  v.at(c.toMm, c.baseMm),
  v.at(c.toMm, c.topMm),
  v.at(c.fromMm, c.topMm),
];

/** Letter and width, height and whether it lies on its side, id. */
const texts = (v: FaceView, s: Standing): readonly [string, string, string] => {
  const gear = v.result.catalogue.lengthUnit;
  const letter = KIND_LETTERS[s.piece.kind];
  const isRound = s.piece.taper !== undefined && s.piece.vertex !== undefined;
  const hereMm = s.cover.toMm - s.cover.fromMm;
  const here = lengthText(isRound ? hereMm : (s.piece.taper?.faceMm ?? hereMm), gear);
  // Of a unit that runs past a jog, and of a strip round a bend, only a part stands on this face.
  const wholeMm = isRound ? s.piece.taper!.faceMm : s.piece.covers.reduce((sum, c) => sum + c.toMm - c.fromMm, 0);
  const width = runsPast(s.piece) || isRound ? `${lengthText(wholeMm, gear)} (${here} here)` : here;
  const height = lengthText(s.cover.topMm - s.cover.baseMm, gear);
  return [
    letter === '' ? width : `${letter} ${width}`,
    `x ${height}${s.piece.turned ? ', on its side' : ''}`,
    s.piece.id,
  ];
};

type Writing = 'stacked' | 'across' | 'upright' | 'beside';

const oneLine = (v: FaceView, s: Standing): string => {
  const [w, h, id] = texts(v, s);
  return `${w} ${h}  ${id}`;
};

/** How a piece's text stands: in three lines, in one across, in one upwards, or beside the piece because it fits nowhere in it. */
const writingOf = (v: FaceView, s: Standing): Writing => {
  const width = s.cover.toMm - s.cover.fromMm;
  const height = s.cover.topMm - s.cover.baseMm;
  const [w, h, id] = texts(v, s);
  const stacked = Math.max(textWidth(w, TEXT_MM), textWidth(h, TEXT_MM), textWidth(id, SMALL_TEXT_MM));
  if (stacked + AIR_MM <= width && height >= TEXT_MM * 4) return 'stacked';
  const length = textWidth(oneLine(v, s), SMALL_TEXT_MM) + AIR_MM;
  const least = SMALL_TEXT_MM * 1.3;
  if (length <= width && height >= least) return 'across';
  return length <= height && width >= least ? 'upright' : 'beside';
};

const tiesOf = (v: FaceView, s: Standing): readonly CheckedTie[] => v.ties.filter((t) => t.pieces.includes(s.piece.id));

/** Level for the middle of a piece's text: the middle of the gap between its tie rows that lies nearest to its own middle. */
const textLevel = (v: FaceView, s: Standing): number => {
  const { baseMm, topMm } = s.cover;
  const { alignersOn, platformsOn } = layoutIndex(v.result.layout);
  const crossing = [...alignersOn(v.face.id).filter((a) => a.kind === 'horizontal'), ...platformsOn(v.face.id)].flatMap(
    ({ fromMm, toMm, levelMm }) =>
      toMm > s.cover.fromMm && fromMm < s.cover.toMm && levelMm > baseMm && levelMm < topMm ? [levelMm] : [],
  );
  const levels = [baseMm, ...tiesOf(v, s).map((t) => t.levelMm), ...crossing, topMm].sort((a, b) => a - b);
  const middle = (baseMm + topMm) / 2;
  const gaps = levels.slice(1).map((z, i) => ({ at: (z + levels[i]!) / 2, high: z - levels[i]! }));
  const roomy = gaps.filter((g) => g.high >= TEXT_MM * 3.6);
  return [...roomy].sort(byNumber((g) => Math.abs(g.at - middle)))[0]?.at ?? middle;
};

/** Station for upright text: the middle, or in narrow pieces a little away from ties that stand on one side only. */
const uprightStation = (v: FaceView, s: Standing): number => {
  const { fromMm, toMm } = s.cover;
  const middle = (fromMm + toMm) / 2;
  const sides = new Set(tiesOf(v, s).map((t) => (t.stationMm < middle ? 1 : -1)));
  const [side] = sides;
  return sides.size === 1 && toMm - fromMm < NARROW_MM ? middle + side! * (toMm - fromMm) * 0.25 : middle;
};

/** What is written in a piece, or null when it stands beside. */
const inside = (v: FaceView, s: Standing, view: View): Markup | null => {
  const { fromMm, toMm, baseMm, topMm } = s.cover;
  const style: TextStyle = s.piece.kind === 'timber' ? { fill: '#ffffff', rim: false } : {};
  const writing = writingOf(v, s);
  if (writing === 'beside') return null;
  if (writing === 'stacked') {
    const [w, h, id] = texts(v, s);
    const at = v.at((fromMm + toMm) / 2, textLevel(v, s));
    const line = (text: string, dy: number, more: TextStyle) =>
      textMarkup(text, { x: at.x, y: at.y + dy }, view, { ...style, ...more });
    return html`${line(w, 150, { bold: true })}${line(h, 0, {})}${line(id, -140, { sizeMm: SMALL_TEXT_MM })}`;
  }
  const small = { ...style, sizeMm: SMALL_TEXT_MM };
  if (writing === 'across')
    return textMarkup(oneLine(v, s), v.at((fromMm + toMm) / 2, (baseMm + topMm) / 2), view, small);
  return textMarkup(oneLine(v, s), v.at(uprightStation(v, s), (baseMm + topMm) / 2), view, { ...small, deg: -90 });
};

/** Texts over the forms for pieces that are too narrow, with the lane of each. */
const overhead = (v: FaceView) => {
  const narrow = v.covers
    .filter((s) => s.cover.topMm - s.cover.baseMm >= s.cover.toMm - s.cover.fromMm)
    .filter((s) => writingOf(v, s) === 'beside')
    .map((s) => ({ ...s, text: oneLine(v, s), atMm: (s.cover.fromMm + s.cover.toMm) / 2 }));
  const lane = lanes(narrow.map((n) => ({ atMm: n.atMm, lengthMm: textWidth(n.text, SMALL_TEXT_MM) + AIR_MM })));
  return narrow.map((n, i) => ({ ...n, lane: lane[i]! }));
};

/** Height over the forms that the texts of narrow pieces take. */
export const overheadMm = (v: FaceView): number =>
  (Math.max(-1, ...overhead(v).map((n) => n.lane)) + 1) * SMALL_TEXT_MM * 1.3;

/** Texts beside their pieces: of narrow ones above the forms with a leader, of low ones (base gaps) just above them. */
const beside = (v: FaceView, view: View): Markup => {
  const topMm = Math.max(0, ...v.covers.map((c) => c.cover.topMm));
  const over = overhead(v).map((n) => {
    const at = v.at(n.atMm, topMm + 140 + n.lane * SMALL_TEXT_MM * 1.3);
    const foot = v.at(n.atMm, n.cover.topMm);
    return html`<path d="${pathData([foot, { x: at.x, y: at.y - SMALL_TEXT_MM / 2 }], view, false)}" stroke="${QUIET_INK}" stroke-width="${num(LINE.thin)}"/>${textMarkup(n.text, at, view, { sizeMm: SMALL_TEXT_MM })}`;
  });
  const low = v.covers
    .filter((s) => s.cover.topMm - s.cover.baseMm < s.cover.toMm - s.cover.fromMm)
    .filter((s) => writingOf(v, s) === 'beside')
    .map((s) => {
      const at = v.at((s.cover.fromMm + s.cover.toMm) / 2, s.cover.topMm + 95);
      return textMarkup(oneLine(v, s), at, view, { sizeMm: SMALL_TEXT_MM * 0.85 });
    });
  return html`${over}${low}`;
};

/** Outside corners take no width of the face: a strip beyond its end stands for one. */
const outsideCorners = (v: FaceView, view: View): Markup => {
  const { atVertex, orderOf } = layoutIndex(v.result.layout);
  const standing = planIndex(v.result.plan)
    .verticesOfWall(v.wall.id)
    .flatMap((vertex) => {
      const arm = armOnFace(vertex, v.face);
      const isEnd = arm?.stationMm === v.face.fromMm || arm?.stationMm === v.face.toMm;
      const isHere = arm && isEnd && arm.stationMm >= v.part.fromMm && arm.stationMm <= v.part.toMm;
      return isHere ? atVertex(vertex.id).map((piece) => ({ piece, arm })) : [];
    })
    .filter(({ piece }) => !piece.covers.some((c) => c.face === v.face.id))
    .sort(byNumber(({ piece }) => orderOf(piece)));
  const strips = standing.map(({ piece, arm }) => {
    const away = arm.stationMm - arm.direction * 70;
    const cover = { face: v.face.id, fromMm: away, toMm: arm.stationMm, baseMm: piece.baseMm, topMm: piece.topMm };
    const text = `${KIND_LETTERS[piece.kind]} ${piece.id}`;
    const at = v.at(arm.stationMm - arm.direction * 130, (piece.baseMm + piece.topMm) / 2);
    return html`<path d="${pathData(rectangle(v, cover), view, true)}" fill="${pieceFill(piece.kind, v.name)}" stroke="${INK}" stroke-width="${num(LINE.thin)}"/>${textMarkup(text, at, view, { sizeMm: SMALL_TEXT_MM, deg: -90 })}`;
  });
  return html`${strips}`;
};

/** All pieces of the part, in the order of `covers`. */
export const piecesOnFace = (v: FaceView, view: View): Markup => {
  const shapes = v.covers.map(
    ({ piece, cover }) =>
      html`<path d="${pathData(rectangle(v, cover), view, true)}" fill="${pieceFill(piece.kind, v.name)}"><title>${piece.id}: ${piece.kind} ${piece.item ?? ''}, course ${num(piece.course)}${piece.turned ? ', on its side' : ''}</title></path>`,
  );
  return lines([
    html`<g stroke="${INK}" stroke-width="${num(LINE.tie)}">${lines(shapes)}</g>`,
    outsideCorners(v, view),
    html`<g>${v.covers.map((s) => inside(v, s, view))}</g>`,
    html`<g>${beside(v, view)}</g>`,
  ]);
};

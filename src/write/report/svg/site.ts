/**
 * Aligners, braces, platforms and corner decks in the report's drawings, told apart by line alone so that a black-and-white print keeps them. In plan an
 * aligner is a narrow bar behind the frames (an upright one a crossed square), a brace two lines to a crossed plate, a platform a broken outline with a line
 * for each bracket, a bold line where its guard stands, rungs for a ladder, a deck a broken outline. In elevation an aligner is a narrow bar, the head of a
 * brace a triangle, a platform its floor with brackets under and rails over it.
 */

import { deckOutline } from '../../../ground/decks.js';
import { layoutIndex } from '../../../ground/layoutIndex.js';
import { add, scale, type Vec } from '../../../ground/plane.js';
import { ALIGNER_OUT_MM, FLOOR_OUT_MM, FLOOR_THICK_MM, FOOT_PLATE_MM, TUBE_MM } from '../../../ground/siteSizes.js';
import type { Aligner, CheckedBrace, CheckedPlatform, Result } from '../../../ground/vocabulary.js';
import { type Edge, edgeAt, faceEdge, onEdge, type PlanIndex } from '../geometry.js';
import { html, type Markup } from '../markup.js';
import { lengthText } from '../sizes.js';
import { INK, LINE, num, pathData, SMALL_TEXT_MM, textMarkup, uprightDeg, type View } from './canvas.js';
import type { FaceView } from './elevation.js';

const DASH = html` stroke-dasharray="90 45"`;
const SHAFT_MM = 22;
const LADDER_MM = [200, 400] as const;
const GUARD_MM = 35;

const path = (d: string, widthMm: number, extra: Markup | null = null, fill = 'none'): Markup =>
  html`<path d="${d}" fill="${fill}" stroke="${INK}" stroke-width="${num(widthMm)}"${extra}/>`;

const crossed = (corners: readonly Vec[], view: View): string => {
  const [a, b, c, d] = corners as readonly [Vec, Vec, Vec, Vec];
  return pathData(corners, view, true) + pathData([a, c], view, false) + pathData([b, d], view, false);
};

/** Four corners about a point of an edge: half sizes along it and out of it. */
const boxAt = (edge: Edge, stationMm: number, outMm: number, [w, d]: readonly [number, number]): readonly Vec[] => [
  onEdge(edge, stationMm - w, outMm - d),
  onEdge(edge, stationMm + w, outMm - d),
  onEdge(edge, stationMm + w, outMm + d),
  onEdge(edge, stationMm - w, outMm + d),
];

const alignerInPlan = (edge: Edge, a: Aligner, depthMm: number, view: View): Markup => {
  const out = depthMm + ALIGNER_OUT_MM;
  const title = html`<title>${a.id}: aligner ${a.item}</title>`;
  if (a.kind === 'vertical')
    return html`<g>${title}${path(crossed(boxAt(edge, a.fromMm, out, [TUBE_MM / 2, TUBE_MM / 2]), view), LINE.thin)}</g>`;
  const middle = (a.fromMm + a.toMm) / 2;
  const bar = boxAt(edge, middle, out, [(a.toMm - a.fromMm) / 2, TUBE_MM / 4]);
  return html`<g>${title}${path(pathData(bar, view, true), LINE.thin, null, '#ffffff')}</g>`;
};

const braceInPlan = (edge: Edge, b: CheckedBrace, depthMm: number, view: View): Markup => {
  const head = depthMm + ALIGNER_OUT_MM;
  const [, plateDeep] = FOOT_PLATE_MM;
  const shaft = [-SHAFT_MM, SHAFT_MM]
    .map((x) =>
      pathData(
        [onEdge(edge, b.stationMm + x, head), onEdge(edge, b.stationMm + x, b.footOffsetMm - plateDeep)],
        view,
        false,
      ),
    )
    .join('');
  const plate = crossed(boxAt(edge, b.stationMm, b.footOffsetMm, FOOT_PLATE_MM), view);
  const { along, out } = edgeAt(edge, b.stationMm);
  const at = add(onEdge(edge, b.stationMm, b.footOffsetMm + plateDeep), scale(out, SMALL_TEXT_MM));
  const name = textMarkup(b.id, at, view, { deg: uprightDeg(along), sizeMm: SMALL_TEXT_MM });
  return html`<g><title>${b.id}: brace ${b.item}</title>${path(shaft + plate, LINE.thin)}${name}</g>`;
};

/** Stations and offsets of a platform's lines. */
const platformInPlan = (result: Result, edge: Edge, p: CheckedPlatform, depthMm: number, view: View): Markup => {
  const [inner, outer] = [depthMm + FLOOR_OUT_MM, depthMm + FLOOR_OUT_MM + p.widthMm];
  const at = (stationMm: number, out: number): Vec => onEdge(edge, stationMm, out);
  const floor = pathData([at(p.fromMm, inner), at(p.toMm, inner), at(p.toMm, outer), at(p.fromMm, outer)], view, true);
  const brackets = p.brackets.map((s) => pathData([at(s, depthMm), at(s, outer)], view, false)).join('');
  const guard = outer + GUARD_MM;
  const ends = p.endRails.map((is, i) => {
    const s = i === 0 ? p.fromMm - GUARD_MM : p.toMm + GUARD_MM;
    return is ? pathData([at(s, inner), at(s, guard)], view, false) : '';
  });
  const [from, to] = [
    p.endRails[0] ? p.fromMm - GUARD_MM : p.guardMm[0],
    p.endRails[1] ? p.toMm + GUARD_MM : p.guardMm[1],
  ];
  const rails = pathData([at(from, guard), at(to, guard)], view, false) + ends.join('');
  const [half, deep] = LADDER_MM;
  const rungs =
    p.ladderMm === null
      ? ''
      : pathData(boxAt(edge, p.ladderMm, guard + deep / 2, [half, deep / 2]), view, true) +
        [1, 2, 3]
          .map((k) => {
            const out = guard + (k * deep) / 4;
            return pathData([at(p.ladderMm! - half, out), at(p.ladderMm! + half, out)], view, false);
          })
          .join('');
  const middle = (p.fromMm + p.toMm) / 2;
  const name = `${p.id} floor ${lengthText(p.levelMm, result.catalogue.lengthUnit)}`;
  const text = textMarkup(name, at(middle, outer - SMALL_TEXT_MM), view, {
    deg: uprightDeg(edgeAt(edge, middle).along),
    sizeMm: SMALL_TEXT_MM,
  });
  return html`<g><title>${p.id}: platform on ${num(p.brackets.length)} brackets ${p.item}</title>${path(floor, LINE.thin, DASH)}${path(brackets + rungs, LINE.hair)}${path(rails, LINE.form)}${text}</g>`;
};

/** All of it in plan, under the labels. */
export const siteInPlan = (result: Result, index: PlanIndex, depthMm: number, view: View): Markup => {
  const { aligners = [], braces = [], platforms = [], decks = [] } = result.layout;
  const on = <T extends { readonly face: string }>(items: readonly T[], draw: (edge: Edge, item: T) => Markup) =>
    items.map((item) => {
      const face = index.faces.get(item.face);
      const edge = face ? faceEdge(index, face) : null;
      return edge && draw(edge, item);
    });
  const decked = decks.map((d) => {
    const ring = deckOutline(result.plan, d, depthMm);
    if (!ring) return null;
    const middle = scale(add(ring[0]!, ring[2]!), 0.5);
    return html`<g><title>${d.id}: deck of an inner corner</title>${path(pathData(ring, view, true), LINE.thin, DASH)}${textMarkup(d.id, middle, view, { sizeMm: SMALL_TEXT_MM })}</g>`;
  });
  return html`<g>${on(platforms, (e, p) => platformInPlan(result, e, p, depthMm, view))}${decked}${on(aligners, (e, a) => alignerInPlan(e, a, depthMm, view))}${on(braces, (e, b) => braceInPlan(e, b, depthMm, view))}</g>`;
};

/** Points that the plan's frame must hold. */
export const siteReach = ({ layout }: Result, index: PlanIndex, depthMm: number): readonly Vec[] => {
  const { braces = [], platforms = [] } = layout;
  const at = (face: string, stationMm: number, out: number): Vec[] => {
    const own = index.faces.get(face);
    const edge = own ? faceEdge(index, own) : null;
    return edge ? [onEdge(edge, stationMm, out)] : [];
  };
  return [
    ...braces.flatMap((b) => at(b.face, b.stationMm, b.footOffsetMm + 2 * SMALL_TEXT_MM)),
    ...platforms.flatMap((p) => {
      const out = depthMm + FLOOR_OUT_MM + p.widthMm + LADDER_MM[1];
      return [...at(p.face, p.fromMm, out), ...at(p.face, p.toMm, out)];
    }),
  ];
};

const BAR_MM = TUBE_MM / 2;
const HEAD_MM = 80;

/** All of it that stands before a face, over its pieces. */
export const siteInElevation = (v: FaceView, view: View): Markup => {
  const { alignersOn, bracesOn, platformsOn } = layoutIndex(v.result.layout);
  const { brackets = [], lengthUnit } = v.result.catalogue;
  const inPart = (fromMm: number, toMm: number) => toMm > v.part.fromMm && fromMm < v.part.toMm;
  const cut = (s: number) => Math.min(Math.max(s, v.part.fromMm), v.part.toMm);
  const aligners = alignersOn(v.face.id)
    .filter((a) => inPart(a.fromMm - 1, a.toMm + 1))
    .map((a) => {
      const isUpright = a.kind === 'vertical';
      const [low, high] = isUpright ? [a.levelMm, a.topMm ?? a.levelMm] : [a.levelMm - BAR_MM, a.levelMm + BAR_MM];
      const [from, to] = isUpright ? [a.fromMm - BAR_MM, a.fromMm + BAR_MM] : [cut(a.fromMm), cut(a.toMm)];
      const ring = [v.at(from, low), v.at(to, low), v.at(to, high), v.at(from, high)];
      return html`<g><title>${a.id}: aligner ${a.item}</title>${path(pathData(ring, view, true), LINE.thin, html` fill-opacity="0.75"`, '#ffffff')}</g>`;
    });
  const heads = bracesOn(v.face.id)
    .filter((b) => b.stationMm >= v.part.fromMm && b.stationMm <= v.part.toMm)
    .map((b) => {
      const tip = v.at(b.stationMm, b.headMm - BAR_MM);
      const foot = [-1, 1].map((k) => ({ x: tip.x + (k * HEAD_MM) / 2, y: tip.y - HEAD_MM }));
      const name = textMarkup(b.id, { x: tip.x, y: tip.y - HEAD_MM - 50 }, view, { sizeMm: 70 });
      return html`<g><title>${b.id}: brace ${b.item}</title><path d="${pathData([tip, ...foot], view, true)}" fill="${INK}"/>${name}</g>`;
    });
  const floors = platformsOn(v.face.id)
    .filter((p) => inPart(p.fromMm, p.toMm))
    .map((p) => {
      const { topMm, midMm, toeMm } = p.rails;
      const deepMm = brackets.find((b) => b.id === p.item)?.heightMm ?? 0;
      const [from, to] = [cut(p.fromMm), cut(p.toMm)];
      const level = (s: readonly [number, number], z: number) =>
        pathData([v.at(cut(s[0]), p.levelMm + z), v.at(cut(s[1]), p.levelMm + z)], view, false);
      const floor = [
        v.at(from, p.levelMm - FLOOR_THICK_MM),
        v.at(to, p.levelMm - FLOOR_THICK_MM),
        v.at(to, p.levelMm),
        v.at(from, p.levelMm),
      ];
      const rails = [toeMm, ...(midMm === null ? [] : [midMm]), topMm].map((z) => level(p.guardMm, z)).join('');
      const posts = p.brackets
        .filter((s) => s >= v.part.fromMm && s <= v.part.toMm)
        .map((s) => pathData([v.at(s, p.levelMm - deepMm), v.at(s, p.levelMm + topMm)], view, false))
        .join('');
      const name = textMarkup(
        `${p.id} floor ${lengthText(p.levelMm, lengthUnit)}`,
        v.at((from + to) / 2, p.levelMm - FLOOR_THICK_MM - 55),
        view,
        { sizeMm: 70 },
      );
      return html`<g><title>${p.id}: platform on ${num(p.brackets.length)} brackets ${p.item}</title>${path(pathData(floor, view, true), LINE.thin)}${path(rails + posts, LINE.thin, DASH)}${name}</g>`;
    });
  return html`<g>${floors}${aligners}${heads}</g>`;
};

/** One swatch for each kind that the layout has: its sign in plan and its name, in a frame of 270 x 150. */
export const siteSwatches = ({ layout }: Result): readonly { readonly name: string; readonly sign: Markup }[] => {
  const view: View = (p) => p;
  const rows = [
    {
      has: layout.clamps.length > 0,
      name: 'clamp (in elevation)',
      sign: path('M85 75H185', 22),
    },
    {
      has: (layout.aligners ?? []).length > 0,
      name: 'aligner',
      sign: path('M6 60H264V90H6Z', LINE.thin),
    },
    {
      has: (layout.braces ?? []).length > 0,
      name: 'brace, in elevation its head',
      sign: html`${path('M10 55H150M10 95H150', LINE.thin)}${path(
        crossed(
          [
            { x: 150, y: 30 },
            { x: 240, y: 30 },
            { x: 240, y: 120 },
            { x: 150, y: 120 },
          ],
          view,
        ),
        LINE.thin,
      )}`,
    },
    {
      has: (layout.platforms ?? []).length > 0,
      name: 'platform: floor, brackets, guard',
      sign: html`${path('M10 20H260V110H10Z', LINE.thin, DASH)}${path('M90 20V110M180 20V110', LINE.hair)}${path('M10 132H260', LINE.form)}`,
    },
  ];
  return rows.filter((r) => r.has);
};

/** What the drawing's words say of it; '' where there is none. */
export const siteWords = ({ layout }: Result): string => {
  const { aligners = [], braces = [], platforms = [] } = layout;
  if (aligners.length + braces.length + platforms.length === 0) return '';
  return ` ${num(aligners.length)} aligners, ${num(braces.length)} braces, ${num(platforms.length)} platforms.`;
};

/**
 * The plan: concrete hatched light, forms heavy at their true place, ties across the wall, widths beside the pieces, findings as numbered
 * triangles, y of the drawing up. Of stacked pieces the tallest shows; the elevations show all of them.
 */

import { endStationMm, sideShare, wallDirection, wallPoint } from '../../../ground/arcs.js';
import { runsPast } from '../../../ground/extent.js';
import { layoutIndex } from '../../../ground/layoutIndex.js';
import { byNumber, byText, inOrder } from '../../../ground/order.js';
import { add, leftOf, length, scale, unit, type Vec } from '../../../ground/plane.js';
import { planIndex } from '../../../ground/planIndex.js';
import { runsOfWall } from '../../../ground/runs.js';
import { specialOutline } from '../../../ground/specialOutlines.js';
import { MM_PER } from '../../../ground/units.js';
import type { Cover, Face, FacePlan, Piece, Result, Wall } from '../../../ground/vocabulary.js';
import {
  armEdge,
  type Edge,
  edgeAt,
  faceEdge,
  indexPlan,
  onEdge,
  type PlanIndex,
  pieceShapes,
  tieEnds,
} from '../geometry.js';
import { html, lines, type Markup } from '../markup.js';
import { type GearUnit, KIND_LETTERS, lengthText } from '../sizes.js';
import {
  type Box,
  boxOf,
  type Drawing,
  drawing,
  grow,
  INK,
  LINE,
  lineMarkup,
  num,
  pathData,
  QUIET_INK,
  SMALL_TEXT_MM,
  TEXT_MM,
  textMarkup,
  textWidth,
  uprightDeg,
  type View,
  viewOf,
} from './canvas.js';
import { concreteFill, patternDefs, pieceFill } from './fills.js';
import { widthLabels } from './labels.js';
import { type Mark, marksMarkup } from './marks.js';
import { siteInPlan, siteReach, siteWords } from './site.js';

const NAME = 'plan';
/** Forms are drawn as deep as their frame, but never so thin that a hatch is lost. */
const LEAST_DEPTH_MM = 60;
const MARGIN_MM = 1100;
const FOOT_MM = 900;

const OVERLAP_MM = 1;

interface Shown {
  readonly piece: Piece;
  readonly cover: Cover;
}

/** The covers of a face that show in plan: tall before low, low base before high, each only where nothing shows yet. In order of station. */
const shownCovers = ({ layout }: Result, face: Face): readonly Shown[] => {
  const all = [...layoutIndex(layout).onFace(face.id)].sort(
    inOrder<Shown>(
      byNumber((s) => s.cover.baseMm - s.cover.topMm),
      byNumber((s) => s.cover.baseMm),
      byNumber((s) => s.cover.fromMm),
      byText((s) => s.piece.id),
    ),
  );
  const shown: Shown[] = [];
  for (const s of all) {
    const hides = (o: Shown) =>
      Math.min(o.cover.toMm, s.cover.toMm) - Math.max(o.cover.fromMm, s.cover.fromMm) > OVERLAP_MM;
    if (!shown.some(hides)) shown.push(s);
  }
  return shown.sort(byNumber((s) => s.cover.fromMm));
};

/** The cover of a piece that is longest, the first of equals. */
const mostOf = ({ covers }: Piece): Cover => covers.reduce((a, b) => (b.toMm - b.fromMm > a.toMm - a.fromMm ? b : a));

/** Text beside a piece: its letter, unless it is a panel, and its width. */
const widthText = (shown: Shown, gear: GearUnit): string => {
  const letter = KIND_LETTERS[shown.piece.kind];
  // A unit that runs past a jog is written once, in its whole width, on the face that it covers most of.
  const { covers, taper } = shown.piece;
  const { fromMm, toMm } = shown.cover;
  const placedMm = runsPast(shown.piece) ? covers.reduce((sum, c) => sum + c.toMm - c.fromMm, 0) : toMm - fromMm;
  const width = lengthText(taper?.faceMm ?? placedMm, gear);
  return letter === '' ? width : `${letter} ${width}`;
};

interface FaceDrawing {
  readonly face: Face;
  readonly edge: Edge;
  readonly shown: readonly Shown[];
  /** Station for its name: the middle of its longest stretch without a stem. */
  readonly nameMm: number;
}

const nameStation = (plan: FacePlan, face: Face): number => {
  const stems = runsOfWall(plan, face.wall)
    .flatMap((run) => [...run.stems, ...(run.pilasters ?? [])].filter((stem) => stem.side === face.side))
    .sort((a, b) => a.fromMm - b.fromMm);
  const cuts = [face.fromMm, ...stems.flatMap((stem) => [stem.fromMm, stem.toMm]), face.toMm];
  let best = { middle: (face.fromMm + face.toMm) / 2, long: -1 };
  for (let i = 0; i + 1 < cuts.length; i += 2) {
    const long = cuts[i + 1]! - cuts[i]!;
    if (long > best.long) best = { middle: (cuts[i]! + cuts[i + 1]!) / 2, long };
  }
  return best.middle;
};

const labelsOfFace = (f: FaceDrawing, gear: GearUnit, depthMm: number, view: View): Markup => {
  const footMm = depthMm + 70;
  const own = f.shown.filter(
    (s) => s.piece.vertex === undefined && (!runsPast(s.piece) || s.cover === mostOf(s.piece)),
  );
  const wanted = own.map((s) => ({ ...s.cover, text: widthText(s, gear) }));
  const { labels, depthMm: lanesMm } = widthLabels(wanted, TEXT_MM);
  const texts = labels.map((label) => {
    const at = onEdge(f.edge, label.atMm, footMm + label.offsetMm);
    const here = edgeAt(f.edge, label.atMm);
    const deg = uprightDeg(label.along ? here.along : here.out);
    const leader =
      label.lane === 0
        ? null
        : html`<path d="${pathData([onEdge(f.edge, label.atMm, depthMm), onEdge(f.edge, label.atMm, footMm + label.offsetMm - TEXT_MM)], view, false)}" stroke="${QUIET_INK}" stroke-width="${num(LINE.hair)}"/>`;
    return html`${leader}${textMarkup(label.text, at, view, { deg })}`;
  });
  const { arc } = f.edge;
  const share = arc ? sideShare(arc.wall, arc.side) : 1;
  const length = lengthText((f.face.toMm - f.face.fromMm) * share, gear);
  const nameAt = onEdge(f.edge, f.nameMm, footMm + lanesMm + TEXT_MM * 0.8);
  const name = textMarkup(`${f.face.id} = ${length}`, nameAt, view, {
    deg: uprightDeg(f.edge.along),
    fill: QUIET_INK,
    sizeMm: TEXT_MM * 0.9,
  });
  return html`${texts}${f.face.side === 'left' || f.face.side === 'right' ? name : null}`;
};

/** Name of a wall in its concrete, with that of its pour, and a pointer from start to end; smaller in thin walls. */
const wallName = (wall: Wall, view: View): Markup => {
  const middle = wall.arc ? endStationMm(wall) / 2 : wall.lengthMm / 2;
  const along = wallDirection(wall, middle);
  const sizeMm = Math.min(TEXT_MM * 1.1, wall.thicknessMm * 0.75);
  const at = wallPoint(wall, middle);
  const name = wall.pour === undefined ? wall.id : `${wall.id} (${wall.pour})`;
  const tip = add(at, scale(along, textWidth(name, sizeMm) / 2 + sizeMm));
  const square = leftOf(along);
  const back = add(tip, scale(along, -sizeMm * 0.6));
  const head = [add(back, scale(square, sizeMm * 0.3)), tip, add(back, scale(square, -sizeMm * 0.3))];
  return html`${textMarkup(name, at, view, { deg: uprightDeg(along), sizeMm, bold: true })}<path d="${pathData(head, view, false)}" fill="none" stroke="${INK}" stroke-width="${num(LINE.tie)}"/>`;
};

const piecesMarkup = (index: PlanIndex, pieces: readonly Piece[], depthMm: number, view: View): Markup => {
  const shapes = pieces.flatMap((piece) =>
    pieceShapes(index, piece, depthMm).map(
      (ring) =>
        html`<path d="${pathData(ring, view, true)}" fill="${pieceFill(piece.kind, NAME)}"><title>${piece.id}: ${piece.kind} ${piece.item ?? ''}</title></path>`,
    ),
  );
  return html`<g stroke="${INK}" stroke-width="${num(LINE.form)}" stroke-linejoin="miter">${lines(shapes)}</g>`;
};

/** One line a station: rows stand over each other. Ties beyond the concrete are broken lines. */
const tiesMarkup = (result: Result, index: PlanIndex, depthMm: number, view: View): Markup => {
  const stations = new Map(result.layout.ties.map((t) => [`${t.wall} ${t.stationMm}`, t]));
  const covers = new Map(result.layout.pieces.map((p) => [p.id, p.covers[0]]));
  const ties = [...stations.values()].map((tie) => {
    const ends = tieEnds(index, tie, (piece) => covers.get(piece), depthMm + 45);
    if (ends === null) return null;
    const dash = tie.outsideConcrete ? html` stroke-dasharray="60 36"` : null;
    const heads = ends.map((e) => {
      const v = view(e);
      return html`<circle cx="${num(v.x)}" cy="${num(v.y)}" r="16" fill="${INK}"/>`;
    });
    return html`<g${dash}>${lineMarkup(ends[0], ends[1], view)}${heads}</g>`;
  });
  return html`<g fill="none" stroke="${INK}" stroke-width="${num(LINE.tie)}">${lines(ties)}</g>`;
};

/** Scale bar of a round length in the gear's unit system, and the way up. */
const furniture = (box: Box, gear: GearUnit, view: View): Markup => {
  const stepMm = gear === 'in' ? 2 * MM_PER.ft : 1000;
  const at = { x: box.minX + 250, y: box.minY + 330 };
  const steps = [0, 1, 2].map((i) => {
    const from = view({ x: at.x + i * stepMm, y: at.y + 60 });
    const last = i === 2;
    const bar = html`<rect x="${num(from.x)}" y="${num(from.y)}" width="${num(stepMm)}" height="60" fill="${i === 1 ? '#ffffff' : INK}" stroke="${INK}" stroke-width="6"/>`;
    return last ? null : bar;
  });
  const ticks = [0, 1, 2].map((i) => {
    const text = gear === 'in' ? `${num(2 * i)}${i === 2 ? ' ft' : ''}` : `${num(i)}${i === 2 ? ' m' : ''}`;
    return textMarkup(text, { x: at.x + i * stepMm, y: at.y - 110 }, view);
  });
  const foot = { x: box.maxX - 330, y: box.minY + 230 };
  const north = { x: foot.x, y: foot.y + 420 };
  const head = [
    { x: north.x - 90, y: north.y - 170 },
    north,
    { x: north.x + 90, y: north.y - 170 },
    { x: north.x, y: north.y - 120 },
  ];
  return html`${steps}${ticks}<path d="${pathData([foot, north], view, false)}" stroke="${INK}" stroke-width="${num(LINE.tie)}"/><path d="${pathData(head, view, true)}" fill="${INK}"/>${textMarkup('drawing’s up', { x: foot.x, y: foot.y - 110 }, view, { sizeMm: 105 })}`;
};

/** Where a piece stands and which way is clear of the concrete: out of its corner, or square to its first face. */
const standOf = (index: PlanIndex, piece: Piece): { readonly at: Vec; readonly out: Vec } | null => {
  const vertex = planIndex(index.plan).vertices.get(piece.vertex ?? '');
  if (vertex !== undefined) {
    const outs = vertex.arms.flatMap((arm) => {
      const edge = armEdge(index, arm);
      return edge === null ? [] : [edge.out];
    });
    const sum = outs.reduce(add, { x: 0, y: 0 });
    return length(sum) < 0.05 ? null : { at: vertex.at, out: unit(sum) };
  }
  const cover = piece.covers[0];
  const face = index.faces.get(cover?.face ?? '');
  const edge = face === undefined ? null : faceEdge(index, face);
  if (cover === undefined || edge === null) return null;
  const middle = (cover.fromMm + cover.toMm) / 2;
  return { at: onEdge(edge, middle), out: edgeAt(edge, middle).out };
};

/** Legs of a corner piece, written once, clear of the widths on either face: letter and length of the legs. */
const cornerLabel = (index: PlanIndex, piece: Piece, gear: GearUnit, depthMm: number, view: View): Markup | null => {
  const stand = standOf(index, piece);
  if (stand === null || piece.vertex === undefined || piece.covers.length === 0) return null;
  const legs = new Set(piece.covers.map((c) => lengthText(c.toMm - c.fromMm, gear)));
  const { taper } = piece;
  const size = taper ? `${lengthText(taper.faceMm, gear)}/${lengthText(taper.backMm, gear)}` : [...legs].join('+');
  const text = `${KIND_LETTERS[piece.kind]} ${size}`;
  const side = Math.sign(Math.round(stand.out.x * 1e6));
  const at = add(stand.at, scale(stand.out, depthMm * 1.5 + TEXT_MM * 2.8));
  return textMarkup(text, at, view, {
    anchor: side > 0 ? 'start' : side < 0 ? 'end' : 'middle',
    sizeMm: SMALL_TEXT_MM,
  });
};

/** Special forms: the hatched band along the face, with its words. */
const specialMarkup = ({ plan, specialForms }: Result, view: View): Markup | null =>
  specialForms === undefined
    ? null
    : html`<g>${specialForms.map((form) => {
        const outline = specialOutline(plan, form, SMALL_TEXT_MM);
        if (!outline) return null;
        const strokes = outline.strokes.map((s) => pathData(s, view, false)).join('');
        const words = outline.lines.map((l) =>
          textMarkup(l.words, l.at, view, { deg: uprightDeg(outline.along), sizeMm: SMALL_TEXT_MM }),
        );
        return html`<path d="${pathData(outline.ring, view, true)}${strokes}" fill="none" stroke="${INK}" stroke-width="${num(LINE.thin)}"/>${words}`;
      })}</g>`;

/** Flag at the first piece of the setting list, clear of the labels. */
const startFlag = (result: Result, index: PlanIndex, view: View): Markup | null => {
  const first = result.schedule.setting?.[0];
  const piece = result.layout.pieces.find((p) => p.id === first?.piece);
  const stand = piece === undefined ? null : standOf(index, piece);
  if (stand === null) return null;
  const foot = add(stand.at, scale(stand.out, 1050));
  const top = { x: foot.x, y: foot.y + 240 };
  const flag = [top, { x: top.x + 560, y: top.y - 110 }, { x: top.x, y: top.y - 220 }];
  return html`<path d="${pathData([stand.at, foot, top], view, false)}" fill="none" stroke="${INK}" stroke-width="${num(LINE.thin)}"/><path d="${pathData(flag, view, true)}" fill="${INK}"/>${textMarkup('START', { x: top.x + 215, y: top.y - 110 }, view, { sizeMm: 95, fill: '#ffffff', bold: true, rim: false })}`;
};

/** The numbered findings whose place lies in the drawing's frame; the rest stand in the table alone. */
export const planMarks = (result: Result): readonly Mark[] => {
  const box = planBox(result);
  if (box === null) return [];
  return result.findings.flatMap((finding, i) => {
    if (finding.at === null) return [];
    const at = { x: finding.at[0], y: finding.at[1] };
    const inside = at.x >= box.minX && at.x <= box.maxX && at.y >= box.minY && at.y <= box.maxY;
    return inside ? [{ number: i + 1, finding, at }] : [];
  });
};

const depthOf = (result: Result): number => Math.max(LEAST_DEPTH_MM, result.catalogue.frameDepthMm);

/** The frame: concrete and pieces with room for labels. A finding far outside does not stretch it. */
const planBox = (result: Result): Box | null => {
  const index = indexPlan(result.plan);
  const shapes = result.layout.pieces.flatMap((p) => pieceShapes(index, p, depthOf(result)).flat());
  const box = boxOf([...result.plan.concrete.flat(), ...shapes, ...siteReach(result, index, depthOf(result))]);
  return box === null ? null : grow(box, MARGIN_MM, MARGIN_MM + FOOT_MM, MARGIN_MM, MARGIN_MM);
};

/** The plan with its size; null when there is no concrete and no piece to draw. */
export const planDrawing = (result: Result): Drawing | null => {
  const box = planBox(result);
  if (box === null) return null;
  const { plan, layout, catalogue } = result;
  const index = indexPlan(plan);
  const view = viewOf(box);
  const depthMm = depthOf(result);
  const faces = plan.faces.flatMap((face) => {
    const edge = faceEdge(index, face);
    return edge === null ? [] : [{ face, edge, shown: shownCovers(result, face), nameMm: nameStation(plan, face) }];
  });
  const visible = new Set(faces.flatMap((f) => f.shown.map((s) => s.piece)));
  const drawn = layout.pieces.filter((p) => visible.has(p) || p.covers.length === 0);
  const rings = plan.concrete.map((ring) => pathData(ring, view, true)).join('');
  const body = lines([
    patternDefs(NAME),
    html`<path d="${rings}" fill="${concreteFill(NAME)}" fill-rule="evenodd" stroke="${QUIET_INK}" stroke-width="${num(LINE.thin)}"/>`,
    piecesMarkup(index, drawn, depthMm, view),
    tiesMarkup(result, index, depthMm, view),
    siteInPlan(result, index, depthMm, view),
    html`<g>${faces.map((f) => labelsOfFace(f, catalogue.lengthUnit, depthMm, view))}</g>`,
    html`<g>${drawn.map((p) => cornerLabel(index, p, catalogue.lengthUnit, depthMm, view))}</g>`,
    html`<g>${plan.walls.map((wall) => wallName(wall, view))}</g>`,
    specialMarkup(result, view),
    startFlag(result, index, view),
    furniture(box, catalogue.lengthUnit, view),
    marksMarkup(planMarks(result), view, true),
  ]);
  const title = `Plan of ${result.source.file}`;
  const desc = `${num(plan.walls.length)} walls, ${num(layout.pieces.length)} pieces, ${num(layout.ties.length)} ties.${siteWords(result)} Up is the drawing’s y axis; widths are written beside the pieces; triangles carry the numbers of the findings.`;
  return drawing({ box, name: NAME, title, desc, body });
};

/** The plan as one SVG document; an empty string when there is nothing to draw. */
export const planSvg = (result: Result): string => planDrawing(result)?.markup.text ?? '';

/**
 * The developed elevation of one face, drawn as a person sees it who stands before it: x = 0 at its left end, y = 0 at the lowest footing. Stations of a left
 * face therefore run from right to left; the ends are named and an arrow shows the way of the stations.
 */

import { layoutIndex } from '../../ground/layoutIndex.js';
import { byNumber } from '../../ground/order.js';
import { bandsAlong } from '../../ground/pilasters.js';
import { armOnFace, type FaceFrame, vertexOf } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import { runAt, runsOfWall } from '../../ground/runs.js';
import { plainNumber } from '../../ground/units.js';
import type { CheckedTie, Cover, LevelBand, Piece } from '../../ground/vocabulary.js';
import { layerOf, PIECE_TAGS, pieceAttributes } from './attributes.js';
import { boundsOf } from './bounds.js';
import { drawClamp } from './clamps.js';
import { drawDimensions, jointsOf } from './dimensions.js';
import { bottomLabels, markInside, type Obstacles, topLabels } from './elevationMarks.js';
import { drawOpeningNames, drawOpenings } from './elevationOpenings.js';
import { drawGangsElevation } from './gangs.js';
import { Places, spread } from './labels.js';
import { lengthText, levelText } from './lengths.js';
import { type Scene, TEXT_MM } from './scene.js';
import { line, polyline, rectangle, type Shape, text } from './sheet.js';
import { drawSiteElevation, siteLevels, textBox } from './siteElevation.js';
import { elevationShapes, TIE_HEAD_MM } from './symbols.js';
import { drawTieSides } from './tieSides.js';

/** Stations and levels of one face as places in its elevation. */
export interface View {
  readonly frame: FaceFrame;
  readonly fromMm: number;
  readonly toMm: number;
  readonly footMm: number;
  readonly topMm: number;
  /** Place in the elevation of a station and a level. */
  readonly at: (stationMm: number, levelMm: number) => Vec;
}

/** What stands on a face: a piece and the part of it that lies here. */
export interface OnFace {
  readonly piece: Piece;
  readonly cover: Cover;
  /** Whether this is the piece's one insert in elevation; a corner's second leg is drawn plainly. */
  readonly isInsert: boolean;
}

/** A corner of no face width is drawn as wide as its frame, beyond the edge that it joins. */
export const onThisFace = (scene: Scene, frame: FaceFrame): OnFace[] => {
  const face = frame.face.id;
  return scene.onFace(face).map(({ piece, nth }) => {
    const cover = piece.covers[nth];
    if (cover) return { piece, cover, isInsert: nth === 0 };
    const { fromMm, toMm } = uncoveredStations(scene, piece, frame);
    return { piece, cover: { face, fromMm, toMm, baseMm: piece.baseMm, topMm: piece.topMm }, isInsert: true };
  });
};

/** Where a piece without covers is drawn: an outside corner beyond its vertex, a bulkhead over the whole end. */
const uncoveredStations = (scene: Scene, piece: Piece, frame: FaceFrame): { fromMm: number; toMm: number } => {
  const { plan, catalogue } = scene.result;
  const vertex = vertexOf(plan, piece);
  if (piece.kind === 'bulkhead' || !vertex) return frame.face;
  const arm = armOnFace(vertex, frame.face) ?? vertex.arms[0];
  const beyond = arm.stationMm - arm.direction * catalogue.frameDepthMm;
  return { fromMm: Math.min(arm.stationMm, beyond), toMm: Math.max(arm.stationMm, beyond) };
};

export const viewOf = (frame: FaceFrame, items: readonly OnFace[]): View => {
  const { face, wall } = frame;
  const covers = items.map((i) => i.cover);
  const fromMm = Math.min(face.fromMm, ...covers.map((c) => c.fromMm));
  const toMm = Math.max(face.toMm, ...covers.map((c) => c.toMm));
  const footMm = Math.min(...wall.base.map((b) => b.levelMm), ...covers.map((c) => c.baseMm));
  const topMm = Math.max(...wall.top.map((b) => b.levelMm), ...covers.map((c) => c.topMm));
  const at = (stationMm: number, levelMm: number): Vec => ({
    x: frame.seen > 0 ? stationMm - fromMm : toMm - stationMm,
    y: levelMm - footMm,
  });
  return { frame, fromMm, toMm, footMm, topMm, at };
};

/** Level bands over the face's stations, clipped to it; `start` and `end` faces take the level of the band at that end. */
export const bandsOn = (view: View, bands: readonly LevelBand[]): LevelBand[] => {
  const { face } = view.frame;
  if (face.stands) return [...bandsAlong(face, bands)];
  const sorted = [...bands].sort(byNumber((b) => b.fromMm));
  if (face.side === 'start' || face.side === 'end') {
    const band = face.side === 'start' ? sorted[0] : sorted.at(-1);
    return band ? [{ fromMm: face.fromMm, toMm: face.toMm, levelMm: band.levelMm }] : [];
  }
  return sorted
    .map((b, i) => ({
      fromMm: i === 0 ? face.fromMm : Math.max(b.fromMm, face.fromMm),
      toMm: i === sorted.length - 1 ? face.toMm : Math.min(b.toMm, face.toMm),
      levelMm: b.levelMm,
    }))
    .filter((b) => b.toMm > b.fromMm);
};

export const bandLine = (view: View, bands: readonly LevelBand[]): Vec[] =>
  bands.flatMap((b) => [view.at(b.fromMm, b.levelMm), view.at(b.toMm, b.levelMm)]);

/** Footing line with strokes of ground under it, pour line, ends of the concrete, stems and pilasters that stand on the face. */
const drawConcrete = (scene: Scene, view: View): Shape[] => {
  const { face, wall } = view.frame;
  const base = bandsOn(view, wall.base);
  const top = bandsOn(view, wall.top);
  const straight = face.side === 'left' || face.side === 'right';
  const about = ['face', face.id];
  const shapes: Shape[] = [];
  if (base.length > 0) shapes.push(polyline('FACE', bandLine(view, base), false, about));
  if (top.length > 0) shapes.push(polyline('POUR', bandLine(view, top), false, about));
  for (const b of base) {
    for (let s = b.fromMm + 100; s <= b.toMm; s += 300) {
      const p = view.at(s, b.levelMm);
      shapes.push(line('FACE', p, { x: p.x - 60, y: p.y - 60 }, about));
    }
  }
  const ends = [
    [face.fromMm, base[0], top[0]],
    [face.toMm, base.at(-1), top.at(-1)],
  ] as const;
  for (const [s, low, high] of ends) {
    if (low && high) shapes.push(line('FACE', view.at(s, low.levelMm), view.at(s, high.levelMm), about));
  }
  return [...shapes, ...drawStems(scene, view), ...(straight ? drawOpenings(scene.result.plan, view) : [])];
};

const drawStems = (scene: Scene, view: View): Shape[] => {
  const { face, wall } = view.frame;
  const runs = runsOfWall(scene.result.plan, wall.id);
  const stems = runs.flatMap((r) => [
    ...r.stems.map((s) => ({ ...s, name: `WALL ${s.wall}`, about: ['stem', s.wall] })),
    ...(r.pilasters ?? []).map((p) => ({ ...p, name: `PILASTER ${p.id}`, about: ['pilaster', p.id] })),
  ]);
  return stems
    .filter((stem) => stem.side === face.side)
    .flatMap((stem) => {
      const run = runAt(scene.result.plan.runs, wall.id, (stem.fromMm + stem.toMm) / 2);
      const low = view.at(stem.fromMm, run?.footingMm ?? view.footMm);
      const high = view.at(stem.toMm, view.topMm);
      const middle = { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2 };
      const { about } = stem;
      return [
        rectangle('FACE', low.x, low.y, high.x, high.y, about),
        text('FACE', stem.name, middle, TEXT_MM.dimension, {
          rotationDeg: 90,
          across: 'centre',
          upright: 'middle',
          about,
        }),
      ];
    });
};

const elevationBlock = (scene: Scene, piece: Piece, widthMm: number, heightMm: number): string => {
  const name = piece.item ?? `${piece.kind}-${plainNumber(widthMm, 1)}X${plainNumber(heightMm, 1)}`;
  const shapes = elevationShapes(piece.kind, widthMm, heightMm);
  return scene.blocks.ask(`${name}${piece.turned ? '-TURNED' : ''}-ELEV`, shapes, PIECE_TAGS);
};

/** Pieces with their marks. Marks are texts here: not every program shows attributes, and in elevations nobody moves a unit. */
const drawPieces = (scene: Scene, view: View, items: readonly OnFace[], obstacles: Obstacles): Shape[] => {
  const shapes: Shape[] = [];
  const outside: { readonly item: OnFace; readonly mark: string }[] = [];
  for (const item of items) {
    const { piece, cover } = item;
    const mark = scene.marks.ofPiece(piece);
    const a = view.at(cover.fromMm, cover.baseMm);
    const b = view.at(cover.toMm, cover.topMm);
    const low = { x: Math.min(a.x, b.x), y: a.y };
    const high = { x: Math.max(a.x, b.x), y: b.y };
    const pose = markInside(mark.mark, low, high, obstacles);
    if (!pose) outside.push({ item, mark: mark.mark });
    if (pose)
      shapes.push({ ...text(layerOf(piece), mark.mark, pose.at, pose.heightMm), ...pose, about: ['inside', piece.id] });
    if (!item.isInsert) {
      shapes.push(rectangle(layerOf(piece), low.x, low.y, high.x, high.y, ['leg', piece.id]));
      continue;
    }
    const at = { x: (low.x + high.x) / 2, y: low.y };
    shapes.push({
      type: 'insert',
      layer: layerOf(piece),
      block: elevationBlock(scene, piece, high.x - low.x, high.y - low.y),
      at,
      rotationDeg: 0,
      attributes: pieceAttributes(piece, mark, scene.facesOf(piece), 'ELEV', at, null),
      about: ['piece', piece.id],
    });
  }
  const tall = outside.filter(
    ({ item }) => item.cover.topMm - item.cover.baseMm >= item.cover.toMm - item.cover.fromMm,
  );
  const flat = outside.filter((o) => !tall.includes(o));
  return [...shapes, ...topLabels(view, tall), ...bottomLabels(view, flat)];
};

const TIE_RADIUS_MM = 32;

/** Ties as points: a crossed circle; a square where it passes beyond the concrete. */
const drawTie = (view: View, tie: CheckedTie): Shape[] => {
  const { x, y } = view.at(tie.stationMm, tie.levelMm);
  const r = TIE_RADIUS_MM;
  const about = ['tie', tie.id];
  const cross = [
    line('TIES', { x: x - r, y }, { x: x + r, y }, about),
    line('TIES', { x, y: y - r }, { x, y: y + r }, about),
  ];
  if (tie.outsideConcrete) return [rectangle('TIES', x - r, y - r, x + r, y + r, about), ...cross];
  return [{ type: 'circle', layer: 'TIES', centre: { x, y }, radiusMm: r, about }, ...cross];
};

interface SideLabel {
  readonly levelMm: number;
  readonly text: string;
}

const unique = (labels: readonly SideLabel[]): SideLabel[] => {
  const byText = new Map(labels.map((l) => [l.text, l]));
  return [...byText.values()].sort(byNumber((l) => l.levelMm));
};

const LEAD_MM = 120;

/** Levels in a column beside the elevation, spread so that none lies on another, each led to its level. */
const drawSide = (view: View, labels: readonly SideLabel[], side: 'left' | 'right'): Shape[] => {
  const edge = side === 'left' ? 0 : view.toMm - view.fromMm;
  const out = side === 'left' ? -1 : 1;
  const about = ['level', view.frame.face.id];
  const places = spread(
    labels.map((l) => l.levelMm - view.footMm),
    TEXT_MM.dimension * 1.4,
  );
  return labels.flatMap((label, i) => {
    const from = { x: edge + out * 60, y: label.levelMm - view.footMm };
    const to = { x: edge + out * (60 + LEAD_MM), y: places[i]! };
    return [
      line('DIMS', from, to, about),
      text('DIMS', label.text, { x: to.x + out * 30, y: to.y }, TEXT_MM.dimension, {
        across: side === 'left' ? 'right' : 'left',
        upright: 'middle',
        about,
      }),
    ];
  });
};

/** Rows of ties, told at the left, and levels, told at the right. */
const sideLabels = (
  scene: Scene,
  view: View,
  ties: readonly CheckedTie[],
  items: readonly OnFace[],
): { readonly rows: readonly SideLabel[]; readonly levels: readonly SideLabel[] } => {
  const unit = scene.result.catalogue.lengthUnit;
  const { wall } = view.frame;
  const footingMm = Math.min(...bandsOn(view, wall.base).map((b) => b.levelMm));
  // In the drawing's datum; in brackets above the lowest footing of the face, where that is something else.
  const named = (name: string, levelMm: number): SideLabel => {
    const above = Number.isFinite(footingMm) && footingMm !== 0 && levelMm > footingMm;
    return {
      levelMm,
      text: `${name} ${levelText(unit, levelMm)}${above ? ` (${lengthText(unit, levelMm - footingMm)})` : ''}`,
    };
  };
  const rows = unique(ties.map((t) => named(`R${t.row}`, t.levelMm)));
  const levels = unique([
    ...bandsOn(view, wall.base).map((b) => named('FOOTING', b.levelMm)),
    ...bandsOn(view, wall.top).map((b) => named('POUR LINE', b.levelMm)),
    ...siteLevels(scene, view.frame.face.id).map((l) => named(l.name, l.levelMm)),
    ...items.map((i) => named('TOP OF FORM', i.cover.topMm)).filter((l) => l.levelMm === view.topMm),
  ]);
  return { rows, levels };
};

export interface Elevation {
  readonly face: string;
  /** Without its title. */
  readonly shapes: readonly Shape[];
  readonly title: readonly Shape[];
  /** What the title says of the face after its name. */
  readonly says: readonly string[];
  /** Places (x) of the joints between its units, rising: there it may be parted. */
  readonly jointsX: readonly number[];
  /** Where its footing or its top steps: place of the higher level. */
  readonly risers: readonly Vec[];
  /** Rows of ties and levels with their heights (y). */
  readonly rows: readonly { readonly y: number; readonly text: string }[];
}

/** A node with the walls that meet the face's own there. */
const nodeName = (scene: Scene, nodeId: string, wallId: string): string => {
  const node = scene.result.plan.nodes.find((n) => n.id === nodeId);
  const others = (node?.walls ?? []).filter((w) => w !== wallId);
  return others.length === 0 ? nodeId : `${nodeId}, with ${others.join(', ')}`;
};

/** The face behind: where a crew finds what its ties go through to. */
const behind = (scene: Scene, { face, wall }: FaceFrame): string[] => {
  const side = face.side === 'left' ? 'right' : 'left';
  const other = scene.result.plan.faces.find((f) => f.wall === wall.id && f.side === side);
  return other ? [`BEHIND IT: FACE ${other.id}, which runs the other way`] : [];
};

/** What a face's end is called: the node of the wall's start or end. */
const endName = (scene: Scene, wallId: string, end: 'start' | 'end'): string => {
  const node = runsOfWall(scene.result.plan, wallId).at(end === 'start' ? 0 : -1)?.[end].node;
  return `${end === 'start' ? 'START' : 'END'} OF ${wallId}${node ? ` (${nodeName(scene, node, wallId)})` : ''}`;
};

const titleLines = (scene: Scene, view: View): string[] => {
  const { face, wall, seen } = view.frame;
  const unit = scene.result.catalogue.lengthUnit;
  const thickness = levelText(unit, wall.thicknessMm).slice(1);
  const title = `FACE ${face.id}`;
  const pour = wall.pour === undefined ? '' : `, pour ${wall.pour}`;
  const what = `wall ${wall.id}, ${face.side} face, ${thickness} thick${pour}, seen from outside`;
  if (face.side !== 'left' && face.side !== 'right') return [title, what];
  const ends = [endName(scene, wall.id, 'start'), endName(scene, wall.id, 'end')];
  const [left, right] = seen > 0 ? ends : [ends[1], ends[0]];
  return [title, what, `LEFT: ${left}`, `RIGHT: ${right}`, ...behind(scene, view.frame)];
};

const risersOf = (view: View): Vec[] =>
  [view.frame.wall.base, view.frame.wall.top].flatMap((bands) => {
    const on = bandsOn(view, bands);
    return on.slice(1).map((b, i) => view.at(b.fromMm, Math.max(b.levelMm, on[i]!.levelMm)));
  });

/** Draws the elevation of a face; null where nothing stands on it. */
export const drawElevation = (scene: Scene, frame: FaceFrame): Elevation | null => {
  const items = onThisFace(scene, frame);
  if (items.length === 0) return null;
  const view = viewOf(frame, items);
  const side = frame.face.side;
  const straight = side === 'left' || side === 'right';
  const { tiesOf, clampsOn } = layoutIndex(scene.result.layout);
  const ties = straight ? tiesOf(frame.wall.id) : [];
  const obstacles: Obstacles = {
    ties: ties.map((t) => view.at(t.stationMm, t.levelMm)),
    uprights: [frame.face.fromMm, frame.face.toMm].map((s) => view.at(s, 0).x),
    levels: siteLevels(scene, frame.face.id).map((l) => view.at(0, l.levelMm).y),
  };
  const sides = sideLabels(scene, view, ties, items);
  const standing = [...drawConcrete(scene, view), ...drawPieces(scene, view, items, obstacles)];
  const places = new Places();
  for (const s of standing) if (s.type === 'text') places.take(textBox(s));
  for (const centre of obstacles.ties) {
    places.take({ kind: 'body', centre, halfMm: [TIE_HEAD_MM, TIE_HEAD_MM], rotationDeg: 0 });
  }
  const drawn = [
    ...standing,
    ...(straight ? drawOpeningNames(scene, view, places) : []),
    ...ties.flatMap((tie) => drawTie(view, tie)),
    ...clampsOn(frame.face.id).map((c) => drawClamp(view, c)),
    ...drawSiteElevation(scene, view, places),
    ...drawGangsElevation(scene, view),
    ...drawSide(view, sides.rows, 'left'),
    ...drawSide(view, sides.levels, 'right'),
    ...drawTieSides(view, ties),
    ...drawDimensions(scene, view, items),
  ];
  const top = boundsOf(drawn).maxY + TITLE_OVER_MM;
  const lines = titleLines(scene, view);
  const title = lines.map((content, i) => {
    const heightMm = i === 0 ? TEXT_MM.title : TEXT_MM.table;
    const y = top + (lines.length - 1 - i) * TEXT_MM.table * 1.6;
    return text('FACE', content, { x: 0, y }, heightMm, { about: ['title', frame.face.id] });
  });
  return {
    face: frame.face.id,
    shapes: drawn,
    title,
    says: lines.slice(1),
    jointsX: jointsOf(items)
      .map((s) => view.at(s, 0).x)
      .sort((a, b) => a - b),
    risers: straight ? risersOf(view) : [],
    rows: [...sides.rows, ...sides.levels].map(({ text, levelMm }) => ({ text, y: levelMm - view.footMm })),
  };
};

/** From the highest mark to the title. */
const TITLE_OVER_MM = 150;

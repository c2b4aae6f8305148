/**
 * The developed elevation of one face, drawn as a person sees it who stands before it: x = 0 at its left end, y = 0 at the lowest footing. Stations of a left
 * face therefore run from right to left; the ends are named and an arrow shows the way of the stations.
 */

import { layoutIndex } from '../../ground/layoutIndex.js';
import { stemTopMm } from '../../ground/overLower.js';
import type { FaceFrame } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import { holesLeftOut } from '../../ground/rowsLeftOut.js';
import { runAt, runsOfWall } from '../../ground/runs.js';
import type { CheckedTie } from '../../ground/vocabulary.js';
import { boundsOf } from './bounds.js';
import { drawClamp } from './clamps.js';
import { drawDimensions, jointsOf } from './dimensions.js';
import { drawSide, sideLabels } from './elevationLevels.js';
import type { Obstacles } from './elevationMarks.js';
import { drawOpeningNames, drawOpenings } from './elevationOpenings.js';
import { drawPieces } from './elevationPieces.js';
import { titleLines } from './elevationTitle.js';
import { bandLine, bandsOn, onThisFace, type View, viewOf } from './elevationView.js';
import { drawGangsElevation } from './gangs.js';
import { Places } from './labels.js';
import type { Scene } from './scene.js';
import { line, polyline, rectangle, type Shape, text } from './sheet.js';
import { drawSiteElevation, siteLevels, textBox } from './siteElevation.js';
import { TIE_HEAD_MM } from './symbols.js';
import { drawTieSides } from './tieSides.js';

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
      const high = view.at(stem.toMm, Math.min(view.topMm, stemTopMm(scene.result.plan, wall.id, stem)));
      const middle = { x: (low.x + high.x) / 2, y: (low.y + high.y) / 2 };
      const { about } = stem;
      return [
        rectangle('FACE', low.x, low.y, high.x, high.y, about),
        text('FACE', stem.name, middle, scene.sizes.dimension, {
          rotationDeg: 90,
          across: 'centre',
          upright: 'middle',
          about,
        }),
      ];
    });
};

const TIE_RADIUS_MM = 32;
/** Half of the cross over a hole that stays closed. */
const CROSS_HALF_MM = 30;

/** A hole without a tie, in a row that has none: crossed out. */
export const leftOutShapes = ({ x, y }: Vec, about: readonly string[] = []): Shape[] => {
  const r = CROSS_HALF_MM;
  return [
    line('TIES', { x: x - r, y: y - r }, { x: x + r, y: y + r }, about),
    line('TIES', { x: x - r, y: y + r }, { x: x + r, y: y - r }, about),
  ];
};

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

const risersOf = (view: View): Vec[] =>
  [view.frame.wall.base, view.frame.wall.top].flatMap((bands) => {
    const on = bandsOn(view, bands);
    return on.slice(1).map((b, i) => view.at(b.fromMm, Math.max(b.levelMm, on[i]!.levelMm)));
  });

/** Draws the elevation of a face; null where nothing stands on it. */
export const drawElevation = (scene: Scene, frame: FaceFrame): Elevation | null => {
  const items = onThisFace(scene, frame);
  if (items.length === 0) return null;
  const view = viewOf(scene, frame, items);
  const side = frame.face.side;
  const straight = side === 'left' || side === 'right';
  const { tiesOf, clampsOn } = layoutIndex(scene.result.layout);
  const ties = straight ? tiesOf(frame.wall.id) : [];
  const closed = holesLeftOut(scene.result, frame);
  const obstacles: Obstacles = {
    ties: [...ties, ...closed].map((t) => view.at(t.stationMm, t.levelMm)),
    uprights: [frame.face.fromMm, frame.face.toMm].map((s) => view.at(s, 0).x),
    levels: [...siteLevels(scene, frame.face.id), ...bandsOn(view, frame.wall.top)].map((l) => view.at(0, l.levelMm).y),
  };
  const sides = sideLabels(scene, view, ties, closed, items);
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
    ...closed.flatMap((h) => leftOutShapes(view.at(h.stationMm, h.levelMm), ['left-out', frame.face.id])),
    ...clampsOn(frame.face.id).map((c) => drawClamp(view, c)),
    ...drawSiteElevation(scene, view, places),
    ...drawGangsElevation(scene, view),
    ...drawSide(view, sides.rows, 'left'),
    ...drawSide(view, sides.levels, 'right'),
    ...drawTieSides(view, ties),
  ];
  drawn.push(
    ...drawDimensions(scene, view, items, DIMENSIONS_UNDER_MM * scene.sizes.factor - Math.min(0, boundsOf(drawn).minY)),
  );
  const top = boundsOf(drawn).maxY + TITLE_OVER_MM * scene.sizes.factor;
  const lines = titleLines(scene, view);
  const title = lines.map((content, i) => {
    const heightMm = i === 0 ? scene.sizes.title : scene.sizes.table;
    const y = top + (lines.length - 1 - i) * scene.sizes.table * 1.6;
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

/** From what stands lowest to the first dimension string, at the usual height of texts. */
const DIMENSIONS_UNDER_MM = 60;
/** From the highest mark to the title, likewise. */
const TITLE_OVER_MM = 150;

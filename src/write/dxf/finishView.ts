/**
 * What the concrete of a face will show when the forms are gone: the lines of the joints and the marks of the ties, seen from before the face as in the elevation.
 * For whoever cares how the wall looks, and for the list of holes that are to be filled.
 */

import { sideShare } from '../../ground/arcs.js';
import { layoutIndex } from '../../ground/layoutIndex.js';
import type { FaceFrame } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import type { LevelBand } from '../../ground/vocabulary.js';
import { bandLine, bandsOn, onThisFace, viewOf } from './elevationView.js';
import { lengthText } from './lengths.js';
import type { Scene } from './scene.js';
import { line, polyline, rectangle, type Shape, text } from './sheet.js';

/** Sized for 1:50, at which finish views stand on their sheets. */
export const FINISH_SCALE = { mm: 50, in: 48 } as const;
const TEXT_MM = 180;
/** Radius of a tie's mark. */
const HOLE_MM = 25;
const NEAR_MM = 1;

export interface FinishView {
  readonly shapes: readonly Shape[];
  readonly title: readonly Shape[];
  readonly says: readonly string[];
}

/** Level of a list of bands at a station; on a riser the band that reaches further in. */
const levelAt = (bands: readonly LevelBand[], stationMm: number): number | null =>
  bands.find((b) => stationMm >= b.fromMm - NEAR_MM && stationMm <= b.toMm + NEAR_MM)?.levelMm ?? null;

/** The finish view of a left or right face; null where nothing is formed. */
export const drawFinishView = (scene: Scene, frame: FaceFrame): FinishView | null => {
  const items = onThisFace(scene, frame);
  const { face, wall } = frame;
  if (items.length === 0 || (face.side !== 'left' && face.side !== 'right')) return null;
  const view = viewOf(scene, frame, items);
  const [base, top] = [bandsOn(view, wall.base), bandsOn(view, wall.top)];
  const about = ['finish', face.id];
  const shapes: Shape[] = [];
  const at = (s: number, l: number): Vec => view.at(s, l);
  const outline = [...bandLine(view, base), ...[...bandLine(view, top)].reverse()];
  if (outline.length > 2) shapes.push(polyline('CONC', outline, true, about));
  const drawn = new Set<string>();
  const put = (a: Vec, b: Vec): void => {
    const key = [a.x, a.y, b.x, b.y].map(Math.round).join(' ');
    if (drawn.has(key) || Math.hypot(a.x - b.x, a.y - b.y) < NEAR_MM) return;
    drawn.add(key);
    shapes.push(line('FACE', a, b, about));
  };
  for (const { cover } of items) {
    const from = Math.max(cover.fromMm, face.fromMm);
    const to = Math.min(cover.toMm, face.toMm);
    if (to - from < NEAR_MM) continue;
    const middle = (from + to) / 2;
    const low = levelAt(base, middle);
    const high = levelAt(top, middle);
    if (low === null || high === null) continue;
    const [foot, head] = [Math.max(cover.baseMm, low), Math.min(cover.topMm, high)];
    if (head - foot < NEAR_MM) continue;
    for (const s of [from, to]) {
      const isEdge = Math.abs(s - face.fromMm) < NEAR_MM || Math.abs(s - face.toMm) < NEAR_MM;
      if (!isEdge) put(at(s, foot), at(s, head));
    }
    if (cover.baseMm > low + NEAR_MM) put(at(from, foot), at(to, foot));
    if (cover.topMm < high - NEAR_MM) put(at(from, head), at(to, head));
  }
  const ties = layoutIndex(scene.result.layout)
    .tiesOf(wall.id)
    .filter((t) => !t.outsideConcrete);
  for (const t of ties) {
    shapes.push({ type: 'circle', layer: 'TIES', centre: at(t.stationMm, t.levelMm), radiusMm: HOLE_MM, about });
  }
  for (const o of scene.result.plan.openings.filter((x) => x.wall === wall.id)) {
    const [a, b] = [at(o.fromMm, o.sillMm), at(o.toMm, o.headMm)];
    shapes.push(rectangle('BKHD', Math.min(a.x, b.x), a.y, Math.max(a.x, b.x), b.y, about));
  }
  const unit = scene.result.catalogue.lengthUnit;
  // Of a curve the view shows the outer face, as the elevation does: what its own face measures is written out.
  const share = sideShare(wall, face.side);
  const ofCurve = share === 1 ? '' : ' on this face, drawn along the outer one';
  const says = [
    `${lengthText(unit, (face.toMm - face.fromMm) * share)} long${ofCurve}, ${ties.length} tie marks`,
    'joint lines and tie marks as the concrete will show them, as seen standing before it',
  ];
  const titled = [`FINISH OF FACE ${face.id}`, ...says];
  const over = view.topMm - view.footMm + TEXT_MM;
  const title = titled.map((content, i) =>
    text('FACE', content, { x: 0, y: over + (titled.length - 1 - i) * TEXT_MM * 1.6 }, TEXT_MM, { about }),
  );
  return { shapes, title, says };
};

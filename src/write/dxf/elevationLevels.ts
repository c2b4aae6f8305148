/** Rows of ties and levels, told in columns beside an elevation. */

import { byNumber } from '../../ground/order.js';
import type { HoleLeftOut } from '../../ground/rowsLeftOut.js';
import type { CheckedTie } from '../../ground/vocabulary.js';
import { bandsOn, type OnFace, type View } from './elevationView.js';
import { spread } from './labels.js';
import { lengthText, levelText } from './lengths.js';
import type { Scene } from './scene.js';
import { line, type Shape, text } from './sheet.js';
import { siteLevels } from './siteElevation.js';

export interface SideLabel {
  readonly levelMm: number;
  readonly text: string;
}

const unique = (labels: readonly SideLabel[]): SideLabel[] => {
  const byText = new Map(labels.map((l) => [l.text, l]));
  return [...byText.values()].sort(byNumber((l) => l.levelMm));
};

const LEAD_MM = 120;

/** Levels in a column beside the elevation, spread so that none lies on another, each led to its level. */
export const drawSide = (view: View, labels: readonly SideLabel[], side: 'left' | 'right'): Shape[] => {
  const edge = side === 'left' ? 0 : view.toMm - view.fromMm;
  const out = side === 'left' ? -1 : 1;
  const about = ['level', view.frame.face.id];
  const { sizes } = view;
  const places = spread(
    labels.map((l) => l.levelMm - view.footMm),
    sizes.dimension * 1.4,
  );
  return labels.flatMap((label, i) => {
    const from = { x: edge + out * 60, y: label.levelMm - view.footMm };
    const to = { x: edge + out * (60 + LEAD_MM * sizes.factor), y: places[i]! };
    return [
      line('DIMS', from, to, about),
      text('DIMS', label.text, { x: to.x + out * 30, y: to.y }, sizes.dimension, {
        across: side === 'left' ? 'right' : 'left',
        upright: 'middle',
        about,
      }),
    ];
  });
};

/** Rows of ties and rows of holes that have none, told at the left, and levels, told at the right. */
export const sideLabels = (
  scene: Scene,
  view: View,
  ties: readonly CheckedTie[],
  closed: readonly HoleLeftOut[],
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
  const rows = unique([
    ...ties.map((t) => named(`R${t.row}`, t.levelMm)),
    ...closed.map((h) => named('LEFT OUT', h.levelMm)),
  ]);
  const levels = unique([
    ...bandsOn(view, wall.base).map((b) => named('FOOTING', b.levelMm)),
    ...bandsOn(view, wall.top).map((b) => named('POUR LINE', b.levelMm)),
    ...siteLevels(scene, view.frame.face.id).map((l) => named(l.name, l.levelMm)),
    ...items.map((i) => named('TOP OF FORM', i.cover.topMm)).filter((l) => l.levelMm === view.topMm),
  ]);
  return { rows, levels };
};

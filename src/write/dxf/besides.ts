/** What stands in the model space besides plan, elevations and lists: finish views, sections, details; each in its row, under the elevations. */

import type { Vec } from '../../ground/plane.js';
import { type Bounds, boundsOf } from './bounds.js';
import { DETAIL_SCALE, drawCornerDetails } from './corners.js';
import { drawFinishView, FINISH_SCALE } from './finishView.js';
import type { Scene, TextSizes } from './scene.js';
import type { Section } from './sections.js';
import { moved, type Shape, text } from './sheet.js';
import type { Placed } from './sheets/index.js';

const BETWEEN_MM = 800;
/** A row goes on below where it is wider than this. */
const ROW_MM = 40_000;
/** Of titles, mm of the model at the scale of the drawing over them: 7 on paper. */
const TITLE_MM = 7;

interface Item {
  readonly name: string;
  readonly says: readonly string[];
  readonly faces: readonly string[];
  readonly shapes: readonly Shape[];
  readonly title: readonly Shape[];
}

export interface Group {
  readonly title: string;
  readonly drawings: readonly Placed[];
}

export interface Besides {
  readonly shapes: readonly Shape[];
  readonly groups: readonly Group[];
}

/** Around a drawing, so that its outermost lines are not those of the window, mm of paper. */
const EDGE_MM = 2;

const grown = (b: Bounds, mm: number): Bounds => ({
  minX: b.minX - mm,
  maxX: b.maxX + mm,
  minY: b.minY - mm,
  maxY: b.maxY + mm,
});

export const shifted = (b: Bounds, by: Vec): Bounds => ({
  minX: b.minX + by.x,
  maxX: b.maxX + by.x,
  minY: b.minY + by.y,
  maxY: b.maxY + by.y,
});

/** A title over what is drawn. */
const titled = (
  sizes: TextSizes,
  name: string,
  says: readonly string[],
  shapes: readonly Shape[],
  scale: number,
): Shape[] => {
  const { minX, maxY } = boundsOf(shapes);
  const heightMm = Math.min(TITLE_MM * scale, sizes.title);
  const lines = [name, ...says];
  return lines.map((content, i) => {
    const at = { x: minX, y: maxY + heightMm * (1 + (lines.length - 1 - i) * 1.4) };
    return text('FACE', content, at, i === 0 ? heightMm : heightMm * 0.6, { about: ['title', name] });
  });
};

const item = (
  sizes: TextSizes,
  name: string,
  says: readonly string[],
  shapes: readonly Shape[],
  scale: number,
  faces: readonly string[],
): Item => ({
  name,
  says,
  faces,
  shapes,
  title: titled(sizes, name, says, shapes, scale),
});

/** The group that step details join. */
export const DETAILS = 'SECTIONS AND DETAILS';

/** Finish views, sections and details, top left at (x, y). */
export const drawBesides = (scene: Scene, sections: readonly Section[], x: number, y: number): Besides => {
  const { plan, catalogue } = scene.result;
  const { sizes, paperScale } = scene;
  const gear = catalogue.lengthUnit;
  const finish = plan.faces.flatMap((face): Item[] => {
    const view = drawFinishView(scene, scene.frameOf(face.id));
    return view ? [{ name: `FINISH OF FACE ${face.id}`, faces: [face.id], ...view }] : [];
  });
  const cuts = sections.map((s) => item(sizes, `SECTION ${s.letter}-${s.letter}`, s.says, s.shapes, paperScale, []));
  const details = drawCornerDetails(scene).map((d) => item(sizes, d.name, d.says, d.shapes, DETAIL_SCALE[gear], []));
  const shapes: Shape[] = [];
  let [left, top, low] = [x, y, y];
  const turn = (): void => {
    [left, top] = [x, low - BETWEEN_MM];
    low = top;
  };
  const placed = (items: readonly Item[], least: number): Placed[] => {
    const drawings = items.map((i): Placed => {
      const all = boundsOf([...i.shapes, ...i.title]);
      if (left > x && left + all.maxX - all.minX > x + ROW_MM) turn();
      const by = { x: left - all.minX, y: top - all.maxY };
      shapes.push(...[...i.shapes, ...i.title].map((s) => moved(s, by)));
      left += all.maxX - all.minX + BETWEEN_MM;
      low = Math.min(low, top - (all.maxY - all.minY));
      const bounds = shifted(grown(boundsOf(i.shapes), EDGE_MM * least), by);
      return { name: i.name, says: i.says, faces: i.faces, bounds, cutsX: [], rows: [], least };
    });
    if (drawings.length > 0) turn();
    return drawings;
  };
  const groups = [
    { title: DETAILS, drawings: [...placed(cuts, paperScale), ...placed(details, DETAIL_SCALE[gear])] },
    { title: 'FINISH VIEWS', drawings: placed(finish, FINISH_SCALE[gear]) },
  ];
  return { shapes, groups };
};

/** Half of what a detail of a step shows, mm, at the usual height of texts. */
const STEP_HALF_MM = [1300, 1100] as const;
const STEP_SCALE = { mm: 20, in: 24 } as const;

/** Steps seen large: windows onto the elevations. */
export const stepDetails = (scene: Scene, face: string, risers: readonly Vec[], by: Vec, body: Bounds): Placed[] =>
  risers.map((r, i) => {
    const [halfX, halfY] = STEP_HALF_MM.map((mm) => mm * Math.max(1, scene.sizes.factor)) as [number, number];
    const at = { x: r.x + by.x, y: r.y + by.y };
    return {
      name: `STEP ${i + 1} OF FACE ${face}`,
      says: [],
      faces: [face],
      bounds: {
        minX: Math.max(body.minX, at.x - halfX),
        maxX: Math.min(body.maxX, at.x + halfX),
        minY: Math.max(body.minY, at.y - halfY),
        maxY: Math.min(body.maxY, at.y + halfY),
      },
      cutsX: [],
      rows: [],
      least: STEP_SCALE[scene.result.catalogue.lengthUnit],
    };
  });

/** Puts the whole sheet together: plan at true place; beside the drawing, never over it, notes, schedule and the developed elevations. */

import type { Finding } from '../../ground/findings.js';
import { byNumber, byText, inOrder } from '../../ground/order.js';
import type { Face } from '../../ground/vocabulary.js';
import { DETAILS, drawBesides, shifted, stepDetails } from './besides.js';
import { type Bounds, boundsOf, EMPTY, include, isEmpty, textCorners, union } from './bounds.js';
import { withBlocks } from './dimension.js';
import { drawElevation } from './elevation.js';
import { drawFlags, flagNumber } from './flags.js';
import { forVersion } from './hatch.js';
import { drawPlan } from './plan.js';
import type { Scene } from './scene.js';
import { drawSections } from './sections.js';
import { moved, type Shape, type Sheet } from './sheet.js';
import { makeSheets, type Placed } from './sheets/index.js';
import { drawNotes, drawSchedule } from './tables.js';

/** Free space between the drawing and what stands beside it, and between elevations. */
const BESIDE_MM = 3000;
const BETWEEN_MM = 1200;

const SIDE_ORDER: readonly Face['side'][] = ['left', 'right', 'start', 'end', 'pilaster'];

/** Elevations in rows, one wall a row: left face, right face, ends; top left of the first at (x, y). */
const drawElevations = (
  scene: Scene,
  x: number,
  y: number,
): { readonly shapes: Shape[]; readonly placed: Placed[]; readonly steps: Placed[] } => {
  const { plan } = scene.result;
  const shapes: Shape[] = [];
  const placed: Placed[] = [];
  const steps: Placed[] = [];
  let top = y;
  for (const wall of plan.walls) {
    const faces = plan.faces
      .filter((f) => f.wall === wall.id)
      .sort(
        inOrder(
          byNumber((f: Face) => SIDE_ORDER.indexOf(f.side)),
          byText((f) => f.id),
        ),
      );
    let left = x;
    let low = top;
    for (const face of faces) {
      const elevation = drawElevation(scene, scene.frameOf(face.id));
      if (!elevation) continue;
      const b = boundsOf([...elevation.shapes, ...elevation.title]);
      const body = boundsOf(elevation.shapes);
      const by = { x: left - b.minX, y: top - b.maxY };
      shapes.push(...[...elevation.shapes, ...elevation.title].map((shape) => moved(shape, by)));
      placed.push({
        name: `FACE ${face.id}`,
        faces: [face.id],
        says: elevation.says,
        bounds: shifted(body, by),
        cutsX: elevation.jointsX.map((joint) => joint + by.x),
        rows: elevation.rows.map((row) => ({ ...row, y: row.y + by.y })),
        least: scene.paperScale,
      });
      // One face of a wall is enough to show its steps.
      if (face.side === 'left' || !faces.some((f) => f.side === 'left')) {
        steps.push(...stepDetails(scene, face.id, elevation.risers, by, shifted(body, by)));
      }
      left += b.maxX - b.minX + BETWEEN_MM;
      low = Math.min(low, top - (b.maxY - b.minY));
    }
    top = low - BETWEEN_MM;
  }
  return { shapes, placed, steps };
};

export interface Composed {
  readonly sheet: Sheet;
  /** Bounds of all that is ours, mm. */
  readonly bounds: Bounds;
  readonly findings: readonly Finding[];
}

/** The architect's drawing as far as room is to be left for it, mm. */
export interface Surroundings {
  /** Empty where there is no drawing. */
  readonly bounds: Bounds;
  readonly texts: readonly Bounds[];
}

export const NOTHING: Surroundings = { bounds: EMPTY, texts: [] };

/** Baselines of texts under which a list may be parted. */
const cutsOf = (shapes: readonly Shape[], belowMm: number): number[] => [
  ...new Set(shapes.flatMap((s) => (s.type === 'text' ? [s.at.y - belowMm] : []))),
];

/** What must not be read in halves: texts, marks of units, dimensions' texts, signs of findings. */
const markBounds = (shapes: readonly Shape[]): Bounds[] =>
  shapes.flatMap((s): Bounds[] => {
    if (s.type === 'text' || s.type === 'circle') return [boundsOf([s])];
    if (s.type === 'insert') {
      return s.attributes.filter((a) => a.visible).map((a) => textCorners(a.text, a).reduce(include, EMPTY));
    }
    if (s.type === 'dimension') return markBounds(s.picture);
    return s.type === 'polyline' && s.about[0] === 'finding' ? [boundsOf([s])] : [];
  });

/** Composes the sheet; with `hasSheets` also the sheets of paper that show it. */
export const compose = (scene: Scene, drawing: Surroundings, hasSheets = false): Composed => {
  const sections = drawSections(scene);
  const plan = drawPlan(scene, drawing.texts, sections);
  const flags = drawFlags(scene.result.findings, plan.places, {
    textMm: scene.sizes.dimension,
    numberOf: flagNumber,
    showsSubject: true,
  });
  const inPlan = [...plan.shapes, ...flags];
  const reach = scene.result.catalogue.frameDepthMm + 100;
  const used = union(drawing.bounds, boundsOf(inPlan, reach));
  const [x, y] = isEmpty(used) ? [0, 0] : [used.maxX + BESIDE_MM, used.maxY];
  const notes = drawNotes(scene, { x, y });
  const schedule = drawSchedule(scene, { x, y: boundsOf(notes).minY - BETWEEN_MM });
  const column = boundsOf([...notes, ...schedule]);
  const elevations = drawElevations(scene, column.maxX + BETWEEN_MM, y);
  const low = boundsOf(elevations.shapes);
  const besides = drawBesides(scene, sections, column.maxX + BETWEEN_MM, isEmpty(low) ? y : low.minY - BESIDE_MM);
  const shapes = [...inPlan, ...notes, ...schedule, ...elevations.shapes, ...besides.shapes];
  const papers = hasSheets
    ? makeSheets(scene, {
        plan: boundsOf(inPlan, reach),
        inPlan: inPlan.filter((s) => s.type === 'insert').map((s) => boundsOf([s], reach)),
        marks: markBounds(inPlan),
        elevations: elevations.placed,
        others: besides.groups.map((g) =>
          g.title === DETAILS ? { ...g, drawings: [...g.drawings, ...elevations.steps] } : g,
        ),
        lists: [
          { bounds: boundsOf(notes), cutsY: cutsOf(notes, scene.sizes.table * 0.35) },
          { bounds: boundsOf(schedule), cutsY: cutsOf(schedule, scene.sizes.table * 0.9) },
        ],
      })
    : [];
  const drawn = withBlocks(forVersion(scene.version, shapes), scene.blocks);
  return {
    sheet: { shapes: drawn, blocks: scene.blocks.all, ...(hasSheets ? { papers } : {}) },
    bounds: boundsOf(shapes, reach),
    findings: plan.findings,
  };
};

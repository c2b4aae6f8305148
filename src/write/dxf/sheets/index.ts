/**
 * The sheets in paper space: plan, elevations, lists, each with a title block, drawn for A1 (inch gear: ARCH D) and to be read at half size too. They show
 * the model space through windows at fixed scales, so that what a detailer moves there moves here.
 */

import type { Bounds } from '../bounds.js';
import { forVersion } from '../hatch.js';
import type { Scene } from '../scene.js';
import type { PaperSheet, Shape, Viewport } from '../sheet.js';
import { columnParts } from './columns.js';
import { PAPER_TEXT_MM, type Paper, paperOf, roomOf } from './paper.js';
import { drawEdges, drawPart } from './partInk.js';
import { laid, type Part, type Placed, type Placing, partsOf } from './parts.js';
import { type PlanPart, planParts } from './planParts.js';
import { drawStrip, type Titled } from './strip.js';

export type { Placed } from './parts.js';

/** What the model space holds, and where, mm. */
export interface ForSheets {
  /** Of our plan, and of each piece and tie in it. */
  readonly plan: Bounds;
  readonly inPlan: readonly Bounds[];
  /** Of each text and each sign round one. */
  readonly marks: readonly Bounds[];
  readonly elevations: readonly Placed[];
  /** Drawings besides them: finish views, sections, details; a sheet is not shared between kinds. */
  readonly others: readonly { readonly title: string; readonly drawings: readonly Placed[] }[];
  /** Notes and schedule, and the heights (y) at which each may be parted. */
  readonly lists: readonly { readonly bounds: Bounds; readonly cutsY: readonly number[] }[];
}

interface Draft {
  readonly kind: string;
  readonly title: string;
  readonly placings: readonly Placing[];
  readonly hasLegend: boolean;
  /** Of a part of the plan. */
  readonly plan?: PlanPart;
}

const unique = <T>(items: readonly T[]): T[] => [...new Set(items)];

const facesOf = (draft: Draft): string[] => unique(draft.placings.flatMap((p) => p.part.drawing.faces));

/** 'W1, W2 AND W3' of the walls whose faces a sheet shows. */
const wallsText = (scene: Scene, faces: readonly string[]): string => {
  const walls = unique(faces.map((f) => scene.frameOf(f).wall.id));
  if (walls.length <= 1) return walls.join('');
  return `${walls.slice(0, -1).join(', ')} AND ${walls.at(-1)}`;
};

const drafts = (scene: Scene, paper: Paper, from: ForSheets): Draft[] => {
  const gear = scene.result.catalogue.lengthUnit;
  const room = roomOf(paper);
  const inRows = (kind: string, title: (faces: readonly string[]) => string, drawings: readonly Placed[]): Draft[] =>
    laid(
      drawings.flatMap((d) => partsOf(d, gear, room)),
      room,
    ).map((placings) => {
      const faces = unique(placings.flatMap((p) => p.part.drawing.faces));
      return { kind, title: title(faces), placings, hasLegend: true };
    });
  return [
    ...planParts(from.plan, from, gear, scene.paperScale, room).map(
      (plan): Draft => ({ kind: 'PLAN', title: plan.title, placings: [plan.placing], hasLegend: true, plan }),
    ),
    ...inRows('ELEVATIONS', (faces) => `ELEVATIONS OF ${wallsText(scene, faces)}`, from.elevations),
    ...from.others.flatMap(({ title, drawings }) => inRows(title, () => title, drawings)),
    ...columnParts(from.lists, Math.floor(scene.sizes.table / PAPER_TEXT_MM.plain), room).map(
      (placings): Draft => ({ kind: 'LISTS', title: 'NOTES AND SCHEDULE', placings, hasLegend: false }),
    ),
  ];
};

/** Makes the sheets. */
export const makeSheets = (scene: Scene, from: ForSheets): PaperSheet[] => {
  const gear = scene.result.catalogue.lengthUnit;
  const paper = paperOf(gear);
  const all = drafts(scene, paper, from);
  const numbers = new Map<string, number>();
  const key = ({ drawing, index }: Pick<Part, 'drawing' | 'index'>): string => `${drawing.name} ${index}`;
  all.forEach((draft, i) => {
    for (const { part } of draft.placings) numbers.set(`${draft.kind} ${key(part)}`, i + 1);
  });
  return all.map((draft, i): PaperSheet => {
    const faces = facesOf(draft);
    const shapes: Shape[] = [];
    const viewports: Viewport[] = [];
    for (const placing of draft.placings) {
      const inked = drawPart(gear, placing, (part) => numbers.get(`${draft.kind} ${key(part)}`) ?? 0);
      shapes.push(...inked.shapes);
      viewports.push(inked.viewport);
    }
    if (draft.plan) shapes.push(...drawEdges(draft.plan, (tile) => numbers.get(`PLAN ${tile} 0`) ?? 0));
    const isList = draft.kind === 'LISTS';
    const titled: Titled = {
      title: draft.title,
      scales: isList ? [] : unique(draft.placings.map((p) => p.part.scale)),
      number: i + 1,
      count: all.length,
      faces: isList ? [] : faces,
      pours: unique(faces.flatMap((f) => scene.frameOf(f).wall.pour ?? [])),
      hasLegend: draft.hasLegend,
    };
    return {
      name: `FORMS ${String(i + 1).padStart(2, '0')} ${draft.kind}`,
      paper: paper.media,
      widthMm: paper.widthMm,
      heightMm: paper.heightMm,
      shapes: forVersion(scene.version, [...drawStrip(scene, paper, titled), ...shapes]),
      viewports,
    };
  });
};

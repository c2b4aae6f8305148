/** Plan and elevations as pictures of their own: SVG that needs nothing else, to be put into other papers. */

import type { Face, Result } from '../../ground/vocabulary.js';
import type { Markup } from './markup.js';
import { elevationDrawing, elevationParts } from './svg/elevation.js';
import { planDrawing } from './svg/plan.js';

export interface Picture {
  /** 'plan', 'elevation-W1-L', 'elevation-W2-R-2': what the file's name says after the drawing's. */
  readonly name: string;
  readonly svg: string;
}

/** Of a face's id what is safe in the name of a file anywhere. */
const safe = (id: string): string => id.replace(/[^A-Za-z0-9-]/g, '_');

const HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n';

/** White paper behind the drawing: a program that shows it on dark ground would hide its lines. */
const onPaper = (markup: Markup): string =>
  `${HEAD}${markup.text.replace(/<\/desc>\n/, '</desc>\n<rect width="100%" height="100%" fill="#ffffff"/>\n')}\n`;

/** Faces that have an elevation: both sides of the walls, and fronts of pilasters. */
export const elevatedFaces = ({ plan }: Result): readonly Face[] => {
  const fronts = new Set(plan.runs.flatMap((r) => (r.pilasters ?? []).map((p) => p.front)));
  return plan.faces.filter((f) => f.side === 'left' || f.side === 'right' || fronts.has(f.id));
};

/** The plan first, then the elevations in the order of the report. */
export const pictures = (result: Result): readonly Picture[] => {
  const plan = planDrawing(result);
  const elevations = elevatedFaces(result).flatMap((face) => {
    const parts = elevationParts(result, face);
    return parts.flatMap((part, i) => {
      const drawn = elevationDrawing(result, face, part);
      const name = `elevation-${safe(face.id)}${parts.length === 1 ? '' : `-${String(i + 1)}`}`;
      return drawn === null ? [] : [{ name, svg: onPaper(drawn.markup) }];
    });
  });
  return [...(plan === null ? [] : [{ name: 'plan', svg: onPaper(plan.markup) }]), ...elevations];
};

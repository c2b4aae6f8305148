/** Findings as numbered triangles. A finding's number is its place in the result's list; plan, elevations and table use the same one. */

import type { Finding, Severity } from '../../../ground/findings.js';
import type { Vec } from '../../../ground/plane.js';
import { plainNumber } from '../../../ground/units.js';
import { html, type Markup } from '../markup.js';
import { FAIL_INK, INK, LINE, NOTE_INK, pathData, textMarkup, type View } from './canvas.js';

const SIDE_MM: Readonly<Record<Severity, number>> = { failure: 330, attention: 330, note: 230 };

export interface Mark {
  /** From 1. */
  readonly number: number;
  readonly finding: Finding;
  readonly at: Vec;
}

/** Id of a finding's row in the table, and of its mark in the plan. */
export const findingId = (number: number): string => `finding-${number}`;
export const markId = (number: number): string => `mark-${number}`;

/** Failure: filled, white figure. Attention: white, thick edge. Note: white, thin broken edge. Told by shape, not by colour alone. */
const LOOK: Readonly<Record<Severity, { fill: string; ink: string; edge: string; widthMm: number; dash: string }>> = {
  failure: { fill: FAIL_INK, ink: '#ffffff', edge: FAIL_INK, widthMm: LINE.form, dash: 'none' },
  attention: { fill: '#fff3d6', ink: INK, edge: INK, widthMm: LINE.form, dash: 'none' },
  note: { fill: '#ffffff', ink: NOTE_INK, edge: NOTE_INK, widthMm: LINE.thin, dash: '40 24' },
};

/** Marks at one place stand side by side: each later one goes a step to the right until it is clear of the earlier. */
const apart = (marks: readonly Mark[]): readonly Mark[] => {
  const stepMm = SIDE_MM.failure * 0.8;
  // Placed marks by cell of a grid, so that a thousand findings at one place do not take a million comparisons each.
  const cells = new Map<string, Vec[]>();
  const cellOf = (p: Vec): readonly [number, number] => [Math.floor(p.x / stepMm), Math.floor(p.y / stepMm)];
  const near = (p: Vec): readonly Vec[] => {
    const [i, j] = cellOf(p);
    const around = [-1, 0, 1];
    return around.flatMap((di) => around.flatMap((dj) => cells.get(`${i + di} ${j + dj}`) ?? []));
  };
  return marks.map((mark) => {
    let at = mark.at;
    const touches = (q: Vec) => Math.abs(q.x - at.x) < stepMm - 1 && Math.abs(q.y - at.y) < stepMm - 1;
    while (near(at).some(touches)) at = { x: at.x + stepMm, y: at.y };
    const key = cellOf(at).join(' ');
    cells.set(key, [...(cells.get(key) ?? []), at]);
    return { ...mark, at };
  });
};

const markMarkup = (mark: Mark, view: View, withId: boolean): Markup => {
  const { fill, ink, edge, widthMm, dash } = LOOK[mark.finding.severity];
  const side = SIDE_MM[mark.finding.severity];
  const h = side * 0.866;
  const corners = [
    { x: mark.at.x, y: mark.at.y + h * 0.62 },
    { x: mark.at.x + side / 2, y: mark.at.y - h * 0.38 },
    { x: mark.at.x - side / 2, y: mark.at.y - h * 0.38 },
  ];
  const figure = plainNumber(mark.number, 0);
  const sizeMm = side * (figure.length > 2 ? 0.27 : 0.38);
  const id = withId ? html` id="${markId(mark.number)}"` : null;
  const title = `Finding ${figure}, ${mark.finding.severity}: ${mark.finding.message}`;
  return html`<a href="#${findingId(mark.number)}"${id}><title>${title}</title><path d="${pathData(corners, view, true)}" fill="${fill}" stroke="${edge}" stroke-width="${plainNumber(widthMm)}" stroke-dasharray="${dash}" stroke-linejoin="round"/>${textMarkup(figure, { x: mark.at.x, y: mark.at.y - h * 0.1 }, view, { sizeMm, fill: ink, bold: true, rim: false })}</a>`;
};

/** All marks of a drawing. `withIds` for the one drawing to which the table links back. */
export const marksMarkup = (marks: readonly Mark[], view: View, withIds: boolean): Markup =>
  html`<g>${apart(marks).map((mark) => markMarkup(mark, view, withIds))}</g>`;

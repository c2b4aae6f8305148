/** A small plan of the walls as they were understood, with the questions by their numbers. */

import { el, svg } from './dom.js';

/** What this page uses of trace.json. */
export interface TraceFacts {
  readonly source: { readonly kind: 'dxf' | 'ifc' };
  readonly walls: readonly {
    readonly id: string;
    readonly start: readonly [number, number];
    readonly end: readonly [number, number];
    readonly thicknessMm: number;
  }[];
  readonly questions: readonly { readonly number: number; readonly at: readonly [number, number, number] | null }[];
}

type Point = readonly [number, number];

/** Walls that are drawn; a plan of more is no help on a page. */
const WALLS_MOST = 2000;

export const planOf = ({ walls, questions }: TraceFacts): HTMLElement | null => {
  if (walls.length === 0 || walls.length > WALLS_MOST) return null;
  const marks = questions.filter((q): q is typeof q & { at: readonly [number, number, number] } => q.at !== null);
  const points: Point[] = [...walls.flatMap((w) => [w.start, w.end]), ...marks.map((q): Point => [q.at[0], q.at[1]])];
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const span = Math.max(right - left, high - low, 1000);
  const pad = span * 0.08;
  const text = span / 28;
  // Drawings count upwards, the screen downwards.
  const y = (value: number) => high - value;
  const box = [left - pad, -pad, right - left + 2 * pad, high - low + 2 * pad];
  const drawn = svg(
    'svg',
    { viewBox: box.join(' '), role: 'img', 'aria-label': `Plan of ${walls.length} walls as they were read` },
    ...walls.map((w) =>
      svg('line', {
        class: 'wall',
        x1: w.start[0],
        y1: y(w.start[1]),
        x2: w.end[0],
        y2: y(w.end[1]),
        'stroke-width': Math.max(w.thicknessMm, span / 250),
      }),
    ),
    ...marks.map((q) => {
      const at = { cx: q.at[0], cy: y(q.at[1]) };
      return svg(
        'g',
        { class: 'mark' },
        svg('circle', { ...at, r: text * 0.85 }),
        svg(
          'text',
          { x: at.cx, y: at.cy, 'font-size': text, 'text-anchor': 'middle', 'dominant-baseline': 'central' },
          `${q.number}`,
        ),
      );
    }),
  );
  return el(
    'figure',
    { class: 'plan' },
    drawn,
    el('figcaption', {}, 'Walls as they were read; numbers are questions.'),
  );
};

/** '250 mm (5 walls), 300 mm (1 wall)'. */
export const thicknesses = ({ walls }: TraceFacts): string => {
  const counts = new Map<number, number>();
  for (const { thicknessMm } of walls) {
    const mm = Math.round(thicknessMm * 10) / 10;
    counts.set(mm, (counts.get(mm) ?? 0) + 1);
  }
  const sorted = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  return sorted.map(([mm, n]) => `${mm} mm (${n} ${n === 1 ? 'wall' : 'walls'})`).join(', ');
};

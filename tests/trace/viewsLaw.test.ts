/**
 * Sheets of several views in any arrangement: the walls that come back are those of the foundation plan. Sheets are drawn here; the titles
 * are common ones. Letters are 250 mm, views at least 28 letters apart (buildings of one plan 16), titles one to four letters below their views.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, DrawingText } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, FC, OPTIONS, pathOf } from './plans.js';

const LETTER = 250;
const TITLES = {
  foundation: ['FOUNDATION PLAN', 'GRUNDRISS KG', 'PLAN DES FONDATIONS', 'BASEMENT FLOOR PLAN'],
  plan: ['FIRST FLOOR PLAN', 'GRUNDRISS EG', 'ROOF PLAN'],
  section: ['SECTION A-A', 'SCHNITT B-B', 'TYPICAL WALL SECTION'],
  detail: ['DETAIL 3', 'FOOTING DETAIL'],
  elevation: ['FRONT ELEVATION', 'SÜDANSICHT'],
} as const;
type Kind = keyof typeof TITLES;

interface Body {
  readonly rings: readonly (readonly Vec[])[];
  readonly width: number;
  readonly depth: number;
}
const box = (x: number, y: number, w: number, d: number): Vec[] => [
  { x, y },
  { x: x + w, y },
  { x: x + w, y: y + d },
  { x, y: y + d },
];
/** What each kind of view shows, from its lower left corner. Plans have a second building when `two`. */
const bodyOf = (kind: Kind, w: number, d: number, t: number, two: boolean): Body => {
  if (kind === 'foundation' || kind === 'plan') {
    const rings = [box(0, 0, w, d), box(t, t, w - 2 * t, d - 2 * t)];
    if (!two) return { rings, width: w, depth: d };
    const x = w + 4000;
    return {
      rings: [...rings, box(x, 0, 5000, 4000), box(x + t, t, 5000 - 2 * t, 4000 - 2 * t)],
      width: x + 5000,
      depth: d,
    };
  }
  if (kind === 'elevation') {
    return { rings: [box(0, 0, w, 3000), box(800, 900, 1200, 1200), box(3000, 0, 1000, 2100)], width: w, depth: 3000 };
  }
  return { rings: [box(0, 0, 1000, 300), box(400, 300, 200, 2400)], width: 1000, depth: 2700 };
};

const other = fc.record({
  kind: fc.constantFrom<Kind>('plan', 'section', 'section', 'detail', 'elevation'),
  title: fc.nat(5),
  height: fc.constantFrom(1, 1.4, 2),
  below: fc.integer({ min: 1, max: 4 }),
  gap: fc.integer({ min: 28, max: 60 }),
});

const sheet = fc.record({
  before: fc.array(other, { maxLength: 3 }),
  after: fc.array(other, { maxLength: 3 }),
  over: fc.array(other, { maxLength: 3 }),
  title: fc.nat(5),
  two: fc.boolean(),
  widthMm: fc.integer({ min: 7000, max: 14000 }),
  depthMm: fc.integer({ min: 5000, max: 9000 }),
  thickMm: fc.integer({ min: 150, max: 400 }),
  layer: fc.constantFrom('S-FNDN-WALL', 'WALLS', '0'),
  turned: fc.boolean(),
  bordered: fc.boolean(),
});

describe('sheets of several views', { timeout: 120_000 }, () => {
  it('give the walls of the foundation plan and no others', () => {
    fc.assert(
      fc.property(sheet, (s) => {
        const paths: DrawingPath[] = [];
        const texts: DrawingText[] = [];
        let n = 0;
        const put = (p: Vec): Vec => (s.turned ? { x: -p.y, y: p.x } : p);
        const write = (words: string, x: number, y: number, height: number) => {
          const rotationRad = s.turned ? Math.PI / 2 : 0;
          texts.push({
            source: `T${n++}`,
            layer: 'TEXT',
            blocks: [],
            at: put({ x, y }),
            height,
            rotationRad,
            text: words,
          });
        };
        const draw = (body: Body, x: number, y: number, layer: string) => {
          for (const ring of body.rings) {
            const points = ring.map((v) => put({ x: v.x + x, y: v.y + y }));
            paths.push(pathOf(points, `P${n++}`, { layer }));
          }
        };
        const place = (o: typeof other extends fc.Arbitrary<infer T> ? T : never, x: number, y: number): Body => {
          const body = bodyOf(o.kind, s.widthMm, s.depthMm, s.thickMm, s.two && o.kind === 'plan');
          draw(body, x, y, s.layer);
          const titles = TITLES[o.kind];
          write(titles[o.title % titles.length]!, x, y - o.below * LETTER - o.height * LETTER, o.height * LETTER);
          return body;
        };
        let x = 0;
        for (const o of s.before) x += place(o, x, 0).width + o.gap * LETTER;
        const main = bodyOf('foundation', s.widthMm, s.depthMm, s.thickMm, s.two);
        draw(main, x, 0, s.layer);
        const titles = TITLES.foundation;
        write(titles[s.title % titles.length]!, x, -3 * LETTER, 1.4 * LETTER);
        write('NOTE', x + 1000, 1000, LETTER);
        write('NOTE', x + 1500, 2000, LETTER);
        const from = x;
        x += main.width;
        for (const o of s.after) {
          x += o.gap * LETTER;
          x += place(o, x, 0).width;
        }
        // A row above, with room for its titles.
        let up = 0;
        for (const o of s.over) up += place(o, up, 20000).width + o.gap * LETTER;
        if (s.bordered) {
          const right = Math.max(x, up) + 15000;
          draw({ rings: [box(-5000, -8000, right + 5000, 60000)], width: 0, depth: 0 }, 0, 0, s.layer);
          write('SHEET S-101', right - 9000, -7000, LETTER);
        }
        const { value } = trace(drawingOf(paths, { texts }), OPTIONS);
        expect(value.stretches.length).toBe(s.two ? 8 : 4);
        const [a, b] = [put({ x: from, y: 0 }), put({ x: from + main.width, y: main.depth })];
        for (const w of value.stretches) {
          for (const p of [w.start, w.end]) {
            expect(p.x).toBeGreaterThanOrEqual(Math.min(a.x, b.x));
            expect(p.x).toBeLessThanOrEqual(Math.max(a.x, b.x));
            expect(p.y).toBeGreaterThanOrEqual(Math.min(a.y, b.y));
            expect(p.y).toBeLessThanOrEqual(Math.max(a.y, b.y));
          }
        }
      }),
      FC,
    );
  });
});

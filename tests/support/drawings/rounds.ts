/** Plans with curved walls. */

import fc from 'fast-check';
import type { Vec } from '../../../src/ground/plane.js';
import { boundsOf, building, buildingShape, freeSpans, half, room, thickness } from './plans.js';
import { lengthOf, pointOn, type Truth } from './truth.js';

/** What is round about a building: a corner rounded off, an apse on a wall, a ring or an arc beside it. */
interface Round {
  readonly kind: 'corner' | 'apse' | 'ring' | 'arc';
  readonly pick: number;
  readonly radiusMm: number;
  readonly thicknessMm: number;
  readonly spanDeg: number;
}

const rounded = (t: Truth, r: Round): Truth => {
  const b = boundsOf(t);
  const besides = (fromRad: number, toRad: number): Truth => {
    const centre = { x: b.x1 + 3000 + r.radiusMm, y: (b.y0 + b.y1) / 2 };
    return {
      ...t,
      curves: [...t.curves, { centre, radiusMm: r.radiusMm, fromRad, toRad, thicknessMm: r.thicknessMm }],
    };
  };
  if (r.kind === 'ring') return besides(0, 2 * Math.PI);
  if (r.kind === 'arc') return besides(Math.PI / 3, Math.PI / 3 + (r.spanDeg * Math.PI) / 180);
  if (r.kind === 'apse') {
    const spans = freeSpans(t).filter((s) => s.to - s.from >= 2 * r.radiusMm + r.thicknessMm);
    const span = spans[Math.floor(r.pick * spans.length)];
    if (!span) return t;
    const w = t.walls[span.index]!;
    const centre = pointOn(w, half((span.from + span.to) / 2));
    const fromRad = Math.atan2(w.end.y - w.start.y, w.end.x - w.start.x);
    const top = pointOn(w, half((span.from + span.to) / 2), r.radiusMm);
    const box = [pointOn(w, span.from, 500), pointOn(w, span.to, 500), top];
    if (!room(t, box, span.index, 1300)) return t;
    return {
      ...t,
      curves: [
        ...t.curves,
        { centre, radiusMm: r.radiusMm, fromRad, toRad: fromRad + Math.PI, thicknessMm: w.thicknessMm },
      ],
    };
  }
  return roundedCorner(t, r);
};

/** The corner of the first two walls from `pick` on that are of one thickness and long enough. */
const roundedCorner = (t: Truth, r: Round): Truth => {
  const n = t.walls.length;
  const first = Math.floor(r.pick * n);
  for (let k = 0; k < n * n; k++) {
    const [i, j] = [(first + Math.floor(k / n)) % n, k % n];
    const [p, q] = [t.walls[i]!, t.walls[j]!];
    if (i === j || p.thicknessMm !== q.thicknessMm || lengthOf(p) < r.radiusMm + 900 || lengthOf(q) < r.radiusMm + 900)
      continue;
    const at = p.end;
    // Both walls run along x or y, and they end here alone.
    const others = t.walls.filter(
      (o, m) =>
        m !== i && m !== j && [o.start, o.end].some((e) => Math.hypot(e.x - at.x, e.y - at.y) < r.radiusMm + 800),
    );
    const far =
      q.start.x === at.x && q.start.y === at.y ? q.end : q.end.x === at.x && q.end.y === at.y ? q.start : null;
    if (!far || others.length > 0) continue;
    const u = { x: Math.sign(p.start.x - at.x), y: Math.sign(p.start.y - at.y) };
    const v = { x: Math.sign(far.x - at.x), y: Math.sign(far.y - at.y) };
    if (u.x * v.x + u.y * v.y !== 0 || Math.abs(u.x) + Math.abs(u.y) !== 1 || Math.abs(v.x) + Math.abs(v.y) !== 1)
      continue;
    const r0 = r.radiusMm;
    const centre = { x: at.x + (u.x + v.x) * r0, y: at.y + (u.y + v.y) * r0 };
    const [a, b] = [
      { x: at.x + u.x * r0, y: at.y + u.y * r0 },
      { x: at.x + v.x * r0, y: at.y + v.y * r0 },
    ];
    const angle = (e: Vec) => Math.atan2(e.y - centre.y, e.x - centre.x);
    const turn = (angle(b) - angle(a) + 2 * Math.PI) % (2 * Math.PI) < Math.PI;
    const fromRad = turn ? angle(a) : angle(b);
    const walls = t.walls.map((w, m) => (m === i ? { ...p, end: a } : m === j ? { ...q, start: b, end: far } : w));
    const curve = { centre, radiusMm: r0, fromRad, toRad: fromRad + Math.PI / 2, thicknessMm: p.thicknessMm };
    return { ...t, walls, curves: [...t.curves, curve] };
  }
  return t;
};

/** A building with one thing that is round. */
export const withCurves: fc.Arbitrary<Truth> = fc
  .record({
    main: buildingShape,
    round: fc.record({
      kind: fc.constantFrom('corner', 'apse', 'ring', 'arc'),
      pick: fc.double({ min: 0, max: 0.999, noNaN: true }),
      radiusMm: fc.integer({ min: 120, max: 400 }).map((x) => x * 10),
      thicknessMm: thickness,
      spanDeg: fc.integer({ min: 40, max: 250 }),
    }),
  })
  .map(({ main, round }) => rounded(building(main), round));

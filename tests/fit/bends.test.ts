/**
 * Bends, walls that turn by less than 10 degrees: widths by the hand formulas of the rules (tapered fill 2 t tan(d/2) on the outer face, frames of depth D
 * apart by D tan(d/2) on either side of the inner vertex); what strips hand on by the equilibrium of their forces; areas by the shoelace formula.
 */

import { describe, expect, it } from 'vitest';
import { bendShearMm } from '../../src/check/bends.js';
import { contextOf } from '../../src/check/context.js';
import { check } from '../../src/check/index.js';
import { facePoint } from '../../src/ground/arcs.js';
import { marksOf } from '../../src/ground/marks.js';
import type { Vec } from '../../src/ground/plane.js';
import type { Layout, Piece, Side } from '../../src/ground/vocabulary.js';
import { schedule } from '../../src/schedule/index.js';
import { standingPieces } from '../../src/write/ifc/bodies.js';
import { indexPlan, pieceShapes } from '../../src/write/report/geometry.js';
import { type BentLine, bentFoundation, mirrored, turned } from '../support/bentPlan.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { layOutByHand, P } from './handLoads.js';

const D = workedExampleCatalogue.frameDepthMm;
const rad = (deg: number): number => (deg * Math.PI) / 180;
type Laid = ReturnType<typeof layOut>;
const layOut = (line: BentLine) => layOutByHand(bentFoundation(line), workedExampleCatalogue);

/** Walls in a row, each turned from the one before. */
const row = (
  turnsDeg: readonly number[],
  lengthsMm: readonly number[],
  thicknessMm: number,
  closed = false,
): BentLine => {
  const points: [number, number][] = [[0, 0]];
  let a = 0;
  lengthsMm.forEach((length, i) => {
    const [x, y] = points[points.length - 1]!;
    points.push([x + length * Math.cos(a), y + length * Math.sin(a)]);
    a += rad(turnsDeg[i] ?? 0);
  });
  return { points: closed ? points.slice(0, -1) : points, thicknesses: lengthsMm.map(() => thicknessMm), closed };
};

const tiers = (laid: Laid) => laid.layout.tiers.map((t) => t.value);
const strips = (laid: Laid) => laid.layout.pieces.filter((p) => p.taper && p.vertex !== undefined && p.course === 1);
const vertexOf = (laid: Laid, p: Piece) => laid.plan.vertices.find((v) => v.id === p.vertex)!;
const both = (laid: Laid, node?: string) => {
  const of = (kind: string) =>
    strips(laid).find((p) => vertexOf(laid, p).kind === kind && (node === undefined || p.node === node))!;
  return { inner: of('re-entrant'), outer: of('salient') };
};
const spread = (p: Piece): number => p.covers.reduce((sum, c) => sum + c.toMm - c.fromMm, 0);

const shoelace = (ring: readonly Vec[]): number =>
  Math.abs(
    ring.reduce((sum, p, i) => sum + p.x * ring[(i + 1) % ring.length]!.y - p.y * ring[(i + 1) % ring.length]!.x, 0),
  ) / 2;

describe('a bend of two walls', () => {
  it.each([
    [0.3, 200],
    [2, 250],
    [5, 200],
    [9.9, 250],
  ])('turning by %f degrees, t %i: the outer strip is 2 t tan(d/2) wider than the inner one', (deg, t) => {
    const laid = layOut(row([deg], [2400, 1900], t));
    expect(laid.failures).toEqual([]);
    expect(laid.plan.nodes.filter((n) => n.kind === 'bend')).toHaveLength(1);
    const { inner, outer } = both(laid);
    const k = t * Math.tan(rad(deg) / 2);
    // Each of the two distances between vertices is rounded by half a step at most.
    expect(Math.abs(spread(outer) - spread(inner) - 2 * k)).toBeLessThanOrEqual(1);
    for (const c of inner.covers) {
      expect(c.toMm - c.fromMm).toBeGreaterThanOrEqual(D * Math.tan(rad(deg) / 2));
      expect(c.toMm - c.fromMm).toBeGreaterThanOrEqual(workedExampleCatalogue.timberLeastMm / 2);
    }
    // As the concrete is, not as stations are rounded: 2 t tan(d/2) cos(d/2) across the bend.
    expect(outer.taper!.faceMm - inner.taper!.faceMm).toBeCloseTo(2 * t * Math.sin(rad(deg) / 2), 1);
    const back = 2 * D * Math.sin(rad(deg) / 2);
    expect(inner.taper!.faceMm - inner.taper!.backMm).toBeCloseTo(back, 1);
    expect(outer.taper!.backMm - outer.taper!.faceMm).toBeCloseTo(back, 1);
    expect(laid.layout.tiers.find((x) => x.name === 'places')!.value).toBe(1);
  });

  it('holds no edge: a tie stands beside the strips on both walls, within the overhang', () => {
    const laid = layOut(row([6], [2400, 1900], 200));
    expect(laid.layout.groups.filter((g) => g.supports.includes('held'))).toEqual([]);
    const { inner } = both(laid);
    for (const cover of inner.covers) {
      const wall = laid.plan.faces.find((f) => f.id === cover.face)!.wall;
      const away = laid.layout.ties
        .filter((t) => t.wall === wall)
        .map((t) => Math.min(Math.abs(t.stationMm - cover.fromMm), Math.abs(t.stationMm - cover.toMm)));
      expect(Math.min(...away)).toBeLessThanOrEqual(workedExampleCatalogue.overhangMm);
    }
  });

  it('either way, mirrored and turned costs the same', () => {
    const line = row([90, 7], [1800, 2330, 1700], 200);
    const plain = tiers(layOut(line));
    expect(tiers(layOut(mirrored(line)))).toEqual(plain);
    expect(tiers(layOut(turned(line, 213)))).toEqual(plain);
  });

  it('closes a wall between two bends without another place of fill', () => {
    const laid = layOut(row([5, -7], [1500, 2333, 1500], 200));
    expect(laid.failures).toEqual([]);
    expect(laid.layout.pieces.filter((p) => p.kind === 'timber' && p.vertex === undefined)).toEqual([]);
    expect(laid.layout.tiers.find((x) => x.name === 'places')!.value).toBe(2);
  });

  it('says that a strip over 100 mm needs backing', () => {
    const laid = layOut(row([9.9], [4000, 3500], 500));
    const { outer } = both(laid);
    expect(outer.taper!.faceMm).toBeGreaterThan(100);
    const wide = laid.findings.filter((f) => f.code === 'fit.timber-wide');
    expect(wide.map((f) => f.subject)).toEqual([outer.node]);
  });
});

describe('walls of different thickness', () => {
  const unlike = (a: number, b: number, deg: number): BentLine => ({
    ...row([deg], [2700, 2400], a),
    thicknesses: [a, b],
  });

  it('are closed by strips where the faces end near each other, from either side', () => {
    const laid = layOut(unlike(200, 205, 9));
    expect(laid.failures.filter((f) => f.code !== 'fit.no-tie')).toEqual([]);
    const { inner, outer } = both(laid);
    expect(Math.abs(spread(outer) - spread(inner) - 405 * Math.tan(rad(9) / 2))).toBeLessThanOrEqual(1);
  });

  it('are left open, and said so at both walls, where they do not', () => {
    const laid = layOut(unlike(200, 250, 8));
    const said = laid.findings.filter((f) => f.code === 'fit.end-not-laid-out');
    // k = (250 - 200 cos 8)/sin 8 by hand.
    expect(said[0]!.message).toContain('373 mm apart');
    expect(said).toHaveLength(2);
    expect(strips(laid)).toEqual([]);
  });
});

it('round a closed room outer less inner length is the sum of 2 t tan(d/2), strips and all', () => {
  const [n, t] = [37, 250];
  const laid = layOut(row(Array(n).fill(360 / n), Array(n).fill(900), t, true));
  expect(laid.failures).toEqual([]);
  const sum = (kind: string) =>
    strips(laid)
      .filter((p) => vertexOf(laid, p).kind === kind)
      .reduce((all, p) => all + spread(p), 0);
  // Between the strips both faces carry the same forms, so the strips alone make the difference; 2 n distances are rounded.
  expect(Math.abs(sum('salient') - sum('re-entrant') - n * 2 * t * Math.tan(Math.PI / n))).toBeLessThanOrEqual(n);
});

describe('what the strips hand on', () => {
  it.each([1, 4, 9.9])(
    'is in equilibrium with the pull of the walls, and the same on both faces, at %f degrees',
    (deg) => {
      const t = 250;
      const laid = layOut(row([deg], [2400, 1900], t));
      const ctx = contextOf({ ...laid, catalogue: workedExampleCatalogue });
      const shears = laid.plan.runs.flatMap((run) => {
        const end = run.start.kind === 'corner' ? run.start : run.end;
        if (end.kind !== 'corner') throw new Error('no corner');
        return (['left', 'right'] as const).map((side) => ({
          run,
          side,
          inner: side === end.inner,
          v: bendShearMm(ctx, run, end, side)!,
        }));
      });
      const { inner, outer } = both(laid);
      // Hand formula: p (k + y) on each side and each face.
      const arm = spread(outer) / 2;
      for (const { v } of shears) expect(Math.abs(v - arm)).toBeLessThan(0.75);
      // The inner strip: pressure on its two arms, forces of the forms on both of its edges, pulls p t away from it along both walls.
      const force = { x: 0, y: 0 };
      const add = (u: Vec, by: number) => {
        force.x += u.x * by;
        force.y += u.y * by;
      };
      const vertex = vertexOf(laid, inner);
      for (const a of vertex.arms) {
        const wall = laid.plan.walls.find((w) => w.id === a.wall)!;
        const c = inner.covers.find((x) => x.face.startsWith(`${a.wall}-`))!;
        const side = a.side as Side;
        const edge = facePoint(wall, side, a.direction === 1 ? c.toMm : c.fromMm);
        const out = facePoint(wall, side, 0, 1);
        const on = facePoint(wall, side, 0, 0);
        const length = Math.hypot(edge.x - vertex.at.x, edge.y - vertex.at.y);
        const outward = { x: out.x - on.x, y: out.y - on.y };
        add(outward, length);
        add(outward, -shears.find((s) => s.run.wall === a.wall && s.inner)!.v);
        add({ x: (edge.x - vertex.at.x) / length, y: (edge.y - vertex.at.y) / length }, t);
      }
      expect(Math.hypot(force.x, force.y)).toBeLessThan(1e-3);
    },
  );
});

it('clamps reach over both strips, and those of the inner one carry the pull of the wall, p t', () => {
  const t = 250;
  const laid = layOut(row([6], [2400, 1900], t));
  const clamps = [
    {
      id: 'long',
      closesMm: { least: 0, most: 120 },
      pullKn: 15,
      shearKn: 15,
      mostSpacingMm: 600,
      mostFromEndMm: 300,
      massKg: 5,
    },
  ];
  const { value } = check({ ...laid, catalogue: { ...workedExampleCatalogue, clamps } });
  const { inner, outer } = both(laid);
  const over = (strip: Piece) =>
    value.clamps.filter((c) =>
      strip.covers.some(
        (x) => x.face === c.face && c.gapMm > 1 && Math.abs(c.stationMm - (x.fromMm + x.toMm) / 2) < 60,
      ),
    );
  // Force of the hand envelope: constant from 1831 down to the foot at 2350, over the thickness.
  const force = (P * (2350 - 1831 / 2) * t) / 1e6;
  expect(over(inner).reduce((sum, c) => sum + c.inPlaneKn, 0)).toBeCloseTo(force, 1);
  expect(over(outer).length).toBe(over(inner).length);
  for (const c of over(outer)) expect(c.gapMm).toBeCloseTo(outer.taper!.backMm, 3);
});

describe('as drawn', () => {
  it.each([3, 9.5])(
    'covers between the frames, at %f degrees, what the formula says, in report and model alike',
    (deg) => {
      const laid = layOut(row([deg], [2400, 1900], 200));
      const { standing, lost } = standingPieces(laid.plan, workedExampleCatalogue, laid.layout.pieces);
      expect(lost).toEqual([]);
      const wedge = D * D * Math.tan(rad(deg) / 2);
      for (const [piece, sign] of [
        [both(laid).inner, -1],
        [both(laid).outer, 1],
      ] as const) {
        const [ring] = pieceShapes(indexPlan(laid.plan), piece, D);
        const hand = spread(piece) * D + sign * wedge;
        // Stations are rounded, the vertex is not: a step a wall at most.
        expect(Math.abs(shoelace(ring!) - hand)).toBeLessThanOrEqual(2 * D);
        const { body } = standing.find((s) => s.piece.id === piece.id)!;
        if (body.kind !== 'prism') throw new Error('a strip at a bend is a prism');
        expect(Math.abs(shoelace(body.outline) - hand)).toBeLessThan(1);
      }
    },
  );
});

it('stands in the list with both widths, under the mark that it has in the drawing', () => {
  const laid = layOut(row([7], [2400, 1900], 200));
  const { value } = check({ ...laid, catalogue: workedExampleCatalogue });
  const rows = schedule({ plan: laid.plan, catalogue: workedExampleCatalogue, layout: value }).value.rows;
  const marks = marksOf(laid.plan, workedExampleCatalogue, value);
  for (const piece of Object.values(both(laid))) {
    const { faceMm, backMm } = piece.taper!;
    const own = rows.find((r) => Math.abs(r.widthMm - Math.max(faceMm, backMm)) < 0.06)!;
    expect(Math.abs(own.narrowMm! - Math.min(faceMm, backMm))).toBeLessThan(0.06);
    expect(marks.ofRow(own.kind, own.item, own)?.mark).toBe(marks.ofPiece(piece).mark);
  }
});

describe('the check of a bend', () => {
  const laid = layOut(row([8], [2400, 1900], 200));
  const again = (change: (layout: Layout) => Layout): string[] =>
    check({ ...laid, catalogue: workedExampleCatalogue, layout: change(laid.layout) }).findings.flatMap((f) =>
      f.code === 'check.bend' ? [f.message] : [],
    );
  const pieces =
    (change: (p: Piece) => Piece) =>
    (l: Layout): Layout => ({ ...l, pieces: l.pieces.map(change) });
  const isStrip = (p: Piece) => p.taper !== undefined;

  it('passes it as laid out', () => {
    expect(again((l) => l)).toEqual([]);
  });

  it('measures strips', () => {
    const found = again(
      pieces((p) => (isStrip(p) ? { ...p, taper: { ...p.taper!, backMm: p.taper!.backMm + 2 } } : p)),
    );
    expect(found).toHaveLength(laid.layout.pieces.filter(isStrip).length);
  });

  it('sees frames that collide behind a strip too narrow for their depth', () => {
    const inner = both(laid).inner.vertex;
    const narrow = pieces((p) => {
      if (p.vertex !== inner || !isStrip(p)) return p;
      const arms = laid.plan.vertices.find((v) => v.id === inner)!.arms;
      const covers = p.covers.map((c) => {
        const { stationMm: s, direction } = arms.find((a) => c.face.startsWith(`${a.wall}-`))!;
        return direction === 1 ? { ...c, fromMm: s, toMm: s + 2 } : { ...c, fromMm: s - 2, toMm: s };
      });
      return { ...p, covers };
    });
    expect(again(narrow).join('\n')).toContain('overlap by');
  });

  it('sees a strip that reaches one wall alone', () => {
    expect(again(pieces((p) => (isStrip(p) ? { ...p, covers: p.covers.slice(0, 1) } : p))).join('\n')).toContain(
      'does not reach',
    );
  });
});

/** The schedule against counts and areas worked by hand for the example result, and against the laws that any schedule keeps. */

import { describe, expect, it } from 'vitest';
import type { CheckedLayout, FacePlan, Piece, ScheduleRow } from '../../src/ground/vocabulary.js';
import { schedule } from '../../src/schedule/index.js';
import { exampleCatalogue, examplePieces, examplePlan, exampleResult, exampleTies } from '../support/exampleResult.js';

const counted = (layout: Partial<CheckedLayout> = {}, plan: FacePlan = examplePlan, catalogue = exampleCatalogue) =>
  schedule({ plan, catalogue, layout: { ...exampleResult.layout, ...layout } }).value;

const rowOf = (rows: readonly ScheduleRow[], item: string): ScheduleRow => {
  const row = rows.find((r) => r.item === item);
  if (row === undefined) throw new Error(`no row ${item}`);
  return row;
};

describe('rows', () => {
  const { rows } = counted();

  it('count the example as by hand', () => {
    expect(rows.map((r) => `${r.count} ${r.item}`)).toEqual([
      '12 EX-P600x2400',
      '2 EX-P600x1800',
      '2 EX-P300x2400',
      '2 EX-P300x600',
      '2 EX-P200x2400',
      '2 EX-F50x2400',
      '1 EX-IC150x2400',
      '1 EX-OC2400',
      '2 EX-B200x2400',
      '2 timber 600 x 15',
      '2 timber 30 x 2400',
      '42 EX-T200',
    ]);
  });

  it('count every piece and every tie once, two covers or none', () => {
    const of = (ties: boolean) => rows.filter((r) => (r.kind === 'tie') === ties).reduce((n, r) => n + r.count, 0);
    expect(of(false)).toBe(examplePieces.length);
    expect(of(true)).toBe(exampleTies.length);
    expect(examplePieces.some((p) => p.covers.length === 2)).toBe(true);
    expect(examplePieces.some((p) => p.covers.length === 0)).toBe(true);
  });

  it('add the catalogue’s masses, and tell how timber’s was reckoned', () => {
    // 0.6 m x 2.4 m x 32 kg/m2; 42 ties of 0.35 kg; 0.030 m x 2.4 m x 0.060 m x 600 kg/m3, twice.
    expect(rowOf(rows, 'EX-P600x2400').massKg).toBeCloseTo(12 * 46.08, 9);
    expect(rowOf(rows, 'EX-T200').massKg).toBeCloseTo(14.7, 9);
    expect(rowOf(rows, 'timber 30 x 2400').massKg).toBeCloseTo(2 * 2.592, 9);
    const lies = new Set(exampleResult.layout.pieces.filter((p) => p.turned).map((p) => p.item));
    for (const row of rows)
      expect(row.remark !== undefined, row.item).toBe(row.kind === 'timber' || lies.has(row.item));
    expect(rowOf(rows, 'timber 30 x 2400').remark).toContain('common practice, no source');
  });

  it('give the stock of named items alone, also when an item is called as a property of all objects is', () => {
    expect(rowOf(rows, 'EX-P600x2400').stock).toBe(12);
    expect(rowOf(rows, 'EX-P200x2400').stock).toBeNull();
    const odd = { ...exampleCatalogue.units[0]!, id: 'constructor' };
    const catalogue = { ...exampleCatalogue, units: [...exampleCatalogue.units, odd] };
    const pieces = [{ ...examplePieces[0]!, item: 'constructor' }];
    const made = counted({ pieces, ties: [] }, examplePlan, catalogue);
    expect(made.rows).toHaveLength(1);
    expect(made.rows[0]!.stock).toBeNull();
  });

  it('do not depend on the order of pieces and ties', () => {
    const turned = counted({ pieces: [...examplePieces].reverse(), ties: [...exampleTies].reverse() });
    expect(turned).toEqual(counted());
  });

  it('list bulkheads and boxes that are made on site by their own size, apart from fill', () => {
    const bulkhead: Piece = { ...examplePieces.find((p) => p.kind === 'bulkhead')!, item: null };
    const bare: Piece = { ...bulkhead, id: 'B2', covers: [] };
    const made = counted({ pieces: [bulkhead, bare], ties: [] });
    expect(made.rows.map((r) => [r.item, r.count])).toEqual([['bulkhead 200 x 2400', 2]]);
    expect(made.totals.timberAreaM2).toBe(0);
  });

  it('take an item that the catalogue does not have for our own mistake', () => {
    expect(() => counted({ pieces: [{ ...examplePieces[0]!, item: 'nothing' }] })).toThrow(/catalogue/);
    expect(() => counted({ ties: [{ ...exampleTies[0]!, item: 'nothing' }] })).toThrow(/catalogue/);
  });
});

describe('totals', () => {
  const { totals, rows } = counted();

  it('hold for the example by hand', () => {
    expect(totals.wallLengthM).toBeCloseTo(2.7 + 1.9, 9);
    // W1: (2600 + 2800) x 2350; W2: (1550 + 1350) x 2350 on the low footing, 2 x 450 x 2040 on the high one.
    expect(totals.contactAreaM2).toBeCloseTo(5.4 * 2.35 + 2.9 * 2.35 + 0.9 * 2.04, 9);
    expect(totals.contactAreaNetM2).toBe(totals.contactAreaM2);
    expect(totals.endAreaM2).toBeCloseTo(0.2 * 2.35 + 0.2 * 2.04, 9);
    expect(totals.panelAreaM2).toBeCloseTo(12 * 1.44 + 2 * 1.08 + 2 * 0.72 + 2 * 0.18 + 2 * 0.48, 9);
    // The L's outline is 2800 x 200 + 1800 x 200; of it 450 x 200 stands on 310.
    expect(totals.concreteM3).toBeCloseTo(0.92 * 2.35 - 0.09 * 0.31, 9);
    expect(totals.tieCount).toBe(42);
  });

  it('cut timber at the pour line and at the end of the concrete', () => {
    // Upright 30 x 2350 on two faces; base gap 15 high from 1450 to the concrete's end at 1900.
    expect(totals.timberAreaM2).toBeCloseTo(2 * 0.03 * 2.35 + 2 * 0.45 * 0.015, 9);
  });

  it('are the sums of the rows', () => {
    expect(totals.massKg).toBeCloseTo(
      rows.reduce((sum, r) => sum + r.massKg, 0),
      9,
    );
  });

  it('agree with the covers: what stands on the faces, cut to the concrete, is the contact area', () => {
    const walls = new Map(examplePlan.walls.map((w) => [w.id, w]));
    let mm2 = 0;
    for (const piece of examplePieces) {
      for (const cover of piece.covers) {
        const face = examplePlan.faces.find((f) => f.id === cover.face)!;
        if (face.side !== 'left' && face.side !== 'right') continue;
        const wall = walls.get(face.wall)!;
        // By strips of 10 mm: every joint, step and end of the example lies on a multiple of it.
        for (let s = Math.max(cover.fromMm, face.fromMm); s < Math.min(cover.toMm, face.toMm); s += 10) {
          const footing = wall.base.find((b) => s >= b.fromMm && s < b.toMm)!.levelMm;
          mm2 += 10 * Math.max(0, Math.min(cover.topMm, 2350) - Math.max(cover.baseMm, footing));
        }
      }
    }
    expect(mm2 / 1e6).toBeCloseTo(totals.contactAreaM2, 9);
  });

  it('are nothing for an empty plan', () => {
    const empty: FacePlan = { ...examplePlan, walls: [], nodes: [], faces: [], vertices: [], runs: [], concrete: [] };
    const made = counted({ pieces: [], ties: [] }, empty);
    expect(made.rows).toEqual([]);
    expect(new Set(Object.values(made.totals))).toEqual(new Set([0]));
  });
});

describe('setting list', () => {
  it('has every piece once, by wall, face, course and station', () => {
    const setting = counted().setting!;
    expect(new Set(setting.map((s) => s.piece)).size).toBe(examplePieces.length);
    expect(setting).toHaveLength(examplePieces.length);
    const faces = examplePlan.faces.map((f) => f.id);
    const keys = setting.map((s) => [faces.indexOf(s.face), s.course, s.fromMm] as const);
    const sorted = [...keys].sort((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]);
    expect(keys).toEqual(sorted);
  });

  it('stands an outside corner at the first face of its vertex', () => {
    const corner = counted().setting!.find((s) => s.kind === 'outside-corner')!;
    expect(corner).toMatchObject({ wall: 'W1', face: 'W1-right', fromMm: -100, toMm: -100 });
  });
});

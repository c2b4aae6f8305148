/**
 * Strips that let closed rooms go (rule T17). Numbers by hand: a strip x stands beside a leg a where the salient face has one rigid group of t + a + x (rule
 * T3); with t 200, a 150 and strips from 40 that is 400 = one panel, x = 50. The stretch between the ends loses x.
 */

import { describe, expect, it } from 'vitest';
import { check } from '../../src/check/index.js';
import { DEFAULT_FIT_OPTIONS, fit as fitRuns } from '../../src/fit/index.js';
import type { Layout, Piece, WallStretch } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, type Scene, sceneOf, stretch } from '../check/support.js';

const laid = (stretches: readonly WallStretch[], stripMm: number | null = 40) => {
  const scene = sceneOf(planOf(stretches, 2350));
  const { value: layout, findings } = fitRuns(scene.plan, scene.catalogue, scene.demands, {
    ...DEFAULT_FIT_OPTIONS,
    stripMm,
  });
  return { scene, layout, findings, checked: check({ ...scene, layout }) };
};

const stripsOf = (layout: Layout): Piece[] => layout.pieces.filter((p) => p.kind === 'strip');
const codesOf = (found: readonly { readonly code: string }[], code: string) =>
  found.filter((f) => f.code === code).length;
const failures = (r: ReturnType<typeof laid>) =>
  [...r.findings, ...r.checked.findings].filter((f) => f.severity === 'failure').map((f) => f.message);
const tier = ({ tiers }: Layout, name: string) => tiers.find((t) => t.name === name)!;
const without = (scene: Scene, layout: Layout, ids: ReadonlySet<string>, change: Partial<Piece>) =>
  check({
    ...scene,
    layout: { ...layout, pieces: layout.pieces.map((p) => (ids.has(p.id) ? { ...p, ...change } : p)) },
  });

/** Two rooms of 3050 x 3600 side by side, walls of 200. */
const twoRooms = [
  stretch(0, 100, 6700, 100, 200),
  stretch(0, 3900, 6700, 3900, 200),
  stretch(100, 200, 100, 3800, 200),
  stretch(3350, 200, 3350, 3800, 200),
  stretch(6600, 200, 6600, 3800, 200),
];
const turned = (stretches: readonly WallStretch[]): WallStretch[] =>
  stretches.map((s) => ({
    ...s,
    start: { x: -s.start.y, y: s.start.x },
    end: { x: -s.end.y, y: s.end.x },
  }));
const mirrored = (stretches: readonly WallStretch[]): WallStretch[] =>
  stretches.map((s) => ({ ...s, start: { x: -s.start.x, y: s.start.y }, end: { x: -s.end.x, y: s.end.y } }));

describe('a closed room', () => {
  const room = laid(roomStretches(4000, 3600, 200));

  it('has a strip beside a corner in two directions, and all holds', () => {
    expect(failures(room)).toEqual([]);
    expect(codesOf(room.checked.findings, 'check.strips')).toBe(1);
    const walls = stripsOf(room.layout).map((p) => room.scene.plan.faces.find((f) => f.id === p.covers[0]!.face)!.wall);
    expect(new Set(walls).size).toBe(2);
  });

  it('has strips of 50 or 100: with 200 of wall and a leg of 150 one rigid group stands opposite', () => {
    for (const { covers } of stripsOf(room.layout)) {
      const width = covers[0]!.toMm - covers[0]!.fromMm;
      // 350 + 50 is the panel of 400, 350 + 100 that of 450; 350 + 75 is 400 with a filler of 25.
      expect([50, 75, 100]).toContain(width);
    }
  });

  it('counts them as no fill, and the least is proven', () => {
    for (const name of ['failures', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits']) {
      const { value, bound } = tier(room.layout, name);
      expect(bound, name).toBe(value);
    }
    expect(tier(room.layout, 'places').value).toBe(0);
    expect(tier(room.layout, 'timberAreaM2').value).toBe(0);
  });

  it('is named where it has none, or they are asked for no more', () => {
    const bare = laid(roomStretches(4000, 3600, 200), null);
    expect(stripsOf(bare.layout)).toEqual([]);
    expect(codesOf(bare.checked.findings, 'check.no-strip')).toBe(1);
  });

  it('is found shut by the check where a strip is tied through, turned into steel, or off its corner', () => {
    const strips = stripsOf(room.layout);
    const first = new Set([strips[0]!.id]);
    const isShut = (checked: ReturnType<typeof check>) =>
      checked.findings.some((f) => f.code === 'check.no-strip' && f.message.includes('one direction only'));
    expect(isShut(without(room.scene, room.layout, first, { kind: 'filler' }))).toBe(true);
    const ties = room.layout.ties.map((t, i) =>
      i === 0 ? { ...t, pieces: [strips[0]!.id, t.pieces[1]] as const } : t,
    );
    expect(isShut(check({ ...room.scene, layout: { ...room.layout, ties } }))).toBe(true);
    const { covers } = strips[0]!;
    const moved = covers.map((c) => ({ ...c, fromMm: c.fromMm + 600, toMm: c.toMm + 600 }));
    expect(isShut(without(room.scene, room.layout, first, { covers: moved }))).toBe(true);
  });

  it('of 500 inside keeps its legs of 150 and a panel of 200 and is named; of 550 a strip of 50 stands beside that panel', () => {
    const [least, more] = [laid(roomStretches(500, 500, 200)), laid(roomStretches(550, 550, 200))];
    expect(failures(least)).toEqual([]);
    expect(codesOf(least.checked.findings, 'check.no-strip')).toBe(1);
    expect(stripsOf(least.layout)).toEqual([]);
    expect(failures(more)).toEqual([]);
    expect(codesOf(more.checked.findings, 'check.strips')).toBe(1);
  });
});

describe('rooms side by side', () => {
  const plain = laid(twoRooms);

  it('have a pair of strips each', () => {
    expect(failures(plain)).toEqual([]);
    expect(codesOf(plain.checked.findings, 'check.strips')).toBe(2);
    expect(codesOf(plain.checked.findings, 'check.no-strip')).toBe(0);
  });

  it.each([
    ['turned', turned],
    ['mirrored', mirrored],
  ])('cost the same %s', (_, change) => {
    const other = laid(change(twoRooms));
    for (const { name, value } of plain.layout.tiers.filter((t) => t.name !== 'kinds'))
      expect(tier(other.layout, name).value, name).toBe(value);
    expect(codesOf(other.checked.findings, 'check.strips')).toBe(2);
  });
});

describe('what a strip takes part in', () => {
  it('at a partition of 3037 it stands on both faces and takes up what no unit closes', () => {
    // 3037 less two legs is 2737: without strips 37 of timber and 2700 of units. A strip x beside a leg on both faces leaves 2737 - x: 62 leaves 2675.
    const partition = twoRooms.map((s) => ({
      ...s,
      start: { x: s.start.x, y: s.start.y > 200 ? s.start.y - 563 : s.start.y },
      end: { x: s.end.x, y: s.end.y > 200 ? s.end.y - 563 : s.end.y },
    }));
    const [bare, stripped] = [laid(partition, null), laid(partition)];
    expect(failures(stripped)).toEqual([]);
    expect(tier(bare.layout, 'places').value).toBe(3);
    expect(tier(stripped.layout, 'places').value).toBe(2);
    const shared = stripsOf(stripped.layout).map(({ covers }) => covers[0]!.toMm - covers[0]!.fromMm);
    expect(shared.filter((w) => (w - 12) % 25 === 0).length).toBe(2);
  });
});

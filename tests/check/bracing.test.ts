/** Aligners, braces and platforms (rules T13 to T15): what is laid out passes its own judges, and a fault planted in it is found. */

import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { judgePlatforms } from '../../src/check/access/judge.js';
import { formLines } from '../../src/check/bracing/formLines.js';
import { judgeAligners } from '../../src/check/bracing/judgeAligners.js';
import { judgeBraces } from '../../src/check/bracing/judgeBraces.js';
import type { SiteOptions } from '../../src/check/bracing/options.js';
import { reachOfLine, tubesFor } from '../../src/check/bracing/tubes.js';
import { contextOf } from '../../src/check/context.js';
import { siteOf } from '../../src/check/site.js';
import { deckOutline } from '../../src/ground/decks.js';
import type { Brace, Platform } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, SITE, sceneOf } from './support.js';

const ctx = contextOf(sceneOf(planOf(roomStretches(6350, 4000, 200), 2350), demoCatalogue));
const lines = formLines(ctx);
const { value, findings } = siteOf(ctx, SITE);
const { aligners, braces, platforms } = value;
const first = braces[0]!;

const ofBraces = (list: readonly Brace[], catalogue = ctx.catalogue, more: Partial<SiteOptions> = {}) =>
  judgeBraces({
    ctx: { ...ctx, catalogue },
    lines,
    aligners,
    braces: list,
    options: { ...SITE, ...more },
    platformKnmPerM: new Map(),
    wanted: new Map(),
  }).findings.map((f) => f.code);
const ofPlatforms = (list: readonly Platform[]) =>
  judgePlatforms(ctx, lines, list, SITE, new Set()).findings.map((f) => f.message);
const changed = (change: Partial<Brace>): Brace[] => braces.map((b) => (b.id === first.id ? { ...b, ...change } : b));

describe('what is laid out', () => {
  it('has no fault, every long face its rows, and braces at most 2.4 m apart, 1.2 m from the ends', () => {
    expect(findings.filter((f) => f.severity === 'failure' || /aligner|spacing|head/.test(f.code))).toEqual([]);
    expect(new Set(aligners.map((a) => a.face)).size).toBe(4);
    for (const face of new Set(braces.map((b) => b.face))) {
      const line = lines.find((l) => l.face.id === face)!;
      const stops = braces.filter((b) => b.face === face).map((b) => b.stationMm);
      expect(Math.max(...stops.slice(1).map((s, i) => s - stops[i]!))).toBeLessThanOrEqual(2400);
      expect(stops[0]! - line.fromMm).toBeLessThanOrEqual(1200);
      expect(line.toMm - stops.at(-1)!).toBeLessThanOrEqual(1200);
    }
  });
});

describe('an inner corner', () => {
  const { decks = [] } = value;
  // The inner faces of the room, by their own coordinates.
  const inner = { x: [0, 6350], y: [0, 4000] } as const;
  const out = demoCatalogue.frameDepthMm + 100;
  /** Rectangles of all floors and decks, worked out from the stations alone. */
  const boxes = platforms.map((p) => {
    const face = ctx.faces.get(p.face)!;
    const wall = ctx.walls.get(face.wall)!;
    const isAlongX = Math.abs(wall.end.y - wall.start.y) < 1;
    const base = isAlongX ? wall.start.y : wall.start.x;
    const edge = isAlongX ? inner.y : inner.x;
    const isLow = Math.abs(base - edge[0]) < Math.abs(base - edge[1]);
    const across = isLow ? [edge[0] + out, edge[0] + out + p.widthMm] : [edge[1] - out - p.widthMm, edge[1] - out];
    const begin = isAlongX ? wall.start.x : wall.start.y;
    const along = [begin + p.fromMm, begin + p.toMm];
    return isAlongX ? { x: along, y: across } : { x: across, y: along };
  });
  const rings = decks.map((d) => deckOutline(ctx.plan, d, demoCatalogue.frameDepthMm)!);
  const deckBoxes = rings.map((ring) => ({
    x: [Math.min(...ring.map((p) => p.x)), Math.max(...ring.map((p) => p.x))],
    y: [Math.min(...ring.map((p) => p.y)), Math.max(...ring.map((p) => p.y))],
  }));
  const isOn = (list: readonly { x: number[]; y: number[] }[]) => (x: number, y: number) =>
    list.some((b) => x > b.x[0]! && x < b.x[1]! && y > b.y[0]! && y < b.y[1]!);

  it('leaves no hole between floors, decks and forms, and had one without the decks', () => {
    expect(boxes.length).toBe(4);
    const [width] = platforms.map((p) => p.widthMm);
    const open = (isCovered: (x: number, y: number) => boolean) => {
      let count = 0;
      for (const sx of [0, 1] as const)
        for (const sy of [0, 1] as const)
          for (let u = out + 5; u < out + width!; u += 10)
            for (let v = out + 5; v < out + width!; v += 10) {
              const x = inner.x[sx] + (sx === 0 ? u : -u);
              const y = inner.y[sy] + (sy === 0 ? v : -v);
              if (!isCovered(x, y)) count++;
            }
      return count;
    };
    const holes = decks.reduce((sum, d) => sum + (d.holeMm[0] * d.holeMm[1]) / 100, 0);
    expect(open(isOn(boxes)) / holes).toBeCloseTo(1, 1);
    expect(open(isOn([...boxes, ...deckBoxes]))).toBe(0);
  });

  it('has guards that meet at the corners of the floors and cross none of them', () => {
    for (const p of platforms)
      p.joins.forEach((to, i) => {
        if (to === null) return;
        const other = platforms.find((x) => x.id === to)!;
        const face = ctx.faces.get(p.face)!;
        const end = [face.fromMm, face.toMm][i]!;
        expect(Math.abs(Math.abs(p.guardMm[i as 0 | 1] - end) - out - other.widthMm)).toBeLessThan(1);
      });
    const wrong = platforms.map((p, i) =>
      i === 0 ? { ...p, guardMm: [p.guardMm[0] + 700, p.guardMm[1]] as const } : p,
    );
    expect(ofPlatforms(wrong).join()).toContain('no other guard goes on');
  });
});

describe('lengths of aligners', () => {
  it('cover lines of any length and end within them', () => {
    const line = lines[0]!;
    const [cover] = line.covers;
    for (let toMm = 1300; toMm <= 9500; toMm += 410) {
      const columns = Array.from({ length: Math.ceil(toMm / 600) }, (_, i) => ({
        ...cover!,
        cover: { ...cover!.cover, fromMm: i * 600, toMm: Math.min(toMm, (i + 1) * 600) },
      }));
      const own = { ...line, fromMm: 0, toMm, covers: columns };
      const tubes = tubesFor(own, 1700, demoCatalogue.aligners!, demoCatalogue.frameDepthMm);
      expect(tubes, String(toMm)).not.toBeNull();
      const reach = reachOfLine(own, demoCatalogue.frameDepthMm);
      expect(Math.min(...tubes!.map((t) => t.fromMm))).toBeGreaterThanOrEqual(reach.lowMm - 0.5);
      expect(Math.max(...tubes!.map((t) => t.toMm))).toBeLessThanOrEqual(reach.highMm + 0.5);
      expect(Math.max(...tubes!.map((t) => t.toMm))).toBeGreaterThanOrEqual(reach.needToMm - 0.5);
      for (const [i, t] of tubes!.slice(1).entries()) expect(t.fromMm).toBeLessThan(tubes![i]!.toMm);
    }
  });
});

describe('a planted fault', () => {
  it('of a brace is found: too far apart, head too low, foot in a wall, outside the excavation, one way, overloaded', () => {
    expect(ofBraces(braces)).toEqual([]);
    expect(ofBraces(braces.slice(1))).toContain('check.brace-spacing');
    expect(ofBraces(changed({ headMm: 900 }))).toContain('check.brace-head');
    const inside = lines.find((l) => l.run.id === first.run && l.face.id !== first.face)!.face.id;
    expect(ofBraces(changed({ face: inside, footOffsetMm: 9000 }))).toContain('check.brace-foot');
    expect(ofBraces(braces, ctx.catalogue, { freeOutsideMm: 1000 })).toContain('check.brace-foot');
    const weaker = (change: object) => ({
      ...ctx.catalogue,
      braces: ctx.catalogue.braces!.map((b) => ({ ...b, ...change })),
    });
    expect(ofBraces(braces, weaker({ pullKn: 0 }))).toContain('check.brace-one-way');
    expect(ofBraces(braces, weaker({ pushKn: 1 }))).toContain('check.brace-overload');
  });

  it('of an aligner is found: a row that is missing, a length that is missing, a top row too low', () => {
    const judged = (list: typeof aligners) => judgeAligners(ctx, lines, list, [], new Map()).map((f) => f.message);
    expect(judged(aligners)).toEqual([]);
    const top = Math.max(...aligners.map((a) => a.levelMm));
    expect(judged(aligners.filter((a) => a.levelMm < top)).join()).toContain('1 of 2 rows');
    expect(judged(aligners.slice(1)).join()).toContain('no aligner lies');
    expect(
      judged(aligners.map((a, i) => (i === 0 ? { ...a, fromMm: a.fromMm - 900, toMm: a.toMm - 900 } : a))).join(),
    ).toContain('beyond the forms');
    expect(judged(aligners.map((a) => (a.levelMm === top ? { ...a, levelMm: 2000 } : a))).join()).toContain('top row');
  });

  it('of a platform is found: an end rail, a mid rail, a bracket off the joints, the floor, the ladder', () => {
    expect(ofPlatforms(platforms)).toEqual([]);
    const with0 = (change: Partial<Platform>) => platforms.map((p, i) => (i === 0 ? { ...p, ...change } : p));
    expect(ofPlatforms(with0({ endRails: [false, false], joins: [null, null] })).join()).toContain('no end rail');
    expect(ofPlatforms(with0({ rails: { topMm: 1000, midMm: null, toeMm: 150 } })).join()).toContain('gap of 810');
    const [a, ...rest] = platforms[0]!.brackets;
    expect(ofPlatforms(with0({ brackets: [a! + 100, ...rest] })).join()).toContain('no joint of two panels');
    expect(ofPlatforms(with0({ levelMm: 500 })).join()).toContain('under the pour line');
    expect(ofPlatforms(platforms.map((p) => ({ ...p, ladderMm: null }))).join()).toContain('no ladder');
    expect(ofPlatforms([]).join()).toContain('has no platform');
  });
});

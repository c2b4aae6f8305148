/** What the check sees on curved walls: a sound layout passes, each fault put into it is found. */

import { describe, expect, it } from 'vitest';
import { type CheckInput, check } from '../../src/check/index.js';
import type { Layout, Piece, Result, RunDemand, Tie } from '../../src/ground/vocabulary.js';
import { curvedDxf, curvedWall, halfRound } from '../support/curvedSheet.js';
import { laidOut, layBytes } from '../support/lay.js';

const JOB = { levels: { footingMm: 0, topMm: 2400 } };
const lay = (marks: Parameters<typeof curvedDxf>[0]): Result => laidOut(layBytes(curvedDxf(marks), JOB)).result;
const BEND = curvedWall({ centre: { x: 0, y: 0 }, innerMm: 2500, thicknessMm: 250, fromDeg: 0, byDeg: 100 });

/** The layout again under the check alone, with a change; loads are left out. */
const again = (result: Result, change: (layout: Layout) => Layout, chordMostMm = 10): string[] => {
  const input: CheckInput = {
    plan: result.plan,
    catalogue: result.catalogue,
    layout: change(result.layout),
    demands: new Map<string, RunDemand>(),
    pressure: new Map(),
    chordMostMm,
  };
  return check(input)
    .findings.filter((f) => f.code === 'check.curve')
    .map((f) => f.message);
};

const pieces =
  (change: (p: Piece, i: number) => Piece) =>
  (layout: Layout): Layout => ({
    ...layout,
    pieces: layout.pieces.map(change),
  });

describe('forms on a curve', () => {
  const result = lay(BEND);
  const isForm = (p: Piece) => p.kind === 'panel';
  const third = result.layout.pieces.filter(isForm)[2]!;

  it('are sound as laid out', () => {
    expect(again(result, (l) => l)).toEqual([]);
    expect(again(lay(halfRound(2000, 200, 1500)), (l) => l)).toEqual([]);
  });

  it('leave the arc too far for a smaller versine', () => {
    const found = again(result, (l) => l, 3);
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]).toContain('leaves the arc');
  });

  it('collide when one is moved along', () => {
    const moved = pieces((p) =>
      p.id === third.id
        ? { ...p, covers: p.covers.map((c) => ({ ...c, fromMm: c.fromMm + 25, toMm: c.toMm + 25 })) }
        : p,
    );
    const found = again(result, moved).join('\n');
    expect(found).toContain('overlap by');
    expect(found).toContain('has no form opposite it');
    expect(found).toContain('wide at the concrete');
  });

  it('have fill of another size', () => {
    const wide = pieces((p) => (p.taper ? { ...p, taper: { ...p.taper, backMm: p.taper.backMm + 2 } } : p));
    const count = result.layout.pieces.filter((p) => p.taper).length;
    expect(again(result, wide).length).toBe(count);
  });

  it('have no fill', () => {
    const bare = (layout: Layout): Layout => ({ ...layout, pieces: layout.pieces.filter((p) => !p.taper) });
    expect(again(result, bare).every((m) => m.includes('there is no fill'))).toBe(true);
  });

  it('have a tie that does not pass square', () => {
    const skew = (layout: Layout): Layout => ({
      ...layout,
      ties: layout.ties.map((t, i): Tie => (i === 0 ? { ...t, holes: [t.holes[0], t.holes[0]] } : t)),
    });
    expect(again(result, skew).join()).toContain('degrees off square');
  });

  it('reach past the end where a straight wall goes on', () => {
    const room = lay(halfRound(2000, 200, 1500));
    const curve = room.plan.walls.find((w) => w.arc)!;
    const first = room.layout.pieces.find((p) => isForm(p) && p.covers[0]!.face === `${curve.id}-L`)!;
    const back = pieces((p) =>
      p.id === first.id
        ? { ...p, covers: p.covers.map((c) => ({ ...c, fromMm: c.fromMm - 20, toMm: c.toMm - 20 })) }
        : p,
    );
    expect(again(room, back).join('\n')).toContain('past the end of wall');
  });
});

/** Where openings may be: in breaks between walls in line, and under signs that lie on walls. mm. */

import { distance, sub, unit, type Vec } from '../ground/plane.js';
import { roundTo } from '../ground/units.js';
import type { WallStretch } from '../ground/vocabulary.js';
import { awayFrom, bodyOf, boxOf, type Gap, gapsOf, type LocalBox, localOf, worldAt } from './gaps.js';
import { overlap, union } from './intervals.js';
import type { OpeningKind, OpeningSign } from './openingSigns.js';

/** Breaks wider than this are two walls, whatever stands between. A double garage's door is about 5 m. *Practice, no source.* */
const WIDEST_MM = 6500;
const NARROWEST_MM = 250;
/** Signs may stand out of the wall's ends by this much: frames and jambs. */
const FRAME_MM = 150;
/** Linework of a window may stand out of the faces by this much: sills. */
const SILL_MM = 30;

const PLACES = 4;
/** Without the noise of turning and shifting. */
export const tidy = (p: Vec): Vec => ({ x: roundTo(p.x, PLACES), y: roundTo(p.y, PLACES) });

interface Drawn {
  readonly stretches: readonly WallStretch[];
  readonly signs: readonly OpeningSign[];
}

/** An opening before it is known what it is: in a break, or within a stretch. */
export interface Candidate {
  readonly from: Vec;
  readonly to: Vec;
  readonly thicknessMm: number;
  readonly gap: Gap | null;
  readonly kind: OpeningKind | null;
  readonly signs: readonly OpeningSign[];
}

/** Does a sign lie in the break or the part of the wall? Local box of the part; the sign's middle along the wall decides. */
const isIn = (axes: { readonly from: Vec; readonly u: Vec }, part: LocalBox, sign: OpeningSign): boolean => {
  const box = boxOf(axes, sign.points);
  const along = overlap({ a: box.u0, b: box.u1 + 1e-6 }, { a: part.u0 - FRAME_MM, b: part.u1 + FRAME_MM });
  if (!along) return false;
  if (box.v1 < part.v0 || box.v0 > part.v1) return false;
  const width = part.u1 - part.u0;
  const middleAt = (box.u0 + box.u1) / 2;
  return (
    middleAt >= part.u0 - FRAME_MM && middleAt <= part.u1 + FRAME_MM && box.u1 - box.u0 <= width + 2 * FRAME_MM + 400
  );
};

export const inBreaks = (input: Drawn): Candidate[] => {
  // Half a stretch's length and its middle: most walls are told to be far from a break by these alone.
  const reach = input.stretches.map((s) => ({
    at: { x: (s.start.x + s.end.x) / 2, y: (s.start.y + s.end.y) / 2 },
    mm: distance(s.start, s.end) / 2 + s.thicknessMm,
  }));
  return gapsOf(input.stretches, WIDEST_MM).flatMap((gap) => {
    if (gap.widthMm < NARROWEST_MM) return [];
    const half = gap.thicknessMm / 2;
    const part = { u0: 0, u1: gap.widthMm, v0: -half, v1: half };
    const crossed = input.stretches.some((s, k) => {
      if (k === gap.before || k === gap.after) return false;
      const r = reach[k]!;
      if (distance(r.at, gap.from) > r.mm + gap.widthMm + gap.thicknessMm) return false;
      const body = boxOf(gap, bodyOf(s));
      return body.u1 > 1 && body.u0 < gap.widthMm - 1 && body.v1 > -half + 1 && body.v0 < half - 1;
    });
    if (crossed) return [];
    const signs = input.signs.filter((s) => isIn(gap, part, s));
    const kinds = signs.map((s) => s.kind);
    const kind = kinds.includes('door') ? 'door' : (kinds[0] ?? null);
    // A break that no line closes at one of its ends is rather a junction or a wall that was not found.
    const capped = input.stretches[gap.before]!.endCapped && input.stretches[gap.after]!.startCapped;
    return capped || kind !== null
      ? [{ from: gap.from, to: gap.to, thicknessMm: gap.thicknessMm, gap, kind, signs }]
      : [];
  });
};

/** How far a place is from the nearest break between walls in line, mm; infinite where there is none. */
export const awayFromBreaks = (stretches: readonly WallStretch[]): ((p: Vec) => number) => {
  const breaks = inBreaks({ stretches, signs: [] });
  return (p) => Math.min(...breaks.map((c) => awayFrom(p, c)));
};

/** Signs that lie within a wall whose faces run through. */
export const withinWalls = (input: Drawn): Candidate[] =>
  input.stretches.flatMap((s) => {
    const axes = { from: s.start, u: unit(sub(s.end, s.start)) };
    const lengthMm = distance(s.start, s.end);
    const half = s.thicknessMm / 2;
    const found = input.signs.flatMap((sign) => {
      const box = boxOf(axes, sign.points);
      const inBody = box.v0 >= -half - SILL_MM && box.v1 <= half + SILL_MM;
      // A door's leaf swings out of the wall: its block is in the wall when its own insertion point is.
      const swings = sign.from === 'block' && Math.abs(localOf(axes, sign.points[0]!).y) <= half + FRAME_MM;
      if (!inBody && !swings) return [];
      const part = overlap({ a: Math.max(0, box.u0), b: Math.min(lengthMm, box.u1) }, { a: 0, b: lengthMm });
      return part && part.b - part.a >= NARROWEST_MM && box.u0 >= -FRAME_MM && box.u1 <= lengthMm + FRAME_MM
        ? [{ part, sign }]
        : [];
    });
    return union(
      found.map((f) => f.part),
      100,
    ).flatMap((part) => {
      if (part.b - part.a > WIDEST_MM) return [];
      const signs = found.filter((f) => overlap(f.part, part)).map((f) => f.sign);
      const kind = signs.some((x) => x.kind === 'door') ? 'door' : signs[0]!.kind;
      return [
        {
          from: tidy(worldAt(axes, part.a, 0)),
          to: tidy(worldAt(axes, part.b, 0)),
          thicknessMm: s.thicknessMm,
          gap: null,
          kind,
          signs,
        },
      ];
    });
  });

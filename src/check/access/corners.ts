/**
 * Platforms that meet in an inner angle of the concrete. The floor of one lies over the end of the other's (29 CFR 1926.451(b)(8): where a platform turns,
 * the second is laid on the first), the guards of both end where they meet, and what stays open between the two floors and the forms is closed by a deck.
 */

import { FLOOR_OUT_MM } from '../../ground/siteSizes.js';
import type { Catalogue, CornerDeck, Platform, SmallPart, Vertex } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';

/** Floors at one level, within this. */
const LEVEL_MM = 50;
/** A deck lies on each floor by this: 12 in, the lap of planks over a support, 29 CFR 1926.451(b)(7). *From memory.* */
const DECK_LAP_MM = 304.8;
/** Smaller than this, mm, there is no hole. Common practice, no source. */
const HOLE_LEAST_MM = 25;

export type Floor = Pick<Platform, 'face' | 'fromMm' | 'toMm' | 'levelMm' | 'widthMm'>;

export interface Corner {
  readonly vertex: Vertex;
  /** Places of the two platforms, the ends that meet, and how far each floor ends from the vertex. */
  readonly a: number;
  readonly b: number;
  readonly endA: 0 | 1;
  readonly endB: 0 | 1;
  readonly offA: number;
  readonly offB: number;
}

/** From the vertex along either face to where two lines meet that lie this far out of the two: t = d / tan(half of the angle between them). */
export const meetAt = ({ deflectionDeg }: Vertex, outMm: number): number =>
  outMm / Math.tan((((180 - deflectionDeg) / 2) * Math.PI) / 180);

/** Pairs of platforms that meet in an inner angle: the floor of each reaches over the end of the other's. */
export const cornersOf = (ctx: Context, made: readonly Floor[]): Corner[] => {
  const deep = ctx.catalogue.frameDepthMm;
  return ctx.plan.vertices
    .filter((v) => v.kind === 're-entrant')
    .flatMap((vertex): Corner[] => {
      const ends = vertex.arms.map((arm) => {
        const end: 0 | 1 = arm.direction === 1 ? 0 : 1;
        const found = made
          .map((p, i) => ({ p, i, off: end === 0 ? p.fromMm - arm.stationMm : arm.stationMm - p.toMm }))
          .filter(({ p, off }) => {
            const face = ctx.faces.get(p.face);
            return face?.wall === arm.wall && face.side === arm.side && off >= 0 && off <= deep + p.widthMm;
          })
          .sort((x, y) => x.off - y.off)[0];
        return found ? { ...found, end } : null;
      });
      const [x, y] = ends;
      if (!x || !y || Math.abs(x.p.levelMm - y.p.levelMm) > LEVEL_MM) return [];
      const isNear = x.off <= deep + y.p.widthMm && y.off <= deep + x.p.widthMm;
      return isNear ? [{ vertex, a: x.i, b: y.i, endA: x.end, endB: y.end, offA: x.off, offB: y.off }] : [];
    });
};

/** Stations over which the guard along each floor stands: as long as the floor, at a corner as far as the other floor's outer edge. */
export const guardsOf = (
  ctx: Context,
  made: readonly Floor[],
  corners: readonly Corner[],
): (readonly [number, number])[] => {
  const guards = made.map((p): [number, number] => [p.fromMm, p.toMm]);
  for (const { vertex, a, b, endA, endB } of corners) {
    const cut = (own: number, end: 0 | 1, other: number, arm: 0 | 1): void => {
      const { stationMm, direction } = vertex.arms[arm];
      const away = meetAt(vertex, ctx.catalogue.frameDepthMm + FLOOR_OUT_MM + made[other]!.widthMm);
      const at = stationMm + direction * away;
      const guard = guards[own]!;
      guard[end] = end === 0 ? Math.min(Math.max(guard[0], at), guard[1]) : Math.max(Math.min(guard[1], at), guard[0]);
    };
    cut(a, endA, b, 0);
    cut(b, endB, a, 1);
  }
  return guards;
};

/** Planks of one length side by side over a deck, along the face along which fewer are needed, then shorter ones: whichever face is called the first. */
const planksOf = ([alongA, alongB]: readonly [number, number], { planks = [] }: Catalogue): SmallPart[] => {
  const rising = [...planks].sort((x, y) => x.lengthMm - y.lengthMm);
  const laid = (longMm: number, wideMm: number) => {
    const plank = rising.find((p) => p.lengthMm >= longMm - 1) ?? rising.at(-1);
    const isShort = Number(plank !== undefined && plank.lengthMm < longMm - 1);
    return plank ? [{ plank, count: Math.ceil(wideMm / plank.widthMm - 1e-6), isShort }] : [];
  };
  const [least] = [...laid(alongA, alongB), ...laid(alongB, alongA)].sort(
    (x, y) => x.isShort - y.isShort || x.count - y.count || x.plank.lengthMm - y.plank.lengthMm,
  );
  return least ? [{ item: least.plank.id, kind: 'plank', count: least.count }] : [];
};

/** The decks of those corners in which a hole stays open. `nameOf`: of the platforms. */
export const decksOf = (
  ctx: Context,
  made: readonly Floor[],
  corners: readonly Corner[],
  nameOf: (index: number) => string,
): CornerDeck[] => {
  const inner = ctx.catalogue.frameDepthMm + FLOOR_OUT_MM;
  const decks = corners.flatMap((c): Omit<CornerDeck, 'id'>[] => {
    const corner = meetAt(c.vertex, inner);
    const hole: [number, number] = [c.offA - corner, c.offB - corner];
    if (hole.some((mm) => mm < HOLE_LEAST_MM)) return [];
    const size = [hole[0] + DECK_LAP_MM, hole[1] + DECK_LAP_MM] as const;
    return [
      {
        platforms: [nameOf(c.a), nameOf(c.b)],
        face: made[c.a]!.face,
        vertex: c.vertex.id,
        levelMm: Math.max(made[c.a]!.levelMm, made[c.b]!.levelMm),
        holeMm: hole,
        sizeMm: size,
        parts: planksOf(size, ctx.catalogue),
      },
    ];
  });
  return decks.map((d, i) => ({ id: `CD${i + 1}`, ...d }));
};

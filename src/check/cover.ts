/** Rule T1: between footing and pour line each face is covered once, with no gap and no overlap, and nothing stands in another wall. */

import { type Finding, finding } from '../ground/findings.js';
import { type FaceOverLower, facesOverLower } from '../ground/overLower.js';
import { COVER_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Cover, Face, LevelBand, Side } from '../ground/vocabulary.js';
import { type Context, type PlacedCover, placeOn } from './context.js';

type Interval = readonly [number, number];

/** a without b; pieces of at most COVER_MM are dropped. */
const without = (a: readonly Interval[], b: readonly Interval[]): Interval[] => {
  let rest: Interval[] = [...a];
  for (const [from, to] of b) {
    rest = rest.flatMap(([x, y]): Interval[] => {
      const low: Interval = [x, Math.min(y, from)];
      const high: Interval = [Math.max(x, to), y];
      return to <= x || from >= y ? [[x, y]] : [low, high];
    });
  }
  return rest.filter(([x, y]) => y - x > COVER_MM).sort((p, q) => p[0] - q[0]);
};

/** Where a stem or a pilaster interrupts a face. */
type Mouth = { readonly side: Side; readonly fromMm: number; readonly toMm: number };

const mouthsOf = (ctx: Context, wall: string): Mouth[] =>
  (ctx.runsOf.get(wall) ?? []).flatMap((r) => [...r.stems, ...(r.pilasters ?? [])]);

/** Stations of a face where concrete stands over the whole of a level band. */
const concreteAt = (
  face: Face,
  mouths: readonly Mouth[],
  base: readonly LevelBand[],
  top: readonly LevelBand[],
  low: number,
  high: number,
): Interval[] => {
  const along: Interval[] =
    face.side !== 'left' && face.side !== 'right'
      ? [[face.fromMm, face.toMm]]
      : without(
          [[face.fromMm, face.toMm]],
          mouths.filter((s) => s.side === face.side).map((s) => [s.fromMm, s.toMm]),
        );
  const cut = (bands: readonly LevelBand[], holds: (levelMm: number) => boolean): Interval[] =>
    bands.filter((b) => !holds(b.levelMm)).map((b): Interval => [b.fromMm, b.toMm]);
  return without(along, [...cut(base, (z) => z <= low + COVER_MM), ...cut(top, (z) => z >= high - COVER_MM)]);
};

/** The bands of a face across a wall's end or of a pilaster: the level at that place of the wall, over the whole face. */
const bandsOf = (face: Face, bands: readonly LevelBand[]): LevelBand[] => {
  if (face.side === 'left' || face.side === 'right') return [...bands];
  const sorted = [...bands].sort((a, b) => a.fromMm - b.fromMm);
  const { stands } = face;
  if (stands) {
    const own = sorted.filter((b) => b.fromMm <= stands.stationMm && b.toMm >= stands.stationMm);
    return own.slice(-1).map((b) => ({ fromMm: face.fromMm, toMm: face.toMm, levelMm: b.levelMm }));
  }
  const band = face.side === 'start' ? sorted[0] : sorted[sorted.length - 1];
  return band ? [{ ...band, fromMm: face.fromMm, toMm: face.toMm }] : [];
};

const span = ([a, b]: Interval): string => `${plainNumber(a, 1)} to ${plainNumber(b, 1)}`;

const placeOfFace = (ctx: Context, face: Face, stationMm: number, levelMm: number) => {
  const wall = ctx.walls.get(face.wall);
  if (face.stands) return placeOn(ctx, face.wall, null, face.stands.stationMm, levelMm);
  if (face.side === 'start') return placeOn(ctx, face.wall, null, 0, levelMm);
  if (face.side === 'end') return placeOn(ctx, face.wall, null, wall?.lengthMm ?? 0, levelMm);
  return placeOn(ctx, face.wall, face.side as Side, stationMm, levelMm);
};

/** The concrete of a higher wall over a lower one in the plane of a face. */
const oversOn = (ctx: Context, face: Face): FaceOverLower[] =>
  facesOverLower(ctx.plan).filter((o) => o.wall === face.wall && o.side === face.side);

const gapFindings = (ctx: Context, face: Face, covers: readonly PlacedCover[]): Finding[] => {
  const wall = ctx.walls.get(face.wall);
  const runs = ctx.runsOf.get(face.wall);
  if (!wall || !runs) return [];
  const stems = mouthsOf(ctx, face.wall);
  const [base, top] = [bandsOf(face, wall.base), bandsOf(face, wall.top)];
  const over = oversOn(ctx, face);
  const all = [...[...base, ...top].map((b) => b.levelMm), ...over.flatMap((o) => [o.lowMm, o.highMm])];
  const levels = [...all, ...covers.flatMap(({ cover }) => [cover.baseMm, cover.topMm])].sort((a, b) => a - b);
  /** Gaps of the band below, still growing upwards. */
  let open: { gap: Interval; low: number; high: number }[] = [];
  const done: typeof open = [];
  for (let i = 0; i + 1 < levels.length; i++) {
    const [low, high] = [levels[i]!, levels[i + 1]!];
    if (high - low <= COVER_MM) continue;
    const above = over.filter((o) => o.lowMm <= low + COVER_MM && o.highMm >= high - COVER_MM);
    const need = [
      ...concreteAt(face, stems, base, top, low, high),
      ...above.map((o): Interval => [o.fromMm, o.toMm]),
    ].sort((a, b) => a[0] - b[0]);
    const has = covers
      .filter(({ cover }) => cover.baseMm <= low + COVER_MM && cover.topMm >= high - COVER_MM)
      .map(({ cover }): Interval => [cover.fromMm, cover.toMm]);
    const next = without(need, has).map((gap) => {
      const below = open.find((o) => Math.abs(o.gap[0] - gap[0]) < 1e-6 && Math.abs(o.gap[1] - gap[1]) < 1e-6);
      return { gap, low: below?.low ?? low, high };
    });
    done.push(...open.filter((o) => !next.some((n) => n.low === o.low && n.gap[0] === o.gap[0])));
    open = next;
  }
  return [...done, ...open].map(({ gap, low, high }) => {
    const message = `Face ${face.id} has no form at stations ${span(gap)}, levels ${span([low, high])}.`;
    const at = placeOfFace(ctx, face, (gap[0] + gap[1]) / 2, low);
    return finding('check.cover-gap', message, { at, subject: face.id });
  });
};

const overlapFindings = (ctx: Context, face: Face, covers: readonly PlacedCover[]): Finding[] => {
  const found: Finding[] = [];
  covers.forEach((a, i) => {
    for (const b of covers.slice(i + 1)) {
      if (b.cover.fromMm >= a.cover.toMm - COVER_MM) break;
      const low = Math.max(a.cover.baseMm, b.cover.baseMm);
      const high = Math.min(a.cover.topMm, b.cover.topMm);
      if (high - low <= COVER_MM || b.cover.toMm - b.cover.fromMm <= COVER_MM) continue;
      const both: Interval = [b.cover.fromMm, Math.min(a.cover.toMm, b.cover.toMm)];
      const message = `Pieces ${a.piece.id} and ${b.piece.id} overlap on face ${face.id} at stations ${span(both)}.`;
      const at = placeOfFace(ctx, face, both[0], low);
      found.push(finding('check.cover-overlap', message, { at, subject: b.piece.id }));
    }
  });
  return found;
};

/** Pieces that stand past a vertex or within a stem, where concrete or another wall's forms are. */
const intrusions = (ctx: Context, face: Face, covers: readonly PlacedCover[]): Finding[] => {
  const runs = ctx.runsOf.get(face.wall) ?? [];
  const [first, last] = [runs[0], runs[runs.length - 1]];
  if (!first || !last || (face.side !== 'left' && face.side !== 'right')) return [];
  const stems = mouthsOf(ctx, face.wall);
  const solid: Interval[] = stems.filter((s) => s.side === face.side).map((s) => [s.fromMm, s.toMm]);
  const closed = (end: { kind: string }) => end.kind === 'corner' || end.kind === 'stem';
  if (closed(first.start)) solid.push([Number.NEGATIVE_INFINITY, face.fromMm]);
  if (closed(last.end)) solid.push([face.toMm, Number.POSITIVE_INFINITY]);
  const over = oversOn(ctx, face);
  const standsOver = (cover: Cover): boolean =>
    over.some(
      (o) =>
        cover.baseMm >= o.lowMm - COVER_MM && cover.fromMm >= o.fromMm - COVER_MM && cover.toMm <= o.toMm + COVER_MM,
    );
  return covers.flatMap(({ piece, cover }) => {
    if (standsOver(cover)) return [];
    const hit = solid.find(([a, b]) => Math.min(cover.toMm, b) - Math.max(cover.fromMm, a) > COVER_MM);
    if (!hit) return [];
    const message = `Piece ${piece.id} at stations ${span([cover.fromMm, cover.toMm])} of face ${face.id} stands where another wall is, or a pilaster.`;
    const at = placeOfFace(ctx, face, cover.fromMm, cover.baseMm);
    return [finding('check.cover-overlap', message, { at, subject: piece.id })];
  });
};

/**
 * Forms that stand deeper than the footing below them: at a step the upper footing is in their way (rule T9), where it was measured its highest place.
 * What closes the gap under them is cut to the footing.
 */
const sunken = (ctx: Context, face: Face, covers: readonly PlacedCover[]): Finding[] => {
  const base = bandsOf(face, ctx.walls.get(face.wall)?.base ?? []);
  return covers.flatMap(({ piece, cover }) => {
    const standsOn = (b: LevelBand) => (piece.course === 0 ? b.levelMm : (b.highMm ?? b.levelMm));
    const hit = base.find(
      (b) =>
        cover.baseMm < standsOn(b) - COVER_MM &&
        Math.min(cover.toMm, b.toMm) - Math.max(cover.fromMm, b.fromMm) > COVER_MM,
    );
    if (!hit) return [];
    const message = `Piece ${piece.id} of face ${face.id} stands at level ${plainNumber(cover.baseMm, 1)}, where the footing is at ${plainNumber(standsOn(hit), 1)}.`;
    const at = placeOfFace(ctx, face, (cover.fromMm + cover.toMm) / 2, cover.baseMm);
    return [finding('check.below-footing', message, { at, subject: piece.id })];
  });
};

/** Gaps, overlaps and intrusions of every face that has a run. */
export const coverFindings = (ctx: Context): Finding[] =>
  ctx.plan.faces.flatMap((face) => {
    const covers = ctx.covers.get(face.id) ?? [];
    return [
      ...gapFindings(ctx, face, covers),
      ...overlapFindings(ctx, face, covers),
      ...intrusions(ctx, face, covers),
      ...sunken(ctx, face, covers),
    ];
  });

/**
 * Pilasters that units of the yard close: wide ones, for whose thickness it has ties, are walls of their own between two changes of thickness, so that
 * inside corners or posts stand in their angles, forms on their front, and ties pass them (rules T21, T22). All others stay pilasters.
 */

import { byNumber } from '../ground/order.js';
import { add, cross, distance, dot, leftOf, scale, sub, unit, type Vec } from '../ground/plane.js';
import type { FaceLine, Foundation, Pilaster, WallStretch } from '../ground/vocabulary.js';

/** What the yard asks of a pilaster that is to be formed as a wall, mm. */
export interface ThickeningRules {
  /** Deep enough for a corner unit in its angles. */
  readonly leastDepthMm: number;
  /** Wide enough for forms that are tied near both of its edges. */
  readonly leastWidthMm: number;
  /** Wider than this no single unit stands opposite: then it is a wall even where a post fills its angles. */
  readonly widestBoxMm: number;
  /** Wall left on either side. */
  readonly besideMm: number;
  readonly hasTie: (thicknessMm: number) => boolean;
}

/**
 * Walls of their own couple the legs of all walls round a room. Where there are more than these that a box closes as well, all of those are boxes: the
 * search takes minutes with a row of them.
 */
const WALLS_MOST = 2;

/** The place of a pilaster fits its stretch within this. */
const SLACK_MM = 3;

interface Placed {
  readonly pilaster: Pilaster;
  /** Along the stretch. */
  readonly fromMm: number;
  readonly toMm: number;
  /** +1: on the left. */
  readonly side: 1 | -1;
}

const placeOn = (s: WallStretch, pilaster: Pilaster): Placed | null => {
  const lengthMm = distance(s.start, s.end);
  if (pilaster.inCorner || !(lengthMm > 0)) return null;
  const u = unit(sub(s.end, s.start));
  const away = sub(pilaster.at, s.start);
  const across = cross(u, away);
  const along = dot(away, u);
  const fromMm = along - pilaster.widthMm / 2;
  const toMm = along + pilaster.widthMm / 2;
  const off = Math.abs(Math.abs(across) - s.thicknessMm / 2 - pilaster.projectionMm);
  if (!(off <= SLACK_MM && fromMm >= 0 && toMm <= lengthMm)) return null;
  return { pilaster, fromMm, toMm, side: across > 0 ? 1 : -1 };
};

/** Pilasters at one place: one, or one on either face with the same edges. */
interface Thickening {
  readonly fromMm: number;
  readonly toMm: number;
  readonly leftMm: number;
  readonly rightMm: number;
  readonly pilasters: readonly Pilaster[];
}

const isSame = (a: number, b: number): boolean => Math.abs(a - b) <= SLACK_MM;

const gathered = (placed: readonly Placed[]): Thickening[] | null => {
  const found: Thickening[] = [];
  for (const { pilaster, fromMm, toMm, side } of placed) {
    const own = { leftMm: side === 1 ? pilaster.projectionMm : 0, rightMm: side === 1 ? 0 : pilaster.projectionMm };
    const last = found.at(-1);
    if (!last || fromMm >= last.toMm) found.push({ fromMm, toMm, ...own, pilasters: [pilaster] });
    else if (
      isSame(last.fromMm, fromMm) &&
      isSame(last.toMm, toMm) &&
      last.leftMm * own.leftMm + last.rightMm * own.rightMm === 0
    )
      found[found.length - 1] = {
        ...last,
        leftMm: last.leftMm + own.leftMm,
        rightMm: last.rightMm + own.rightMm,
        pilasters: [...last.pilasters, pilaster],
      };
    // Where they overlap otherwise each stays what it is.
    else return null;
  }
  return found;
};

const isWide = (t: Thickening, rules: ThickeningRules): boolean =>
  t.toMm - t.fromMm > rules.widestBoxMm && t.pilasters.length === 1;

const isWall = (t: Thickening, thicknessMm: number, rules: ThickeningRules): boolean => {
  const widthMm = t.toMm - t.fromMm;
  const depths = [t.leftMm, t.rightMm].filter((mm) => mm > 0);
  if (!rules.hasTie(thicknessMm + t.leftMm + t.rightMm) || widthMm < rules.leastWidthMm) return false;
  return isWide(t, rules) || depths.every((mm) => mm >= rules.leastDepthMm);
};

const split = (s: WallStretch, walls: readonly Thickening[]): WallStretch[] => {
  const u = unit(sub(s.end, s.start));
  const at = (alongMm: number, offsetMm = 0): Vec => add(s.start, add(scale(u, alongMm), scale(leftOf(u), offsetMm)));
  const parts: WallStretch[] = [];
  let start = s.start;
  let startCapped = s.startCapped;
  for (const w of walls) {
    const offset = (w.leftMm - w.rightMm) / 2;
    const sources = [...new Set([...s.sources, ...w.pilasters.flatMap((p) => p.sources)])].sort();
    parts.push({ ...s, start, startCapped, end: at(w.fromMm), endCapped: false });
    parts.push({
      start: at(w.fromMm, offset),
      end: at(w.toMm, offset),
      thicknessMm: s.thicknessMm + w.leftMm + w.rightMm,
      startCapped: false,
      endCapped: false,
      sources,
    });
    start = at(w.toMm);
    startCapped = false;
  }
  return [...parts, { ...s, start, startCapped }];
};

/** Lines of the wall's face end at the pilaster, whose outline takes their place. */
const outlined = (lines: readonly FaceLine[], s: WallStretch, w: Thickening): FaceLine[] => {
  const u = unit(sub(s.end, s.start));
  const half = s.thicknessMm / 2;
  const point = (alongMm: number, offsetMm: number): Vec =>
    add(s.start, add(scale(u, alongMm), scale(leftOf(u), offsetMm)));
  return ([1, -1] as const).reduce<FaceLine[]>(
    (kept, side) => {
      const depthMm = side === 1 ? w.leftMm : w.rightMm;
      if (depthMm === 0) return kept;
      const [face, front] = [side * half, side * (half + depthMm)];
      const cut = kept.flatMap((line): FaceLine[] => {
        const ends = [line.from, line.to].map((p) => ({
          p,
          along: dot(sub(p, s.start), u),
          off: cross(u, sub(p, s.start)),
        }));
        if (ends.some((e) => !isSame(e.off, face))) return [line];
        const [low, high] = ends.sort(byNumber((e) => e.along)) as [(typeof ends)[0], (typeof ends)[0]];
        if (high.along <= w.fromMm || low.along >= w.toMm) return [line];
        const before = { ...line, from: low.p, to: point(w.fromMm, face) };
        const after = { ...line, from: point(w.toMm, face), to: high.p };
        return [
          ...(low.along < w.fromMm - SLACK_MM ? [before] : []),
          ...(high.along > w.toMm + SLACK_MM ? [after] : []),
        ];
      });
      const source = w.pilasters.flatMap((p) => p.sources)[0] ?? s.sources[0] ?? '';
      const outline: [Vec, Vec][] = [
        [point(w.fromMm, face), point(w.fromMm, front)],
        [point(w.fromMm, front), point(w.toMm, front)],
        [point(w.toMm, face), point(w.toMm, front)],
      ];
      return [...cut, ...outline.map(([from, to]) => ({ from, to, source }))];
    },
    [...lines],
  );
};

/** The walls that pilasters on one stretch are to be. */
const wallsOn = (s: WallStretch, pilasters: readonly Pilaster[], rules: ThickeningRules): Thickening[] => {
  const placed = pilasters.flatMap((p) => placeOn(s, p) ?? []).sort((a, b) => a.fromMm - b.fromMm || a.side - b.side);
  const all = gathered(placed) ?? [];
  return all.filter((t, i) => {
    const low = all[i - 1]?.toMm ?? 0;
    const high = all[i + 1]?.fromMm ?? distance(s.start, s.end);
    const hasRoom = t.fromMm - low >= rules.besideMm && high - t.toMm >= rules.besideMm;
    return hasRoom && isWall(t, s.thicknessMm, rules);
  });
};

/** The foundation with such pilasters as stretches of wall. */
export const withThickenings = (foundation: Foundation, rules: ThickeningRules): Foundation => {
  const { stretches, pilasters } = foundation;
  // Each belongs to one stretch, the first on which it stands.
  const isOn = (p: Pilaster, s: WallStretch) => stretches.find((x) => placeOn(x, p)) === s;
  const found = stretches.map((s) =>
    wallsOn(
      s,
      pilasters.filter((p) => isOn(p, s)),
      rules,
    ),
  );
  const boxable = found.flat().filter((t) => !isWide(t, rules)).length;
  const chosen = found.map((walls) => walls.filter((t) => isWide(t, rules) || boxable <= WALLS_MOST));
  if (chosen.every((walls) => walls.length === 0)) return foundation;
  const taken = new Set(chosen.flat().flatMap((t) => t.pilasters));
  return {
    ...foundation,
    stretches: stretches.flatMap((s, i) => (chosen[i]!.length === 0 ? [s] : split(s, chosen[i]!))),
    faceLines: stretches.reduce<readonly FaceLine[]>(
      (lines, s, i) => chosen[i]!.reduce<readonly FaceLine[]>((kept, w) => outlined(kept, s, w), lines),
      foundation.faceLines,
    ),
    pilasters: pilasters.filter((p) => !taken.has(p)),
  };
};

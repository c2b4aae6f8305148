/** The wall that a note is for: the nearest one, and stations along all that is in line with it. */

import { grouping } from '../../ground/groups.js';
import { compareVectors } from '../../ground/order.js';
import { cross, distance, dot, sub, unit, type Vec } from '../../ground/plane.js';
import { PARALLEL_RAD } from '../../ground/tolerance.js';
import { roundTo } from '../../ground/units.js';
import type { WallCurve, WallStretch } from '../../ground/vocabulary.js';

export interface Foot {
  readonly host: Host;
  /** On the wall's axis, mm. */
  readonly at: Vec;
  /** From the wall's body; 0 in it. */
  readonly awayMm: number;
  /** Along the line of walls that this one is in. */
  readonly stationMm: number;
}

export interface Host {
  /** Walls in one line, of one thickness, parted by no more than an opening, share one number. */
  readonly line: number;
  readonly thicknessMm: number;
  /** Station at which it begins. */
  readonly fromMm: number;
  readonly lengthMm: number;
  readonly sources: readonly string[];
  readonly footOf: (p: Vec) => Foot;
  /** The point of the axis at a station of the line, kept within the wall and away from its ends. */
  readonly pointAt: (stationMm: number) => Vec;
  /** Direction of the axis at a station. */
  readonly directionAt: (stationMm: number) => Vec;
}

/** Offsets and gaps within which stretches are one line of wall, mm. *Practice, no source.* */
const IN_LINE_MM = 10;
const SAME_THICKNESS_MM = 3;
const GAP_MOST_MM = 2500;
/** A level is placed at least this far from the ends of its wall, where other walls begin. */
const FROM_END_MM = 300;

const clamp = (v: number, a: number, b: number): number => Math.max(a, Math.min(b, v));
/** Keeps a station off both ends, or in the middle of what is too short. */
const inside = (s: number, from: number, to: number): number => {
  const off = Math.min(FROM_END_MM, (to - from) / 2);
  return clamp(s, from + off, to - off);
};

const rounded = (p: Vec): Vec => ({ x: roundTo(p.x, 4), y: roundTo(p.y, 4) });

const inLine = (a: WallStretch, b: WallStretch): boolean => {
  if (Math.abs(a.thicknessMm - b.thicknessMm) > SAME_THICKNESS_MM) return false;
  const u = unit(sub(a.end, a.start));
  const v = unit(sub(b.end, b.start));
  if (Math.abs(cross(u, v)) > PARALLEL_RAD) return false;
  if (Math.abs(cross(u, sub(b.start, a.start))) > IN_LINE_MM || Math.abs(cross(u, sub(b.end, a.start))) > IN_LINE_MM)
    return false;
  const length = distance(a.start, a.end);
  const s = [dot(sub(b.start, a.start), u), dot(sub(b.end, a.start), u)];
  return Math.min(...s) - length <= GAP_MOST_MM && -Math.max(...s) <= GAP_MOST_MM;
};

/** Number of the line for each stretch: the lowest index among those that it is joined to. */
const linesOf = (walls: readonly WallStretch[]): number[] => {
  const { connect, lowestOf } = grouping(walls.length);
  for (let i = 0; i < walls.length; i++)
    for (let k = i + 1; k < walls.length; k++)
      if (lowestOf(i) !== lowestOf(k) && inLine(walls[i]!, walls[k]!)) connect(i, k);
  return walls.map((_, i) => lowestOf(i));
};

const straight = (wall: WallStretch, line: number, first: WallStretch): Host => {
  const u = unit(sub(first.end, first.start));
  const origin = first.start;
  const ends = [dot(sub(wall.start, origin), u), dot(sub(wall.end, origin), u)];
  const from = Math.min(...ends);
  const to = Math.max(...ends);
  const axisAt = (s: number): Vec => {
    const k = to === from ? 0 : (s - ends[0]!) / (ends[1]! - ends[0]!);
    return { x: wall.start.x + (wall.end.x - wall.start.x) * k, y: wall.start.y + (wall.end.y - wall.start.y) * k };
  };
  const host: Host = {
    line,
    thicknessMm: wall.thicknessMm,
    fromMm: from,
    lengthMm: to - from,
    sources: wall.sources,
    footOf: (p) => {
      const s = clamp(dot(sub(p, origin), u), from, to);
      const at = axisAt(s);
      return { host, at, awayMm: Math.max(0, distance(p, at) - wall.thicknessMm / 2), stationMm: s };
    },
    pointAt: (s) => rounded(axisAt(inside(s, from, to))),
    directionAt: () => u,
  };
  return host;
};

const TURN = 2 * Math.PI;

const curved = (curve: WallCurve, line: number): Host => {
  const { centre, radiusMm, fromRad } = curve;
  const sweep = Math.min(TURN, curve.toRad - fromRad);
  const axisAt = (s: number): Vec => {
    const a = fromRad + s / radiusMm;
    return { x: centre.x + radiusMm * Math.cos(a), y: centre.y + radiusMm * Math.sin(a) };
  };
  const length = sweep * radiusMm;
  const host: Host = {
    line,
    thicknessMm: curve.thicknessMm,
    fromMm: 0,
    lengthMm: length,
    sources: curve.sources,
    footOf: (p) => {
      const turned = Math.atan2(p.y - centre.y, p.x - centre.x) - fromRad;
      const a = ((turned % TURN) + TURN) % TURN;
      // Beyond both ends: the nearer one.
      const s = a <= sweep ? a * radiusMm : a - sweep < TURN - a ? length : 0;
      const at = axisAt(s);
      return { host, at, awayMm: Math.max(0, distance(p, at) - curve.thicknessMm / 2), stationMm: s };
    },
    pointAt: (s) => rounded(axisAt(inside(s, 0, length))),
    directionAt: (s) => {
      const a = fromRad + s / radiusMm;
      return { x: -Math.sin(a), y: Math.cos(a) };
    },
  };
  return host;
};

/** All walls as hosts; their order does not depend on that of the walls. */
export const hostsOf = (walls: readonly WallStretch[], curves: readonly WallCurve[]): Host[] => {
  const ordered = walls
    .filter((w) => distance(w.start, w.end) > 0)
    .sort((p, q) =>
      compareVectors(
        [p.start.x, p.start.y, p.end.x, p.end.y, p.thicknessMm],
        [q.start.x, q.start.y, q.end.x, q.end.y, q.thicknessMm],
      ),
    );
  const lines = linesOf(ordered);
  const bent = curves
    .filter((c) => c.radiusMm > 0)
    .sort((p, q) =>
      compareVectors(
        [p.centre.x, p.centre.y, p.radiusMm, p.fromRad, p.toRad, p.thicknessMm],
        [q.centre.x, q.centre.y, q.radiusMm, q.fromRad, q.toRad, q.thicknessMm],
      ),
    );
  return [
    ...ordered.map((w, i) => straight(w, lines[i]!, ordered[lines[i]!]!)),
    ...bent.map((c, i) => curved(c, ordered.length + i)),
  ];
};

export interface NearWalls {
  readonly foot: Foot;
  /** Another line of walls is about as near. */
  readonly rival: Foot | null;
}

/** Differences below this do not tell which of two walls a note is for, mm. *Practice, no source.* */
const RIVAL_MM = 150;

/** The nearest wall within reach, or null. */
export const nearestWall = (p: Vec, hosts: readonly Host[], reachMm: number): NearWalls | null => {
  let best: Foot | null = null;
  const feet: Foot[] = [];
  for (const host of hosts) {
    const foot = host.footOf(p);
    if (foot.awayMm > reachMm + RIVAL_MM) continue;
    feet.push(foot);
    if (best === null || foot.awayMm < best.awayMm) best = foot;
  }
  if (best === null || best.awayMm > reachMm) return null;
  const { awayMm, host } = best;
  const rival = feet.find((f) => f.host.line !== host.line && f.awayMm - awayMm < RIVAL_MM) ?? null;
  return { foot: best, rival };
};

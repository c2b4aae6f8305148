/**
 * How far footings project beyond the faces of the walls: what forms stand on (rule T23). Edges of footings are lines parallel to a wall, outside its faces;
 * they are believed where they run on both sides of it, since a single line may belong to a neighbour.
 */

import { facePoint } from '../ground/arcs.js';
import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber, inOrder } from '../ground/order.js';
import { cross, distance, dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type {
  FacePlan,
  FootingLine,
  FootingSaid,
  FootingSeat,
  FoundFootings,
  Side,
  Wall,
} from '../ground/vocabulary.js';
import { pointToWall } from './nearest.js';
import { LEVEL_NOTE_MM } from './tolerances.js';

/** Footings of walls project by less than this; a line farther off is something else. *Practice, no source.* */
const REACH_MM = 1000;
/** An edge in line with the face: within the tolerance of drawings. */
const FLUSH_MM = 2;
/** Lines that turn from the wall by more are not parallel to it: 1 in 500. */
const PARALLEL_SIN = 0.002;
/** Just beyond an edge. */
const BEYOND_MM = 5;
/** Shorter stretches are corners of outlines. *Practice, no source.* */
const LEAST_MM = 100;

interface Edge {
  readonly fromMm: number;
  readonly toMm: number;
  readonly projectionMm: number;
}

/** The edges of footings beside a straight wall, for each side. */
const edgesBeside = (wall: Wall, lines: readonly FootingLine[]): Readonly<Record<Side, readonly Edge[]>> => {
  const found: Record<Side, Edge[]> = { left: [], right: [] };
  const along = unit(sub(wall.end, wall.start));
  const across = leftOf(along);
  const half = wall.thicknessMm / 2;
  for (const { from, to } of lines) {
    const size = distance(from, to);
    if (size < LEAST_MM || Math.abs(cross(along, sub(to, from))) > PARALLEL_SIN * size) continue;
    const offMm = dot(across, sub({ x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 }, wall.start));
    const projectionMm = Math.abs(offMm) - half;
    if (projectionMm < -FLUSH_MM || projectionMm > REACH_MM) continue;
    const stations = [from, to].map((p) => dot(along, sub(p, wall.start)));
    const [fromMm, toMm] = [Math.max(0, Math.min(...stations)), Math.min(wall.lengthMm, Math.max(...stations))];
    if (toMm - fromMm < LEAST_MM) continue;
    found[offMm > 0 ? 'left' : 'right'].push({ fromMm, toMm, projectionMm: Math.max(0, roundTo(projectionMm, 4)) });
  }
  return found;
};

/** Even-odd rule: is a point within a ring? */
const isWithin = (p: Vec, ring: readonly Vec[]): boolean => {
  let inside = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  });
  return inside;
};

/** The nearest edge at a station beyond which no footing goes on; null where there is none. */
const edgeAt = (
  wall: Wall,
  side: Side,
  edges: readonly Edge[],
  rings: FoundFootings['rings'],
  stationMm: number,
): number | null => {
  const own = edges.filter((e) => e.fromMm <= stationMm && e.toMm >= stationMm).map((e) => e.projectionMm);
  const isEdge = (projectionMm: number) => {
    const beyond = facePoint(wall, side, stationMm, projectionMm + BEYOND_MM);
    return !rings.some((ring) => isWithin(beyond, ring));
  };
  return own.sort((a, b) => a - b).find(isEdge) ?? null;
};

/** Rings that come within reach of a wall, and the stations of their corners there. */
const ringsNear = (wall: Wall, rings: FoundFootings['rings']) => {
  const along = unit(sub(wall.end, wall.start));
  const across = leftOf(along);
  const reach = wall.thicknessMm / 2 + REACH_MM + BEYOND_MM;
  const near = rings.filter((ring) => {
    const [s, o] = [along, across].map((axis) => ring.map((p) => dot(axis, sub(p, wall.start)))) as [
      number[],
      number[],
    ];
    const isBeside = Math.min(...o) <= reach && Math.max(...o) >= -reach;
    return isBeside && Math.min(...s) <= wall.lengthMm && Math.max(...s) >= 0;
  });
  const stations = near.flatMap((ring) => ring.map((p) => dot(along, sub(p, wall.start))));
  return { near, stations: stations.filter((s) => s > 0 && s < wall.lengthMm) };
};

const drawnSeats = (wall: Wall, { lines, rings }: FoundFootings): FootingSeat[] => {
  const edges = edgesBeside(wall, lines);
  if (edges.left.length === 0 || edges.right.length === 0) return [];
  const { near, stations } = ringsNear(wall, rings);
  const ends = [...edges.left, ...edges.right].flatMap((e) => [e.fromMm, e.toMm]);
  const cuts = [...new Set([...ends, ...stations].map((s) => roundTo(s, 4)))].sort((a, b) => a - b);
  const seats: FootingSeat[] = [];
  for (const side of ['left', 'right'] as const) {
    for (let i = 0; i + 1 < cuts.length; i++) {
      const [fromMm, toMm] = [cuts[i]!, cuts[i + 1]!];
      const middle = (fromMm + toMm) / 2;
      const own = edgeAt(wall, side, edges[side], near, middle);
      const beyond = side === 'left' ? 'right' : 'left';
      if (own === null || edgeAt(wall, beyond, edges[beyond], near, middle) === null) continue;
      const last = seats.at(-1);
      const goesOn = last?.side === side && last.toMm === fromMm && Math.abs(last.projectionMm - own) < 1e-6;
      if (goesOn) seats[seats.length - 1] = { ...last, toMm };
      else seats.push({ wall: wall.id, side, fromMm, toMm, projectionMm: own, from: 'drawing' });
    }
  }
  return seats.filter((s) => s.toMm - s.fromMm >= LEAST_MM);
};

/** What the job file says of single walls, by wall. */
const saidOf = (plan: FacePlan, { at }: FootingSaid, findings: Finding[]): Map<string, FootingSaid['at'][number]> => {
  const said = new Map<string, FootingSaid['at'][number]>();
  for (const item of at) {
    const near = plan.walls
      .map((wall) => ({ wall, awayMm: pointToWall(item.near, wall) }))
      .sort(byNumber((n) => n.awayMm))[0];
    if (near && near.awayMm <= LEVEL_NOTE_MM) {
      said.set(near.wall.id, item);
      continue;
    }
    const far = near ? `, the nearest, ${near.wall.id}, is ${plainNumber(near.awayMm, 0)} mm away` : '';
    const message = `The job file tells of a footing where no wall is${far}.`;
    findings.push(finding('shape.footing-unused', message, { at: [item.near.x, item.near.y, 0] }));
  }
  return said;
};

/** The plan with what is known of its footings' projections: of single walls by the job file, else as drawn, else by the job file for all. */
export const withSeats = (
  plan: FacePlan,
  footings: FoundFootings | undefined,
  said: FootingSaid | undefined,
): Staged<FacePlan> => {
  if (footings === undefined && said === undefined) return { value: plan, findings: [] };
  const findings: Finding[] = [];
  const ofWall = said ? saidOf(plan, said, findings) : new Map<string, FootingSaid['at'][number]>();
  const oneSided = new Set((plan.oneSided ?? []).map((w) => w.wall));
  const seats = plan.walls
    .filter((w) => !oneSided.has(w.id))
    .flatMap((wall): FootingSeat[] => {
      const drawn = wall.arc || !footings ? [] : drawnSeats(wall, footings);
      return (['left', 'right'] as const).flatMap((side): FootingSeat[] => {
        const face = plan.faces.find((f) => f.wall === wall.id && f.side === side);
        const own = ofWall.get(wall.id)?.[side === 'left' ? 'leftMm' : 'rightMm'] ?? null;
        const seen = drawn.filter((s) => s.side === side);
        if (own === null && seen.length > 0) return seen;
        const projectionMm = own ?? said?.projectionMm ?? null;
        if (projectionMm === null || !face) return [];
        return [{ wall: wall.id, side, fromMm: face.fromMm, toMm: face.toMm, projectionMm, from: 'job' }];
      });
    });
  seats.sort(
    inOrder(
      byNumber((s) => plan.walls.findIndex((w) => w.id === s.wall)),
      byNumber((s) => (s.side === 'left' ? 0 : 1)),
      byNumber((s) => s.fromMm),
    ),
  );
  return { value: { ...plan, seats }, findings };
};

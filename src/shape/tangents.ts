/** Ends of curved walls at which a straight wall of the same thickness goes on in line with the tangent. */

import { endStationMm, wallDirection } from '../ground/arcs.js';
import { cross, distance, dot, scale } from '../ground/plane.js';
import type { PlanNode, Run, Wall } from '../ground/vocabulary.js';

export interface Tangent {
  /** Id of the curved wall, and which end of it. */
  readonly curve: string;
  readonly end: 'start' | 'end';
  readonly straight: string;
  readonly straightEnd: 'start' | 'end';
  readonly node: string;
}

/** Where drawn arc and line end, they may miss each other by this and still be one wall. */
const MISS_MM = 2;
/** A straight wall that leaves the tangent by more than this turns there. */
const TURN_RAD = Math.PI / 180;

const ENDS = ['start', 'end'] as const;

/** The straight wall that goes on from an end of a curved one; null where none does. */
export const tangentAt = (
  curve: Wall,
  end: 'start' | 'end',
  straight: readonly Wall[],
  nodes: readonly PlanNode[],
): Tangent | null => {
  const along = wallDirection(curve, end === 'start' ? 0 : endStationMm(curve));
  const outwards = end === 'start' ? scale(along, -1) : along;
  for (const wall of straight) {
    for (const straightEnd of ENDS) {
      const node = nodes.find(
        (n) =>
          n.kind === 'bend' &&
          n.walls.length === 1 &&
          n.walls[0] === wall.id &&
          distance(n.at, wall[straightEnd]) <= MISS_MM,
      );
      const direction = wallDirection(wall, 0);
      const away = straightEnd === 'start' ? direction : scale(direction, -1);
      const isInLine = dot(away, outwards) > 0 && Math.abs(cross(away, outwards)) <= Math.sin(TURN_RAD);
      const meets = distance(wall[straightEnd], curve[end]) <= MISS_MM;
      if (node && meets && isInLine && Math.abs(wall.thicknessMm - curve.thicknessMm) < 1e-6)
        return { curve: curve.id, end, straight: wall.id, straightEnd, node: node.id };
    }
  }
  return null;
};

/** Straight runs whose ends go on as curved walls. */
export const withTangents = (runs: readonly Run[], tangents: readonly Tangent[]): Run[] =>
  runs.map((run) => {
    const at = (end: 'start' | 'end'): Run['start'] => {
      const was = run[end];
      const tangent = tangents.find((t) => t.straight === run.wall && t.straightEnd === end);
      if (!tangent || was.kind !== 'open' || was.node !== tangent.node) return was;
      const { node, leftMm, rightMm } = was;
      return { kind: 'tangent', node, other: tangent.curve, leftMm, rightMm };
    };
    return { ...run, start: at('start'), end: at('end') };
  });

/** Nodes with the curved walls that go on from them. */
export const nodesWith = (nodes: readonly PlanNode[], tangents: readonly Tangent[]): PlanNode[] =>
  nodes.map((node) => {
    const curves = tangents.filter((t) => t.node === node.id).map((t) => t.curve);
    return curves.length === 0 ? node : { ...node, walls: [...node.walls, ...curves] };
  });

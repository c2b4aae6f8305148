/**
 * Gives each segment its zero: the place on its axis from which the stations of both faces are counted, in whole grid steps.
 *
 * Axes end where axes cross. Where the other wall is an odd number of steps thick its axis lies half-way between two grid lines, and
 * then no vertex would have a whole station; so the axis ends half a step beside the crossing: outwards, or, when both ends are
 * so, both half a step towards the start, which keeps the length.
 */

import { dot } from '../ground/plane.js';
import type { ArmFace, JointShape } from './corners.js';
import type { Grid } from './grid.js';
import { type BarEnd, crossingOf, endOf } from './model.js';
import type { Cut, Segment } from './segments.js';

export interface Scale {
  /** Coordinates along the direction at which the wall's axis starts and ends. */
  readonly zeroMm: number;
  readonly endMm: number;
  /** An end that was moved by half a step. */
  readonly halved: boolean;
  /** Whole grid station of a coordinate along the direction. */
  readonly stationOf: (alongMm: number) => number;
}

const NOISE_STEPS = 1e-6;

/** Nearest whole number of grid steps; never -0. */
export const toStep = (lengthMm: number, stepMm: number): number => Math.round(lengthMm / stepMm) * stepMm + 0;

/** Nothing meets there whose faces make a vertex: a free end, or a bend of walls whose faces meet too far away. */
const endsSquare = (joint: JointShape): boolean =>
  joint.kind === 'end' || (joint.kind === 'bend' && joint.corners.length === 0);

/** Where the axis ends: on the through wall's axis for a stem, at the square end, or at the joint. */
const axisEnd = (segment: Segment, end: BarEnd, joint: JointShape, cut: Cut): number => {
  if (endsSquare(joint)) return endOf(segment.bar, end);
  const crossing = joint.through === null ? null : crossingOf(segment.bar, cut.segments[joint.through]!.bar);
  if (crossing) return crossing.along[0];
  return dot(joint.at, segment.bar.direction.u);
};

/** Some face line of the plan crosses this wall at a right angle, so that its stations can lie on the grid exactly. */
const hasSquareVertex = (segment: Segment, joints: readonly JointShape[], cut: Cut): boolean => {
  const { family } = segment.bar.direction;
  return [segment.lo, segment.hi, ...segment.through].some((j) => {
    const joint = joints[j]!;
    if (endsSquare(joint)) return true;
    const others = [...joint.ends.map((e) => e.segment), ...(joint.through === null ? [] : [joint.through])];
    return others.some((s) => cut.segments[s] !== segment && cut.segments[s]!.bar.direction.family === family);
  });
};

export const scaleOf = (segment: Segment, joints: readonly JointShape[], cut: Cut, grid: Grid): Scale => {
  const { direction } = segment.bar;
  const rawLo = axisEnd(segment, 'lo', joints[segment.lo]!, cut);
  const rawHi = axisEnd(segment, 'hi', joints[segment.hi]!, cut);
  const onScale = (zeroMm: number, endMm: number, halved: boolean): Scale => ({
    zeroMm,
    endMm,
    halved,
    stationOf: (alongMm) => toStep(alongMm - zeroMm, grid.stepMm),
  });
  if (!hasSquareVertex(segment, joints, cut)) {
    // Both ends give way alike, so that the stations are the same from either end.
    const slackMm = (rawHi - rawLo - toStep(rawHi - rawLo, grid.stepMm)) / 2;
    return onScale(rawLo + slackMm, rawHi - slackMm, false);
  }
  const isHalf = (alongMm: number) => Math.abs(grid.fractionOf(direction, alongMm) - 0.5) < NOISE_STEPS;
  const half = grid.stepMm / 2;
  const [loHalf, hiHalf] = [isHalf(rawLo), isHalf(rawHi)];
  const zeroMm = loHalf ? rawLo - half : grid.snap(direction, rawLo);
  const endMm = hiHalf ? (loHalf ? rawHi - half : rawHi + half) : grid.snap(direction, rawHi);
  return onScale(zeroMm, endMm, loHalf || hiHalf);
};

/** Key of a face of an arm at a joint. */
export const vertexKey = (joint: number, face: ArmFace): string =>
  `${joint} ${face.segment} ${face.side} ${face.sense}`;

/** One vertex on a face: its exact coordinate along the wall, and the key of its station. */
interface OnFace {
  readonly key: string;
  readonly face: ArmFace;
  readonly alongMm: number;
}

/** The two vertices at one end of a wall: not each place is rounded but their distance, from the one farther from the end, where a leg stands. */
const roundPair = (a: OnFace, b: OnFace, scale: Scale, stepMm: number, stations: Map<string, number>): void => {
  const { sense } = a.face;
  const [lead, last] = sense * a.alongMm >= sense * b.alongMm ? [a, b] : [b, a];
  const at = scale.stationOf(lead.alongMm);
  stations.set(lead.key, at).set(last.key, at - sense * toStep(sense * (lead.alongMm - last.alongMm), stepMm));
};

/** Whole stations of all vertices, by `vertexKey`. The distances between the vertices of one corner are off by half a step at most. */
export const vertexStations = (
  cut: Cut,
  joints: readonly JointShape[],
  scales: readonly Scale[],
  stepMm: number,
): Map<string, number> => {
  const stations = new Map<string, number>();
  joints.forEach((joint, j) => {
    const all = joint.corners.flatMap(({ at, faces }) =>
      faces.map((face): OnFace => {
        const { u } = cut.segments[face.segment]!.bar.direction;
        return { key: vertexKey(j, face), face, alongMm: dot(at, u) };
      }),
    );
    for (const one of all) {
      if (stations.has(one.key)) continue;
      const { segment, side, sense } = one.face;
      const other = all.find(
        ({ face: f }) => segment !== joint.through && f.segment === segment && f.side !== side && f.sense === sense,
      );
      const scale = scales[segment]!;
      if (other) roundPair(one, other, scale, stepMm, stations);
      else stations.set(one.key, scale.stationOf(one.alongMm));
    }
  });
  return stations;
};

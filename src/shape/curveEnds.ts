/** Ends of straight walls at which a curved wall goes on: no free ends, though nothing straight meets them. */

import { distance, type Vec } from '../ground/plane.js';
import type { WallCurve } from '../ground/vocabulary.js';
import type { JointShape } from './corners.js';
import { END_MM } from './tolerances.js';

const endsOf = (c: WallCurve): Vec[] =>
  [c.fromRad, c.toRad].map((rad) => ({
    x: c.centre.x + c.radiusMm * Math.cos(rad),
    y: c.centre.y + c.radiusMm * Math.sin(rad),
  }));

/** Joints with the ends that go on as a curve turned into bends whose faces are left open. `origin`: of the joints' places. */
export const withCurveEnds = (
  joints: readonly JointShape[],
  curves: readonly WallCurve[],
  origin: Vec,
): JointShape[] => {
  const places = curves.flatMap((c) => endsOf(c).map((at) => ({ at, reachMm: c.thicknessMm / 2 + END_MM })));
  return joints.map((joint) => {
    if (joint.kind !== 'end') return joint;
    const at = { x: joint.at.x + origin.x, y: joint.at.y + origin.y };
    if (!places.some((p) => distance(p.at, at) <= p.reachMm)) return joint;
    return {
      ...joint,
      kind: 'bend',
      ends: joint.ends.map((e) => ({ ...e, role: 'open' as const })),
      why: 'a curved wall goes on from here',
    };
  });
};

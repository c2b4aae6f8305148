/** Free ends of walls that are cut aslant or chamfered: taken on to the longer face's end, as in drawings, so that the forms hold all of the concrete. */

import { roundTo } from '../../ground/units.js';
import type { WallStretch } from '../../ground/vocabulary.js';
import { stretchOrder } from '../group.js';
import { boxGrid } from './boxGrid.js';
import { type Axis, axisOf, bodyRing, onAxis, seenFrom, type TracedPlan } from './plan.js';
import { areaOf, type Box, boxOfRegion, componentsOf, enclosed, intersection, type Region, ringsOf } from './region.js';
import { regionNear } from './regionNear.js';

/** What runs on by less is an edge. */
const OFF_LEAST_MM = 5;
/** An end runs on by up to this many times the thickness, as in drawings. */
const OFF_MOST = 2;
/** Looked at so far beside the faces: what is wider there is another wall. */
const BESIDE_MM = 20;
/** At the end of the stretch the concrete still is as thick as this share of it; what is thinner from there on is a rebate. */
const FULL_SHARE = 0.9;

const turned = (axis: Axis): Axis => ({
  ...axis,
  from: onAxis(axis, axis.lengthMm),
  u: { x: -axis.u.x, y: -axis.u.y },
});

/** How far a wall of this thickness may run on beyond its end. */
const mostOff = (thicknessMm: number): number => OFF_MOST * thicknessMm;

/** No place that is looked at is longer from corner to corner. */
const reachOf = (thicknessMm: number): number => Math.hypot(mostOff(thicknessMm) + 1, thicknessMm + 2 * BESIDE_MM) + 1;

/** How far the concrete runs on beyond the end of an axis, narrowing; 0: it does not, or is another wall. */
const runsOn = (concreteAt: (box: Box) => Region, axis: Axis): number => {
  const mostMm = mostOff(2 * axis.halfMm);
  const ahead: Axis = {
    from: onAxis(axis, axis.lengthMm),
    u: axis.u,
    lengthMm: mostMm + 1,
    halfMm: axis.halfMm + BESIDE_MM,
  };
  const window = enclosed([bodyRing(ahead)]);
  const box = boxOfRegion(window);
  const pieces = box === null ? [] : componentsOf(intersection(concreteAt(box), window));
  if (pieces.length !== 1) return 0;
  const points = ringsOf(pieces[0]!).flatMap((ring) => ring.map((p) => seenFrom(ahead, p)));
  if (points.length === 0 || points.some((p) => Math.abs(p.v) > axis.halfMm + 1)) return 0;
  const offMm = roundTo(Math.max(...points.map((p) => p.u)), 3);
  const first = intersection(pieces[0]!, enclosed([bodyRing({ ...ahead, lengthMm: 1 })]));
  const isFull = areaOf(first) > FULL_SHARE * 2 * axis.halfMm;
  return isFull && offMm > OFF_LEAST_MM && offMm <= mostMm ? offMm : 0;
};

interface Body {
  readonly of: WallStretch;
  readonly region: Region;
  readonly box: Box | null;
}

/** Says whether what is added to a stretch at the end of its axis is another stretch already. */
const elsewhereAmong = (stretches: readonly WallStretch[]) => {
  const bodies = stretches.map((of): Body => {
    const region = enclosed([bodyRing(axisOf(of), 1)]);
    return { of, region, box: boxOfRegion(region) };
  });
  const near = boxGrid(bodies, (b) => b.box);
  return (own: WallStretch, axis: Axis, offMm: number): boolean => {
    const added = enclosed([bodyRing({ ...axis, from: onAxis(axis, axis.lengthMm), lengthMm: offMm }, 1)]);
    return near(boxOfRegion(added)).some((b) => b.of !== own && areaOf(intersection(added, b.region)) > 1);
  };
};

/** The plan with the slanting ends of its stretches squared; stretches by stretchOrder. */
export const withSquaredEnds = (plan: TracedPlan): TracedPlan => {
  const { concrete, stretches } = plan;
  if (stretches.length === 0) return plan;
  const skewEnds = [...plan.skewEnds];
  const concreteAt = regionNear(concrete, Math.max(...stretches.map((s) => reachOf(s.thicknessMm))));
  const isElsewhere = elsewhereAmong(stretches);
  const squared = stretches.map((s): WallStretch => {
    const endOf = (axis: Axis, capped: boolean) => {
      const offMm = capped || axis.lengthMm === 0 ? 0 : runsOn(concreteAt, axis);
      if (offMm === 0 || isElsewhere(s, axis, offMm)) return null;
      const at = onAxis(axis, axis.lengthMm);
      skewEnds.push({ at, offMm });
      return onAxis(axis, axis.lengthMm + offMm);
    };
    const axis = axisOf(s);
    const [start, end] = [endOf(turned(axis), s.startCapped), endOf(axis, s.endCapped)];
    return {
      ...s,
      start: start ?? s.start,
      end: end ?? s.end,
      startCapped: s.startCapped || start !== null,
      endCapped: s.endCapped || end !== null,
    };
  });
  return { ...plan, stretches: squared.sort(stretchOrder), skewEnds };
};

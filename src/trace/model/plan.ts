/**
 * Footprints of the walls taken → one outline → stretches, curves and pilasters, through the tracing of paired faces that drawings go through. Each
 * connected piece of concrete is traced by itself, so that leaves of a cavity wall are never taken for the two faces of one. Local mm.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { comparePoints } from '../../ground/order.js';
import { distance, sub, unit, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { plainNumber } from '../../ground/units.js';
import type { DrawingPath, FaceLine, Pilaster, WallCurve, WallStretch } from '../../ground/vocabulary.js';
import { type GroupWithCurves, traceGroupWithCurves } from '../curves/withCurves.js';
import { type LocalAxes, localOf, worldAt } from '../gaps.js';
import { type SkewEnd, stretchOrder } from '../group.js';
import { groupFindings } from '../report.js';
import type { LocalFrame } from '../segments.js';
import { componentsOf, holds, type Region, ringsOf, union, withoutCracks } from './region.js';

/** Layer that the outline is said to lie on, in findings of tracing. */
const OUTLINE_LAYER = 'S-WALL';

/** Sources of the outline's lines begin so, before elements are known. */
export const OUTLINE_NAME = 'outline-';

export interface TracedPlan {
  /** All concrete taken. */
  readonly concrete: Region;
  readonly stretches: readonly WallStretch[];
  readonly curves: readonly WallCurve[];
  readonly faceLines: readonly FaceLine[];
  readonly pilasters: readonly Pilaster[];
  /** Free ends that are not square. */
  readonly skewEnds: readonly SkewEnd[];
  readonly findings: readonly Finding[];
  /** Pieces that hold more lines than tracing works through, by their lower left corner. */
  readonly tooMuch: readonly Vec[];
}

const FRAME: LocalFrame = { origin: { x: 0, y: 0 }, mmPer: 1 };

/** An outline as linework: closed polylines, mm. */
export const pathsOf = (region: Region, name: string): DrawingPath[] =>
  ringsOf(region).map((ring, i) => ({
    source: `${name}.${i}`,
    entity: 'LWPOLYLINE',
    layer: OUTLINE_LAYER,
    blocks: [],
    vertices: ring.map((p) => ({ ...p, bulge: 0 })),
    closed: true,
    elevation: 0,
    extrusion: 0,
    lineType: 'CONTINUOUS',
    width: 0,
    fill: null,
  }));

const traced = (component: Region, name: string): GroupWithCurves =>
  traceGroupWithCurves(pathsOf(component, name), {
    frame: FRAME,
    area: null,
    footings: 'none',
    cautious: false,
    filled: (p) => holds(component, p),
  });

/** What tracing says of lines on a layer, said of the outline; what was left over is counted once for all, and of ends it is said whose they are. */
const outlineFindings = (group: GroupWithCurves): Finding[] =>
  [...groupFindings({ ...group, skewEnds: [] }, FRAME, true), ...group.curveFindings]
    .filter((f) => f.code !== 'trace.left-out')
    .map((f) => ({ ...f, message: f.message.replace(`on layer ${OUTLINE_LAYER}`, 'of the outline') }));

const leftOverOf = (groups: readonly GroupWithCurves[]): Finding[] => {
  const left = groups.flatMap((g) => g.leftOver);
  if (left.length === 0) return [];
  const lengthMm = left.reduce((sum, l) => sum + l.lengthMm, 0);
  const reasons = [...new Set(left.map((l) => l.reason))].sort().join(', ');
  const text = `Of the outline ${left.length} lines or parts of lines, ${plainNumber(lengthMm, 0)} mm in all, are no face of a wall (${reasons}).`;
  return [finding('trace.left-out', text)];
};

/** Unites the footprints and traces what they enclose. */
export const tracePlan = (footprints: readonly Region[]): TracedPlan => {
  const concrete = withoutCracks(union(...footprints), SAME_POINT_MM);
  const groups = componentsOf(concrete).map((component, i) => ({
    component,
    group: traced(component, `${OUTLINE_NAME}${i + 1}`),
  }));
  const all = groups.map((g) => g.group);
  return {
    concrete,
    stretches: all.flatMap((g) => g.stretches).sort(stretchOrder),
    curves: all
      .flatMap((g) => g.curves)
      .sort((p, q) => comparePoints(p.centre, q.centre) || p.radiusMm - q.radiusMm || p.fromRad - q.fromRad),
    faceLines: all
      .flatMap((g) => g.faceLines)
      .sort((p, q) => comparePoints(p.from, q.from) || comparePoints(p.to, q.to)),
    pilasters: all.flatMap((g) => g.pilasters).sort((p, q) => comparePoints(p.at, q.at)),
    skewEnds: all.flatMap((g) => g.skewEnds),
    findings: [...all.flatMap(outlineFindings), ...leftOverOf(all)],
    tooMuch: groups.filter((g) => g.group.tooMuch).map((g) => ringsOf(g.component)[0]![0]!),
  };
};

/** A stretch as a place to measure from: along u from 0 to its length, across to the left from -half to half. */
export interface Axis extends LocalAxes {
  readonly lengthMm: number;
  readonly halfMm: number;
}

export const axisOf = (s: Pick<WallStretch, 'start' | 'end' | 'thicknessMm'>): Axis => ({
  from: s.start,
  u: unit(sub(s.end, s.start)),
  lengthMm: distance(s.start, s.end),
  halfMm: s.thicknessMm / 2,
});

export const onAxis = (axis: LocalAxes, u: number, v = 0): Vec => worldAt(axis, u, v);

/** Along and across. */
export const seenFrom = (axis: LocalAxes, p: Vec): { readonly u: number; readonly v: number } => {
  const { x, y } = localOf(axis, p);
  return { u: x, v: y };
};

/** The stretch's body in plan, each side moved in by `lessMm`. */
export const bodyRing = (axis: Axis, lessMm = 0): Vec[] => {
  const [half, far] = [axis.halfMm - lessMm, axis.lengthMm - lessMm];
  return [onAxis(axis, lessMm, -half), onAxis(axis, far, -half), onAxis(axis, far, half), onAxis(axis, lessMm, half)];
};

/** One group of layers with its curved walls: curves taken out, straight walls traced from the rest, curved ones decided with them. */

import type { Finding } from '../../ground/findings.js';
import type { DrawingPath, WallCurve } from '../../ground/vocabulary.js';
import { type GroupOptions, type TracedGroup, traceGroup } from '../group.js';
import { boundsOfCurves } from './bounds.js';
import { prepareCurves, traceCurves } from './index.js';
import { snapToCurves } from './snap.js';

export interface GroupWithCurves extends TracedGroup {
  readonly curves: readonly WallCurve[];
  /** What is to be said about curves; groupFindings has the rest. */
  readonly curveFindings: readonly Finding[];
}

/** Traces straight and curved walls of the paths of one group of layers. The order of the paths does not matter. */
export const traceGroupWithCurves = (paths: readonly DrawingPath[], options: GroupOptions): GroupWithCurves => {
  const prepared = prepareCurves(paths, options.frame, options.area);
  const straight = { ...options, held: prepared.held };
  let group = traceGroup(prepared.straightPaths, straight);
  const ways = { cautious: options.cautious, oneByOne: !options.cautious };
  let found = traceCurves(prepared, group.stretches, ways);
  if (found.traceAgain) {
    group = traceGroup(found.traceAgain, straight);
    found = traceCurves(prepared, group.stretches, ways);
  }
  const bounds = boundsOfCurves(found.curves, group.stretches);
  const leftOver = group.leftOver.filter((l) => !bounds(l));
  const snapped = snapToCurves(group.stretches, found.curves);
  const curveFindings = [...found.findings, ...snapped.findings];
  return { ...group, stretches: snapped.stretches, leftOver, curves: found.curves, curveFindings };
};

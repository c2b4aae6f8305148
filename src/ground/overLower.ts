/**
 * Where walls of different tops meet: the faces of the higher wall's concrete over the lower one, which no face of the plan tells of.
 *
 * At a tee whose stem is lower the through wall's near face goes on over the stem. Where the stem is the higher one it ends flush with the near face of
 * the wall that it stands on. At a corner the higher wall has the corner: its inner face goes on to the lower wall's outer face, and its end is flush with
 * that. That the higher wall has the corner, and that a higher stem ends at the near face, is common practice, no source: a finding tells it.
 *
 * Corners that hold no edge are left out: nothing of this is laid out there.
 */

import { holdsEdge } from './cornerAngles.js';
import type { FacePlan, Run, RunEnd, Side } from './vocabulary.js';

export interface FaceOverLower {
  readonly node: string;
  /** `mouth`: across the lower wall, closed by boards. `end`: the end of the higher wall at a corner, in the lower wall's outer face. */
  readonly kind: 'mouth' | 'end';
  readonly at: 'tee' | 'corner';
  /** Ids of runs. */
  readonly higher: string;
  readonly lower: string;
  /** The face in whose plane it lies, and the stations there; a mouth at a corner lies beyond the end of its face. */
  readonly wall: string;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
  /** Top of the lower and of the higher wall. */
  readonly lowMm: number;
  readonly highMm: number;
}

/** Tops that agree within this are one. */
const SAME_MM = 0.01;

type CornerEnd = RunEnd & { readonly kind: 'corner' };

const endsOf = (run: Run): { readonly end: RunEnd; readonly d: 1 | -1 }[] => [
  { end: run.start, d: 1 },
  { end: run.end, d: -1 },
];

const sideMm = (end: RunEnd, side: Side): number => (side === 'left' ? end.leftMm : end.rightMm);
const interval = (a: number, b: number) => ({ fromMm: Math.min(a, b), toMm: Math.max(a, b) });

const atTees = (plan: FacePlan): FaceOverLower[] =>
  plan.runs.flatMap((through) =>
    through.stems.flatMap((stem): FaceOverLower[] => {
      const run = plan.runs.find(
        (r) => r.wall === stem.wall && endsOf(r).some(({ end }) => end.kind === 'stem' && end.node === stem.node),
      );
      if (stem.isOneSided || !run || Math.abs(run.topMm - through.topMm) <= SAME_MM) return [];
      const [lower, higher] = run.topMm < through.topMm ? [run, through] : [through, run];
      const { node, side, fromMm, toMm } = stem;
      const levels = { lowMm: lower.topMm, highMm: higher.topMm };
      const runs = { higher: higher.id, lower: lower.id };
      return [{ node, kind: 'mouth', at: 'tee', ...runs, wall: through.wall, side, fromMm, toMm, ...levels }];
    }),
  );

const atCorner = (higher: Run, own: CornerEnd, d: 1 | -1, lower: Run, other: CornerEnd, e: 1 | -1): FaceOverLower[] => {
  const sin = Math.sin((own.deflectionDeg * Math.PI) / 180);
  const base = {
    node: own.node,
    at: 'corner' as const,
    higher: higher.id,
    lower: lower.id,
    lowMm: lower.topMm,
    highMm: higher.topMm,
  };
  const inner = sideMm(own, own.inner);
  const outerSide: Side = other.inner === 'left' ? 'right' : 'left';
  const outer = sideMm(other, outerSide);
  return [
    {
      ...base,
      kind: 'mouth',
      wall: higher.wall,
      side: own.inner,
      ...interval(inner, inner - (d * lower.thicknessMm) / sin),
    },
    {
      ...base,
      kind: 'end',
      wall: lower.wall,
      side: outerSide,
      ...interval(outer, outer + (e * higher.thicknessMm) / sin),
    },
  ];
};

const atCorners = (plan: FacePlan): FaceOverLower[] => {
  const ends = plan.runs.flatMap((run) =>
    endsOf(run).flatMap(({ end, d }) =>
      end.kind === 'corner' && holdsEdge(end.deflectionDeg) ? [{ run, end, d }] : [],
    ),
  );
  return ends.flatMap((a) => {
    const b = ends.find((x) => x.end.node === a.end.node && x.run.wall === a.end.other);
    if (!b || a.run.topMm <= b.run.topMm + SAME_MM) return [];
    return atCorner(a.run, a.end, a.d, b.run, b.end, b.d);
  });
};

const known = new WeakMap<FacePlan, readonly FaceOverLower[]>();

/** In the order of the plan's runs: tees, then corners. Worked out once for a plan; a plan is never changed. */
export const facesOverLower = (plan: FacePlan): readonly FaceOverLower[] => {
  const found = known.get(plan) ?? [...atTees(plan), ...atCorners(plan)];
  known.set(plan, found);
  return found;
};

/** Level up to which a stem goes through a face that goes on over it; Infinity where it is as high as the face, or higher. */
export const stemTopMm = (
  plan: FacePlan,
  wall: string,
  { side, fromMm, toMm }: Pick<FaceOverLower, 'side' | 'fromMm' | 'toMm'>,
): number =>
  facesOverLower(plan).find(
    (o) =>
      o.kind === 'mouth' &&
      o.at === 'tee' &&
      o.wall === wall &&
      o.side === side &&
      o.fromMm === fromMm &&
      o.toMm === toMm,
  )?.lowMm ?? Number.POSITIVE_INFINITY;

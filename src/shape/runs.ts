/** Says of each wall how its ends are closed and which stems stand on its faces: what the fit solves at once. */

import { byNumber, inOrder } from '../ground/order.js';
import { dot } from '../ground/plane.js';
import type { Run, RunEnd, RunStem, Side, Wall } from '../ground/vocabulary.js';
import { type ArmFace, faceKey, type JointShape } from './corners.js';
import { jogAt, returnsOf } from './jogs.js';
import { type BarEnd, bySense } from './model.js';
import type { Drafted } from './plan.js';
import type { Cut } from './segments.js';
import { vertexKey } from './stations.js';
import { partAtSteps } from './steps.js';

interface Work {
  readonly cut: Cut;
  readonly joints: readonly JointShape[];
  readonly draft: Drafted;
}

const wallAt = (w: Work, segment: number) => w.draft.walls[w.draft.wallOf[segment]!]!;

const armFace = (segment: number, end: BarEnd, side: Side): ArmFace => ({
  segment,
  side,
  sense: bySense(end) === 1 ? -1 : 1,
});

const vertexAt = (w: Work, joint: number, face: ArmFace): string => {
  const id = w.draft.vertexOf.get(vertexKey(joint, face));
  if (id === undefined) throw new Error(`no vertex of face ${face.side} of segment ${face.segment} at joint ${joint}`);
  return id;
};

/** One end of a segment: its joint, and where its two faces stop there. */
interface Ending {
  readonly segment: number;
  readonly end: BarEnd;
  readonly j: number;
  readonly stops: { readonly leftMm: number; readonly rightMm: number };
}

const cornerEnd = (w: Work, { segment, end, j, stops }: Ending): RunEnd => {
  const joint = w.joints[j]!;
  const other = wallAt(w, joint.ends.find((e) => e.segment !== segment)!.segment);
  const inner = joint.corners.find((c) => c.kind === 're-entrant')!.faces.find((f) => f.segment === segment)!.side;
  return {
    kind: 'corner',
    node: w.draft.nodeOf[j]!,
    inner,
    other: other.id,
    otherThicknessMm: other.thicknessMm,
    deflectionDeg: joint.angleDeg,
    ...stops,
    leftVertex: vertexAt(w, j, armFace(segment, end, 'left')),
    rightVertex: vertexAt(w, j, armFace(segment, end, 'right')),
  };
};

const stemEnd = (w: Work, { segment, end, j, stops }: Ending): RunEnd => {
  const joint = w.joints[j]!;
  const through = wallAt(w, joint.through!);
  return {
    kind: 'stem',
    node: w.draft.nodeOf[j]!,
    through: through.id,
    throughThicknessMm: through.thicknessMm,
    angleDeg: angleTo(w, segment, joint.through!),
    ...stops,
    leftVertex: vertexAt(w, j, armFace(segment, end, 'left')),
    rightVertex: vertexAt(w, j, armFace(segment, end, 'right')),
  };
};

/** Angle of a stem to the wall on which it stands, at most 90. */
const angleTo = (w: Work, segment: number, through: number): number => {
  const [a, b] = [w.cut.segments[segment]!.bar.direction, w.cut.segments[through]!.bar.direction];
  if (a.family === b.family) return 90;
  return (Math.acos(Math.min(1, Math.abs(dot(a.u, b.u)))) * 180) / Math.PI;
};

const jogEnd = (w: Work, { segment, end, j, stops }: Ending): RunEnd => {
  const joint = w.joints[j]!;
  const { other, leftOutMm, rightOutMm } = jogAt(w.cut, joint, segment)!;
  const theirs = joint.ends.find((e) => e.segment === other)!;
  const returns = [
    ...returnsOf(jogAt(w.cut, joint, segment), wallAt(w, segment).thicknessMm, end).map((r) => ({ r, of: segment })),
    ...returnsOf(jogAt(w.cut, joint, other), wallAt(w, other).thicknessMm, theirs.end).map((r) => ({ r, of: other })),
  ];
  const faceOn = (side: Side): string | null => {
    const found = returns.find(({ r }) => r.side === side);
    return found ? `${wallAt(w, found.of).id}-${found.r.ending}` : null;
  };
  return {
    kind: 'jog',
    node: w.draft.nodeOf[j]!,
    other: wallAt(w, other).id,
    ...stops,
    leftOutMm,
    rightOutMm,
    leftReturn: faceOn('left'),
    rightReturn: faceOn('right'),
  };
};

const TOO_SHORT = 'the walls at both ends leave no face between them';

const runEnd = (w: Work, segment: number, end: BarEnd): RunEnd => {
  const s = w.cut.segments[segment]!;
  const j = end === 'lo' ? s.lo : s.hi;
  const joint = w.joints[j]!;
  const stops = {
    leftMm: w.draft.stops.get(faceKey(segment, end, 'left'))!,
    rightMm: w.draft.stops.get(faceKey(segment, end, 'right'))!,
  };
  const node = w.draft.nodeOf[j]!;
  if (w.draft.tooShort.has(segment)) return { kind: 'open', node, why: TOO_SHORT, ...stops };
  const { role } = joint.ends.find((e) => e.segment === segment && e.end === end)!;
  if (role === 'free') return { kind: 'free', node, ...stops };
  const ending = { segment, end, j, stops };
  if (role === 'corner') return cornerEnd(w, ending);
  if (role === 'stem') return stemEnd(w, ending);
  if (role === 'jog') return jogEnd(w, ending);
  return { kind: 'open', node, why: joint.why!, ...stops };
};

/** Stems that stand on one side of a through wall at one joint; several that crowd there share one interruption of the face. */
const stemsAt = (w: Work, through: number, j: number): RunStem[] => {
  const joint = w.joints[j]!;
  const segment = w.cut.segments[through]!;
  const { n } = segment.bar.direction;
  return (['left', 'right'] as const).flatMap((side): RunStem[] => {
    const stems = joint.ends
      .filter((e) => {
        const away = -bySense(e.end) * dot(w.cut.segments[e.segment]!.bar.direction.u, n);
        return side === 'left' ? away > 0 : away < 0;
      })
      .sort(byNumber((e) => w.draft.wallOf[e.segment]!));
    const first = stems[0];
    if (!first) return [];
    const edges = ([-1, 1] as const)
      .flatMap((sense) => {
        const corner = joint.corners.find((c) =>
          c.faces.some((f) => f.segment === through && f.side === side && f.sense === sense),
        );
        if (!corner) return [];
        const face = { segment: through, side, sense };
        return [{ stationMm: w.draft.stationOf.get(vertexKey(j, face))!, vertex: vertexAt(w, j, face) }];
      })
      // Where stems crowd, the vertices of the outer ones may lie crosswise.
      .sort(byNumber((e) => e.stationMm));
    const [from, to] = edges;
    if (!from || !to || from.stationMm === to.stationMm) return [];
    const wall = wallAt(w, first.segment);
    return [
      {
        node: w.draft.nodeOf[j]!,
        side,
        wall: wall.id,
        thicknessMm: wall.thicknessMm,
        angleDeg: angleTo(w, first.segment, through),
        fromMm: from.stationMm,
        toMm: to.stationMm,
        fromVertex: from.vertex,
        toVertex: to.vertex,
      },
    ];
  });
};

/** The runs of each wall, in the order of the walls, then of stations: `walls` are the draft's with their levels. */
export const runsOf = (cut: Cut, joints: readonly JointShape[], draft: Drafted, walls: readonly Wall[]): Run[] => {
  const w: Work = { cut, joints, draft };
  const segmentOf: number[] = new Array(draft.walls.length);
  draft.wallOf.forEach((wall, segment) => {
    segmentOf[wall] = segment;
  });
  return walls.flatMap((wall, i): Run[] => {
    const segment = segmentOf[i]!;
    const stems = cut.segments[segment]!.through.flatMap((j) => stemsAt(w, segment, j));
    const whole = {
      wall: wall.id,
      thicknessMm: wall.thicknessMm,
      start: runEnd(w, segment, 'lo'),
      end: runEnd(w, segment, 'hi'),
      stems: stems.sort(
        inOrder(
          byNumber((s) => s.fromMm),
          byNumber((s) => (s.side === 'left' ? 0 : 1)),
        ),
      ),
    };
    return partAtSteps(whole, wall);
  });
};

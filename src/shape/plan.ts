/** Turns segments and joints into walls, nodes, faces, vertices and runs, with ids in the order of their places. */

import type { Finding } from '../ground/findings.js';
import { finding } from '../ground/findings.js';
import { nthId } from '../ground/ids.js';
import { compareVectors } from '../ground/order.js';
import type { Vec } from '../ground/plane.js';
import { roundTo } from '../ground/units.js';
import type { Face, PlanNode, Side, Vertex, VertexArm, Wall, WallSide } from '../ground/vocabulary.js';
import { type ArmFace, faceKey, type JointShape } from './corners.js';
import type { Grid } from './grid.js';
import { type JogArm, jogAt, jogVertices, returnsOf } from './jogs.js';
import { type BarEnd, pointOf } from './model.js';
import type { Cut, Segment } from './segments.js';
import { type Scale, scaleOf, vertexKey, vertexStations } from './stations.js';
import { byWallPlace } from './wallOrder.js';

/** World positions keep a millionth of a millimetre: what is below is floating-point noise. */
const PLACES = 6;
export const worldOf = (p: Vec, origin: Vec): Vec => ({
  x: roundTo(p.x + origin.x, PLACES),
  y: roundTo(p.y + origin.y, PLACES),
});

export interface Drafted {
  /** Sorted by start, then end. Bands of levels still empty. */
  readonly walls: readonly Wall[];
  readonly nodes: readonly PlanNode[];
  readonly vertices: readonly Vertex[];
  readonly faces: readonly Face[];
  /** Segments in the order of the walls. */
  readonly segments: readonly Segment[];
  readonly wallOf: readonly number[];
  readonly nodeOf: readonly string[];
  readonly scales: readonly Scale[];
  /** Whole stations at which each face stops: keys from `faceKey`, segments as in the cut. */
  readonly stops: ReadonlyMap<string, number>;
  /** Vertex of a face at a joint: keys from `vertexKey`. */
  readonly vertexOf: ReadonlyMap<string, string>;
  /** Its station, by the same keys. */
  readonly stationOf: ReadonlyMap<string, number>;
  /** Segments (as in the cut) with a face of no length. */
  readonly tooShort: ReadonlySet<number>;
  readonly findings: readonly Finding[];
}

const sidesOf = ['left', 'right'] as const;

const wallOfSegment = (segment: Segment, scale: Scale, stepMm: number, origin: Vec): Wall => {
  const { bar } = segment;
  const lengthMm = scale.endMm - scale.zeroMm;
  const steps = lengthMm / stepMm;
  const whole = Math.abs(steps - Math.round(steps)) < 1e-6;
  const sources = bar.parts.filter((p) => overlapMm(segment, p.start, p.end) > 0).flatMap((p) => p.sources);
  return {
    id: '',
    start: worldOf(pointOf(bar, scale.zeroMm), origin),
    end: worldOf(pointOf(bar, scale.endMm), origin),
    lengthMm: whole ? Math.round(steps) * stepMm : roundTo(lengthMm, PLACES),
    thicknessMm: bar.thicknessMm,
    base: [],
    top: [],
    sources: [...new Set(sources)].sort(),
  };
};

/** How much of a segment's length the stretch from `start` to `end` covers. */
const overlapMm = ({ bar }: Segment, start: Vec, end: Vec): number => {
  const { u } = bar.direction;
  const [a, b] = [start.x * u.x + start.y * u.y, end.x * u.x + end.y * u.y];
  return Math.min(Math.max(a, b), bar.hiMm) - Math.max(Math.min(a, b), bar.loMm);
};

interface Numbered {
  readonly walls: readonly Wall[];
  /** Segment → place of its wall. */
  readonly wallOf: readonly number[];
  /** Place of the wall → segment. */
  readonly segmentOf: readonly number[];
}

const numberWalls = (cut: Cut, scales: readonly Scale[], stepMm: number, origin: Vec): Numbered => {
  const made = cut.segments.map((s, i) => ({ wall: wallOfSegment(s, scales[i]!, stepMm, origin), segment: i }));
  made.sort((a, b) => byWallPlace(a.wall, b.wall));
  const wallOf: number[] = new Array(made.length);
  made.forEach((m, w) => {
    wallOf[m.segment] = w;
  });
  return {
    walls: made.map((m, w) => ({ ...m.wall, id: nthId('W', w) })),
    wallOf,
    segmentOf: made.map((m) => m.segment),
  };
};

const segmentsAt = (joint: JointShape): number[] => [
  ...new Set([...joint.ends.map((e) => e.segment), ...(joint.through === null ? [] : [joint.through])]),
];

const numberNodes = (joints: readonly JointShape[], numbered: Numbered, origin: Vec) => {
  const made = joints.map((joint, j) => ({
    joint: j,
    at: worldOf(joint.at, origin),
    walls: segmentsAt(joint)
      .map((s) => numbered.wallOf[s]!)
      .sort((a, b) => a - b),
  }));
  made.sort((a, b) => a.at.x - b.at.x || a.at.y - b.at.y || compareVectors(a.walls, b.walls));
  const nodeOf: string[] = new Array(joints.length);
  const nodes = made.map((m, k): PlanNode => {
    const id = nthId('N', k);
    nodeOf[m.joint] = id;
    const { kind, angleDeg } = joints[m.joint]!;
    return { id, kind, at: m.at, angleDeg, walls: m.walls.map((w) => numbered.walls[w]!.id) };
  });
  return { nodes, nodeOf };
};

const numberVertices = (
  joints: readonly JointShape[],
  numbered: Numbered,
  stationOf: ReadonlyMap<string, number>,
  nodeOf: readonly string[],
  cut: Cut,
  stops: ReadonlyMap<string, number>,
  origin: Vec,
) => {
  const wallId = (segment: number) => numbered.walls[numbered.wallOf[segment]!]!.id;
  const armOf = (joint: number, face: ArmFace): VertexArm => ({
    wall: wallId(face.segment),
    side: face.side,
    stationMm: stationOf.get(vertexKey(joint, face))!,
    direction: face.sense,
  });
  const jogArmOf = ({ segment, side, acrossMm, direction, ending }: JogArm): VertexArm => {
    const wall = wallId(segment);
    if (acrossMm !== null && ending !== null)
      return { wall, side, stationMm: acrossMm, direction, face: `${wall}-${ending}` };
    return {
      wall,
      side,
      stationMm: stops.get(faceKey(segment, direction === 1 ? 'lo' : 'hi', side as Side))!,
      direction,
    };
  };
  const rank = (face: ArmFace) => [numbered.wallOf[face.segment]!, face.side === 'left' ? 0 : 1, face.sense];
  const atCorners = joints.flatMap((joint, j) =>
    joint.corners.map((corner) => {
      const [first, second] = [...corner.faces].sort((a, b) => compareVectors(rank(a), rank(b)));
      return {
        joint: j,
        at: worldOf(corner.at, origin),
        kind: corner.kind,
        deflectionDeg: corner.deflectionDeg,
        arms: [armOf(j, first!), armOf(j, second!)] as const,
        keys: corner.faces.map((face) => vertexKey(j, face)),
        rank: corner.faces.flatMap(rank),
      };
    }),
  );
  const atJogs = joints.flatMap((joint, j) =>
    jogVertices(cut, joint).map(({ at, kind, arms }) => ({
      joint: j,
      at: worldOf(at, origin),
      kind,
      deflectionDeg: 90,
      arms: [jogArmOf(arms[0]), jogArmOf(arms[1])] as const,
      keys: [] as string[],
      rank: arms.map((a) => numbered.wallOf[a.segment]!),
    })),
  );
  const made = [...atCorners, ...atJogs];
  made.sort((a, b) => a.at.x - b.at.x || a.at.y - b.at.y || compareVectors(a.rank, b.rank));
  const vertexOf = new Map<string, string>();
  const vertices = made.map(({ joint, at, kind, deflectionDeg, arms, keys }, k): Vertex => {
    const id = nthId('V', k);
    for (const key of keys) vertexOf.set(key, id);
    return { id, node: nodeOf[joint]!, kind, at, deflectionDeg, arms };
  });
  return { vertices, vertexOf };
};

interface Stopped {
  readonly stops: Map<string, number>;
  readonly tooShort: Set<number>;
}

/** Whole stations of the faces' ends. Where the walls at both ends leave no face, both stations are set to the middle. */
const stationStops = (
  cut: Cut,
  joints: readonly JointShape[],
  scales: readonly Scale[],
  stationOf: ReadonlyMap<string, number>,
): Stopped => {
  const stops = new Map<string, number>();
  const tooShort = new Set<number>();
  cut.segments.forEach((segment, s) => {
    const at = (end: BarEnd, side: Side) => {
      const j = end === 'lo' ? segment.lo : segment.hi;
      const vertex = stationOf.get(vertexKey(j, { segment: s, side, sense: end === 'lo' ? 1 : -1 }));
      return vertex ?? scales[s]!.stationOf(joints[j]!.stops.get(faceKey(s, end, side))!);
    };
    for (const side of sidesOf) {
      const [from, to] = [at('lo', side), at('hi', side)];
      if (to <= from) tooShort.add(s);
      const middle = to < from ? scales[s]!.stationOf(scales[s]!.zeroMm + (from + to) / 2) : null;
      stops.set(faceKey(s, 'lo', side), middle ?? from);
      stops.set(faceKey(s, 'hi', side), middle ?? to);
    }
  });
  return { stops, tooShort };
};

const FACE_LETTER = { left: 'L', right: 'R', start: 'S', end: 'E' } as const;

const facesOf = (
  wall: Wall,
  s: number,
  cut: Cut,
  joints: readonly JointShape[],
  stops: ReadonlyMap<string, number>,
): Face[] => {
  const face = (side: WallSide, fromMm: number, toMm: number): Face => ({
    id: `${wall.id}-${FACE_LETTER[side]}`,
    wall: wall.id,
    side,
    fromMm,
    toMm,
  });
  const along = sidesOf.map((side) =>
    face(side, stops.get(faceKey(s, 'lo', side))!, stops.get(faceKey(s, 'hi', side))!),
  );
  const across = (['lo', 'hi'] as const).flatMap((end): Face[] => {
    const joint = joints[cut.segments[s]![end]]!;
    const side = end === 'lo' ? 'start' : 'end';
    if (joint.kind === 'end') return [face(side, 0, wall.thicknessMm)];
    return returnsOf(jogAt(cut, joint, s), wall.thicknessMm, end).map((r) => ({
      ...face(side, r.fromMm, r.toMm),
      id: `${wall.id}-${r.ending}`,
    }));
  });
  return [...along, ...across];
};

/** Walls, nodes, faces and vertices of the plan; all lists sorted by place, ids counted in that order. */
export const draftPlan = (cut: Cut, joints: readonly JointShape[], grid: Grid, origin: Vec): Drafted => {
  const scales = cut.segments.map((s) => scaleOf(s, joints, cut, grid));
  const numbered = numberWalls(cut, scales, grid.stepMm, origin);
  const { nodes, nodeOf } = numberNodes(joints, numbered, origin);
  const stationOf = vertexStations(cut, joints, scales, grid.stepMm);
  const { stops, tooShort } = stationStops(cut, joints, scales, stationOf);
  const { vertices, vertexOf } = numberVertices(joints, numbered, stationOf, nodeOf, cut, stops, origin);
  const faces = numbered.walls.flatMap((wall, w) => facesOf(wall, numbered.segmentOf[w]!, cut, joints, stops));
  const halved = scales.filter((s) => s.halved).length;
  const findings: Finding[] =
    halved === 0
      ? []
      : [
          finding(
            'shape.half-grid',
            `The axes of ${halved} walls start or end half a grid step beside the crossing of axes, since walls there are an odd number of steps thick.`,
            { assumed: 'stations are counted from there' },
          ),
        ];
  return {
    walls: numbered.walls,
    nodes,
    vertices,
    faces,
    segments: numbered.segmentOf.map((s) => cut.segments[s]!),
    wallOf: numbered.wallOf,
    nodeOf,
    scales,
    stops,
    vertexOf,
    stationOf,
    tooShort,
    findings,
  };
};

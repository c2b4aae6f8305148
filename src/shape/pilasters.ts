/**
 * Pilasters put onto the faces of walls (rule T22): each interrupts a face, and its three faces stand before it. One that cannot be placed so (it stands in
 * a corner, at an end, over a step, an opening or a wall that meets) is said as a failure, and the forms run through as if it were not there.
 */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber, inOrder } from '../ground/order.js';
import { add, cross, dot, leftOf, scale, sub, unit, type Vec } from '../ground/plane.js';
import { reachOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Face, FacePlan, Pilaster, Run, RunPilaster, Side, Wall } from '../ground/vocabulary.js';
import { nearestWall } from './nearest.js';

type Plan = Pick<FacePlan, 'gridMm' | 'walls' | 'faces' | 'runs' | 'openings'>;

export interface PlacedPilasters {
  readonly runs: readonly Run[];
  /** All faces, those of a pilaster behind those of its wall. */
  readonly faces: readonly Face[];
  /** Bodies of the pilasters, in the drawing's axes. */
  readonly bodies: readonly (readonly Vec[])[];
  readonly findings: readonly Finding[];
}

const mm = (n: number): string => plainNumber(n, 0);
/** The place of a pilaster fits its wall within this: rounding of both thicknesses to the grid. */
const SLACK_MM = 3;
/** Edges of pilasters that face each other are no farther apart than a post can be wide. *Practice, no source.* */
const ASKEW_MOST_MM = 250;

interface Placed {
  readonly pilaster: Pilaster;
  readonly wall: Wall;
  readonly run: Run;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
  readonly projectionMm: number;
}

/** Where a pilaster stands, or in words why it is not laid out. */
const placeOf = (plan: Plan, pilaster: Pilaster, wall: Wall): Placed | string => {
  if (pilaster.inCorner) return 'it stands in a corner';
  if (wall.arc) return 'its wall is curved';
  const u = unit(sub(wall.end, wall.start));
  const away = sub(pilaster.at, wall.start);
  const across = cross(u, away);
  const side: Side = across > 0 ? 'left' : 'right';
  const grid = (length: number) => Math.round(length / plan.gridMm) * plan.gridMm;
  const [widthMm, projectionMm] = [grid(pilaster.widthMm), grid(pilaster.projectionMm)];
  if (Math.abs(Math.abs(across) - wall.thicknessMm / 2 - pilaster.projectionMm) > SLACK_MM + plan.gridMm)
    return 'its face does not lie before its wall';
  if (widthMm <= 0 || projectionMm <= 0) return 'it is smaller than a step of the grid';
  const fromMm = grid(dot(away, u) - pilaster.widthMm / 2);
  const toMm = fromMm + widthMm;
  const face = plan.faces.find((f) => f.wall === wall.id && f.side === side);
  if (!face || fromMm <= face.fromMm || toMm >= face.toMm) return 'it stands at an end of its wall';
  const run = plan.runs.find((r) => {
    const [low, high] = reachOf(r);
    return r.wall === wall.id && fromMm >= low && toMm <= high;
  });
  if (!run) return 'the wall steps there';
  const meets = (o: { readonly fromMm: number; readonly toMm: number }) => o.fromMm < toMm && fromMm < o.toMm;
  if (run.stems.some((s) => s.side === side && meets(s))) return 'a wall meets there';
  if (plan.openings.some((o) => o.wall === wall.id && meets(o))) return 'an opening is there';
  return { pilaster, wall, run, side, fromMm, toMm, projectionMm };
};

/** A pilaster's faces and its body. */
const built = (placed: Placed, n: number) => {
  const { wall, side, fromMm, toMm, projectionMm } = placed;
  const u = unit(sub(wall.end, wall.start));
  const out = scale(leftOf(u), side === 'left' ? 1 : -1);
  const at = (stationMm: number, beyondMm: number): Vec =>
    add(wall.start, add(scale(u, stationMm), scale(out, wall.thicknessMm / 2 + beyondMm)));
  const id = `${wall.id}-B${n}`;
  const face = (part: string, toMm: number, stands: NonNullable<Face['stands']>): Face => ({
    id: `${id}${part}`,
    wall: wall.id,
    side: 'pilaster',
    fromMm: 0,
    toMm,
    stands,
  });
  const faces = [
    face('', toMm - fromMm, {
      origin: at(fromMm, projectionMm),
      along: u,
      outward: out,
      stationMm: (fromMm + toMm) / 2,
    }),
    face('S', projectionMm, { origin: at(fromMm, 0), along: out, outward: scale(u, -1), stationMm: fromMm }),
    face('E', projectionMm, { origin: at(toMm, 0), along: out, outward: u, stationMm: toMm }),
  ] as const;
  const [front, low, high] = faces.map((f) => f.id) as [string, string, string];
  const own: RunPilaster = { id, side, fromMm, toMm, projectionMm, front, low, high };
  // It reaches into the wall, so that the union has no crack.
  const inward = -wall.thicknessMm / 2;
  const body = [at(fromMm, inward), at(toMm, inward), at(toMm, projectionMm), at(fromMm, projectionMm)];
  return { own, faces, body };
};

const notPlaced = (pilaster: Pilaster, wall: string, why: string): Finding => {
  const { x, y } = pilaster.at;
  const size = pilaster.inCorner
    ? `a block of ${mm(pilaster.widthMm)} by ${mm(pilaster.projectionMm)} mm at wall ${wall}`
    : `a pilaster ${mm(pilaster.widthMm)} mm wide that stands out ${mm(pilaster.projectionMm)} mm from wall ${wall}`;
  return finding('shape.pilaster', `Not laid out: ${size}, since ${why}.`, {
    at: [x, y, 0],
    subject: wall,
    assumed: 'the forms run through as if it were not there',
  });
};

const inFaceOrder = inOrder<Placed>(
  byNumber((p) => p.fromMm),
  byNumber((p) => (p.side === 'left' ? 0 : 1)),
);

/** Places pilasters on the runs and faces of a plan. Two that overlap on one face, or stand askew on both, are both left out. */
export const placePilasters = (plan: Plan, pilasters: readonly Pilaster[]): PlacedPilasters => {
  const findings: Finding[] = [];
  const placed: Placed[] = [];
  for (const pilaster of pilasters) {
    const wall = plan.walls.length === 0 ? undefined : plan.walls[nearestWall(pilaster.at, plan.walls).wall];
    const found = wall ? placeOf(plan, pilaster, wall) : 'no wall stands there';
    if (typeof found === 'string') findings.push(notPlaced(pilaster, wall?.id ?? '', found));
    else placed.push(found);
  }
  const clash = (a: Placed, b: Placed) =>
    a !== b && a.wall === b.wall && a.side === b.side && a.fromMm <= b.toMm && b.fromMm <= a.toMm;
  // Both faces end at one pair of joints there, so that the post beside the one that ends sooner closes the rest.
  const isAskew = (a: Placed, b: Placed) =>
    a.wall === b.wall &&
    a.side !== b.side &&
    a.fromMm < b.toMm &&
    b.fromMm < a.toMm &&
    Math.max(Math.abs(a.fromMm - b.fromMm), Math.abs(a.toMm - b.toMm)) > ASKEW_MOST_MM;
  const clear = placed.filter((a) => !placed.some((b) => clash(a, b) || isAskew(a, b)));
  for (const p of placed)
    if (!clear.includes(p)) {
      const why = placed.some((b) => clash(p, b))
        ? 'another one stands in its place'
        : 'one on the other face stands opposite a part of it';
      findings.push(notPlaced(p.pilaster, p.wall.id, why));
    }
  const made = plan.walls.flatMap((wall) =>
    clear
      .filter((p) => p.wall === wall)
      .sort(inFaceOrder)
      .map((p, i) => ({ run: p.run, ...built(p, i + 1) })),
  );
  const runs = plan.runs.map((run): Run => {
    const own = made.filter((m) => m.run === run).map((m) => m.own);
    return own.length === 0 ? run : { ...run, pilasters: own };
  });
  const faces = plan.faces.flatMap((face, i) => {
    const isLast = plan.faces[i + 1]?.wall !== face.wall;
    return isLast ? [face, ...made.filter((m) => m.run.wall === face.wall).flatMap((m) => m.faces)] : [face];
  });
  return { runs, faces, bodies: made.map((m) => m.body), findings };
};

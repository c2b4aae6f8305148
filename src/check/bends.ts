/**
 * Bends: walls that meet and turn by less than a hinge takes, with a strip of timber on either face. Worked out by points in plan: what the strip hands on
 * to its neighbours by moments, whether the frames beside it clear each other, and whether it measures what the joint does.
 */

import { facePoint } from '../ground/arcs.js';
import { isBend } from '../ground/cornerAngles.js';
import { type Finding, finding } from '../ground/findings.js';
import { distance, dot, sub, unit, type Vec } from '../ground/plane.js';
import { COVER_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Piece, Run, RunEnd, Side, Vertex, VertexArm } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf } from './context.js';

type Corner = RunEnd & { readonly kind: 'corner' };

/** One edge of a strip: where the forms of a wall end, at the concrete and at the back of their frames. */
interface Edge {
  readonly wall: string;
  readonly contact: Vec;
  readonly back: Vec;
  /** Away from the concrete, and away from the vertex along the face. */
  readonly outward: Vec;
  readonly away: Vec;
}

const edgeOf = (ctx: Context, piece: Piece, vertex: Vertex, arm: VertexArm): Edge | null => {
  const wall = ctx.walls.get(arm.wall);
  const side = arm.side as Side;
  const face = faceOf(ctx, arm.wall, side);
  const cover = piece.covers.find((c) => c.face === face?.id);
  if (!wall || !cover) return null;
  const stationMm = arm.direction === 1 ? cover.toMm : cover.fromMm;
  const contact = facePoint(wall, side, stationMm);
  const back = facePoint(wall, side, stationMm, ctx.catalogue.frameDepthMm);
  if (distance(contact, vertex.at) <= EQUAL_MM) return null;
  return { wall: wall.id, contact, back, outward: unit(sub(back, contact)), away: unit(sub(contact, vertex.at)) };
};

/** A strip over a vertex, with its two edges; null for what is none. */
const edgesOf = (ctx: Context, piece: Piece): { readonly vertex: Vertex; readonly edges: [Edge, Edge] } | null => {
  const vertex = ctx.vertices.get(piece.vertex ?? '');
  if (piece.kind !== 'timber' || !vertex || !isBend(vertex.deflectionDeg)) return null;
  const [a, b] = vertex.arms.map((arm) => edgeOf(ctx, piece, vertex, arm));
  return a && b ? { vertex, edges: [a, b] } : null;
};

/**
 * What a strip under unit pressure hands on to the forms of its first edge's wall, mm of strip, when those pull at it with `pullMm`: equilibrium of the part
 * on that wall's side of the bisector, which the other part holds square to the bisector alone. (That the two arms may differ is a moment in the strip's
 * bolts, p times the difference of their squares over 8 or so.)
 */
const handedOn = (vertex: Vec, [own, other]: readonly [Edge, Edge], pullMm: number): number => {
  const across = unit(sub(other.away, own.away));
  // Along the wall the other part takes the pull; square to the wall that gives a part of it.
  const force = pullMm / -dot(across, own.away);
  return distance(vertex, own.contact) + force * dot(across, own.outward);
};

/**
 * What hangs on the line of a run's side at a bend, mm of strip: the arm of its strip, and on the inner face what the pull of the wall, p t, adds. All
 * of the pull is taken to run in the inner line: what the outer one has of it presses the outer strip on and relieves the ties. null where no strip stands.
 */
export const bendShearMm = (ctx: Context, run: Run, end: Corner, side: Side): number | null => {
  const id = side === 'left' ? end.leftVertex : end.rightVertex;
  const pullMm = side === end.inner ? run.thicknessMm : 0;
  const handed = (ctx.timberAt.get(id) ?? []).flatMap((piece) => {
    const found = edgesOf(ctx, piece);
    if (!found) return [];
    const [a, b] = found.edges;
    return [handedOn(found.vertex.at, a.wall === run.wall ? [a, b] : [b, a], pullMm)];
  });
  return handed.length > 0 ? Math.max(...handed) : null;
};

const mm = (n: number): string => plainNumber(n, 1);

/** Frames that collide, and strips that do not measure what their joint does. */
const stripFaults = (ctx: Context, piece: Piece): string[] => {
  const found = edgesOf(ctx, piece);
  if (!found) return piece.taper ? [`Strip ${piece.id} does not reach both walls of its bend`] : [];
  const { vertex, edges } = found;
  const [a, b] = edges;
  const faults: string[] = [];
  // Behind a re-entrant vertex the backs come together: they have crossed when they lie the other way round than the edges at the concrete.
  const along = unit(sub(b.contact, a.contact));
  const backMm = (b.back.x - a.back.x) * along.x + (b.back.y - a.back.y) * along.y;
  if (backMm < -EQUAL_MM) faults.push(`The frames beside strip ${piece.id} overlap by ${mm(-backMm)} mm`);
  const measured = { faceMm: distance(a.contact, b.contact), backMm: distance(a.back, b.back) };
  const given = piece.taper ?? { faceMm: 0, backMm: 0 };
  const off = Math.max(Math.abs(measured.faceMm - given.faceMm), Math.abs(measured.backMm - given.backMm));
  if (off > COVER_MM)
    faults.push(
      `The joint at ${vertex.node} is ${mm(measured.faceMm)} mm wide at the concrete and ${mm(measured.backMm)} at the back; strip ${piece.id} is ${mm(given.faceMm)} and ${mm(given.backMm)}`,
    );
  const { timberLimitMm } = ctx.catalogue;
  if (measured.faceMm > timberLimitMm + EQUAL_MM)
    faults.push(`Strip ${piece.id} is ${mm(measured.faceMm)} mm wide: more than ${mm(timberLimitMm)} mm`);
  return faults;
};

/** Strips at bends, each course by itself. */
export const bendFindings = (ctx: Context): Finding[] =>
  [...ctx.timberAt].flatMap(([id, pieces]) => {
    const vertex = ctx.vertices.get(id)!;
    const at = [vertex.at.x, vertex.at.y, 0] as const;
    return pieces.flatMap((piece) =>
      stripFaults(ctx, piece).map((text) => finding('check.bend', `${text}.`, { at, subject: piece.id })),
    );
  });

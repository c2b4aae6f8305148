/**
 * Forms on curved walls, by coordinates of their corners in plan: whether chords stay near enough to the arc, whether frames clear each other, whether tapered
 * fill measures what the joint does, whether the forms of both faces stand opposite each other and ties pass square through them. Nothing here is taken from
 * what laid them out: corners are points of circles, gaps are distances between them.
 */

import { type Finding, finding } from '../ground/findings.js';
import { cross, distance, dot, sub, type Vec } from '../ground/plane.js';
import { COVER_MM, HOLE_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Cover, Face, Piece, Side, Wall, WallArc } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, type PlacedCover, placeOn, unitOf } from './context.js';
import { holeAsSet } from './ties.js';

/** A tie may stand off square to a form by this much. Common practice, no source. */
export const SKEW_MOST_DEG = 3;

type Curved = Wall & { readonly arc: WallArc };

/** A form in plan: its contact line from low to high stations, and the same at the back of its frame. */
interface Plan {
  readonly piece: Piece;
  readonly cover: Cover;
  readonly contact: readonly [Vec, Vec];
  readonly back: readonly [Vec, Vec];
}

const polar = (centre: Vec, radius: number, rad: number): Vec => ({
  x: centre.x + radius * Math.cos(rad),
  y: centre.y + radius * Math.sin(rad),
});

const moved = (p: Vec, along: Vec, by: number): Vec => ({ x: p.x + along.x * by, y: p.y + along.y * by });

/** Corners of a form: the inner one's edges lie on the inner circle, the outer one is the same line moved by the thickness. */
const planOf = ({ arc, thicknessMm }: Curved, side: Side, depthMm: number, { piece, cover }: PlacedCover): Plan => {
  const { centre, innerRadiusMm: r, fromRad } = arc;
  const middle = fromRad + (cover.fromMm + cover.toMm) / 2 / (r + thicknessMm);
  const half = Math.asin((cover.toMm - cover.fromMm) / (2 * r));
  const away = polar({ x: 0, y: 0 }, 1, middle);
  const [low, high] = [polar(centre, r, middle - half), polar(centre, r, middle + half)];
  const [face, back] = side === 'left' ? [0, -depthMm] : [thicknessMm, thicknessMm + depthMm];
  return {
    piece,
    cover,
    contact: [moved(low, away, face), moved(high, away, face)],
    back: [moved(low, away, back), moved(high, away, back)],
  };
};

/** How far two convex shapes are apart along the best of their edges' normals; below 0 they overlap (separating axes). */
const apart = (a: readonly Vec[], b: readonly Vec[]): number => {
  const gaps = [a, b].flatMap((ring) =>
    ring.map((p, i) => {
      const edge = sub(ring[(i + 1) % ring.length]!, p);
      const size = Math.hypot(edge.x, edge.y) || 1;
      const n = { x: edge.y / size, y: -edge.x / size };
      const reach = (r: readonly Vec[]) => r.map((v) => dot(v, n));
      const [p1, p2] = [reach(a), reach(b)];
      return Math.max(Math.min(...p2) - Math.max(...p1), Math.min(...p1) - Math.max(...p2));
    }),
  );
  return Math.max(...gaps);
};

const outline = ({ contact, back }: Plan): Vec[] => [contact[0], contact[1], back[1], back[0]];

/** Forms that stand on a face in one course, in order of station. */
const formsOn = (ctx: Context, wall: Curved, face: Face, course: number): Plan[] =>
  (ctx.covers.get(face.id) ?? [])
    .filter(
      ({ piece, cover }) =>
        piece.course === course && piece.item !== null && cover.toMm - cover.fromMm < 2 * wall.arc.innerRadiusMm,
    )
    .map((p) => planOf(wall, face.side as Side, ctx.catalogue.frameDepthMm, p));

const mm = (n: number): string => plainNumber(n, 1);

type Say = (text: string, stationMm: number, subject: string) => Finding;

/** Chords that leave the arc by more than is allowed. */
const chordFaults = (wall: Curved, forms: readonly Plan[], mostMm: number, say: Say): Finding[] =>
  forms.flatMap(({ piece, cover }) => {
    const inner = planOf(wall, 'left', 0, { piece, cover }).contact;
    const middle = { x: (inner[0].x + inner[1].x) / 2, y: (inner[0].y + inner[1].y) / 2 };
    const off = wall.arc.innerRadiusMm - distance(middle, wall.arc.centre);
    if (off <= mostMm + EQUAL_MM) return [];
    return [
      say(
        `Piece ${piece.id} leaves the arc of wall ${wall.id} by ${mm(off)} mm, more than ${mm(mostMm)}`,
        cover.fromMm,
        piece.id,
      ),
    ];
  });

/** Frames that collide, and fill that does not measure what its joint does. */
const jointFaults = (ctx: Context, face: Face, a: Plan, b: Plan, say: Say): Finding[] => {
  const found: Finding[] = [];
  const at = b.cover.fromMm;
  const away = apart(outline(a), outline(b));
  if (away < -EQUAL_MM)
    found.push(say(`The frames of ${a.piece.id} and ${b.piece.id} overlap by ${mm(-away)} mm`, at, b.piece.id));
  const fill = (ctx.covers.get(face.id) ?? []).find(
    ({ piece, cover }) =>
      piece.taper && piece.course === a.piece.course && Math.abs(cover.fromMm - a.cover.toMm) <= COVER_MM,
  )?.piece;
  const measured = { faceMm: distance(a.contact[1], b.contact[0]), backMm: distance(a.back[1], b.back[0]) };
  const given = fill?.taper ?? { faceMm: 0, backMm: 0 };
  const off = Math.max(Math.abs(measured.faceMm - given.faceMm), Math.abs(measured.backMm - given.backMm));
  if (off > COVER_MM) {
    const what = fill ? `fill ${fill.id} is ${mm(given.faceMm)} and ${mm(given.backMm)}` : 'there is no fill';
    found.push(
      say(
        `The joint after ${a.piece.id} is ${mm(measured.faceMm)} mm wide at the concrete and ${mm(measured.backMm)} at the back; ${what}`,
        at,
        fill?.id ?? a.piece.id,
      ),
    );
  }
  return found;
};

/** The plane at which a straight wall's forms end, as a form of no width: corners at the concrete and at the back. */
const planeAt = ({ arc, thicknessMm }: Curved, side: Side, depthMm: number, stationMm: number, like: Plan): Plan => {
  const rad = arc.fromRad + stationMm / (arc.innerRadiusMm + thicknessMm);
  const [face, back] =
    side === 'left'
      ? [arc.innerRadiusMm, arc.innerRadiusMm - depthMm]
      : [arc.innerRadiusMm + thicknessMm, arc.innerRadiusMm + thicknessMm + depthMm];
  const [a, b] = [polar(arc.centre, face, rad), polar(arc.centre, back, rad)];
  const cover = { ...like.cover, fromMm: stationMm, toMm: stationMm };
  return { ...like, cover, contact: [a, a], back: [b, b] };
};

/** Frames that reach past the end of a curved wall into the straight one's. */
const pastPlane = (wall: Curved, form: Plan, end: 'start' | 'end', stationMm: number, say: Say): Finding[] => {
  const { centre, fromRad, innerRadiusMm } = wall.arc;
  const ray = polar({ x: 0, y: 0 }, 1, fromRad + stationMm / (innerRadiusMm + wall.thicknessMm));
  const sign = end === 'start' ? 1 : -1;
  const least = Math.min(...outline(form).map((p) => sign * cross(ray, sub(p, centre))));
  if (least >= -EQUAL_MM) return [];
  return [
    say(
      `The frame of ${form.piece.id} reaches ${mm(-least)} mm past the end of wall ${wall.id}`,
      stationMm,
      form.piece.id,
    ),
  ];
};

/** What is wrong where straight walls go on at the ends of a curved one. */
const endFaults = (ctx: Context, wall: Curved, face: Face, forms: readonly Plan[], say: Say): Finding[] => {
  const run = ctx.runs.get(wall.id);
  const [first, last] = [forms[0], forms[forms.length - 1]];
  if (!run || !first || !last) return [];
  const { frameDepthMm } = ctx.catalogue;
  const plane = (stationMm: number, like: Plan) => planeAt(wall, face.side as Side, frameDepthMm, stationMm, like);
  const [from, to] = [run.start.leftMm, run.end.leftMm];
  return [
    ...(run.start.kind === 'tangent'
      ? [...jointFaults(ctx, face, plane(from, first), first, say), ...pastPlane(wall, first, 'start', from, say)]
      : []),
    ...(run.end.kind === 'tangent'
      ? [...jointFaults(ctx, face, last, plane(to, last), say), ...pastPlane(wall, last, 'end', to, say)]
      : []),
  ];
};

/** Forms of one face that have no form of the same stations opposite them. */
const oppositeFaults = (left: readonly Plan[], right: readonly Plan[], say: Say): Finding[] => {
  const key = ({ cover }: Plan) => `${mm(cover.fromMm)} ${mm(cover.toMm)}`;
  const alone = (a: readonly Plan[], b: readonly Plan[]) => {
    const there = new Set(b.map(key));
    return a.filter((p) => !there.has(key(p)));
  };
  return [...alone(left, right), ...alone(right, left)].map(({ piece, cover }) =>
    say(`Piece ${piece.id} has no form opposite it between the same stations`, cover.fromMm, piece.id),
  );
};

/** A hole of a form in plan, counted from its left edge as seen from outside: on the inner, left face that is the edge of the higher station. */
const holeAt = (ctx: Context, form: Plan, side: Side, hole: number): Vec | null => {
  const unit = unitOf(ctx, form.piece);
  const own = unit ? holeAsSet(unit, form.piece.turned, hole) : null;
  if (!own) return null;
  const [from, to] = side === 'left' ? [form.contact[1], form.contact[0]] : form.contact;
  const size = distance(from, to);
  return moved(from, { x: (to.x - from.x) / size, y: (to.y - from.y) / size }, own.xMm);
};

/** Ties that are not square to their forms, or longer than the wall is thick. */
const tieFaults = (ctx: Context, wall: Curved, forms: ReadonlyMap<string, Plan>, say: Say): Finding[] =>
  (ctx.ties.get(wall.id) ?? []).flatMap((tie) => {
    const [left, right] = tie.pieces.map((id) => forms.get(id));
    if (!left || !right) return [];
    const [a, b] = [holeAt(ctx, left, 'left', tie.holes[0]), holeAt(ctx, right, 'right', tie.holes[1])];
    if (!a || !b) return [];
    const line = sub(b, a);
    const skew = [left, right].map(({ contact }) => {
      const along = sub(contact[1], contact[0]);
      return 90 - (Math.atan2(Math.abs(cross(along, line)), Math.abs(dot(along, line))) * 180) / Math.PI;
    });
    const most = Math.max(...skew);
    const long = Math.abs(distance(a, b) - wall.thicknessMm);
    if (most <= SKEW_MOST_DEG && long <= HOLE_MM) return [];
    const text = `Tie ${tie.id} stands ${mm(most)} degrees off square and is ${mm(distance(a, b))} mm long between the faces of a wall ${mm(wall.thicknessMm)} thick`;
    return [say(text, tie.stationMm, tie.id)];
  });

/** All curved walls. `chordMostMm`: how far a chord may leave the arc. */
export const curveFindings = (ctx: Context, chordMostMm: number): Finding[] =>
  ctx.plan.walls.flatMap((w) => {
    if (!w.arc) return [];
    const wall: Curved = { ...w, arc: w.arc };
    const [left, right] = [faceOf(ctx, wall.id, 'left'), faceOf(ctx, wall.id, 'right')];
    if (!left || !right) return [];
    const say: Say = (text, stationMm, subject) =>
      finding('check.curve', `${text}.`, { at: placeOn(ctx, wall.id, null, stationMm), subject });
    const isRing = ctx.runs.get(wall.id)?.start.kind === 'ring';
    const courses = [...new Set(ctx.layout.pieces.map((p) => p.course))].filter((c) => c > 0);
    const byPiece = new Map<string, Plan>();
    const found = courses.flatMap((course) => {
      const [inner, outer] = [formsOn(ctx, wall, left, course), formsOn(ctx, wall, right, course)];
      for (const form of [...inner, ...outer]) byPiece.set(form.piece.id, form);
      const joints = [
        { face: left, forms: inner },
        { face: right, forms: outer },
      ].flatMap(({ face, forms }) => [
        ...forms.flatMap((form, i) => {
          const next = forms[i + 1] ?? (isRing ? forms[0] : undefined);
          return next && next !== form ? jointFaults(ctx, face, form, next, say) : [];
        }),
        ...endFaults(ctx, wall, face, forms, say),
      ]);
      return [...chordFaults(wall, inner, chordMostMm, say), ...joints, ...oppositeFaults(inner, outer, say)];
    });
    return [...found, ...tieFaults(ctx, wall, byPiece, say)];
  });

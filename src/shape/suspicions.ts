/** What a person should look at although it could be laid out: open ends, gaps, near misses, walls that were moved, bodies that clash. */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { add, cross, distance, dot, leftOf, scale, sub, unit, type Vec } from '../ground/plane.js';
import { COVER_MM, SAME_POINT_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import { buriedFindings, buriedIn, type FreeEnd, tip } from './buriedEnds.js';
import type { JointShape } from './corners.js';
import { beyond } from './joints.js';
import { type Bar, crossingOf, isParallel, type Part, placeOf, pointOf } from './model.js';
import { type Body, shared } from './outline.js';
import type { Cut, Segment } from './segments.js';
import { END_MM, GAP_MOST_MM, LINE_MM, NEAR_MISS_MM, ROOM_LEAST_MM } from './tolerances.js';

/** What every look needs. */
export interface Scene {
  readonly cut: Cut;
  readonly joints: readonly JointShape[];
  /** Id of each segment's wall. */
  readonly idOf: (segment: number) => string;
  readonly origin: Vec;
}

const freeEnds = (scene: Scene): FreeEnd[] =>
  scene.joints
    .filter((j) => j.kind === 'end')
    .map((j) => ({ ...j.ends[0]!, bar: scene.cut.segments[j.ends[0]!.segment]!.bar }));

const openEndFindings = (scene: Scene, ends: readonly FreeEnd[]): Finding[] =>
  ends
    .filter((e) => !(e.end === 'lo' ? e.bar.loCapped : e.bar.hiCapped))
    .map((e) =>
      finding('shape.open-end', `Wall ${scene.idOf(e.segment)} ends without a closing line and meets no other wall.`, {
        at: placeOf(tip(e), scene.origin),
        subject: scene.idOf(e.segment),
        assumed: 'the concrete ends there: a free end',
      }),
    );

/** Free ends that face each other along one line, each with its nearest partner. */
const gapFindings = (scene: Scene, ends: readonly FreeEnd[]): Finding[] =>
  ends
    .filter((e) => e.end === 'hi')
    .flatMap((a): Finding[] => {
      const facing = ends
        .filter((b) => b.end === 'lo' && isParallel(a.bar.direction, b.bar.direction))
        .filter(
          (b) => Math.abs(a.bar.offsetMm - b.bar.offsetMm) < (a.bar.thicknessMm + b.bar.thicknessMm) / 2 - LINE_MM,
        )
        .map((b) => ({ b, gapMm: b.bar.loMm - a.bar.hiMm }))
        .filter(({ gapMm }) => gapMm > 0 && gapMm <= GAP_MOST_MM)
        .sort(byNumber((f) => f.gapMm))[0];
      if (!facing) return [];
      const walls = [scene.idOf(a.segment), scene.idOf(facing.b.segment)];
      const at = placeOf(scale(add(tip(a), tip(facing.b)), 0.5), scene.origin);
      const message = `Walls ${walls.join(' and ')} face each other in line with a gap of ${plainNumber(facing.gapMm, 1)} mm.`;
      return [finding('shape.gap-in-line', message, { at, subject: walls.join(' '), assumed: 'both are free ends' })];
    });

/** Pairs of walls side by side with less room between their faces than two forms need. */
const noRoomFindings = (scene: Scene): Finding[] => {
  const { segments } = scene.cut;
  return segments.flatMap((a, i) =>
    segments.slice(i + 1).flatMap((b, k): Finding[] => {
      if (!isParallel(a.bar.direction, b.bar.direction)) return [];
      const roomMm = Math.abs(a.bar.offsetMm - b.bar.offsetMm) - (a.bar.thicknessMm + b.bar.thicknessMm) / 2;
      const from = Math.max(a.bar.loMm, b.bar.loMm);
      const to = Math.min(a.bar.hiMm, b.bar.hiMm);
      if (roomMm <= SAME_POINT_MM || roomMm >= ROOM_LEAST_MM || to - from < ROOM_LEAST_MM) return [];
      const ids = [scene.idOf(i), scene.idOf(i + 1 + k)].sort();
      const { u } = a.bar.direction;
      const shift = (from + to) / 2 - (u.x * pointOf(a.bar, a.bar.loMm).x + u.y * pointOf(a.bar, a.bar.loMm).y);
      const on = pointOf(a.bar, a.bar.loMm);
      const at = placeOf({ x: on.x + u.x * shift, y: on.y + u.y * shift }, scene.origin);
      const message = `Walls ${ids.join(' and ')} stand ${plainNumber(roomMm, 1)} mm apart over ${plainNumber(to - from, 0)} mm: no forms fit between them.`;
      return [
        finding('shape.no-room', message, {
          at,
          subject: ids.join(' '),
          assumed: 'forms are drawn there all the same',
        }),
      ];
    }),
  );
};

/** The nearest wall across the way of a free end, with what is missing to its face. */
const missOf = (scene: Scene, e: FreeEnd): { readonly segment: number; readonly missMm: number } | null => {
  const misses = scene.cut.segments.flatMap((s, segment) => {
    const c = segment === e.segment ? null : crossingOf(e.bar, s.bar);
    if (!c) return [];
    const missMm = beyond(e.bar, e.end, c.along[0]) - c.reach[0];
    const besideMm = Math.max(s.bar.loMm - c.along[1], c.along[1] - s.bar.hiMm, 0) - c.reach[1];
    const near = missMm > -END_MM && missMm <= NEAR_MISS_MM && besideMm <= NEAR_MISS_MM;
    return near ? [{ segment, missMm: Math.max(missMm, besideMm, 0) }] : [];
  });
  return misses.sort((a, b) => a.missMm - b.missMm || a.segment - b.segment)[0] ?? null;
};

const nearMissFindings = (scene: Scene, ends: readonly FreeEnd[]): Finding[] =>
  ends.flatMap((e): Finding[] => {
    const miss = missOf(scene, e);
    if (!miss) return [];
    const [own, other] = [scene.idOf(e.segment), scene.idOf(miss.segment)];
    const message = `Wall ${own} stops ${plainNumber(miss.missMm, 1)} mm short of wall ${other}.`;
    return [
      finding('shape.near-miss', message, {
        at: placeOf(tip(e), scene.origin),
        subject: own,
        assumed: 'the walls do not meet',
      }),
    ];
  });

interface Move {
  readonly movedMm: number;
  /** How much of it comes from turning the stretch. */
  readonly turnedMm: number;
  readonly at: Vec;
}

/** How far a stretch's drawn faces lie from the faces of the wall that it became. */
const moveOf = (part: Part, bar: Bar): Move => {
  const { u, n } = bar.direction;
  const along = sub(part.end, part.start);
  const own = unit(dot(along, u) < 0 ? scale(along, -1) : along);
  const turnedMm = (Math.abs(cross(own, u)) * distance(part.start, part.end)) / 2;
  let worst: Move = { movedMm: 0, turnedMm, at: part.start };
  for (const p of [part.start, part.end])
    for (const side of [1, -1]) {
      const drawn = add(p, scale(leftOf(own), (side * part.thicknessMm) / 2));
      const movedMm = Math.abs(dot(drawn, n) - bar.offsetMm - (side * bar.thicknessMm) / 2);
      if (movedMm > worst.movedMm) worst = { movedMm, turnedMm, at: p };
    }
  return worst;
};

const partsIn = ({ bar }: Segment): Part[] =>
  bar.parts.filter((p) => {
    const [a, b] = [dot(p.start, bar.direction.u), dot(p.end, bar.direction.u)];
    return Math.min(Math.max(a, b), bar.hiMm) > Math.max(Math.min(a, b), bar.loMm);
  });

/** Turned by less than this is floating-point noise and not said at all. */
const TURN_NOISE_MM = 0.01;

const movedFindings = (scene: Scene): Finding[] => {
  const turned: number[] = [];
  const findings = scene.cut.segments.flatMap((s, segment): Finding[] => {
    const worst = partsIn(s)
      .map((p) => moveOf(p, s.bar))
      .sort(byNumber((m) => -m.movedMm))[0];
    if (!worst) return [];
    const id = scene.idOf(segment);
    const at = placeOf(worst.at, scene.origin);
    const amount = plainNumber(worst.movedMm, 1);
    if (worst.movedMm <= SAME_POINT_MM) {
      if (worst.turnedMm > TURN_NOISE_MM) turned.push(worst.turnedMm);
      return [];
    }
    return worst.turnedMm > SAME_POINT_MM / 2
      ? [
          finding('shape.squared', `Wall ${id} was squared; its faces moved by up to ${amount} mm.`, {
            at,
            subject: id,
            assumed: 'the wall is square to its neighbours',
          }),
        ]
      : [
          finding(
            'shape.rounded',
            `A face of wall ${id} moved by ${amount} mm when it was aligned and brought onto the grid.`,
            { at, subject: id, assumed: 'the face is straight and on the grid' },
          ),
        ];
  });
  if (turned.length > 0)
    findings.push(
      finding(
        'shape.squared',
        `${turned.length} walls were squared by no more than ${plainNumber(Math.max(...turned), 2)} mm.`,
        { severity: 'note', assumed: 'they are square to their neighbours' },
      ),
    );
  return findings;
};

const jointFindings = (scene: Scene): Finding[] =>
  scene.joints.flatMap((joint): Finding[] => {
    if (joint.why === null) return [];
    const code = joint.kind === 'thickness-change' ? 'shape.thickness-change' : 'shape.junction-not-laid-out';
    const ids = [...new Set(joint.ends.map((e) => scene.idOf(e.segment)))];
    const message = `Not laid out here yet: ${joint.why} (${ids.sort().join(', ')}).`;
    return [
      finding(code, message, {
        at: placeOf(joint.at, scene.origin),
        subject: ids.join(' '),
        assumed: 'the faces are left open there',
      }),
    ];
  });

const meets = (a: Segment, b: Segment): boolean => {
  const own = [a.lo, a.hi, ...a.through];
  return [b.lo, b.hi, ...b.through].some((j) => own.includes(j));
};

/** The gap between two parallel walls' near faces where they run beside each other; null where they do not. */
const clearBetween = (a: Bar, b: Bar): { readonly clearMm: number; readonly at: Vec } | null => {
  if (!isParallel(a.direction, b.direction)) return null;
  const [from, to] = [Math.max(a.loMm, b.loMm), Math.min(a.hiMm, b.hiMm)];
  if (to - from <= END_MM) return null;
  const clearMm = Math.abs(a.offsetMm - b.offsetMm) - (a.thicknessMm + b.thicknessMm) / 2;
  const toward = Math.sign(b.offsetMm - a.offsetMm) * (a.thicknessMm / 2);
  return { clearMm, at: pointOf(a, (from + to) / 2, toward) };
};

interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

const boxOf = (ring: readonly Vec[]): Box => ({
  x0: Math.min(...ring.map((p) => p.x)),
  x1: Math.max(...ring.map((p) => p.x)),
  y0: Math.min(...ring.map((p) => p.y)),
  y1: Math.max(...ring.map((p) => p.y)),
});

/** Pairs of bodies whose boxes come within SAME_POINT_MM, swept along x. */
const nearPairs = (bodies: readonly Body[]): [Body, Body][] => {
  const boxed = bodies.map((body) => ({ body, box: boxOf(body.ring) })).sort(byNumber((b) => b.box.x0));
  const pairs: [Body, Body][] = [];
  boxed.forEach((a, i) => {
    for (let k = i + 1; k < boxed.length; k++) {
      const b = boxed[k]!;
      if (b.box.x0 > a.box.x1 + SAME_POINT_MM) break;
      if (b.box.y0 <= a.box.y1 + SAME_POINT_MM && a.box.y0 <= b.box.y1 + SAME_POINT_MM) pairs.push([a.body, b.body]);
    }
  });
  return pairs;
};

const clashFindings = (scene: Scene, bodies: readonly Body[], tooShort: ReadonlySet<number>): Finding[] =>
  nearPairs(bodies.filter((b) => !tooShort.has(b.segment))).flatMap(([a, b]): Finding[] => {
    const [sa, sb] = [scene.cut.segments[a.segment]!, scene.cut.segments[b.segment]!];
    if (meets(sa, sb)) return [];
    const ids = [scene.idOf(a.segment), scene.idOf(b.segment)].sort();
    const subject = ids.join(' ');
    const overlap = shared(a.ring, b.ring);
    if (overlap.areaMm2 > COVER_MM * Math.min(sa.bar.thicknessMm, sb.bar.thicknessMm)) {
      const message = `Walls ${ids.join(' and ')} lie over each other on ${plainNumber(overlap.areaMm2 / 1e6, 4)} m2.`;
      return [finding('shape.bodies-overlap', message, { at: placeOf(overlap.middle, scene.origin), subject })];
    }
    const clear = clearBetween(sa.bar, sb.bar);
    if (!clear || Math.abs(clear.clearMm) > SAME_POINT_MM) return [];
    const message = `Walls ${ids.join(' and ')} lie face against face.`;
    return [finding('shape.walls-touching', message, { at: placeOf(clear.at, scene.origin), subject })];
  });

const shortFindings = (scene: Scene, tooShort: ReadonlySet<number>): Finding[] =>
  [...tooShort].map((segment) => {
    const { bar } = scene.cut.segments[segment]!;
    const id = scene.idOf(segment);
    return finding(
      'shape.wall-too-short',
      `The walls at both ends of wall ${id} leave no face between them on one side.`,
      {
        at: placeOf(pointOf(bar, (bar.loMm + bar.hiMm) / 2), scene.origin),
        subject: id,
        assumed: 'the faces are left open there',
      },
    );
  });

/** All of them; `tooShort` names segments with a face of no length. */
export const lookForTrouble = (scene: Scene, bodies: readonly Body[], tooShort: ReadonlySet<number>): Finding[] => {
  const all = freeEnds(scene);
  const ends = all.filter((e) => buriedIn(e, bodies) === null);
  return [
    ...buriedFindings(all, bodies, scene.idOf, scene.origin),
    ...openEndFindings(scene, ends),
    ...gapFindings(scene, ends),
    ...noRoomFindings(scene),
    ...nearMissFindings(scene, ends),
    ...movedFindings(scene),
    ...jointFindings(scene),
    ...shortFindings(scene, tooShort),
    ...clashFindings(scene, bodies, tooShort),
  ];
};

/**
 * The hinged lines of a layout: on each face, between two ends (a vertex, a stem, a free end), the groups of one course from left to right.
 *
 * What hands load on at an end (strips, mm): an inside leg at rest hangs on the first joint with its length a; at a corner with (k + a) / 2
 * where that is more, k being the distance between the corner's two vertices along the wall; at a tee with a + t / (2 sin q), since the stem's
 * faces pull; at a bend what its strip hands on (bends.ts). A salient edge is held where an outside corner stands there, the corner turns by 45 degrees or more and the line begins at it. At a free end the concrete ends at the face's
 * end; forms run past it without load. At a jog: jogs.ts. Source: statics of the corner units, common practice for which edges count as held.
 */

import { holdsEdge, isBend } from '../ground/cornerAngles.js';
import type { Face, Group, Piece, Run, RunEnd, Side } from '../ground/vocabulary.js';
import { bendShearMm } from './bends.js';
import { type Context, EQUAL_MM, faceOf } from './context.js';
import { hangingAt, jogShear } from './jogs.js';
import { isRaised } from './raised.js';

export interface LineEnd {
  readonly kind: 'inner' | 'outer' | 'bend' | 'tee' | 'box' | 'free' | 'step' | 'jog' | 'open' | 'ring' | 'tangent';
  /** Vertex, end of the concrete, or riser. */
  readonly stationMm: number;
  /** Along the wall, from the salient vertex to the re-entrant one; only for 'inner'. */
  readonly kMm: number;
  /** What the stem's faces add to the leg, for 'tee'; half of a pilaster's front, for 'box'; all that hangs there, for 'bend'; what hangs here of the fill beyond, for 'tangent'. */
  readonly pullMm: number;
  readonly vertex: string | null;
  /** Only for 'step': what is between the last joint and the riser hangs on this line. */
  readonly hangs: boolean;
}

interface Stretch {
  readonly face: Face;
  readonly low: LineEnd;
  readonly high: LineEnd;
}

export interface LineElement {
  /** null: timber, or a gap that no piece covers. */
  readonly group: Group | null;
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Line {
  readonly wall: string;
  readonly face: Face;
  readonly side: Side;
  readonly course: number;
  readonly low: LineEnd;
  readonly high: LineEnd;
  readonly elements: readonly LineElement[];
  readonly jointsMm: readonly number[];
  readonly startShearMm: number;
  readonly endShearMm: number;
  /** Held edges, at the first or the last joint. */
  readonly heldMm: readonly number[];
  readonly loadedMm: readonly [number, number];
  /** Openings at the level that is looked at, in order and apart. */
  readonly unloadedMm?: readonly (readonly [number, number])[];
}

const at = (end: RunEnd, side: Side): number => (side === 'left' ? end.leftMm : end.rightMm);

const plainEnd = { kMm: 0, pullMm: 0, vertex: null, hangs: false };

/** Pull of a stem's faces as a strip of the line that they hang on. */
export const stemPull = (thicknessMm: number, angleDeg: number): number =>
  thicknessMm / 2 / Math.sin((angleDeg * Math.PI) / 180);

/** Width of the timber with which the other wall begins at this end, where that wall is the curved one. */
const fillBeyond = (ctx: Context, { node, other }: RunEnd & { kind: 'tangent' }): number => {
  const run = ctx.runs.get(other);
  const atStart = run?.start.kind === 'tangent' && run.start.node === node;
  const end = atStart ? run?.start : run?.end;
  const covers = ctx.covers.get(faceOf(ctx, other, 'right')?.id ?? '') ?? [];
  const fill = covers.find(
    ({ piece, cover }) => piece.taper && Math.abs((atStart ? cover.fromMm : cover.toMm) - (end?.rightMm ?? 0)) <= 1,
  )?.cover;
  return fill ? fill.toMm - fill.fromMm : 0;
};

const runEnd = (ctx: Context, run: Run, end: RunEnd, side: Side): LineEnd => {
  const stationMm = at(end, side);
  switch (end.kind) {
    case 'corner': {
      const vertex = side === 'left' ? end.leftVertex : end.rightVertex;
      const hangsMm = isBend(end.deflectionDeg) ? bendShearMm(ctx, run, end, side) : null;
      if (hangsMm !== null) return { ...plainEnd, kind: 'bend', stationMm, pullMm: hangsMm, vertex };
      if (side !== end.inner) return { ...plainEnd, kind: 'outer', stationMm, vertex };
      const outer = at(end, side === 'left' ? 'right' : 'left');
      const kMm = end === run.start ? stationMm - outer : outer - stationMm;
      return { ...plainEnd, kind: 'inner', stationMm, kMm, vertex };
    }
    case 'stem': {
      const vertex = side === 'left' ? end.leftVertex : end.rightVertex;
      return { ...plainEnd, kind: 'tee', stationMm, pullMm: stemPull(run.thicknessMm, end.angleDeg), vertex };
    }
    case 'free':
      return { ...plainEnd, kind: 'free', stationMm };
    case 'step':
      // Only below the upper footing something is left between the last joint and the riser, and it hangs on the lower forms.
      return { ...plainEnd, kind: 'step', stationMm, hangs: run.footingMm < end.beyondFootingMm };
    case 'ring':
      return { ...plainEnd, kind: 'ring', stationMm };
    case 'tangent':
      return { ...plainEnd, kind: 'tangent', stationMm, pullMm: fillBeyond(ctx, end) / 2 };
    case 'jog':
      return { ...plainEnd, kind: 'jog', stationMm };
    case 'open':
      return { ...plainEnd, kind: 'open', stationMm };
  }
};

/**
 * Where a stem or a pilaster interrupts a side. Before a pilaster nothing of the yard stands: the concrete on half of its front comes to either line, as by
 * symmetry it must where what bears it reaches from one line to the other.
 */
const mouthsOf = (run: Run, side: Side): { readonly low: LineEnd; readonly high: LineEnd }[] => [
  ...run.stems
    .filter((s) => s.side === side)
    .map((stem) => {
      // Beside a wall that is formed on one side no corner unit stands, and nothing pulls.
      const tee = stem.isOneSided
        ? { ...plainEnd, kind: 'open' as const }
        : { ...plainEnd, kind: 'tee' as const, pullMm: stemPull(stem.thicknessMm, stem.angleDeg) };
      return {
        low: { ...tee, stationMm: stem.fromMm, vertex: stem.fromVertex },
        high: { ...tee, stationMm: stem.toMm, vertex: stem.toVertex },
      };
    }),
  ...(run.pilasters ?? [])
    .filter((p) => p.side === side)
    .map((p) => {
      const box = { ...plainEnd, kind: 'box' as const, pullMm: (p.toMm - p.fromMm) / 2 };
      return { low: { ...box, stationMm: p.fromMm }, high: { ...box, stationMm: p.toMm } };
    }),
];

/** The stretches of one side of a run: stems and pilasters interrupt it. */
const stretchesOf = (ctx: Context, run: Run, side: Side): Stretch[] => {
  const face = faceOf(ctx, run.wall, side);
  if (!face) return [];
  const stretches: Stretch[] = [];
  let low = runEnd(ctx, run, run.start, side);
  for (const mouth of mouthsOf(run, side).sort((a, b) => a.low.stationMm - b.low.stationMm)) {
    stretches.push({ face, low, high: mouth.low });
    low = mouth.high;
  }
  return [...stretches, { face, low, high: runEnd(ctx, run, run.end, side) }];
};

/** Levels of a course of a run. */
const levelsOfCourse = (ctx: Context, run: Run, course: number): readonly [number, number] | null => {
  const stack = ctx.demands.get(run.id)?.stack;
  if (!stack || course > stack.heightsMm.length) return null;
  const lowMm = stack.heightsMm.slice(0, course - 1).reduce((sum, h) => sum + h, stack.baseMm);
  return [lowMm, lowMm + stack.heightsMm[course - 1]!];
};

/** Does a piece stand at half the height of a run's course? */
const isBeside = (ctx: Context, run: Run, course: number, piece: Piece | undefined): boolean => {
  const levels = levelsOfCourse(ctx, run, course);
  if (!levels || !piece) return false;
  const middle = (levels[0] + levels[1]) / 2;
  return piece.baseMm <= middle && piece.topMm > middle;
};

/** Does a group stand in a course of its run? Beside a higher wall it has that wall's courses: there its levels tell. */
const standsIn = (ctx: Context, run: Run, { face }: Stretch, g: Group, course: number): boolean =>
  isRaised(ctx, face, g.fromMm, g.toMm)
    ? isBeside(ctx, run, course, ctx.pieces.get(g.pieces[0] ?? ''))
    : g.course === course;

/** Groups and timber of one course in a stretch; the ends' timber, which hangs on the first group like a leg, is left out. */
const elementsOf = (
  ctx: Context,
  run: Run,
  stretch: Stretch,
  course: number,
  bounds: readonly [number, number],
  hanging: ReadonlySet<string>,
): LineElement[] => {
  const inside = (fromMm: number, toMm: number) => {
    const middle = (fromMm + toMm) / 2;
    return middle > bounds[0] && middle < bounds[1];
  };
  const groups = (ctx.groups.get(stretch.face.id) ?? [])
    .filter((g) => g.run === run.id && standsIn(ctx, run, stretch, g, course))
    .filter((g) => !hanging.has(g.id) && inside(g.fromMm, g.toMm))
    .map((group): LineElement => ({ group, fromMm: group.fromMm, toMm: group.toMm }));
  const timber = (ctx.covers.get(stretch.face.id) ?? [])
    .filter(
      ({ piece, cover }) => piece.kind === 'timber' && piece.course === course && inside(cover.fromMm, cover.toMm),
    )
    .map(({ cover }): LineElement => ({ group: null, fromMm: cover.fromMm, toMm: cover.toMm }));
  const sorted = [...groups, ...timber].sort((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm);
  const first = sorted.findIndex((e) => e.group);
  const last = sorted.findLastIndex((e) => e.group);
  if (first < 0) return [];
  const kept: LineElement[] = [];
  for (const element of sorted.slice(first, last + 1)) {
    const before = kept[kept.length - 1];
    if (before && element.fromMm - before.toMm > EQUAL_MM)
      kept.push({ group: null, fromMm: before.toMm, toMm: element.fromMm });
    kept.push(element);
  }
  return kept;
};

const overlaps = (elements: readonly LineElement[]): boolean =>
  elements.some((e, i) => e.toMm - e.fromMm <= EQUAL_MM || (i > 0 && e.fromMm < elements[i - 1]!.toMm - EQUAL_MM));

/** Load that an end hands on to the joint `distanceMm` from it. */
const endShear = (end: LineEnd, distanceMm: number): number => {
  const strip = Math.max(0, distanceMm);
  if (end.kind === 'step') return end.hangs ? strip : 0;
  // Fill between a curved and a straight wall hangs half on either, whichever of the two it is counted to.
  if (end.kind === 'bend') return end.pullMm;
  if (end.kind === 'tangent') return strip / 2 + end.pullMm;
  if (end.kind === 'inner') return Math.max(strip, (end.kMm + strip) / 2);
  return end.kind === 'tee' || end.kind === 'box' ? strip + end.pullMm : strip;
};

const shearAt = (
  ctx: Context,
  run: Run,
  side: Side,
  course: number,
  end: LineEnd,
  runEnd: RunEnd,
  distanceMm: number,
): number =>
  end.kind === 'jog' && runEnd.kind === 'jog'
    ? jogShear(ctx, run, runEnd, side, course, distanceMm)
    : endShear(end, distanceMm);

/** Does an outside corner of this course stand at a vertex that turns enough to be held, and does the line begin `distanceMm` from it at the corner's edge? */
const isHeld = (ctx: Context, run: Run, end: LineEnd, distanceMm: number, course: number): boolean => {
  if (end.kind !== 'outer' || end.vertex === null) return false;
  const vertex = ctx.vertices.get(end.vertex);
  if (vertex && !holdsEdge(vertex.deflectionDeg)) return false;
  // The corner has the courses of the higher of its two walls.
  const own = ctx.cornersAt.get(end.vertex) ?? [];
  const corner = own.find((p) => isBeside(ctx, run, course, p)) ?? own.find((p) => p.course === course);
  const unit = corner?.item ? ctx.units.get(corner.item) : undefined;
  return unit !== undefined && Math.abs(distanceMm - unit.faceWidthMm) <= 1;
};

const lineOf = (
  ctx: Context,
  run: Run,
  side: Side,
  stretch: Stretch,
  course: number,
  elements: readonly LineElement[],
): Line => {
  const { low, high, face } = stretch;
  const jointsMm = [elements[0]!.fromMm, ...elements.map((e) => e.toMm)];
  const [first, last] = [jointsMm[0]!, jointsMm[jointsMm.length - 1]!];
  const [before, after] = [first - low.stationMm, high.stationMm - last];
  const heldMm = [
    ...(isHeld(ctx, run, low, before, course) ? [first] : []),
    ...(isHeld(ctx, run, high, after, course) ? [last] : []),
  ];
  return {
    wall: run.wall,
    face,
    side,
    course,
    low,
    high,
    elements,
    jointsMm,
    // The fill over the seam of a ring hangs on both of its neighbours.
    startShearMm: low.kind === 'ring' ? (before + after) / 2 : shearAt(ctx, run, side, course, low, run.start, before),
    endShearMm: high.kind === 'ring' ? (before + after) / 2 : shearAt(ctx, run, side, course, high, run.end, after),
    heldMm,
    // Past a riser the concrete goes on.
    loadedMm: [
      low.kind === 'step' ? first : Math.max(first, low.stationMm),
      high.kind === 'step' ? last : Math.min(last, high.stationMm),
    ],
  };
};

/** A stretch of a course on which no line can be formed. */
export interface NoLine {
  readonly wall: string;
  readonly side: Side;
  readonly course: number;
  readonly low: LineEnd;
  readonly high: LineEnd;
  readonly why: 'nothing' | 'overlap';
}

export interface Lines {
  readonly lines: readonly Line[];
  readonly none: readonly NoLine[];
}

/** All lines of one run: left face first, by station, then by course. Asked again, they are not formed again. */
export const linesOf = (ctx: Context, run: Run, courses: readonly number[]): Lines => {
  const key = [run.id, ...courses].join('|');
  const known = ctx.memo.lines.get(key) ?? formedLines(ctx, run, courses);
  ctx.memo.lines.set(key, known);
  return known;
};

const formedLines = (ctx: Context, run: Run, courses: readonly number[]): Lines => {
  const lines: Line[] = [];
  const none: NoLine[] = [];
  for (const side of ['left', 'right'] as const) {
    const stretches = stretchesOf(ctx, run, side);
    stretches.forEach((stretch, i) => {
      const bounds = [
        i === 0 ? Number.NEGATIVE_INFINITY : stretch.low.stationMm,
        i === stretches.length - 1 ? Number.POSITIVE_INFINITY : stretch.high.stationMm,
      ] as const;
      if (stretch.high.stationMm - stretch.low.stationMm <= EQUAL_MM) return;
      for (const course of courses) {
        const hanging = new Set(
          [run.start, run.end].flatMap((e) =>
            e.kind === 'jog' ? (hangingAt(ctx, run, e, side, course)?.group.id ?? []) : [],
          ),
        );
        const elements = elementsOf(ctx, run, stretch, course, bounds, hanging);
        const why = elements.length === 0 ? 'nothing' : overlaps(elements) ? 'overlap' : null;
        if (why) none.push({ wall: run.wall, side, course, low: stretch.low, high: stretch.high, why });
        else lines.push(lineOf(ctx, run, side, stretch, course, elements));
      }
    });
  }
  return { lines, none };
};

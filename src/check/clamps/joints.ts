/**
 * Joints at which clamps stand: two units beside each other on a face, with nothing or with fillers, strips and timber between them; two units one upon
 * the other; a unit beside an outside corner. Read from the pieces alone. Fillers that the catalogue bolts stiff to a panel take no clamps of their own: those of
 * the joint reach over them.
 */

import { endStationMm, isRing } from '../../ground/arcs.js';
import { isBend } from '../../ground/cornerAngles.js';
import type { FormUnit, Piece, Run, RunEnd, Side } from '../../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, type PlacedCover, unitOf } from '../context.js';

export interface Joint {
  readonly kind: 'upright' | 'level';
  readonly face: string;
  /** The unit at lower stations, or below, first. */
  readonly pieces: readonly [string, string];
  /** Of an upright joint the two edges; of a level one its ends. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Of an upright joint the levels that both units share; of a level one twice its level. */
  readonly baseMm: number;
  readonly topMm: number;
  /** Clear width between the two units of an upright joint; 0 at level ones. */
  readonly gapMm: number;
}

/** Edges closer than this touch. */
const TOUCH_MM = 1;
/** A joint of less height or width than this is none. */
const LEAST_JOINT_MM = 10;

const CORNERS: ReadonlySet<string> = new Set(['inside-corner', 'hinged-corner']);

/** Is this a unit to which clamps are set? */
const takesClamps = (piece: Piece, unit: FormUnit | undefined): boolean =>
  piece.kind === 'panel' || CORNERS.has(piece.kind) || (piece.kind === 'filler' && unit?.stiffTo !== 'panel');

interface Edge {
  readonly piece: Piece;
  readonly fromMm: number;
  readonly toMm: number;
  readonly baseMm: number;
  readonly topMm: number;
}

const edgeOf = ({ piece, cover }: PlacedCover, shiftMm = 0): Edge => ({
  piece,
  fromMm: cover.fromMm + shiftMm,
  toMm: cover.toMm + shiftMm,
  baseMm: piece.baseMm,
  topMm: piece.topMm,
});

/** Parts of [low, high] that another stretch leaves. */
const less = (stretches: readonly (readonly [number, number])[], low: number, high: number): [number, number][] =>
  stretches.flatMap(([a, b]): [number, number][] =>
    [[a, Math.min(b, low)] as [number, number], [Math.max(a, high), b] as [number, number]].filter(
      ([x, y]) => y - x > 0,
    ),
  );

/** Is the gap closed by fill at the joint's levels? Fill wider than the catalogue's limit is a form by itself, named elsewhere. */
const isFilled = (
  fill: readonly Edge[],
  from: number,
  to: number,
  base: number,
  top: number,
  most: number,
): boolean => {
  const within = fill.filter(
    (e) =>
      e.fromMm >= from - TOUCH_MM &&
      e.toMm <= to + TOUCH_MM &&
      Math.min(e.topMm, top) - Math.max(e.baseMm, base) > LEAST_JOINT_MM,
  );
  if (within.some((e) => e.piece.item === null && e.toMm - e.fromMm > most + EQUAL_MM)) return false;
  let left: [number, number][] = [[from, to]];
  for (const e of within) left = less(left, e.fromMm, e.toMm);
  return left.every(([a, b]) => b - a <= TOUCH_MM);
};

/** Joints of units beside each other; `units` and `fill` in order of station. */
const uprightJoints = (face: string, units: readonly Edge[], fill: readonly Edge[], mostFillMm: number): Joint[] => {
  const widest = mostFillMm * 2;
  return units.flatMap((a, i) => {
    const joints: Joint[] = [];
    let open: [number, number][] = [[a.baseMm, a.topMm]];
    for (let j = i + 1; j < units.length && open.length > 0; j++) {
      const b = units[j]!;
      if (b.fromMm > a.toMm + widest) break;
      if (b.fromMm < a.toMm - TOUCH_MM || b.piece.id === a.piece.id) continue;
      for (const [low, high] of open) {
        const [base, top] = [Math.max(low, b.baseMm), Math.min(high, b.topMm)];
        if (top - base < LEAST_JOINT_MM) continue;
        const gapMm = Math.max(0, b.fromMm - a.toMm);
        if (gapMm > TOUCH_MM && !isFilled(fill, a.toMm, b.fromMm, base, top, mostFillMm)) continue;
        const pieces = [a.piece.id, b.piece.id] as const;
        joints.push({ kind: 'upright', face, pieces, fromMm: a.toMm, toMm: b.fromMm, baseMm: base, topMm: top, gapMm });
      }
      open = less(open, b.baseMm, b.topMm);
    }
    return joints;
  });
};

/** Joints of units one upon the other. */
const levelJoints = (face: string, units: readonly Edge[]): Joint[] => {
  const byBase = new Map<number, Edge[]>();
  for (const e of units) byBase.set(Math.round(e.baseMm), [...(byBase.get(Math.round(e.baseMm)) ?? []), e]);
  return units.flatMap((below) =>
    (byBase.get(Math.round(below.topMm)) ?? []).flatMap((above): Joint[] => {
      const [fromMm, toMm] = [Math.max(below.fromMm, above.fromMm), Math.min(below.toMm, above.toMm)];
      if (toMm - fromMm < LEAST_JOINT_MM || Math.abs(above.baseMm - below.topMm) > TOUCH_MM) return [];
      const level = below.topMm;
      const pieces = [below.piece.id, above.piece.id] as const;
      return [{ kind: 'level', face, pieces, fromMm, toMm, baseMm: level, topMm: level, gapMm: 0 }];
    }),
  );
};

/** Joints between an outside corner and the units on its two faces, whose joints lie on the corner's edges. */
const outsideCornerJoints = (ctx: Context, edgesOf: (face: string) => readonly Edge[]): Joint[] =>
  [...ctx.outsideCorners.values()].flatMap((corner) => {
    const width = unitOf(ctx, corner)?.faceWidthMm ?? 0;
    return (ctx.vertices.get(corner.vertex ?? '')?.arms ?? []).flatMap(({ wall, side, stationMm, direction, face }) => {
      const id = face ?? ctx.plan.faces.find((f) => f.wall === wall && f.side === side)?.id;
      if (id === undefined) return [];
      const edge = stationMm + direction * width;
      return edgesOf(id).flatMap((e): Joint[] => {
        const near = direction > 0 ? e.fromMm : e.toMm;
        const [baseMm, topMm] = [Math.max(corner.baseMm, e.baseMm), Math.min(corner.topMm, e.topMm)];
        if (Math.abs(near - edge) > TOUCH_MM || topMm - baseMm < LEAST_JOINT_MM) return [];
        const pieces = direction > 0 ? ([corner.id, e.piece.id] as const) : ([e.piece.id, corner.id] as const);
        return [{ kind: 'upright', face: id, pieces, fromMm: edge, toMm: edge, baseMm, topMm, gapMm: 0 }];
      });
    });
  });

/** Units at one end of a run's face with no other unit behind them, and how far each is from the end. */
interface EndUnit {
  readonly edge: Edge;
  readonly awayMm: number;
}

const endUnits = (edges: readonly Edge[], run: Run, end: RunEnd, side: Side, mostMm: number): EndUnit[] => {
  const station = side === 'left' ? end.leftMm : end.rightMm;
  const sign = end === run.start ? 1 : -1;
  return edges
    .map((edge) => ({ edge, awayMm: sign > 0 ? edge.fromMm - station : station - edge.toMm }))
    .filter(({ awayMm }) => awayMm >= -TOUCH_MM && awayMm <= mostMm);
};

/** Does the line of forms go on past this end into another wall's: in line, or round a bend over its strips? */
const goesOver = (end: RunEnd): end is RunEnd & { readonly kind: 'jog' | 'tangent' | 'corner' } =>
  end.kind === 'jog' || end.kind === 'tangent' || (end.kind === 'corner' && isBend(end.deflectionDeg));

/** What a clamp has to reach over at a bend: the strip where it is widest, at the concrete or at the back of the frames. */
const bendGapMm = (ctx: Context, end: RunEnd & { readonly kind: 'corner' }, side: Side, standsMm: number): number => {
  const strips = ctx.timberAt.get(side === 'left' ? end.leftVertex : end.rightVertex) ?? [];
  return Math.max(standsMm, ...strips.flatMap(({ taper }) => (taper ? [taper.faceMm, taper.backMm] : [])));
};

/** Joints over the end of one wall and the start of the next, where the line of forms goes on from one to the other. */
const jointsAcross = (ctx: Context, edgesOf: (face: string) => readonly Edge[], mostFillMm: number): Joint[] => {
  const ends = ctx.plan.runs.flatMap((run) => [run.start, run.end].map((end) => ({ run, end })));
  const byNode = new Map<string, { run: Run; end: RunEnd }[]>();
  for (const e of ends) if (goesOver(e.end)) byNode.set(e.end.node, [...(byNode.get(e.end.node) ?? []), e]);
  return [...byNode.values()].flatMap((pair) => {
    const [a, b] = pair;
    if (!a || !b || pair.length !== 2) return [];
    const sameEnd = (a.end === a.run.start) === (b.end === b.run.start);
    return (['left', 'right'] as const).flatMap((side) => {
      const other = sameEnd ? (side === 'left' ? 'right' : 'left') : side;
      const out = a.end.kind === 'jog' ? (side === 'left' ? a.end.leftOutMm : a.end.rightOutMm) : 0;
      const [faceA, faceB] = [faceOf(ctx, a.run.wall, side), faceOf(ctx, b.run.wall, other)];
      if (Math.abs(out) > TOUCH_MM || !faceA || !faceB) return [];
      const before = endUnits(edgesOf(faceA.id), a.run, a.end, side, mostFillMm);
      const behind = endUnits(edgesOf(faceB.id), b.run, b.end, other, mostFillMm);
      return before.flatMap((x) =>
        behind.flatMap((y): Joint[] => {
          const [baseMm, topMm] = [Math.max(x.edge.baseMm, y.edge.baseMm), Math.min(x.edge.topMm, y.edge.topMm)];
          if (x.edge.piece.id === y.edge.piece.id || topMm - baseMm < LEAST_JOINT_MM) return [];
          const standsMm = Math.max(0, x.awayMm + y.awayMm);
          if (standsMm > mostFillMm) return [];
          const gapMm = a.end.kind === 'corner' ? bendGapMm(ctx, a.end, side, standsMm) : standsMm;
          const [own, next] = [x.edge.piece.id, y.edge.piece.id];
          const isStart = a.end === a.run.start;
          const pieces: readonly [string, string] = isStart ? [next, own] : [own, next];
          const fromMm = isStart ? x.edge.fromMm - standsMm : x.edge.toMm;
          return [{ kind: 'upright', face: faceA.id, pieces, fromMm, toMm: fromMm + standsMm, baseMm, topMm, gapMm }];
        }),
      );
    });
  });
};

/** Of the joints over a wall's end only those of the units next to it: one that another joint's unit hides is none. */
const nearest = (joints: readonly Joint[]): Joint[] =>
  joints.filter(
    (j) =>
      !joints.some(
        (k) =>
          k !== j &&
          k.face === j.face &&
          k.gapMm < j.gapMm - EQUAL_MM &&
          (k.pieces[0] === j.pieces[0] || k.pieces[1] === j.pieces[1]) &&
          Math.min(k.topMm, j.topMm) - Math.max(k.baseMm, j.baseMm) > LEAST_JOINT_MM,
      ),
  );

/** All joints of a layout, by the order of the plan's faces, upright before level ones, by station, then level. */
export const jointsOf = (ctx: Context): Joint[] => {
  const { timberLimitMm } = ctx.catalogue;
  const edges = new Map<string, Edge[]>();
  const edgesOf = (face: string): readonly Edge[] => edges.get(face) ?? [];
  for (const [face, covers] of ctx.covers)
    edges.set(
      face,
      covers.filter(({ piece }) => takesClamps(piece, unitOf(ctx, piece))).map((c) => edgeOf(c)),
    );
  const across = nearest(jointsAcross(ctx, edgesOf, timberLimitMm));
  const corners = outsideCornerJoints(ctx, edgesOf);
  return ctx.plan.faces.flatMap((face) => {
    const covers = ctx.covers.get(face.id) ?? [];
    const own = edgesOf(face.id);
    // Boards over a lower wall are no fill: no clamp passes through that wall below them.
    const fill = covers
      .filter(({ piece }) => piece.kind !== 'bulkhead' && !takesClamps(piece, unitOf(ctx, piece)))
      .map((c) => edgeOf(c));
    const wall = ctx.walls.get(face.wall);
    // The first forms of a ring stand beside its last ones.
    const turn = wall && isRing(wall) ? endStationMm(wall) : 0;
    const again = (list: readonly Edge[]): Edge[] =>
      turn > 0 ? list.map((e) => ({ ...e, fromMm: e.fromMm + turn, toMm: e.toMm + turn })) : [];
    const beside = uprightJoints(face.id, [...own, ...again(own)], [...fill, ...again(fill)], timberLimitMm).filter(
      (j) => turn === 0 || j.fromMm <= turn + TOUCH_MM,
    );
    const upright = [
      ...beside,
      ...corners.filter((j) => j.face === face.id),
      ...across.filter((j) => j.face === face.id),
    ];
    return [
      ...upright.sort((a, b) => a.fromMm - b.fromMm || a.baseMm - b.baseMm || a.toMm - b.toMm),
      ...levelJoints(face.id, own).sort((a, b) => a.fromMm - b.fromMm || a.baseMm - b.baseMm),
    ];
  });
};

/** From solved zones to pieces, ties and groups in mm, with ids in setting order: wall, face, course, station. */

import { byNumber, byText, inOrder } from '../ground/order.js';
import { rowsAt } from '../ground/rows.js';
import { roundTo } from '../ground/units.js';
import type {
  Catalogue,
  Cover,
  FacePlan,
  FaceSide,
  Group,
  Piece,
  PieceKind,
  Run,
  RunEnd,
  Side,
  Tie,
} from '../ground/vocabulary.js';
import type { FaceZone } from './bound.js';
import { cornerPiece } from './cornerPieces.js';
import { type Gear, tiesFor } from './gear.js';
import type { Group as RigidGroup } from './groups.js';
import { gapAreaMm2 } from './phases.js';
import { cornerFinder, gearByRun, type SolvedPlan, type SolvedRun, type SolvedStep } from './plan.js';
import { type Overhang, overhangAt, stepId } from './steps.js';

interface Draft {
  readonly kind: PieceKind;
  readonly items: readonly (string | null)[];
  /** The place that sorts it: wall index, face rank, station. */
  readonly order: readonly [number, number, number];
  readonly covers: readonly { readonly face: string; readonly fromGu: number; readonly toGu: number }[];
  readonly node?: string;
  readonly vertex?: string;
  /** Id of the run whose courses it takes. */
  readonly run: string;
  /** Set on what stands under the forms: its levels, instead of courses. */
  readonly under?: { readonly lowMm: number; readonly highMm: number };
}

interface GroupDraft {
  readonly face: string;
  readonly run: string;
  readonly wall: string;
  readonly side: Side;
  readonly fromGu: number;
  readonly toGu: number;
  readonly tiesGu: readonly number[];
  readonly held: boolean;
}

export interface Emitted {
  readonly pieces: readonly Piece[];
  readonly ties: readonly Tie[];
  readonly groups: readonly Group[];
  /** What is drawn as timber since nothing of the yard stands there: places, and the area of concrete behind them. */
  readonly unsolved: { readonly places: number; readonly areaM2: number };
  /** Area of the gaps under the forms, without what hangs over a step, m2. */
  readonly gapAreaM2: number;
}

/** Less than this under the forms is no gap. */
const LEAST_GAP_MM = 0.01;

const FACE_RANK: Record<FaceSide, number> = { left: 0, right: 1, start: 2, end: 3 };
const SIDES: readonly Side[] = ['left', 'right'];

class Emitter {
  readonly drafts: Draft[] = [];
  readonly groups: GroupDraft[] = [];
  unsolvedPlaces = 0;
  unsolvedAreaGu = 0;
  gapAreaMm2 = 0;
  readonly ties: { run: string; stationGu: number; outside: boolean }[] = [];
  readonly #plan: FacePlan;
  readonly #faceIds: ReadonlyMap<string, string>;
  readonly #wallIndex: ReadonlyMap<string, number>;

  constructor(plan: FacePlan) {
    this.#plan = plan;
    this.#faceIds = new Map(plan.faces.map((f) => [`${f.wall}|${f.side}`, f.id]));
    this.#wallIndex = new Map(plan.walls.map((w, i) => [w.id, i]));
  }

  face(wall: string, side: FaceSide): string {
    const id = this.#faceIds.get(`${wall}|${side}`);
    if (id === undefined) throw new Error(`wall ${wall} has no ${side} face`);
    return id;
  }

  add(
    kind: PieceKind,
    { id, wall }: Run,
    side: FaceSide,
    items: readonly (string | null)[],
    fromGu: number,
    toGu: number,
    more: Draft['covers'] = [],
  ): void {
    const order = [this.#wallIndex.get(wall)!, FACE_RANK[side], fromGu] as const;
    this.drafts.push({ kind, run: id, items, order, covers: [{ face: this.face(wall, side), fromGu, toGu }, ...more] });
  }

  /** A rigid group: fillers, panel, fillers. */
  addGroup(
    gear: Gear,
    run: Run,
    side: Side,
    group: RigidGroup,
    fromGu: number,
    tiesGu: readonly number[],
    held: boolean,
  ): void {
    let at = fromGu;
    const filler = (widthGu: number) => {
      const items = gear.fillers.find((f) => f.widthGu === widthGu)!.items.map((u) => u.id);
      this.add('filler', run, side, items, at, at + widthGu);
      at += widthGu;
    };
    for (const w of [...(group.low?.widthsGu ?? [])].reverse()) filler(w);
    const items = group.panel.items.map((u) => u.id);
    this.add('panel', run, side, items, at, at + group.panel.widthGu);
    at += group.panel.widthGu;
    for (const w of group.high?.widthsGu ?? []) filler(w);
    const { id, wall } = run;
    const face = this.face(wall, side);
    this.groups.push({ face, run: id, wall, side, fromGu, toGu: at, tiesGu: tiesGu.map((t) => fromGu + t), held });
  }

  /** A strip, which may close the return of a jog as well. */
  timber(gear: Gear, run: Run, side: Side, fromGu: number, toGu: number, returnFace?: string): void {
    const face = this.#plan.faces.find((f) => f.id === returnFace);
    const gu = (mm: number) => Math.round(mm / gear.gridMm);
    const across = face ? [{ face: face.id, fromGu: gu(face.fromMm), toGu: gu(face.toMm) }] : [];
    this.add('timber', run, side, Array(gear.courses).fill(null), fromGu, toGu, across);
  }

  faceZone(solved: SolvedRun, side: Side, zone: FaceZone): void {
    const { gear, run } = solved.model.ctx;
    if (zone.group) {
      const { group, fromGu, held, tiesGu = [] } = zone.group;
      const offsets = tiesGu.map((t) => t - fromGu);
      this.addGroup(gear, run, side, group, fromGu, offsets, held);
      if (side === 'left') for (const t of tiesGu) this.tie(solved, t);
    }
    for (const p of zone.pads) this.timber(gear, run, side, p.fromGu, p.toGu, p.returnFace);
    if (zone.unsolved) {
      this.unsolvedPlaces++;
      this.unsolvedTimber(solved, side, zone.unsolved.fromGu, zone.unsolved.toGu);
    }
  }

  run(solved: SolvedRun): void {
    const { ctx, features } = solved.model;
    const { gear, run } = ctx;
    const [only] = solved.zones;
    if (only && solved.zones.length === 1 && only.toGu < only.fromGu) {
      this.crowded(solved);
      return;
    }
    const ends = [solved.zones[0]?.start, solved.zones[solved.zones.length - 1]?.end];
    for (const bound of ends) {
      if (bound) for (const side of SIDES) this.faceZone(solved, side, bound[side]);
    }
    for (const { bound } of solved.stems) for (const side of SIDES) this.faceZone(solved, side, bound[side]);
    for (const zone of solved.zones) {
      if (!zone.answer) {
        this.unsolved(solved, zone.fromGu, zone.toGu);
        continue;
      }
      for (const placed of zone.answer.placed) {
        for (const side of SIDES) {
          if (!placed.tied) this.timber(gear, run, side, placed.fromGu, placed.fromGu + placed.lengthGu);
          else this.addGroup(gear, run, side, placed.tied.group, placed.fromGu, placed.tied.tiesGu, false);
        }
        for (const t of placed.tied?.tiesGu ?? []) this.tie(solved, placed.fromGu + t);
      }
    }
    for (const f of features) {
      if (f.kind === 'end' && f.end.kind === 'free')
        this.bulkhead(solved, f.direction === 1 ? 'start' : 'end', f.end.node);
    }
  }

  /** A zone without an answer: timber on the concrete of both faces, to be designed. */
  unsolved(solved: SolvedRun, fromGu: number, toGu: number): void {
    if (toGu > fromGu) this.unsolvedPlaces++;
    for (const side of SIDES) this.unsolvedTimber(solved, side, fromGu, toGu);
  }

  unsolvedTimber(solved: SolvedRun, side: Side, fromGu: number, toGu: number): void {
    const { run, gear, toGu: gu, heightGu } = solved.model.ctx;
    const face = this.#plan.faces.find((f) => f.wall === run.wall && f.side === side)!;
    const from = Math.max(fromGu, gu(face.fromMm));
    const to = Math.min(toGu, gu(face.toMm));
    if (to <= from) return;
    this.unsolvedAreaGu += (to - from) * heightGu;
    this.timber(gear, run, side, from, to);
  }

  /** Legs that overlap leave no zone: each face is one stretch to be designed, between its legs or from its salient edge. */
  crowded(solved: SolvedRun): void {
    const { start, end } = solved.zones[0]!;
    this.unsolvedPlaces++;
    for (const side of SIDES) {
      const legs = [...start[side].legs, ...end[side].legs];
      const low = start[side].legs[0]?.toGu ?? Number.NEGATIVE_INFINITY;
      const high = end[side].legs[0]?.fromGu ?? Number.POSITIVE_INFINITY;
      if (legs.length < 2 || high > low) this.unsolvedTimber(solved, side, low, high);
    }
  }

  tie(solved: SolvedRun, stationGu: number): void {
    const { run, toGu } = solved.model.ctx;
    const before = run.start.kind === 'free' && stationGu < toGu(run.start.leftMm);
    const beyond = run.end.kind === 'free' && stationGu > toGu(run.end.leftMm);
    this.ties.push({ run: run.id, stationGu, outside: before || beyond });
  }

  bulkhead(solved: SolvedRun, side: 'start' | 'end', node: string): void {
    const { run, gear, toGu } = solved.model.ctx;
    const order = [this.#wallIndex.get(run.wall)!, FACE_RANK[side], 0] as const;
    const covers = [{ face: this.face(run.wall, side), fromGu: 0, toGu: toGu(run.thicknessMm) }];
    this.drafts.push({ kind: 'bulkhead', run: run.id, items: Array(gear.courses).fill(null), order, covers, node });
  }

  /** What closes the gap between the footing and the forms of a run, on its faces and on its free ends. */
  under(solved: SolvedRun, steps: readonly SolvedStep[]): void {
    const { ctx, demand } = solved.model;
    const { run, toGu } = ctx;
    const [lowMm, highMm] = [run.footingMm, demand.stack.baseMm];
    if (highMm - lowMm < LEAST_GAP_MM) return;
    for (const side of SIDES) {
      const at = (end: RunEnd) => {
        if (end.kind !== 'step') return toGu(side === 'left' ? end.leftMm : end.rightMm);
        // Over the lower footing the forms of this run end at the joint; over the upper one its own footing begins at the riser.
        const joint = steps.find((s) => s.step.id === stepId(run, end))?.jointGu ?? toGu(end.leftMm);
        return run.footingMm > end.beyondFootingMm ? toGu(end.leftMm) : joint;
      };
      let fromGu = at(run.start);
      const stems = run.stems.filter((s) => s.side === side);
      const stretches = [...stems.map((s) => [toGu(s.fromMm), toGu(s.toMm)] as const), [at(run.end), 0] as const];
      for (const [to, next] of stretches) {
        this.#hang(run, side, { fromGu, toGu: to, lowMm, highMm });
        fromGu = next;
      }
    }
    for (const side of ['start', 'end'] as const)
      if (run[side].kind === 'free') this.#hang(run, side, { fromGu: 0, toGu: toGu(run.thicknessMm), lowMm, highMm });
    this.gapAreaMm2 += gapAreaMm2(run, highMm);
  }

  /** What hangs under the upper forms at a step, on both faces. */
  step({ step, jointGu }: SolvedStep): void {
    const overhang = overhangAt(step, jointGu);
    const { before, after } = step;
    const upper = before.ctx.run.footingMm < after.ctx.run.footingMm ? after : before;
    if (overhang) for (const side of SIDES) this.#hang(upper.ctx.run, side, overhang);
  }

  #hang(run: Run, side: FaceSide, { fromGu, toGu, lowMm, highMm }: Overhang): void {
    if (toGu <= fromGu) return;
    const order = [this.#wallIndex.get(run.wall)!, FACE_RANK[side], fromGu] as const;
    const covers = [{ face: this.face(run.wall, side), fromGu, toGu }];
    this.drafts.push({ kind: 'timber', run: run.id, items: [], order, covers, under: { lowMm, highMm } });
  }

  corners(solved: SolvedPlan): void {
    const find = cornerFinder(this.#plan, gearByRun(solved.runs.map((r) => r.model)));
    for (const v of this.#plan.vertices) {
      const [arm] = v.arms;
      const found = find(v);
      if (!found) continue;
      const { run, gear } = found;
      const piece = cornerPiece(this.#plan, v, gear, solved);
      if (!piece) continue;
      const order = [
        this.#wallIndex.get(arm.wall)!,
        FACE_RANK[arm.side],
        Math.round(arm.stationMm / gear.gridMm),
      ] as const;
      const covers = piece.covers.map(({ wall, side, ...c }) => ({ face: this.face(wall, side), ...c }));
      this.drafts.push({ ...piece, run, order, node: v.node, vertex: v.id, covers });
    }
  }
}

/** One piece a course from each draft. */
const toPieces = (emitter: Emitter, solved: SolvedPlan, gridMm: number): Piece[] => {
  const mm = (guValue: number) => roundTo(guValue * gridMm, 4);
  const stacks = new Map(solved.runs.map((r) => [r.model.ctx.run.id, r.model.demand.stack]));
  const rows = emitter.drafts.flatMap((draft) => {
    if (draft.under) {
      const { lowMm, highMm } = draft.under;
      return [{ draft, course: 0, baseMm: roundTo(lowMm, 4), topMm: roundTo(highMm, 4) }];
    }
    const stack = stacks.get(draft.run)!;
    let base = stack.baseMm;
    return stack.heightsMm.map((height, i) => {
      const from = base;
      base += height;
      return { draft, course: i + 1, baseMm: roundTo(from, 4), topMm: roundTo(base, 4) };
    });
  });
  rows.sort(
    inOrder(
      byNumber((r) => r.draft.order[0]),
      byNumber((r) => r.draft.order[1]),
      byNumber((r) => r.course),
      byNumber((r) => r.draft.order[2]),
      byText((r) => `${r.draft.kind} ${r.draft.vertex ?? ''}`),
    ),
  );
  return rows.map(({ draft, course, baseMm, topMm }, i): Piece => {
    const covers: Cover[] = draft.covers.map((c) => ({
      face: c.face,
      fromMm: mm(c.fromGu),
      toMm: mm(c.toGu),
      baseMm,
      topMm,
    }));
    return {
      id: `P${i + 1}`,
      kind: draft.kind,
      item: draft.items[course - 1] ?? null,
      turned: false,
      course,
      covers,
      ...(draft.node === undefined ? {} : { node: draft.node }),
      ...(draft.vertex === undefined ? {} : { vertex: draft.vertex }),
      baseMm,
      topMm,
    };
  });
};

/** The hole of the piece at this place, seen from outside: its left edge lies at the higher station on the left face. */
const holeAt = (catalogue: Catalogue, piece: Piece, side: Side, stationMm: number, levelMm: number): number => {
  const unit = catalogue.units.find((u) => u.id === piece.item);
  const cover = piece.covers[0]!;
  const x = side === 'left' ? cover.toMm - stationMm : stationMm - cover.fromMm;
  const y = levelMm - cover.baseMm;
  const near = (h: { xMm: number; yMm: number }) => Math.abs(h.xMm - x) < 1 && Math.abs(h.yMm - y) < 1;
  return unit ? unit.holes.findIndex(near) : -1;
};

const toTies = (
  emitter: Emitter,
  solved: SolvedPlan,
  catalogue: Catalogue,
  pieces: readonly Piece[],
  gridMm: number,
): Tie[] => {
  const byFace = new Map<string, Piece[]>();
  for (const p of pieces) {
    if (p.kind !== 'panel') continue;
    const face = p.covers[0]!.face;
    byFace.set(face, [...(byFace.get(face) ?? []), p]);
  }
  const find = (face: string, station: number, level: number) =>
    byFace.get(face)?.find((p) => {
      const c = p.covers[0]!;
      return station > c.fromMm && station < c.toMm && level > c.baseMm && level < c.topMm;
    });
  const ties: Omit<Tie, 'id'>[] = [];
  for (const run of solved.runs) {
    const { id, wall, thicknessMm } = run.model.ctx.run;
    const item = tiesFor(catalogue, thicknessMm)[0];
    if (!item) continue;
    const stations = emitter.ties.filter((t) => t.run === id).sort(byNumber((t) => t.stationGu));
    for (const t of stations) {
      const stationMm = roundTo(t.stationGu * gridMm, 4);
      for (const row of rowsAt(run.model.demand, stationMm)) {
        const levelMm = roundTo(row.levelMm, 4);
        const left = find(emitter.face(wall, 'left'), stationMm, levelMm);
        const right = find(emitter.face(wall, 'right'), stationMm, levelMm);
        if (!left || !right) throw new Error(`no panel at tie ${stationMm} of wall ${wall}`);
        const holes = [
          holeAt(catalogue, left, 'left', stationMm, levelMm),
          holeAt(catalogue, right, 'right', stationMm, levelMm),
        ] as const;
        ties.push({
          item: item.id,
          wall,
          run: id,
          row: row.row,
          stationMm,
          levelMm,
          pieces: [left.id, right.id],
          holes,
          outsideConcrete: t.outside,
        });
      }
    }
  }
  return ties.map((t, i) => ({ id: `T${i + 1}`, ...t }));
};

const toGroups = (
  emitter: Emitter,
  solved: SolvedPlan,
  pieces: readonly Piece[],
  ties: readonly Tie[],
  gridMm: number,
): Group[] => {
  const mm = (guValue: number) => roundTo(guValue * gridMm, 4);
  const courses = new Map(solved.runs.map((r) => [r.model.ctx.run.id, r.model.demand.stack.heightsMm.length]));
  const list: Omit<Group, 'id'>[] = [];
  for (const g of emitter.groups) {
    const fromMm = mm(g.fromGu);
    const toMm = mm(g.toGu);
    const stations = g.tiesGu.map(mm);
    for (let course = 1; course <= courses.get(g.run)!; course++) {
      const own = pieces.filter(
        (p) =>
          p.course === course &&
          (p.kind === 'panel' || p.kind === 'filler') &&
          p.covers[0]!.face === g.face &&
          p.covers[0]!.fromMm >= fromMm - 0.01 &&
          p.covers[0]!.toMm <= toMm + 0.01,
      );
      const ids = new Set(own.map((p) => p.id));
      const supports = ties
        .filter((t) => t.run === g.run && stations.includes(t.stationMm) && t.pieces.some((p) => ids.has(p)))
        .map((t) => t.id);
      list.push({
        face: g.face,
        run: g.run,
        fromMm,
        toMm,
        course,
        pieces: own.map((p) => p.id),
        supports: g.held ? ['held', ...supports] : supports,
      });
    }
  }
  list.sort(
    inOrder(
      byText((g) => g.face),
      byNumber((g) => g.course),
      byNumber((g) => g.fromMm),
    ),
  );
  return list.map((g, i) => ({ id: `G${i + 1}`, ...g }));
};

export const emit = (plan: FacePlan, catalogue: Catalogue, solved: SolvedPlan): Emitted => {
  const emitter = new Emitter(plan);
  for (const run of solved.runs) {
    emitter.run(run);
    emitter.under(run, solved.steps);
  }
  for (const step of solved.steps) emitter.step(step);
  emitter.corners(solved);
  const pieces = toPieces(emitter, solved, plan.gridMm);
  const ties = toTies(emitter, solved, catalogue, pieces, plan.gridMm);
  const areaM2 = (emitter.unsolvedAreaGu * plan.gridMm * plan.gridMm) / 1e6;
  const groups = toGroups(emitter, solved, pieces, ties, plan.gridMm);
  return {
    pieces,
    ties,
    groups,
    unsolved: { places: emitter.unsolvedPlaces, areaM2 },
    gapAreaM2: emitter.gapAreaMm2 / 1e6,
  };
};

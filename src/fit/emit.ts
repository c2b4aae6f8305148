/** From solved zones to pieces, ties and groups in mm, with ids in setting order: wall, face, course, station. */

import { byNumber, byText, inOrder } from '../ground/order.js';
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
  RunPilaster,
  Side,
  Taper,
  Tie,
} from '../ground/vocabulary.js';
import type { SolvedArc } from './arcs.js';
import type { FaceZone } from './bound.js';
import { cornerPiece } from './cornerPieces.js';
import { type Draft, FACE_RANK } from './drafts.js';
import { emitArc } from './emitArcs.js';
import { type GroupDraft, type LaidRun, type TieDraft, toGroups, toTies } from './emitTies.js';
import { fillerOf, type Gear, type Panel } from './gear.js';
import type { Group as RigidGroup } from './groups.js';
import { jogDrafts } from './jogPieces.js';
import { betweenLegs, isNiche, nicheFill } from './niches.js';
import { closureDrafts, endsOf, type RaisedGroup, raisedGroup } from './overLower.js';
import { gapAreaMm2, LEAST_GAP_MM } from './phases.js';
import { cornerFinder, coursesByRun, type SolvedPlan, type SolvedRun, type SolvedStep } from './plan.js';
import { type Overhang, overhangAt, stepId } from './steps.js';
import { topFootMm } from './turned.js';
import type { ZoneSolution } from './zones.js';

export interface Emitted {
  readonly pieces: readonly Piece[];
  readonly ties: readonly Tie[];
  readonly groups: readonly Group[];
  /** What is drawn as timber since nothing of the yard stands there: places, and the area of concrete behind them. */
  readonly unsolved: { readonly places: number; readonly areaM2: number };
  /** Area of the gaps under the forms, without what hangs over a step, m2. */
  readonly gapAreaM2: number;
  /** Units beyond those of the search, where a group stands in the courses of a higher wall. */
  readonly more: { readonly units: number; readonly fillers: number };
}

const SIDES: readonly Side[] = ['left', 'right'];

/** Returns of jogs where this run stands out, with the end of the wall that they close. */
const returnsOfRun = (run: Run): { readonly side: 'start' | 'end'; readonly faceId: string }[] =>
  (['start', 'end'] as const).flatMap((side) => {
    const end = run[side];
    if (end.kind !== 'jog') return [];
    const faces = [end.leftOutMm > 0 ? end.leftReturn : null, end.rightOutMm > 0 ? end.rightReturn : null];
    return faces.flatMap((faceId) => (faceId === null ? [] : [{ side, faceId }]));
  });

export class Emitter {
  readonly drafts: Draft[] = [];
  readonly groups: GroupDraft[] = [];
  unsolvedPlaces = 0;
  unsolvedAreaGu = 0;
  gapAreaMm2 = 0;
  /** What groups in the courses of a higher wall have more of than in their own. */
  more = { units: 0, fillers: 0 };
  readonly ties: TieDraft[] = [];
  readonly #plan: FacePlan;
  readonly #faceIds: ReadonlyMap<string, string>;
  readonly #wallIndex: ReadonlyMap<string, number>;

  constructor(plan: FacePlan) {
    this.#plan = plan;
    this.#faceIds = new Map(plan.faces.map((f) => [`${f.wall}|${f.side}`, f.id]));
    this.#wallIndex = new Map(plan.walls.map((w, i) => [w.id, i]));
  }

  /** The place that sorts a piece. */
  #order(wall: string, side: FaceSide, fromGu: number): Draft['order'] {
    return [this.#wallIndex.get(wall)!, FACE_RANK[side], fromGu];
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
    { coursesOf = id, ...levels }: Pick<Draft, 'belowTop' | 'own'> & { readonly coursesOf?: string } = {},
  ): void {
    const order = this.#order(wall, side, fromGu);
    const covers = [{ face: this.face(wall, side), fromGu, toGu }, ...more];
    this.drafts.push({ kind, run: coursesOf, items, order, covers, ...levels });
  }

  /** A panel on its side, in the top course. */
  addOnSide(solved: SolvedRun, side: Side, panel: Panel, fromGu: number, tiesGu: readonly number[]): void {
    const { ctx } = solved.model;
    const { id, wall } = ctx.run;
    const top = this.topCourse(solved);
    const toGu = fromGu + panel.widthGu;
    this.add('panel', ctx.run, side, [panel.items[0]!.id], fromGu, toGu, [], {
      own: { ...top, turned: true },
    });
    const ties = tiesGu.map((t) => fromGu + t);
    const face = this.face(wall, side);
    this.groups.push({ face, run: id, wall, side, fromGu, toGu, tiesGu: ties, held: false, courses: [top.course] });
  }

  /** A rigid group: fillers, panel, fillers; in the courses of another run where that has a higher wall. */
  addGroup(
    gear: Gear,
    run: Run,
    side: Side,
    group: RigidGroup,
    fromGu: number,
    tiesGu: readonly number[],
    held: boolean,
    belowTop = false,
    coursesOf: Run = run,
  ): void {
    let at = fromGu;
    const levels = { belowTop, coursesOf: coursesOf.id };
    const filler = (widthGu: number) => {
      const items = fillerOf(gear, widthGu).items.map((u) => u.id);
      this.add('filler', run, side, items, at, at + widthGu, [], levels);
      at += widthGu;
    };
    for (const w of [...(group.low?.widthsGu ?? [])].reverse()) filler(w);
    const items = group.panel.items.map((u) => u.id);
    this.add('panel', run, side, items, at, at + group.panel.widthGu, [], levels);
    at += group.panel.widthGu;
    for (const w of group.high?.widthsGu ?? []) filler(w);
    const { id, wall } = run;
    const face = this.face(wall, side);
    const courses = Array.from({ length: gear.courses - (belowTop ? 1 : 0) }, (_, i) => i + 1);
    const ties = tiesGu.map((t) => fromGu + t);
    this.groups.push({ face, run: id, wall, side, fromGu, toGu: at, tiesGu: ties, held, courses });
  }

  /** A strip, which may close the return of a jog as well. */
  timber(gear: Gear, run: Run, side: Side, fromGu: number, toGu: number, returnFace?: string, isStrip = false): void {
    const face = this.#plan.faces.find((f) => f.id === returnFace);
    const gu = (mm: number) => Math.round(mm / gear.gridMm);
    const across = face ? [{ face: face.id, fromGu: gu(face.fromMm), toGu: gu(face.toMm) }] : [];
    this.add(isStrip ? 'strip' : 'timber', run, side, Array(gear.courses).fill(null), fromGu, toGu, across);
  }

  /** The boards before a pilaster, over the posts that close its sides. */
  front(gear: Gear, run: Run, { front, fromMm }: RunPilaster, fromGu: number, toGu: number): void {
    const order = this.#order(run.wall, 'pilaster', fromGu);
    const at = Math.round(fromMm / gear.gridMm);
    const covers = [{ face: front, fromGu: fromGu - at, toGu: toGu - at }];
    this.drafts.push({ kind: 'timber', run: run.id, items: Array(gear.courses).fill(null), order, covers });
  }

  /** `raised`: what stands in place of the zone's group, of a higher wall at a corner. */
  faceZone(solved: SolvedRun, side: Side, zone: FaceZone, raised: RaisedGroup | null = null): void {
    const { gear, run } = solved.model.ctx;
    if (zone.group) {
      const { group, fromGu, held, tiesGu = [] } = zone.group;
      const offsets = tiesGu.map((t) => t - fromGu);
      if (raised?.group) {
        const { gear: higher, run: over } = raised.higher.model.ctx;
        this.addGroup(higher, run, side, raised.group, fromGu, offsets, held, false, over);
        const more = higher.courses - gear.courses;
        this.more = {
          units: this.more.units + more * (1 + group.fillerCount),
          fillers: this.more.fillers + more * group.fillerCount,
        };
      } else this.addGroup(gear, run, side, group, fromGu, offsets, held);
      if (side === 'left') for (const t of tiesGu) this.tie(solved, t);
    }
    for (const p of zone.pads) this.timber(gear, run, side, p.fromGu, p.toGu, p.returnFace, p.isStrip);
    for (const b of zone.boxes ?? []) this.front(gear, run, b.pilaster, b.fromGu, b.toGu);
    if (zone.unsolved) {
      this.unsolvedPlaces++;
      this.unsolvedTimber(solved, side, zone.unsolved.fromGu, zone.unsolved.toGu);
    }
  }

  /** `all`: every run, since one that meets it may have the higher wall. */
  run(solved: SolvedRun, all: readonly SolvedRun[]): void {
    const { ctx, features } = solved.model;
    const { gear, run } = ctx;
    const [only] = solved.zones;
    if (only && solved.zones.length === 1 && only.toGu < only.fromGu) {
      this.crowded(solved);
      return;
    }
    for (const { node, bound } of endsOf(solved)) {
      const raised = raisedGroup(this.#plan, all, solved, bound, node);
      for (const side of SIDES) this.faceZone(solved, side, bound[side], raised);
    }
    for (const { bound } of solved.stems) for (const side of SIDES) this.faceZone(solved, side, bound[side]);
    for (const [z, zone] of solved.zones.entries()) {
      if (!zone.answer) {
        if (!this.niche(solved, zone)) this.unsolved(solved, zone.fromGu, zone.toGu);
        continue;
      }
      const top = solved.tops?.[z];
      for (const { fromGu, tied } of top?.onSide ?? []) {
        for (const side of SIDES) this.addOnSide(solved, side, tied.group.panel, fromGu, tied.tiesGu);
        for (const t of tied.tiesGu) this.tie(solved, fromGu + t, 'on-side');
      }
      for (const [p, placed] of zone.answer.placed.entries()) {
        const below = top?.keeps[p] === false;
        for (const side of SIDES) {
          if (!placed.tied) this.timber(gear, run, side, placed.fromGu, placed.fromGu + placed.lengthGu);
          else if (placed.tied.group.panel.turned)
            this.addOnSide(solved, side, placed.tied.group.panel, placed.fromGu, placed.tied.tiesGu);
          else this.addGroup(gear, run, side, placed.tied.group, placed.fromGu, placed.tied.tiesGu, false, below);
        }
        const rows = placed.tied?.group.panel.turned ? 'on-side' : below ? 'below' : 'stack';
        for (const t of placed.tied?.tiesGu ?? []) this.tie(solved, placed.fromGu + t, rows);
      }
    }
    for (const f of features) {
      if (f.kind === 'end' && f.end.kind === 'free')
        this.bulkhead(run, gear, f.direction === 1 ? 'start' : 'end', f.end.node, solved);
    }
  }

  /** Tapered fill on a curved wall. */
  taper(run: Run, side: Side, fromGu: number, toGu: number, taper: Taper): void {
    const order = this.#order(run.wall, side, fromGu);
    const covers = [{ face: this.face(run.wall, side), fromGu, toGu }];
    this.drafts.push({ kind: 'timber', run: run.id, items: [], order, covers, taper });
  }

  /** Legs back to back: what stands between them, and timber on the other face. False where the zone is no such place. */
  niche(solved: SolvedRun, zone: ZoneSolution): boolean {
    const { gear, run } = solved.model.ctx;
    const fill = nicheFill(gear, zone.toGu - zone.fromGu);
    const sides = SIDES.filter((s) => betweenLegs(zone.start[s], zone.end[s]));
    if (!fill || sides.length === 0 || !isNiche(gear, zone.toGu - zone.fromGu)) return false;
    this.unsolvedPlaces++;
    for (const side of SIDES) {
      if (!sides.includes(side)) {
        this.unsolvedTimber(solved, side, zone.fromGu, zone.toGu);
        continue;
      }
      let at = zone.fromGu;
      for (const w of fill.fillersGu) {
        const items = fillerOf(gear, w).items.map((u) => u.id);
        this.add('filler', run, side, items, at, at + w);
        at += w;
      }
      if (fill.timberGu > 0) this.unsolvedTimber(solved, side, at, zone.toGu);
    }
    return true;
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

  tie(solved: SolvedRun, stationGu: number, rows: TieDraft['rows'] = 'stack'): void {
    const { run, toGu } = solved.model.ctx;
    const before = run.start.kind === 'free' && stationGu < toGu(run.start.leftMm);
    const beyond = run.end.kind === 'free' && stationGu > toGu(run.end.leftMm);
    this.ties.push({ run: run.id, stationGu, outside: before || beyond, rows });
  }

  /** `solved` where panels may lie on their side. */
  bulkhead(run: Run, gear: Gear, side: 'start' | 'end', node: string, solved?: SolvedRun): void {
    const order = this.#order(run.wall, side, 0);
    const covers = [{ face: this.face(run.wall, side), fromGu: 0, toGu: Math.round(run.thicknessMm / gear.gridMm) }];
    const draft = {
      kind: 'bulkhead',
      run: run.id,
      items: Array(gear.courses).fill(null),
      order,
      covers,
      node,
    } as const;
    if (!solved || !this.endsOnSide(solved, side)) {
      this.drafts.push(draft);
      return;
    }
    // In the top course it is no higher than the panels on their side that it stands between.
    if (gear.courses > 1) this.drafts.push({ ...draft, belowTop: true });
    this.drafts.push({ ...draft, own: { ...this.topCourse(solved), turned: false } });
  }

  /** Does a panel on its side stand at this end of the run? */
  endsOnSide({ zones, tops }: SolvedRun, side: 'start' | 'end'): boolean {
    const [z, at] = side === 'start' ? [0, 0] : [zones.length - 1, -1];
    const last = zones[z]?.answer?.placed.at(at);
    return last?.tied?.group.panel.turned === true || tops?.[z]?.keeps.at(at) === false;
  }

  /** The top course of a run where panels lie on their side. */
  topCourse({ model: { demand } }: SolvedRun): { course: number; lowMm: number; highMm: number } {
    const lowMm = topFootMm(demand.stack);
    const highMm = lowMm + (demand.turnedTop?.heightMm ?? 0);
    return { course: demand.stack.heightsMm.length, lowMm, highMm };
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
      const stems = [...run.stems, ...(run.pilasters ?? [])].filter((s) => s.side === side);
      stems.sort((a, b) => a.fromMm - b.fromMm);
      const stretches = [...stems.map((s) => [toGu(s.fromMm), toGu(s.toMm)] as const), [at(run.end), 0] as const];
      for (const [to, next] of stretches) {
        this.hang(run, side, { fromGu, toGu: to, lowMm, highMm });
        fromGu = next;
      }
    }
    for (const side of ['start', 'end'] as const)
      if (run[side].kind === 'free') this.hang(run, side, { fromGu: 0, toGu: toGu(run.thicknessMm), lowMm, highMm });
    for (const { side, faceId } of returnsOfRun(run)) {
      const face = this.#plan.faces.find((f) => f.id === faceId)!;
      this.hang(run, side, { fromGu: toGu(face.fromMm), toGu: toGu(face.toMm), lowMm, highMm }, faceId);
    }
    for (const p of run.pilasters ?? [])
      for (const id of [p.front, p.low, p.high]) {
        const { side, fromMm, toMm } = this.#plan.faces.find((f) => f.id === id)!;
        this.hang(run, side, { fromGu: toGu(fromMm), toGu: toGu(toMm), lowMm, highMm }, id);
      }
    this.gapAreaMm2 += gapAreaMm2(run, highMm);
  }

  /** What hangs under the upper forms at a step, on both faces. */
  step({ step, jointGu }: SolvedStep): void {
    const overhang = overhangAt(step, jointGu);
    const { before, after } = step;
    const upper = before.ctx.run.footingMm < after.ctx.run.footingMm ? after : before;
    if (overhang) for (const side of SIDES) this.hang(upper.ctx.run, side, overhang);
  }

  hang(run: Run, side: FaceSide, { fromGu, toGu, lowMm, highMm }: Overhang, faceId = this.face(run.wall, side)): void {
    if (toGu <= fromGu) return;
    const order = this.#order(run.wall, side, fromGu);
    const covers = [{ face: faceId, fromGu, toGu }];
    const own = { course: 0, lowMm, highMm, turned: false };
    this.drafts.push({ kind: 'timber', run: run.id, items: [], order, covers, own });
  }

  corners(solved: SolvedPlan): void {
    const find = cornerFinder(this.#plan, coursesByRun(solved.runs.map((r) => r.model)));
    // Where a jog is packed, timber stands in its corner and nothing on its edge.
    const jogged = new Set(solved.jogs.flatMap((j) => j.option.returns.flatMap((r) => [r.at.inner, r.at.salient])));
    for (const v of this.#plan.vertices) {
      const [arm, second] = v.arms;
      if (second.face !== undefined && !jogged.has(v.id)) continue;
      const found = find(v);
      if (!found) continue;
      const { run, gear } = found;
      const piece = cornerPiece(this.#plan, v, gear, solved);
      if (!piece) continue;
      const order = this.#order(arm.wall, arm.side, Math.round(arm.stationMm / gear.gridMm));
      const covers = piece.covers.map(({ wall, side, face, ...c }) => ({ face: face ?? this.face(wall, side), ...c }));
      this.drafts.push({ ...piece, run, order, node: v.node, vertex: v.id, covers });
    }
  }
}

/** One piece a course from each draft. */
const toPieces = (emitter: Emitter, laid: readonly LaidRun[], gridMm: number): Piece[] => {
  const mm = (guValue: number) => roundTo(guValue * gridMm, 4);
  const stacks = new Map(laid.map((r) => [r.run.id, r.demand.stack]));
  const rows = emitter.drafts.flatMap((draft) => {
    if (draft.own) {
      const { course, lowMm, highMm } = draft.own;
      return [{ draft, course, baseMm: roundTo(lowMm, 4), topMm: roundTo(highMm, 4) }];
    }
    const stack = stacks.get(draft.run)!;
    let base = stack.baseMm;
    return stack.heightsMm.slice(0, draft.belowTop ? -1 : undefined).map((height, i) => {
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
      item: draft.items[draft.own ? 0 : course - 1] ?? null,
      turned: draft.own?.turned ?? false,
      course,
      covers,
      ...(draft.taper === undefined
        ? {}
        : { taper: { faceMm: roundTo(draft.taper.faceMm, 4), backMm: roundTo(draft.taper.backMm, 4) } }),
      ...(draft.node === undefined ? {} : { node: draft.node }),
      ...(draft.vertex === undefined ? {} : { vertex: draft.vertex }),
      baseMm,
      topMm,
    };
  });
};

export const emit = (plan: FacePlan, catalogue: Catalogue, solved: SolvedPlan, arcs: readonly SolvedArc[]): Emitted => {
  const emitter = new Emitter(plan);
  for (const run of solved.runs) {
    emitter.run(run, solved.runs);
    emitter.under(run, solved.steps);
  }
  for (const step of solved.steps) emitter.step(step);
  emitter.corners(solved);
  emitter.drafts.push(...closureDrafts(plan, solved));
  const { drafts, groups: across } = jogDrafts(plan, solved.jogs);
  emitter.drafts.push(...drafts);
  emitter.groups.push(...across);
  for (const arc of arcs) emitArc(emitter, arc);
  const laid: LaidRun[] = [...solved.runs.map((r) => ({ run: r.model.ctx.run, demand: r.model.demand })), ...arcs];
  const pieces = toPieces(emitter, laid, plan.gridMm);
  const ties = toTies(emitter.ties, (wall, side) => emitter.face(wall, side), laid, catalogue, pieces, plan.gridMm);
  const areaM2 = (emitter.unsolvedAreaGu * plan.gridMm * plan.gridMm) / 1e6;
  const groups = toGroups(emitter.groups, pieces, ties, plan.gridMm);
  return {
    pieces,
    ties,
    groups,
    unsolved: { places: emitter.unsolvedPlaces, areaM2 },
    gapAreaM2: emitter.gapAreaMm2 / 1e6,
    more: emitter.more,
  };
};

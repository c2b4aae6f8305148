/** Rules T10 and T11 for the lines of one wall: do they stand, what do their ties carry, how far do their panels span. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type { CheckedTie, RowLoad, Run, Tie } from '../ground/vocabulary.js';
import { type Context, placeOn } from './context.js';
import { hangingAt } from './jogs.js';
import { type Line, linesOf, type NoLine } from './lines.js';
import { endsOnJoints, isMixed, mixedColumns } from './mixedColumns.js';
import { type OpenedLine, openedLine } from './openedLoads.js';
import { pressureFrom, type WallLoad } from './ratings.js';
import { panelOf, type SolvedLine, solveLine } from './solveLine.js';

/** What one face says of a tie, mm of strip; the exact value is null where its line is a mechanism. */
interface FaceStrip {
  readonly face: string;
  readonly exact: number | null;
  readonly strip: number;
  /** The tie's load where it is no multiple of its row's, kN: beside openings. */
  readonly kN: number | null;
}

export interface JointShear {
  readonly stationMm: number;
  readonly shearMm: number;
}

export interface RunChecks {
  readonly lines: readonly Line[];
  readonly ties: readonly CheckedTie[];
  /** Longest span of each panel, by piece. */
  readonly spans: ReadonlyMap<string, number>;
  /** Largest reaction of held edges, mm of strip, by vertex and wall. */
  readonly held: ReadonlyMap<string, number>;
  /** Largest shear at the joints, mm of strip, by face and course: '|' between them. */
  readonly shears: ReadonlyMap<string, readonly JointShear[]>;
  readonly findings: readonly Finding[];
}

/** Levels within this are one row. */
const ROW_MM = 1;
/** A pull less than this below 0, mm of strip, is rounding. */
const PUSH_MM = 0.01;

interface Course {
  readonly course: number;
  readonly baseMm: number;
  readonly topMm: number;
}

const coursesOf = (load: WallLoad): Course[] => {
  let base = load.demand.stack.baseMm;
  return load.demand.stack.heightsMm.map((h, i) => {
    const from = base;
    base += h;
    return { course: i + 1, baseMm: from, topMm: base };
  });
};

const describe = (line: Line): string => `the ${line.side} face of wall ${line.wall}`;

/** Findings of a line that does not stand on the ties of a row. */
const standing = (ctx: Context, line: Line, row: Pick<RowLoad, 'row' | 'levelMm'>, solved: SolvedLine): Finding[] => {
  const bad = solved.spansMm.indexOf(null);
  if (solved.answer && bad < 0) return [];
  const element = line.elements[Math.max(bad, 0)]!;
  const [from, to] = [plainNumber(element.fromMm, 1), plainNumber(element.toMm, 1)];
  const at = placeOn(ctx, line.wall, line.side, (element.fromMm + element.toMm) / 2, row.levelMm);
  const where = `row ${row.row} (level ${plainNumber(row.levelMm, 0)}) on ${describe(line)}`;
  const detail = { at, subject: line.wall };
  if (!solved.answer) {
    const [n, held] = [line.elements.length, solved.supportsMm.length];
    const supports = `${held} ${held === 1 ? 'support does' : 'supports do'} not hold`;
    const begins = plainNumber(line.jointsMm[0]!, 1);
    const message =
      n === 1
        ? `In ${where} the form at stations ${from} to ${to} turns: ${supports} it.`
        : `In ${where} the ${n} forms from station ${begins} on turn on their hinges: ${supports} them. The first that is not held stands at stations ${from} to ${to}.`;
    return [finding('check.mechanism', message, { ...detail, assumed: 'tie loads by strips' })];
  }
  const message = `In ${where} the form at stations ${from} to ${to} stands out too far beyond its outermost support.`;
  return [finding('check.overhang', message, detail)];
};

const noLineFindings = (ctx: Context, none: readonly NoLine[]): Finding[] =>
  none.map(({ wall, side, course, low, high, why }) => {
    const [from, to] = [plainNumber(low.stationMm, 1), plainNumber(high.stationMm, 1)];
    const words = why === 'nothing' ? 'there is no panel that a tie could hold' : 'the pieces overlap';
    const message = `On the ${side} face of wall ${wall}, stations ${from} to ${to}, course ${course}, ${words}.`;
    const at = placeOn(ctx, wall, side, (low.stationMm + high.stationMm) / 2);
    return finding('check.mechanism', message, { at, subject: wall, assumed: 'tie loads there by the other face' });
  });

/** Collects what every line says of the ties of its rows. */
class Collector {
  readonly strips = new Map<string, FaceStrip[]>();
  readonly spans = new Map<string, number>();
  readonly held = new Map<string, number>();
  readonly shears = new Map<string, JointShear[]>();
  readonly findings: Finding[] = [];
  readonly #said = new Set<string>();
  readonly #ctx: Context;

  constructor(ctx: Context) {
    this.#ctx = ctx;
  }

  add(line: Line, row: RowLoad, ties: readonly Tie[], solved: SolvedLine): void {
    // Rows with the same ties say the same; one finding is enough.
    const key = `${line.course}|${line.face.id}|${line.jointsMm[0]}|${solved.supportsMm.join()}`;
    if (!this.#said.has(key)) this.findings.push(...standing(this.#ctx, line, row, solved));
    this.#said.add(key);
    for (const tie of ties) {
      this.#take(line, tie, solved, null);
    }
    this.#statics(line, solved);
  }

  /** A line of a run with openings: its columns of ties tell of all levels at once. */
  addOpened(line: Line, ties: readonly Tie[], opened: OpenedLine, load: WallLoad): void {
    const { whole } = opened;
    this.findings.push(...standing(this.#ctx, line, load.demand.rows[0]!, whole));
    for (const tie of ties) {
      this.#take(line, tie, whole, opened.kNOf(tie));
    }
    this.#statics(line, whole);
  }

  /** A course of a run in which panels lie on their side: all its columns of ties hold it at once. */
  addCourse(line: Line, ties: readonly Tie[], solved: SolvedLine): void {
    const [first] = ties;
    if (!first) return;
    const row = { row: first.row, levelMm: first.levelMm };
    this.findings.push(...standing(this.#ctx, line, row, solved));
    for (const tie of ties) this.#take(line, tie, solved, null);
    this.#statics(line, solved);
  }

  /** What the line says of a tie, where it tells of it. */
  #take(line: Line, tie: Tie, solved: SolvedLine, kN: number | null): void {
    const strip = solved.stripAt.get(tie.stationMm);
    if (strip === undefined) return;
    const exact = solved.reactionAt.get(tie.stationMm) ?? null;
    this.strips.set(tie.id, [...(this.strips.get(tie.id) ?? []), { face: line.face.id, exact, strip, kN }]);
  }

  #statics(line: Line, solved: SolvedLine): void {
    this.#spansOf(line, solved);
    this.#heldOf(line, solved);
    if (!solved.answer) return;
    const shears = solved.answer.shearsMm;
    const key = `${line.face.id}|${line.course}`;
    const list = this.shears.get(key) ?? [];
    // A held edge is held by the corner through its clamps.
    const at = (x: number) => (line.heldMm.includes(x) ? Math.abs(solved.reactionAt.get(x) ?? 0) : 0);
    list.push(...line.jointsMm.map((x, i) => ({ stationMm: x, shearMm: Math.max(Math.abs(shears[i] ?? 0), at(x)) })));
    this.shears.set(key, list);
  }

  #spansOf(line: Line, solved: SolvedLine): void {
    line.elements.forEach(({ group }, i) => {
      const panel = group?.pieces.find((id) => this.#ctx.pieces.get(id)?.kind === 'panel');
      const span = solved.spansMm[i];
      if (panel === undefined || span === null || span === undefined || !panelOf(this.#ctx, line, i)) return;
      this.spans.set(panel, Math.max(span, this.spans.get(panel) ?? 0));
    });
  }

  #heldOf(line: Line, solved: SolvedLine): void {
    for (const end of [line.low, line.high]) {
      const joint = end === line.low ? line.jointsMm[0]! : line.jointsMm[line.jointsMm.length - 1]!;
      const reaction = solved.reactionAt.get(joint);
      if (end.vertex === null || reaction === undefined || !line.heldMm.includes(joint)) continue;
      const key = `${end.vertex}|${line.wall}`;
      this.held.set(key, Math.max(reaction, this.held.get(key) ?? 0));
    }
  }
}

const rowOf = (load: WallLoad, levelMm: number): RowLoad | undefined =>
  load.demand.rows.find((r) => Math.abs(r.levelMm - levelMm) <= ROW_MM);

const tieFindings = (ctx: Context, tie: CheckedTie, strips: readonly FaceStrip[]): Finding[] => {
  const at = placeOn(ctx, tie.wall, null, tie.stationMm, tie.levelMm);
  const detail = { at, subject: tie.id };
  const found: Finding[] = [];
  const pushed = strips.find((s) => s.exact !== null && s.exact < -PUSH_MM);
  if (pushed) {
    const message = `Tie ${tie.id} would be pushed: ${plainNumber(pushed.exact!, 0)} mm of strip on face ${pushed.face}.`;
    found.push(finding('check.tie-pushed', message, detail));
  }
  if (tie.loadKn > tie.workingLoadKn + 1e-6) {
    const message = `Tie ${tie.id} carries ${plainNumber(tie.loadKn, 2)} kN; its working load is ${plainNumber(tie.workingLoadKn, 2)} kN.`;
    found.push(finding('check.tie-overload', message, detail));
  }
  return found;
};

/** Row load times the larger of the two faces' strips; 0, and a failure, at a level without a row. */
const checkedTie = (
  ctx: Context,
  row: RowLoad | undefined,
  tie: Tie,
  strips: readonly FaceStrip[],
): { tie: CheckedTie; findings: Finding[] } => {
  const governing = strips.reduce<FaceStrip | null>((a, b) => {
    const value = (s: FaceStrip) => s.kN ?? s.exact ?? s.strip;
    return a === null || value(b) > value(a) + 1e-9 ? b : a;
  }, null);
  const strip = Math.max(0, ...strips.map((s) => s.strip));
  const carried = governing ? (governing.exact ?? governing.strip) : 0;
  const checked: CheckedTie = {
    ...tie,
    loadKn: roundTo(governing?.kN ?? ((row?.kNPerM ?? 0) * carried) / 1000, 6),
    stripKn: roundTo(((row?.stripKnPerM ?? 0) * strip) / 1000, 6),
    workingLoadKn: ctx.tieItems.get(tie.item)?.workingLoadKn ?? 0,
    governingFace: governing?.face ?? '',
  };
  const findings = tieFindings(ctx, checked, strips);
  if (!row) {
    const message = `Tie ${tie.id} stands at level ${plainNumber(tie.levelMm, 1)}, where its stack has no row.`;
    const at = placeOn(ctx, tie.wall, null, tie.stationMm, tie.levelMm);
    findings.push(finding('check.tie-row', message, { at, subject: tie.id, assumed: 'its load is not known' }));
  }
  return { tie: checked, findings };
};

/** The same for a run in which panels lie on their side: its courses and rows are read from the pieces and their ties. */
const checkMixedRun = (ctx: Context, run: Run, load: WallLoad): RunChecks => {
  const own = ctx.ties.get(run.id) ?? [];
  const groups = ctx.layout.groups.filter((g) => g.run === run.id);
  const pieceIds = (course: number) => new Set(groups.filter((g) => g.course === course).flatMap((g) => g.pieces));
  const tiesIn = (course: number) => {
    const ids = pieceIds(course);
    return own.filter((t) => t.pieces.some((id) => ids.has(id)));
  };
  const courses = [...new Set(groups.map((g) => g.course))].sort((a, b) => a - b);
  const { lines, none } = linesOf(
    ctx,
    run,
    courses.filter((c) => tiesIn(c).length > 0),
  );
  const columns = mixedColumns(ctx, run, load, own);
  const collector = new Collector(ctx);
  for (const line of lines) {
    const ties = tiesIn(line.course);
    const baseMm = Math.min(...[...pieceIds(line.course)].map((id) => ctx.pieces.get(id)?.baseMm ?? run.topMm));
    const stations = ties.map((t) => t.stationMm);
    const solved = solveLine(ctx, line, stations, pressureFrom(load, baseMm));
    collector.addCourse(line, ties, solved);
  }
  const checked = own.map((t) => checkedTie(ctx, columns.rowOf(t), t, collector.strips.get(t.id) ?? []));
  return {
    lines,
    ties: checked.map((c) => c.tie),
    spans: collector.spans,
    held: collector.held,
    shears: collector.shears,
    findings: [
      ...noLineFindings(ctx, none),
      ...columns.findings,
      ...jointFindings(ctx, run),
      ...collector.findings,
      ...checked.flatMap((c) => c.findings),
    ],
  };
};

/** Panels on their side that end between joints of the forms below them (rule T8). */
const jointFindings = (ctx: Context, run: Run): Finding[] =>
  ctx.layout.pieces
    .filter((p) => p.turned && ctx.runOfPiece.get(p.id) === run.id && !endsOnJoints(ctx, run, p))
    .map((p) => {
      const face = ctx.faces.get(p.covers[0]?.face ?? '');
      const side = face?.side === 'left' || face?.side === 'right' ? face.side : null;
      const at = placeOn(ctx, run.wall, side, p.covers[0]?.fromMm ?? 0, p.baseMm);
      const message = `Piece ${p.id} lies on its side and does not end on joints of the forms below it.`;
      return finding('check.turned-joint', message, { at, subject: p.id });
    });

/** Panels that run past a jog without a tie span their whole group. */
const hangingPanels = (ctx: Context, run: Run, courses: readonly Course[]) =>
  [run.start, run.end].flatMap((end) =>
    (['left', 'right'] as const).flatMap((side) =>
      courses.flatMap(({ course }) => {
        const hanging = end.kind === 'jog' ? hangingAt(ctx, run, end, side, course) : null;
        if (hanging?.group.run !== run.id) return [];
        const panel = hanging.group.pieces.find((id) => ctx.pieces.get(id)?.kind === 'panel');
        return panel === undefined ? [] : [{ panel, length: hanging.lengthMm }];
      }),
    ),
  );

/** Lines, spans, tie loads and their findings for one run that has rows. */
export const checkRun = (ctx: Context, run: Run, load: WallLoad): RunChecks => {
  if (isMixed(ctx, run)) return checkMixedRun(ctx, run, load);
  const courses = coursesOf(load).filter((c) =>
    load.demand.rows.some((r) => r.levelMm > c.baseMm && r.levelMm < c.topMm),
  );
  const { lines, none } = linesOf(
    ctx,
    run,
    courses.map((c) => c.course),
  );
  const own = ctx.ties.get(run.id) ?? [];
  const collector = new Collector(ctx);
  for (const line of lines) {
    const course = courses.find((c) => c.course === line.course)!;
    const pressureKpa = pressureFrom(load, course.baseMm);
    if (ctx.voids.has(run.id)) {
      const ties = own.filter((t) => t.levelMm > course.baseMm && t.levelMm < course.topMm);
      collector.addOpened(line, ties, openedLine(ctx, run, line, load, own, pressureKpa), load);
      continue;
    }
    for (const row of load.demand.rows) {
      if (row.levelMm <= course.baseMm || row.levelMm >= course.topMm) continue;
      const ties = own.filter((t) => Math.abs(t.levelMm - row.levelMm) <= ROW_MM);
      const stations = ties.map((t) => t.stationMm);
      collector.add(line, row, ties, solveLine(ctx, line, stations, pressureKpa));
    }
  }
  for (const { length, panel } of hangingPanels(ctx, run, courses))
    collector.spans.set(panel, Math.max(length, collector.spans.get(panel) ?? 0));
  const checked = own.map((t) => checkedTie(ctx, rowOf(load, t.levelMm), t, collector.strips.get(t.id) ?? []));
  return {
    lines,
    ties: checked.map((c) => c.tie),
    spans: collector.spans,
    held: collector.held,
    shears: collector.shears,
    findings: [...noLineFindings(ctx, none), ...collector.findings, ...checked.flatMap((c) => c.findings)],
  };
};

/** Rule T13 held against aligners as they are given, whoever laid them out: rows, covering, splices, uprights, and the joints that they bridge. */

import { type Finding, finding } from '../../ground/findings.js';
import { byNumber } from '../../ground/order.js';
import { plainNumber } from '../../ground/units.js';
import type { Aligner, Brace, Side } from '../../ground/vocabulary.js';
import { type Context, type PlacedCover, placeOn } from '../context.js';
import { coursesAt, type FormLine, heightOf, isHeldByCorners, jointsAt, tieLevels, tieStations } from './formLines.js';
import { RULES, rowsAtLeast, SLACK_MM } from './options.js';
import { splicesOf } from './tubes.js';
import { stackedSpans } from './uprights.js';

const mm = (n: number): string => plainNumber(n, 0);

/** Level of what lies in one row. */
const SAME_LEVEL_MM = 1;

/** Lines may touch where gangs end: what only ends there lies on the other. */
const isOn = (line: FormLine, a: Pick<Aligner, 'kind' | 'face' | 'run' | 'fromMm' | 'toMm'>): boolean => {
  const reachMm = a.kind === 'vertical' ? -SLACK_MM : SLACK_MM;
  return (
    a.face === line.face.id && a.run === line.run.id && a.fromMm < line.toMm - reachMm && a.toMm > line.fromMm + reachMm
  );
};

/** Horizontal aligners of a line in rows, rising, each by station. */
export const rowsOf = (line: FormLine, aligners: readonly Aligner[]): Aligner[][] => {
  const rows: Aligner[][] = [];
  const own = aligners.filter((a) => a.kind === 'horizontal' && isOn(line, a));
  for (const a of own.sort((x, y) => x.levelMm - y.levelMm || x.fromMm - y.fromMm)) {
    const row = rows.find((r) => Math.abs(r[0]!.levelMm - a.levelMm) <= SAME_LEVEL_MM);
    if (row) row.push(a);
    else rows.push([a]);
  }
  return rows;
};

class LineJudge {
  readonly findings: Finding[] = [];

  constructor(
    readonly ctx: Context,
    readonly line: FormLine,
  ) {}

  say(
    code: 'check.aligners' | 'check.aligner-joint' | 'check.aligner-splice',
    stationMm: number,
    levelMm: number,
    words: string,
  ): void {
    const { line } = this;
    const at = placeOn(this.ctx, line.run.wall, line.side, stationMm, levelMm);
    this.findings.push(finding(code, `Face ${line.face.id}: ${words}.`, { at, subject: line.face.id }));
  }

  get middleMm(): number {
    return (this.line.fromMm + this.line.toMm) / 2;
  }

  rows(rows: readonly (readonly Aligner[])[]): void {
    const { line } = this;
    const heightMm = heightOf(line);
    const least = rowsAtLeast(heightMm);
    if (rows.length < least)
      this.say(
        'check.aligners',
        this.middleMm,
        line.topMm,
        `forms ${mm(heightMm)} high have ${rows.length} of ${least} rows of aligners`,
      );
    const top = rows.at(-1)?.[0]?.levelMm;
    if (top !== undefined && (top < line.topMm - RULES.topRowMm - SLACK_MM || top > line.topMm))
      this.say(
        'check.aligners',
        this.middleMm,
        top,
        `the top row of aligners lies ${mm(line.topMm - top)} below the top of the forms, not within ${RULES.topRowMm}`,
      );
    const ties = tieLevels(this.ctx, line.run.id);
    for (const [first] of rows) {
      const level = first!.levelMm;
      if (ties.some((t) => Math.abs(t - level) < RULES.tieClearMm - SLACK_MM))
        this.say(
          'check.aligners',
          this.middleMm,
          level,
          `the row of aligners at level ${mm(level)} lies over a row of ties`,
        );
    }
  }

  covering(row: readonly Aligner[]): void {
    const { line, ctx } = this;
    const level = row[0]!.levelMm;
    let reach = line.fromMm;
    const bare = (fromMm: number, toMm: number, mostMm: number): void => {
      if (toMm - fromMm > mostMm + SLACK_MM)
        this.say(
          'check.aligners',
          (fromMm + toMm) / 2,
          level,
          `no aligner lies at level ${mm(level)} between stations ${mm(fromMm)} and ${mm(toMm)}`,
        );
    };
    for (const [i, a] of row.entries()) {
      bare(reach, a.fromMm, i === 0 ? RULES.alignerEndMm : 0);
      reach = Math.max(reach, a.toMm);
      const out = Math.max(line.fromMm - a.fromMm, a.toMm - line.toMm);
      if (out > RULES.alignerEndMm + SLACK_MM)
        this.say('check.aligners', a.fromMm, level, `${a.id} ends ${mm(out)} mm beyond the forms that it lies on`);
      const item = (ctx.catalogue.aligners ?? []).find((x) => x.id === a.item);
      if (!item || item.stands === 'vertical' || Math.abs(item.lengthMm - (a.toMm - a.fromMm)) > 1)
        this.say(
          'check.aligners',
          a.fromMm,
          level,
          `${a.id} (${a.item}) is no aligner of the catalogue of that length that may lie`,
        );
      const before = row[i - 1];
      if (!before || !item) continue;
      const lap = before.toMm - a.fromMm;
      const at = (before.toMm + a.fromMm) / 2;
      if (item.joint === 'lap' && lap < item.lapMm - SLACK_MM)
        this.say(
          'check.aligner-splice',
          at,
          level,
          `${before.id} and ${a.id} lap by ${mm(lap)}, not by ${mm(item.lapMm)}`,
        );
    }
    bare(reach, line.toMm, RULES.alignerEndMm);
  }

  /** Splices off joints of the forms and out of the bays in which a brace stands. */
  splices(row: readonly Aligner[], braces: readonly Brace[]): void {
    const { line } = this;
    const level = row[0]!.levelMm;
    const joints = jointsAt(line, level);
    const edges = [line.fromMm, ...joints, line.toMm];
    const lapMm = (this.ctx.catalogue.aligners ?? []).find((x) => x.id === row[0]!.item)?.lapMm ?? 0;
    for (const { atMm: at, offMm: off } of splicesOf(line, level, row, lapMm)) {
      if (off < RULES.spliceMm - SLACK_MM)
        this.say(
          'check.aligner-splice',
          at,
          level,
          `aligners at level ${mm(level)} are spliced ${mm(off)} from a joint of the forms, not ${RULES.spliceMm}`,
        );
      const bay = edges.findIndex((e, k) => e <= at && at <= (edges[k + 1] ?? e));
      const inBay = braces.find(
        (b) =>
          b.stationMm > edges[bay]! && b.stationMm < edges[bay + 1]! && Math.abs(b.headMm - level) <= SAME_LEVEL_MM,
      );
      if (inBay)
        this.say(
          'check.aligner-splice',
          at,
          level,
          `aligners at level ${mm(level)} are spliced in the bay of brace ${inBay.id}`,
        );
    }
  }

  /**
   * A straight tube over a joint holds nothing: between two panels, side by side or with timber between, a tie stands in one of the two rigid groups
   * that meet there.
   */
  bridged(row: readonly Aligner[]): void {
    const { line, ctx } = this;
    const level = row[0]!.levelMm;
    const ties = tieStations(ctx, line.run.id);
    const groups = (ctx.groups.get(line.face.id) ?? []).filter(
      (g) => g.run === line.run.id && this.isAtLevel(g.pieces, level),
    );
    const panels = line.covers.filter(
      ({ piece, cover }) => piece.kind === 'panel' && cover.baseMm < level && cover.topMm > level,
    );
    const stretchOf = ({ piece, cover }: PlacedCover): readonly [number, number] => {
      const group = groups.find((g) => g.pieces.includes(piece.id));
      return group ? [group.fromMm, group.toMm] : [cover.fromMm, cover.toMm];
    };
    for (const [i, right] of panels.slice(1).entries()) {
      const [[from, s], [after, to]] = [stretchOf(panels[i]!), stretchOf(right)];
      if (s > after + 1 || !row.some((a) => a.fromMm < s && a.toMm > after)) continue;
      if (!ties.some((t) => t > from && t < to))
        this.say(
          'check.aligner-joint',
          s,
          level,
          `the joint at station ${mm(s)} has no tie beside it and is bridged by an aligner, which carries no concrete pressure`,
        );
    }
  }

  private isAtLevel(pieces: readonly string[], levelMm: number): boolean {
    return pieces.some((id) => {
      const piece = this.ctx.pieces.get(id);
      return piece !== undefined && piece.baseMm < levelMm && piece.topMm > levelMm;
    });
  }

  uprights(aligners: readonly Aligner[]): void {
    const { line } = this;
    const own = aligners.filter((a) => a.kind === 'vertical' && isOn(line, a)).sort(byNumber((a) => a.fromMm));
    for (const span of stackedSpans(line)) {
      const here = own.filter((a) => a.fromMm >= span.fromMm && a.fromMm <= span.toMm);
      const stops = [span.fromMm, ...here.map((a) => a.fromMm), span.toMm];
      stops.slice(1).forEach((s, i) => {
        const isEnd = i === 0 || i === stops.length - 2;
        const most = here.length === 0 ? 0 : isEnd ? RULES.uprightEndMm : RULES.uprightSpacingMm;
        const from = stops[i]!;
        if (s - from > most + SLACK_MM)
          this.say(
            'check.aligners',
            (from + s) / 2,
            line.topMm,
            `no vertical aligner stands over the stacked forms between stations ${mm(from)} and ${mm(s)}`,
          );
      });
      for (const a of here) this.lap(a);
    }
  }

  private lap(a: Aligner): void {
    const { line } = this;
    const { joints, topMm } = coursesAt(line, a.fromMm);
    const [foot, head] = [a.levelMm, a.topMm ?? a.levelMm];
    for (const z of joints) {
      const [below, above] = [Math.min(RULES.uprightLapMm, z - line.baseMm), Math.min(RULES.uprightLapMm, topMm - z)];
      if (z - foot < below - SLACK_MM || head - z < above - SLACK_MM)
        this.say(
          'check.aligners',
          a.fromMm,
          z,
          `vertical aligner ${a.id} does not lap the joint at level ${mm(z)} by ${RULES.uprightLapMm} each way or to the edge of the forms`,
        );
    }
  }
}

/** On which side of each run horizontal aligners lie: where any do, else the one wanted. */
const sideOf = (
  lines: readonly FormLine[],
  aligners: readonly Aligner[],
  wanted: Side | undefined,
): Side | undefined => {
  const on = lines.find((l) => rowsOf(l, aligners).length > 0);
  return on?.side ?? wanted;
};

/**
 * Judges aligners. `wanted`: the side of the horizontal ones by run, where none are there to tell it; `whole`: the lines before they are cut where gangs end,
 * for vertical ones. Only what is missing or wrong is said, one finding for each fault.
 */
export const judgeAligners = (
  ctx: Context,
  lines: readonly FormLine[],
  aligners: readonly Aligner[],
  braces: readonly Brace[],
  wanted: ReadonlyMap<string, Side>,
  whole: readonly FormLine[] = lines,
): Finding[] =>
  ctx.plan.runs.flatMap((run) => {
    const own = lines.filter((l) => l.run.id === run.id);
    const side = sideOf(own, aligners, wanted.get(run.id));
    const upright = whole
      .filter((l) => l.run.id === run.id && l.side !== side)
      .map((line) => {
        const judge = new LineJudge(ctx, line);
        judge.uprights(aligners);
        return judge;
      });
    const lying = own
      .filter((l) => l.side === side && !isHeldByCorners(l, RULES.shortMm))
      .map((line) => {
        const judge = new LineJudge(ctx, line);
        const rows = rowsOf(line, aligners);
        judge.rows(rows);
        for (const row of rows) {
          judge.covering(row);
          judge.splices(
            row,
            braces.filter((b) => b.face === line.face.id && b.run === line.run.id),
          );
          judge.bridged(row);
        }
        return judge;
      });
    return [...lying, ...upright].flatMap((judge) => judge.findings);
  });

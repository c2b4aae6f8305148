/**
 * Rule T14 held against braces as they are given: whether a form is held against falling either way, near enough, at the right height and angle, with
 * feet in free space, and what each brace carries. A brace that is only pushed or only pulled holds one way; each way is looked at by itself.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { byNumber } from '../../ground/order.js';
import { plainNumber } from '../../ground/units.js';
import type { Aligner, Brace, BracedFace, BraceItem, CheckedBrace, Side } from '../../ground/vocabulary.js';
import { type Context, placeOn } from '../context.js';
import { nearestStretches } from '../nearestStretches.js';
import { headBand } from './alignerRows.js';
import { bracedFace, weightOf } from './bracedFace.js';
import { type FormLine, heightOf, isHeldByCorners } from './formLines.js';
import { freeSpace, headOffsetMm, type Standing, standingOn } from './freeSpace.js';
import { rowsOf } from './judgeAligners.js';
import { LEAST, RULES, type SiteOptions, SLACK_MM } from './options.js';
import { other, wallSides } from './sides.js';
import { type BraceForces, braceForces } from './statics.js';
import { windOn } from './wind.js';

const mm = (n: number): string => plainNumber(n, 0);
const kn = (n: number): string => plainNumber(n, 2);

export interface JudgedBraces {
  readonly braces: readonly CheckedBrace[];
  readonly braced: readonly BracedFace[];
  readonly findings: readonly Finding[];
}

export interface BraceQuestion {
  readonly ctx: Context;
  readonly lines: readonly FormLine[];
  readonly aligners: readonly Aligner[];
  readonly braces: readonly Brace[];
  readonly options: SiteOptions;
  /** Moment of the platform on each run, kNm per m; runs that are not named have none. */
  readonly platformKnmPerM: ReadonlyMap<string, number>;
  /** The side that is braced where no brace tells it. */
  readonly wanted: ReadonlyMap<string, Side>;
}

class BraceJudge {
  readonly findings: Finding[] = [];
  readonly items: ReadonlyMap<string, BraceItem>;
  readonly offMm: number;

  constructor(readonly q: BraceQuestion) {
    this.items = new Map((q.ctx.catalogue.braces ?? []).map((b) => [b.id, b]));
    this.offMm = headOffsetMm(q.ctx.catalogue.frameDepthMm);
  }

  say(code: Finding['code'], line: FormLine, stationMm: number, levelMm: number, subject: string, words: string): void {
    const at = placeOn(this.q.ctx, line.run.wall, line.side, stationMm, levelMm);
    this.findings.push(finding(code, words, { at, subject }));
  }

  /** What of the braces on both faces of a run holds a form that falls to this side: pushed on that side, pulled on the other. */
  private holding(run: string, fallsTo: Side, faces: ReadonlyMap<string, Side>): Brace[] {
    return this.q.braces
      .filter((b) => {
        const item = this.items.get(b.item);
        if (b.run !== run || !item) return false;
        return faces.get(b.face) === fallsTo ? item.pushKn > 0 : item.pullKn > 0;
      })
      .sort(byNumber((b) => b.stationMm));
  }

  /** Those of them that stand along a line. */
  on(line: FormLine, fallsTo: Side, faces: ReadonlyMap<string, Side>): Brace[] {
    return this.holding(line.run.id, fallsTo, faces).filter(
      (b) => b.stationMm >= line.fromMm - SLACK_MM && b.stationMm <= line.toMm + SLACK_MM,
    );
  }

  /** Spacing one way along a line. */
  spacing(line: FormLine, fallsTo: Side, faces: ReadonlyMap<string, Side>): void {
    const own = this.on(line, fallsTo, faces);
    const way = fallsTo === line.side ? 'towards' : 'away from';
    if (own.length === 0) {
      const words = `No brace holds face ${line.face.id} against falling ${way} its braces' side between stations ${mm(line.fromMm)} and ${mm(line.toMm)}.`;
      this.say('check.brace-one-way', line, (line.fromMm + line.toMm) / 2, line.topMm, line.face.id, words);
      return;
    }
    // The same braces hold both ways: said once.
    const ids = (list: readonly Brace[]) => list.map((b) => b.id).join(' ');
    if (fallsTo !== line.side && ids(this.on(line, line.side, faces)) === ids(own)) return;
    const strips = line.covers.filter(({ piece }) => piece.kind === 'strip').map(({ cover }) => cover);
    const stops = [line.fromMm, ...own.map((b) => b.stationMm), line.toMm];
    stops.slice(1).forEach((s, i) => {
      const from = stops[i]!;
      const isEnd = i === 0 || i === stops.length - 2;
      if (s - from > (isEnd ? RULES.braceEndMm : RULES.braceSpacingMm) + SLACK_MM) {
        const most = isEnd ? `${RULES.braceEndMm} from an end or corner` : `${RULES.braceSpacingMm} apart`;
        const words = `Face ${line.face.id}: braces leave ${mm(s - from)} between stations ${mm(from)} and ${mm(s)}; they stand at most ${most}.`;
        this.say('check.brace-spacing', line, (from + s) / 2, line.topMm, line.face.id, words);
      }
    });
    for (const strip of strips) {
      const sides = [strip.fromMm - line.fromMm, line.toMm - strip.toMm] as const;
      const near = [
        own.some((b) => b.stationMm <= strip.fromMm && strip.fromMm - b.stationMm <= RULES.braceEndMm + SLACK_MM),
        own.some((b) => b.stationMm >= strip.toMm && b.stationMm - strip.toMm <= RULES.braceEndMm + SLACK_MM),
      ];
      if (near.every((is, i) => is || sides[i]! <= RULES.shortMm / 2)) continue;
      const words = `Face ${line.face.id}: no brace stands within ${RULES.braceEndMm} on both sides of the strip at station ${mm(strip.fromMm)}.`;
      this.say('check.brace-spacing', line, strip.fromMm, line.topMm, line.face.id, words);
    }
  }

  /** Head, angle and length of one brace, and the aligner that it stands on. */
  shape(line: FormLine, b: Brace): void {
    const item = this.items.get(b.item);
    const runMm = b.footOffsetMm - this.offMm;
    const riseMm = b.headMm - b.footMm;
    const lengthMm = Math.hypot(runMm, riseMm);
    const angleDeg = (Math.atan2(riseMm, runMm) * 180) / Math.PI;
    const say = (words: string) =>
      this.say(
        'check.brace-head',
        line,
        b.stationMm,
        b.headMm,
        b.id,
        `Brace ${b.id} on face ${line.face.id}: ${words}.`,
      );
    const [low, high] = headBand(line);
    if (b.headMm < low - SLACK_MM || b.headMm > high + SLACK_MM)
      say(`its head at level ${mm(b.headMm)} is not between ${mm(low)} and ${mm(high)}, 2/3 to 3/4 of the height`);
    const row = rowsOf(line, this.q.aligners).find(([a]) => Math.abs(a!.levelMm - b.headMm) <= 1);
    if (!row?.some((a) => a.fromMm <= b.stationMm && a.toMm >= b.stationMm)) say('its head is on no aligner');
    if (angleDeg < RULES.angleLeastDeg - 0.1 || angleDeg > RULES.angleMostDeg + 0.1)
      say(`it stands at ${plainNumber(angleDeg, 1)} degrees, not ${RULES.angleLeastDeg} to ${RULES.angleMostDeg}`);
    if (!item) say(`the catalogue has no brace ${b.item}`);
    else if (lengthMm < item.lengthMm.fromMm - 1 || lengthMm > item.lengthMm.toMm + 1)
      say(`${b.item} is not made ${mm(lengthMm)} long`);
    if (Math.abs(b.footMm - line.groundMm) > SLACK_MM)
      say(`its foot at level ${mm(b.footMm)} is not on the footing at level ${mm(line.groundMm)}`);
  }

  /** Forces of one brace when it holds this stretch of the form. */
  private forcesOver(
    line: FormLine,
    b: Brace,
    [fromMm, toMm]: readonly [number, number],
    weightKnPerM: number,
  ): BraceForces {
    const { options, platformKnmPerM } = this.q;
    return braceForces({
      lineKnPerM: LEAST[options.code].lineKnPerM,
      windKpa: windOn(line, options, fromMm, toMm),
      platformKnmPerM: platformKnmPerM.get(line.run.id) ?? 0,
      heightM: heightOf(line) / 1000,
      headM: Math.max(1, b.headMm - b.footMm) / 1000,
      runM: Math.max(1, b.footOffsetMm - this.offMm) / 1000,
      widthM: (toMm - fromMm) / 1000,
      weightKnPerM,
    });
  }

  /** What a brace carries: pushed among those that hold when the form falls its way, pulled among those that hold the other way. */
  forces(line: FormLine, b: Brace, faces: ReadonlyMap<string, Side>, weightKnPerM: number): CheckedBrace {
    const item = this.items.get(b.item);
    const among = (fallsTo: Side): readonly [number, number] | null => {
      const own = this.on(line, fallsTo, faces);
      const i = own.indexOf(b);
      return i < 0
        ? null
        : nearestStretches(
            own.map((x) => x.stationMm),
            line.fromMm,
            line.toMm,
          )[i]!;
    };
    const [pushed, pulled] = [among(line.side), among(other(line.side))];
    const [push, pull] = [pushed, pulled].map((share) =>
      share ? this.forcesOver(line, b, share, weightKnPerM) : null,
    );
    const share = pushed ?? pulled ?? [0, 0];
    const runMm = Math.max(1, b.footOffsetMm - this.offMm);
    const riseMm = Math.max(1, b.headMm - b.footMm);
    return {
      ...b,
      widthMm: share[1] - share[0],
      lengthMm: Math.hypot(runMm, riseMm),
      angleDeg: (Math.atan2(riseMm, runMm) * 180) / Math.PI,
      pushKn: push?.axialKn ?? 0,
      pullKn: pull?.axialKn ?? 0,
      mostPushKn: item?.pushKn ?? 0,
      mostPullKn: item?.pullKn ?? 0,
      upliftKn: push?.verticalKn ?? 0,
      holdDownKn: push?.holdDownKn ?? 0,
      footUpliftKn: pull?.verticalKn ?? 0,
      footShearKn: Math.max(push?.headKn ?? 0, pull?.headKn ?? 0),
    };
  }

  overload(line: FormLine, c: CheckedBrace): void {
    const item = this.items.get(c.item);
    if (!item) return;
    const asked: readonly (readonly [string, number, number])[] = [
      ['is pushed with', c.pushKn, item.pushKn],
      ['is pulled with', c.pullKn, item.pullKn],
      ['lifts the anchor of its foot with', c.footUpliftKn, item.footUpliftKn],
      ['shears the anchor of its foot with', c.footShearKn, item.footShearKn],
    ];
    for (const [what, load, most] of asked) {
      if (load <= most * (1 + 1e-9)) continue;
      this.say(
        'check.brace-overload',
        line,
        c.stationMm,
        c.headMm,
        c.id,
        `Brace ${c.id} (${c.item}) ${what} ${kn(load)} kN and carries ${kn(most)} kN.`,
      );
    }
  }
}

/** Feet and braces in free space, over all runs. */
const feet = (judge: BraceJudge, lineOf: ReadonlyMap<Brace, FormLine>): void => {
  const { ctx, options } = judge.q;
  const space = freeSpace(ctx, options.freeOutsideMm);
  const sides = wallSides(ctx);
  const before: { readonly brace: Brace; readonly standing: Standing }[] = [];
  for (const [b, line] of lineOf) {
    const standing = standingOn(line, b, ctx.catalogue.frameDepthMm);
    const hit = space.inTheWay(
      standing,
      before.map((x) => x.standing),
      sides.isOpen(line.run, line.side),
    );
    before.push({ brace: b, standing });
    if (!hit) continue;
    const what =
      hit.kind === 'wall'
        ? `stands in the way of wall ${hit.wall} or its forms`
        : hit.kind === 'excavation'
          ? `has its foot ${mm(b.footOffsetMm)} from the wall, beyond the ${mm(options.freeOutsideMm ?? 0)} that are free outside`
          : `crosses brace ${before.find((x) => x.standing === hit.other)!.brace.id}`;
    judge.say('check.brace-foot', line, b.stationMm, b.footMm, b.id, `Brace ${b.id} on face ${line.face.id} ${what}.`);
  }
};

/** Judges braces; those whose run and face have no forms come back without forces, with a finding. */
export const judgeBraces = (q: BraceQuestion): JudgedBraces => {
  const judge = new BraceJudge(q);
  const { ctx, lines } = q;
  const faces = new Map(
    ctx.plan.faces.flatMap((f) => (f.side === 'left' || f.side === 'right' ? [[f.id, f.side] as const] : [])),
  );
  const checked: CheckedBrace[] = [];
  const braced: BracedFace[] = [];
  const lineOf = new Map<Brace, FormLine>();
  for (const run of ctx.plan.runs) {
    const own = lines.filter((l) => l.run.id === run.id);
    const first = q.braces.find((b) => b.run === run.id && faces.has(b.face));
    const side = first ? faces.get(first.face)! : q.wanted.get(run.id);
    for (const line of own) {
      const here = q.braces
        .filter(
          (b) =>
            b.run === run.id &&
            b.face === line.face.id &&
            b.stationMm >= line.fromMm - SLACK_MM &&
            b.stationMm <= line.toMm + SLACK_MM,
        )
        .sort(byNumber((b) => b.stationMm));
      const weight = weightOf(ctx, line);
      const made = here.map((b) => {
        lineOf.set(b, line);
        judge.shape(line, b);
        const c = judge.forces(line, b, faces, weight);
        judge.overload(line, c);
        return c;
      });
      checked.push(...made);
      if (line.side !== side || isHeldByCorners(line, RULES.shortMm)) continue;
      judge.spacing(line, line.side, faces);
      judge.spacing(line, other(line.side), faces);
      braced.push(...bracedFace(line, made, q.options, q.platformKnmPerM.get(run.id) ?? 0));
    }
  }
  feet(judge, lineOf);
  const lost = q.braces.filter((b) => !lineOf.has(b));
  for (const b of lost)
    judge.findings.push(
      finding(
        'check.brace-head',
        `Brace ${b.id} names run ${b.run} and face ${b.face}, where no forms stand at station ${mm(b.stationMm)}.`,
        { subject: b.id },
      ),
    );
  const order = new Map(q.braces.map((b, i) => [b.id, i]));
  return { braces: checked.sort(byNumber((b) => order.get(b.id)!)), braced, findings: judge.findings };
};

/** Rule T15 held against platforms as they are given, whoever laid them out: floor, brackets, width, guards, ladders, load. */

import { facePoint, wallDirection } from '../../ground/arcs.js';
import { type Finding, finding } from '../../ground/findings.js';
import { dot, leftOf, scale, sub } from '../../ground/plane.js';
import { describeRun, middleOf } from '../../ground/runs.js';
import { FLOOR_OUT_MM } from '../../ground/siteSizes.js';
import { plainNumber } from '../../ground/units.js';
import type { CheckedPlatform, Platform } from '../../ground/vocabulary.js';
import { type FormLine, isHeldByCorners } from '../bracing/formLines.js';
import { RULES, type SiteOptions, SLACK_MM } from '../bracing/options.js';
import { type Context, placeOn } from '../context.js';
import { nearestStretches } from '../nearestStretches.js';
import {
  BRACKETS_MOST_MM,
  bracketLoad,
  FLOOR_BAND_MM,
  floorWeight,
  guardFaults,
  LEAST_WIDTH_MM,
  OVERHANG_MM,
} from './codes.js';
import { bracketJoints, isHigh } from './layOut.js';

/** Two guards meet within this. Common practice, no source. */
const GUARD_GAP_MM = 60;

const mm = (n: number): string => plainNumber(n, 0);
const kn = (n: number): string => plainNumber(n, 2);

export interface JudgedPlatforms {
  readonly platforms: readonly CheckedPlatform[];
  readonly findings: readonly Finding[];
}

class PlatformJudge {
  readonly findings: Finding[] = [];

  constructor(
    readonly ctx: Context,
    readonly options: SiteOptions,
    readonly all: readonly Platform[],
    readonly cleanOuts: ReadonlySet<string>,
  ) {}

  private say(line: FormLine, p: Platform, stationMm: number, words: string): void {
    const at = placeOn(this.ctx, line.run.wall, line.side, stationMm, p.levelMm);
    this.findings.push(
      finding('check.platform', `Platform ${p.id} on face ${p.face}: ${words}.`, { at, subject: p.id }),
    );
  }

  private floor(line: FormLine, p: Platform): void {
    const under = line.pourMm - p.levelMm;
    if (under < FLOOR_BAND_MM[0] - SLACK_MM || under > FLOOR_BAND_MM[1] + SLACK_MM)
      this.say(
        line,
        p,
        p.fromMm,
        `its floor lies ${mm(under)} under the pour line, not ${FLOOR_BAND_MM[0]} to ${FLOOR_BAND_MM[1]}`,
      );
    const least = LEAST_WIDTH_MM[this.options.code];
    if (p.widthMm < least - SLACK_MM)
      this.say(line, p, p.fromMm, `its floor is ${mm(p.widthMm)} wide, less than ${mm(least)}`);
  }

  private brackets(line: FormLine, p: Platform): void {
    const bracket = (this.ctx.catalogue.brackets ?? []).find((b) => b.id === p.item);
    if (!bracket) {
      this.say(line, p, p.fromMm, `the catalogue has no bracket ${p.item}`);
      return;
    }
    const { planks = [] } = this.ctx.catalogue;
    const most = Math.min(
      BRACKETS_MOST_MM,
      bracket.spacingMm,
      ...(planks.length > 0 ? [Math.max(...planks.map((x) => x.spanMm))] : []),
    );
    if (p.brackets.length < 2) this.say(line, p, p.fromMm, 'it has fewer than two brackets');
    for (const [i, s] of p.brackets.slice(1).entries()) {
      const gap = s - p.brackets[i]!;
      if (gap > most + SLACK_MM) this.say(line, p, s, `brackets stand ${mm(gap)} apart, more than ${mm(most)}`);
    }
    const joints = bracketJoints(line, p.levelMm, bracket, this.cleanOuts);
    for (const s of p.brackets)
      if (!joints.some((j) => Math.abs(j - s) <= 1))
        this.say(
          line,
          p,
          s,
          `the bracket at station ${mm(s)} hangs on no joint of two panels (timber, corner units and clean-outs carry none)`,
        );
    const ends = [(p.brackets[0] ?? p.fromMm) - p.fromMm, p.toMm - (p.brackets.at(-1) ?? p.toMm)] as const;
    ends.forEach((over, i) => {
      if (over < OVERHANG_MM[0] - SLACK_MM || over > OVERHANG_MM[1] + SLACK_MM)
        this.say(
          line,
          p,
          i === 0 ? p.fromMm : p.toMm,
          `its floor reaches ${mm(over)} past the last bracket, not ${mm(OVERHANG_MM[0])} to ${mm(OVERHANG_MM[1])}`,
        );
    });
  }

  private guards(line: FormLine, p: Platform): void {
    for (const fault of guardFaults(this.options.code, p.rails)) this.say(line, p, p.fromMm, fault);
    p.endRails.forEach((is, i) => {
      const to = this.all.find((x) => x.id === p.joins[i as 0 | 1]);
      const isJoined = to?.joins.includes(p.id) === true && Math.abs(to.levelMm - p.levelMm) <= 50;
      if (!is && !isJoined)
        this.say(
          line,
          p,
          i === 0 ? p.fromMm : p.toMm,
          `it has no end rail at station ${mm(i === 0 ? p.fromMm : p.toMm)}`,
        );
    });
    this.guardEnds(line, p);
    const reached = new Set<string>();
    const go = (x: Platform | undefined): boolean => {
      if (!x || reached.has(x.id)) return false;
      reached.add(x.id);
      return x.ladderMm !== null || x.joins.some((j) => j !== null && go(this.all.find((y) => y.id === j)));
    };
    if (!go(p)) this.say(line, p, p.fromMm, 'no ladder leads to it, nor to a platform that it joins');
  }

  /** A guard ends with its floor, or over the floor that it joins, where that one's guard goes on. */
  private guardEnds(line: FormLine, p: Platform): void {
    const out = this.ctx.catalogue.frameDepthMm + FLOOR_OUT_MM;
    p.guardMm.forEach((stationMm, i) => {
      if (Math.abs(stationMm - [p.fromMm, p.toMm][i]!) <= 1) return;
      const to = this.all.find((x) => x.id === p.joins[i as 0 | 1]);
      const face = this.ctx.faces.get(to?.face ?? '');
      const wall = this.ctx.walls.get(face?.wall ?? '');
      const at = facePoint(line.wall, line.side, stationMm, out + p.widthMm);
      const isOver = (): boolean => {
        if (!to || !wall || (face?.side !== 'left' && face?.side !== 'right')) return false;
        const along = wallDirection(wall, 0);
        const from = sub(at, facePoint(wall, face.side, 0));
        const outward = scale(leftOf(along), face.side === 'left' ? 1 : -1);
        const [station, away] = [dot(from, along), dot(from, outward)];
        const isAlong = station >= to.guardMm[0] - GUARD_GAP_MM && station <= to.guardMm[1] + GUARD_GAP_MM;
        return isAlong && Math.abs(away - out - to.widthMm) <= GUARD_GAP_MM;
      };
      if (!isOver())
        this.say(line, p, stationMm, `its guard ends at station ${mm(stationMm)}, where no other guard goes on`);
    });
  }

  private load(line: FormLine, p: Platform): CheckedPlatform {
    const { code, platformKpa } = this.options;
    const bracket = (this.ctx.catalogue.brackets ?? []).find((b) => b.id === p.item);
    if (!bracket) return { ...p, bracketKn: 0, mostBracketKn: 0 };
    const stops = p.brackets;
    const shares = nearestStretches(stops, p.fromMm, p.toMm).map(([low, high]) => high - low);
    const widest = Math.max(0, ...shares);
    const worn = { ...bracket, widthMm: p.widthMm };
    const { askedKn } = bracketLoad(code, worn, platformKpa, widest, floorWeight(this.ctx.catalogue.planks ?? []));
    const { mostKn } = bracketLoad(code, bracket, platformKpa, widest);
    if (askedKn > mostKn * (1 + 1e-9)) {
      const s = stops[shares.indexOf(widest)]!;
      const at = placeOn(this.ctx, line.run.wall, line.side, s, p.levelMm);
      const factor = code === 'us' ? 'its own weight and four times the intended load' : 'the intended load';
      const words = `Platform ${p.id}: the bracket at station ${mm(s)} is asked for ${kn(askedKn)} kN (${factor}) and carries ${kn(mostKn)} kN.`;
      this.findings.push(finding('check.platform-overload', words, { at, subject: p.id }));
    }
    return { ...p, bracketKn: askedKn, mostBracketKn: mostKn };
  }

  judge(line: FormLine, p: Platform): CheckedPlatform {
    this.floor(line, p);
    this.brackets(line, p);
    this.guards(line, p);
    return this.load(line, p);
  }
}

/**
 * Forms no longer than the longest floor of two brackets: whether two of their few joints can carry one is chance. Such a wall, mostly one beside a curve or a
 * step, is named as one to be reached otherwise. Common practice, no source.
 */
const isShort = (own: readonly FormLine[]): boolean =>
  own.every((l) => l.toMm - l.fromMm <= BRACKETS_MOST_MM + 2 * OVERHANG_MM[1] + SLACK_MM);

/** Runs that are high enough and have no platform on either side. */
const missing = (
  ctx: Context,
  lines: readonly FormLine[],
  platforms: readonly Platform[],
  options: SiteOptions,
): Finding[] =>
  ctx.plan.runs.flatMap((run) => {
    const own = lines.filter((l) => l.run.id === run.id);
    const isLong = own.some((l) => !isHeldByCorners(l, RULES.shortMm));
    if (!isHigh(run, options) || !isLong || platforms.some((p) => p.run === run.id)) return [];
    const drop = run.topMm - run.footingMm;
    const at = placeOn(ctx, run.wall, null, middleOf(run), run.topMm);
    const what = `${describeRun(run).replace(/^w/, 'W')} is ${mm(drop)} mm high, more than ${mm(options.dropMm)} mm, and has no platform`;
    if (isShort(own)) {
      const longest = Math.max(...own.map((l) => l.toMm - l.fromMm));
      const short = `${what}: its forms, ${mm(longest)} mm long, have no two joints of panels that carry brackets with planks past both.`;
      return [finding('check.platform-short', short, { at, subject: run.wall })];
    }
    const words = `${what}: no two joints of panels in a row carry brackets.`;
    return [finding('check.platform-none', words, { at, subject: run.wall })];
  });

/** Judges platforms. `cleanOuts`: pieces that come out alone and carry no bracket. */
export const judgePlatforms = (
  ctx: Context,
  lines: readonly FormLine[],
  platforms: readonly Platform[],
  options: SiteOptions,
  cleanOuts: ReadonlySet<string>,
): JudgedPlatforms => {
  const judge = new PlatformJudge(ctx, options, platforms, cleanOuts);
  const checked = platforms.map((p): CheckedPlatform => {
    const line = lines.find(
      (l) =>
        l.run.id === p.run && l.face.id === p.face && p.fromMm >= l.fromMm - SLACK_MM && p.toMm <= l.toMm + SLACK_MM,
    );
    if (line) return judge.judge(line, p);
    const words = `Platform ${p.id} stands on face ${p.face} from station ${mm(p.fromMm)} to ${mm(p.toMm)}, where no forms stand all along.`;
    judge.findings.push(finding('check.platform', words, { subject: p.id }));
    return { ...p, bracketKn: 0, mostBracketKn: 0 };
  });
  return { platforms: checked, findings: [...judge.findings, ...missing(ctx, lines, platforms, options)] };
};

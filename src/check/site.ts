/** Aligners, braces and platforms of a layout: laid out, then judged from what they are, and what is told of them as a whole. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { middleOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Aligner, BracedFace, CheckedBrace, CheckedLayout, Clamp, Platform, Run } from '../ground/vocabulary.js';
import { judgePlatforms } from './access/judge.js';
import { bracketOf, isHigh, type LaidPlatforms, layOutPlatforms } from './access/layOut.js';
import { platformOn } from './bracing/braceChoice.js';
import { type FormLine, formLines, heightOf, isHeldByCorners } from './bracing/formLines.js';
import { judgeAligners } from './bracing/judgeAligners.js';
import { judgeBraces } from './bracing/judgeBraces.js';
import { type LaidBracing, layOutBracing } from './bracing/layOut.js';
import { LEAST, RULES, type SiteOptions } from './bracing/options.js';
import { wallSides } from './bracing/sides.js';
import { cleanOutPieces } from './cleanOut.js';
import { type Context, placeOn } from './context.js';
import { cutLines, type GangSpan, gangFindings, gangTubes, layOutGangs } from './gangs/index.js';

type SiteParts = Required<Pick<CheckedLayout, 'aligners' | 'braces' | 'platforms' | 'decks' | 'braced'>> &
  Pick<CheckedLayout, 'gangs'>;

const kn = (n: number): string => plainNumber(n, 2);
const mm = (n: number): string => plainNumber(n, 0);

/** 'a, b and 3 more'. */
const listed = (names: readonly string[], most = 6): string =>
  names.length <= most ? names.join(', ') : `${names.slice(0, most).join(', ')} and ${names.length - most} more`;

/** Curved walls and walls formed on one side get none of this. */
const leftOut = (ctx: Context): Finding[] => {
  const curved = [...new Set(ctx.plan.runs.map((r) => r.wall))].filter((id) => ctx.walls.get(id)?.arc);
  const oneSided = ctx.plan.oneSided ?? [];
  return [
    ...curved.map((wall) => {
      const run = ctx.plan.runs.find((r) => r.wall === wall)!;
      const words = `Wall ${wall} is curved: no aligners, braces and platforms are laid out for it.`;
      return finding('check.site-curved', words, { at: placeOn(ctx, wall, null, middleOf(run)), subject: wall });
    }),
    ...oneSided.map(({ wall, formed, runs }) => {
      const at = runs[0] ? placeOn(ctx, wall, formed, middleOf(runs[0])) : null;
      const words = `Wall ${wall} is formed on one side: no aligners, braces and platforms are laid out for it.`;
      return finding('check.site-one-sided', words, { at, subject: wall });
    }),
  ];
};

/** Walls whose long lines lack something that the yard does not have. */
const gearFindings = (ctx: Context, lines: readonly FormLine[], parts: SiteParts, options: SiteOptions): Finding[] => {
  const { aligners = [], braces = [], brackets = [] } = ctx.catalogue;
  const long = lines.filter((l) => !isHeldByCorners(l, RULES.shortMm));
  const unbraced = [...new Set(long.map((l) => l.run))].filter((r) => !parts.braces.some((b) => b.run === r.id));
  const say = (words: string, at: readonly [number, number, number] | null = null) =>
    finding('check.site-gear', words, { at, subject: 'catalogue' });
  const found: Finding[] = [];
  if (long.length === 0) return found;
  if (aligners.length === 0) found.push(say('The catalogue lists no aligners: none are laid out.'));
  if (braces.length === 0) found.push(say('The catalogue lists no braces: no form is braced in this layout.'));
  if (brackets.length === 0 && long.some((l) => isHigh(l.run, options)))
    found.push(say('The catalogue lists no brackets: no access platforms are laid out.'));
  else if (!bracketOf(ctx, options) && long.some((l) => isHigh(l.run, options)))
    found.push(
      say('No bracket of the catalogue carries a floor as wide as the code asks: no access platforms are laid out.'),
    );
  if (braces.length > 0 && unbraced.length > 0) {
    const heights = [...new Set(unbraced.map((r) => mm(heightOf(long.find((l) => l.run.id === r.id)!))))];
    const { lineKnPerM } = LEAST[options.code];
    const words = `No brace stands along ${listed(unbraced.map((r) => r.id))} (forms ${heights.join(', ')} high): the yard has none for that height, or there is no room. Hold these forms for ${kn(lineKnPerM)} kN per m at their top, either way.`;
    const first = unbraced[0]!;
    found.push(say(words, placeOn(ctx, first.wall, null, middleOf(first), first.topMm)));
  }
  return found;
};

/** What the braces leave to the foot of the forms, once for the job: the worst in numbers, all in the report. */
const baseFinding = (ctx: Context, braced: readonly BracedFace[], braces: readonly CheckedBrace[]): Finding[] => {
  if (braced.length === 0) return [];
  const shear = (f: BracedFace) => Math.max(Math.abs(f.baseWindKnPerM), Math.abs(f.baseLineKnPerM));
  const worst = braced.reduce((a, b) => (shear(b) > shear(a) + 1e-9 ? b : a));
  const lift = braces.reduce<CheckedBrace | null>((a, b) => (b.holdDownKn > (a?.holdDownKn ?? 0) + 1e-9 ? b : a), null);
  const lifted = lift
    ? ` Pushed braces lift it by up to ${kn(lift.holdDownKn)} kN (${lift.id}) beyond 0.9 of its weight: tie it down.`
    : '';
  const run = ctx.runs.get(worst.run);
  const at = run ? placeOn(ctx, run.wall, worst.side, middleOf(run), run.footingMm) : null;
  const words = `Hold the foot of the face that stands first, either way, by a kicker or a pinned sole plate: up to ${kn(shear(worst))} kN per m (face ${worst.face}).${lifted}`;
  return [finding('check.brace-base', words, { at, subject: worst.face })];
};

const loadsFinding = ({ windKpa, windCoefficient, code }: SiteOptions): Finding => {
  const { lineKnPerM, windKpa: least } = LEAST[code];
  const wind =
    windKpa === null
      ? `a wind of ${kn(least)} kPa (no wind is given)`
      : `a wind of ${kn(windKpa)} kPa velocity pressure times ${windCoefficient === null ? 'the net coefficient of a free-standing wall by EN 1991-1-4 (from memory, not confirmed: 1.2, at ends more)' : kn(windCoefficient)}, at least ${kn(least)} kPa`;
  const words = `Braces hold one face that stands alone, either way, against the larger of ${kn(lineKnPerM)} kN per m at its top and ${wind}.`;
  return finding('check.brace-loads', words, {
    subject: 'wind',
    ...(windKpa === null ? { assumed: 'the least of the code governs' } : {}),
  });
};

const spaceFinding = (ctx: Context, braces: readonly CheckedBrace[], { freeOutsideMm }: SiteOptions): Finding[] => {
  if (freeOutsideMm !== null) return [];
  const sides = wallSides(ctx);
  const outside = braces.filter((b) => {
    const run = ctx.runs.get(b.run);
    const side = ctx.faces.get(b.face)?.side;
    return run && (side === 'left' || side === 'right') && sides.isOpen(run, side);
  });
  if (outside.length === 0) return [];
  const far = Math.max(...outside.map((b) => b.footOffsetMm)) + RULES.footHalfMm;
  const words = `Braces outside the walls take up to ${mm(far)} mm of ground from the face of the concrete; where the excavation ends is not known.`;
  return [
    finding('check.brace-space', words, {
      subject: 'access.freeOutsideMm',
      assumed: 'the ground there is free and level with the footing',
    }),
  ];
};

const movedFinding = (ctx: Context, moved: readonly Run[]): Finding[] => {
  const [first] = moved;
  if (!first) return [];
  const words = `Braces have no room on the usual side of ${listed(moved.map((r) => r.id))}: aligned and braced from the other side.`;
  return [
    finding('check.brace-other-side', words, {
      at: placeOn(ctx, first.wall, null, middleOf(first)),
      subject: first.wall,
    }),
  ];
};

const cornerFinding = (ctx: Context, { corners, platforms, decks }: LaidPlatforms): Finding[] => {
  const [first] = corners;
  if (!first) return [];
  const pairs = corners.map(({ platforms: [a, b] }) => `${a} and ${b}`);
  const p = platforms.find((x) => x.id === first.platforms[0]);
  const face = ctx.faces.get(p?.face ?? '');
  const side = face?.side === 'left' || face?.side === 'right' ? face.side : null;
  const at =
    face && p ? placeOn(ctx, face.wall, side, p.joins[0] === first.platforms[1] ? p.fromMm : p.toMm, p.levelMm) : null;
  const sizes = decks.map((d) => `${d.id} ${d.sizeMm.map(mm).join(' x ')} mm`);
  const hole =
    sizes.length > 0
      ? `Holes between them and the forms are closed by decks of planks battened together and fixed against sliding (${listed(sizes)})`
      : 'No hole stays open between them';
  const words = `The floors of platforms ${listed(pairs)} meet in inner corners, the second laid on the first; their guards end where they meet. ${hole}.`;
  return [finding('check.platform-corner', words, { at, subject: first.platforms[0] })];
};

interface LaidSite {
  /** Of aligners and braces: cut where gangs end. */
  readonly lines: readonly FormLine[];
  readonly bracing: LaidBracing;
  readonly floors: LaidPlatforms;
  readonly cleanOuts: ReadonlySet<string>;
  /** What gangs are lifted with. */
  readonly aligners: readonly Aligner[];
  readonly platforms: readonly Platform[];
  readonly clamps: readonly Clamp[];
}

/** Lays it out; gangs get rows of aligners of their own, on both faces. */
const laidOut = (
  ctx: Context,
  whole: readonly FormLine[],
  options: SiteOptions,
  clamps: readonly Clamp[],
  spans: readonly GangSpan[],
): LaidSite => {
  const lines = cutLines(whole, spans);
  const bracing = layOutBracing(ctx, lines, options, bracketOf(ctx, options)?.widthMm ?? 0, whole);
  const cleanOuts = cleanOutPieces(ctx);
  const floors = layOutPlatforms(ctx, whole, bracing.sideOf, options, cleanOuts);
  const aligners = [...bracing.aligners, ...gangTubes(ctx, lines, spans, bracing.aligners)];
  return { lines, bracing, floors, cleanOuts, aligners, platforms: floors.platforms, clamps };
};

/**
 * Lays out and judges all of it; `clamps`: those of the layout, which gangs are lifted with. Lists in the order of the runs, then left before right, by level
 * and station.
 */
export const siteOf = (ctx: Context, options: SiteOptions, clamps: readonly Clamp[] = []): Staged<SiteParts> => {
  const whole = formLines(ctx);
  const plain = laidOut(ctx, whole, options, clamps, []);
  const ganged = options.gangs
    ? layOutGangs(ctx, whole, plain, options.gangs, (spans) => laidOut(ctx, whole, options, clamps, spans))
    : null;
  const { lines, bracing: laid, floors, cleanOuts, aligners } = ganged?.laid ?? plain;
  const platforms = judgePlatforms(ctx, whole, floors.platforms, options, cleanOuts);
  const platformKnmPerM = new Map(floors.platforms.map((p) => [p.run, platformOn(p.widthMm, options)]));
  const braces = judgeBraces({
    ctx,
    lines,
    aligners: laid.aligners,
    braces: laid.braces,
    options,
    platformKnmPerM,
    wanted: laid.sideOf,
  });
  const value: SiteParts = {
    aligners,
    braces: braces.braces,
    platforms: platforms.platforms,
    decks: floors.decks,
    braced: braces.braced,
    ...(ganged ? { gangs: ganged.gangs } : {}),
  };
  const { aligners: tubes = [], braces: props = [], brackets = [] } = ctx.catalogue;
  // What the yard lacks is said once, not at every face.
  const has = (f: Finding) => !(/^check\.platform-(none|short)$/.test(f.code) && brackets.length === 0);
  const findings = [
    ...leftOut(ctx),
    ...gearFindings(ctx, lines, value, options),
    ...(tubes.length > 0 ? judgeAligners(ctx, lines, laid.aligners, laid.braces, laid.sideOf, whole) : []),
    ...(props.length > 0
      ? braces.findings.filter((f) => !(f.code === 'check.brace-one-way' && isUnserved(f, value)))
      : []),
    ...platforms.findings.filter(has),
    ...(braces.braces.length > 0 ? [loadsFinding(options)] : []),
    ...baseFinding(ctx, braces.braced, braces.braces),
    ...spaceFinding(ctx, braces.braces, options),
    ...movedFinding(ctx, laid.moved),
    ...cornerFinding(ctx, floors),
    ...(ganged && options.gangs ? gangFindings(ctx, whole, ganged.gangs, ganged.laid, options.gangs) : []),
  ];
  return { value, findings };
};

/** A face without any brace is told among what the yard lacks. */
const isUnserved = (f: Finding, { braces }: SiteParts): boolean => !braces.some((b) => b.face === f.subject);

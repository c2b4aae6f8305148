/** Lays out aligners and braces (rules T13, T14), run by run. What comes of it is judged apart from here, from aligners and braces alone. */

import type { Aligner, AlignerItem, Brace, Run, Side, SmallPart } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';
import { alignerRows } from './alignerRows.js';
import { type BraceChoice, braceChoices, platformOn } from './braceChoice.js';
import { choosePlaces } from './choosePlaces.js';
import { type FormLine, isHeldByCorners, jointsAt, tieLevels, tieStations } from './formLines.js';
import { type FreeSpace, freeSpace, type Standing, standingOn } from './freeSpace.js';
import { RULES, type SiteOptions } from './options.js';
import { other, sideFor, wallSides } from './sides.js';
import { splicesOf, type Tube, tubesFor } from './tubes.js';
import { uprightsFor } from './uprights.js';

export interface LaidBracing {
  readonly aligners: readonly Aligner[];
  readonly braces: readonly Brace[];
  /** Side of the horizontal aligners and the braces, by run id. */
  readonly sideOf: ReadonlyMap<string, Side>;
  /** Runs that took the other side than is usual, since braces had no room there. */
  readonly moved: readonly Run[];
}

export type Unnamed<T> = Omit<T, 'id'>;

interface LaidRun {
  readonly aligners: readonly Unnamed<Aligner>[];
  readonly braces: readonly Unnamed<Brace>[];
  readonly standing: readonly Standing[];
  /** Nothing had to give way. */
  readonly isWhole: boolean;
}

interface Site {
  readonly ctx: Context;
  readonly options: SiteOptions;
  readonly space: FreeSpace;
  /** Braces of the runs before. */
  readonly standing: readonly Standing[];
  readonly isOutside: (run: Run, side: Side) => boolean;
  readonly platformKnmPerM: number;
}

const partsOf = ({ fixing, lengthMm }: AlignerItem): SmallPart[] =>
  fixing ? [{ item: fixing.id, kind: 'fixing', count: Math.ceil(lengthMm / fixing.spacingMm - 1e-6) + 1 }] : [];

export const alignerOf = (line: FormLine, levelMm: number, { item, fromMm, toMm }: Tube): Unnamed<Aligner> => ({
  item: item.id,
  kind: 'horizontal',
  face: line.face.id,
  run: line.run.id,
  fromMm,
  toMm,
  levelMm,
  parts: partsOf(item),
});

const uprights = ({ ctx }: Site, line: FormLine): Unnamed<Aligner>[] =>
  uprightsFor(line, tieStations(ctx, line.run.id), ctx.catalogue).map((u) => ({
    item: u.item.id,
    kind: 'vertical',
    face: line.face.id,
    run: line.run.id,
    fromMm: u.stationMm,
    toMm: u.stationMm,
    levelMm: u.lowMm,
    topMm: u.highMm,
    parts: partsOf(u.item),
  }));

/** Stretches of a line that strips part, each with braces of its own; what only a corner unit makes up goes with the stretch beside it. */
const betweenStrips = (line: FormLine): (readonly [number, number])[] => {
  const strips = line.covers.filter(({ piece }) => piece.kind === 'strip').map(({ cover }) => cover);
  const cuts = [...new Set(strips.map((c) => (c.fromMm + c.toMm) / 2))].filter(
    (s) => Math.min(s - line.fromMm, line.toMm - s) > RULES.shortMm / 2,
  );
  const edges = [line.fromMm, ...cuts.sort((a, b) => a - b), line.toMm];
  return edges.slice(1).map((to, i) => [edges[i]!, to] as const);
};

const STEP_MM = 50;
/** Wider spacings and distances from the ends that are tried where there is no room for the rule's; that is then a finding. */
const LOOSER = [1.25, 1.5, 2];

interface LaidBraces {
  readonly braces: readonly Unnamed<Brace>[];
  readonly standing: readonly Standing[];
  readonly isWhole: boolean;
}

const NO_BRACES: LaidBraces = { braces: [], standing: [], isWhole: false };

/** Braces along one line, heads on the row at `headMm` whose tubes these are. */
const bracesAlong = (site: Site, line: FormLine, headMm: number, tubes: readonly Tube[]): LaidBraces => {
  const { ctx, options, space, platformKnmPerM } = site;
  const { frameDepthMm } = ctx.catalogue;
  const choices = braceChoices(line, headMm, ctx.catalogue, options, platformKnmPerM);
  const first = choices.find((c) => c.widthMostMm >= RULES.braceEndMm) ?? choices[0];
  if (!first) return NO_BRACES;
  const mostMm = Math.min(RULES.braceSpacingMm, first.widthMostMm);
  const strong = choices.filter((c) => c.widthMostMm >= mostMm);
  const isOutside = site.isOutside(line.run, line.side);
  const edges = [line.fromMm, ...jointsAt(line, headMm), line.toMm];
  const splices = splicesOf(line, headMm, tubes, tubes[0]?.item.lapMm ?? 0);
  const bays = edges.slice(1).map((to, i) => [edges[i]!, to] as const);
  const spliced = bays.filter(([a, b]) => splices.some(({ atMm }) => atMm >= a && atMm <= b));
  const strips = line.covers.filter(({ piece }) => piece.kind === 'strip').map(({ cover }) => cover);
  const isOnStrip = (s: number) =>
    strips.some((c) => s >= c.fromMm - RULES.footHalfMm && s <= c.toMm + RULES.footHalfMm);
  const isOnTube = (s: number) => tubes.some((t) => s >= t.fromMm && s <= t.toMm);
  const isBesideSplice = (s: number) => spliced.some(([a, b]) => s > a && s < b);
  const standingAt = (s: number, c: BraceChoice): Standing =>
    standingOn(line, { stationMm: s, headMm, footMm: line.groundMm, footOffsetMm: c.footOffsetMm }, frameDepthMm);
  const fits = (s: number, among: readonly BraceChoice[]): BraceChoice | undefined =>
    among.find((c) => space.inTheWay(standingAt(s, c), site.standing, isOutside) === null);
  // All alike where there is room, else some steeper, else some flatter.
  const best = strong[0] ?? first;
  const tiers = [[best], strong.filter((c) => c.footOffsetMm <= best.footOffsetMm), strong];
  const tries = [...tiers.map((among) => ({ among, share: 1 })), ...LOOSER.map((share) => ({ among: strong, share }))];
  let isWhole = true;
  const chosen = betweenStrips(line).flatMap(([fromMm, toMm]) => {
    for (const { among, share } of tries) {
      const found = choosePlaces({
        fromMm,
        toMm,
        endMostMm: share * Math.min(RULES.braceEndMm, mostMm / 2),
        endLeastMm: [0, 0],
        spacingMostMm: share * mostMm,
        stepMm: STEP_MM,
        isAllowed: (s) => isOnTube(s) && !isOnStrip(s) && !isBesideSplice(s) && fits(s, among) !== undefined,
      });
      if (found) {
        if (share > 1) isWhole = false;
        return found.map((s) => ({ s, c: fits(s, among)! }));
      }
    }
    isWhole = false;
    return [];
  });
  return {
    isWhole,
    standing: chosen.map(({ s, c }) => standingAt(s, c)),
    braces: chosen.map(({ s, c }) => ({
      item: c.item.id,
      face: line.face.id,
      run: line.run.id,
      stationMm: s,
      headMm,
      footMm: line.groundMm,
      footOffsetMm: c.footOffsetMm,
    })),
  };
};

const lineOf = (site: Site, line: FormLine): LaidRun => {
  const { ctx } = site;
  const rows = alignerRows(line, tieLevels(ctx, line.run.id), ctx.catalogue);
  const lying = (ctx.catalogue.aligners ?? []).filter((a) => a.stands !== 'vertical');
  const laid = rows.levelsMm.map((levelMm) => ({
    levelMm,
    tubes: tubesFor(line, levelMm, lying, ctx.catalogue.frameDepthMm) ?? [],
  }));
  const head = laid.find((row) => row.levelMm === rows.headMm);
  const braced = head && rows.headMm !== null ? bracesAlong(site, line, rows.headMm, head.tubes) : NO_BRACES;
  return {
    aligners: laid.flatMap(({ levelMm, tubes }) => tubes.map((t) => alignerOf(line, levelMm, t))),
    braces: braced.braces,
    standing: braced.standing,
    isWhole: braced.isWhole && laid.every((row) => row.tubes.length > 0),
  };
};

/** A run with its braces on one side: lines of that side, then the uprights of the other, which do not heed where gangs end. */
const runOn = (site: Site, lines: readonly FormLine[], whole: readonly FormLine[], side: Side): LaidRun => {
  let standing: Standing[] = [];
  const made = lines
    .filter((l) => l.side === side && !isHeldByCorners(l, RULES.shortMm))
    .map((line) => {
      const one = lineOf({ ...site, standing: [...site.standing, ...standing] }, line);
      standing = [...standing, ...one.standing];
      return one;
    });
  const upright = whole.filter((l) => l.side !== side).flatMap((line) => uprights(site, line));
  return {
    aligners: [...made.flatMap((m) => m.aligners), ...upright],
    braces: made.flatMap((m) => m.braces),
    standing,
    isWhole: made.every((m) => m.isWhole),
  };
};

const named = <T>(prefix: string, items: readonly Unnamed<T & { readonly id: string }>[]): T[] =>
  items.map((item, i) => ({ id: `${prefix}${i + 1}`, ...item }) as T);

/** Lays out all runs that have forms, in the order of the plan. `whole`: the lines before they are cut where gangs end. */
export const layOutBracing = (
  ctx: Context,
  lines: readonly FormLine[],
  options: SiteOptions,
  platformWidthMm: number,
  whole: readonly FormLine[] = lines,
): LaidBracing => {
  const sides = wallSides(ctx);
  const space = freeSpace(ctx, options.freeOutsideMm);
  const aligners: Unnamed<Aligner>[] = [];
  const braces: Unnamed<Brace>[] = [];
  const sideOf = new Map<string, Side>();
  const moved: Run[] = [];
  let standing: readonly Standing[] = [];
  for (const run of ctx.plan.runs) {
    const own = lines.filter((l) => l.run.id === run.id);
    const uncut = whole.filter((l) => l.run.id === run.id);
    if (own.length === 0) continue;
    const site: Site = {
      ctx,
      options,
      space,
      standing,
      isOutside: sides.isOpen,
      platformKnmPerM: run.topMm - run.footingMm > options.dropMm ? platformOn(platformWidthMm, options) : 0,
    };
    const wanted = sideFor(sides, run, options.aligners ?? 'outside');
    let side = wanted;
    let laid = runOn(site, own, uncut, wanted);
    if (!laid.isWhole && options.aligners === null && (ctx.catalogue.braces ?? []).length > 0) {
      const across = runOn(site, own, uncut, other(wanted));
      if (across.isWhole) {
        laid = across;
        side = other(wanted);
        moved.push(run);
      }
    }
    sideOf.set(run.id, side);
    aligners.push(...laid.aligners);
    braces.push(...laid.braces);
    standing = [...standing, ...laid.standing];
  }
  return { aligners: named('AL', aligners), braces: named('BR', braces), sideOf, moved };
};

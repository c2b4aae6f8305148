/** Gangs as they are lifted: tubes over their joints where the aligners of the layout lie on the other face, mass, centre of gravity, lift points. */

import type { Aligner, Gang } from '../../ground/vocabulary.js';
import { alignerRows } from '../bracing/alignerRows.js';
import { type FormLine, tieLevels } from '../bracing/formLines.js';
import { alignerOf } from '../bracing/layOut.js';
import { tubesFor } from '../bracing/tubes.js';
import type { Context } from '../context.js';
import { bracketFor, type GangSpan, innerJoints } from './choose.js';
import { liftOf } from './lift.js';
import type { GangOptions } from './options.js';
import { alignersOn, centreOf, type Hanging, kgOf, weightsOf } from './weights.js';

/** Tubes on lines with gangs on which no aligner lies: the same rows as on the other face. Named on from the aligners that there are. */
export const gangTubes = (
  ctx: Context,
  cut: readonly FormLine[],
  spans: readonly GangSpan[],
  aligners: readonly Aligner[],
): Aligner[] => {
  const lying = (ctx.catalogue.aligners ?? []).filter((a) => a.stands !== 'vertical');
  const bare = cut.filter(
    (line) =>
      spans.some((s) => s.face === line.face.id && s.fromMm >= line.fromMm - 1 && s.toMm <= line.toMm + 1) &&
      !aligners.some(
        (a) => a.kind === 'horizontal' && a.face === line.face.id && a.toMm > line.fromMm && a.fromMm < line.toMm,
      ),
  );
  const tubes = bare.flatMap((line) =>
    alignerRows(line, tieLevels(ctx, line.run.id), ctx.catalogue).levelsMm.flatMap((levelMm) =>
      (tubesFor(line, levelMm, lying, ctx.catalogue.frameDepthMm) ?? []).map((t) => alignerOf(line, levelMm, t)),
    ),
  );
  return tubes.map((t, i) => ({ id: `AL${aligners.length + i + 1}`, ...t }));
};

const gangOf = (ctx: Context, span: GangSpan, hanging: Hanging, options: GangOptions): Omit<Gang, 'id'> | null => {
  const { face, run, fromMm, toMm, blocks } = span;
  const pieces = blocks.flatMap((b) => b.pieces);
  const weights = weightsOf(ctx, span, pieces, hanging);
  const lengthMm = toMm - fromMm;
  const centreMm = centreOf(weights);
  const joints = innerJoints(blocks);
  const lift = (kg: number) => liftOf(kg, centreMm[0], joints, lengthMm, options.legAngleDeg);
  const bare = lift(kgOf(weights));
  if (!bare) return null;
  // Lifting brackets sit as good as symmetrically: they add to the mass and leave its centre where it is.
  const { liftingBrackets = [] } = ctx.catalogue;
  const bracket = bracketFor(liftingBrackets, Math.max(...bare.legs.map((l) => l.forceKn)));
  const massKg = kgOf(weights) + 2 * (bracket?.massKg ?? 0);
  const { legs, hookMm } = lift(massKg)!;
  const ids = new Set(pieces.map((p) => p.id));
  return {
    face,
    run,
    fromMm,
    toMm,
    baseMm: blocks[0]!.baseMm,
    topMm: blocks[0]!.topMm,
    pieces: pieces.map((p) => p.id),
    aligners: alignersOn(span, hanging.aligners).map((a) => a.id),
    ties: (ctx.ties.get(run) ?? []).filter((t) => t.pieces.some((id) => ids.has(id))).length,
    massKg,
    unitsKg: kgOf(weights, 'unit'),
    clampsKg: kgOf(weights, 'clamp'),
    alignersKg: kgOf(weights, 'aligner'),
    platformsKg: kgOf(weights, 'platform'),
    centreMm,
    bracket: bracket?.id ?? null,
    legs,
    hookMm,
  };
};

/** The gangs of these stretches, by run, face and station. One whose aligners leave it without lift points is none. */
export const gangsOf = (ctx: Context, spans: readonly GangSpan[], hanging: Hanging, options: GangOptions): Gang[] =>
  spans
    .flatMap((span) => gangOf(ctx, span, hanging, options) ?? [])
    .map((gang, i): Gang => ({ id: `G${i + 1}`, ...gang }));

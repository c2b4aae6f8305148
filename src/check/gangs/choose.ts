/**
 * Which stretches of a line become gangs: as few units left to be set one by one as can be, then as few lifts, then lengths as even as can be. Shortest path
 * over the joints. Masses of aligners are those of the whole rows, evenly spread, since their lengths are chosen afterwards.
 */

import type { LiftingBracketItem } from '../../ground/vocabulary.js';
import { type FormLine, heightOf } from '../bracing/formLines.js';
import { rowsAtLeast } from '../bracing/options.js';
import type { Context } from '../context.js';
import { type Block, blocksOf, isCommon } from './blocks.js';
import { liftOf } from './lift.js';
import { GANG_RULES, type GangOptions } from './options.js';
import { centreOf, type Hanging, kgOf, type Stretch, weightsOf } from './weights.js';

export interface GangSpan extends Stretch {
  readonly blocks: readonly Block[];
}

/** The heaviest row of aligners that the yard can lay, kg per mm, its fixings included. */
const rowKgPerMm = (ctx: Context): number =>
  Math.max(
    0,
    ...(ctx.catalogue.aligners ?? [])
      .filter((a) => a.stands !== 'vertical')
      .map((a) => a.massKg / a.lengthMm + (a.fixing ? (2 * a.fixing.massKg) / a.fixing.spacingMm : 0)),
  );

/** The lightest lifting bracket that carries a leg; null: none does. */
export const bracketFor = (brackets: readonly LiftingBracketItem[], legKn: number): LiftingBracketItem | null =>
  [...brackets]
    .filter((b) => b.workingLoadKn >= legKn - 1e-9)
    .sort((a, b) => a.massKg - b.massKg || (a.id < b.id ? -1 : 1))[0] ?? null;

/** Joints between a gang's units that reach from its foot to its top. */
export const innerJoints = (blocks: readonly Block[]): number[] => blocks.slice(1).map((b) => b.fromMm);

interface Cost {
  readonly handSet: number;
  readonly lifts: number;
  readonly uneven: number;
  readonly spans: readonly GangSpan[];
}

const isLess = (a: Cost, b: Cost): boolean =>
  a.handSet !== b.handSet ? a.handSet < b.handSet : a.lifts !== b.lifts ? a.lifts < b.lifts : a.uneven < b.uneven - 1;

class Chooser {
  readonly #rows: number;

  constructor(
    readonly ctx: Context,
    readonly line: FormLine,
    readonly hanging: Hanging,
    readonly options: GangOptions,
  ) {
    this.#rows = rowsAtLeast(heightOf(line)) * rowKgPerMm(ctx);
  }

  /** The blocks as a gang; null where they are none. */
  gang(blocks: readonly Block[]): GangSpan | null {
    const { ctx, line, options } = this;
    const [first, last] = [blocks[0]!, blocks[blocks.length - 1]!];
    const lengthMm = last.toMm - first.fromMm;
    if (lengthMm > options.longestMm || ![first.fromMm, last.toMm].every((s) => isCommon(ctx, line, s))) return null;
    const span = {
      face: line.face.id,
      run: line.run.id,
      fromMm: first.fromMm,
      toMm: last.toMm,
      blocks,
    };
    const weights = weightsOf(
      ctx,
      span,
      blocks.flatMap((b) => b.pieces),
      this.hanging,
    );
    const kg = kgOf(weights) + lengthMm * this.#rows;
    const { liftingBrackets = [] } = ctx.catalogue;
    const gearKg = 2 * Math.max(0, ...liftingBrackets.map((b) => b.massKg));
    if (kg + gearKg > options.craneKg) return null;
    const lift = liftOf(kg, centreOf(weights)[0], innerJoints(blocks), lengthMm, options.legAngleDeg);
    if (!lift) return null;
    const legKn = Math.max(...lift.legs.map((l) => l.forceKn));
    return liftingBrackets.length === 0 || bracketFor(liftingBrackets, legKn) ? span : null;
  }

  /** The best way to lift blocks that all may be lifted and stand on one level. */
  among(blocks: readonly Block[]): Cost {
    const best: Cost[] = [{ handSet: 0, lifts: 0, uneven: 0, spans: [] }];
    for (let end = 1; end <= blocks.length; end++) {
      const before = best[end - 1]!;
      let least: Cost = { ...before, handSet: before.handSet + blocks[end - 1]!.pieces.length };
      for (let start = end - GANG_RULES.leastBlocks; start >= 0; start--) {
        const lengthMm = blocks[end - 1]!.toMm - blocks[start]!.fromMm;
        if (lengthMm > this.options.longestMm) break;
        const from = best[start]!;
        if (from.handSet > least.handSet) continue;
        const span = this.gang(blocks.slice(start, end));
        if (!span) continue;
        const cost: Cost = {
          handSet: from.handSet,
          lifts: from.lifts + 1,
          uneven: from.uneven + lengthMm ** 2,
          spans: [...from.spans, span],
        };
        if (isLess(cost, least)) least = cost;
      }
      best.push(least);
    }
    return best[blocks.length]!;
  }
}

const SAME_MM = 1;

/** Neighbours that may be lifted together: on one level, up to one level. */
const liftableStretches = (blocks: readonly Block[]): Block[][] => {
  const stretches: Block[][] = [];
  let before: Block | null = null;
  for (const block of blocks) {
    const goesOn =
      before?.isLiftable === true &&
      Math.abs(before.toMm - block.fromMm) <= SAME_MM &&
      Math.abs(before.baseMm - block.baseMm) <= SAME_MM &&
      Math.abs(before.topMm - block.topMm) <= SAME_MM;
    if (block.isLiftable && goesOn) stretches[stretches.length - 1]!.push(block);
    else if (block.isLiftable) stretches.push([block]);
    before = block;
  }
  return stretches;
};

/** The gangs of a line, by station. `hanging`: clamps and platforms as they stand; aligners are estimated. */
export const chooseGangs = (ctx: Context, line: FormLine, hanging: Hanging, options: GangOptions): GangSpan[] => {
  const chooser = new Chooser(ctx, line, { ...hanging, aligners: [] }, options);
  return liftableStretches(blocksOf(line)).flatMap((blocks) => [...chooser.among(blocks).spans]);
};

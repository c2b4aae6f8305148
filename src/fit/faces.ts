/** The chains of a zone on both faces, all set together: that of all concrete, and beside openings one of each tie row that counts there (opened.ts). */

import {
  type ChainLimits,
  type ChainState,
  coarsen,
  covers,
  type StripLoad,
  setGroup,
  setLeaning,
  stripLoad,
} from './chain.js';
import { closes, statesAt } from './endPair.js';
import type { TiedGroup } from './groups.js';
import type { ZoneEnd, ZoneProblem } from './zone.js';

/** Left and right face: of the chain under all concrete, then of each row chain. */
export type Faces = readonly ChainState[];

/** A chain of the same forms under loads of its own, in which some ties are limited: of one tie row beside openings (opened.ts). */
export interface RowChain {
  /** Load of a grid unit of full concrete, and of what stands beyond the ends. */
  readonly perGu: number;
  readonly load: (fromGu: number, lengthGu: number, loadFrom: number, loadTo: number) => StripLoad;
  /** Limits of a group with ties at these distances from here, up (1) or down (-1) the run; and of those beyond the ends. */
  readonly limitsAt: (fromGu: number, tiesGu: readonly number[], d: 1 | -1) => ChainLimits;
  readonly limits: ChainLimits;
}

/** The chains of both faces at the first joint, and of those that are set together. */
export const begun = (problem: ZoneProblem): Faces | null => {
  const { start, rowChains } = problem;
  const plain = statesAt(start, problem.limits, false);
  if (!plain || rowChains.length === 0) return plain;
  const rest = rowChains.map((c) => statesAt(scaled(start, c), c.limits, false, c.perGu));
  return rest.every((r) => r !== null) ? [...plain, ...rest.flat()] : null;
};

/** An end as a row chain meets it: its shears in that chain's measure. */
export const scaled = (end: ZoneEnd, { perGu }: RowChain): ZoneEnd =>
  perGu === 1 ? end : { ...end, v: [end.v[0] * perGu, end.v[1] * perGu] };

/** Sets a group, or timber, on both faces in all chains; null where it does not stand in one of them. `leans`: as of its arc. */
export const setFaces = (
  problem: ZoneProblem,
  faces: Faces,
  fromGu: number,
  lengthGu: number,
  tied: TiedGroup | null,
  leans: boolean,
): Faces | null => {
  // How far the right neighbour gives way is not known yet.
  if (leans && problem.followsTips) return null;
  const ties = tied?.tiesGu ?? NO_TIES;
  const after: ChainState[] = [];
  for (let i = 0; i < faces.length; i += 2) {
    const row = i === 0 ? null : problem.rowChains[i / 2 - 1]!;
    const load = row
      ? row.load(fromGu, lengthGu, problem.loadFrom, problem.loadTo)
      : stripLoad(fromGu, lengthGu, problem.loadFrom, problem.loadTo);
    const limits = row ? row.limitsAt(fromGu, ties, 1) : tied ? problem.limitsAt(fromGu, tied) : problem.limits;
    const set = (face: ChainState) =>
      leans
        ? setLeaning(face, lengthGu, load, ties, limits)
        : setGroup(face, lengthGu, load, ties, limits, problem.followsTips);
    const left = set(faces[i]!);
    if (!left) return null;
    // Faces that begin alike stay alike: they carry the same groups.
    const right = faces[i + 1] === faces[i] ? left : set(faces[i + 1]!);
    if (!right || right.kind !== left.kind) return null;
    after.push(left, right);
  }
  return after;
};

const NO_TIES: readonly number[] = [];

export const closesAll = (problem: ZoneProblem, faces: Faces, end: ZoneEnd): boolean => {
  for (let i = 0; i < faces.length; i += 2) {
    const row = i === 0 ? null : problem.rowChains[i / 2 - 1]!;
    const pair = [faces[i]!, faces[i + 1]!] as const;
    if (!(row ? closes(pair, scaled(end, row), row.limits, row.perGu) : closes(pair, end, problem.limits)))
      return false;
  }
  return true;
};

export const coarsened = (exact: Faces, grain: number): Faces => {
  const faces: ChainState[] = [];
  for (let i = 0; i < exact.length; i += 2) {
    const left = coarsen(exact[i]!, grain);
    faces.push(left, exact[i + 1] === exact[i] ? left : coarsen(exact[i + 1]!, grain));
  }
  return faces;
};

export const coversAll = (a: Faces, b: Faces): boolean => a.every((f, i) => covers(f, b[i]!));

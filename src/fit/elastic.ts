/**
 * Where a stretch has more ties than its hinged groups need, their forces are not settled by statics. The search takes any split that holds; a layout is
 * only as good as the split that equal ties make, which is worked out here.
 *
 * Method: groups are straight between their joints, so the deflections of the joints are the unknowns; a tie is a spring of stiffness 1, and couples the
 * two joints of its group. The matrix is tridiagonal and positive definite where the chain stands (Thomas's elimination). Forces as strips.
 */

import { type StripLoad, stripLoad } from './chain.js';
import type { PlacedGroup, ZoneAnswer, ZoneProblem } from './zone.js';

/** A group of a chain, its ties from its lower edge. */
interface Link {
  readonly fromGu: number;
  readonly lengthGu: number;
  readonly tiesGu: readonly number[];
}

/** A tie of a stretch: its group, and where it stands in it as a share of the group's length. */
interface Spring {
  readonly group: number;
  readonly share: number;
}

/** Solves a tridiagonal system with a symmetric matrix; the right side is used up. */
const solveTridiagonal = (diagonal: number[], beside: readonly number[], right: number[]): number[] => {
  for (let i = 1; i < right.length; i++) {
    const factor = beside[i - 1]! / diagonal[i - 1]!;
    diagonal[i] = diagonal[i]! - factor * beside[i - 1]!;
    right[i] = right[i]! - factor * right[i - 1]!;
  }
  for (let i = right.length - 1; i >= 0; i--)
    right[i] = (right[i]! - (i + 1 < right.length ? beside[i]! * right[i + 1]! : 0)) / diagonal[i]!;
  return right;
};

const springsOf = (links: readonly Link[]): Spring[] =>
  links.flatMap(({ lengthGu, tiesGu }, group) => tiesGu.map((t) => ({ group, share: t / lengthGu })));

/** What presses on a group. */
type LoadOf = (fromGu: number, lengthGu: number) => StripLoad;

/** Reactions of the ties of one face, in their order. */
const reactions = (
  links: readonly Link[],
  springs: readonly Spring[],
  vStart: number,
  vEnd: number,
  loads: readonly StripLoad[],
): number[] => {
  const joints = links.length + 1;
  const diagonal = new Array<number>(joints).fill(0);
  const beside = new Array<number>(joints - 1).fill(0);
  const load = new Array<number>(joints).fill(0);
  links.forEach(({ lengthGu }, i) => {
    const { size, moment } = loads[i]!;
    load[i] = load[i]! + size - moment / lengthGu;
    load[i + 1] = load[i + 1]! + moment / lengthGu;
  });
  load[0] = load[0]! + vStart;
  load[joints - 1] = load[joints - 1]! + vEnd;
  for (const { group, share } of springs) {
    diagonal[group] = diagonal[group]! + (1 - share) ** 2;
    diagonal[group + 1] = diagonal[group + 1]! + share ** 2;
    beside[group] = beside[group]! + share * (1 - share);
  }
  const u = solveTridiagonal(diagonal, beside, load);
  return springs.map(({ group, share }) => (1 - share) * u[group]! + share * u[group + 1]!);
};

/** Ties of a stretch and of the pairs at its ends, with what each takes on one face under a load of its own, as strips. */
export const chainReactions = (
  problem: ZoneProblem,
  answer: ZoneAnswer,
  face: 0 | 1,
  loadOf: LoadOf,
): { readonly stationGu: number; readonly strip: number }[] => {
  const links = chainOf(problem, answer, face);
  const loads = links.map((l) => loadOf(l.fromGu, l.lengthGu));
  const found = reactions(links, springsOf(links), problem.start.v[face], answer.end.v[face], loads);
  return links
    .flatMap(({ fromGu, tiesGu }) => tiesGu.map((t) => fromGu + t))
    .map((stationGu, i) => ({ stationGu, strip: found[i]! }));
};

/** Less than this beyond a limit, in grid units, is rounding. */
const SLACK = 1e-6;

/** The chain of one face, with the groups of pairs at its ends. */
const chainOf = ({ start }: ZoneProblem, answer: ZoneAnswer, face: 0 | 1): Link[] => {
  const [low, high] = [start.pair?.[face], answer.end.pair?.[face]];
  return [
    ...(low ? [{ fromGu: start.jointGu - low.lengthGu, lengthGu: low.lengthGu, tiesGu: [low.tieGu] }] : []),
    ...answer.placed.map(({ fromGu, lengthGu, tied }) => ({ fromGu, lengthGu, tiesGu: tied?.tiesGu ?? [] })),
    ...(high ? [{ fromGu: answer.end.jointGu, lengthGu: high.lengthGu, tiesGu: [high.tieGu] }] : []),
  ];
};

/**
 * Does the split that equal ties make keep every tie between nothing and its limit, and what hangs on tips within what panels carry? Always so for a stretch
 * with no tie too many, whose forces the search knows exactly.
 */
export const holdsElastically = (problem: ZoneProblem, answer: ZoneAnswer): boolean => {
  const { start, loadFrom, loadTo } = problem;
  const { end, placed } = answer;
  return ([0, 1] as const).every((face) => {
    const links = chainOf(problem, answer, face);
    const springs = springsOf(links);
    if (springs.length <= links.length + 1) return true;
    const first = start.pair ? 1 : 0;
    const most = links.map((_, i) => {
      const p = placed[i - first];
      return p?.tied ? problem.limitsAt(p.fromGu, p.tied).mostGu : problem.limits.mostGu;
    });
    const loads = links.map((l) => stripLoad(l.fromGu, l.lengthGu, loadFrom, loadTo));
    const found = reactions(links, springs, start.v[face], end.v[face], loads);
    if (found.some((r, i) => r < -SLACK || r > most[springs[i]!.group]! + SLACK)) return false;
    const shears = [start.v[face]];
    loads.forEach(({ size }, i) => {
      const taken = found.reduce((sum, r, k) => (springs[k]!.group === i ? sum + r : sum), 0);
      shears.push(shears[i]! + size - taken);
    });
    return tipsHold(problem, answer, shears.slice(first, first + placed.length + 1));
  });
};

/**
 * Does every group stand, with what hangs on its tips? A group stands on two supports, its ties and the hinges to
 * groups that stand already, and out beyond the outermost by no more than it may; repeated until nothing changes. The search knows that of its own split
 * of forces; with more ties than statics needs the split decides what hangs on a tip.
 */
const tipsHold = (problem: ZoneProblem, { placed }: ZoneAnswer, shears: readonly number[]): boolean => {
  const stand = placed.map(() => false);
  const holds = ({ fromGu, lengthGu, tied }: PlacedGroup, i: number): boolean => {
    const points = [...(stand[i - 1] ? [0] : []), ...(tied?.tiesGu ?? []), ...(stand[i + 1] ? [lengthGu] : [])];
    const [first, last] = [points[0], points[points.length - 1]];
    if (first === undefined || last === undefined || first === last) return false;
    if (!tied) return first === 0 && last === lengthGu;
    const { tipGu } = problem.limitsAt(fromGu, tied);
    const reaches = (outGu: number, v: number) =>
      outGu === 0 || (outGu <= tied.group.panel.overhangGu && v <= tipGu(outGu) + SLACK);
    return reaches(first, shears[i]!) && reaches(lengthGu - last, -shears[i + 1]!);
  };
  for (;;) {
    const next = placed.flatMap((p, i) => (!stand[i] && holds(p, i) ? [i] : []));
    for (const i of next) stand[i] = true;
    if (next.length === 0) return stand.every((x) => x);
  }
};

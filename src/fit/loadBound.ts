/** What the load ahead costs at least, told to the bound that leaves loads out of account. */

import type { Cost } from './cost.js';
import type { Faces } from './faces.js';
import type { ZoneProblem } from './zone.js';

/** Low enough for any tier after the one that a load bound raises. */
const LEAST_TAIL = -1e15;

/**
 * The bound raised by the load: the ties still to come carry what lies ahead and what is handed on, each at most its limit. A dearer start of
 * the vector would be dearer as a whole, so only the tier of ties and units is raised; the tiers after it fall to their floor.
 */
export const withLoads = (problem: ZoneProblem, rest: Cost, at: number, faces: Faces, timberLeft: boolean): Cost => {
  const { mostGu, labour, ends, loadFrom, loadTo, rules } = problem;
  const [rowChain] = problem.rowChains;
  if (!Number.isFinite(mostGu) || mostGu <= 0) return rest;
  const first = rowChain ? 2 : 0;
  let columns = Number.POSITIVE_INFINITY;
  let length = Number.POSITIVE_INFINITY;
  // Every label comes by here: nothing is made on the way.
  for (const { jointGu, v, pair } of ends) {
    if (jointGu < at) continue;
    const ahead = rowChain
      ? rowChain.load(at, jointGu - at, loadFrom, loadTo).size
      : Math.max(0, Math.min(jointGu, loadTo) - Math.max(at, loadFrom));
    let most = 0;
    for (let i = 0; i < 2; i++) {
      const f = faces[first + i]!;
      // Of what a pair has to carry its own tie takes no more than it may.
      const beyond = pair ? v[i]! + pair[i]!.lengthGu - mostGu : v[i]!;
      most = Math.max(most, ahead + beyond + (f.kind === 'C' ? f.lo : -f.hi));
    }
    columns = Math.min(columns, Math.ceil(most / mostGu - 1e-6));
    length = Math.min(length, jointGu - at);
  }
  // Widths of timber rise.
  const timber = timberLeft ? (rules.timber[rules.timber.length - 1]?.widthGu ?? 0) : 0;
  const units = Math.ceil(Math.max(0, length - timber) * labour.unitsPerGu - 1e-6);
  const least = columns * labour.perTieColumn + units * labour.perUnit;
  if (!(least > rest[labour.index]!)) return rest;
  return rest.map((x, i) =>
    i < labour.index ? x : i === labour.index ? least : i === rest.length - 1 ? LEAST_TAIL : 0,
  );
};

/** The pours of the job file: which wall stands in which, and where two meet. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber, inOrder } from '../ground/order.js';
import { MM_PER, plainNumber } from '../ground/units.js';
import type { FacePlan } from '../ground/vocabulary.js';
import { LEVEL_NOTE_MM, nearestWall } from '../shape/index.js';
import type { Job } from './schema.js';

/** Walls that the job file names in no pour stand in this one, after the others. */
export const REST_POUR = 'rest';
/** Places at which walls of different pours meet. */
const jointsBetween = (plan: FacePlan, pourOf: ReadonlyMap<string, string>): Finding[] =>
  plan.nodes.flatMap((node) => {
    const pours = [...new Set(node.walls.map((w) => pourOf.get(w)!))];
    if (pours.length < 2) return [];
    const walls = node.walls.map((w) => `${w} (${pourOf.get(w)})`).join(' and ');
    return [
      finding('pipeline.pour-joint', `Walls ${walls} meet at node ${node.id} and are poured one after the other.`, {
        at: [node.at.x, node.at.y, 0],
        subject: node.id,
        assumed: 'what stands at the node is needed in both pours',
      }),
    ];
  });

/** The plan with each wall's pour; unchanged where the job file names none. Coordinates of the job file are the drawing's. */
export const withPours = (plan: FacePlan, { pours }: Job): Staged<FacePlan> => {
  if (pours === undefined || pours.length === 0 || plan.walls.length === 0) return { value: plan, findings: [] };
  const findings: Finding[] = [];
  const claims = pours.flatMap(({ name, near }, order) =>
    near.map(([x, y]) => {
      const at = { x: x * MM_PER[plan.lengthUnit], y: y * MM_PER[plan.lengthUnit] };
      const { wall, awayMm } = nearestWall(at, plan.walls);
      return { name, order, at, wall: plan.walls[wall]!.id, awayMm };
    }),
  );
  const pourOf = new Map<string, string>();
  for (const { name, at, wall, awayMm } of [...claims].sort(
    inOrder(
      byNumber((c) => c.awayMm),
      byNumber((c) => c.order),
    ),
  )) {
    const place: readonly [number, number, number] = [at.x, at.y, 0];
    if (awayMm > LEVEL_NOTE_MM)
      findings.push(
        finding('pipeline.pour-far', `A point of pour ${name} is ${plainNumber(awayMm, 0)} mm from the nearest wall.`, {
          at: place,
          subject: wall,
          assumed: `it names wall ${wall}`,
        }),
      );
    const before = pourOf.get(wall);
    if (before !== undefined && before !== name)
      findings.push(
        finding('pipeline.pour-twice', `Wall ${wall} is named in pour ${before} and in pour ${name}.`, {
          at: place,
          subject: wall,
          assumed: `it stands in pour ${before}`,
        }),
      );
    else pourOf.set(wall, name);
  }
  const rest = plan.walls.filter((w) => !pourOf.has(w.id));
  for (const { id } of rest) pourOf.set(id, REST_POUR);
  if (rest.length > 0)
    findings.push(
      finding('pipeline.pour-rest', `No pour is named for ${rest.map((w) => w.id).join(', ')}.`, {
        subject: 'pours',
        assumed: `they are poured together after the others, as pour '${REST_POUR}'`,
      }),
    );
  const used = new Set(pourOf.values());
  const names = [...pours.map((p) => p.name), REST_POUR].filter((name) => used.has(name));
  findings.push(...jointsBetween(plan, pourOf));
  return {
    value: { ...plan, pours: names, walls: plan.walls.map((w) => ({ ...w, pour: pourOf.get(w.id)! })) },
    findings,
  };
};

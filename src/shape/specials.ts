/** Openings put onto their walls; curves, which are found but not formed yet, said at their places. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { nthId } from '../ground/ids.js';
import { byNumber, inOrder } from '../ground/order.js';
import type { Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';

import type { FoundOpening, PlanOpening, Wall, WallCurve } from '../ground/vocabulary.js';
import { isFullHeight, isGap } from '../ground/voids.js';

import { levelAt, type WallLevels } from './levels.js';
import { nearestWall, shareAlong } from './nearest.js';

const place = (p: Vec): readonly [number, number, number] => [p.x, p.y, 0];
const mm = (n: number): string => plainNumber(n, 0);

/** An opening lies in a wall when its ends are no farther off the wall's body than this. */
const OFF_WALL_MM = 5;

/** Openings that are known to be in standing walls; those without sill and head lie between two walls and are none. Stations go onto the grid. */
export const placeOpenings = (
  openings: readonly FoundOpening[],
  walls: readonly Wall[],
  levels: readonly WallLevels[],
  gridMm: number,
): Staged<readonly PlanOpening[]> => {
  const findings: Finding[] = [];
  const known = openings.filter((o) => o.sillMm !== null || o.headMm !== null);
  const placed = known.flatMap((o) => {
    const middle = { x: (o.from.x + o.to.x) / 2, y: (o.from.y + o.to.y) / 2 };
    const at = place(middle);
    const near = walls.length === 0 ? null : nearestWall(middle, walls);
    if (near === null || near.awayMm > OFF_WALL_MM) {
      const message = `An opening of ${mm(Math.hypot(o.to.x - o.from.x, o.to.y - o.from.y))} mm lies in no wall that was laid out.`;
      findings.push(finding('shape.opening', message, { at, assumed: 'there is no opening' }));
      return [];
    }
    const wall = walls[near.wall]!;
    const stations = [o.from, o.to].map((p) => Math.round((shareAlong(p, wall) * wall.lengthMm) / gridMm) * gridMm);
    const [fromMm, toMm] = [Math.min(...stations), Math.max(...stations)];
    const own = levels[near.wall]!;
    const sillMm = o.sillMm ?? levelAt(own.footing, (fromMm + toMm) / 2);
    const headMm = o.headMm ?? levelAt(own.top, (fromMm + toMm) / 2);
    const span = `from ${mm(fromMm)} to ${mm(toMm)} mm, sill ${mm(sillMm)}, head ${mm(headMm)}`;
    const middleMm = (fromMm + toMm) / 2;
    const around = { footingMm: levelAt(own.footing, middleMm), topMm: levelAt(own.top, middleMm) };
    if (isGap({ fromMm, toMm, sillMm, headMm }, around)) {
      const message = `The opening in wall ${wall.id} ${span} leaves no concrete over and under it.`;
      const assumed = 'forms and ties run through as in a full wall';
      findings.push(finding('shape.opening', message, { at, subject: wall.id, assumed }));
    } else if (isFullHeight({ sillMm, headMm }, around)) {
      const message = `Opening in wall ${wall.id} ${span}, without concrete over and under it: too narrow for two bulkheads, so forms run through and a box-out stands between them from footing to top.`;
      findings.push(finding('shape.box-out', message, { at, subject: wall.id }));
    } else {
      findings.push(finding('shape.box-out', `Opening in wall ${wall.id} ${span}.`, { at, subject: wall.id }));
    }
    return [{ wall: wall.id, fromMm, toMm, sillMm, headMm, order: near.wall }];
  });
  placed.sort(
    inOrder(
      byNumber((o) => o.order),
      byNumber((o) => o.fromMm),
      byNumber((o) => o.sillMm),
      byNumber((o) => o.toMm),
    ),
  );
  return { value: placed.map(({ order: _, ...o }, i) => ({ id: nthId('O', i), ...o })), findings };
};

/** Curved walls that are not laid out, with why. */
export const curveFindings = (left: readonly { readonly curve: WallCurve; readonly why: string }[]): Finding[] =>
  left.map(({ curve: c, why }) => {
    const midRad = (c.fromRad + c.toRad) / 2;
    const at = { x: c.centre.x + c.radiusMm * Math.cos(midRad), y: c.centre.y + c.radiusMm * Math.sin(midRad) };
    const degrees = plainNumber(((c.toRad - c.fromRad) * 180) / Math.PI, 1);
    const message = `Not laid out here yet: a curved wall ${mm(c.thicknessMm)} mm thick, axis radius ${mm(c.radiusMm)} mm over ${degrees} degrees: ${why}.`;
    return finding('shape.curved', message, { at: place(at), assumed: 'no forms stand there' });
  });

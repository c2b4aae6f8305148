/** Walls formed on one side (rule T21): no tie holds the form, so frame and anchors take the whole push, which is told for whoever designs them. */

import { facePoint } from '../ground/arcs.js';
import { type Finding, finding, type Staged } from '../ground/findings.js';
import { describeRun, middleOf, reachOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan, PressureCase, Run, SpecialForm } from '../ground/vocabulary.js';
import { forceBetween, momentAbout } from './envelope.js';

const AGAINST = { earth: 'against earth', rock: 'against rock', wall: 'against a wall that stands' } as const;

/** The special forms of a plan, run by run; `pressureFor` gives the pressure of a run's pour. */
export const specialForms = (
  plan: FacePlan,
  pressureFor: (run: Run) => PressureCase,
): Staged<readonly SpecialForm[]> => {
  const findings: Finding[] = [];
  const value = (plan.oneSided ?? []).flatMap(({ wall, formed, against, runs }) => {
    const face = plan.faces.find((f) => f.wall === wall && f.side === formed);
    const own = plan.walls.find((w) => w.id === wall);
    if (!face || !own) return [];
    return runs.map((run): SpecialForm => {
      const [low, high] = reachOf(run);
      const [fromMm, toMm] = [Math.max(low, face.fromMm), Math.min(high, face.toMm)];
      const { footingMm, topMm } = run;
      const { envelope } = pressureFor(run);
      const forceKnPerM = forceBetween(envelope, topMm, footingMm, topMm);
      const momentKnmPerM = momentAbout(envelope, topMm, footingMm, topMm);
      const armM = forceKnPerM > 0 ? momentKnmPerM / forceKnPerM : 0;
      const where = against === null ? 'on one side' : `on one side, ${AGAINST[against]}`;
      const message = `${describeRun(run).replace(/^w/, 'W')} is formed ${where}: no ties, no forms are laid out. The concrete pushes the form on face ${face.id} with ${plainNumber(forceKnPerM, 1)} kN per m of wall, ${plainNumber(armM, 2)} m above the footing: ${plainNumber(momentKnmPerM, 1)} kNm per m for frame and anchors.`;
      const { x, y } = facePoint(own, formed, own.arc ? (fromMm + toMm) / 2 : middleOf(run));
      findings.push(
        finding('check.one-sided', message, {
          at: [x, y, footingMm],
          subject: wall,
          assumed: 'drawn as a special form',
        }),
      );
      return {
        wall,
        run: run.id,
        face: face.id,
        against,
        fromMm,
        toMm,
        footingMm,
        topMm,
        forceKnPerM,
        armM,
        momentKnmPerM,
      };
    });
  });
  return { value, findings };
};

/** What is said of measured levels: those off the tolerance, and those that contradict each other. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { SurveyPoint } from '../ground/vocabulary.js';

/** Top of a footing over and under its drawn level: +1/2 in, -2 in. Source: ACI 117, as quoted in an article of concreteconstruction.net on footing elevations. */
const OVER_MOST_MM = 13;
const UNDER_MOST_MM = 50;
/** Points this near to each other were meant for one place; there a levelled footing differs by less than this. *Practice, no source.* */
const ONE_PLACE_MM = 50;
const DIFFER_MM = 10;

export const placeOf = ({ at, levelMm }: SurveyPoint): readonly [number, number, number] => [at.x, at.y, levelMm];

const mm = (n: number): string => plainNumber(n, 1);

/** Points of a stretch that lie over or under its drawn level by more than the tolerance: one finding at the worst. */
export const offTolerance = (
  points: readonly SurveyPoint[],
  drawnMm: number,
  where: string,
  subject: string,
): Finding[] => {
  const beyond = ({ levelMm }: SurveyPoint) =>
    Math.max(levelMm - drawnMm - OVER_MOST_MM, drawnMm - levelMm - UNDER_MOST_MM);
  const off = points.filter((p) => beyond(p) > 1e-6);
  if (off.length === 0) return [];
  const worst = off.reduce((w, p) => (beyond(p) > beyond(w) ? p : w));
  const count = `${plainNumber(off.length, 0)} of ${plainNumber(points.length, 0)}`;
  const message = `${count} levels measured on ${where} lie outside +${OVER_MOST_MM} and -${UNDER_MOST_MM} mm of it, the worst at ${mm(worst.levelMm)}.`;
  return [finding('shape.survey-off', message, { at: placeOf(worst), subject })];
};

/** Points of one place whose levels differ; `points` in order of x. */
export const contradictions = (points: readonly SurveyPoint[], subject: string): Finding[] =>
  points.flatMap((p, i) => {
    for (const q of points.slice(i + 1)) {
      if (q.at.x - p.at.x > ONE_PLACE_MM) break;
      const isOnePlace = Math.hypot(q.at.x - p.at.x, q.at.y - p.at.y) <= ONE_PLACE_MM;
      if (!isOnePlace || Math.abs(q.levelMm - p.levelMm) <= DIFFER_MM) continue;
      const message = `Two levels measured at one place differ: ${mm(p.levelMm)} and ${mm(q.levelMm)}.`;
      const assumed = 'both: forms stand over the higher, the gap begins at the lower';
      return [finding('shape.survey-conflict', message, { at: placeOf(p), subject, assumed })];
    }
    return [];
  });

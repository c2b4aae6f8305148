/**
 * Measured levels of the footings. On site no footing lies at its drawn level; forms are set out from its high point. So each measured point is taken to
 * the footing on which it stands, and of each stretch of footing, which goes round corners as far as the drawn level stays the same, the highest point
 * is where forms may stand and the lowest where the gap under them begins. The pour line stays as it is drawn.
 *
 * One level for a stretch, not one for each wall: what is clamped together round a corner stands on one base. *Common practice, no source.*
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { groupsOf } from '../ground/groups.js';
import { nthId } from '../ground/ids.js';
import { byNumber } from '../ground/order.js';
import { middleOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan, LevelBand, Run, RunEnd, SurveyedStretch, SurveyPoint, Wall } from '../ground/vocabulary.js';
import { pointToWall, shareAlong } from './nearest.js';
import { contradictions, offTolerance, placeOf } from './surveyFindings.js';

/** Farther from every wall than this a point is on no footing that carries its forms. *Practice, no source.* */
const REACH_MM = 1000;
/** A point this near to a riser may stand on either side of it: its level tells. *Practice, no source.* */
const RISER_REACH_MM = 150;
/** Walls are equally near within this: at a corner a point is on the footing of both. */
const SAME_MM = 1;
/** A level farther off the drawn one than this is in another datum or unit, or the drawing is of another footing. *Practice, no source.* */
const DOUBT_MM = 300;

/** A stretch of one wall's footing: the place of its wall, and of its band there. */
interface Bed {
  readonly wall: number;
  readonly band: number;
}

interface Placed {
  readonly point: SurveyPoint;
  readonly beds: readonly number[];
}

const bandAt = (bands: readonly LevelBand[], stationMm: number): number => {
  const found = bands.findIndex((b) => stationMm < b.toMm);
  return found < 0 ? bands.length - 1 : found;
};

/** Station of a point on a wall's axis; curved walls have one band, so that any will do. */
const stationOn = (p: SurveyPoint['at'], wall: Wall): number => (wall.arc ? 0 : shareAlong(p, wall) * wall.lengthMm);

/** Bands of a wall on which a point may stand: the one beside it, and one beyond a riser that is near. */
const bandsNear = (p: SurveyPoint['at'], wall: Wall): number[] => {
  const station = stationOn(p, wall);
  const own = bandAt(wall.base, station);
  const near = wall.base.flatMap((b, i) => {
    const [low, high] = [b.fromMm - RISER_REACH_MM, b.toMm + RISER_REACH_MM];
    return i !== own && station >= low && station <= high ? [i] : [];
  });
  return [own, ...near];
};

/** The beds of the nearest walls whose drawn level is nearest to what was measured; how far off and away they are. */
const bedsOf = (
  { at, levelMm }: SurveyPoint,
  walls: readonly Wall[],
  indexOf: ReadonlyMap<string, number>,
): { readonly beds: readonly number[]; readonly offMm: number; readonly awayMm: number; readonly wall: Wall } => {
  const away = walls.map((wall) => pointToWall(at, wall));
  const awayMm = Math.min(...away);
  const near = walls.flatMap((wall, w) => (away[w]! <= awayMm + SAME_MM ? [{ wall, w }] : []));
  const choices = near.flatMap(({ wall, w }) =>
    bandsNear(at, wall).map((band) => ({
      bed: indexOf.get(`${w} ${band}`)!,
      offMm: levelMm - wall.base[band]!.levelMm,
    })),
  );
  const least = Math.min(...choices.map((c) => Math.abs(c.offMm)));
  const taken = choices.filter((c) => Math.abs(c.offMm) <= least + SAME_MM);
  return { beds: taken.map((c) => c.bed), offMm: taken[0]!.offMm, awayMm, wall: near[0]!.wall };
};

const refuse = (point: SurveyPoint, message: string, subject = ''): Finding =>
  finding('shape.survey-not-used', message, { at: placeOf(point), subject, assumed: 'the point is not there' });

/** What is said of points whose level is out of all proportion: once, where all are off by about the same. */
const doubts = (
  doubtful: readonly { readonly point: SurveyPoint; readonly offMm: number }[],
  all: number,
): Finding[] => {
  const offs = doubtful.map((d) => d.offMm);
  const [low, high] = [Math.min(...offs), Math.max(...offs)];
  const first = doubtful[0];
  if (first && doubtful.length === all && all > 1 && high - low <= DOUBT_MM) {
    const message = `All ${all} measured levels lie about ${plainNumber((low + high) / 2, 0)} mm off the drawn ones: they are in another datum, or another unit.`;
    return [
      finding('shape.survey-doubtful', message, { at: placeOf(first.point), assumed: 'the drawn levels everywhere' }),
    ];
  }
  return doubtful.map(({ point, offMm }) => {
    const message = `The measured level ${plainNumber(point.levelMm, 1)} lies ${plainNumber(Math.abs(offMm), 0)} mm ${offMm > 0 ? 'over' : 'under'} the drawn one.`;
    return finding('shape.survey-doubtful', message, { at: placeOf(point), assumed: 'the point is not there' });
  });
};

/** The points on the beds on which they stand. */
const placedOf = (
  survey: readonly SurveyPoint[],
  walls: readonly Wall[],
  indexOf: ReadonlyMap<string, number>,
): Staged<readonly Placed[]> => {
  const findings: Finding[] = [];
  const doubtful: { point: SurveyPoint; offMm: number }[] = [];
  const value = survey.flatMap((point): Placed[] => {
    if (![point.at.x, point.at.y, point.levelMm].every(Number.isFinite)) {
      findings.push(finding('shape.survey-not-used', 'A measured level has a value that is no usable number.'));
      return [];
    }
    const { beds, offMm, awayMm, wall } = bedsOf(point, walls, indexOf);
    if (awayMm > REACH_MM) {
      const message = `A measured level stands ${plainNumber(awayMm, 0)} mm from the nearest wall, ${wall.id}.`;
      findings.push(refuse(point, message, wall.id));
      return [];
    }
    if (Math.abs(offMm) > DOUBT_MM) {
      doubtful.push({ point, offMm });
      return [];
    }
    return [{ point, beds }];
  });
  return { value, findings: [...findings, ...doubts(doubtful, survey.length)] };
};

/** Beds that meet at nodes at one drawn level, in groups. */
const stretchesOf = (plan: FacePlan, beds: readonly Bed[], indexOf: ReadonlyMap<string, number>): number[][] => {
  const wallIndex = new Map(plan.walls.map((w, i) => [w.id, i]));
  const pairs = plan.nodes.flatMap((node) => {
    const met = node.walls.map((id) => {
      const w = wallIndex.get(id)!;
      const wall = plan.walls[w]!;
      const band = bandAt(wall.base, stationOn(node.at, wall));
      return { bed: indexOf.get(`${w} ${band}`)!, levelMm: wall.base[band]!.levelMm };
    });
    return met.flatMap((a, i) =>
      met.slice(i + 1).flatMap((b) => (a.levelMm === b.levelMm ? [[a.bed, b.bed] as const] : [])),
    );
  });
  return groupsOf(beds.length, pairs);
};

/** The plan with its measured levels in bands, runs and the ends that meet at risers. */
const withLevels = (plan: FacePlan, bandOf: (band: LevelBand) => LevelBand): FacePlan => {
  const walls = plan.walls.map((w) => ({ ...w, base: w.base.map((b) => bandOf(b)) }));
  const byId = new Map(walls.map((w) => [w.id, w]));
  const levelled = plan.runs.map((run): Run => {
    const { base } = byId.get(run.wall)!;
    const { levelMm, highMm } = base[bandAt(base, middleOf(run))]!;
    return { ...run, footingMm: levelMm, ...(highMm === undefined ? {} : { highMm }) };
  });
  const runById = new Map(levelled.map((r) => [r.id, r]));
  const endOf = (end: RunEnd): RunEnd => {
    if (end.kind !== 'step') return end;
    const { footingMm, highMm } = runById.get(end.beyond)!;
    return { ...end, beyondFootingMm: footingMm, ...(highMm === undefined ? {} : { beyondHighMm: highMm }) };
  };
  return { ...plan, walls, runs: levelled.map((r) => ({ ...r, start: endOf(r.start), end: endOf(r.end) })) };
};

/** Puts the measured levels into a plan; one that was not measured stays as it is. */
export const withSurvey = (plan: FacePlan, survey: readonly SurveyPoint[] | undefined): Staged<FacePlan> => {
  if (survey === undefined || survey.length === 0 || plan.walls.length === 0) return { value: plan, findings: [] };
  const beds = plan.walls.flatMap((wall, w) => wall.base.map((_, band): Bed => ({ wall: w, band })));
  const indexOf = new Map(beds.map((b, i) => [`${b.wall} ${b.band}`, i]));
  const placed = placedOf(survey, plan.walls, indexOf);
  const findings: Finding[] = [...placed.findings];
  const levels = new Map<LevelBand, { lowMm: number; highMm: number }>();
  const stretches = stretchesOf(plan, beds, indexOf).map((group, i): SurveyedStretch => {
    const own = new Set(group);
    const points = placed.value.filter((p) => p.beds.some((b) => own.has(b)));
    const bands = group.map((b) => plan.walls[beds[b]!.wall]!.base[beds[b]!.band]!);
    const parts = group.map((b, k) => {
      const { fromMm, toMm } = bands[k]!;
      return { wall: plan.walls[beds[b]!.wall]!.id, fromMm, toMm };
    });
    const drawnMm = bands[0]!.levelMm;
    const stretch = { id: nthId('F', i), parts, drawnMm };
    const first = plan.walls[beds[group[0]!]!.wall]!;
    const names = [...new Set(parts.map((p) => p.wall))].join(', ');
    const where = `the footing ${stretch.id} of ${names}, drawn at ${plainNumber(drawnMm, 1)}`;
    const middle = { x: (first.start.x + first.end.x) / 2, y: (first.start.y + first.end.y) / 2 };
    const at = [middle.x, middle.y, drawnMm] as const;
    const detail = { at, subject: first.id };
    if (points.length === 0) {
      const assumed = `level ${plainNumber(drawnMm, 1)} as drawn`;
      const message = `No level was measured on ${where}.`;
      findings.push(finding('shape.survey-missing', message, { ...detail, assumed }));
      return { ...stretch, measured: null };
    }
    const heights = points.map((p) => p.point.levelMm);
    const [lowestMm, highestMm] = [Math.min(...heights), Math.max(...heights)];
    for (const band of bands) levels.set(band, { lowMm: lowestMm, highMm: highestMm });
    const count = `${plainNumber(points.length, 0)} ${points.length === 1 ? 'point' : 'points'}`;
    const [low, high] = [plainNumber(lowestMm, 1), plainNumber(highestMm, 1)];
    const spread = low === high ? low : `${low} to ${high}`;
    const message = `Measured at ${count} on ${where}: ${spread}. Forms stand from the highest, the gap under them begins at the lowest.`;
    findings.push(finding('shape.surveyed', message, detail));
    const bare = group.filter((b) => !points.some((p) => p.beds.includes(b)));
    if (bare.length > 0) {
      const walls = [...new Set(bare.map((b) => plan.walls[beds[b]!.wall]!.id))].join(', ');
      const told = `Of ${where}, no level was measured along ${walls}.`;
      findings.push(finding('shape.survey-thin', told, { ...detail, assumed: 'the levels measured beside it' }));
    }
    const sorted = points.map((p) => p.point).sort(byNumber((p) => p.at.x));
    findings.push(...offTolerance(sorted, drawnMm, where, first.id), ...contradictions(sorted, first.id));
    return { ...stretch, measured: { lowestMm, highestMm, points: points.length } };
  });
  const bandOf = (band: LevelBand): LevelBand => {
    const own = levels.get(band);
    return own ? { ...band, levelMm: own.lowMm, highMm: own.highMm } : band;
  };
  return { value: { ...withLevels(plan, bandOf), survey: stretches }, findings };
};

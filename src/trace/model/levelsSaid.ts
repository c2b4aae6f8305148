/** Levels of the stretches in the words of the foundation: what most walls have, notes at those that differ, steps where they change along a wall. */

import { byText, inOrder } from '../../ground/order.js';
import { cross, distance, dot, type Vec } from '../../ground/plane.js';
import type { LengthUnit } from '../../ground/units.js';
import { MM_PER, roundTo } from '../../ground/units.js';
import type { FoundStep, Levels, LevelsAt, ModelTraceOptions } from '../../ground/vocabulary.js';
import { compareLevelsAt, levelsAtOf, levelsOf } from '../levelsGiven.js';
import type { WallSeen } from './choose.js';
import { idsOf } from './parts.js';
import { onAxis } from './plan.js';
import { holds, type Region } from './region.js';
import { outward } from './space.js';
import type { LevelPart, StretchLevels } from './wallLevels.js';

export interface SaidLevels {
  readonly levels: Levels;
  readonly levelsAt: readonly LevelsAt[];
  readonly steps: readonly FoundStep[];
  /** What most of the length of wall has in the model, mm. */
  readonly most: { readonly footingMm: number; readonly topMm: number };
}

/** As shape takes two stretches for one wall: in line and thick within these. */
const LINE_MM = 5;
const THICKNESS_MM = 2;
/** Between two stretches of one wall others may stand, up to so thick. */
const BETWEEN_MOST_MM = 2500;
const SAME_LEVEL_MM = 2;

const rounded = (mm: number): number => roundTo(mm, 3);

type Weighted = readonly [levelMm: number, weight: number];

const lengthsOf = (all: readonly StretchLevels[], key: 'baseMm' | 'topMm'): Weighted[] =>
  all.flatMap((s) => s.levels.map((l): Weighted => [l[key], l.toMm - l.fromMm]));

/** The level that has most weight; of equals the lowest. */
const mostOf = (levels: readonly Weighted[]): number => {
  const weights = new Map<number, number>();
  for (const [level, weight] of levels) weights.set(rounded(level), (weights.get(rounded(level)) ?? 0) + weight);
  const ranked = [...weights].sort((p, q) => q[1] - p[1] || p[0] - q[0]);
  return ranked[0]?.[0] ?? 0;
};

/** 'IfcWall Basic Wall:Foundation, 2O2Fr…' for the person who reads. */
const textOf = (l: LevelPart): string =>
  idsOf(l.parts)
    .map((id) => {
      const { element } = l.parts.find((p) => p.seen.measured.element.id === id)!.seen.measured;
      return element.name ? `${element.name} (${id})` : `${element.entity} ${id}`;
    })
    .join(', ');

interface End {
  readonly at: Vec;
  /** Out of the stretch. */
  readonly out: Vec;
  readonly thicknessMm: number;
  readonly level: LevelPart;
}

const endsOf = (s: StretchLevels): End[] => {
  const { axis, stretch } = s.of;
  const back = { x: -axis.u.x, y: -axis.u.y };
  const { thicknessMm } = stretch;
  return [
    { at: stretch.start, out: back, thicknessMm, level: s.levels[0]! },
    { at: stretch.end, out: axis.u, thicknessMm, level: s.levels[s.levels.length - 1]! },
  ];
};

const stepsBetween = (at: Vec, a: LevelPart, b: LevelPart, origin: Vec): FoundStep[] =>
  (['baseMm', 'topMm'] as const).flatMap((key): FoundStep[] => {
    const riseMm = Math.abs(a[key] - b[key]);
    if (riseMm <= SAME_LEVEL_MM) return [];
    const sources = idsOf([...a.parts, ...b.parts]);
    const kind = key === 'baseMm' ? 'footing' : 'top';
    return [{ kind, at: outward(at, origin), riseMm: rounded(riseMm), text: null, sources }];
  });

/** Steps between stretches that are one wall: in line, of one thickness, concrete between them. */
const stepsAcross = (all: readonly StretchLevels[], concrete: Region, origin: Vec): FoundStep[] => {
  const ends = all.flatMap(endsOf).sort((p, q) => p.at.x - q.at.x || p.at.y - q.at.y);
  return ends.flatMap((a, i) => {
    const steps: FoundStep[] = [];
    for (let k = i + 1; k < ends.length && ends[k]!.at.x - a.at.x <= BETWEEN_MOST_MM; k++) {
      const b = ends[k]!;
      const between = { x: b.at.x - a.at.x, y: b.at.y - a.at.y };
      const apartMm = dot(between, a.out);
      if (apartMm < -1 || apartMm > BETWEEN_MOST_MM || dot(a.out, b.out) > -0.999) continue;
      if (Math.abs(cross(a.out, between)) > LINE_MM || Math.abs(a.thicknessMm - b.thicknessMm) > THICKNESS_MM) continue;
      const points = [0.1, 0.5, 0.9].map((t) => ({ x: a.at.x + between.x * t, y: a.at.y + between.y * t }));
      if (!points.every((p) => holds(concrete, p))) continue;
      steps.push(...stepsBetween(points[1]!, a.level, b.level, origin));
    }
    return steps;
  });
};

const jobSteps = (options: ModelTraceOptions, unit: LengthUnit): FoundStep[] =>
  options.steps.map(({ at, kind }) => ({
    kind,
    at: { x: roundTo(at.x * MM_PER[unit], 4), y: roundTo(at.y * MM_PER[unit], 4) },
    riseMm: null,
    text: null,
    sources: [],
  }));

/** Levels of the foundation. What the job file says of all walls stands in place of what most of them have; of single walls, before the model's. */
export const sayLevels = (
  all: readonly StretchLevels[],
  taken: readonly WallSeen[],
  concrete: Region,
  origin: Vec,
  options: ModelTraceOptions,
  unit: LengthUnit,
): SaidLevels => {
  const known = all.filter((s) => s.levels.length > 0);
  // Where no straight wall tells, curved ones do; where nothing was taken, nothing does.
  const most =
    known.length > 0
      ? { footingMm: mostOf(lengthsOf(known, 'baseMm')), topMm: mostOf(lengthsOf(known, 'topMm')) }
      : {
          footingMm: mostOf(taken.map((t) => [t.measured.baseMm, 1])),
          topMm: mostOf(taken.map((t) => [t.measured.topMm, 1])),
        };
  const job = options.levels;
  if (taken.length === 0)
    return { levels: levelsOf(options).levels, levelsAt: levelsAtOf(options, unit), steps: [], most };
  const from = (given: number | null) => (given !== null ? ('job' as const) : ('drawing' as const));
  const levels: Levels = {
    footingMm: job.footingMm ?? most.footingMm,
    topMm: job.topMm ?? most.topMm,
    footingFrom: from(job.footingMm),
    topFrom: from(job.topMm),
  };
  const isUsual = (l: LevelPart) =>
    Math.abs(l.baseMm - most.footingMm) <= SAME_LEVEL_MM && Math.abs(l.topMm - most.topMm) <= SAME_LEVEL_MM;
  const uniform = known.every((s) => s.levels.every(isUsual));
  const notes = known.flatMap((s) =>
    s.levels.map((l): LevelsAt => {
      const [footingMm, topMm] = [rounded(l.baseMm), rounded(l.topMm)];
      return {
        near: outward(onAxis(s.of.axis, (l.fromMm + l.toMm) / 2), origin),
        footingMm: job.footingMm !== null && footingMm === most.footingMm ? null : footingMm,
        topMm: job.topMm !== null && topMm === most.topMm ? null : topMm,
        from: 'drawing',
        text: textOf(l),
      };
    }),
  );
  const within = known.flatMap((s) =>
    s.levels.slice(1).flatMap((l, i) => stepsBetween(onAxis(s.of.axis, l.fromMm), s.levels[i]!, l, origin)),
  );
  const steps = [...within, ...stepsAcross(known, concrete, origin), ...jobSteps(options, unit)].sort(
    inOrder<FoundStep>(
      (p, q) => p.at.x - q.at.x || p.at.y - q.at.y,
      byText((s) => s.kind),
    ),
  );
  const levelsAt = [...levelsAtOf(options, unit), ...(uniform ? [] : notes)].sort(compareLevelsAt);
  return { levels, levelsAt, steps: steps.filter((s, i) => !steps.slice(0, i).some((t) => same(s, t))), most };
};

const same = (a: FoundStep, b: FoundStep): boolean => a.kind === b.kind && distance(a.at, b.at) < 1;

/**
 * Trace of a model: solids → foundation. Which walls are the foundation's (choose), their outlines united and traced like those of a drawing (plan), of
 * which elements each stretch is (parts), base and top along it (wallLevels), openings (modelOpenings), and what stands around (around).
 *
 * Calculated in mm from a local origin, so that a model far from its own keeps its digits; what leaves is in the model's world axes.
 */

import { compareFindings, type Finding, finding, type Staged } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { MM_PER, roundTo } from '../../ground/units.js';
import type {
  FaceLine,
  Foundation,
  Model,
  ModelTraceOptions,
  WallCurve,
  WallStretch,
} from '../../ground/vocabulary.js';
import { footingsOfModel } from '../footings.js';
import { findOpenings } from '../openings.js';
import { skewEndFindings } from '../report.js';
import { barsIn, columnsAt, obstaclesOf, outlinesOf } from './around.js';
import { measurer, originOf } from './bodies.js';
import { chooseWalls } from './choose.js';
import { concreteMaterials } from './concrete.js';
import { aboutElement, elementAtEnd, elementsBeside, elementsOfCurve, notFormed } from './formed.js';
import { answered, answersApart } from './jobOpenings.js';
import { sayLevels } from './levelsSaid.js';
import { openingBodies, placeModelOpenings, unusableOpenings } from './modelOpenings.js';
import { idsOf, partsOf } from './parts.js';
import { tracePlan } from './plan.js';
import { choiceFindings, unmatchedFindings } from './reportChoice.js';
import { levelFindings } from './reportLevels.js';
import { openingFindings } from './reportOpenings.js';
import { columnFindings, wallFindings } from './reportWalls.js';
import { withSquaredEnds } from './skewEnds.js';
import { outward } from './space.js';
import { thicknessFindings } from './thicknesses.js';
import { levelsOfStretch } from './wallLevels.js';

const shiftedFinding = (f: Finding, by: Vec): Finding =>
  f.at ? { ...f, at: [roundTo(f.at[0] + by.x, 3), roundTo(f.at[1] + by.y, 3), roundTo(f.at[2], 3)] } : f;

/** The plan's box, mm in the world's axes. */
const boxOf = (stretches: readonly WallStretch[], curves: readonly WallCurve[], lines: readonly FaceLine[]) => {
  const points = [
    ...stretches.flatMap((s) => [s.start, s.end]),
    ...lines.flatMap((l) => [l.from, l.to]),
    ...curves.flatMap((c) => [-1, 1].map((k) => ({ x: c.centre.x + k * c.radiusMm, y: c.centre.y + k * c.radiusMm }))),
  ];
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const p of points)
    [x0, y0, x1, y1] = [Math.min(x0, p.x), Math.min(y0, p.y), Math.max(x1, p.x), Math.max(y1, p.y)];
  return points.length === 0 ? ([0, 0, 0, 0] as const) : ([x0, y0, x1, y1] as const);
};

/**
 * Finds the foundation walls of a model.
 *
 * @param model as read, mm in its world axes
 * @param options the job file's part that concerns tracing; levels in mm, places and `area` in the model's unit (`model.unit.lengthUnit`)
 * @returns the foundation in mm in the model's world axes, levels in its z; sources are GlobalIds. When no wall is taken the lists are empty and a
 *   failure 'trace.no-wall-in-model' counts the reasons. Findings are in the order of compareFindings.
 */
export const traceModel = (model: Model, options: ModelTraceOptions): Staged<Foundation> => {
  const origin = originOf(model.elements);
  const unit = model.unit.lengthUnit;
  const measuredWhole = measurer(origin);
  const chosen = chooseWalls(model, options, origin, measuredWhole);
  const plan = withSquaredEnds(tracePlan(chosen.taken.map((t) => t.measured.footprint)));
  const bodies = openingBodies(chosen.taken, origin);
  const answers = options.openings.map((o) => ({
    ...o,
    near: { x: o.near.x * MM_PER[unit] - origin.x, y: o.near.y * MM_PER[unit] - origin.y },
  }));
  const builtOn = (stretches: readonly WallStretch[]) => {
    const parts = partsOf(stretches, chosen.taken);
    const levels = parts.map((p) => levelsOfStretch(p, origin));
    return { stretches, parts, levels, placed: placeModelOpenings(bodies, levels, origin) };
  };
  const traced = builtOn(plan.stretches);
  const told = answersApart(answers, traced.placed.placed, plan.stretches);
  const opened = findOpenings({
    stretches: plan.stretches,
    faceLines: plan.faceLines,
    signs: [],
    notes: [],
    footingMm: 0,
    settled: told.others,
  });
  // What an answer joined over a break is looked at again as one.
  const isJoined = opened.value.stretches.length !== plan.stretches.length;
  const { parts, levels, placed, ...built } = isJoined ? builtOn(opened.value.stretches) : traced;
  const said = sayLevels(levels, chosen.taken, plan.concrete, origin, options, unit);
  const settled = answered(placed.placed, told.ofModel, built.stretches);
  const columns = columnsAt(model, chosen, concreteMaterials(options), measuredWhole);
  const obstacles = obstaclesOf(model, placed.notes, levels, origin);

  const sourcesOf = new Map(parts.map((p) => [p.stretch, idsOf(p.parts)]));
  const stretches = settled.stretches.map(({ stretch, of }) => ({
    ...stretch,
    start: outward(stretch.start, origin),
    end: outward(stretch.end, origin),
    sources: sourcesOf.get(of) ?? [],
  }));
  const curves = plan.curves.map((c) => ({
    ...c,
    centre: outward(c.centre, origin),
    sources: elementsOfCurve(c, chosen.taken),
  }));
  const elementsAt = elementsBeside(chosen.taken);
  const faceLines = opened.value.faceLines.map((l) => ({
    from: outward(l.from, origin),
    to: outward(l.to, origin),
    source: elementsAt(l)[0] ?? l.source,
  }));
  const openings = [...opened.value.openings, ...settled.openings].map((o) => ({
    ...o,
    from: outward(o.from, origin),
    to: outward(o.to, origin),
    sillMm: o.sillMm === null ? null : roundTo(o.sillMm, 3),
    headMm: o.headMm === null ? null : roundTo(o.headMm, 3),
  }));
  const findings = [
    ...plan.findings.map((f) => aboutElement(f, chosen.taken)),
    ...skewEndFindings(plan.skewEnds, (end) => elementAtEnd(end.at, chosen.taken)),
    ...plan.tooMuch.map((at) =>
      finding('trace.too-much', 'The walls that hang together have more faces than tracing works through.', {
        at: [at.x, at.y, 0],
      }),
    ),
    ...opened.findings,
    ...settled.findings,
    ...choiceFindings(model, chosen),
    ...wallFindings(chosen),
    ...notFormed(chosen, [...parts.map((p) => idsOf(p.parts)), ...curves.map((c) => c.sources)].flat()),
    ...thicknessFindings(levels),
    ...levelFindings(
      levels.flatMap((l) => l.notes),
      said,
      options,
    ),
    ...openingFindings(placed, bodies, unusableOpenings(chosen.taken, bodies)),
    ...columnFindings(columns),
    ...unmatchedFindings(model, options, chosen),
  ].map((f) => shiftedFinding(f, origin));
  const outlines = outlinesOf(model, chosen, columns, obstacles, measuredWhole, origin);
  const value: Foundation = {
    lengthUnit: unit,
    stretches,
    faceLines,
    curves,
    openings: openings.sort(
      (p, q) => p.from.x - q.from.x || p.from.y - q.from.y || compareText(p.sources[0] ?? '', q.sources[0] ?? ''),
    ),
    steps: said.steps,
    pilasters: plan.pilasters.map((p) => ({ ...p, at: outward(p.at, origin), sources: [] })),
    bars: [],
    views: [{ box: boxOf(stretches, curves, faceLines), title: model.project.name, chosen: true, why: 'the model' }],
    levels: said.levels,
    levelsAt: said.levelsAt,
    ...footingsOfModel(outlines),
    model: {
      elements: chosen.choices,
      outlines,
      bars: barsIn(model, levels, origin),
      obstacles: obstacles.map((o) => o.obstacle),
    },
  };
  return { value, findings: findings.sort(compareFindings) };
};

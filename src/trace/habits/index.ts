/**
 * Walls that are not drawn as two faces → linework that pairing can take like any other, and where concrete lies for certain.
 *
 * - Polylines with width: a wall of that thickness on each segment.
 * - Centre lines: layers that the job file names, or the single lines of a plan that is drawn in single lines throughout.
 * - Fills: hatches and solids of which the outline is not drawn; where it is, they tell concrete from air.
 *
 * The faces of their walls are made where they bound the concrete of all of them together, so corners and junctions come out as an
 * outline. Single lines in a plan of double ones are never made into walls; a question is asked instead.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { byText, comparePoints, inOrder } from '../../ground/order.js';
import { distance, scale, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import type { DrawingPath, TraceOptions } from '../../ground/vocabulary.js';
import { type GroupOptions, traceGroup } from '../group.js';
import { LINES_MOST, USUAL_MOST_MM } from '../limits.js';
import type { ThicknessNote } from '../notes/thicknessNotes.js';
import type { LocalFrame } from '../segments.js';
import { type Area, filledBy } from './areas.js';
import type { AxisPart } from './axes.js';
import { findSingles, giveThickness, pathsOf, type SingleLines, thicknessSources } from './centreLines.js';
import { fillLines } from './fillLines.js';
import { judgeFills } from './fills.js';
import { curvePath, linePath, makeWalls, type ThickCurve } from './made.js';
import { outlineOf } from './outline.js';
import { type CurvedPart, type Parts, partsOf, type StraightPart, sortedParts } from './parts.js';
import {
  centreFindings,
  fillFindings,
  madeFindings,
  singleFindings,
  unknownFindings,
  widthFindings,
} from './report.js';
import { agreedMm, thicknessInName } from './thickness.js';
import { widthGroups } from './widths.js';

export interface HabitInput {
  /** Linework of the layers that are taken for walls. */
  readonly paths: readonly DrawingPath[];
  /** Visible linework on the layers that the job file calls centre lines. */
  readonly centreLines: readonly DrawingPath[];
  readonly frame: LocalFrame;
  readonly options: Pick<TraceOptions, 'thicknessMm' | 'area'>;
  /** Texts that give a thickness. */
  readonly notes: readonly ThicknessNote[];
  /** Layer names or the job file say that the linework is walls; else no width, single line or fill alone is taken for a wall. */
  readonly layersTold: boolean;
  /** Do outlines of footings lie among the lines? */
  readonly footings: GroupOptions['footings'];
}

export interface Habits {
  /** Linework to be paired, drawing units: what was drawn as faces, and the faces that were made. */
  readonly paths: readonly DrawingPath[];
  /** Is there concrete for certain at this place (local mm)? Null where nothing tells; false only means that nothing tells it here. */
  readonly filled: ((p: Vec) => boolean) | null;
  readonly findings: readonly Finding[];
}

/** Whether a line no longer than a wall is thick goes from the end of one curve to that of another: it closes a curved wall. */
const closesCurves = ({ a, b }: StraightPart, curved: readonly CurvedPart[]): boolean => {
  if (distance(a, b) > USUAL_MOST_MM) return false;
  const at = (end: Vec) => curved.filter((c) => [c.a, c.b].some((p) => distance(p, end) <= SAME_POINT_MM));
  const [here, there] = [at(a), at(b)];
  return here.some((c) => there.some((d) => d !== c));
};

const curveOrder = inOrder<CurvedPart>(
  (p, q) => comparePoints(p.a, q.a),
  (p, q) => comparePoints(p.b, q.b),
  byText((p) => p.source),
);

/** Curved axes with the thickness of the job file, their layer or their width; the rest without. */
const thickCurves = (
  parts: readonly CurvedPart[],
  thickness: (p: CurvedPart) => number | null,
): { thick: ThickCurve[]; rest: CurvedPart[] } => {
  const thick: ThickCurve[] = [];
  const rest: CurvedPart[] = [];
  for (const part of [...parts].sort(curveOrder)) {
    const thicknessMm = thickness(part);
    if (thicknessMm !== null) thick.push({ part, thicknessMm });
    else rest.push(part);
  }
  return { thick, rest };
};

const NO_SINGLES: SingleLines = { single: [], rule: false };

/** Lines that are axes: those on centre line layers, and the single lines of a plan that is drawn in them. */
const readCentreLines = (input: HabitInput, lines: readonly DrawingPath[]) => {
  const { frame, options, notes } = input;
  const findings: Finding[] = [];
  const centre = partsOf(
    input.centreLines.filter((p) => p.fill === null),
    frame,
    options.area,
  );
  const onLayer = new Set(centre.straight);
  const told = partsOf(lines, frame, options.area);
  const singles = input.layersTold ? findSingles(sortedParts(told.straight)) : NO_SINGLES;
  const candidates = sortedParts([...centre.straight, ...(singles.rule ? singles.single : [])]);
  const given = giveThickness(candidates, thicknessSources(candidates, options.thicknessMm, notes, frame));
  findings.push(...centreFindings(given.thick, frame));
  const taken = new Set(given.thick.map((t) => t.part).filter((p) => !onLayer.has(p)));
  const left = singles.single.filter((p) => !taken.has(p) && !closesCurves(p, told.curved));
  const inRule = singles.rule && taken.size > 0;
  findings.push(
    ...unknownFindings(
      given.unknown.filter((p) => inRule || onLayer.has(p)),
      frame,
    ),
  );
  if (singles.rule && !inRule) findings.push(...singleFindings(left, 'Nothing says how thick.', frame));
  else if (!singles.rule && options.thicknessMm !== null && input.centreLines.length === 0) {
    // Ends of walls are drawn as short lines without a partner.
    const long = left.filter((p) => distance(p.a, p.b) > USUAL_MOST_MM);
    const why = 'Most walls here are drawn as two faces, so drawing.thicknessMm was not used for them.';
    findings.push(...singleFindings(long, why, frame));
  }
  const agreed = agreedMm(notes);
  const bent = thickCurves(
    centre.curved,
    (p) => options.thicknessMm ?? thicknessInName(p.layer, frame.mmPer) ?? agreed,
  );
  findings.push(...unknownFindings(bent.rest, frame));
  return {
    axes: given.thick.map((t): AxisPart => ({ ...t.part, thicknessMm: t.thickness.thicknessMm, drawn: false })),
    curves: bent.thick,
    taken,
    left: [...centre.refused, ...bent.rest.map((p) => curvePath(frame, p))],
    findings,
  };
};

/** Polylines with width that are walls; the rest is plain linework. */
const readWidths = (input: HabitInput, paths: readonly DrawingPath[]) => {
  const { frame, options } = input;
  const groups = widthGroups(paths, frame, options.area);
  const walls = input.layersTold ? groups.filter((g) => g.isWall) : [];
  const taken = new Set(walls.flatMap((g) => g.paths));
  const parts = walls.map((g) => ({ g, parts: partsOf(g.paths, frame, options.area) }));
  return {
    axes: parts.flatMap((x) =>
      x.parts.straight.map((p): AxisPart => ({ ...p, thicknessMm: x.g.widthMm, drawn: false })),
    ),
    curves: parts.flatMap((x) => thickCurves(x.parts.curved, () => x.g.widthMm).thick),
    left: parts.flatMap((x) => x.parts.refused),
    plain: paths.filter((p) => !taken.has(p)),
    findings: input.layersTold ? widthFindings(groups, input.footings === 'likely') : [],
  };
};

/** Axes of the walls that are drawn by their faces: the others are made to meet them. */
const drawnWalls = (lines: readonly DrawingPath[], input: HabitInput): AxisPart[] => {
  const { frame, options, footings } = input;
  const group = traceGroup(lines, { frame, area: options.area, footings, cautious: !input.layersTold });
  const shift = scale(frame.origin, frame.mmPer);
  return group.stretches.map(({ start, end, thicknessMm, sources }) => {
    const [a, b] = [sub(start, shift), sub(end, shift)];
    return { a, b, thicknessMm, drawn: true, source: sources[0]!, layer: '' };
  });
};

/** Reads the habits out of the linework of one group of layers. */
export const readHabits = (input: HabitInput): Habits => {
  const { frame, options } = input;
  const axisLayers = new Set(input.centreLines);
  const others = input.paths.filter((p) => !axisLayers.has(p));
  const widths = readWidths(
    input,
    others.filter((p) => p.fill === null),
  );
  const centre = readCentreLines(input, widths.plain);
  const lines = [...withoutParts(widths.plain, centre.taken, frame, options.area), ...widths.left, ...centre.left];
  const findings = [...widths.findings, ...centre.findings];

  const own = [...widths.axes, ...centre.axes];
  const axes = sortedAxes([...own, ...(own.length > 0 ? drawnWalls(lines, input) : [])]);
  const made = axes.length > LINES_MOST ? null : makeWalls(axes, [...widths.curves, ...centre.curves], frame);
  const outline = made && outlineOf(made.areas);
  if (made) findings.push(...madeFindings(made, frame));
  if (outline === null) findings.push(finding('trace.too-much', `${axes.length} axes of walls were left out.`));
  const pieces = outline?.pieces ?? [];

  const { judged, skipped } = judgeFills(
    others.filter((p) => p.fill !== null),
    frame,
    options.area,
  );
  const walls = judged.filter((j) => j.verdict === 'wall').map((j) => j.area);
  const drawn = partsOf(lines, frame, options.area).straight;
  const fills = walls.length > LINES_MOST ? null : fillLines(walls, [...drawn, ...pieces], frame);
  const shown = input.layersTold ? walls : (fills?.drawn ?? []);
  if (input.layersTold) findings.push(...fillFindings(judged, fills, frame, input.footings === 'likely'));

  const concrete: Area[] = [...(outline === null ? [] : made!.areas), ...(fills === null ? [] : shown)];
  return {
    paths: [
      ...lines,
      ...pieces.map((p) => linePath(frame, p)),
      ...(outline === null ? [] : [...made!.arcs, ...made!.tight]),
      ...(input.layersTold ? [...(fills?.paths ?? []), ...skipped] : others.filter((p) => p.fill !== null)),
      // Counted by pairing, which takes no fills.
      ...input.centreLines.filter((p) => p.fill !== null),
    ],
    filled: concrete.length === 0 ? null : filledBy(concrete),
    findings,
  };
};

const sortedAxes = (parts: readonly AxisPart[]): AxisPart[] =>
  [...parts].sort(
    inOrder<AxisPart>(
      (p, q) => comparePoints(p.a, q.a),
      (p, q) => comparePoints(p.b, q.b),
      byText((p) => p.source),
      (p, q) => p.thicknessMm - q.thicknessMm,
    ),
  );

/** Paths without the parts that became axes: a path of which all parts did goes whole, of others the rest stays in pieces. */
const withoutParts = (
  paths: readonly DrawingPath[],
  taken: ReadonlySet<Parts['straight'][number]>,
  frame: LocalFrame,
  area: TraceOptions['area'],
): DrawingPath[] => {
  const touched = pathsOf([...taken]);
  const gone = new Set([...taken].map((p) => `${p.source} ${p.a.x} ${p.a.y} ${p.b.x} ${p.b.y}`));
  return paths.flatMap((path) => {
    if (!touched.has(path)) return [path];
    const parts = partsOf([path], frame, area);
    const stays = parts.straight.filter((p) => !gone.has(`${p.source} ${p.a.x} ${p.a.y} ${p.b.x} ${p.b.y}`));
    const curved = parts.curved.map((p) => curvePath(frame, p));
    return [...stays.map((p) => linePath(frame, p)), ...curved, ...parts.refused];
  });
};

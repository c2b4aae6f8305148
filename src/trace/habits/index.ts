/**
 * Walls that are not drawn as two faces → linework that pairing can take like any other, and where concrete lies for certain.
 *
 * - Polylines with width: a wall of that thickness on each segment.
 * - Centre lines: layers that the job file names, or the single lines of a plan that is drawn in single lines throughout.
 *
 * The faces of their walls are made where they bound the concrete of all of them together, so corners and junctions come out as an
 * outline. Single lines in a plan of double ones are never made into walls; a question is asked instead.
 */

import type { Finding } from '../../ground/findings.js';
import { byText, comparePoints, inOrder } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { DrawingPath, TraceOptions } from '../../ground/vocabulary.js';
import type { ThicknessNote } from '../notes/thicknessNotes.js';
import type { LocalFrame } from '../segments.js';
import { filledBy } from './areas.js';
import type { AxisPart } from './axes.js';
import { findSingles, giveThickness, pathsOf, sortedParts, thicknessSources } from './centreLines.js';
import { curvePath, linePath, makeWalls, type ThickCurve } from './made.js';
import { outlineOf } from './outline.js';
import { type CurvedPart, type Parts, partsOf } from './parts.js';
import { centreFindings, madeFindings, singleFindings, unknownFindings, widthFindings } from './report.js';
import { thicknessInName } from './thickness.js';
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
  /** Layer names or the job file say that the linework is walls; else single lines are never taken for axes. */
  readonly layersTold: boolean;
}

export interface Habits {
  /** Linework to be paired, drawing units: what was drawn as faces, and the faces that were made. */
  readonly paths: readonly DrawingPath[];
  /** Is there concrete for certain at this place (local mm)? Null where nothing tells; false only means that nothing tells it here. */
  readonly filled: ((p: Vec) => boolean) | null;
  readonly findings: readonly Finding[];
}

const curveOrder = inOrder<CurvedPart>(
  (p, q) => comparePoints(p.a, q.a),
  (p, q) => comparePoints(p.b, q.b),
  byText((p) => p.source),
);

/** Curved axes with the thickness of the job file, their layer or their width; the rest as drawn. */
const thickCurves = (
  parts: readonly CurvedPart[],
  frame: LocalFrame,
  thickness: (p: CurvedPart) => number | null,
): { thick: ThickCurve[]; rest: DrawingPath[] } => {
  const thick: ThickCurve[] = [];
  const rest: DrawingPath[] = [];
  for (const part of [...parts].sort(curveOrder)) {
    const thicknessMm = thickness(part);
    if (thicknessMm !== null) thick.push({ part, thicknessMm });
    else rest.push(curvePath(frame, part));
  }
  return { thick, rest };
};

const NO_PARTS: Parts = { straight: [], curved: [], refused: [] };

/** Reads the habits out of the linework of one group of layers. */
export const readHabits = (input: HabitInput): Habits => {
  const { frame, options, notes } = input;
  const findings: Finding[] = [];
  const onCentre = input.centreLines.filter((p) => p.fill === null);
  const centreSet = new Set(onCentre);
  const others = input.paths.filter((p) => !centreSet.has(p));

  const groups = widthGroups(others, frame, options.area);
  findings.push(...widthFindings(groups));
  const wide = groups.filter((g) => g.verdict === 'wall');
  const wideSet = new Set(wide.flatMap((g) => g.paths));
  const plain = others.filter((p) => !wideSet.has(p));

  const axisParts: AxisPart[] = [];
  const curves: ThickCurve[] = [];
  const drawn: DrawingPath[] = [];
  for (const g of wide) {
    const parts = partsOf(g.paths, frame, options.area);
    axisParts.push(...parts.straight.map((p) => ({ ...p, thicknessMm: g.widthMm })));
    curves.push(...thickCurves(parts.curved, frame, () => g.widthMm).thick);
    drawn.push(...parts.refused);
  }

  const centre = onCentre.length === 0 ? NO_PARTS : partsOf(onCentre, frame, options.area);
  const lines = plain.filter((p) => p.fill === null);
  const singles = input.layersTold ? findSingles(sortedParts(partsOf(lines, frame, options.area).straight)) : null;
  const rule = singles?.rule === true;
  const candidates = sortedParts([...centre.straight, ...(rule ? (singles?.single ?? []) : [])]);
  const sources = thicknessSources(candidates, options.thicknessMm, notes, frame);
  const given = giveThickness(candidates, sources);
  axisParts.push(...given.thick.map((t) => ({ ...t.part, thicknessMm: t.thickness.thicknessMm })));
  findings.push(...centreFindings(given.thick, frame));
  const unknownCentre = given.unknown.filter((p) => centreSet.has(p.path));
  findings.push(...unknownFindings(unknownCentre, frame));
  const bent = thickCurves(centre.curved, frame, (p) => options.thicknessMm ?? thicknessInName(p.layer, frame.mmPer));
  curves.push(...bent.thick);
  drawn.push(...centre.refused, ...bent.rest);

  const takenSingles = new Set(given.thick.map((t) => t.part).filter((p) => !centreSet.has(p.path)));
  const left = (singles?.single ?? []).filter((p) => !takenSingles.has(p));
  if (rule && left.length > 0) findings.push(...singleFindings(left, 'Nothing says how thick.', frame));
  else if (!rule && left.length > 0 && options.thicknessMm !== null) {
    const why = 'Most walls here are drawn as two faces, so drawing.thicknessMm was not used for them.';
    findings.push(...singleFindings(left, why, frame));
  }
  drawn.push(...withoutParts(plain, takenSingles, frame, options.area));

  if (axisParts.length === 0 && curves.length === 0) return { paths: drawn, filled: null, findings };
  const made = makeWalls(sortedAxes(axisParts), curves, frame);
  findings.push(...madeFindings(made, frame));
  const outline = outlineOf(made.areas);
  return {
    paths: [...drawn, ...outline.pieces.map((p) => linePath(frame, p)), ...made.arcs, ...made.tight],
    filled: filledBy(made.areas),
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

/**
 * Foundation → FacePlan: joins stretches of wall into corners and junctions and says where every face of the concrete runs.
 *
 * Steps: stretches are refused or taken in (intake), squared (directions) and joined along their lines (collinear); where they meet is
 * found (joints), faces go onto the grid (grid), walls are cut where others run through (segments), vertices are placed (corners),
 * everything gets its id and stations (plan, stations, runs) and levels (levels); the outline of the concrete is made and held
 * against the drawing (outline, outlineCheck), and what looks wrong is said (suspicions).
 *
 * The result does not depend on the order of the input. Stations and thicknesses are multiples of the grid.
 */

import { arcOutline } from '../ground/arcs.js';
import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { byText, comparePoints } from '../ground/order.js';
import { sub, type Vec } from '../ground/plane.js';
import type { FaceLine, FacePlan, Foundation, LevelBand, Wall } from '../ground/vocabulary.js';
import { joinCollinear, type LocalLine } from './collinear.js';
import { faceKey, shapeJoints } from './corners.js';
import {
  type CurvedWalls,
  curvedRuns,
  curvedWallFindings,
  curvedWalls,
  levelCurves,
  notesOfCurves,
} from './curvedWalls.js';
import { withCurveEnds } from './curveEnds.js';
import { straighten } from './directions.js';
import { gapFindings, gapsOf, partedAt } from './gaps.js';
import { snapToGrid } from './grid.js';
import { takeIn } from './intake.js';
import { findJoints } from './joints.js';
import { levelWalls, steppedNodes, type WallLevels } from './levels.js';
import { withOneSided } from './oneSided.js';
import { bodiesOf, unionOf } from './outline.js';
import { checkOutline } from './outlineCheck.js';
import { placePilasters } from './pilasters.js';
import { type Drafted, draftPlan, worldOf } from './plan.js';
import { runsOf } from './runs.js';
import { withSeats } from './seats.js';
import { cutAtJoints } from './segments.js';
import { curveFindings, placeOpenings } from './specials.js';
import { withSurvey } from './survey.js';
import { lookForTrouble } from './suspicions.js';
import { nodesWith, withTangents } from './tangents.js';
import { type ThickeningRules, withThickenings } from './thickenings.js';

export { nearestWall } from './nearest.js';
export type { ThickeningRules } from './thickenings.js';
export { LEVEL_NOTE_MM } from './tolerances.js';

export interface ShapeOptions {
  /** Grid of the gear: 1 mm, or 25.4/16 mm. */
  readonly gridMm: number;
  /** Pilasters that are to be walls of their own; without it none is. */
  readonly thickenings?: ThickeningRules;
}

const isLine = (l: FaceLine): boolean => [l.from.x, l.from.y, l.to.x, l.to.y].every(Number.isFinite);

const refusedLines = (lines: readonly FaceLine[]): Finding[] =>
  lines
    .filter((l) => !isLine(l))
    .map((l) =>
      finding('shape.line-refused', 'A face line has a coordinate that is no usable number.', {
        subject: l.source,
        assumed: 'the line is not there',
      }),
    );

/** Face lines in local coordinates, each once: a line drawn twice keeps both sources. */
const localLines = (lines: readonly FaceLine[], origin: Vec): LocalLine[] => {
  const once = new Map<string, LocalLine>();
  const bySource = lines.filter(isLine).sort(byText((l) => l.source));
  for (const line of bySource) {
    const ends = [worldOf(sub(line.from, origin), { x: 0, y: 0 }), worldOf(sub(line.to, origin), { x: 0, y: 0 })];
    const [from, to] = ends.sort(comparePoints) as [Vec, Vec];
    const key = `${from.x} ${from.y} ${to.x} ${to.y}`;
    const same = once.get(key);
    once.set(key, same ? { ...same, source: `${same.source} ${line.source}` } : { from, to, source: line.source });
  }
  return [...once.values()];
};

/** The wall with its bands of levels, the outermost ones out to the salient edges. */
const withBands = (wall: Wall, segment: number, draft: Drafted, levels: WallLevels): Wall => {
  const stop = (end: 'lo' | 'hi') =>
    (['left', 'right'] as const).map((side) => draft.stops.get(faceKey(segment, end, side))!);
  const [fromMm, toMm] = [Math.min(...stop('lo')), Math.max(...stop('hi'))];
  const outwards = (bands: readonly LevelBand[]): LevelBand[] =>
    bands.map((b, i) => ({
      ...b,
      fromMm: i === 0 ? fromMm : b.fromMm,
      toMm: i === bands.length - 1 ? toMm : b.toMm,
    }));
  return { ...wall, base: outwards(levels.footing), top: outwards(levels.top) };
};

/** A plan, the findings and the curved walls beside it in one. */
const withCurves = (
  plan: FacePlan,
  curved: CurvedWalls,
  levelled: Staged<Wall[]>,
  findings: readonly Finding[],
): Staged<FacePlan> => {
  const walls = levelled.value;
  const value = {
    ...plan,
    walls: [...plan.walls, ...walls],
    nodes: [...nodesWith(plan.nodes, curved.tangents), ...curved.nodes],
    faces: [...plan.faces, ...curved.faces],
    runs: [...withTangents(plan.runs, curved.tangents), ...curvedRuns(walls, curved)],
    concrete: [...plan.concrete, ...walls.flatMap(arcOutline)],
  };
  const joined = value.nodes.filter((n) => curved.tangents.some((t) => t.node === n.id));
  const levels = value.walls.map((w) => ({ footing: w.base, top: w.top }));
  const all = [
    ...findings,
    ...steppedNodes(joined, value.walls, levels),
    ...levelled.findings,
    ...curvedWallFindings(walls),
    ...curveFindings(curved.left),
  ];
  return { value, findings: all.sort(compareFindings) };
};

/** What is said of levels, told apart by curved and straight walls. */
const levelNotes = (foundation: Foundation, curved: CurvedWalls, straight: readonly Wall[]) => {
  const near = notesOfCurves(foundation.levelsAt, (n) => n.near, curved.walls, straight);
  const steps = notesOfCurves(foundation.steps, (s) => s.at, curved.walls, straight);
  return {
    levelled: levelCurves(curved.walls, foundation.levels, near.byWall, steps.byWall),
    levelsAt: near.rest,
    steps: steps.rest,
  };
};

const emptyPlan = (foundation: Foundation, gridMm: number): FacePlan => ({
  gridMm,
  lengthUnit: foundation.lengthUnit,
  walls: [],
  nodes: [],
  faces: [],
  vertices: [],
  runs: [],
  openings: [],
  concrete: [],
});

/**
 * Shapes the plan. Never throws on input: what cannot be used is left out with a finding of severity failure.
 * @param options gridMm in mm; must be a positive number (it comes from a catalogue that has been checked), else RangeError.
 */
export const shape = (foundation: Foundation, options: ShapeOptions): Staged<FacePlan> => {
  const drawn = partedPlan(foundation, options);
  const measured = withSurvey(drawn.value, foundation.survey);
  const formed = withOneSided(measured.value, foundation.oneSided);
  const { value, findings } = withSeats(formed.value, foundation.footings, foundation.footingSaid);
  const all = [...drawn.findings, ...measured.findings, ...formed.findings, ...findings];
  return { value, findings: all.sort(compareFindings) };
};

/** The plan with walls that end at the jambs of openings without concrete over and under them. */
const partedPlan = (foundation: Foundation, options: ShapeOptions): Staged<FacePlan> => {
  const whole = drawnPlan(foundation, options);
  const gaps = gapsOf(whole.value);
  if (gaps.length === 0) return whole;
  const { value, findings } = drawnPlan(partedAt(foundation, gaps), options);
  return { value, findings: gapFindings(gaps, findings) };
};

/** The plan by its drawn levels. */
const drawnPlan = (traced: Foundation, options: ShapeOptions): Staged<FacePlan> => {
  const foundation = options.thickenings ? withThickenings(traced, options.thickenings) : traced;
  const { gridMm } = options;
  if (!(Number.isFinite(gridMm) && gridMm > 0)) throw new RangeError(`gridMm must be positive, not ${gridMm}`);
  const { origin, parts, findings: refusedStretches } = takeIn(foundation.stretches);
  const refused = [...refusedStretches, ...refusedLines(foundation.faceLines)];
  if (parts.length === 0) {
    const curved = curvedWalls(foundation, gridMm, { walls: [], nodes: [] });
    const none = finding('shape.no-walls', 'No stretch of wall is left to be joined.', {
      assumed: 'there is nothing to form',
    });
    const said = curved.walls.length === 0 ? [...refused, none] : refused;
    const { levelled } = levelNotes(foundation, curved, []);
    return withCurves(emptyPlan(foundation, gridMm), curved, levelled, said);
  }
  const lines = localLines(foundation.faceLines, origin);
  const joined = joinCollinear(straighten(parts), lines, origin);
  const met = findJoints(joined.bars, lines, origin);
  const { grid, bars } = snapToGrid(joined.bars, met.joints, gridMm);
  const cut = cutAtJoints(bars, met.joints, gridMm);
  const joints = withCurveEnds(shapeJoints(cut), foundation.curves, origin);
  const draft = draftPlan(cut, joints, grid, origin);
  const curved = curvedWalls(foundation, gridMm, draft);
  const notes = levelNotes(foundation, curved, draft.walls);
  const levelled = levelWalls(draft.walls, foundation.levels, notes.levelsAt, notes.steps, gridMm);
  const opened = placeOpenings(foundation.openings, draft.walls, levelled.levels, gridMm);
  const bodies = bodiesOf(cut, joints);
  const rings = unionOf(bodies.map((b) => b.reaching));
  const segmentOf = new Map(draft.wallOf.map((wall, segment) => [wall, segment]));
  // Ends at which a laid-out curve goes on are no trouble.
  const inLine = new Set(curved.tangents.map((t) => t.node));
  const told = joints.map((joint, j) => (inLine.has(draft.nodeOf[j]!) ? { ...joint, why: null } : joint));
  const scene = { cut, joints: told, idOf: (s: number) => draft.walls[draft.wallOf[s]!]!.id, origin };
  const walls = draft.walls.map((w, i) => withBands(w, segmentOf.get(i)!, draft, levelled.levels[i]!));
  const runs = runsOf(cut, joints, draft, walls);
  const bare = { gridMm, walls, faces: draft.faces, runs, openings: opened.value };
  const placed = placePilasters(bare, foundation.pilasters);
  const concrete =
    placed.bodies.length === 0
      ? rings
      : unionOf([...bodies.map((b) => b.reaching), ...placed.bodies.map((ring) => ring.map((p) => sub(p, origin)))]);
  const findings: Finding[] = [
    ...refused,
    ...joined.findings,
    ...met.findings,
    ...draft.findings,
    ...levelled.findings,
    ...opened.findings,
    ...placed.findings,
    ...steppedNodes(draft.nodes, draft.walls, levelled.levels),
    ...lookForTrouble(scene, bodies, draft.tooShort),
    ...checkOutline(rings, lines, cut, joints, origin),
  ];
  const value: FacePlan = {
    gridMm,
    lengthUnit: foundation.lengthUnit,
    walls,
    nodes: draft.nodes,
    faces: placed.faces,
    vertices: draft.vertices,
    runs: placed.runs,
    openings: opened.value,
    concrete: concrete.map((ring) => ring.map((p) => worldOf(p, origin))),
  };
  return withCurves(value, curved, notes.levelled, findings);
};

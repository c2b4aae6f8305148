/**
 * Trace: drawing → foundation. Which view and which layers hold the walls, in which unit, which lines are the two faces of a wall or its axis, which
 * arcs a curved wall's, where openings and pilasters are, at which levels. Everything that was inferred, repaired or left out is a finding.
 *
 * The job file decides where it speaks. Otherwise the views are judged (views/), then the layers by name and by how their lines pair
 * (candidates.ts), and the first group that yields walls is taken; with no telling name the lines alone decide, and a finding says so.
 */

import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type {
  Drawing,
  DrawingLeader,
  DrawingPath,
  DrawingText,
  Foundation,
  TraceOptions,
} from '../ground/vocabulary.js';
import {
  byLayer,
  type Candidate,
  candidates,
  centreLinePaths,
  countOf,
  layerFindings,
  visiblePaths,
} from './candidates.js';
import { type GroupWithCurves, traceGroupWithCurves } from './curves/withCurves.js';
import { footingsOf } from './footings.js';
import { withHatchLayers } from './habits/fills.js';
import { type Habits, readHabits } from './habits/index.js';
import { hiddenLayers, layerKinds } from './layers.js';
import { oneSidedNotes } from './notes/oneSidedNotes.js';
import { openingNotes } from './notes/openingNotes.js';
import { placeNotes } from './notes/placed.js';
import { type ThicknessNote, thicknessNotes } from './notes/thicknessNotes.js';
import { oneSidedFound } from './oneSided.js';
import { openingSigns } from './openingSigns.js';
import { findOpenings } from './openings.js';
import { rankCandidates } from './ranking.js';
import { groupFindings, unreadFindings } from './report.js';
import { type LocalFrame, lowerCorner } from './segments.js';
import { standingBeside } from './standing.js';
import { thicknessAgainstNotes } from './thicknessHeld.js';
import { closeOutlines } from './unclosed.js';
import { inferUnit } from './unit.js';
import { unitFindings } from './unitFindings.js';
import { chooseViews, findViews, viewsSaid, withinViews } from './views/index.js';

/** What is seen of the chosen views: nothing on layers that are off or frozen. */
interface Seen {
  readonly drawing: Drawing;
  readonly paths: readonly DrawingPath[];
  readonly texts: readonly DrawingText[];
  readonly leaders: readonly DrawingLeader[];
  /** Thicknesses that texts note. */
  readonly thicknesses: readonly ThicknessNote[];
  readonly unit: LengthUnit;
}

interface Taken {
  readonly candidate: Candidate;
  readonly group: GroupWithCurves;
  readonly habits: Habits;
  readonly frame: LocalFrame;
  readonly closed: readonly Finding[];
}

/** Where the job file names centre lines but no layer of faces, nothing is guessed beside them. */
const CENTRE_LINES_ONLY: Candidate = {
  kind: 'job',
  layers: [],
  paths: [],
  footings: 'none',
  cautious: false,
  notes: [],
};

/** Tries the groups of layers in turn; the first that yields a wall is taken, else the first of all, for what it has to say. */
const takeGroup = (
  seen: Seen,
  list: readonly Candidate[],
  options: TraceOptions,
): { readonly taken: Taken | null; readonly findings: readonly Finding[] } => {
  const findings: Finding[] = [];
  const centreLines = centreLinePaths(seen.paths, options);
  const tried = centreLines.length === 0 ? list : [...list.filter((c) => !c.cautious), CENTRE_LINES_ONLY];
  let first: Taken | null = null;
  for (const candidate of tried) {
    const { paths, cautious, footings } = candidate;
    const frame = { origin: lowerCorner([...paths, ...centreLines]), mmPer: MM_PER[seen.unit] };
    const outlines = closeOutlines(paths, frame);
    const habits = readHabits({
      paths: outlines.paths,
      centreLines,
      frame,
      options,
      notes: seen.thicknesses,
      layersTold: !cautious,
      footings,
    });
    const group = traceGroupWithCurves(habits.paths, {
      frame,
      area: options.area,
      footings,
      cautious,
      filled: habits.filled,
    });
    if (group.tooMuch) {
      const text = `The layers ${candidate.layers.join(', ')} hold ${group.segmentSet.segments.length} lines.`;
      findings.push(finding('trace.too-much', text));
    }
    const taken = { candidate, group, habits, frame, closed: outlines.findings };
    if (group.stretches.length + group.curves.length > 0) return { taken, findings };
    first ??= taken;
  }
  return { taken: first, findings };
};

/** What the taken group has to say. */
const takenFindings = (
  taken: Taken,
  groups: ReadonlyMap<string, DrawingPath[]>,
  list: readonly Candidate[],
  unit: LengthUnit,
): Finding[] => [
  ...(taken.candidate === CENTRE_LINES_ONLY ? [] : layerFindings(groups, taken.candidate, list, unit)),
  ...groupFindings(taken.group, taken.frame, taken.candidate.kind !== 'silent'),
  ...taken.habits.findings,
  ...taken.group.curveFindings,
  ...taken.closed,
];

const noWall = (groups: ReadonlyMap<string, DrawingPath[]>, list: readonly Candidate[]): Finding => {
  const where = list.length === 0 ? 'No visible layer may hold walls' : 'No pair of lines makes a wall';
  const layers = countOf(groups, [...groups.keys()]) || 'none';
  return finding('trace.no-wall', `${where}; layers with linework: ${layers}.`);
};

/**
 * Finds the walls of a drawing.
 *
 * @param drawing as read, in drawing units
 * @param options the job file's part that concerns tracing; levels in mm, places and `area` in drawing units
 * @returns the foundation in mm in the drawing's own axes, stretches by start, end and thickness. When no wall is found the lists are
 *   empty and a failure finding 'trace.no-wall' says so. Findings are in the order of compareFindings.
 */
export const trace = (drawing: Drawing, options: TraceOptions): Staged<Foundation> => {
  const visible = visiblePaths(drawing);
  const kindOf = withHatchLayers(layerKinds(options));
  const choice = chooseViews(findViews(drawing, visible.paths, kindOf), options, kindOf);
  // From here on the drawing is what stands in the chosen views.
  const viewed = withinViews(drawing, choice);
  const paths = visible.paths.filter(choice.keepsPath);
  const groups = byLayer(paths);
  const { list, findings: patterns } = candidates(viewed, groups, options);
  const evidence = list.find((c) => c.kind !== 'silent') ?? list[0];
  const named = unitFindings(viewed, inferUnit(viewed, evidence?.paths ?? []), options);
  const { unit } = named;
  const mmPer = MM_PER[unit];
  const views = viewsSaid(choice, options, mmPer);
  const hidden = hiddenLayers(drawing);
  const shown = <T extends { readonly layer: string }>(all: readonly T[]) => all.filter((x) => !hidden.has(x.layer));
  const [texts, leaders] = [shown(viewed.texts), shown(viewed.leaders)];
  const thicknesses = thicknessNotes(texts, leaders, unit);
  const seen: Seen = { drawing: viewed, paths, texts, leaders, thicknesses, unit };

  const { taken, findings: tried } = takeGroup(seen, rankCandidates(list, groups, viewed, options, unit), options);
  const curves = taken?.group.curves ?? [];
  const noted = placeNotes({
    ...seen,
    walls: taken?.group.stretches ?? [],
    curves,
    paths: taken?.candidate.paths ?? [],
    options,
  });
  const opened = findOpenings({
    stretches: taken?.group.stretches ?? [],
    faceLines: taken?.group.faceLines ?? [],
    signs: openingSigns(viewed, paths, mmPer),
    notes: openingNotes(texts, leaders, unit),
    footingMm: noted.value.levels.footingMm,
    settled: options.openings.map((o) => ({ ...o, near: { x: o.near.x * mmPer, y: o.near.y * mmPer } })),
  });
  const { stretches, faceLines, openings } = opened.value;
  const oneSided = oneSidedFound({
    isGiven: options.oneSidedGiven === true,
    notes: oneSidedNotes(texts, leaders, unit),
    standing: standingBeside(paths, stretches, taken?.candidate.layers ?? [], mmPer),
    stretches,
    curves,
  });
  const findings: Finding[] = [
    ...visible.findings,
    ...patterns,
    ...named.findings,
    ...views.findings,
    ...tried,
    ...(taken ? takenFindings(taken, groups, list, unit) : []),
    ...(taken ? unreadFindings(viewed.unreadOn, taken.candidate.layers) : []),
    ...noted.findings,
    ...opened.findings,
    ...oneSided.findings,
    ...thicknessAgainstNotes(stretches, thicknesses),
    ...(stretches.length + curves.length === 0 ? [noWall(groups, list)] : []),
  ];
  return {
    value: {
      lengthUnit: unit,
      stretches,
      faceLines,
      curves,
      openings,
      ...footingsOf(paths, taken?.group.leftOver ?? [], options, mmPer),
      pilasters: taken?.group.pilasters ?? [],
      views: views.value,
      ...(oneSided.value.length > 0 ? { oneSided: oneSided.value } : {}),
      ...noted.value,
    },
    findings: findings.sort(compareFindings),
  };
};

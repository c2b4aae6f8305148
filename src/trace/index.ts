/**
 * Trace: drawing → foundation. Which layers hold walls, in which unit, which pairs of lines are the two faces of a wall, at which levels.
 * Straight walls in any direction; curves are reported where they lie.
 *
 * The job file decides where it speaks. Otherwise layer names are ranked (layers.ts) and the first rank that yields walls is taken; with
 * no telling name the lines alone decide, and a finding says so.
 */

import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { MM_PER } from '../ground/units.js';
import type { Drawing, Foundation, TraceOptions } from '../ground/vocabulary.js';
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
import { layerKinds } from './layers.js';
import { findOpenings } from './openings.js';
import { openingSigns } from './openingSigns.js';
import { type Habits, readHabits } from './habits/index.js';
import { thicknessNotes } from './notes/thicknessNotes.js';
import { groupFindings } from './report.js';
import { type LocalFrame, lowerCorner } from './segments.js';
import { inferUnit } from './unit.js';
import { unitFindings } from './unitFindings.js';
import { chooseViews, findViews, viewsSaid, withinViews } from './views/index.js';

/**
 * Finds the walls of a drawing.
 *
 * @param drawing as read, in drawing units
 * @param options the job file's part that concerns tracing; levels in mm, `area` and `levelsAt.near` in drawing units
 * @returns the foundation in mm in the drawing's own axes, stretches by start, end and thickness. When no wall is found the lists are
 *   empty and a failure finding 'trace.no-wall' says so. Findings are in the order of compareFindings.
 */
export const trace = (drawing: Drawing, options: TraceOptions): Staged<Foundation> => {
  const visible = visiblePaths(drawing);
  const kindOf = layerKinds(options);
  const choice = chooseViews(findViews(drawing, visible.paths, kindOf), options, kindOf);
  // From here on the drawing is what stands in the chosen views.
  const viewed = withinViews(drawing, choice);
  const linework = visible.paths.filter(choice.keepsPath);
  const groups = byLayer(linework);
  const { list, findings: patterns } = candidates(viewed, groups, options);
  const evidence = list.find((c) => c.kind !== 'silent') ?? list[0];
  const named = unitFindings(viewed, inferUnit(viewed, evidence?.paths ?? []), options);
  const { unit } = named;
  const views = viewsSaid(choice, options, MM_PER[unit]);
  const { levels, findings: levelFindings } = levelsOf(options);
  const findings: Finding[] = [
    ...visible.findings,
    ...patterns,
    ...named.findings,
    ...views.findings,
    ...levelFindings,
  ];

  const centreLines = centreLinePaths(linework, options);
  const hidden = new Set(drawing.layers.filter((l) => !l.visible).map((l) => l.name));
  const seen = <T extends { readonly layer: string }>(list: readonly T[]) => list.filter((x) => !hidden.has(x.layer));
  const thick = thicknessNotes(seen(viewed.texts), seen(viewed.leaders), unit);
  let taken: { candidate: Candidate; group: GroupWithCurves; frame: LocalFrame; habits: Habits } | null = null;
  for (const candidate of list) {
    const frame = { origin: lowerCorner([...candidate.paths, ...centreLines]), mmPer: MM_PER[unit] };
    const { paths } = candidate;
    const habits = readHabits({ paths, centreLines, frame, options, notes: thick, layersTold: !candidate.cautious });
    const group = traceGroupWithCurves(habits.paths, {
      frame,
      area: options.area,
      footingsAmong: candidate.footingsAmong,
      cautious: candidate.cautious,
    });
    if (group.tooMuch) {
      const text = `The layers ${candidate.layers.join(', ')} hold ${group.segmentSet.segments.length} lines.`;
      findings.push(finding('trace.too-much', text));
    }
    // The first group is remembered for its findings even if none of them yields a wall.
    const yields = group.stretches.length + group.curves.length > 0;
    if (taken === null || yields) taken = { candidate, group, frame, habits };
    if (yields) break;
  }
  if (taken) {
    const silent = taken.candidate.kind === 'silent';
    findings.push(...layerFindings(groups, taken.candidate, list), ...groupFindings(taken.group, taken.frame, !silent));
    findings.push(...taken.habits.findings, ...taken.group.curveFindings);
  }
  const mmPer = MM_PER[unit];
  const opened = findOpenings({
    stretches: taken?.group.stretches ?? [],
    faceLines: taken?.group.faceLines ?? [],
    signs: openingSigns(viewed, linework, mmPer),
    notes: [],
    settled: options.openings.map((o) => ({ ...o, near: { x: o.near.x * mmPer, y: o.near.y * mmPer } })),
  });
  findings.push(...opened.findings);
  const { stretches, faceLines, openings } = opened.value;
  const curves = taken?.group.curves ?? [];
  if (stretches.length + curves.length === 0) {
    const where = list.length === 0 ? 'No visible layer may hold walls' : 'No pair of lines makes a wall';
    findings.push(
      finding('trace.no-wall', `${where}; layers with linework: ${countOf(groups, [...groups.keys()]) || 'none'}.`),
    );
  }
  return {
    value: {
      lengthUnit: unit,
      stretches,
      faceLines,
      curves,
      openings,
      steps: [],
      pilasters: taken?.group.pilasters ?? [],
      bars: [],
      views: views.value,
      levels,
      levelsAt: levelsAtOf(options, unit),
    },
    findings: findings.sort(compareFindings),
  };
};

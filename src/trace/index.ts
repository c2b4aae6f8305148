/**
 * Trace: drawing → foundation. Which layers hold walls, in which unit, which pairs of lines are the two faces of a wall, at which levels.
 * Straight walls in any direction; curves are reported where they lie.
 *
 * The job file decides where it speaks. Otherwise layer names are ranked (layers.ts) and the first rank that yields walls is taken; with
 * no telling name the lines alone decide, and a finding says so.
 */

import { compareFindings, type Finding, finding, type Staged } from '../ground/findings.js';
import { comparePoints, compareText } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber, roundTo } from '../ground/units.js';
import type { Drawing, DrawingPath, Foundation, Levels, LevelsAt, TraceOptions } from '../ground/vocabulary.js';
import { type TracedGroup, traceGroup } from './group.js';
import { type LayerKind, layerKind, matchesPattern } from './layers.js';
import { DEFAULT_FOOTING_MM, DEFAULT_TOP_MM } from './limits.js';
import { groupFindings } from './report.js';
import { type LocalFrame, lowerCorner } from './segments.js';
import { inferUnit, UNIT_NAME, type UnitVerdict } from './unit.js';

interface Candidate {
  /** 'job' when the job file names the layers. */
  readonly kind: LayerKind | 'job';
  readonly layers: readonly string[];
  readonly paths: readonly DrawingPath[];
}

const RANKS: readonly LayerKind[] = ['foundation-wall', 'structural-wall', 'foundation', 'wall', 'silent'];

const byLayer = (paths: readonly DrawingPath[]): Map<string, DrawingPath[]> => {
  const out = new Map<string, DrawingPath[]>();
  for (const p of paths) {
    const list = out.get(p.layer);
    if (list) list.push(p);
    else out.set(p.layer, [p]);
  }
  return new Map([...out].sort((p, q) => compareText(p[0], q[0])));
};

const countOf = (groups: ReadonlyMap<string, readonly DrawingPath[]>, names: readonly string[]): string =>
  names.map((n) => `${n} (${groups.get(n)!.length})`).join(', ');

/** Splits paths into those on visible layers and a finding for the rest. A layer that the table does not list is visible. */
const visiblePaths = (drawing: Drawing): { paths: DrawingPath[]; findings: Finding[] } => {
  const hidden = new Set(drawing.layers.filter((l) => !l.visible).map((l) => l.name));
  const paths = drawing.paths.filter((p) => !hidden.has(p.layer));
  const out = byLayer(drawing.paths.filter((p) => hidden.has(p.layer)));
  if (out.size === 0) return { paths, findings: [] };
  const text = `Layers that are off or frozen were left out: ${countOf(out, [...out.keys()])}.`;
  return { paths, findings: [finding('trace.invisible', text)] };
};

/** Line types that stand for something other than a visible edge. */
const NOT_EDGE = /center|centre|dash|dot|phantom|divide|border|hidden/i;

const candidates = (
  drawing: Drawing,
  groups: ReadonlyMap<string, DrawingPath[]>,
  options: TraceOptions,
): { list: Candidate[]; findings: Finding[] } => {
  const names = [...groups.keys()].filter((n) => !options.ignoreLayers.some((p) => matchesPattern(p, n)));
  const of = (kind: Candidate['kind'], layers: readonly string[]): Candidate => ({
    kind,
    layers,
    paths: layers.flatMap((n) => groups.get(n)!),
  });
  if (options.wallLayers.length > 0) {
    const layers = names.filter((n) => options.wallLayers.some((p) => matchesPattern(p, n)));
    const idle = [...options.wallLayers].sort(compareText).filter((p) => !layers.some((n) => matchesPattern(p, n)));
    const findings = idle.map((p) =>
      finding('trace.pattern-unmatched', `No visible layer with linework matches ${p}.`, { subject: p }),
    );
    return { list: layers.length > 0 ? [of('job', layers)] : [], findings };
  }
  const broken = new Set(drawing.layers.filter((l) => NOT_EDGE.test(l.lineType)).map((l) => l.name));
  const list = RANKS.map((kind) =>
    of(
      kind,
      names.filter((n) => layerKind(n) === kind && !(kind === 'silent' && broken.has(n))),
    ),
  ).filter((c) => c.layers.length > 0);
  return { list, findings: [] };
};

const unitFindings = (
  drawing: Drawing,
  verdict: UnitVerdict,
  options: TraceOptions,
): { unit: LengthUnit; findings: Finding[] } => {
  const { declaredUnit, declaredUnitCode } = drawing;
  const words = verdict.evidence.length > 0 ? verdict.evidence.join('; ') : '';
  const inferred = UNIT_NAME[verdict.unit];
  if (options.unit !== null) {
    const strong = verdict.unit !== options.unit && verdict.score - verdict.nextScore > 2;
    const text = `The job file says ${UNIT_NAME[options.unit]}, but the drawing speaks for ${inferred}: ${words}.`;
    return {
      unit: options.unit,
      findings: strong ? [finding('trace.unit-contradicted', text, { subject: options.unit })] : [],
    };
  }
  if (declaredUnit === verdict.unit) {
    const text =
      words === ''
        ? `The header says ${inferred}, and nothing in the drawing tells otherwise.`
        : `The header says ${inferred}, and the drawing agrees: ${words}.`;
    return { unit: verdict.unit, findings: [finding('trace.unit-agreed', text, { subject: verdict.unit })] };
  }
  const header =
    declaredUnitCode === null || declaredUnitCode === 0
      ? 'The header names no unit'
      : declaredUnit === null
        ? `The header names a unit (code ${declaredUnitCode}) that no building is drawn in`
        : `The header says ${UNIT_NAME[declaredUnit]}, which does not fit`;
  const text = `${header}; the numbers were taken as ${inferred}: ${words || 'nothing in the drawing tells, so this is a guess'}.`;
  return {
    unit: verdict.unit,
    findings: [
      finding('trace.unit-inferred', text, { subject: verdict.unit, assumed: `the drawing is in ${inferred}` }),
    ],
  };
};

const layerFindings = (
  groups: ReadonlyMap<string, DrawingPath[]>,
  taken: Candidate,
  rest: readonly Candidate[],
): Finding[] => {
  const others = [...groups.keys()].filter((n) => !taken.layers.includes(n));
  const left = others.length > 0 ? ` Left out: ${countOf(groups, others)}.` : '';
  const why: Record<Candidate['kind'], string> = {
    job: 'as the job file says',
    'foundation-wall': 'their names say foundation wall',
    'structural-wall': 'their names say structural wall',
    foundation: 'their names say foundation',
    wall: 'their names say wall, and no layer says foundation wall',
    silent: 'no layer name says wall, so the lines alone decided',
    footing: '',
    other: '',
  };
  const text = `Wall linework was taken from ${countOf(groups, taken.layers)}: ${why[taken.kind]}.${left}`;
  const out = [finding('trace.layers', text)];
  if (taken.kind === 'silent') {
    out.push(
      finding(
        'trace.layers-guessed',
        'No layer name tells which lines are walls; pairs of lines at a wall thickness were taken.',
        {
          assumed: 'parallel lines at a usual wall thickness are walls',
        },
      ),
    );
  }
  if (taken.kind === 'foundation') {
    const walls = rest.find((c) => c.kind === 'wall');
    const floor = walls ? ` The walls on ${walls.layers.join(', ')} were left out.` : '';
    out.push(
      finding('trace.layers-guessed', `Layers named for the foundation as a whole may hold footings too.${floor}`, {
        assumed: 'pairs of lines on them are walls',
      }),
    );
  }
  return out;
};

const levelsOf = (options: TraceOptions): { levels: Levels; findings: Finding[] } => {
  const { footingMm, topMm } = options.levels;
  const levels: Levels = {
    footingMm: footingMm ?? DEFAULT_FOOTING_MM,
    topMm: topMm ?? (footingMm ?? DEFAULT_FOOTING_MM) + DEFAULT_TOP_MM,
    footingFrom: footingMm === null ? 'default' : 'job',
    topFrom: topMm === null ? 'default' : 'job',
  };
  const assumed = [
    ...(footingMm === null ? [`top of the footing at ${plainNumber(levels.footingMm)} mm`] : []),
    ...(topMm === null ? [`top of the walls at ${plainNumber(levels.topMm)} mm`] : []),
  ].join(', ');
  if (assumed === '') return { levels, findings: [] };
  return { levels, findings: [finding('trace.levels-assumed', `Levels were not given: ${assumed}.`, { assumed })] };
};

const levelsAtOf = (options: TraceOptions, unit: LengthUnit): LevelsAt[] =>
  options.levelsAt
    .map((l) => ({
      ...l,
      from: 'job' as const,
      text: null,
      near: { x: roundTo(l.near.x * MM_PER[unit], 4), y: roundTo(l.near.y * MM_PER[unit], 4) },
    }))
    .sort(
      (p, q) =>
        comparePoints(p.near, q.near) || (p.footingMm ?? 0) - (q.footingMm ?? 0) || (p.topMm ?? 0) - (q.topMm ?? 0),
    );

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
  const groups = byLayer(visible.paths);
  const { list, findings: patterns } = candidates(drawing, groups, options);
  const evidence = list.find((c) => c.kind !== 'silent') ?? list[0];
  const named = unitFindings(drawing, inferUnit(drawing, evidence?.paths ?? []), options);
  const { unit } = named;
  const { levels, findings: levelFindings } = levelsOf(options);
  const findings: Finding[] = [...visible.findings, ...patterns, ...named.findings, ...levelFindings];

  let taken: { candidate: Candidate; group: TracedGroup; frame: LocalFrame } | null = null;
  for (const candidate of list) {
    const frame = { origin: lowerCorner(candidate.paths), mmPer: MM_PER[unit] };
    const group = traceGroup(candidate.paths, {
      frame,
      area: options.area,
      footingsAmong: candidate.kind === 'silent' || candidate.kind === 'foundation',
      cautious: candidate.kind === 'silent',
    });
    if (group.tooMuch) {
      const text = `The layers ${candidate.layers.join(', ')} hold ${group.segmentSet.segments.length} lines.`;
      findings.push(finding('trace.too-much', text));
    }
    // The first group is remembered for its findings even if none of them yields a wall.
    if (taken === null || group.stretches.length > 0) taken = { candidate, group, frame };
    if (group.stretches.length > 0) break;
  }
  if (taken) {
    const silent = taken.candidate.kind === 'silent';
    findings.push(...layerFindings(groups, taken.candidate, list), ...groupFindings(taken.group, taken.frame, !silent));
  }
  const stretches = taken?.group.stretches ?? [];
  if (stretches.length === 0) {
    const where = list.length === 0 ? 'No visible layer may hold walls' : 'No pair of lines makes a wall';
    findings.push(
      finding('trace.no-wall', `${where}; layers with linework: ${countOf(groups, [...groups.keys()]) || 'none'}.`),
    );
  }
  return {
    value: {
      lengthUnit: unit,
      stretches,
      faceLines: taken?.group.faceLines ?? [],
      curves: [],
      openings: [],
      steps: [],
      pilasters: [],
      bars: [],
      views: [],
      levels,
      levelsAt: levelsAtOf(options, unit),
    },
    findings: findings.sort(compareFindings),
  };
};

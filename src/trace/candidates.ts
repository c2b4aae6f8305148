/** Which layers may hold the walls, in the order in which they are tried, and what is said of the choice. */

import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import type { LengthUnit } from '../ground/units.js';
import type { Drawing, DrawingPath, TraceOptions } from '../ground/vocabulary.js';
import { hatchBase, isHatchLayerOf } from './habits/fills.js';
import { hiddenLayers, type LayerKind, matchesPattern, readName, WALL_KINDS } from './layers.js';
import { pairingOf } from './pairing.js';

export interface Candidate {
  /** 'job' when the job file names the layers. */
  readonly kind: LayerKind | 'job';
  readonly layers: readonly string[];
  readonly paths: readonly DrawingPath[];
  /** Do outlines of footings lie among the lines? */
  readonly footings: 'likely' | 'possible' | 'none';
  /** No name told: only pairs of lines that are plainly walls are to be taken. */
  readonly cautious: boolean;
  /** What is to be said if this group is taken. */
  readonly notes: readonly Finding[];
}

export const byLayer = (paths: readonly DrawingPath[]): Map<string, DrawingPath[]> => {
  const out = new Map<string, DrawingPath[]>();
  for (const p of paths) {
    const list = out.get(p.layer);
    if (list) list.push(p);
    else out.set(p.layer, [p]);
  }
  return new Map([...out].sort((p, q) => compareText(p[0], q[0])));
};

export const countOf = (groups: ReadonlyMap<string, readonly DrawingPath[]>, names: readonly string[]): string =>
  names.map((n) => `${n} (${groups.get(n)!.length})`).join(', ');

/** Splits paths into those on visible layers and a finding for the rest. */
export const visiblePaths = (drawing: Drawing): { paths: DrawingPath[]; findings: Finding[] } => {
  const hidden = hiddenLayers(drawing);
  const paths = drawing.paths.filter((p) => !hidden.has(p.layer));
  const out = byLayer(drawing.paths.filter((p) => hidden.has(p.layer)));
  if (out.size === 0) return { paths, findings: [] };
  const text = `Layers that are off or frozen were left out: ${countOf(out, [...out.keys()])}.`;
  return { paths, findings: [finding('trace.invisible', text)] };
};

/** Linework on layers that the job file calls centre lines of walls, in the order of the drawing. */
export const centreLinePaths = (paths: readonly DrawingPath[], options: TraceOptions): DrawingPath[] =>
  paths.filter((p) => options.centreLineLayers.some((pattern) => matchesPattern(pattern, p.layer)));

/** What walls whose names say that they are not to be formed are. */
const STATE_WORDS = { existing: 'standing already', demolished: 'to come down', 'not-now': 'no part of this work' };

/** Layers of walls that are not taken because of what their names say, one finding a layer. */
const refusedFindings = (groups: ReadonlyMap<string, DrawingPath[]>, names: readonly string[]): Finding[] =>
  names.flatMap((name) => {
    const { kind, asNew, state } = readName(name);
    const counted = countOf(groups, [name]);
    if (kind === 'not-cast') {
      const text = `By its name ${counted} holds walls that are not cast against forms; it was left out.`;
      return [finding('trace.not-cast', text, { subject: name, assumed: 'they are not of concrete' })];
    }
    if (kind !== 'not-new' || state === null || state === 'new' || asNew === 'silent') return [];
    const text = `By its name ${counted} is ${STATE_WORDS[state]}; it was left out.`;
    return [finding('trace.not-new', text, { subject: name, assumed: 'nothing on it is to be formed' })];
  });

/**
 * Names of line types for something other than a visible edge: AutoCAD's own (DASHED, HIDDEN, CENTER, PHANTOM, DASHDOT, BORDER, DIVIDE,
 * ACAD_ISO02W100 …) and words of other languages.
 */
const BROKEN =
  /cent(er|re)|dash|dot|phantom|divide|border|hidden|iso(0[2-9]|1\d)w|jis_0[28]|strich|punkt|gestrichelt|verdeckt|mitte|achs|tiret|pointill|interrompu|mixte|discontin|trazo|ocult|tratt|nascost|streep|stippel|штрих|пунктир|осев|przeryw|虚线|点划/iu;

export const isBroken = (lineType: string): boolean => BROKEN.test(lineType);

/** Patterns of the job file that match none of these layers. */
const unmatched = (patterns: readonly string[], layers: readonly string[]): Finding[] =>
  [...patterns]
    .sort(compareText)
    .filter((p) => !layers.some((n) => matchesPattern(p, n)))
    .map((p) => finding('trace.pattern-unmatched', `No visible layer with linework matches ${p}.`, { subject: p }));

export const candidates = (
  drawing: Drawing,
  groups: ReadonlyMap<string, DrawingPath[]>,
  options: TraceOptions,
): { list: Candidate[]; findings: Finding[] } => {
  const set = [...options.ignoreLayers, ...options.centreLineLayers, ...(options.footingLayers ?? [])];
  const names = [...groups.keys()].filter((n) => !set.some((p) => matchesPattern(p, n)));
  // Axes of walls are fetched by themselves (centreLinePaths), whatever group is taken.
  const axes = [...groups.keys()].filter((n) => options.centreLineLayers.some((p) => matchesPattern(p, n)));
  // Of layers for hatching only the fills are taken.
  const hatchLayers = (kind: Candidate['kind'], layers: readonly string[]): string[] =>
    names.filter((n) => {
      const base = hatchBase(n);
      if (base === null || layers.includes(n)) return false;
      return isHatchLayerOf(n, layers) || (kind !== 'job' && kind !== 'silent' && readName(base).kind === kind);
    });
  const of = (kind: Candidate['kind'], layers: readonly string[]): Candidate => {
    const hatched = hatchLayers(kind, layers);
    const fills = hatched.flatMap((n) => groups.get(n)!.filter((p) => p.fill !== null));
    return {
      kind,
      layers: [...layers, ...hatched.filter((n) => fills.some((p) => p.layer === n)), ...axes].sort(compareText),
      paths: [...layers.flatMap((n) => groups.get(n)!), ...fills],
      footings:
        kind === 'silent' || kind === 'foundation' || kind === 'concrete'
          ? 'likely'
          : kind === 'job'
            ? 'none'
            : 'possible',
      cautious: kind === 'silent',
      notes: [],
    };
  };
  if (options.wallLayers.length > 0) {
    const layers = names.filter((n) => options.wallLayers.some((p) => matchesPattern(p, n)));
    const findings = [...unmatched(options.wallLayers, layers), ...unmatched(options.centreLineLayers, axes)];
    return { list: layers.length + axes.length > 0 ? [of('job', layers)] : [], findings };
  }
  const broken = new Set(drawing.layers.filter((l) => isBroken(l.lineType)).map((l) => l.name));
  const list = WALL_KINDS.map((kind) =>
    of(
      kind,
      names.filter((n) => readName(n).kind === kind && !(kind === 'silent' && broken.has(n))),
    ),
  ).filter((c) => c.paths.length > 0);
  // Named axes say where the walls are: nothing is guessed among layers whose names say nothing.
  const onlyAxes = axes.length > 0 && list.every((c) => c.cautious);
  return {
    list: onlyAxes ? [of('job', [])] : list,
    findings: [...refusedFindings(groups, names), ...unmatched(options.centreLineLayers, axes)],
  };
};

/** What is said of the choice; `unit` for what share of the lines has a facing line. */
export const layerFindings = (
  groups: ReadonlyMap<string, DrawingPath[]>,
  taken: Candidate,
  rest: readonly Candidate[],
  unit: LengthUnit,
): Finding[] => {
  const others = [...groups.keys()].filter((n) => !taken.layers.includes(n));
  const pairs = pairingOf(taken.paths, unit);
  const share = Math.round(100 * pairs.share);
  const evidence =
    taken.paths.length === 0
      ? ''
      : pairs.usualMm > 0
        ? `; ${share} % of the lines' length has a facing line, mostly at ${pairs.usualMm} mm`
        : '; none of the lines has a facing line at a wall thickness';
  const left = others.length > 0 ? ` Left out: ${countOf(groups, others)}.` : '';
  const why: Partial<Record<Candidate['kind'], string>> = {
    job: 'as the job file says',
    'foundation-wall': 'their names say foundation wall',
    'structural-wall': 'their names say structural wall',
    foundation: 'their names say foundation',
    concrete: 'their names say concrete',
    wall: 'their names say wall, and no layer says foundation wall',
    silent: 'no layer name says wall, so the lines alone decided',
  };
  const text = `Wall linework was taken from ${countOf(groups, taken.layers)}: ${why[taken.kind]}${evidence}.${left}`;
  const out = [finding('trace.layers', text), ...taken.notes];
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
  if (taken.kind === 'foundation' || taken.kind === 'concrete') {
    const named = taken.kind === 'foundation' ? 'the foundation' : 'concrete';
    const walls = rest.find((c) => c.kind === 'wall');
    const floor = walls ? ` The walls on ${walls.layers.join(', ')} were left out.` : '';
    out.push(
      finding('trace.layers-guessed', `Layers named for ${named} as a whole may hold footings too.${floor}`, {
        assumed: 'pairs of lines on them are walls',
      }),
    );
  }
  return out;
};

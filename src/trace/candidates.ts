/** Which layers may hold the walls, in the order in which they are tried, and what is said of the choice. */

import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import type { Drawing, DrawingPath, TraceOptions } from '../ground/vocabulary.js';
import { type LayerKind, layerKind, matchesPattern } from './layers.js';

export interface Candidate {
  /** 'job' when the job file names the layers. */
  readonly kind: LayerKind | 'job';
  readonly layers: readonly string[];
  readonly paths: readonly DrawingPath[];
}

const RANKS: readonly LayerKind[] = ['foundation-wall', 'structural-wall', 'foundation', 'wall', 'silent'];

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

/** Splits paths into those on visible layers and a finding for the rest. A layer that the table does not list is visible. */
export const visiblePaths = (drawing: Drawing): { paths: DrawingPath[]; findings: Finding[] } => {
  const hidden = new Set(drawing.layers.filter((l) => !l.visible).map((l) => l.name));
  const paths = drawing.paths.filter((p) => !hidden.has(p.layer));
  const out = byLayer(drawing.paths.filter((p) => hidden.has(p.layer)));
  if (out.size === 0) return { paths, findings: [] };
  const text = `Layers that are off or frozen were left out: ${countOf(out, [...out.keys()])}.`;
  return { paths, findings: [finding('trace.invisible', text)] };
};

/** Line types that stand for something other than a visible edge. */
const NOT_EDGE = /center|centre|dash|dot|phantom|divide|border|hidden/i;

export const candidates = (
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

export const layerFindings = (
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

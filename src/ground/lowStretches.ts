/** Low stretches of the footing: where what falls between the forms gathers (rule T16). */

import { groupsOf } from './groups.js';
import type { FacePlan, Run, RunEnd } from './vocabulary.js';

/** The widest unit that one lifts out as a clean-out. Common practice, no source. */
export const CLEAN_OUT_MOST_MM = 600;
/** Levels that agree within this are one. */
const LEVEL_MM = 1;

const nodesOf = (run: Run): string[] => [
  ...[run.start, run.end].flatMap((e) => (e.node === null ? [] : [e.node])),
  ...run.stems.map((s) => s.node),
];

const beyondOf = (end: RunEnd): string[] => (end.kind === 'step' ? [end.beyond] : []);

/** Pairs of runs that meet: at a node or at a step. */
const meetings = ({ runs }: FacePlan): [number, number][] => {
  const pairs: [number, number][] = [];
  const byId = new Map(runs.map((r, i) => [r.id, i]));
  const atNode = new Map<string, number[]>();
  runs.forEach((run, i) => {
    for (const node of nodesOf(run)) atNode.set(node, [...(atNode.get(node) ?? []), i]);
    for (const id of [...beyondOf(run.start), ...beyondOf(run.end)]) {
      const other = byId.get(id);
      if (other !== undefined) pairs.push([i, other]);
    }
  });
  for (const list of atNode.values()) for (const a of list) for (const b of list) if (a < b) pairs.push([a, b]);
  return pairs;
};

/** Runs of one footing level that hang together and have no lower neighbour: what falls in gathers there. */
export const lowStretches = (plan: FacePlan): Run[][] => {
  const { runs } = plan;
  const pairs = meetings(plan);
  const isLevel = ([a, b]: readonly [number, number]) => Math.abs(runs[a]!.footingMm - runs[b]!.footingMm) <= LEVEL_MM;
  const lower = new Set(
    pairs.filter((p) => !isLevel(p)).map(([a, b]) => (runs[a]!.footingMm > runs[b]!.footingMm ? a : b)),
  );
  return groupsOf(runs.length, pairs.filter(isLevel))
    .filter((group) => !group.some((i) => lower.has(i)))
    .map((group) => group.map((i) => runs[i]!));
};

/**
 * What may stand where in a run, as a graph: groups at stations with the holes that are tied there, and which of a group's hinges hold it. A path
 * from a start to an end is a run that stands, loads left out of account.
 */

import { type Group, ratedOver, timberGroup, tipStripMm, type Zone } from './problem.js';

/** A place in the path: joint, whether what is left of it stands by itself, whether timber was used. */
export const nodeOf = (stationMm: number, fixed: boolean, timberUsed: boolean): string =>
  `${stationMm} ${timberUsed}:${fixed}`;

/** The joint alone: only one path is taken, so what is handed on there need not be told apart further. */
export const stationOf = (node: string): string => node.slice(0, node.indexOf(':'));

/** How a group may be held: by its left hinge, by its right hinge, by both or by its ties alone. */
export interface Mode {
  readonly from: string;
  readonly to: string;
  readonly leftHolds: boolean;
  readonly rightHolds: boolean;
}

/** A group at a station with the holes tied there. */
export interface Arc {
  readonly group: Group;
  readonly fromMm: number;
  readonly ties: readonly number[];
  readonly modes: readonly Mode[];
}

/** Stations that sums of the groups reach from the given ones, no further than the limit. */
const reach = (from: Iterable<number>, lengths: readonly number[], inside: (s: number) => boolean): Set<number> => {
  const seen = new Set(from);
  const open = [...seen];
  for (let s = open.pop(); s !== undefined; s = open.pop())
    for (const l of lengths)
      if (inside(s + l) && !seen.has(s + l)) {
        seen.add(s + l);
        open.push(s + l);
      }
  return seen;
};

const arcsOf = (zone: Zone, group: Group, fromMm: number, timberBefore: boolean): Arc[] => {
  const isTimber = group.panelMm === 0;
  const holes = group.holesMm.filter((h) => zone.mayTie(fromMm + h));
  const arcs: Arc[] = [];
  for (let set = 0; set < 2 ** holes.length; set++) {
    const ties = holes.filter((_, i) => Math.floor(set / 2 ** i) % 2 === 1);
    const modes: Mode[] = [];
    for (const leftHolds of [false, true])
      for (const rightHolds of [false, true]) {
        const at = [...ties];
        if (leftHolds) at.unshift(0);
        if (rightHolds) at.push(group.lengthMm);
        if (at.length < 2) continue;
        const tips = [at[0]!, group.lengthMm - at[at.length - 1]!];
        if (tips.some((o) => tipStripMm(zone, group, o) === null)) continue;
        const widest = Math.max(...at.slice(1).map((s, i) => s - at[i]!));
        if (ratedOver(group, widest) < zone.designKpa - 1e-9) continue;
        const from = nodeOf(fromMm, leftHolds, timberBefore);
        const to = nodeOf(fromMm + group.lengthMm, !rightHolds, timberBefore || isTimber);
        modes.push({ from, to, leftHolds, rightHolds });
      }
    if (modes.length > 0) arcs.push({ group, fromMm, ties, modes });
  }
  return arcs;
};

export const allArcs = (zone: Zone, timber: boolean): Arc[] => {
  const lengths = [...new Set(zone.groups.map((g) => g.lengthMm))];
  const first = Math.min(...zone.starts.map((s) => s.jointMm));
  const last = Math.max(...zone.ends.map((e) => e.jointMm));
  const before = reach(
    zone.starts.map((s) => s.jointMm),
    lengths,
    (s) => s <= last,
  );
  const after = reach(
    zone.ends.map((e) => e.jointMm),
    lengths.map((l) => -l),
    (s) => s >= first,
  );
  const arcs: Arc[] = [];
  for (const s of before)
    for (const g of zone.groups)
      if (before.has(s + g.lengthMm) && (timber || after.has(s + g.lengthMm))) arcs.push(...arcsOf(zone, g, s, false));
  if (!timber) return arcs;
  for (const s of after)
    for (const g of zone.groups) if (after.has(s + g.lengthMm)) arcs.push(...arcsOf(zone, g, s, true));
  for (const s of before)
    for (let f = zone.timberLeastMm; f <= zone.timberMostMm; f++) {
      if (after.has(s + f)) arcs.push(...arcsOf(zone, timberGroup(f), s, false));
    }
  return arcs;
};

/** Arcs that lie on some path from a start to an end. */
export const onPaths = (zone: Zone, arcs: readonly Arc[]): Arc[] => {
  const spread = (from: readonly string[], steps: ReadonlyMap<string, string[]>): Set<string> => {
    const seen = new Set(from);
    const open = [...from];
    for (let n = open.pop(); n !== undefined; n = open.pop())
      for (const m of steps.get(n) ?? [])
        if (!seen.has(m)) {
          seen.add(m);
          open.push(m);
        }
    return seen;
  };
  const on = new Map<string, string[]>();
  const back = new Map<string, string[]>();
  for (const { from, to } of arcs.flatMap((a) => a.modes)) {
    on.set(from, [...(on.get(from) ?? []), to]);
    back.set(to, [...(back.get(to) ?? []), from]);
  }
  const reached = spread(
    zone.starts.map((s) => nodeOf(s.jointMm, false, false)),
    on,
  );
  const leads = spread(
    zone.ends.flatMap((e) => [nodeOf(e.jointMm, true, false), nodeOf(e.jointMm, true, true)]),
    back,
  );
  return arcs
    .map((a) => ({ ...a, modes: a.modes.filter((m) => reached.has(m.from) && leads.has(m.to)) }))
    .filter((a) => a.modes.length > 0);
};

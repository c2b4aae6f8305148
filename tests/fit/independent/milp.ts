/**
 * The least cost of a run as a mixed-integer program. A binary for each group that may stand at a station, with the holes that are tied there and
 * with which of its hinges support it; they make a path from one end to the other. Statics is linear in it: for each group that stands, reactions
 * R of its ties in [0, T] with equilibrium of forces and of moments about its left edge, and what one group hands on at a joint its neighbour
 * takes up. All of that is multiplied by the binary (nothing is handed on by a group that does not stand), so no constant but a tie's working load is needed.
 *
 * Any equilibrium counts where there are more ties than statics needs (docs/decisions/0006).
 *
 * At most one strip of timber stands between the end zones, beside those on the legs.
 */

import { type Goal, IntegerProgram } from './integerProgram.js';
import {
  type Cost,
  type EndChoice,
  type Group,
  type Zone,
  loadOn,
  ratedOver,
  timberGroup,
  tipStripMm,
} from './problem.js';

/** A place in the path: joint, whether what is left of it stands by itself, whether timber was used. */
const nodeOf = (stationMm: number, fixed: boolean, timberUsed: boolean): string =>
  `${stationMm} ${timberUsed}:${fixed}`;

/** The joint alone: only one path is taken, so what is handed on there need not be told apart further. */
const stationOf = (node: string): string => node.slice(0, node.indexOf(':'));

/** How a group may be held: by its left hinge, by its right hinge, by both or by its ties alone. */
interface Mode {
  readonly from: string;
  readonly to: string;
  readonly leftHolds: boolean;
  readonly rightHolds: boolean;
}

/** A group at a station with the holes tied there. */
interface Arc {
  readonly group: Group;
  readonly fromMm: number;
  readonly ties: readonly number[];
  readonly modes: readonly Mode[];
}

export interface MilpFound {
  readonly cost: Cost;
  readonly placed: readonly { readonly group: Group; readonly fromMm: number; readonly tiesMm: readonly number[] }[];
  readonly columns: number;
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

const allArcs = (zone: Zone, timber: boolean): Arc[] => {
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
const onPaths = (zone: Zone, arcs: readonly Arc[]): Arc[] => {
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

const solveWith = (zone: Zone, timber: boolean): MilpFound | null => {
  const starts = zone.starts.filter((s) => timber || s.padMm === 0);
  const ends = zone.ends.filter((e) => timber || e.padMm === 0);
  if (starts.length === 0 || ends.length === 0) return null;
  const narrowed = { ...zone, starts, ends };
  const arcs = onPaths(narrowed, allArcs(narrowed, timber));
  if (arcs.length === 0) return null;
  const faces = [...starts, ...ends].every((e) => e.shearsMm[0] === e.shearsMm[1]) ? [0] : [0, 1];
  const program = new IntegerProgram();
  const goals: [number, number][][] = [[], [], [], [], []];
  const flow = new Map<string, [number, number][]>();
  const shear = faces.map(() => new Map<string, [number, number][]>());
  const add = (map: Map<string, [number, number][]>, key: string, ...terms: [number, number][]) => {
    const list = map.get(key);
    if (list) list.push(...terms);
    else map.set(key, [...terms]);
  };
  const cost = (column: number, parts: readonly number[]) => {
    for (const [i, p] of parts.entries()) if (p !== 0) goals[i]!.push([column, p]);
  };
  const outermost: [number, number][][] = [[], []];

  const stands = arcs.map((arc) => {
    const { group, ties, fromMm } = arc;
    const { lengthMm } = group;
    const isTimber = group.panelMm === 0;
    const units = isTimber ? 0 : 2 * (1 + group.fillersMm.length);
    const load = loadOn(zone, group, fromMm);
    const columns = arc.modes.map((mode) => {
      const z = program.column(0, 1, true);
      add(flow, mode.from, [z, -1]);
      add(flow, mode.to, [z, 1]);
      cost(z, [
        isTimber ? 1 : 0,
        isTimber ? 2 * lengthMm : 0,
        2 * group.fillersMm.length,
        zone.rows * ties.length + units,
        0,
      ]);
      if (ties.some((h) => zone.tieAtOrBefore !== null && fromMm + h <= zone.tieAtOrBefore)) outermost[0]!.push([z, 1]);
      if (ties.some((h) => zone.tieAtOrAfter !== null && fromMm + h >= zone.tieAtOrAfter)) outermost[1]!.push([z, 1]);
      return z;
    });
    const times = (factor: number): [number, number][] => columns.map((z) => [z, factor]);
    for (const face of faces) {
      const reactions = ties.map((h) => {
        const r = program.column(0, zone.tieStripMm, false);
        program.row([[r, 1], ...times(-zone.tieStripMm)], Number.NEGATIVE_INFINITY, 0);
        return [r, h] as const;
      });
      // Moments about the left edge: sum R h + right L = moment; forces: left + load = sum R + right.
      const right = [
        ...times(load.moment / lengthMm),
        ...reactions.map(([r, h]): [number, number] => [r, -h / lengthMm]),
      ];
      const left = [...times(-load.sum), ...reactions.map(([r]): [number, number] => [r, 1]), ...right];
      const negated = (terms: readonly [number, number][]) => terms.map(([c, f]): [number, number] => [c, -f]);
      for (const to of new Set(arc.modes.map((m) => stationOf(m.to)))) add(shear[face]!, to, ...right);
      for (const from of new Set(arc.modes.map((m) => stationOf(m.from)))) add(shear[face]!, from, ...negated(left));
      // Strips on the tips, where a tip is not held by its hinge; elsewhere no more than the ties can make.
      const ends = [
        {
          hangs: left,
          overMm: ties[0] ?? 0,
          held: (m: Mode) => m.leftHolds,
          most:
            load.moment / lengthMm - load.sum + ties.reduce((sum, h) => sum + zone.tieStripMm * (1 - h / lengthMm), 0),
        },
        {
          hangs: negated(right),
          overMm: lengthMm - (ties[ties.length - 1] ?? lengthMm),
          held: (m: Mode) => m.rightHolds,
          most: -load.moment / lengthMm + ties.reduce((sum, h) => sum + (zone.tieStripMm * h) / lengthMm, 0),
        },
      ];
      for (const { hangs, overMm, held, most } of ends) {
        const tip = tipStripMm(zone, group, overMm);
        if (tip === null || tip >= most) continue;
        const limit = arc.modes.map((m, i): [number, number] => [columns[i]!, held(m) ? -most : -tip]);
        program.row([...hangs, ...limit], Number.NEGATIVE_INFINITY, 0);
      }
    }
    return columns;
  });
  const choose = (choices: readonly EndChoice[], sign: 1 | -1, layers: readonly boolean[]) => {
    const all: [number, number][] = [];
    for (const choice of choices)
      for (const layer of layers) {
        const key = nodeOf(choice.jointMm, sign < 0, layer);
        if (!flow.has(key)) continue;
        const z = program.column(0, 1, true);
        all.push([z, 1]);
        add(flow, key, [z, sign]);
        // A leg at the start hands its strip on; one at the end hands it to the last group, against the direction.
        for (const face of faces) add(shear[face]!, stationOf(key), [z, choice.shearsMm[face]!]);
        cost(z, [choice.padMm > 0 ? 1 : 0, choice.padMm, choice.fillers, choice.units, choice.runPastMm]);
      }
    program.row(all, 1, 1);
  };
  choose(starts, 1, [false]);
  choose(ends, -1, timber ? [false, true] : [false]);
  for (const terms of flow.values()) program.row(terms, 0, 0);
  for (const map of shear) for (const terms of map.values()) program.row(terms, 0, 0);
  if (zone.tieAtOrBefore !== null) program.row(outermost[0]!, 1, Number.POSITIVE_INFINITY);
  if (zone.tieAtOrAfter !== null) program.row(outermost[1]!, 1, Number.POSITIVE_INFINITY);

  const longestMm = Math.max(...ends.map((e) => e.jointMm)) - Math.min(...starts.map((s) => s.jointMm));
  const mostGroups = Math.ceil(longestMm / Math.min(...zone.groups.map((g) => g.panelMm))) + 1;
  const mostFillers = Math.max(...zone.groups.map((g) => g.fillersMm.length));
  const most = [
    3,
    4 * zone.timberMostMm,
    (2 * mostGroups + 2) * mostFillers,
    (2 * zone.rows + 2 + 2 * mostFillers) * (mostGroups + 2),
    2 * Math.max(0, ...[...starts, ...ends].map((e) => e.runPastMm)),
  ];
  const solved = program.solve(goals.map((terms, i): Goal => ({ terms, most: most[i]! })));
  if (!solved) return null;
  return {
    cost: solved.goals.map((g) => Math.round(g)) as unknown as Cost,
    placed: arcs
      .filter((_, i) => stands[i]!.some((c) => solved.values[c]! > 0.5))
      .map((a) => ({ group: a.group, fromMm: a.fromMm, tiesMm: a.ties }))
      .sort((a, b) => a.fromMm - b.fromMm),
    columns: program.size.columns,
  };
};

/** Least cost; null where nothing stands. Without timber first: no place at all is the least there is. */
export const milp = (zone: Zone): MilpFound | null => solveWith(zone, false) ?? solveWith(zone, true);

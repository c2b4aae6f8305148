/**
 * The columns and rows of one run in a mixed-integer program: a binary for each group that may stand at a station, with its ties and with the hinges
 * that hold it; they make a path from one end to the other. Statics is linear in it: for each group that stands, reactions R of its ties in [0, T]
 * with equilibrium of forces and of moments about its left edge, and what one group hands on at a joint its neighbour takes up. All of that is
 * multiplied by the binary: nothing is handed on by a group that does not stand.
 *
 * Any equilibrium counts where there are more ties than statics needs (docs/decisions/0006).
 *
 * At most one strip of timber stands between the end zones, beside those on the legs.
 */

import { type Arc, allArcs, type Mode, nodeOf, onPaths, stationOf } from './arcs.js';
import type { Goal, IntegerProgram } from './integerProgram.js';
import { type EndChoice, fillersOf, type Group, loadOn, tipStripMm, unitsOf, type Zone } from './problem.js';

export interface ChosenEnd {
  readonly column: number;
  readonly choice: EndChoice;
}

export interface RunColumns {
  /** The tiers, in the order of `Cost`. */
  readonly goals: readonly Goal[];
  /** 'panel-600', 'filler-50', 'tie' → how many are taken, both faces. */
  readonly items: ReadonlyMap<string, readonly (readonly [number, number])[]>;
  readonly start: readonly ChosenEnd[];
  readonly end: readonly ChosenEnd[];
  readonly arcs: readonly Arc[];
  /** By arc: its binaries, of which one at most is 1. */
  readonly stands: readonly (readonly number[])[];
}

export const unitsIn = (group: Group): string[] =>
  group.panelMm === 0 ? [] : [`panel-${group.panelMm}`, ...group.fillersMm.map((w) => `filler-${w}`)];

/** Null where no path leads from a start to an end. */
export const addRun = (program: IntegerProgram, zone: Zone, timber: boolean): RunColumns | null => {
  const starts = zone.starts.filter((s) => timber || s.padMm === 0);
  const ends = zone.ends.filter((e) => timber || e.padMm === 0);
  if (starts.length === 0 || ends.length === 0) return null;
  const narrowed = { ...zone, starts, ends };
  const arcs = onPaths(narrowed, allArcs(narrowed, timber));
  if (arcs.length === 0) return null;
  const faces = [...starts, ...ends].every((e) => e.shearsMm[0] === e.shearsMm[1]) ? [0] : [0, 1];
  const goals: [number, number][][] = [[], [], [], [], []];
  const items = new Map<string, [number, number][]>();
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
      for (const unit of unitsIn(group)) add(items, unit, [z, 2]);
      if (ties.length > 0) add(items, 'tie', [z, zone.rows * ties.length]);
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
    const taken: ChosenEnd[] = [];
    for (const choice of choices)
      for (const layer of layers) {
        const key = nodeOf(choice.jointMm, sign < 0, layer);
        if (!flow.has(key)) continue;
        const z = program.column(0, 1, true);
        all.push([z, 1]);
        taken.push({ column: z, choice });
        if (choice.outer) for (const unit of unitsIn(choice.outer)) add(items, unit, [z, 1]);
        add(flow, key, [z, sign]);
        // A leg at the start hands its strip on; one at the end hands it to the last group, against the direction.
        for (const face of faces) add(shear[face]!, stationOf(key), [z, choice.shearsMm[face]!]);
        cost(z, [choice.padMm > 0 ? 1 : 0, choice.padMm, fillersOf(choice), unitsOf(choice), choice.runPastMm]);
      }
    program.row(all, 1, 1);
    return taken;
  };
  const start = choose(starts, 1, [false]);
  const end = choose(ends, -1, timber ? [false, true] : [false]);
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
  return {
    goals: goals.map((terms, i) => ({ terms, most: most[i]! })),
    items,
    start,
    end,
    arcs,
    stands,
  };
};

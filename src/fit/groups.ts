/**
 * Rigid groups: a panel with stiff fillers at its edges, which moves as one between two hinged joints (rule T10), and the ways to tie it.
 */

import { compareVectors } from '../ground/order.js';
import type { FillerSet, Gear, Panel } from './gear.js';
import { tiedOnSide } from './turned.js';

export interface Group {
  readonly lengthGu: number;
  readonly panel: Panel;
  /** Fillers at the edge of lower station, and at the other. */
  readonly low: FillerSet | null;
  readonly high: FillerSet | null;
  readonly fillerCount: number;
  /** Tie holes from the group's lower edge. */
  readonly holesGu: readonly number[];
}

/**
 * A group together with the holes that are tied; at most two, since a third adds a tie and takes away no mechanism. Only a panel on its side takes
 * more: its span along the wall asks for them.
 */
export interface TiedGroup {
  readonly group: Group;
  readonly tiesGu: readonly number[];
  /** Place in the order of preference: wide first, no fillers first, the hole after the joint first. */
  readonly rank: number;
}

/** Moment in the stiff joint of a filler of width f in a group of length L: p f (L - f) / 2, kNm per m of height (rule T10). */
const jointHolds = (set: FillerSet | null, lengthGu: number, gridMm: number, pressureKpa: number): boolean => {
  if (!set) return true;
  const f = (set.widthGu * gridMm) / 1000;
  const l = (lengthGu * gridMm) / 1000;
  return (pressureKpa * f * (l - f)) / 2 <= set.momentKnmPerM + 1e-9;
};

export const makeGroup = (panel: Panel, low: FillerSet | null, high: FillerSet | null): Group => {
  const shift = low?.widthGu ?? 0;
  return {
    lengthGu: shift + panel.widthGu + (high?.widthGu ?? 0),
    panel,
    low,
    high,
    fillerCount: (low?.widthsGu.length ?? 0) + (high?.widthsGu.length ?? 0),
    holesGu: panel.holesGu.map((h) => h + shift),
  };
};

/** Do the stiff joints of the group carry the pressure? */
export const fillerHolds = (group: Group, gridMm: number, pressureKpa: number): boolean =>
  jointHolds(group.low, group.lengthGu, gridMm, pressureKpa) &&
  jointHolds(group.high, group.lengthGu, gridMm, pressureKpa);

/**
 * Groups for the stretch between corners: up to two fillers at one edge, or one at each. Preferred first: wide panels, few fillers, filler at the far edge.
 */
export const stretchGroups = (gear: Gear, pressureKpa: number): Group[] => {
  const single = gear.fillerSets.filter((set) => set.widthsGu.length === 1);
  return gear.panels.flatMap((panel) => [
    makeGroup(panel, null, null),
    ...[
      ...gear.fillerSets.flatMap((set) => [makeGroup(panel, null, set), makeGroup(panel, set, null)]),
      ...single.flatMap((low) => single.map((high) => makeGroup(panel, low, high))),
    ].filter((group) => fillerHolds(group, gear.gridMm, pressureKpa)),
  ]);
};

/** Rigid groups by length, made once for a gear and a pressure: corners and tees ask for them many times. */
const exactTables = new WeakMap<Gear, Map<string, ReadonlyMap<number, Group>>>();

const exactTable = (gear: Gear, pressureKpa: number, both: boolean): ReadonlyMap<number, Group> => {
  const tables = exactTables.get(gear) ?? new Map<string, ReadonlyMap<number, Group>>();
  exactTables.set(gear, tables);
  const key = `${pressureKpa}|${both}`;
  const held = tables.get(key);
  if (held) return held;
  const table = new Map<number, Group>();
  const offer = (panel: Panel, low: FillerSet | null, high: FillerSet | null) => {
    // Most combinations lose by their number of fillers: that is looked at before anything is made.
    const lengthGu = panel.widthGu + (low?.widthGu ?? 0) + (high?.widthGu ?? 0);
    const fillers = (low?.widthsGu.length ?? 0) + (high?.widthsGu.length ?? 0);
    const best = table.get(lengthGu);
    if ((best && fillers >= best.fillerCount) || !spanHolds(panel, lengthGu, pressureKpa)) return;
    const g = makeGroup(panel, low, high);
    if (fillerHolds(g, gear.gridMm, pressureKpa)) table.set(lengthGu, g);
  };
  for (const panel of gear.panels) {
    offer(panel, null, null);
    for (const high of gear.fillerSets) {
      offer(panel, null, high);
      if (both) for (const low of gear.fillerSets) offer(panel, low, high);
    }
  }
  tables.set(key, table);
  return table;
};

/** The group of exactly this length with the fewest fillers; fillers at the far edge only, or at both where `both` allows it. */
export const exactGroup = (gear: Gear, lengthGu: number, pressureKpa: number, both: boolean): Group | null =>
  exactTable(gear, pressureKpa, both).get(lengthGu) ?? null;

/** Does the panel carry the pressure over this span between supports (rule T11)? */
export const spanHolds = (panel: Panel, spanGu: number, pressureKpa: number): boolean => {
  const ratio = Math.min(1, panel.ratedSpanGu / Math.max(spanGu, 1));
  return pressureKpa <= panel.ratedKpa * ratio ** panel.spanExponent + 1e-9;
};

/** Every group with every set of at most two tied holes, in the order of preference. */
export const tiedGroups = (groups: readonly Group[]): TiedGroup[] => {
  const all: { group: Group; tiesGu: number[] }[] = [];
  for (const group of groups) {
    const { holesGu } = group;
    if (group.panel.turned) {
      all.push(...tiedOnSide(holesGu).map((tiesGu) => ({ group, tiesGu })));
      continue;
    }
    all.push({ group, tiesGu: [] });
    holesGu.forEach((a, i) => {
      all.push({ group, tiesGu: [a] });
      for (const b of holesGu.slice(i + 1)) all.push({ group, tiesGu: [a, b] });
    });
  }
  const key = (t: { group: Group; tiesGu: number[] }) => [
    -t.group.panel.widthGu,
    t.group.fillerCount,
    t.group.low ? 1 : 0,
    t.group.lengthGu,
    t.tiesGu.length,
    ...t.tiesGu,
  ];
  return all.sort((a, b) => compareVectors(key(a), key(b))).map((t, rank) => ({ ...t, rank }));
};

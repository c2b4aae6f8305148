/**
 * Unsafe layouts and inputs, planted one at a time into good ones: what the check and the job file's schema must say of each. The list is the trial's own; the
 * results stand in docs/reference/planted-faults.md, made from a run of it.
 */

import { demoCatalogueFile } from '../../src/catalogue/demo.js';
import { loadCatalogue } from '../../src/catalogue/index.js';
import { check, pressureCase } from '../../src/check/index.js';
import type { Finding } from '../../src/ground/findings.js';
import type { ClampItem, Layout, ModelBar, Piece, Tie } from '../../src/ground/vocabulary.js';
import { parseJob } from '../../src/pipeline/index.js';
import { planOf, roomStretches, type Scene, sceneOf, stretch, WORKED_CONCRETE } from '../check/support.js';
import { workedExampleCatalogue } from './exampleCatalogue.js';

export interface PlantedFault {
  readonly what: string;
  /** Where: a layout, the load on it, the gear, the job file, the catalogue. */
  readonly kind: 'layout' | 'load' | 'gear' | 'job file' | 'catalogue';
  /** Codes of the failures that follow, each once, in order of code. */
  readonly failures: () => readonly string[];
}

const failuresOf = (findings: readonly Finding[]): string[] =>
  [...new Set(findings.filter((f) => f.severity === 'failure').map((f) => f.code))].sort();

const clampItem = (id: string, most: number, pullKn: number): ClampItem => ({
  id,
  closesMm: { least: 0, most },
  pullKn,
  shearKn: pullKn,
  mostSpacingMm: 600,
  mostFromEndMm: 300,
  massKg: 3,
});

const CLAMPS = [clampItem('near', 5, 30), clampItem('far', 300, 30)];
const gear = { ...workedExampleCatalogue, clamps: CLAMPS, timber: { thicknessMm: 27, bendingMpa: 8, shearMpa: 0.9 } };

const once = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};

/** The good layouts: a room, one with a stem, a higher one, a wall with two free ends. */
export const GOOD: Readonly<Record<'room' | 'tee' | 'straight' | 'high', () => Scene>> = {
  room: once(() => sceneOf(planOf(roomStretches(6350, 4300, 200), 2350), gear)),
  tee: once(() => sceneOf(planOf([...roomStretches(8500, 4000, 250), stretch(3700, 0, 3700, 4000, 200)], 2350), gear)),
  high: once(() => sceneOf(planOf(roomStretches(3000, 2000, 200), 3550), gear)),
  straight: once(() => sceneOf(planOf([stretch(0, 0, 6000, 0, 250, [true, true])], 2350), gear)),
};

const alter = (scene: Scene, change: (layout: Layout) => Partial<Layout>): Scene => ({
  ...scene,
  layout: { ...scene.layout, ...change(scene.layout) },
});

const tiesBut = (scene: Scene, gone: (tie: Tie, all: readonly Tie[]) => boolean): Scene =>
  alter(scene, ({ ties }) => ({ ties: ties.filter((t) => !gone(t, ties)) }));

const tie = (scene: Scene, pick: (t: Tie) => boolean, change: (t: Tie) => Partial<Tie>): Scene => {
  const one = scene.layout.ties.find(pick)!;
  return alter(scene, ({ ties }) => ({ ties: ties.map((t) => (t === one ? { ...t, ...change(t) } : t)) }));
};

const piecesBut = (scene: Scene, pick: (p: Piece) => boolean): Scene => {
  const one = scene.layout.pieces.find(pick)!;
  return alter(scene, ({ pieces }) => ({ pieces: pieces.filter((p) => p !== one) }));
};

const piece = (scene: Scene, pick: (p: Piece) => boolean, change: (p: Piece) => Partial<Piece>): Scene => {
  const one = scene.layout.pieces.find(pick)!;
  return alter(scene, ({ pieces }) => ({ pieces: pieces.map((p) => (p === one ? { ...p, ...change(p) } : p)) }));
};

const covers = (p: Piece, by: { from?: number; to?: number; base?: number; top?: number }): Partial<Piece> => ({
  covers: p.covers.map((c) => ({
    ...c,
    fromMm: c.fromMm + (by.from ?? 0),
    toMm: c.toMm + (by.to ?? 0),
    baseMm: c.baseMm + (by.base ?? 0),
    topMm: c.topMm + (by.top ?? 0),
  })),
  baseMm: p.baseMm + (by.base ?? 0),
  topMm: p.topMm + (by.top ?? 0),
});

/** The same layout under another pressure. */
const poured = (scene: Scene, change: Partial<typeof WORKED_CONCRETE>): Scene => {
  const other = sceneOf(scene.plan, scene.catalogue, { ...WORKED_CONCRETE, ...change });
  return { ...scene, demands: other.demands, pressure: other.pressure };
};

const isPanel = (p: Piece): boolean => p.kind === 'panel';
const widePanel = (p: Piece): boolean => p.item === 'panel-600x2400';
/** Station at which the n-th column of ties of a wall stands. */
const column = (scene: Scene, wall: string, n: number): number =>
  [...new Set(scene.layout.ties.filter((t) => t.wall === wall).map((t) => t.stationMm))].sort((a, b) => a - b)[n]!;

const { room, tee, straight, high } = GOOD;
const firstWall = (scene: Scene): string => scene.layout.ties[0]!.wall;

const bar = (x: number, y: number): ModelBar => ({
  id: 'bar',
  name: null,
  diameterMm: 16,
  line: 0,
  path: [
    { x, y, z: 0 },
    { x, y, z: 2300 },
  ],
});

type Checked = Parameters<typeof check>[0];
const of = (what: string, make: () => Checked, kind: PlantedFault['kind'] = 'layout'): PlantedFault => ({
  what,
  kind,
  failures: () => failuresOf(check(make()).findings),
});

const clamped = (
  what: string,
  change: (clamps: ReturnType<typeof check>['value']['clamps']) => ReturnType<typeof check>['value']['clamps'],
) => of(what, () => ({ ...room(), clamps: change(check(room()).value.clamps) }));

const LAYOUTS: readonly PlantedFault[] = [
  of('a tie of the lowest row is missing', () => tiesBut(room(), (t, all) => t === all.find((x) => x.row === 1))),
  of('a tie of the top row is missing', () => {
    const top = Math.max(...room().layout.ties.map((t) => t.row));
    return tiesBut(room(), (t, all) => t === all.find((x) => x.row === top));
  }),
  of('the column of ties beside a corner is missing', () =>
    tiesBut(room(), (t) => t.wall === firstWall(room()) && t.stationMm === column(room(), t.wall, 0)),
  ),
  of('a column of ties in the middle of a wall is missing', () =>
    tiesBut(room(), (t) => t.wall === firstWall(room()) && t.stationMm === column(room(), t.wall, 4)),
  ),
  of('every second column of ties of a wall is missing', () => {
    const w = firstWall(room());
    const out = new Set([1, 3, 5, 7].map((n) => column(room(), w, n)));
    return tiesBut(room(), (t) => t.wall === w && out.has(t.stationMm));
  }),
  of('a whole row of ties of a wall is missing', () =>
    tiesBut(room(), (t) => t.wall === firstWall(room()) && t.row === 2),
  ),
  of('all ties of a wall are missing', () => tiesBut(room(), (t) => t.wall === firstWall(room()))),
  of('the ties beside a stem are missing', () => {
    const stem = tee().plan.runs.find((r) => r.stems.length > 0)!;
    const near = [
      ...new Set(
        tee()
          .layout.ties.filter((t) => t.wall === stem.wall && t.stationMm < stem.stems[0]!.fromMm)
          .map((t) => t.stationMm),
      ),
    ].sort((a, b) => b - a)[0];
    return tiesBut(tee(), (t) => t.wall === stem.wall && t.stationMm === near);
  }),
  of('the tie behind a bulkhead is missing', () => tiesBut(straight(), (t) => t.outsideConcrete)),
  of('a tie is drilled 20 mm beside its hole', () =>
    tie(
      room(),
      (t) => t.row === 1,
      (t) => ({ stationMm: t.stationMm + 20 }),
    ),
  ),
  of('a tie stands on the joint and not in a hole', () =>
    tie(
      room(),
      (t) => t.row === 1,
      (t) => ({ stationMm: t.stationMm + 50 }),
    ),
  ),
  of('a tie is 40 mm above its row', () =>
    tie(
      room(),
      (t) => t.row === 2,
      (t) => ({ levelMm: t.levelMm + 40 }),
    ),
  ),
  of('a tie names a hole that its panel does not have', () =>
    tie(
      room(),
      (t) => t.row === 2,
      () => ({ holes: [99, 99] }),
    ),
  ),
  of('a tie names a panel on one face only', () =>
    tie(
      room(),
      (t) => t.row === 2,
      (t) => ({ pieces: [t.pieces[0], t.pieces[0]] }),
    ),
  ),
  of('a tie for thicker walls is taken', () =>
    tie(
      room(),
      (t) => t.row === 2,
      () => ({ item: 'tie-long' }),
    ),
  ),
  of('a tie of an item that the yard does not have', () =>
    tie(
      room(),
      (t) => t.row === 2,
      () => ({ item: 'tie-unknown' }),
    ),
  ),
  of('a tie runs through a stem', () => {
    const run = tee().plan.runs.find((r) => r.stems.length > 0)!;
    const { fromMm, toMm } = run.stems[0]!;
    return tie(
      tee(),
      (t) => t.wall === run.wall && t.row === 2,
      () => ({ stationMm: (fromMm + toMm) / 2 }),
    );
  }),
  of('a tie that is counted stands beyond the end of the wall', () =>
    tie(
      straight(),
      (t) => t.row === 1 && t.stationMm > 2000,
      () => ({ stationMm: 6400 }),
    ),
  ),
  of('a tie meets a bar', () => {
    const t = room().layout.ties.find((x) => x.row === 2)!;
    const w = room().plan.walls.find((x) => x.id === t.wall)!;
    const share = t.stationMm / w.lengthMm;
    const at = { x: w.start.x + (w.end.x - w.start.x) * share, y: w.start.y + (w.end.y - w.start.y) * share };
    return { ...room(), inTheWay: { bars: [bar(at.x, at.y)], obstacles: [], clearMm: 20 } };
  }),
  of('a panel is missing', () => piecesBut(room(), widePanel)),
  of('an inside corner is missing', () => piecesBut(room(), (p) => p.kind === 'inside-corner')),
  of('an outside corner is missing', () => piecesBut(room(), (p) => p.kind === 'outside-corner')),
  of('a filler is missing', () => piecesBut(room(), (p) => p.kind === 'filler')),
  of('a panel is set 30 mm along the wall', () => piece(room(), widePanel, (p) => covers(p, { from: 30, to: 30 }))),
  of('a panel is set 50 mm too high', () => piece(room(), widePanel, (p) => covers(p, { base: 50, top: 50 }))),
  of('a panel of 500 stands where 600 are to be closed', () =>
    piece(room(), widePanel, () => ({ item: 'panel-500x2400' })),
  ),
  of('a panel of 1800 stands where 2350 are to be poured', () =>
    piece(room(), widePanel, (p) => ({ item: 'panel-600x1800', ...covers(p, { top: -600 }) })),
  ),
  of('a panel that the yard does not have', () => piece(room(), widePanel, () => ({ item: 'panel-610x2400' }))),
  of('a panel lies on its side without leave', () => piece(room(), widePanel, () => ({ turned: true }))),
  of('a panel stands twice', () =>
    alter(room(), ({ pieces }) => ({ pieces: [...pieces, { ...pieces.find(isPanel)!, id: 'P9999' }] })),
  ),
  of('a panel stands below the footing', () => piece(room(), widePanel, (p) => covers(p, { base: -75, top: -75 }))),
  of('timber of 8 mm is to be cut', () =>
    alter(room(), ({ pieces }) => {
      const p = pieces.find((x) => x.kind === 'filler')!;
      const [c] = p.covers;
      return {
        pieces: pieces.map((x) =>
          x === p ? { ...p, kind: 'timber' as const, item: null, covers: [{ ...c!, toMm: c!.fromMm + 8 }] } : x,
        ),
      };
    }),
  ),
  of('a strip of timber takes the place of a panel', () =>
    piece(room(), widePanel, () => ({ kind: 'timber', item: null })),
  ),
  of('a group of units holds one that does not stand in it', () =>
    alter(room(), ({ groups, pieces }) => ({
      groups: groups.map((g, i) => (i === 0 ? { ...g, pieces: [...g.pieces, pieces.at(-1)!.id] } : g)),
    })),
  ),
  clamped('a clamp is missing', (all) => all.slice(1)),
  clamped('all clamps of a joint are missing', (all) => all.filter((c) => c.pieces.join() !== all[0]!.pieces.join())),
  clamped('no clamp is set at all', () => []),
  clamped('the clamps of a joint stand all at its foot', (all) => {
    const own = all.filter((c) => c.pieces.join() === all[0]!.pieces.join());
    return all.map((c) => (own.includes(c) ? { ...c, levelMm: 100 + 25 * own.indexOf(c) } : c));
  }),
  clamped('a clamp for touching frames is set over a filler', (all) =>
    all.map((c) => (c.gapMm > 5 ? { ...c, item: 'near' } : c)),
  ),
];

const LOADS: readonly PlantedFault[] = [
  of('the concrete rises three times as fast', () => poured(high(), { rateMPerH: 4.4 }), 'load'),
  of(
    'the concrete has 2 degrees C and not 15, at 2 m/h',
    () => poured(high(), { rateMPerH: 2, temperatureC: 2 }),
    'load',
  ),
  of(
    'a retarder is added at 2 m/h',
    () => poured(high(), { rateMPerH: 2, temperatureC: 10, chemistryCoefficient: 1.4 }),
    'load',
  ),
  of('the concrete flows: slump 220 mm, full head', () => poured(high(), { slumpMm: 220 }), 'load'),
  of('self-compacting concrete, full head', () => poured(high(), { selfCompacting: true }), 'load'),
  of('pumped from the foot', () => poured(high(), { pumpedFromBase: true }), 'load'),
  of('vibrators outside the forms', () => poured(high(), { externalVibration: true }), 'load'),
  of('heavy concrete of 3800 kg/m3 at 2 m/h', () => poured(high(), { densityKgPerM3: 3800, rateMPerH: 2 }), 'load'),
  {
    what: 'a pressure method asked beyond its range: DIN 18218 at 9 m/h',
    kind: 'load',
    failures: () =>
      failuresOf(
        pressureCase(
          {
            method: 'din-18218',
            rateMPerH: 9,
            temperatureC: 15,
            densityKgPerM3: 2500,
            consistency: 'F3',
            settingTimeH: 5,
          } as Parameters<typeof pressureCase>[0],
          3000,
        ).findings,
      ),
  },
  {
    what: 'CIRIA 108 at 35 degrees C',
    kind: 'load',
    failures: () =>
      failuresOf(
        pressureCase(
          { method: 'ciria-108', rateMPerH: 2, temperatureC: 35, densityKgPerM3: 2500, c2: 0.3 } as Parameters<
            typeof pressureCase
          >[0],
          3000,
        ).findings,
      ),
  },
];

const withGear = (change: (g: typeof gear) => Partial<Scene['catalogue']>): Scene => ({
  ...room(),
  catalogue: { ...gear, ...change(gear) },
});

const GEAR: readonly PlantedFault[] = [
  of(
    'ties of half the working load',
    () => withGear((g) => ({ ties: g.ties.map((t) => ({ ...t, workingLoadKn: t.workingLoadKn / 2 })) })),
    'gear',
  ),
  of(
    'panels rated 40 kPa under 43',
    () => withGear((g) => ({ units: g.units.map((u) => (u.kind === 'panel' ? { ...u, ratedKpa: 40 } : u)) })),
    'gear',
  ),
  of(
    'inside corners rated 30 kPa',
    () => withGear((g) => ({ units: g.units.map((u) => (u.kind === 'inside-corner' ? { ...u, ratedKpa: 30 } : u)) })),
    'gear',
  ),
  of(
    'fillers whose stiff joint carries a tenth',
    () => withGear((g) => ({ units: g.units.map((u) => (u.kind === 'filler' ? { ...u, momentKnmPerM: 0.05 } : u)) })),
    'gear',
  ),
  of('panels that may stand out 20 mm beyond a tie', () => withGear(() => ({ overhangMm: 20 })), 'gear'),
  of('clamps of 2 kN', () => withGear(() => ({ clamps: [clampItem('weak', 300, 2)] })), 'gear'),
  of(
    'clamps that close over nothing but touching frames',
    () => withGear(() => ({ clamps: [clampItem('near', 5, 30)] })),
    'gear',
  ),
  of(
    'ties that fit walls from 300 on',
    () => withGear((g) => ({ ties: g.ties.map((t) => ({ ...t, wallMm: { fromMm: 300, toMm: 600 } })) })),
    'gear',
  ),
];

const job = (what: string, value: unknown): PlantedFault => ({
  what,
  kind: 'job file',
  failures: () => failuresOf(parseJob(value).findings),
});

const JOBS: readonly PlantedFault[] = [
  job('a temperature of 59 taken as degrees C', { concrete: { rateMPerH: 1.5, temperatureC: 59 } }),
  job('a temperature of 15 taken as degrees F', { concrete: { rateFtPerH: 5, temperatureF: 15 } }),
  job('a density of 2.4', { concrete: { densityKgPerM3: 2.4 } }),
  job('a density of 150 lb/ft3 given as kg/m3', { concrete: { densityKgPerM3: 150 } }),
  job('a density of 2400 given as lb/ft3', { concrete: { densityPcf: 2400 } }),
  job('a negative rate of rise', { concrete: { rateMPerH: -1 } }),
  job('a rate of rise of 1500 (mm/h) as m/h', { concrete: { rateMPerH: 1500 } }),
  job('a rate that is a text', { concrete: { rateMPerH: '1.5 m/h' } }),
  job('a rate that is no number', { concrete: { rateMPerH: Number.NaN } }),
  job('SI and US units mixed', { concrete: { rateMPerH: 1.5, temperatureF: 59 } }),
  job('the US method with SI values', { concrete: { method: 'aci-347-us', rateMPerH: 1.5, temperatureC: 15 } }),
  job('a pressure method that nobody knows', { concrete: { method: 'aci-347' } }),
  job('a pour height below nothing', { concrete: { pourHeightMm: -2400 } }),
  job('a slump of 7 (inches) as a negative', { concrete: { slumpMm: -7 } }),
  job('a key that does not exist', { concrete: { rate: 1.5 } }),
  job('walls whose top lies below their footing', { levels: { footingMm: 2350, topMm: 0 } }),
];

const yard = (what: string, change: Record<string, unknown>): PlantedFault => ({
  what,
  kind: 'catalogue',
  failures: () => failuresOf(loadCatalogue({ ...demoCatalogueFile, ...change }).findings),
});
const demoTie = (demoCatalogueFile.ties as Record<string, unknown>[])[0]!;

const YARDS: readonly PlantedFault[] = [
  yard('a working load above the ultimate load', { ties: [{ ...demoTie, workingLoadKn: 60 }] }),
  yard('a working load of nothing', { ties: [{ ...demoTie, workingLoadKn: 0 }] }),
  yard('a flange pitch of nothing', { pitchMm: 0 }),
  yard('a rating of 2000 (kg/m2) as kPa', {
    units: (demoCatalogueFile.units as Record<string, unknown>[]).map((u) => ({ ...u, ratedKpa: 2000 })),
  }),
  yard('no panel at all', {
    units: (demoCatalogueFile.units as Record<string, unknown>[]).filter((u) => u.kind !== 'panel'),
  }),
];

export const PLANTED_FAULTS: readonly PlantedFault[] = [...LAYOUTS, ...LOADS, ...GEAR, ...JOBS, ...YARDS].map(
  (fault) => ({
    ...fault,
    failures: once(fault.failures),
  }),
);

/** The trial as a page. */
export const plantedFaultsText = (): string => {
  const rows = PLANTED_FAULTS.map(({ what, kind, failures }, i) => {
    const found = failures().map((c) => `\`${c}\``);
    return `| ${i + 1} | ${kind} | ${what} | ${found.length > 0 ? found.join(', ') : '**none**'} |`;
  });
  return [
    '# Planted faults',
    '',
    `${PLANTED_FAULTS.length} unsafe layouts and inputs, each planted by itself into a layout, a job file or a catalogue that has no failure, and what the program says of it: a failure in every case, or the test of this page fails.`,
    'The layouts are a room of 6350 by 4300 with walls of 200, one of 8500 by 4000 with walls of 250 and a stem, and a wall of 6000 with two free ends, all 2350 high, and for the loads a room of 3000 by 2000 that is 3550 high, at 43 kPa by ACI 347, with the gear of the worked examples. An edited layout is checked as it stands; nothing is laid out anew.',
    '',
    '| | planted in | fault | failures |',
    '|---|---|---|---|',
    ...rows,
    '',
    'This page is made by `npm run docs`; `tests/check/plantedFaults.test.ts` runs the trial.',
    '',
  ].join('\n');
};

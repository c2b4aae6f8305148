/**
 * Rates of rise (rule T20): the fastest that everything in a layout carries, by temperature, beside the least that places concrete in time and what the supply makes.
 *
 * The method is run forwards at every rate that is tried, cases, floors, caps and limits included; no formula is inverted. What the forms carry comes from
 * capacity.ts. A fluid's pressure rises with depth at one slope whatever the rate, so a pour is held where its design pressure is not more than its forms carry.
 */

import { MM_PER } from '../ground/units.js';
import type {
  CarriedPressure,
  LimitItem,
  PourSupply,
  PressureCase,
  RateCase,
  RateLimit,
  Rates,
  RateUnits,
} from '../ground/vocabulary.js';
import { type Capacity, capacityOf, failingAt, type RunAlone, runsAlone } from './capacity.js';
import type { ClampedJoint } from './clamps/findings.js';
import type { ConcreteInputs } from './concrete.js';
import type { Context } from './context.js';
import { pressureCase } from './pressure.js';
import type { WallLoad } from './ratings.js';

/** What is poured at once, as the caller counted it. */
export interface PourAmount {
  readonly pour: string | null;
  readonly planAreaM2: number;
  readonly volumeM3: number;
}

export interface RateQuestion {
  readonly concrete: ConcreteInputs;
  readonly pours: readonly PourAmount[];
  /** Concrete that comes to a pour, m3/h; null: not stated. */
  readonly supplyM3PerH: number | null;
}

/** Rates that are tried, and temperatures of the table, in either system; a layer is covered in time at the floor (rule T20: 0.5 m/h, common practice). */
const BY_UNITS = {
  si: {
    least: 0.1,
    most: 50,
    temperatures: [5, 10, 15, 20, 25],
    faster: 0.5,
    colder: 5,
    mPerH: 1,
    rate: 'm/h',
    degrees: '°C',
  },
  us: {
    least: 0.3,
    most: 165,
    temperatures: [40, 50, 60, 70, 80, 90],
    faster: 1.5,
    colder: 10,
    mPerH: MM_PER.ft / 1000,
    rate: 'ft/h',
    degrees: '°F',
  },
} as const;
const FLOOR_M_PER_H = 0.5;
/** The bisection ends here, in the rate's own unit. */
const CLOSE = 1e-6;
/** Rounding of pressures that are compared, kPa. */
const SAME_KPA = 1e-9;

const unitsOf = (c: ConcreteInputs): RateUnits => (c.method === 'aci-347-us' ? 'us' : 'si');
const rateOf = (c: ConcreteInputs): number => (c.method === 'aci-347-us' ? c.rateFtPerH : c.rateMPerH);
const temperatureOf = (c: ConcreteInputs): number => (c.method === 'aci-347-us' ? c.temperatureF : c.temperatureC);

/** The same concrete at another rate and temperature, in the units of its method. */
export const placedAt = (c: ConcreteInputs, rate: number, temperature: number): ConcreteInputs =>
  c.method === 'aci-347-us'
    ? { ...c, rateFtPerH: rate, temperatureF: temperature }
    : { ...c, rateMPerH: rate, temperatureC: temperature };

/** Pours of one height and shape, and what their forms carry. */
export interface CarriedCase {
  readonly pressure: Pick<PressureCase, 'pourHeightMm' | 'formHeightMm' | 'isColumn'>;
  /** null: full fluid pressure. */
  readonly mostKpa: number | null;
}

const caseAt = (c: ConcreteInputs, { pressure }: CarriedCase, rate: number, temperature: number): PressureCase => {
  const { pourHeightMm, formHeightMm, isColumn } = pressure;
  const shape = {
    ...(formHeightMm === undefined ? {} : { formHeightMm }),
    ...(isColumn === undefined ? {} : { isColumn }),
  };
  return pressureCase(placedAt(c, rate, temperature), pourHeightMm, shape).value;
};

/** Cases in which full fluid pressure counts. */
const FLUID: ReadonlySet<string> = new Set(['fluid', 'refused']);

/** Fastest rise of one pour; by bisection on the whole method. */
const limitOf = (c: ConcreteInputs, carried: CarriedCase, temperature: number): Pick<RateLimit, 'bound' | 'rate'> => {
  const { mostKpa } = carried;
  if (mostKpa === null) return { bound: 'any', rate: null };
  const { least, most } = BY_UNITS[unitsOf(c)];
  const isHeld = (rate: number) => caseAt(c, carried, rate, temperature).designKpa <= mostKpa + SAME_KPA;
  const asFluid = (rate: number) => FLUID.has(caseAt(c, carried, rate, temperature).facts?.chosen ?? '');
  if (!isHeld(least)) return { bound: asFluid(least) ? 'fluid' : 'none', rate: null };
  if (isHeld(most)) return { bound: 'any', rate: null };
  let [low, high]: [number, number] = [least, most];
  while (high - low > CLOSE) {
    const rate = (low + high) / 2;
    if (isHeld(rate)) low = rate;
    else high = rate;
  }
  return { bound: asFluid(high) ? 'range' : 'item', rate: low };
};

const RANK = { none: 0, fluid: 0, item: 1, range: 1, any: 2 } as const;

/** Fastest rise that every pour carries. */
export const rateLimit = (c: ConcreteInputs, carried: readonly CarriedCase[], temperature: number): RateLimit => {
  let slowest: RateLimit = { temperature, bound: 'any', rate: null, by: null };
  carried.forEach((one, by) => {
    const { bound, rate } = limitOf(c, one, temperature);
    if (bound === 'any') return;
    const isSlower = RANK[bound] < RANK[slowest.bound] || (rate ?? 0) < (slowest.rate ?? Number.POSITIVE_INFINITY);
    if (slowest.bound === 'any' || (RANK[slowest.bound] > 0 && isSlower)) slowest = { temperature, bound, rate, by };
  });
  return slowest;
};

const shapeKey = ({ pourHeightMm, formHeightMm, isColumn }: PressureCase): string =>
  [pourHeightMm, formHeightMm, isColumn].join(' ');

/** What every run carries, as far as it is not less than that of a run poured alike. */
const capacitiesOf = (runs: readonly RunAlone[]): Capacity[] => {
  const least = new Map<string, number>();
  return runs.map((one) => {
    const key = shapeKey(one.load.pressure);
    const made = capacityOf(one, least.get(key) ?? null);
    if (made.mostKpa !== null && made.never.length === 0) least.set(key, made.mostKpa);
    return made;
  });
};

/** Runs poured alike, with the least of what they carry. */
const groupedCapacities = (capacities: readonly Capacity[]): { carried: CarriedPressure; held: CarriedCase }[] => {
  const groups = new Map<string, Capacity[]>();
  for (const c of capacities) {
    const key = shapeKey(c.one.load.pressure);
    groups.set(key, [...(groups.get(key) ?? []), c]);
  }
  return [...groups.values()].map((same) => {
    const [first] = same as [Capacity];
    const limited = same.filter((c) => c.mostKpa !== null && c.item !== null);
    const least = limited.reduce<Capacity | null>((a, b) => (a === null || b.mostKpa! < a.mostKpa! ? b : a), null);
    const { pressure } = first.one.load;
    return {
      held: { pressure, mostKpa: least?.mostKpa ?? null },
      carried: {
        pourHeightMm: pressure.pourHeightMm,
        walls: [...new Set(same.map((c) => c.one.run.wall))],
        mostKpa: least?.mostKpa ?? null,
        fluidKpa: first.one.fluidKpa,
        item: least?.item ?? null,
      },
    };
  });
};

/** What stands in two walls is told once. */
const onceEach = (items: readonly LimitItem[]): LimitItem[] => {
  const told = new Set<string>();
  return items.filter(({ code, subject }) => {
    const key = `${code} ${subject}`;
    const isNew = !told.has(key);
    told.add(key);
    return isNew;
  });
};

/** What fails where the concrete rises or sets otherwise than planned. */
const caseOfOther = (
  what: string,
  capacities: readonly Capacity[],
  pressureOf: (capacity: Capacity) => PressureCase,
): RateCase => {
  const designs = capacities.map((c) => ({ c, pressure: pressureOf(c) }));
  const isOutside = designs.some((d) => d.pressure.facts?.chosen === 'refused');
  return {
    what: isOutside ? `${what}: outside the method, so as a fluid` : what,
    mostKpa: Math.max(0, ...designs.map((d) => d.pressure.designKpa)),
    failing: onceEach(
      designs.flatMap(({ c, pressure: { designKpa } }) =>
        c.mostKpa === null || designKpa <= c.mostKpa ? [] : failingAt(c.one, designKpa).items,
      ),
    ),
  };
};

const sensitivityOf = (concrete: ConcreteInputs, capacities: readonly Capacity[]): RateCase[] => {
  if (concrete.method === 'hydrostatic') return [];
  const { faster, colder, rate, degrees } = BY_UNITS[unitsOf(concrete)];
  const at = (moreRate: number, lessTemperature: number) => {
    const made = new Map<string, PressureCase>();
    return ({ one: { load } }: Capacity): PressureCase => {
      const key = shapeKey(load.pressure);
      const carried = { pressure: load.pressure, mostKpa: null };
      const pressure =
        made.get(key) ??
        caseAt(concrete, carried, rateOf(concrete) + moreRate, temperatureOf(concrete) - lessTemperature);
      made.set(key, pressure);
      return pressure;
    };
  };
  return [
    caseOfOther(`rises ${faster} ${rate} faster`, capacities, at(faster, 0)),
    caseOfOther(`${colder} ${degrees} colder`, capacities, at(0, colder)),
  ];
};

/** Runs without a load that is known, one a wall. */
const notChecked = (ctx: Context, alone: ReadonlySet<string>): LimitItem[] =>
  ctx.plan.runs
    .filter((r) => !alone.has(r.id))
    .map((r) => ({
      code: 'check.not-checked',
      rule: 'T11',
      subject: r.wall,
      wall: r.wall,
      message: `Wall ${r.wall} is not checked.`,
    }));

/** One line for each wall. */
const oneAWall = (items: readonly LimitItem[]): LimitItem[] =>
  items.filter((item, i) => items.findIndex((other) => other.wall === item.wall) === i);

const suppliesOf = ({ pours, supplyM3PerH }: RateQuestion, mPerH: number): PourSupply[] =>
  pours.map(({ pour, planAreaM2, volumeM3 }) => ({
    pour,
    planAreaM2,
    volumeM3,
    rate: supplyM3PerH === null || !(planAreaM2 > 0) ? null : supplyM3PerH / planAreaM2 / mPerH,
  }));

/** The rates of a layout. `loads` is what loads each run as it stands. */
export const ratesOf = (
  ctx: Context,
  loads: ReadonlyMap<string, WallLoad>,
  clamped: readonly ClampedJoint[],
  question: RateQuestion,
): Rates => {
  const { concrete, supplyM3PerH } = question;
  const units = unitsOf(concrete);
  const { temperatures, mPerH } = BY_UNITS[units];
  const all = capacitiesOf(runsAlone(ctx, loads, clamped));
  const standing = all.filter((c) => c.never.length === 0);
  const groups = groupedCapacities(standing);
  const held = groups.map((g) => g.held);
  const [jobRate, jobTemperature] = [rateOf(concrete), temperatureOf(concrete)];
  const knowsRate = concrete.method !== 'hydrostatic';
  return {
    units,
    method: concrete.method,
    clampsChecked: (ctx.catalogue.clamps ?? []).length > 0,
    jobRate,
    jobTemperature,
    atJob: rateLimit(concrete, held, jobTemperature),
    table: knowsRate && held.length > 0 ? temperatures.map((t) => rateLimit(concrete, held, t)) : [],
    carried: groups.map((g) => g.carried),
    notHeld: oneAWall([
      ...all.flatMap((c) => c.never.slice(0, 1)),
      ...notChecked(ctx, new Set(all.map((c) => c.one.run.id))),
    ]),
    floor: FLOOR_M_PER_H / mPerH,
    supplyM3PerH,
    supplies: suppliesOf(question, mPerH),
    underFluid: {
      what: 'full fluid pressure',
      mostKpa: Math.max(0, ...standing.map((c) => c.one.fluidKpa)),
      failing: onceEach(standing.flatMap((c) => c.underFluid)),
    },
    sensitivity: sensitivityOf(concrete, standing),
  };
};

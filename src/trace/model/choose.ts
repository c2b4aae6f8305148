/**
 * Which walls of the model are the foundation's, each with the reason. The job file first; then what is cast in place, by material, type and name; then
 * what stands on footings and rafts; where nothing does, what names say, and at last the lowest walls. Why in this order: docs/decisions/0008.
 */

import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { MM_PER } from '../../ground/units.js';
import type { Model, ModelChoice, ModelElement, ModelTraceOptions } from '../../ground/vocabulary.js';
import { type Measured, type Measurer, measure } from './bodies.js';
import { boxGrid } from './boxGrid.js';
import { type Concrete, concreteMaterials, concreteOf } from './concrete.js';
import { withLayers } from './layers.js';
import { matcher, matchesElement, storeysById } from './patterns.js';
import { areaOf, type Box, intersection } from './region.js';
import { asSupport, type Contact, carries, contactsWith, footingAsWall, type Support, supportsOf } from './supports.js';
import { type Upstand, upstandsOf } from './upstands.js';
import { FOUNDATION, isNamed } from './words.js';

export interface WallSeen {
  readonly measured: Measured;
  readonly concrete: Concrete;
  /** What it stands on; empty: on nothing that carries foundations. */
  readonly contacts: readonly Contact[];
}

/** What decided that a wall was taken: the job file, what it stands on, its names, that it is among the lowest, or that it is as low as those. */
export type By = 'job' | 'support' | 'name' | 'lowest' | 'level';

export interface Chosen {
  readonly taken: readonly WallSeen[];
  /** Of each of these, by GlobalId. */
  readonly by: ReadonlyMap<string, By>;
  /** Walls that were measured and left out. */
  readonly left: readonly WallSeen[];
  readonly choices: readonly ModelChoice[];
  /** The reason of each wall left out, in general words, for counting. */
  readonly reasons: ReadonlyMap<string, string>;
  readonly supports: readonly Support[];
  /** What may want forms and is no wall; among `choices`, not among `reasons`. */
  readonly upstands: readonly Upstand[];
  /** Of these, those that the job file leaves out; not among `choices`. */
  readonly ignored: readonly Upstand[];
  /** Footings and rafts without a body that can be cut. */
  readonly bodilessSupports: readonly ModelElement[];
}

/** Walls by these types are never foundation walls. MOVABLE is not among them: it is the first of the list, and exporters write it for any wall. */
const TYPES_OUT = new Set(['PARTITIONING', 'PARAPET', 'PLUMBINGWALL']);
/** Where no footing tells: walls whose base is up to this much over the lowest one's may stand on a step of the footing. *Practice, no source.* */
const STEP_MOST_MM = 1500;
/** Bases within this are at one level. */
const SAME_LEVEL_MM = 10;
/** Between a wall and the one on it a floor may lie. *Practice, no source.* */
const FLOOR_MOST_MM = 500;
/** A wall stands on another when this share of its plan does. */
const ON_WALL_LEAST = 0.3;

interface Sorting {
  readonly e: ModelElement;
  readonly seen: WallSeen;
}

/** Does a box lie wholly inside the job file's area? Local mm against drawing units. */
const insideArea = (model: Model, options: ModelTraceOptions, origin: Vec): ((box: Box) => boolean) => {
  const { area } = options;
  if (area === null) return () => true;
  const mm = MM_PER[model.unit.lengthUnit];
  const [x0, x1] = [Math.min(area[0], area[2]) * mm - origin.x, Math.max(area[0], area[2]) * mm - origin.x];
  const [y0, y1] = [Math.min(area[1], area[3]) * mm - origin.y, Math.max(area[1], area[3]) * mm - origin.y];
  return (b) => b.x0 >= x0 && b.x1 <= x1 && b.y0 >= y0 && b.y1 <= y1;
};

/** Those that stand on another one of the list or of `under`: upper storeys. */
const standOnWalls = (list: readonly Sorting[], under: readonly Sorting[]): Map<Sorting, Sorting> => {
  const near = boxGrid(under, (u) => u.seen.measured.box);
  const on = new Map<Sorting, Sorting>();
  for (const s of list) {
    const { measured } = s.seen;
    const carrier = near(measured.box).find((u) => {
      if (u === s) return false;
      const over = measured.baseMm - u.seen.measured.topMm;
      if (over < -SAME_LEVEL_MM || over > FLOOR_MOST_MM) return false;
      return (
        areaOf(intersection(measured.footprint, u.seen.measured.footprint)) >=
        ON_WALL_LEAST * areaOf(measured.footprint)
      );
    });
    if (carrier) on.set(s, carrier);
  }
  return on;
};

const level = (mm: number): string => `${Math.round(mm)}`;

/** Sorts every wall of the model, and measures what is no wall by `measuredWhole`. Lists are by GlobalId. */
export const chooseWalls = (model: Model, options: ModelTraceOptions, origin: Vec, measuredWhole: Measurer): Chosen => {
  const storeys = storeysById(model);
  const [takes, ignores, inStoreys] = [options.takeElements, options.ignoreElements, options.storeys].map(matcher);
  const job = concreteMaterials(options);
  const inside = insideArea(model, options, origin);
  const only = options.takeElements.length > 0;
  const choices = new Map<string, ModelChoice>();
  const reasons = new Map<string, string>();
  const left: WallSeen[] = [];
  const taken: Sorting[] = [];
  const say = (e: ModelElement, isTaken: boolean, why: string, reason = why) => {
    choices.set(e.id, { id: e.id, entity: e.entity, name: e.name, storey: e.storey, taken: isTaken, why });
    if (!isTaken) reasons.set(e.id, reason);
  };
  const by = new Map<string, By>();
  const take = (s: Sorting, why: string, how: By) => {
    taken.push(s);
    by.set(s.e.id, how);
    say(s.e, true, why);
  };

  const footingsAsWalls: Support[] = [];
  const open: Sorting[] = [];
  const { supports, bodiless } = supportsOf(model, measuredWhole);
  for (const e of model.elements) {
    // Names and patterns mean walls; a column or another element is taken by its GlobalId alone.
    const named = only && (options.takeElements.includes(e.id) || (e.kind === 'wall' && matchesElement(takes!, e)));
    if (e.kind !== 'wall' && !named) continue;
    const concrete = withLayers(e, concreteOf(e, job), origin);
    const measured = measure(e, concrete.body, origin, true);
    const s: Sorting = { e, seen: { measured, concrete, contacts: [] } };
    const out = (why: string, reason = why) => {
      say(e, false, why, reason);
      left.push(s.seen);
    };
    if (measured.bands.length === 0) out('it has no body that can be used');
    else if (matchesElement(ignores!, e)) out('left out by the job file (ignoreElements)');
    else if (only && !named) out('the job file takes others (takeElements)');
    else if (!inside(measured.box!)) out('not wholly inside the area of the job file');
    else if (named) take(s, 'the job file takes it (takeElements)', 'job');
    else if (options.storeys.length > 0 && !inStoreys!(e.storey ?? '', storeys.get(e.storey ?? '')?.name ?? null))
      out('in a storey that the job file does not name');
    else if (concrete.is === 'other') out(concrete.why, concrete.reason);
    else if (e.predefinedType !== null && TYPES_OUT.has(e.predefinedType)) out(`its type is ${e.predefinedType}`);
    else {
      const footing = footingAsWall(measured);
      if (footing === null) open.push(s);
      else {
        out(footing, 'a footing');
        footingsAsWalls.push(asSupport('footing', measured));
      }
    }
  }
  const all = [...supports, ...footingsAsWalls];
  const contacts = contactsWith(all);
  const withContacts = (s: Sorting): Sorting => ({ e: s.e, seen: { ...s.seen, contacts: contacts(s.seen.measured) } });

  sortByLevel(open.map(withContacts), storeys, take, (s, why, reason) => {
    say(s.e, false, why, reason);
    left.push(s.seen);
  });
  const takenIds = new Set(taken.map((t) => t.e.id));
  const baseMm = taken.length === 0 ? null : Math.max(...taken.map((t) => t.seen.measured.baseMm));
  const seen = upstandsOf(model, (id) => takenIds.has(id), baseMm, job, measuredWhole);
  const upstands = seen.filter(({ element }) => !matchesElement(ignores!, element));
  for (const { element: e, what } of upstands) {
    const why = `${what}: formed only if the job file takes it by its GlobalId (takeElements)`;
    choices.set(e.id, { id: e.id, entity: e.entity, name: e.name, storey: e.storey, taken: false, why });
  }
  return {
    by,
    upstands,
    ignored: seen.filter((u) => !upstands.includes(u)),
    taken: taken.map((s) => (s.seen.contacts.length > 0 ? s : withContacts(s)).seen).sort(byId),
    left: left.sort(byId),
    choices: [...choices.values()].sort((p, q) => compareText(p.id, q.id)),
    reasons,
    bodilessSupports: bodiless.sort((p, q) => compareText(p.id, q.id)),
    supports: all.sort((p, q) => compareText(p.measured.element.id, q.measured.element.id)),
  };
};

const byId = (p: WallSeen, q: WallSeen): number => compareText(p.measured.element.id, q.measured.element.id);

type Take = (s: Sorting, why: string, by: By) => void;
type Leave = (s: Sorting, why: string, reason: string) => void;

/** Where the foundation is: what stands on footings, else what is named so, else the lowest. */
const seedsOf = (
  open: readonly Sorting[],
  storeys: ReturnType<typeof storeysById>,
): {
  readonly seeds: readonly Sorting[];
  readonly by: By;
  readonly why: (s: Sorting) => string;
  readonly reachMm: number;
} => {
  const standing = open.filter((s) => s.seen.contacts.some(carries));
  if (standing.length > 0) {
    const why = (s: Sorting) => {
      const { support, how } = s.seen.contacts[0]!;
      return `${how === 'through' ? 'goes through' : 'stands on'} ${support.kind} ${support.measured.element.id}`;
    };
    return { seeds: standing, by: 'support', why, reachMm: SAME_LEVEL_MM };
  }
  const named = open.filter((s) => {
    const storey = storeys.get(s.e.storey ?? '')?.name ?? '';
    return isNamed(s.e, FOUNDATION) || FOUNDATION.test(storey);
  });
  if (named.length > 0)
    return { seeds: named, by: 'name', why: () => 'its name or storey says foundation', reachMm: SAME_LEVEL_MM };
  const lowest = Math.min(...open.map((s) => s.seen.measured.baseMm));
  const seeds = open.filter((s) => s.seen.measured.baseMm <= lowest + SAME_LEVEL_MM);
  return { seeds, by: 'lowest', why: () => `among the lowest walls, base at ${level(lowest)}`, reachMm: STEP_MOST_MM };
};

const sortByLevel = (
  open: readonly Sorting[],
  storeys: ReturnType<typeof storeysById>,
  take: Take,
  leave: Leave,
): void => {
  if (open.length === 0) return;
  const on = standOnWalls(open, open);
  const { seeds, by, why, reachMm } = seedsOf(open, storeys);
  const seeded = new Set(seeds);
  const bases = seeds.filter((s) => !on.has(s)).map((s) => s.seen.measured.baseMm);
  const highest = Math.max(...(bases.length > 0 ? bases : seeds.map((s) => s.seen.measured.baseMm)));
  for (const s of open) {
    const { baseMm } = s.seen.measured;
    const carrier = on.get(s);
    const material = s.seen.concrete.why;
    // A footing under it outweighs the wall; a slab may be the floor that lies on that wall.
    if (carrier && !s.seen.contacts.some((c) => carries(c) && c.support.kind === 'footing'))
      leave(s, `above the foundation: stands on wall ${carrier.e.id}`, 'above the foundation');
    else if (seeded.has(s)) take(s, `${why(s)}, ${material}`, by);
    else if (baseMm <= highest + reachMm)
      take(s, `at the level of the foundation (base ${level(baseMm)}), ${material}`, 'level');
    else leave(s, `above the foundation: base at ${level(baseMm)}`, 'above the foundation');
  }
};

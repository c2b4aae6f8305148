/**
 * Openings of the walls taken: where an element is voided through its thickness, and the holes that meshes have themselves. Sill and head are the model's
 * levels. What does not go through is a recess; what is small is left to the ties (obstacles). Local mm in plan.
 */

import { grouping } from '../../ground/groups.js';
import { compareText, inOrder } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { ModelOpening, Solid } from '../../ground/vocabulary.js';
import { bandsOf, planOf, usableSolids } from './bodies.js';
import { holesOf } from './bodyHoles.js';
import type { WallSeen } from './choose.js';
import { isNote, levelAt, type OpeningNote, type PlacedOpening, whyNot } from './openingKinds.js';
import { type Axis, bodyRing, onAxis, seenFrom } from './plan.js';
import { areaOf, boxesMeet, boxOfRegion, enclosed, grown, intersection, type Region, ringsOf } from './region.js';
import { openingName, shown } from './said.js';
import { sectionAt } from './section.js';
import { uprightFrame } from './space.js';
import type { StretchLevels } from './wallLevels.js';

/** An opening that is measured, before its wall is known. */
export interface OpeningBody {
  readonly opening: ModelOpening;
  /** Those of its solids that lie together: one hole. */
  readonly solids: readonly Solid[];
  readonly owner: WallSeen;
  readonly plan: Region;
  readonly baseMm: number;
  readonly topMm: number;
  readonly middle: Vec;
  /** Its faces do not close. */
  readonly isOpen: boolean;
}

export interface ModelOpenings {
  readonly placed: readonly PlacedOpening[];
  readonly notes: readonly OpeningNote[];
}

const BOX_SHARE = 0.99;
/** An opening is of a stretch that it shares this much of the length with. */
const SHARED_LEAST_MM = 10;
/** Solids of one opening nearer than this touch. */
const TOUCH_MM = 1;

/** One opening element may hold several holes: solids that touch or overlap are one. */
const holesApart = (solids: readonly Solid[], origin: Vec): Solid[][] => {
  if (solids.length < 2) return solids.map((s) => [s]);
  const seen = solids.map((s) => {
    const { bands } = bandsOf([s], origin);
    const plan = grown(planOf(bands), TOUCH_MM / 2);
    return { plan, box: boxOfRegion(plan), lowMm: bands[0]?.fromMm ?? 0, highMm: bands[bands.length - 1]?.toMm ?? 0 };
  });
  const touch = (i: number, k: number): boolean => {
    const [a, b] = [seen[i]!, seen[k]!];
    if (a.lowMm > b.highMm + TOUCH_MM || b.lowMm > a.highMm + TOUCH_MM || !boxesMeet(a.box, b.box)) return false;
    return areaOf(intersection(a.plan, b.plan)) > 0;
  };
  const { connect, groups } = grouping(solids.length);
  for (let i = 0; i < solids.length; i++) for (let k = i + 1; k < solids.length; k++) if (touch(i, k)) connect(i, k);
  return groups().map((hole) => hole.map((k) => solids[k]!));
};

export const openingBodies = (taken: readonly WallSeen[], origin: Vec): OpeningBody[] =>
  taken.flatMap((owner) =>
    owner.measured.element.openings.flatMap((opening) =>
      holesApart(usableSolids(opening.body, origin), origin).flatMap((solids): OpeningBody[] => {
        const { bands, isOpen } = bandsOf(solids, origin);
        const plan = planOf(bands);
        const box = boxOfRegion(plan);
        if (!box) return [];
        const middle = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
        const [baseMm, topMm] = [bands[0]!.fromMm, bands[bands.length - 1]!.toMm];
        return [{ opening, solids, owner, plan, baseMm, topMm, middle, isOpen }];
      }),
    ),
  );

export interface UnusableOpening {
  readonly opening: ModelOpening;
  readonly owner: WallSeen;
  /** So many of its bodies; all, or none where it has none: there is nothing to place it by. */
  readonly unusable: number;
}

/** Openings of walls taken that have no body to be placed by, or some bodies that are of no use. */
export const unusableOpenings = (taken: readonly WallSeen[], bodies: readonly OpeningBody[]): UnusableOpening[] => {
  const used = new Map<ModelOpening, number>();
  for (const b of bodies) used.set(b.opening, (used.get(b.opening) ?? 0) + b.solids.length);
  return taken.flatMap((owner) =>
    owner.measured.element.openings
      .map((opening) => ({ opening, owner, unusable: opening.body.length - (used.get(opening) ?? 0) }))
      .filter((o) => o.unusable > 0 || o.opening.body.length === 0),
  );
};

/** Where an opening's plan lies in the strip of the wall, the stretch's ends not heeded. */
const inStrip = (plan: Region, axis: Axis): { fromMm: number; toMm: number; share: number } | null => {
  const us = ringsOf(plan).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  if (us.length === 0) return null;
  const [low, high] = [Math.min(...us) - 1, Math.max(...us) + 1];
  const part: Axis = { from: onAxis(axis, low), u: axis.u, lengthMm: high - low, halfMm: axis.halfMm };
  const shared = intersection(plan, enclosed([bodyRing(part)]));
  const own = ringsOf(shared).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  if (own.length === 0) return null;
  const [fromMm, toMm] = [Math.min(...own), Math.max(...own)];
  return { fromMm, toMm, share: areaOf(shared) / Math.max(1, (toMm - fromMm) * 2 * axis.halfMm) };
};

const isBoxSeen = (body: OpeningBody, axis: Axis, origin: Vec, widthMm: number): boolean => {
  const at = { x: axis.from.x + origin.x, y: axis.from.y + origin.y };
  const area = body.solids.reduce((sum, s) => sum + areaOf(sectionAt(s, uprightFrame(at, axis.u)).region), 0);
  return area > BOX_SHARE * widthMm * (body.topMm - body.baseMm);
};

const KIND = { door: 'door', window: 'window', other: 'opening' } as const;

/** Puts one opening onto the stretch that it shares most with. */
const place = (body: OpeningBody, all: readonly StretchLevels[], origin: Vec): PlacedOpening | OpeningNote => {
  const { id } = body.owner.measured.element;
  const found = all
    .flatMap((s, stretch) => {
      if (!s.of.parts.some((p) => p.seen.measured.element.id === id)) return [];
      const reach = inStrip(body.plan, s.of.axis);
      if (!reach) return [];
      const sharedMm = Math.min(reach.toMm, s.of.axis.lengthMm) - Math.max(reach.fromMm, 0);
      return sharedMm > SHARED_LEAST_MM ? [{ s, stretch, reach, sharedMm }] : [];
    })
    .sort((p, q) => q.sharedMm - p.sharedMm || p.stretch - q.stretch)[0];
  const note = (why: Pick<OpeningNote, 'kind' | 'text'>): OpeningNote => ({
    ...why,
    id: body.opening.id,
    name: `${openingName(body.opening)} in ${shown(body.owner.measured)}`,
    at: body.middle,
    levelMm: body.baseMm,
    clearOf: { what: 'opening', name: body.opening.name, solids: body.solids },
  });
  if (!found) return note({ kind: 'nowhere', text: 'meets no stretch of its wall' });
  const { s, stretch, reach } = found;
  const { axis } = s.of;
  const widthMm = reach.toMm - reach.fromMm;
  const level = levelAt(s, (reach.fromMm + reach.toMm) / 2);
  const isRecess = body.opening.predefinedType === 'RECESS';
  const { baseMm, topMm } = body;
  const why = whyNot({ widthMm, baseMm, topMm, share: reach.share, isRecess }, level);
  if (why !== null) return note(why);
  return {
    found: {
      from: onAxis(axis, reach.fromMm),
      to: onAxis(axis, reach.toMm),
      thicknessMm: s.of.stretch.thicknessMm,
      kind: body.opening.filling === null ? 'opening' : KIND[body.opening.filling],
      sillMm: Math.max(body.baseMm, level?.baseMm ?? body.baseMm),
      headMm: Math.min(body.topMm, level?.topMm ?? body.topMm),
      sources: [body.opening.id],
    },
    stretch,
    fromMm: reach.fromMm,
    toMm: reach.toMm,
    name: openingName(body.opening),
    isBox: isBoxSeen(body, axis, origin, widthMm),
  };
};

const alike = (a: PlacedOpening, b: PlacedOpening): boolean =>
  a.stretch === b.stretch &&
  a.fromMm < b.toMm &&
  b.fromMm < a.toMm &&
  a.found.sillMm! < b.found.headMm! &&
  b.found.sillMm! < a.found.headMm!;

/** The box of two openings that lie over each other: those of two layers, or a hole and the opening that cut it. */
const together = (a: PlacedOpening, b: PlacedOpening): PlacedOpening => {
  const [first, last] = [a.fromMm <= b.fromMm ? a : b, a.toMm >= b.toMm ? a : b];
  return {
    ...a,
    fromMm: first.fromMm,
    toMm: last.toMm,
    found: {
      ...a.found,
      kind: a.found.kind === 'opening' ? b.found.kind : a.found.kind,
      from: first.found.from,
      to: last.found.to,
      sillMm: Math.min(a.found.sillMm!, b.found.sillMm!),
      headMm: Math.max(a.found.headMm!, b.found.headMm!),
      sources: [...new Set([...a.found.sources, ...b.found.sources])].sort(compareText),
    },
  };
};

export const placeModelOpenings = (
  bodies: readonly OpeningBody[],
  all: readonly StretchLevels[],
  origin: Vec,
): ModelOpenings => {
  const seen = [...bodies.map((body) => place(body, all, origin)), ...holesOf(all, bodies, origin)];
  const placed = seen.flatMap((o): PlacedOpening[] => (isNote(o) ? [] : [o]));
  const order = inOrder<PlacedOpening>(
    (p, q) => p.stretch - q.stretch || p.fromMm - q.fromMm || p.found.sillMm! - q.found.sillMm!,
    (p, q) => compareText(p.name, q.name),
  );
  const once: PlacedOpening[] = [];
  for (const opening of placed.sort(order)) {
    const k = once.findIndex((o) => alike(o, opening));
    if (k < 0) once.push(opening);
    else once[k] = together(once[k]!, opening);
  }
  return { placed: once, notes: seen.filter(isNote) };
};

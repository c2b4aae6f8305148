/**
 * Openings of the walls taken: where an element is voided through its thickness, and the holes that meshes have themselves. Sill and head are the model's
 * levels. What does not go through is a recess; what is small is left to the ties (obstacles). Local mm in plan.
 */

import { compareText, inOrder } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { FoundOpening, ModelOpening, Solid } from '../../ground/vocabulary.js';
import { bandsOf, planOf, usableSolids } from './bodies.js';
import type { WallSeen } from './choose.js';
import { type Axis, bodyRing, onAxis, seenFrom } from './plan.js';
import { areaOf, boxesMeet, boxOfRegion, enclosed, grown, intersection, type Region, ringsOf } from './region.js';
import { sectionAt } from './section.js';
import { uprightFrame } from './space.js';
import type { LevelPart, StretchLevels } from './wallLevels.js';

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
}

export interface PlacedOpening {
  readonly found: FoundOpening;
  /** Of which stretch, in the order of those given; along it. */
  readonly stretch: number;
  readonly fromMm: number;
  readonly toMm: number;
  readonly name: string;
  readonly isBox: boolean;
}

export type OpeningNote = {
  readonly kind: 'recess' | 'outside' | 'nowhere' | 'small';
  readonly body: OpeningBody;
  readonly at: Vec;
  readonly text: string;
};

export interface ModelOpenings {
  readonly placed: readonly PlacedOpening[];
  readonly notes: readonly OpeningNote[];
}

/** Openings up to this, both ways, are sleeves: nothing is boxed out of the forms for them by the layout. *Practice, no source.* */
export const SMALL_MM = 300;
/** An opening goes through when it takes this share of the thickness over its width. */
const THROUGH_SHARE = 0.98;
const BOX_SHARE = 0.99;
/** An opening is of a stretch that it shares this much of the length with. */
const SHARED_LEAST_MM = 10;
const SAME_MM = 2;
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
  const left = new Set(solids.keys());
  const holes: Solid[][] = [];
  for (const first of left) {
    left.delete(first);
    const hole = [first];
    for (const at of hole)
      for (const k of left)
        if (touch(at, k)) {
          left.delete(k);
          hole.push(k);
        }
    holes.push(hole.sort((p, q) => p - q).map((k) => solids[k]!));
  }
  return holes;
};

export const openingBodies = (taken: readonly WallSeen[], origin: Vec): OpeningBody[] =>
  taken.flatMap((owner) =>
    owner.measured.element.openings.flatMap((opening) =>
      holesApart(usableSolids(opening.body, origin), origin).flatMap((solids): OpeningBody[] => {
        const { bands } = bandsOf(solids, origin);
        const plan = planOf(bands);
        const box = boxOfRegion(plan);
        if (!box) return [];
        const middle = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
        const [baseMm, topMm] = [bands[0]!.fromMm, bands[bands.length - 1]!.toMm];
        return [{ opening, solids, owner, plan, baseMm, topMm, middle }];
      }),
    ),
  );

/** Openings of walls taken that have no body to be placed by. */
export const openingsWithoutBody = (
  taken: readonly WallSeen[],
  bodies: readonly OpeningBody[],
): { readonly opening: ModelOpening; readonly owner: WallSeen }[] => {
  const placed = new Set(bodies.map((b) => b.opening.id));
  return taken.flatMap((owner) =>
    owner.measured.element.openings.filter((o) => !placed.has(o.id)).map((opening) => ({ opening, owner })),
  );
};

/** Where an opening's plan lies in the strip of the wall, the stretch's ends not heeded. */
const inStrip = (plan: Region, axis: Axis): { fromMm: number; toMm: number; share: number } | null => {
  const us = ringsOf(plan).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  if (us.length === 0) return null;
  const [low, high] = [Math.min(...us) - 1, Math.max(...us) + 1];
  const part: Axis = { start: onAxis(axis, low), u: axis.u, lengthMm: high - low, halfMm: axis.halfMm };
  const shared = intersection(plan, enclosed([bodyRing(part)]));
  const own = ringsOf(shared).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  if (own.length === 0) return null;
  const [fromMm, toMm] = [Math.min(...own), Math.max(...own)];
  return { fromMm, toMm, share: areaOf(shared) / Math.max(1, (toMm - fromMm) * 2 * axis.halfMm) };
};

const isBoxSeen = (body: OpeningBody, axis: Axis, origin: Vec, widthMm: number): boolean => {
  const at = { x: axis.start.x + origin.x, y: axis.start.y + origin.y };
  const area = body.solids.reduce((sum, s) => sum + areaOf(sectionAt(s, uprightFrame(at, axis.u)).region), 0);
  return area > BOX_SHARE * widthMm * (body.topMm - body.baseMm);
};

const levelAt = (s: StretchLevels, u: number): LevelPart | undefined =>
  s.levels.find((l) => u <= l.toMm) ?? s.levels[s.levels.length - 1];

const KIND = { door: 'door', window: 'window', other: 'opening' } as const;

const nameOf = (o: ModelOpening): string => (o.name ? `${o.name} (${o.id})` : `opening ${o.id}`);

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
  const note = (kind: OpeningNote['kind'], text: string): OpeningNote => ({ kind, body, at: body.middle, text });
  if (!found) return note('nowhere', 'meets no stretch of its wall');
  const { s, stretch, reach } = found;
  const { axis } = s.of;
  const widthMm = reach.toMm - reach.fromMm;
  const level = levelAt(s, (reach.fromMm + reach.toMm) / 2);
  if (level && (body.topMm <= level.baseMm + SAME_MM || body.baseMm >= level.topMm - SAME_MM))
    return note('outside', 'lies above or below the wall');
  if (body.opening.predefinedType === 'RECESS' || reach.share < THROUGH_SHARE)
    return note('recess', `does not go through: it takes ${Math.round(reach.share * 100)} % of the thickness`);
  if (widthMm <= SMALL_MM && body.topMm - body.baseMm <= SMALL_MM)
    return note('small', `is ${Math.round(widthMm)} by ${Math.round(body.topMm - body.baseMm)} mm`);
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
    name: nameOf(body.opening),
    isBox: isBoxSeen(body, axis, origin, widthMm),
  };
};

/** Holes that bodies have themselves. */
const holesOf = (all: readonly StretchLevels[]): PlacedOpening[] =>
  all.flatMap((s, stretch) =>
    s.holes.flatMap(({ hole, part }): PlacedOpening[] => {
      const isSmall = hole.toMm - hole.fromMm <= SMALL_MM && hole.headMm - hole.sillMm <= SMALL_MM;
      const level = levelAt(s, (hole.fromMm + hole.toMm) / 2);
      if (isSmall || !level) return [];
      const { id } = part.seen.measured.element;
      const found: FoundOpening = {
        from: onAxis(s.of.axis, hole.fromMm),
        to: onAxis(s.of.axis, hole.toMm),
        thicknessMm: s.of.stretch.thicknessMm,
        kind: 'opening',
        sillMm: Math.max(hole.sillMm, level.baseMm),
        headMm: Math.min(hole.headMm, level.topMm),
        sources: [id],
      };
      return [
        {
          found,
          stretch,
          fromMm: hole.fromMm,
          toMm: hole.toMm,
          name: `a hole in the body of ${id}`,
          isBox: hole.isBox,
        },
      ];
    }),
  );

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
  const notes: OpeningNote[] = [];
  const placed: PlacedOpening[] = [];
  for (const body of bodies) {
    const one = place(body, all, origin);
    if ('body' in one) notes.push(one);
    else placed.push(one);
  }
  placed.push(...holesOf(all));
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
  return { placed: once, notes };
};

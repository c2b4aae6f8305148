/** What the job file says of the openings of a model: other levels, or that two walls end there. Local mm. */

import type { Vec } from '../../ground/plane.js';
import type { FoundOpening, ModelTraceOptions, WallStretch } from '../../ground/vocabulary.js';
import { NEAR_MM } from '../openings.js';
import type { OpeningBody } from './modelOpenings.js';
import type { PlacedOpening } from './openingKinds.js';

export type Answer = ModelTraceOptions['openings'][number];

/** A stretch, and which of those traced it is or is a part of. */
export interface StretchOf {
  readonly stretch: WallStretch;
  readonly of: WallStretch;
}

export interface Answered {
  readonly stretches: readonly StretchOf[];
  readonly openings: readonly FoundOpening[];
}

/** Rests shorter than this are no wall. */
const REST_LEAST_MM = 1;

const away = (p: Vec, q: Vec): number => Math.hypot(p.x - q.x, p.y - q.y);

export const nearAnOpening = (answer: Answer, bodies: readonly OpeningBody[]): boolean =>
  bodies.some((b) => away(b.middle, answer.near) <= NEAR_MM);

const middleOf = (o: FoundOpening): Vec => ({ x: (o.from.x + o.to.x) / 2, y: (o.from.y + o.to.y) / 2 });

/** The rest of a stretch where walls end at openings: from end to end without them. */
const cutAt = (stretch: WallStretch, cuts: readonly PlacedOpening[]): StretchOf[] => {
  const sorted = [...cuts].sort((p, q) => p.fromMm - q.fromMm);
  const out: StretchOf[] = [];
  let start = stretch.start;
  let startCapped = stretch.startCapped;
  for (const cut of sorted) {
    if (away(start, cut.found.from) > REST_LEAST_MM)
      out.push({ stretch: { ...stretch, start, startCapped, end: cut.found.from, endCapped: true }, of: stretch });
    start = cut.found.to;
    startCapped = true;
  }
  if (away(start, stretch.end) > REST_LEAST_MM) out.push({ stretch: { ...stretch, start, startCapped }, of: stretch });
  return out;
};

/** Each answer is about the nearest opening of the model within NEAR_MM. */
export const answered = (
  placed: readonly PlacedOpening[],
  answers: readonly Answer[],
  traced: { readonly stretches: readonly WallStretch[] },
): Answered => {
  const of = new Map<PlacedOpening, Answer>();
  for (const answer of answers) {
    const nearest = placed
      .map((o) => ({ o, awayMm: away(middleOf(o.found), answer.near) }))
      .filter((c) => c.awayMm <= NEAR_MM)
      .sort((p, q) => p.awayMm - q.awayMm)[0];
    if (nearest && !of.has(nearest.o)) of.set(nearest.o, answer);
  }
  const ends = placed.filter((o) => of.get(o)?.wallEnds);
  const openings = placed
    .filter((o) => !ends.includes(o))
    .map((o): FoundOpening => {
      const answer = of.get(o);
      return answer
        ? { ...o.found, sillMm: answer.sillMm ?? o.found.sillMm, headMm: answer.headMm ?? o.found.headMm }
        : o.found;
    });
  const stretches = traced.stretches.flatMap((stretch, i) => {
    const cuts = ends.filter((o) => o.stretch === i);
    return cuts.length === 0 ? [{ stretch, of: stretch }] : cutAt(stretch, cuts);
  });
  return { stretches, openings };
};

/**
 * What the job file says of the openings of a model: other levels, or that two walls end there. Each answer is about what is nearest to it, an opening of the
 * model or a break between walls, and is used once or said to be of no use. Local mm.
 */

import type { Finding } from '../../ground/findings.js';
import { comparePoints } from '../../ground/order.js';
import { distance } from '../../ground/plane.js';
import type { FoundOpening, ModelTraceOptions, WallStretch } from '../../ground/vocabulary.js';
import { awayFrom } from '../gaps.js';
import { awayFromBreaks } from '../openingPlaces.js';
import { answeredTwice, NEAR_MM } from '../openings.js';
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
  readonly findings: readonly Finding[];
}

/** Rests shorter than this are no wall. */
const REST_LEAST_MM = 1;

interface About {
  readonly opening: PlacedOpening;
  readonly answer: Answer;
  readonly awayMm: number;
}

/** The opening of the model that an answer is about: the nearest within NEAR_MM. */
const aboutOf = (answer: Answer, placed: readonly PlacedOpening[]): About | null => {
  let best: About | null = null;
  for (const opening of placed) {
    const awayMm = awayFrom(answer.near, opening.found);
    if (awayMm <= NEAR_MM && (best === null || awayMm < best.awayMm)) best = { opening, answer, awayMm };
  }
  return best;
};

/** The answers that are about openings of the model, and those about breaks and what is not drawn. */
export const answersApart = (
  answers: readonly Answer[],
  placed: readonly PlacedOpening[],
  stretches: readonly WallStretch[],
): { readonly ofModel: readonly Answer[]; readonly others: readonly Answer[] } => {
  if (answers.length === 0) return { ofModel: [], others: [] };
  const toBreak = awayFromBreaks(stretches);
  const isOfModel = (a: Answer) => (aboutOf(a, placed)?.awayMm ?? Infinity) <= Math.min(toBreak(a.near), NEAR_MM);
  return { ofModel: answers.filter(isOfModel), others: answers.filter((a) => !isOfModel(a)) };
};

/** The rest of a stretch where walls end at openings: from end to end without them. */
const cutAt = (stretch: WallStretch, cuts: readonly PlacedOpening[]): StretchOf[] => {
  const sorted = [...cuts].sort((p, q) => p.fromMm - q.fromMm);
  const out: StretchOf[] = [];
  let start = stretch.start;
  let startCapped = stretch.startCapped;
  for (const cut of sorted) {
    if (distance(start, cut.found.from) > REST_LEAST_MM)
      out.push({ stretch: { ...stretch, start, startCapped, end: cut.found.from, endCapped: true }, of: stretch });
    start = cut.found.to;
    startCapped = true;
  }
  if (distance(start, stretch.end) > REST_LEAST_MM)
    out.push({ stretch: { ...stretch, start, startCapped }, of: stretch });
  return out;
};

/** Openings and stretches as the answers of `answersApart` that are about openings of the model want them. */
export const answered = (
  placed: readonly PlacedOpening[],
  ofModel: readonly Answer[],
  stretches: readonly WallStretch[],
): Answered => {
  const abouts = ofModel
    .flatMap((answer) => aboutOf(answer, placed) ?? [])
    .sort((p, q) => p.awayMm - q.awayMm || comparePoints(p.answer.near, q.answer.near));
  const of = new Map<PlacedOpening, Answer>();
  const findings: Finding[] = [];
  for (const { opening, answer } of abouts)
    if (of.has(opening)) findings.push(answeredTwice(answer.near));
    else of.set(opening, answer);
  const ends = placed.filter((o) => of.get(o)?.wallEnds);
  const openings = placed
    .filter((o) => !ends.includes(o))
    .map((o): FoundOpening => {
      const answer = of.get(o);
      return answer
        ? { ...o.found, sillMm: answer.sillMm ?? o.found.sillMm, headMm: answer.headMm ?? o.found.headMm }
        : o.found;
    });
  const rest = stretches.flatMap((stretch, i) => {
    const cuts = ends.filter((o) => o.stretch === i);
    return cuts.length === 0 ? [{ stretch, of: stretch }] : cutAt(stretch, cuts);
  });
  return { stretches: rest, openings, findings };
};

/**
 * Openings. A wall drawn with a break, or running through under the sign of a door or window, may have concrete above or below the opening. Only what is
 * written tells: with a sill or a head (from a text or the job file) the wall runs through and has an opening; without, the break stays what the plan
 * shows, two free ends, and the question is asked at its place.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber, comparePoints, inOrder } from '../ground/order.js';
import { distance, pointAlong, sub, unit, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { FaceLine, FoundOpening, WallStretch } from '../ground/vocabulary.js';
import { awayFrom, joinedOver, localOf, nearestOn, worldAt } from './gaps.js';
import { stretchOrder } from './group.js';
import type { OpeningNote } from './notes/openingNotes.js';
import { type Candidate, inBreaks, tidy, withinWalls } from './openingPlaces.js';
import type { OpeningSign } from './openingSigns.js';

/** A text or a place of the job file is about an opening no farther off than this. *Practice, no source.* */
export const NEAR_MM = 1500;
/** A text that speaks of an opening where none is drawn is about a wall this near. *Practice, no source.* */
const BESIDE_MM = 600;

export interface OpeningsInput {
  readonly stretches: readonly WallStretch[];
  readonly faceLines: readonly FaceLine[];
  readonly signs: readonly OpeningSign[];
  readonly notes: readonly OpeningNote[];
  /** General level of the footings: heights are counted from it where a text gives no level. */
  readonly footingMm: number;
  /** From the job file, `near` in mm. */
  readonly settled: readonly {
    readonly near: Vec;
    readonly wallEnds: boolean;
    readonly sillMm: number | null;
    readonly headMm: number | null;
    /** For an opening that is not drawn: its width, about the place. */
    readonly widthMm: number | null;
  }[];
}

export interface WithOpenings {
  readonly stretches: readonly WallStretch[];
  readonly faceLines: readonly FaceLine[];
  readonly openings: readonly FoundOpening[];
}

const place = (p: Vec): readonly [number, number, number] => [p.x, p.y, 0];
const middle = (p: Vec, q: Vec): Vec => tidy({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 });

const nearest = <T extends { readonly near: Vec }>(
  list: readonly T[],
  candidates: readonly Candidate[],
  i: number,
): T[] =>
  list
    .filter((item) => {
      const away = candidates.map((c) => awayFrom(item.near, c));
      return away[i]! <= NEAR_MM && away.every((d, k) => d > away[i]! || (d === away[i]! && k >= i));
    })
    .sort(
      (p, q) => awayFrom(p.near, candidates[i]!) - awayFrom(q.near, candidates[i]!) || comparePoints(p.near, q.near),
    );

const facesOver = (c: Candidate, source: string): FaceLine[] =>
  [0.5, -0.5].map((k) => {
    const axes = { from: c.from, u: unit(sub(c.to, c.from)) };
    const ends = [
      tidy(worldAt(axes, 0, k * c.thicknessMm)),
      tidy(worldAt(axes, distance(c.from, c.to), k * c.thicknessMm)),
    ];
    const [from, to] = ends.sort(comparePoints);
    return { from: from!, to: to!, source };
  });

/** Jamb lines are no face of a wall that runs through. */
const isJamb = (c: Candidate, f: FaceLine): boolean => {
  const axes = { from: c.from, u: unit(sub(c.to, c.from)) };
  const width = distance(c.from, c.to);
  const half = c.thicknessMm / 2 + 2;
  const ends = [localOf(axes, f.from), localOf(axes, f.to)];
  return (
    ends.every((p) => Math.abs(p.y) <= half && p.x > -2 && p.x < width + 2) && Math.abs(ends[0]!.x - ends[1]!.x) <= 2
  );
};

/** Sill and head of a text as levels. Heights are above the floor, whose level a foundation plan seldom gives: the footing stands in, and it is said. */
const levelsOf = (n: OpeningNote, footingMm: number) => {
  const level = (mm: number | null, is: 'level' | 'height' | null) =>
    mm === null ? null : is === 'height' ? footingMm + mm : mm;
  const sillMm = level(n.sillMm, n.sillIs);
  const headMm = level(n.headMm, n.headIs);
  // A height of the opening itself reaches up from its sill.
  const reached = headMm === null && sillMm !== null && n.heightMm !== null ? sillMm + n.heightMm : headMm;
  const fromFooting = n.sillIs === 'height' || n.headIs === 'height';
  return { sillMm, headMm: reached, fromFooting };
};

const widthText = (c: Candidate): string => `${plainNumber(distance(c.from, c.to), 0)} mm`;

const questionOf = (c: Candidate, note: OpeningNote | undefined): Finding => {
  const signs = c.signs.length > 0 ? ` (${c.signs[0]!.what})` : '';
  const what = c.kind === null ? 'A break' : `${c.kind === 'opening' ? 'An' : 'A'} ${c.kind}${signs}`;
  const text = `${what} of ${widthText(c)} between two walls in line: ${note ? `"${note.text}" gives no sill or head` : 'nothing says whether concrete runs above or below it'}.`;
  return finding(c.kind === null ? 'trace.gap-in-wall' : 'trace.opening-unclear', text, {
    at: place(middle(c.from, c.to)),
    assumed: 'none: both walls end there',
  });
};

/** Doors and windows over walls that run through are mostly those of the storey above: one finding for all of them. */
const overWalls = (list: readonly Candidate[]): Finding[] => {
  const first = list[0];
  if (!first) return [];
  const places = list.map((c) => middle(c.from, c.to)).map((p) => `${plainNumber(p.x, 0)} ${plainNumber(p.y, 0)}`);
  const many = list.length === 1 ? 'A door, window or opening lies' : `${list.length} doors, windows or openings lie`;
  const text = `${many} over walls whose faces run through (${first.signs[0]!.what}), at ${places.slice(0, 20).join(', ')}${places.length > 20 ? ' …' : ''}.`;
  return [
    finding('trace.opening-over-wall', text, {
      at: place(middle(first.from, first.to)),
      assumed: 'they belong to the storey above: the walls are formed in full',
    }),
  ];
};

const openingOrder = inOrder<FoundOpening>(
  (p, q) => comparePoints(p.from, q.from),
  (p, q) => comparePoints(p.to, q.to),
  byNumber((o) => o.thicknessMm),
);

/** The stretch nearest to a point, and where along it the point stands. */
const nearestStretch = (stretches: readonly WallStretch[], p: Vec) => {
  let best: { stretch: WallStretch; alongMm: number; awayMm: number } | null = null;
  for (const stretch of stretches) {
    const { start, end, thicknessMm } = stretch;
    const { awayMm, alongMm } = nearestOn(p, { from: start, to: end, thicknessMm });
    if (best === null || awayMm < best.awayMm) best = { stretch, alongMm, awayMm };
  }
  return best;
};

/** An opening that only the job file knows, in the wall at its place: no longer than the wall, and only where its height is said. */
const undrawn = (
  wall: NonNullable<ReturnType<typeof nearestStretch>>,
  { near, widthMm, sillMm, headMm }: OpeningsInput['settled'][number],
): { readonly opening?: FoundOpening; readonly finding?: Finding } => {
  const width = widthMm ?? 0;
  const detail = { at: place(tidy(near)), subject: 'drawing.openings' };
  if (sillMm === null && headMm === null) {
    const text = `drawing.openings names an opening of ${plainNumber(width, 0)} mm that is not drawn, without sillMm or headMm.`;
    const assumed = 'no opening: the wall is formed in full';
    return { finding: finding('trace.opening-unclear', text, { ...detail, assumed }) };
  }
  const { start, end, thicknessMm } = wall.stretch;
  const lengthMm = distance(start, end);
  const [fromMm, toMm] = [wall.alongMm - width / 2, wall.alongMm + width / 2];
  const at = (alongMm: number): Vec => tidy(pointAlong(start, end, Math.max(0, Math.min(lengthMm, alongMm))));
  const opening = {
    from: at(fromMm),
    to: at(toMm),
    thicknessMm,
    kind: 'opening' as const,
    sillMm,
    headMm,
    sources: [],
  };
  if (fromMm >= -1 && toMm <= lengthMm + 1) return { opening };
  const text = `The opening of ${plainNumber(width, 0)} mm that drawing.openings names reaches beyond the wall there, which shows both faces over ${plainNumber(lengthMm, 0)} mm.`;
  return { opening, finding: finding('trace.opening-unclear', text, { ...detail, assumed: 'it ends with the wall' }) };
};

/** An answer of the job file about an opening that a nearer one is about already. */
export const answeredTwice = (near: Vec): Finding =>
  finding('trace.opening-answered-twice', 'drawing.openings speaks of this opening more than once.', {
    at: place(tidy(near)),
    subject: 'drawing.openings',
    assumed: 'what it says at the place nearest to the opening holds; the other was not used',
  });

/** Finds the openings of the walls and joins the stretches over those that are known. The order of the lists does not matter. */
export const findOpenings = (input: OpeningsInput): Staged<WithOpenings> => {
  const findings: Finding[] = [];
  const candidates = [...inBreaks(input), ...withinWalls(input)].sort(
    inOrder(
      (p, q) => comparePoints(p.from, q.from),
      (p, q) => comparePoints(p.to, q.to),
    ),
  );
  const openings: FoundOpening[] = [];
  let faceLines = input.faceLines;
  const joins: Candidate[] = [];
  const over: Candidate[] = [];
  const notes = input.notes.map((n) => ({ ...n, near: n.at, ...levelsOf(n, input.footingMm) }));
  candidates.forEach((c, i) => {
    const [settled, ...passedOver] = nearest(input.settled, candidates, i);
    findings.push(...passedOver.map((s) => answeredTwice(s.near)));
    const note = nearest(notes, candidates, i)[0];
    if (settled?.wallEnds) return;
    const sillMm = settled ? settled.sillMm : (note?.sillMm ?? null);
    const headMm = settled ? settled.headMm : (note?.headMm ?? null);
    const sources = [...new Set([...c.signs.map((s) => s.source), ...(settled || !note ? [] : [note.source])])].sort();
    const opening = {
      from: c.from,
      to: c.to,
      thicknessMm: c.thicknessMm,
      kind: c.kind ?? ('opening' as const),
      sillMm,
      headMm,
      sources,
    };
    if (sillMm === null && headMm === null) {
      if (c.gap === null) over.push(c);
      else findings.push(questionOf(c, note));
      if (c.gap !== null && c.kind !== null) openings.push(opening);
      return;
    }
    if (!settled) {
      const from = note!.fromFooting ? ', heights counted from the top of the footing' : '';
      const text = `The ${opening.kind} of ${widthText(c)} was given its sill and head from "${note!.text}"${from}.`;
      findings.push(
        finding('trace.opening-noted', text, {
          at: place(middle(c.from, c.to)),
          assumed: `sill ${sillMm ?? 'none'}, head ${headMm ?? 'none'}`,
        }),
      );
    }
    openings.push(opening);
    if (c.gap) joins.push(c);
  });
  findings.push(...overWalls(over));
  for (const n of notes) {
    if (candidates.some((c) => awayFrom(n.at, c) <= NEAR_MM)) continue;
    const wall = nearestStretch(input.stretches, n.at);
    if (wall === null || wall.awayMm > BESIDE_MM) continue;
    const text = `"${n.text}" speaks of an opening, but no break and no door or window is drawn in the wall beside it.`;
    const assumed = 'no opening: the wall is formed in full';
    findings.push(finding('trace.opening-unclear', text, { at: place(tidy(n.at)), subject: n.source, assumed }));
  }
  for (const s of input.settled) {
    if (candidates.some((c) => awayFrom(s.near, c) <= NEAR_MM)) continue;
    const wall = s.wallEnds || s.widthMm === null ? null : nearestStretch(input.stretches, s.near);
    if (wall !== null && wall.awayMm <= NEAR_MM) {
      const made = undrawn(wall, s);
      if (made.opening) openings.push(made.opening);
      if (made.finding) findings.push(made.finding);
      continue;
    }
    const text = `drawing.openings names a place with no opening or break within ${NEAR_MM} mm; with widthMm it makes one in the wall there.`;
    findings.push(finding('trace.opening-far', text, { at: place(s.near), assumed: 'nothing was changed there' }));
  }
  let stretches = input.stretches;
  for (const c of joins) {
    const before = stretches.find(
      (s) => distance(s.end, c.from) < 1e-6 && s.thicknessMm === input.stretches[c.gap!.before]!.thicknessMm,
    )!;
    const after = stretches.find((s) => distance(s.start, c.to) < 1e-6 && s !== before)!;
    const joined = joinedOver(before, after, []);
    stretches = [...stretches.filter((s) => s !== before && s !== after), joined];
    faceLines = [...faceLines.filter((f) => !isJamb(c, f)), ...facesOver(c, before.sources[0]!)];
  }
  return {
    value: { stretches: [...stretches].sort(stretchOrder), faceLines, openings: openings.sort(openingOrder) },
    findings,
  };
};

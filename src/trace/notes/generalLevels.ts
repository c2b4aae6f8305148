/** The general level of the footings and of the tops of the walls, from notes and from the height at which the lines are drawn. */

import { type Finding, finding } from '../../ground/findings.js';
import { byText, compareText } from '../../ground/order.js';
import { distance } from '../../ground/plane.js';
import { type LengthUnit, MM_PER, roundTo } from '../../ground/units.js';
import type { DrawingPath, TraceOptions } from '../../ground/vocabulary.js';
import { type DrawnLevels, isWallHeight } from '../levelsGiven.js';
import { kindName, type LevelKind, type LevelNote } from './levelNotes.js';
import { levelWords, placeOf, quoted } from './say.js';

/** Levels nearer than this are one level, mm. */
export const SAME_LEVEL_MM = 1;
export const sameLevel = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_LEVEL_MM;

const KEY: Readonly<Record<LevelKind, 'footingMm' | 'topMm'>> = { footing: 'footingMm', top: 'topMm' };
export const jobKey = (kind: LevelKind): 'footingMm' | 'topMm' => KEY[kind];

interface Vote {
  readonly mm: number;
  readonly general: boolean;
  readonly spots: number;
  /** Spots that are at no wall: such a note speaks for the plan. */
  readonly free: number;
  readonly wallMm: number;
  /** The first note that says it. */
  readonly note: LevelNote;
}

const votesOf = (kind: LevelKind, notes: readonly LevelNote[]): Vote[] => {
  const groups = new Map<number, LevelNote[]>();
  for (const n of notes.filter((x) => x.kind === kind)) {
    const key = [...groups.keys()].find((mm) => sameLevel(mm, n.mm)) ?? n.mm;
    groups.set(key, [...(groups.get(key) ?? []), n]);
  }
  return [...groups]
    .map(([mm, list]): Vote => {
      const hosts = new Set(list.flatMap((n) => n.spots.flatMap((s) => (s.near ? [s.near.foot.host] : []))));
      const first = [...list].sort((p, q) => Number(q.general) - Number(p.general))[0]!;
      return {
        mm,
        general: first.general,
        spots: list.reduce((sum, n) => sum + n.spots.length, 0),
        free: list.reduce((sum, n) => sum + n.spots.filter((x) => x.near === null).length, 0),
        wallMm: [...hosts].reduce((sum, h) => sum + h.lengthMm, 0),
        note: first,
      };
    })
    .sort(
      (p, q) =>
        Number(q.general) - Number(p.general) ||
        q.spots - p.spots ||
        q.free - p.free ||
        q.wallMm - p.wallMm ||
        // Equal: the one that makes the wall higher.
        (kind === 'footing' ? p.mm - q.mm : q.mm - p.mm),
    );
};

/** Foot and top of what is drawn with a height of its own; `topMm` null: drawn flat at a level that is not 0. */
export interface DrawnHeight {
  readonly footMm: number;
  readonly topMm: number | null;
}

/** Where one path stands, mm; null when it lies flat on 0. */
export const heightOf = (path: DrawingPath, unit: LengthUnit): DrawnHeight | null => {
  const z = path.elevation * MM_PER[unit];
  const up = path.extrusion * MM_PER[unit];
  if (!Number.isFinite(z) || !Number.isFinite(up) || (z === 0 && up === 0)) return null;
  if (up === 0) return { footMm: roundTo(z, 4), topMm: null };
  return { footMm: roundTo(Math.min(z, z + up), 4), topMm: roundTo(Math.max(z, z + up), 4) };
};

/** The height that most of the linework's length has; null when most of it lies flat on 0. */
const drawnHeight = (paths: readonly DrawingPath[], unit: LengthUnit): DrawnHeight | null => {
  const weights = new Map<string, { height: DrawnHeight | null; weight: number }>();
  for (const path of paths) {
    const height = heightOf(path, unit);
    const key = height === null ? '' : `${height.footMm} ${height.topMm}`;
    let weight = 0;
    for (let i = 1; i < path.vertices.length; i++) weight += distance(path.vertices[i - 1]!, path.vertices[i]!);
    const entry = weights.get(key);
    if (entry) entry.weight += weight;
    else weights.set(key, { height, weight });
  }
  const [best] = [...weights].sort((p, q) => q[1].weight - p[1].weight || compareText(p[0], q[0]));
  return best?.[1].height ?? null;
};

export interface GeneralLevels extends DrawnLevels {
  /** What the notes say, even where the job file says otherwise; null: nothing. */
  readonly noted: Readonly<Record<LevelKind, number | null>>;
  /** The levels of the notes were refused as absurd. */
  readonly refused: boolean;
  /** The levels come from the height at which the lines are drawn. */
  readonly byHeight: boolean;
  readonly findings: readonly Finding[];
}

const saidBy = (vote: Vote): string =>
  `${quoted(vote.note.text)}${vote.spots > 1 ? ` (noted ${vote.spots} times)` : ''}`;
const placeOfVote = (vote: Vote) => placeOf(vote.note.spots[0]!.at, vote.mm);

/** General levels that the drawing gives. The job file's are kept; where both speak and differ, a finding says so. */
export const generalLevels = (
  notes: readonly LevelNote[],
  paths: readonly DrawingPath[],
  unit: LengthUnit,
  options: TraceOptions,
): GeneralLevels => {
  const findings: Finding[] = [];
  const best: Record<LevelKind, Vote | null> = { footing: null, top: null };
  for (const kind of ['footing', 'top'] as const) {
    const votes = votesOf(kind, notes);
    const first = votes[0] ?? null;
    best[kind] = first;
    const second = votes[1];
    if (first && second && first.general && second.general) {
      const message = `${quoted(first.note.text)} gives the ${kindName(kind)} everywhere at ${levelWords(first.mm)}, ${quoted(second.note.text)} at ${levelWords(second.mm)}. Give levels.${KEY[kind]} in the job file.`;
      findings.push(
        finding('trace.level-conflict', message, {
          at: placeOfVote(second),
          subject: second.note.source,
          assumed: levelWords(first.mm),
        }),
      );
    }
    const spots = votes.reduce((sum, v) => sum + v.spots, 0);
    if (first && second && !first.general && options.levels[KEY[kind]] === null && 2 * first.spots <= spots) {
      const values = votes.slice(0, 4).map((v) => `${levelWords(v.mm)} (${saidBy(v)})`);
      const message = `No note says what the ${kindName(kind)} is in general, and none of the levels noted is that of most: ${values.join(', ')}. Give levels.${KEY[kind]} in the job file.`;
      const assumed = `${kindName(kind)} at ${levelWords(first.mm)} where no note says otherwise`;
      findings.push(
        finding('trace.level-conflict', message, { at: placeOfVote(first), subject: first.note.source, assumed }),
      );
    }
    const job = options.levels[KEY[kind]];
    if (first && job !== null && !sameLevel(first.mm, job)) {
      const message = `The job file gives the ${kindName(kind)} at ${levelWords(job)}, the drawing at ${levelWords(first.mm)}: ${saidBy(first)}.`;
      findings.push(
        finding('trace.level-conflict', message, {
          at: placeOfVote(first),
          subject: first.note.source,
          assumed: levelWords(job),
        }),
      );
    }
  }
  const noted = { footing: best.footing?.mm ?? null, top: best.top?.mm ?? null };
  const job = options.levels;
  const pick = (kind: LevelKind): number | null => (job[KEY[kind]] === null ? noted[kind] : null);
  const footing = job.footingMm ?? noted.footing;
  const top = job.topMm ?? noted.top;
  const some = best.top ?? best.footing;
  if (
    footing !== null &&
    top !== null &&
    (pick('footing') !== null || pick('top') !== null) &&
    !isWallHeight(footing, top)
  ) {
    const says = (kind: LevelKind): string =>
      job[KEY[kind]] !== null ? 'the job file' : best[kind] ? saidBy(best[kind]!) : '';
    const message =
      `The walls would stand from ${levelWords(footing)} (${says('footing')}) to ${levelWords(top)} (${says('top')}). ` +
      'What the drawing says was not used: give levels.footingMm and levels.topMm in the job file.';
    findings.push(finding('trace.level-absurd', message, { at: placeOfVote(some!), subject: some!.note.source }));
    return { footingMm: null, topMm: null, noted, refused: true, byHeight: false, findings };
  }
  for (const kind of ['footing', 'top'] as const) {
    const vote = best[kind];
    if (pick(kind) === null || !vote) continue;
    const message = `The ${kindName(kind)} is at ${levelWords(vote.mm)}: ${saidBy(vote)}.`;
    findings.push(finding('trace.levels-noted', message, { at: placeOfVote(vote), subject: vote.note.source }));
  }
  const ordered = [...paths].sort(byText((p) => p.source));
  const drawn = fromHeight(drawnHeight(ordered, unit), ordered[0]?.source ?? '', noted, options);
  findings.push(...drawn.findings);
  return {
    footingMm: pick('footing') ?? drawn.footingMm,
    topMm: pick('top') ?? drawn.topMm,
    noted,
    refused: false,
    byHeight: drawn.used,
    findings,
  };
};

/** What the height of the linework adds: levels where neither job file nor notes give any, else a comparison. */
const fromHeight = (
  height: DrawnHeight | null,
  source: string,
  noted: Readonly<Record<LevelKind, number | null>>,
  options: TraceOptions,
): DrawnLevels & { used: boolean; findings: Finding[] } => {
  const nothing = { footingMm: null, topMm: null, used: false };
  if (height === null) return { ...nothing, findings: [] };
  const footing = options.levels.footingMm ?? noted.footing;
  const top = options.levels.topMm ?? noted.top;
  if (height.topMm === null) {
    if ([footing, top].some((mm) => mm !== null && sameLevel(mm, height.footMm))) return { ...nothing, findings: [] };
    const message = `Most lines of the walls are drawn at height ${levelWords(height.footMm)}; that was not taken as a level. If it is one, give levels.footingMm or levels.topMm in the job file.`;
    return { ...nothing, findings: [finding('trace.levels-drawn', message, { subject: source })] };
  }
  const span = `from ${levelWords(height.footMm)} to ${levelWords(height.topMm)}`;
  if (footing === null && top === null) {
    if (!isWallHeight(height.footMm, height.topMm)) {
      const message = `Most lines of the walls are drawn ${span}; no wall is that high, so it was not used. Give levels.footingMm and levels.topMm in the job file.`;
      return { ...nothing, findings: [finding('trace.levels-drawn', message, { subject: source })] };
    }
    const message = `No text gives levels, but most lines of the walls are drawn ${span}.`;
    const assumed = `the walls stand ${span}`;
    return {
      footingMm: height.footMm,
      topMm: height.topMm,
      used: true,
      findings: [finding('trace.levels-drawn', message, { subject: source, assumed })],
    };
  }
  const agrees =
    (footing === null || sameLevel(footing, height.footMm)) && (top === null || sameLevel(top, height.topMm));
  if (agrees)
    return {
      footingMm: footing === null ? height.footMm : null,
      topMm: top === null ? height.topMm : null,
      used: false,
      findings: [],
    };
  const given = [
    ...(footing === null ? [] : [`top of footing at ${levelWords(footing)}`]),
    ...(top === null ? [] : [`top of wall at ${levelWords(top)}`]),
  ].join(' and ');
  const message = `The lines of the walls are drawn ${span}, but job file or notes give the ${given}.`;
  return { ...nothing, findings: [finding('trace.level-conflict', message, { subject: source, assumed: given })] };
};

/** Levels of single walls: notes near a wall that say something else than the general level. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import type { LengthUnit } from '../../ground/units.js';
import type { DrawingPath, FoundStep, Levels, LevelsAt, TraceOptions } from '../../ground/vocabulary.js';
import { isWallHeight } from '../levelsGiven.js';
import { type DrawnHeight, type GeneralLevels, heightOf, jobKey, sameLevel } from './generalLevels.js';
import { type Foot, type Host, type NearWalls, nearestWall } from './hosts.js';
import { kindName, type LevelKind, type LevelNote, NOTE_REACH_MM } from './levelNotes.js';
import { jobPoint, levelWords, placeOf, quoted } from './say.js';

/** One note at one place on a line of walls. */
interface Claim {
  readonly kind: LevelKind;
  readonly mm: number;
  readonly at: Vec;
  readonly foot: Foot;
  readonly text: string;
  readonly source: string;
}

interface Entry {
  readonly near: Vec;
  readonly kind: LevelKind;
  readonly mm: number;
  readonly text: string;
}

export interface NearInput {
  readonly notes: readonly LevelNote[];
  readonly hosts: readonly Host[];
  readonly general: GeneralLevels;
  readonly levels: Levels;
  /** From job file and notes. */
  readonly steps: readonly FoundStep[];
  /** The job file's, mm. */
  readonly jobAt: readonly LevelsAt[];
  readonly paths: readonly DrawingPath[];
  readonly unit: LengthUnit;
  readonly options: TraceOptions;
}

/** A note may stand this far past the step that it is on one side of, mm. *Practice, no source.* */
const PAST_STEP_MM = 300;
/** A noted rise and the difference of two noted levels agree within this, mm. */
const SAME_RISE_MM = 5;
const KINDS: readonly LevelKind[] = ['footing', 'top'];

const generalOf = (levels: Levels, kind: LevelKind): number => (kind === 'footing' ? levels.footingMm : levels.topMm);

/** It is plain which wall is meant: no other is about as near, or the place lies in this one alone. */
const isClear = ({ foot, rival }: NearWalls): boolean =>
  rival === null || (foot.awayMm <= SAME_POINT_MM && rival.awayMm > SAME_POINT_MM);

/** Notes that are for one wall, and findings on those that are for none. */
const claimsOf = (input: NearInput): { claims: Claim[]; findings: Finding[] } => {
  const findings: Finding[] = [];
  const claims: Claim[] = [];
  for (const n of input.notes) {
    if (n.general) continue;
    for (const { at, near } of n.spots) {
      const like = sameLevel(n.mm, generalOf(input.levels, n.kind));
      if (near && isClear(near)) {
        claims.push({ kind: n.kind, mm: n.mm, at, foot: near.foot, text: n.text, source: n.source });
        continue;
      }
      if (like) continue;
      const where = near ? 'stands about as near to two walls' : `stands more than ${NOTE_REACH_MM} mm from any wall`;
      const message = `${quoted(n.text)} ${where}; the ${kindName(n.kind)} ${levelWords(n.mm)} was not used. Put into the job file under levels.at: near: ${jobPoint(near?.foot.at ?? at, input.unit)}, ${jobKey(n.kind)}: ${Math.round(n.mm * 10) / 10}.`;
      findings.push(finding('trace.level-unclear', message, { at: placeOf(at, n.mm), subject: n.source }));
    }
  }
  return { claims, findings };
};

interface StepOnLine {
  readonly step: FoundStep;
  readonly stationMm: number;
}

/** Steps of one kind on a line of walls. */
const stepsOn = (steps: readonly FoundStep[], hosts: readonly Host[], kind: LevelKind, line: number): StepOnLine[] =>
  steps
    .filter((s) => s.kind === kind)
    .flatMap((step) => {
      const near = nearestWall(step.at, hosts, NOTE_REACH_MM);
      return near && near.foot.host.line === line ? [{ step, stationMm: near.foot.stationMm }] : [];
    });

const stepsBetween = (a: Claim, b: Claim, steps: readonly StepOnLine[]): StepOnLine[] =>
  steps.filter((s) => s.stationMm > a.foot.stationMm - PAST_STEP_MM && s.stationMm < b.foot.stationMm + PAST_STEP_MM);

/** The rise that is noted at the only step between two levels is their difference, or one of the three is wrong. */
const riseFinding = (a: Claim, b: Claim, between: readonly StepOnLine[]): Finding[] => {
  const rise = between.length === 1 ? between[0]!.step.riseMm : null;
  if (rise === null || Math.abs(Math.abs(a.mm - b.mm) - rise) <= SAME_RISE_MM) return [];
  const { step } = between[0]!;
  const message = `${quoted(step.text ?? '')} makes the step ${levelWords(rise)} high, but ${quoted(a.text)} and ${quoted(b.text)} differ by ${levelWords(Math.abs(a.mm - b.mm))}.`;
  const assumed = `${kindName(a.kind)} at ${levelWords(a.mm)} and ${levelWords(b.mm)}`;
  return [finding('trace.level-conflict', message, { at: placeOf(step.at), subject: step.sources[0] ?? '', assumed })];
};

const entryOf = (c: Claim): Entry => ({
  near: c.foot.host.pointAt(c.foot.stationMm),
  kind: c.kind,
  mm: c.mm,
  text: c.text,
});

/** The claims of one kind on one line of walls → its own levels, none where the general one holds. */
const settle = (claims: readonly Claim[], input: NearInput, findings: Finding[]): Entry[] => {
  const first = claims[0]!;
  const { kind } = first;
  const { line } = first.foot.host;
  const general = generalOf(input.levels, kind);
  const name = kindName(kind);
  const jobHere = input.jobAt.find((j) => {
    const value = kind === 'footing' ? j.footingMm : j.topMm;
    return value !== null && nearestWall(j.near, input.hosts, Number.POSITIVE_INFINITY)?.foot.host.line === line;
  });
  if (jobHere) {
    const job = (kind === 'footing' ? jobHere.footingMm : jobHere.topMm)!;
    const unlike = claims.find((c) => !sameLevel(c.mm, job));
    if (unlike) {
      const message = `The job file gives this wall the ${name} at ${levelWords(job)}, the drawing at ${levelWords(unlike.mm)}: ${quoted(unlike.text)}.`;
      findings.push(
        finding('trace.level-conflict', message, {
          at: placeOf(unlike.at, unlike.mm),
          subject: unlike.source,
          assumed: levelWords(job),
        }),
      );
    }
    return [];
  }
  if (claims.every((c) => sameLevel(c.mm, first.mm))) {
    if (sameLevel(first.mm, general)) return [];
    const entry = entryOf(first);
    const message = `${quoted(first.text)} gives the wall at ${jobPoint(entry.near, input.unit)} its ${name} at ${levelWords(first.mm)}; the others have ${levelWords(general)}.`;
    findings.push(finding('trace.level-near', message, { at: placeOf(entry.near, first.mm), subject: first.source }));
    return [entry];
  }
  const steps = stepsOn(input.steps, input.hosts, kind, line);
  const sides: Claim[] = [];
  for (let i = 0; i < claims.length; i++) {
    const c = claims[i]!;
    const before = claims[i - 1];
    if (before && sameLevel(before.mm, c.mm)) continue;
    const between = before ? stepsBetween(before, c, steps) : [];
    if (before && between.length === 0) {
      const message =
        `${quoted(before.text)} and ${quoted(c.text)} give one wall the ${name} at ${levelWords(before.mm)} and ${levelWords(c.mm)}, and no step is marked between ` +
        `${jobPoint(before.foot.at, input.unit)} and ${jobPoint(c.foot.at, input.unit)}. Put its place into the job file under levels.steps (at, kind: ${kind}) and both levels under levels.at.`;
      findings.push(
        finding('trace.step-where', message, {
          at: placeOf(c.foot.at, c.mm),
          subject: c.source,
          assumed: `the whole wall has its ${name} at ${levelWords(general)}`,
        }),
      );
      return [];
    }
    if (before) findings.push(...riseFinding(before, c, between));
    sides.push(c);
  }
  for (const c of sides) {
    const message = `${quoted(c.text)} gives this side of the step the ${name} ${levelWords(c.mm)}.`;
    findings.push(finding('trace.level-near', message, { at: placeOf(c.foot.at, c.mm), subject: c.source }));
  }
  return sides.map(entryOf);
};

/** Entries whose wall could not stand are left out. */
const standing = (entries: readonly Entry[], levels: Levels, findings: Finding[]): Entry[] => {
  const partner = (e: Entry): number => {
    const own = entries.find((o) => o.kind !== e.kind && o.near.x === e.near.x && o.near.y === e.near.y);
    return own?.mm ?? generalOf(levels, e.kind === 'footing' ? 'top' : 'footing');
  };
  return entries.filter((e) => {
    const other = partner(e);
    const [footing, top] = e.kind === 'footing' ? [e.mm, other] : [other, e.mm];
    if (isWallHeight(footing, top)) return true;
    const message = `${quoted(e.text)} would make this wall stand from ${levelWords(footing)} to ${levelWords(top)}; it was not used. Give both levels under levels.at in the job file.`;
    findings.push(finding('trace.level-absurd', message, { at: placeOf(e.near, e.mm) }));
    return false;
  });
};

const merge = (entries: readonly Entry[]): LevelsAt[] => {
  const out: LevelsAt[] = [];
  for (const e of entries) {
    const at = out.findIndex(
      (o) =>
        o.near.x === e.near.x &&
        o.near.y === e.near.y &&
        (e.kind === 'footing' ? o.footingMm === null : o.topMm === null),
    );
    const value = e.kind === 'footing' ? { footingMm: e.mm } : { topMm: e.mm };
    const before = out[at];
    if (before) {
      const text = before.text === e.text ? e.text : `${before.text} / ${e.text}`;
      out[at] = { ...before, ...value, text };
    } else out.push({ near: e.near, footingMm: null, topMm: null, from: 'drawing', text: e.text, ...value });
  }
  return out;
};

/** Walls drawn with a height of their own, where the general level comes from the height of the lines. */
const byHeight = (input: NearInput): LevelsAt[] => {
  if (!input.general.byHeight) return [];
  const bySource = new Map(input.paths.map((p) => [p.source, p]));
  return input.hosts.flatMap((host): LevelsAt[] => {
    const heights = host.sources.flatMap((s) => {
      const path = bySource.get(s);
      return path ? [heightOf(path, input.unit)] : [];
    });
    // Lines of the walls that it meets may be among its own: the height of most of them counts.
    const like = (p: DrawnHeight | null, q: DrawnHeight | null) => p?.footMm === q?.footMm && p?.topMm === q?.topMm;
    const own = heights.find((h) => 2 * heights.filter((other) => like(h, other)).length > heights.length);
    if (!own || own.topMm === null || !isWallHeight(own.footMm, own.topMm)) return [];
    const { footingMm, topMm } = input.levels;
    if (sameLevel(own.footMm, footingMm) && sameLevel(own.topMm, topMm)) return [];
    return [
      {
        near: host.pointAt(host.fromMm + host.lengthMm / 2),
        footingMm: own.footMm,
        topMm: own.topMm,
        from: 'drawing',
        text: `drawn from ${levelWords(own.footMm)} to ${levelWords(own.topMm)}`,
      },
    ];
  });
};

/** The levels of single walls that the drawing gives. */
export const levelsNear = (input: NearInput): { levelsAt: LevelsAt[]; findings: Finding[] } => {
  if (input.general.refused) return { levelsAt: [], findings: [] };
  const { claims, findings } = claimsOf(input);
  const entries: Entry[] = [];
  for (const kind of KINDS) {
    const job = input.options.levels[jobKey(kind)];
    const noted = input.general.noted[kind];
    // The job file and the notes count from different data: what single notes say cannot be used.
    if (job !== null && noted !== null && !sameLevel(job, noted)) {
      for (const c of claims.filter((x) => x.kind === kind && !sameLevel(x.mm, noted) && !sameLevel(x.mm, job))) {
        const message = `${quoted(c.text)} gives one wall the ${kindName(kind)} ${levelWords(c.mm)}; the job file counts from another datum than the drawing, so it was not used. Give that wall's level under levels.at, near: ${jobPoint(c.foot.at, input.unit)}.`;
        const detail = { at: placeOf(c.at, c.mm), subject: c.source, assumed: levelWords(job) };
        findings.push(finding('trace.level-conflict', message, detail));
      }
      continue;
    }
    const lines = new Map<number, Claim[]>();
    for (const c of claims.filter((x) => x.kind === kind))
      lines.set(c.foot.host.line, [...(lines.get(c.foot.host.line) ?? []), c]);
    for (const [, list] of [...lines].sort((p, q) => p[0] - q[0])) {
      const along = [...list].sort(
        (p, q) =>
          p.foot.stationMm - q.foot.stationMm ||
          p.mm - q.mm ||
          compareText(p.text, q.text) ||
          compareText(p.source, q.source),
      );
      entries.push(...settle(along, input, findings));
    }
  }
  return { levelsAt: [...merge(standing(entries, input.levels, findings)), ...byHeight(input)], findings };
};

/** Steps at their places on the walls, from the job file, from notes, and from the lines that mark them. */

import { type Finding, finding } from '../../ground/findings.js';
import { byNumber, byText, comparePoints, compareText, inOrder } from '../../ground/order.js';
import { cross, distance, dot, sub, unit as unitVector, type Vec } from '../../ground/plane.js';
import { type LengthUnit, MM_PER, roundTo } from '../../ground/units.js';
import type { Drawing, FoundStep, TraceOptions } from '../../ground/vocabulary.js';
import { hiddenLayers } from '../layers.js';
import { type Foot, type Host, nearestWall } from './hosts.js';
import { NOTE_REACH_MM } from './levelNotes.js';
import { isSheetNote, readAll } from './parts.js';
import type { PlacedText } from './places.js';
import { asWritten, jobPoint, levelWords, placeOf, quoted } from './say.js';
import { readSteps, risesMm, type StepReading } from './steps.js';

/** Two marks of one step lie within this along the wall, mm. *Practice, no source.* */
const ONE_STEP_MM = 600;
/** A mark drawn across the wall lies within this of its text along the wall, or of its leader's tip, mm. *Practice, no source.* */
const MARK_REACH_MM = 1000;
const MARK_REACH_TIP_MM = 300;
/** A mark runs across at least this share of the wall, and no farther than the widest footing, mm. */
const MARK_SHARE = 0.8;
const MARK_MOST_MM = 4000;
/** Sine of the angle by which a mark may be out of square: 15 degrees. */
const SQUARE_SINE = 0.26;
/** A leader's tip may miss the wall by this, mm. */
const TIP_MM = 300;
const SAME_RISE_MM = 5;

interface Placed {
  readonly kind: 'footing' | 'top';
  readonly foot: Foot;
  readonly at: Vec;
  readonly riseMm: number | null;
  readonly text: string;
  readonly sources: readonly string[];
  /** 0: a line marks it, 1: a leader points at it, 2: the text stands near. */
  readonly rank: number;
}

interface Mark {
  readonly from: Vec;
  readonly to: Vec;
  readonly source: string;
}

/** Short straight lines that are no wall's: what may mark a step; mm. */
const marksOf = (drawing: Drawing, hosts: readonly Host[], unit: LengthUnit): Mark[] => {
  const k = MM_PER[unit];
  const hidden = hiddenLayers(drawing);
  const faces = new Set(hosts.flatMap((h) => h.sources));
  return drawing.paths.flatMap((path) => {
    if (
      path.fill !== null ||
      path.closed ||
      path.vertices.length > 6 ||
      faces.has(path.source) ||
      hidden.has(path.layer)
    )
      return [];
    return path.vertices.slice(1).flatMap((to, i) => {
      const from = path.vertices[i]!;
      const mark = { from: { x: from.x * k, y: from.y * k }, to: { x: to.x * k, y: to.y * k }, source: path.source };
      const length = distance(mark.from, mark.to);
      return from.bulge === 0 && length > 0 && length <= MARK_MOST_MM ? [mark] : [];
    });
  });
};

/** The line across the wall that is nearest to where the note points. */
const markNear = (
  foot: Foot,
  marks: readonly Mark[],
  reachMm: number,
): { stationMm: number; source: string } | null => {
  const { host, at, stationMm } = foot;
  const along = host.directionAt(stationMm);
  const found = marks.flatMap((m) => {
    const run = sub(m.to, m.from);
    if (Math.abs(dot(unitVector(run), along)) > SQUARE_SINE) return [];
    const a = cross(along, sub(m.from, at));
    const b = cross(along, sub(m.to, at));
    const half = (host.thicknessMm / 2) * MARK_SHARE;
    if (Math.min(a, b) > -half || Math.max(a, b) < half) return [];
    const t = a / (a - b);
    const off = dot(sub(m.from, at), along) + dot(run, along) * t;
    return Math.abs(off) <= reachMm ? [{ off, stationMm: stationMm + off, source: m.source }] : [];
  });
  found.sort(
    inOrder(
      byNumber((f) => Math.abs(f.off)),
      byNumber((f) => f.off),
      byText((f) => f.source),
    ),
  );
  return found[0] ?? null;
};

/** A bare "STEP" counts only where a leader points at the wall: it may be a porch's. */
const isTelling = (r: StepReading): boolean => r.kind !== null || r.rise !== null || r.direction !== null;

/** Steps that texts mark, not yet joined. */
const notedSteps = (
  texts: readonly PlacedText[],
  hosts: readonly Host[],
  unit: LengthUnit,
  marks: () => readonly Mark[],
  findings: Finding[],
): Placed[] =>
  texts.flatMap((t) =>
    readAll(t.text, readSteps).flatMap((reading) =>
      t.at.flatMap((at): Placed[] => {
        const near = isSheetNote(t.text) && !t.byLeader ? null : nearestWall(at, hosts, NOTE_REACH_MM);
        const pointsAtWall = t.byLeader && near !== null && near.foot.awayMm <= TIP_MM;
        if (near === null || !(isTelling(reading) || pointsAtWall)) {
          if (near === null && reading.kind === null) return [];
          const why = near === null ? `is more than ${NOTE_REACH_MM} mm from any wall` : 'does not say what steps';
          const message = `${quoted(t.text)} ${why}; no step was taken from it. If there is one, put into the job file under levels.steps: at: ${jobPoint(near?.foot.at ?? at, unit)}, kind: footing or top.`;
          findings.push(finding('trace.step-unclear', message, { at: placeOf(at), subject: t.source }));
          return [];
        }
        const mark = markNear(near.foot, marks(), t.byLeader ? MARK_REACH_TIP_MM : MARK_REACH_MM);
        const { host } = near.foot;
        const stationMm = mark?.stationMm ?? near.foot.stationMm;
        const foot = host.footOf(onAxis(near.foot, stationMm));
        return [
          {
            kind: reading.kind ?? 'footing',
            foot,
            at: foot.at,
            riseMm: risesMm(reading, unit)[0] ?? null,
            text: asWritten(t.text, reading.raw),
            sources: mark ? [t.source, mark.source] : [t.source],
            rank: mark ? 0 : t.byLeader ? 1 : 2,
          },
        ];
      }),
    ),
  );

const onAxis = (foot: Foot, stationMm: number): Vec => {
  const along = foot.host.directionAt(foot.stationMm);
  const off = stationMm - foot.stationMm;
  return { x: foot.at.x + along.x * off, y: foot.at.y + along.y * off };
};

/** Marks of one step become one; where they give two heights a finding says so. */
const join = (placed: readonly Placed[], findings: Finding[]): FoundStep[] => {
  const ordered = [...placed].sort(
    (p, q) =>
      p.foot.host.line - q.foot.host.line ||
      compareText(p.kind, q.kind) ||
      p.rank - q.rank ||
      p.foot.stationMm - q.foot.stationMm ||
      compareText(p.text, q.text) ||
      compareText(p.sources[0]!, q.sources[0]!),
  );
  const onLine = new Map<string, Placed[][]>();
  for (const p of ordered) {
    const key = `${p.foot.host.line} ${p.kind}`;
    const groups = onLine.get(key) ?? [];
    const group = groups.find(([g]) => Math.abs(g!.foot.stationMm - p.foot.stationMm) <= ONE_STEP_MM);
    if (group) group.push(p);
    else groups.push([p]);
    onLine.set(key, groups);
  }
  const groups = [...onLine.values()].flat();
  return groups.map((group): FoundStep => {
    const first = group[0]!;
    const rises = group.flatMap((g) => (g.riseMm === null ? [] : [g]));
    const unlike = rises.find((g) => Math.abs(g.riseMm! - rises[0]!.riseMm!) > SAME_RISE_MM);
    if (unlike) {
      const message = `One step is noted as ${levelWords(rises[0]!.riseMm!)} high (${quoted(rises[0]!.text)}) and as ${levelWords(unlike.riseMm!)} (${quoted(unlike.text)}).`;
      findings.push(
        finding('trace.level-conflict', message, {
          at: placeOf(first.at),
          subject: unlike.sources[0]!,
          assumed: levelWords(rises[0]!.riseMm!),
        }),
      );
    }
    return {
      kind: first.kind,
      at: { x: roundTo(first.at.x, 4), y: roundTo(first.at.y, 4) },
      riseMm: rises[0]?.riseMm ?? null,
      text: first.text,
      sources: [...new Set(group.flatMap((g) => g.sources))].sort(compareText),
    };
  });
};

const compareSteps = (p: FoundStep, q: FoundStep): number =>
  comparePoints(p.at, q.at) || compareText(p.kind, q.kind) || compareText(p.text ?? '', q.text ?? '');

/** All steps, sorted by place. A noted one near one of the job file is left to that. */
export const placeSteps = (
  drawing: Drawing,
  texts: readonly PlacedText[],
  hosts: readonly Host[],
  unit: LengthUnit,
  options: TraceOptions,
): { steps: FoundStep[]; findings: Finding[] } => {
  const findings: Finding[] = [];
  const k = MM_PER[unit];
  const given = options.steps.map(({ at, kind }): FoundStep => {
    const p = { x: at.x * k, y: at.y * k };
    const near = nearestWall(p, hosts, Number.POSITIVE_INFINITY);
    if (near && near.foot.awayMm > NOTE_REACH_MM) {
      const message = `The step at ${jobPoint(p, unit)} in the job file is ${levelWords(near.foot.awayMm)} from the nearest wall.`;
      findings.push(finding('trace.step-unclear', message, { at: placeOf(p), assumed: 'it is on that wall' }));
    }
    const on = near?.foot.at ?? p;
    return { kind, at: { x: roundTo(on.x, 4), y: roundTo(on.y, 4) }, riseMm: null, text: null, sources: [] };
  });
  let marks: readonly Mark[] | null = null;
  const lazily = (): readonly Mark[] => {
    marks ??= marksOf(drawing, hosts, unit);
    return marks;
  };
  const noted = join(notedSteps(texts, hosts, unit, lazily, findings), findings).filter(
    (s) => !given.some((g) => g.kind === s.kind && distance(g.at, s.at) <= NOTE_REACH_MM),
  );
  for (const s of noted) {
    const rise = s.riseMm === null ? '' : `, ${levelWords(s.riseMm)} high`;
    const what = s.kind === 'footing' ? 'footing' : 'top of the wall';
    const message = `${quoted(s.text!)} was taken as a step of the ${what} at ${jobPoint(s.at, unit)}${rise}.`;
    findings.push(finding('trace.step-noted', message, { at: placeOf(s.at), subject: s.sources[0] ?? '' }));
  }
  return { steps: [...given, ...noted].sort(compareSteps), findings };
};

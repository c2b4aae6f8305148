/** One group of layers: its linework → stretches, with everything that was repaired, left out or guessed on the way. */

import { byNumber, byText, comparePoints, inOrder } from '../ground/order.js';
import { distance, type Vec } from '../ground/plane.js';
import { roundTo } from '../ground/units.js';
import type { DrawingPath, FaceLine, Pilaster, WallStretch } from '../ground/vocabulary.js';
import { type Coverage, coverLines, type LeftReason } from './coverage.js';
import { buildGraph, components } from './graph.js';
import { fillVotes, shownFaces } from './habits/fillSides.js';
import { overlap } from './intervals.js';
import { LINES_MOST, USUAL_MOST_MM } from './limits.js';
import { buildLines, type Line, type LineSet, pointAt, type Repair } from './lines.js';
import { findPads, type Pad } from './pads.js';
import { withPilasters } from './pilasters.js';
import { collectSegments, type LocalFrame, type Segment, type SegmentSet, toDrawingMm } from './segments.js';
import { chooseSides, cutStrips } from './sides.js';
import {
  believedBetween,
  type CappedStretch,
  capEnds,
  joinStretches,
  type RawStretch,
  sortOutShort,
  thicknessOf,
} from './stretches.js';
import { buildStations, buildStrips, extraLines } from './strips.js';
import { standTogether } from './together.js';

export interface GroupOptions {
  readonly frame: LocalFrame;
  /** Drawing units. */
  readonly area: readonly [number, number, number, number] | null;
  /** Do footing outlines lie on the same layers? Possible: the layers are named for walls alone. None: the job file names them as walls. */
  readonly footings: 'likely' | 'possible' | 'none';
  /** No layer name told: only pairs that are plainly walls. */
  readonly cautious: boolean;
  /** Ends of arcs, local mm: lines that end there are not loose. */
  readonly held?: readonly Vec[];
  /** Tells where fills and walls drawn by their axis show concrete (local mm); null or absent: nothing does. */
  readonly filled?: ((p: Vec) => boolean) | null;
}

/** A line, or part of one, that is no wall. */
export interface LeftOver {
  readonly layer: string;
  readonly reason:
    | LeftReason
    | 'outline of a footing'
    | 'centre line'
    | 'pad or column'
    | 'too short to tell a direction';
  readonly sources: readonly string[];
  readonly lengthMm: number;
  /** Ends and middle, mm in the drawing's axes. */
  readonly from: Vec;
  readonly to: Vec;
  readonly at: Vec;
}

export interface GroupPad {
  readonly at: Vec;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly source: string;
}

/** A free end that a line closes aslant. */
export interface SkewEnd {
  /** On the axis, at the longer face's end; mm in the drawing's axes. */
  readonly at: Vec;
  readonly offMm: number;
}

export interface TracedGroup {
  readonly stretches: readonly WallStretch[];
  readonly faceLines: readonly FaceLine[];
  readonly pilasters: readonly Pilaster[];
  /** Pairs of lines that stand apart from the walls, where no name tells that they are some: not among the stretches. */
  readonly apart: readonly WallStretch[];
  readonly skewEnds: readonly SkewEnd[];
  readonly leftOver: readonly LeftOver[];
  readonly pads: readonly GroupPad[];
  readonly repairs: readonly Repair[];
  readonly straightened: { readonly count: number; readonly mostMm: number };
  readonly duplicateCount: number;
  readonly segmentSet: SegmentSet;
  /** More lines than tracing works through: nothing was done. */
  readonly tooMuch: boolean;
}

/** Places leave rounded to this, so that they do not carry the noise of turning and shifting. */
const PLACES = 4;
/** In cautious mode a wall is at least this many times as long as thick. */
const CAUTIOUS_ASPECT = 5;

const rounded = (frame: LocalFrame, p: Vec): Vec => {
  const q = toDrawingMm(frame, p);
  return { x: roundTo(q.x, PLACES), y: roundTo(q.y, PLACES) };
};

const pick = (set: LineSet, keep: (line: number) => boolean): LineSet => ({
  ...set,
  lines: set.lines.filter((_, i) => keep(i)),
});

/** What the pairing stands on; null when it is more than tracing works through. */
const groundwork = (set: LineSet) => {
  const byStation = buildStations(set);
  const graph = byStation === null ? null : buildGraph(set);
  return byStation === null || graph === null ? null : { byStation, strips: buildStrips(set, byStation), graph };
};

const sourcesOf = (lines: readonly Line[]): string[] =>
  [...new Set(lines.flatMap((l) => l.pieces.map((p) => p.segment.source)))].sort();

const leftLine = (set: LineSet, frame: LocalFrame, l: Line, reason: LeftOver['reason'], a = l.a, b = l.b): LeftOver => {
  const pieces = l.pieces.filter((p) => p.a < b && p.b > a);
  const used = pieces.length > 0 ? pieces : l.pieces;
  return {
    layer: [...new Set(used.map((p) => p.segment.layer))].sort()[0]!,
    reason,
    sources: [...new Set(used.map((p) => p.segment.source))].sort(),
    lengthMm: b - a,
    from: rounded(frame, pointAt(set.directions[l.direction]!, a, l.v)),
    to: rounded(frame, pointAt(set.directions[l.direction]!, b, l.v)),
    at: rounded(frame, pointAt(set.directions[l.direction]!, (a + b) / 2, l.v)),
  };
};

const stretchOf = (set: LineSet, frame: LocalFrame, s: CappedStretch): WallStretch => {
  const d = set.directions[s.direction]!;
  const v = (s.vLow + s.vHigh) / 2;
  const p = rounded(frame, pointAt(d, s.a, v));
  const q = rounded(frame, pointAt(d, s.b, v));
  const faces = [...s.lows, ...s.highs].map((i) => set.lines[i]!);
  const parts = faces.flatMap((l) => l.pieces.filter((x) => overlap(x, s)));
  const caps = [...s.capsA, ...s.capsB, ...s.jogs].flatMap((c) =>
    set.lines[c.line]!.pieces.filter((x) => overlap(x, c.part)),
  );
  const sources = [...new Set([...parts, ...caps].map((x) => x.segment.source))].sort();
  const turn = comparePoints(p, q) > 0;
  const capped = [s.capsA.length > 0, s.capsB.length > 0] as const;
  return {
    start: turn ? q : p,
    end: turn ? p : q,
    thicknessMm: roundTo(thicknessOf(s), PLACES),
    startCapped: turn ? capped[1] : capped[0],
    endCapped: turn ? capped[0] : capped[1],
    sources,
  };
};

const faceLinesOf = (set: LineSet, frame: LocalFrame, coverage: Coverage): FaceLine[] => {
  const out = new Map<string, FaceLine>();
  set.lines.forEach((l, i) => {
    const d = set.directions[l.direction]!;
    for (const used of coverage.used[i]!) {
      for (const piece of l.pieces) {
        const part = overlap(used, piece);
        if (!part) continue;
        const p = rounded(frame, pointAt(d, part.a, l.v));
        const q = rounded(frame, pointAt(d, part.b, l.v));
        const [from, to] = comparePoints(p, q) > 0 ? [q, p] : [p, q];
        const source = piece.segment.source;
        out.set(`${from.x} ${from.y} ${to.x} ${to.y} ${source}`, { from, to, source });
      }
    }
  });
  return [...out.values()];
};

const faceOrder = inOrder<FaceLine>(
  (p, q) => comparePoints(p.from, q.from),
  (p, q) => comparePoints(p.to, q.to),
  byText((f) => f.source),
);

export const stretchOrder = inOrder<WallStretch>(
  (p, q) => comparePoints(p.start, q.start),
  (p, q) => comparePoints(p.end, q.end),
  byNumber((s) => s.thicknessMm),
);

const padsOf = (set: LineSet, frame: LocalFrame, pads: readonly Pad[]): GroupPad[] =>
  pads
    .map((p) => ({
      at: rounded(frame, p.centre),
      widthMm: roundTo(p.widthMm, 1),
      lengthMm: roundTo(p.lengthMm, 1),
      source: sourcesOf(p.lines.map((l) => set.lines[l]!))[0]!,
    }))
    .sort(
      inOrder<GroupPad>(
        (p, q) => comparePoints(p.at, q.at),
        byNumber((p) => p.widthMm),
        byText((p) => p.source),
      ),
    );

/** Long enough to be a wall by itself. */
const longEnough =
  (cautious: boolean) =>
  (s: RawStretch): boolean => {
    const t = thicknessOf(s);
    const lengthMm = s.b - s.a;
    if (!cautious) return lengthMm >= t - 1;
    return lengthMm >= CAUTIOUS_ASPECT * t && t <= USUAL_MOST_MM;
  };

/** Takes pads, footing outlines and centre lines out of the lines; null when they are more than tracing works through. */
const withoutOthers = (
  all: LineSet,
  options: GroupOptions,
): { set: LineSet; pads: GroupPad[]; leftOver: LeftOver[] } | null => {
  const { frame } = options;
  const work = groundwork(all);
  if (work === null) return null;
  const pads = findPads(all, work.graph, work.strips);
  const padLines = new Set(pads.flatMap((p) => p.lines));
  const leftOver = [...padLines].map((i) => leftLine(all, frame, all.lines[i]!, 'pad or column'));
  const rest = pick(all, (i) => !padLines.has(i));
  const graph = buildGraph(rest);
  const touching = graph === null ? rest.lines.map(() => 0) : components(graph, rest.lines.length);
  const extra = extraLines(rest, buildStations(rest) ?? [], options.footings, touching);
  const faces = options.filled ? shownFaces(rest, options.filled) : new Set<number>();
  const footing = new Set([...extra.footing].filter((i) => !faces.has(i)));
  const centre = new Set([...extra.centre].filter((i) => !faces.has(i)));
  rest.lines.forEach((l, i) => {
    if (footing.has(i)) leftOver.push(leftLine(rest, frame, l, 'outline of a footing'));
    else if (centre.has(i)) leftOver.push(leftLine(rest, frame, l, 'centre line'));
  });
  return { set: pick(rest, (i) => !footing.has(i) && !centre.has(i)), pads: padsOf(all, frame, pads), leftOver };
};

const skewEndsOf = (set: LineSet, frame: LocalFrame, s: CappedStretch): SkewEnd[] => {
  const d = set.directions[s.direction]!;
  const v = (s.vLow + s.vHigh) / 2;
  return [
    { offMm: s.skewAMm, u: s.a },
    { offMm: s.skewBMm, u: s.b },
  ]
    .filter((e) => e.offMm > 0)
    .map((e) => ({ at: rounded(frame, pointAt(d, e.u, v)), offMm: e.offMm }));
};

/** Pairs the faces in what is left. */
const wallsOf = (
  set: LineSet,
  options: GroupOptions,
): Pick<TracedGroup, 'stretches' | 'apart' | 'faceLines' | 'leftOver' | 'skewEnds'> | null => {
  const work = groundwork(set);
  if (work === null) return null;
  const { byStation, strips, graph } = work;
  const subs = cutStrips(graph, strips);
  const shown = options.filled ? fillVotes(set, graph, options.filled) : [];
  const sides = chooseSides(set, graph, strips, subs, byStation, options.cautious ? CAUTIOUS_ASPECT : 1, shown);
  const raw = joinStretches(set, graph, strips, subs, sides);
  const sorted = sortOutShort(graph, raw, longEnough(options.cautious));
  const usual = (s: RawStretch) => longEnough(false)(s) && thicknessOf(s) <= USUAL_MOST_MM;
  const between = options.cautious ? believedBetween(set, sorted.walls, sorted.short, usual) : [];
  const walls = raw.filter((s) => sorted.walls.includes(s) || between.includes(s));
  const capped = capEnds(set, walls);
  const short = raw.filter((s) => !walls.includes(s));
  const { kept, apart } = options.cautious ? standTogether(set, capped) : { kept: capped, apart: [] };
  const coverage = coverLines(set, graph, sides, strips, kept, short, apart);
  return {
    stretches: kept.map((s) => stretchOf(set, options.frame, s)).sort(stretchOrder),
    apart: apart.map((s) => stretchOf(set, options.frame, s)).sort(stretchOrder),
    faceLines: faceLinesOf(set, options.frame, coverage),
    skewEnds: kept.flatMap((s) => skewEndsOf(set, options.frame, s)),
    leftOver: coverage.left.map((p) => leftLine(set, options.frame, set.lines[p.line]!, p.reason, p.a, p.b)),
  };
};

const offDirection = (frame: LocalFrame, s: Segment): LeftOver => ({
  layer: s.layer,
  reason: 'too short to tell a direction',
  sources: [s.source],
  lengthMm: distance(s.a, s.b),
  from: rounded(frame, s.a),
  to: rounded(frame, s.b),
  at: rounded(frame, { x: (s.a.x + s.b.x) / 2, y: (s.a.y + s.b.y) / 2 }),
});

/** Traces the paths of one group of layers. Lists are sorted by place; the order of the paths does not matter. */
export const traceGroup = (paths: readonly DrawingPath[], options: GroupOptions): TracedGroup => {
  const { frame } = options;
  const segmentSet = collectSegments(paths, frame, options.area);
  const all = segmentSet.segments.length > LINES_MOST ? null : buildLines(segmentSet.segments, options.held);
  const others = all && withoutOthers(all, options);
  const found = others && wallsOf(others.set, options);
  if (!all || !others || !found) {
    const straightened = { count: 0, mostMm: 0 };
    const nothing = {
      stretches: [],
      faceLines: [],
      pilasters: [],
      apart: [],
      skewEnds: [],
      leftOver: [],
      pads: [],
      repairs: [],
      straightened,
      duplicateCount: 0,
    };
    return { ...nothing, segmentSet, tooMuch: true };
  }
  const thick = withPilasters(found.stretches, found.faceLines, found.leftOver, !options.cautious);
  const leftOver = [...all.offDirection.map((s) => offDirection(frame, s)), ...others.leftOver, ...thick.leftOver];
  return {
    stretches: [...thick.stretches].sort(stretchOrder),
    faceLines: [...thick.faceLines].sort(faceOrder),
    pilasters: thick.pilasters,
    apart: found.apart,
    skewEnds: found.skewEnds,
    leftOver: leftOver.sort(
      inOrder<LeftOver>(
        byText((l) => l.layer),
        byText((l) => l.reason),
        (p, q) => comparePoints(p.at, q.at),
        byNumber((l) => l.lengthMm),
        byText((l) => l.sources[0]!),
      ),
    ),
    pads: others.pads,
    repairs: all.repairs.map((r) => ({ ...r, at: rounded(frame, r.at) })),
    straightened: all.straightened,
    duplicateCount: all.duplicates.length,
    segmentSet,
    tooMuch: false,
  };
};

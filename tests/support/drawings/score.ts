/**
 * How much of the known walls was found, and how much of what was found is true.
 *
 * Both sides are walked along their axes in steps of at most STEP_MM.
 * - *Recall*: of the length where both faces of a known wall are bare (joints with other walls are nobody's length), the share over which a found
 *   wall has the same axis within AXIS_MM, the same direction within ANGLE_DEG and the same thickness within THICKNESS_MM.
 * - *Precision*: of the found length, the share that lies on a known wall in the same sense; here known walls reach through their joints, as far as
 *   the concrete of the corner goes. What reaches into blocks (pilasters), is stubby and within the concrete, or bridges an opening of the truth counts neither way.
 * - *False wall*: a found wall of which less than half its length is true, blocks and openings left aside.
 * - The second measure, `scoreAreas`, is plan area: the bare parts' bodies against the found walls' bodies.
 *
 * Only what the foundation holds as wall counts as found: a finding that asks about a place is no find.
 */

import type { Vec } from '../../../src/ground/plane.js';
import type { Pilaster, WallCurve, WallStretch } from '../../../src/ground/vocabulary.js';
import { Areas, bodiesOf, inside, lengthOf, pastNodes, pointOn, type Truth, unitOf } from './truth.js';

export const STEP_MM = 10;
export const AXIS_MM = 15;
export const THICKNESS_MM = 5;
export const ANGLE_DEG = 1.5;
/** Beyond a wall's ends a found one may run by this much and still be true: ends move with gaps and overruns of up to 20 mm. */
const END_MM = 25;

/** Shares of plan area: of the bare parts' bodies that was found, and of what was found that is concrete (or fills an opening). */
export interface AreaScore {
  readonly recall: number;
  readonly precision: number;
}

/** Pieces less than this many times as long as thick are stubby. */
const STUBBY = 1.5;

/** What of a foundation is scored. */
export interface Found {
  readonly stretches: readonly WallStretch[];
  readonly curves: readonly WallCurve[];
  readonly pilasters: readonly Pilaster[];
}

export interface Score {
  readonly truthMm: number;
  readonly recalledMm: number;
  readonly foundMm: number;
  readonly trueMm: number;
  readonly recall: number;
  readonly precision: number;
  readonly falseWalls: readonly string[];
  /** Known walls of which less than 95 % was found, longest first. */
  readonly missed: readonly string[];
}

interface Sample {
  readonly at: Vec;
  readonly along: Vec;
  readonly mm: number;
}

interface Element {
  readonly name: string;
  readonly thicknessMm: number;
  readonly samples: readonly Sample[];
  /** Where a point lies in the element's frame: along from its start, beside the axis, direction there; null when nowhere near. */
  readonly frame: (p: Vec) => { readonly u: number; readonly v: number; readonly along: Vec };
  readonly lengthMm: number;
  readonly past: readonly [number, number];
  readonly box: readonly [number, number, number, number];
}

const show = (p: Vec): string => `${p.x.toFixed(0)} ${p.y.toFixed(0)}`;

const boxOf = (points: readonly Vec[], by: number): [number, number, number, number] => [
  Math.min(...points.map((p) => p.x)) - by,
  Math.min(...points.map((p) => p.y)) - by,
  Math.max(...points.map((p) => p.x)) + by,
  Math.max(...points.map((p) => p.y)) + by,
];

const straight = (
  w: { readonly start: Vec; readonly end: Vec; readonly thicknessMm: number },
  past: readonly [number, number],
): Element => {
  const lengthMm = lengthOf(w);
  const d = lengthMm > 0 ? unitOf(w) : { x: 1, y: 0 };
  const n = Math.max(1, Math.ceil(lengthMm / STEP_MM));
  return {
    name: `${lengthMm.toFixed(0)} x ${w.thicknessMm.toFixed(0)} at ${show(w.start)} -> ${show(w.end)}`,
    thicknessMm: w.thicknessMm,
    lengthMm,
    past,
    box: boxOf([w.start, w.end], w.thicknessMm + Math.max(...past) + 100),
    samples: Array.from({ length: n }, (_, i) => ({
      at: pointOn(w, ((i + 0.5) * lengthMm) / n),
      along: d,
      mm: lengthMm / n,
    })),
    frame: (p) => {
      const q = { x: p.x - w.start.x, y: p.y - w.start.y };
      return { u: q.x * d.x + q.y * d.y, v: q.y * d.x - q.x * d.y, along: d };
    },
  };
};

interface Arc {
  readonly centre: Vec;
  readonly radiusMm: number;
  readonly fromRad: number;
  readonly toRad: number;
  readonly thicknessMm: number;
}

const TURN = 2 * Math.PI;

const curved = (c: Arc): Element => {
  const lengthMm = c.radiusMm * (c.toRad - c.fromRad);
  const n = Math.max(1, Math.ceil(lengthMm / STEP_MM));
  const at = (rad: number) => ({
    x: c.centre.x + c.radiusMm * Math.cos(rad),
    y: c.centre.y + c.radiusMm * Math.sin(rad),
  });
  const samples = Array.from({ length: n }, (_, i) => {
    const rad = c.fromRad + ((i + 0.5) * (c.toRad - c.fromRad)) / n;
    return { at: at(rad), along: { x: -Math.sin(rad), y: Math.cos(rad) }, mm: lengthMm / n };
  });
  return {
    name: `curve of ${lengthMm.toFixed(0)} x ${c.thicknessMm.toFixed(0)}, radius ${c.radiusMm.toFixed(0)} about ${show(c.centre)}`,
    thicknessMm: c.thicknessMm,
    lengthMm,
    past: [END_MM, END_MM],
    box: boxOf([c.centre], c.radiusMm + c.thicknessMm + 100),
    samples,
    frame: (p) => {
      const rad = Math.atan2(p.y - c.centre.y, p.x - c.centre.x);
      const middle = (c.fromRad + c.toRad) / 2;
      const near = middle + rad - middle - TURN * Math.round((rad - middle) / TURN);
      return {
        u: (near - c.fromRad) * c.radiusMm,
        v: Math.hypot(p.x - c.centre.x, p.y - c.centre.y) - c.radiusMm,
        along: { x: -Math.sin(rad), y: Math.cos(rad) },
      };
    },
  };
};

const MOST_SINE = Math.sin((ANGLE_DEG * Math.PI) / 180);

const meets = (a: Element, b: Element): boolean =>
  a.box[0] <= b.box[2] && b.box[0] <= a.box[2] && a.box[1] <= b.box[3] && b.box[1] <= a.box[3];

/** Does the sample of one element lie on the other one's axis, as far as `past` reaches? */
const liesOn = (s: Sample, thicknessMm: number, on: Element, past: readonly [number, number]): boolean => {
  if (Math.abs(thicknessMm - on.thicknessMm) > THICKNESS_MM) return false;
  const { u, v, along } = on.frame(s.at);
  if (Math.abs(v) > AXIS_MM || u < -past[0] || u > on.lengthMm + past[1]) return false;
  return Math.abs(s.along.x * along.y - s.along.y * along.x) <= MOST_SINE;
};

/** A face is bare where a point this far outside it lies in no concrete. */
const BARE_MM = 2;

const bareSamples = (e: Element, bodies: readonly { ring: readonly Vec[]; box: Element['box'] }[]): Sample[] => {
  const near = bodies.filter(
    (b) => b.box[0] <= e.box[2] && e.box[0] <= b.box[2] && b.box[1] <= e.box[3] && e.box[1] <= b.box[3],
  );
  const clear = (p: Vec) =>
    !near.some(
      ({ ring, box: [x0, y0, x1, y1] }) => p.x >= x0 && p.x <= x1 && p.y >= y0 && p.y <= y1 && inside(p, ring),
    );
  const by = e.thicknessMm / 2 + BARE_MM;
  return e.samples.filter(({ at, along }) =>
    [by, -by].every((h) => clear({ x: at.x - along.y * h, y: at.y + along.x * h })),
  );
};

/** Bodies over rows of samples; samples that go on straight are one body. */
const bodyOfSamples = (samples: readonly Sample[], thicknessMm: number): Vec[][] => {
  const rows: { from: Sample; to: Sample }[] = [];
  for (const s of samples) {
    const row = rows.at(-1);
    const ahead = row && {
      x: s.at.x - row.to.at.x - row.from.along.x * s.mm,
      y: s.at.y - row.to.at.y - row.from.along.y * s.mm,
    };
    if (row && ahead && s.along === row.from.along && Math.hypot(ahead.x, ahead.y) < 0.5) row.to = s;
    else rows.push({ from: s, to: s });
  }
  return rows.map(({ from, to }) => {
    const [h, d] = [thicknessMm / 2, from.along];
    const corner = (s: Sample, u: number, v: number) => ({
      x: s.at.x + d.x * u - d.y * v,
      y: s.at.y + d.y * u + d.x * v,
    });
    const [a, b] = [-from.mm / 2 - 0.01, to.mm / 2 + 0.01];
    return [corner(from, a, -h), corner(to, b, -h), corner(to, b, h), corner(from, a, h)];
  });
};

const sum = (samples: readonly Sample[]): number => samples.reduce((s, x) => s + x.mm, 0);
const share = (part: number, whole: number): number => (whole > 0 ? part / whole : 1);

/** A wall with a thickening on one face is a thicker wall there: the same concrete said in another way. */
const thickened = (found: Found): { readonly start: Vec; readonly end: Vec; readonly thicknessMm: number }[] =>
  found.pilasters.flatMap((p) =>
    found.stretches.flatMap((s) => {
      const d = unitOf(s);
      const [x, y] = [p.at.x - s.start.x, p.at.y - s.start.y];
      const [u, v] = [x * d.x + y * d.y, y * d.x - x * d.y];
      const out = s.thicknessMm / 2 + p.projectionMm;
      if (Math.abs(Math.abs(v) - out) > AXIS_MM || u < 0 || u > lengthOf(s)) return [];
      const beside = (Math.sign(v) * p.projectionMm) / 2;
      const [start, end] = [pointOn(s, u - p.widthMm / 2, beside), pointOn(s, u + p.widthMm / 2, beside)];
      return [{ start, end, thicknessMm: s.thicknessMm + p.projectionMm }];
    }),
  );

const laidOut = (truth: Truth, found: Found) => {
  const past = pastNodes(truth.walls);
  const known = [...truth.walls.map((w, i) => straight(w, past[i]!)), ...truth.curves.map(curved)];
  const theirs = [...found.stretches.map((s) => straight(s, [END_MM, END_MM])), ...found.curves.map(curved)];
  const bodies = bodiesOf(truth).map((ring) => ({ ring, box: boxOf(ring, 5) }));
  const gaps = truth.openings.map((o) => straight(o, [END_MM, END_MM]));
  const thicker = thickened(found).map((s) => straight(s, [END_MM, END_MM]));
  return { known, theirs, thicker, bodies, gaps, bare: known.map((e) => bareSamples(e, bodies)) };
};

export const scoreAreas = (truth: Truth, found: Found): AreaScore => {
  const { known, theirs, bodies, gaps, bare } = laidOut(truth, found);
  const areas = new Areas(known[0]?.samples[0]?.at ?? { x: 0, y: 0 });
  const concrete = areas.union(bodies.map((b) => b.ring));
  const bareArea = areas.union(bare.flatMap((list, i) => bodyOfSamples(list, known[i]!.thicknessMm)));
  const foundArea = areas.union(theirs.flatMap((t) => bodyOfSamples(t.samples, t.thicknessMm)));
  const gapArea = areas.union(gaps.flatMap((g) => bodyOfSamples(g.samples, g.thicknessMm)));
  const beside = areas.areaMm2(areas.less(areas.less(foundArea, concrete), gapArea));
  return {
    recall: share(areas.areaMm2(areas.common(bareArea, foundArea)), areas.areaMm2(bareArea)),
    precision: theirs.length > 0 ? 1 - beside / areas.areaMm2(foundArea) : 1,
  };
};

export const score = (truth: Truth, found: Found): Score => {
  const { known, theirs, thicker, bodies, gaps, bare } = laidOut(truth, found);
  const missed: { mm: number; text: string }[] = [];
  let recalledMm = 0;
  known.forEach((e, i) => {
    const by = [...theirs, ...thicker].filter((t) => meets(t, e));
    const hit = bare[i]!.filter((s) => by.some((t) => liesOn(s, e.thicknessMm, t, t.past)));
    const [got, all] = [sum(hit), sum(bare[i]!)];
    recalledMm += got;
    if (all - got > 0.05 * all) missed.push({ mm: all - got, text: `${(all - got).toFixed(0)} mm of ${e.name}` });
  });

  const falseWalls: string[] = [];
  let foundMm = 0;
  let trueMm = 0;
  for (const t of theirs) {
    const on = known.filter((e) => meets(t, e));
    const trueAs = (s: Sample, thicknessMm: number) =>
      on.some((e) => liesOn(s, thicknessMm, e, [e.past[0] + END_MM, e.past[1] + END_MM]));
    const stouter = thicker.filter((x) => meets(t, x) && x.thicknessMm > t.thicknessMm);
    const isTrue = (s: Sample) =>
      trueAs(s, t.thicknessMm) ||
      stouter.some((x) => {
        const { u, v, along } = x.frame(s.at);
        const within = u >= 0 && u <= x.lengthMm && Math.abs(v) <= (x.thicknessMm - t.thicknessMm) / 2 + AXIS_MM;
        return within && trueAs({ ...s, at: { x: s.at.x + along.y * v, y: s.at.y - along.x * v } }, x.thicknessMm);
      });
    const across = [-t.thicknessMm / 2 + 5, 0, t.thicknessMm / 2 - 5];
    const isNeutral = (s: Sample) =>
      across.some((v) =>
        truth.blocks.some((b) => inside({ x: s.at.x - s.along.y * v, y: s.at.y + s.along.x * v }, b)),
      ) || gaps.some((g) => liesOn(s, t.thicknessMm, g, g.past));
    // A stubby piece shows no direction of its own: within the concrete it is a block.
    const isBlock =
      t.lengthMm <= STUBBY * t.thicknessMm && t.samples.every((s) => bodies.some((b) => inside(s.at, b.ring)));
    const good = t.samples.filter(isTrue);
    const rest = isBlock ? [] : t.samples.filter((s) => !isTrue(s) && !isNeutral(s));
    trueMm += sum(good);
    foundMm += sum(good) + sum(rest);
    if (sum(rest) > sum(good)) falseWalls.push(t.name);
  }

  return {
    truthMm: bare.reduce((s, list) => s + sum(list), 0),
    recalledMm,
    foundMm,
    trueMm,
    recall: share(
      recalledMm,
      bare.reduce((s, list) => s + sum(list), 0),
    ),
    precision: share(trueMm, foundMm),
    falseWalls,
    missed: missed.sort((p, q) => q.mm - p.mm || (p.text < q.text ? -1 : 1)).map((m) => m.text),
  };
};

/** The faults that real linework has, put into linework that is right. Gaps and overruns go up to 20 mm, lines off parallel up to 2 mm, jitter to 1 mm. */

import type { Vec } from '../../../src/ground/plane.js';
import type { Dice } from './dice.js';
import type { Entity, Knot } from './dxfEntities.js';

export const FAULTS = [
  'gap',
  'overrun',
  'duplicate',
  'overlap',
  'zero',
  'split',
  'reverse',
  'shuffle',
  'off-parallel',
  'jitter',
  'repeat',
  'bulges',
  'uncapped',
  'unclosed',
] as const;
export type Fault = (typeof FAULTS)[number];

/** Share of the lines that a fault hits. */
const SHARE = 0.15;
const MOST_MM = 20;

type Line = Extract<Entity, { kind: 'line' }>;
type Poly = Extract<Entity, { kind: 'poly' }>;

const at = (l: Line, mm: number): Vec => {
  const d = Math.hypot(l.b.x - l.a.x, l.b.y - l.a.y);
  return { x: l.a.x + ((l.b.x - l.a.x) * mm) / d, y: l.a.y + ((l.b.y - l.a.y) * mm) / d };
};
const lengthOf = (l: Line): number => Math.hypot(l.b.x - l.a.x, l.b.y - l.a.y);

/** Each takes one line and gives what stands in its place. */
const LINE_FAULTS: Partial<Record<Fault, (l: Line, dice: Dice) => Line[]>> = {
  gap: (l, dice) => (lengthOf(l) > 100 ? [{ ...l, b: at(l, lengthOf(l) - dice.between(1, MOST_MM)) }] : [l]),
  overrun: (l, dice) => [{ ...l, b: at(l, lengthOf(l) + dice.between(1, MOST_MM)) }],
  duplicate: (l, dice) => [l, dice.chance(0.5) ? l : { ...l, a: l.b, b: l.a }],
  overlap: (l, dice) => {
    const d = lengthOf(l);
    const [p, q] = [dice.between(0.5, 0.7) * d, dice.between(0.3, 0.5) * d];
    return [
      { ...l, b: at(l, p) },
      { ...l, a: at(l, q) },
    ];
  },
  zero: (l, dice) => [l, { ...l, a: l.b, b: dice.chance(0.5) ? l.b : { x: l.b.x + 0.001, y: l.b.y } }],
  split: (l, dice) => {
    const d = lengthOf(l);
    const [p, q] = [dice.between(0.2, 0.4) * d, dice.between(0.6, 0.8) * d];
    return [
      { ...l, b: at(l, p) },
      { ...l, a: at(l, p), b: at(l, q) },
      { ...l, a: at(l, q) },
    ];
  },
  reverse: (l) => [{ ...l, a: l.b, b: l.a }],
  'off-parallel': (l, dice) => {
    const d = lengthOf(l);
    const by = dice.between(0.2, 2) * (dice.chance(0.5) ? 1 : -1);
    const n = { x: (-(l.b.y - l.a.y) / d) * by, y: ((l.b.x - l.a.x) / d) * by };
    return [{ ...l, b: { x: l.b.x + n.x, y: l.b.y + n.y } }];
  },
};

const jittered = (p: Knot, dice: Dice): Knot => {
  const [r, a] = [dice.between(0.1, 1), dice.between(0, 2 * Math.PI)];
  return { ...p, x: p.x + r * Math.cos(a), y: p.y + r * Math.sin(a) };
};

const polyFaults = (e: Poly, faults: ReadonlySet<Fault>, dice: Dice): Poly => {
  let out = e;
  if (faults.has('repeat')) {
    out = { ...out, points: out.points.flatMap((p) => (dice.chance(SHARE) && !p.bulge ? [p, p] : [p])) };
  }
  if (faults.has('bulges')) out = { ...out, bulges: true };
  if (faults.has('jitter')) out = { ...out, points: out.points.map((p) => (p.bulge ? p : jittered(p, dice))) };
  if (faults.has('unclosed') && out.closed) {
    const from = dice.whole(out.points.length);
    out = { ...out, closed: false, points: [...out.points.slice(from), ...out.points.slice(0, from)] };
  }
  return out;
};

/** `caps`: middles of the lines that close free ends. */
export const withFaults = (
  entities: readonly Entity[],
  kinds: readonly Fault[],
  caps: readonly Vec[],
  dice: Dice,
): Entity[] => {
  const faults = new Set(kinds);
  const cap = faults.has('uncapped') && caps.length > 0 ? caps[dice.whole(caps.length)]! : null;
  const isCap = (e: Entity): boolean =>
    cap !== null &&
    e.kind === 'line' &&
    Math.hypot((e.a.x + e.b.x) / 2 - cap.x, (e.a.y + e.b.y) / 2 - cap.y) < 1 &&
    lengthOf(e) < 600;
  let out = entities.filter((e) => !isCap(e)).map((e) => (e.kind === 'poly' ? polyFaults(e, faults, dice) : e));
  for (const kind of kinds) {
    const make = LINE_FAULTS[kind];
    if (!make) continue;
    out = out.flatMap((e): Entity[] =>
      e.kind === 'line' && lengthOf(e) > 1 && dice.chance(SHARE) ? make(e, dice) : [e],
    );
  }
  if (faults.has('jitter')) {
    out = out.map((e) => (e.kind === 'line' ? { ...e, a: jittered(e.a, dice), b: jittered(e.b, dice) } : e));
  }
  return faults.has('shuffle') ? dice.shuffled(out) : out;
};

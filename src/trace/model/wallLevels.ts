/**
 * Base and top along each stretch: of its elements, held against the footings and rafts under them. Where a wall reaches into its footing the forms stand on
 * the footing; where it stands clear of it, that is said. Local mm in plan, levels in the model's own datum.
 */

import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import { type Part, reachesOf, type StretchParts } from './parts.js';
import { onAxis } from './plan.js';
import { type Hole, type Piece, type Profile, profileOf } from './profile.js';
import { type Contact, carries } from './supports.js';

/** One base and one top over a part of a stretch. */
export interface LevelPart {
  readonly fromMm: number;
  readonly toMm: number;
  readonly baseMm: number;
  readonly topMm: number;
  /** GlobalIds and what is to be shown of them. */
  readonly parts: readonly Part[];
}

/** What was seen on the way, for findings. */
export type LevelNote =
  | {
      readonly kind: 'sloping-top' | 'sloping-base';
      readonly part: Part;
      readonly at: Vec;
      readonly lowMm: number;
      readonly highMm: number;
    }
  | {
      readonly kind: 'gap' | 'buried' | 'crossed';
      readonly part: Part;
      readonly at: Vec;
      readonly contact: Contact;
      readonly byMm: number;
    }
  | {
      /** Nothing carries it over this length; `over`: what it hangs over there. */
      readonly kind: 'bare';
      readonly part: Part;
      readonly at: Vec;
      readonly over: Contact | null;
      readonly lengthMm: number;
    }
  | {
      readonly kind: 'differ';
      readonly part: Part;
      readonly other: Part;
      readonly at: Vec;
      readonly what: 'base' | 'top';
      readonly byMm: number;
    };

export interface StretchLevels {
  readonly of: StretchParts;
  /** From start to end without gaps; one at least. */
  readonly levels: readonly LevelPart[];
  /** Holes in the bodies themselves (meshes that have their openings cut out). */
  readonly holes: readonly { readonly hole: Hole; readonly part: Part }[];
  readonly notes: readonly LevelNote[];
}

/** Levels that differ by no more are one. */
const SAME_LEVEL_MM = 2;
/** A top or base that differs by more from end to end of a part slopes. */
const SLOPE_MM = 5;
/** A top that slopes is one run over jumps up to this: notches for rafters and ridges. *Practice, no source.* */
const NOTCH_MM = 250;
/** A shorter part goes with its neighbour: an edge, no step. */
const PART_LEAST_MM = 50;
/** A wall may run so far beyond what carries it. *Practice, no source.* */
const BARE_LEAST_MM = 300;
/** A support carries a stretch where it is under this share of its thickness. */
const CARRIES_SHARE = 0.4;

interface Own {
  readonly part: Part;
  readonly profile: Profile;
}

const near = (pieces: readonly Piece[], u: number): Piece | undefined =>
  pieces.find((p) => u >= p.fromMm && u <= p.toMm);

const isWithin = (u: number, p: { readonly fromMm: number; readonly toMm: number }): boolean =>
  u >= p.fromMm && u <= p.toMm;

/** Neighbouring pieces that slope are one piece, with its highest top and lowest base. */
const levelled = (own: Own, at: (u: number) => Vec, notes: LevelNote[]): Own => {
  const out: Piece[] = [];
  const slopes = (p: Piece, key: 'base' | 'top') => Math.abs(p[key][0] - p[key][1]) > SLOPE_MM;
  let open: Piece[] = [];
  const close = () => {
    if (open.length === 0) return;
    const [fromMm, toMm] = [open[0]!.fromMm, open[open.length - 1]!.toMm];
    const [bases, tops] = [open.flatMap((p) => p.base), open.flatMap((p) => p.top)];
    const [lowBase, highBase] = [Math.min(...bases), Math.max(...bases)];
    const [lowTop, highTop] = [Math.min(...tops), Math.max(...tops)];
    const place = at((fromMm + toMm) / 2);
    if (open.some((p) => slopes(p, 'top')))
      notes.push({ kind: 'sloping-top', part: own.part, at: place, lowMm: lowTop, highMm: highTop });
    if (open.some((p) => slopes(p, 'base')))
      notes.push({ kind: 'sloping-base', part: own.part, at: place, lowMm: lowBase, highMm: highBase });
    out.push({ fromMm, toMm, base: [lowBase, lowBase], top: [highTop, highTop] });
    open = [];
  };
  for (const piece of own.profile.pieces) {
    const before = open[open.length - 1];
    const ragged = before !== undefined && (slopes(before, 'top') || slopes(piece, 'top'));
    const goesOn =
      before !== undefined &&
      Math.abs(before.top[1] - piece.top[0]) <= (ragged ? NOTCH_MM : SLOPE_MM) &&
      Math.abs(before.base[1] - piece.base[0]) <= SLOPE_MM;
    if (!goesOn) close();
    open.push(piece);
  }
  close();
  return { ...own, profile: { ...own.profile, pieces: out } };
};

interface Carrier {
  readonly contact: Contact;
  readonly part: Part;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Supports under a stretch, each with where it carries. */
const carriersOf = (of: StretchParts): Carrier[] =>
  of.parts.flatMap((part) =>
    part.seen.contacts.flatMap((contact) => {
      return reachesOf(contact.shelf.plan, of.axis).flatMap((reach) => {
        const [fromMm, toMm] = [Math.max(reach.fromMm, part.fromMm), Math.min(reach.toMm, part.toMm)];
        return reach.share >= CARRIES_SHARE && toMm - fromMm > PART_LEAST_MM ? [{ contact, part, fromMm, toMm }] : [];
      });
    }),
  );

interface Bare {
  readonly part: Part;
  readonly over: Contact | null;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Lengths that nothing carries, neighbours of one kind joined; short ones left out. */
const runsOf = (bare: readonly Bare[]): Bare[] => {
  const out: Bare[] = [];
  for (const b of bare) {
    const before = out[out.length - 1];
    if (before && before.toMm === b.fromMm && before.part === b.part && before.over?.support === b.over?.support)
      out[out.length - 1] = { ...before, toMm: b.toMm };
    else out.push(b);
  }
  return out.filter((b) => b.toMm - b.fromMm > BARE_LEAST_MM);
};

/** Parts of equal levels joined; short ones go with the neighbour before them (the first: after it). */
const joined = (levels: readonly LevelPart[]): LevelPart[] => {
  const alike = (a: LevelPart, b: LevelPart) =>
    Math.abs(a.baseMm - b.baseMm) <= SAME_LEVEL_MM && Math.abs(a.topMm - b.topMm) <= SAME_LEVEL_MM;
  const out: LevelPart[] = [];
  for (const l of levels) {
    const before = out[out.length - 1];
    const isShort = before !== undefined && before.toMm - before.fromMm < PART_LEAST_MM && out.length === 1;
    const parts = before ? [...new Set([...before.parts, ...l.parts])] : l.parts;
    if (before && (alike(before, l) || l.toMm - l.fromMm < PART_LEAST_MM))
      out[out.length - 1] = { ...before, toMm: l.toMm, parts };
    else if (before && isShort) out[0] = { ...l, fromMm: before.fromMm, parts };
    else out.push(l);
  }
  return out;
};

export const levelsOfStretch = (of: StretchParts, origin: Vec): StretchLevels => {
  const { axis } = of;
  const notes: LevelNote[] = [];
  const at = (u: number) => onAxis(axis, u);
  const measured = of.parts.map((part): Own => ({ part, profile: profileOf(part.seen.measured, axis, origin) }));
  const owns = measured.map((own) => levelled(own, at, notes));
  const carriers = carriersOf(of);
  const cuts = [
    0,
    axis.lengthMm,
    ...owns.flatMap((o) => [o.part, ...o.profile.pieces].flatMap((p) => [p.fromMm, p.toMm])),
    ...carriers.flatMap((c) => [c.fromMm, c.toMm]),
  ].filter((u) => u >= 0 && u <= axis.lengthMm);
  const places = [...new Set(cuts)].sort((a, b) => a - b);
  const levels: LevelPart[] = [];
  const bare: Bare[] = [];
  const said = new Set<string>();
  const note = (n: LevelNote) => {
    const other = n.kind === 'differ' ? n.other.seen.measured.element.id : '';
    const support = 'contact' in n ? n.contact.support.measured.element.id : '';
    const key = `${n.kind} ${n.part.seen.measured.element.id} ${other}${support} ${'byMm' in n ? plainNumber(n.byMm, 0) : ''}`;
    if (!said.has(key)) notes.push(n);
    said.add(key);
  };
  places.slice(1).forEach((toMm, i) => {
    const fromMm = places[i]!;
    const u = (fromMm + toMm) / 2;
    const here = owns.flatMap((o) => {
      const piece = isWithin(u, o.part) ? near(o.profile.pieces, u) : undefined;
      return piece ? [{ part: o.part, baseMm: piece.base[0], topMm: piece.top[0] }] : [];
    });
    if (here.length === 0) return;
    const low = here.reduce((a, b) => (b.baseMm < a.baseMm ? b : a));
    const high = here.reduce((a, b) => (b.topMm > a.topMm ? b : a));
    if (toMm - fromMm > PART_LEAST_MM)
      for (const h of here) {
        const [under, over] = [h.baseMm - low.baseMm, high.topMm - h.topMm];
        if (under > SAME_LEVEL_MM)
          note({ kind: 'differ', part: low.part, other: h.part, at: at(u), what: 'base', byMm: under });
        if (over > SAME_LEVEL_MM)
          note({ kind: 'differ', part: high.part, other: h.part, at: at(u), what: 'top', byMm: over });
      }
    let { baseMm } = low;
    const there = carriers
      .filter((c) => isWithin(u, c) && c.contact.shelf.topMm < high.topMm)
      .sort((p, q) => q.contact.shelf.topMm - p.contact.shelf.topMm);
    const noteOf = (kind: 'gap' | 'buried' | 'crossed', { part, contact }: Carrier) =>
      note({ kind, part, at: at(u), contact, byMm: Math.abs(contact.shelf.topMm - baseMm) });
    for (const c of there) if (c.contact.how === 'crossed') noteOf('crossed', c);
    // Where one wall goes through a slab and another beside it does not, the slab is no base of both.
    const beside = (c: Carrier) =>
      c.contact.how === 'through' &&
      here.some(
        (h) =>
          h.baseMm < c.contact.shelf.topMm - SAME_LEVEL_MM &&
          !there.some((o) => o.part === h.part && o.contact.support === c.contact.support),
      );
    for (const c of there) if (beside(c)) noteOf('crossed', c);
    const under = there.find((c) => carries(c.contact) && !beside(c));
    if (under) {
      const byMm = under.contact.shelf.topMm - baseMm;
      const { bands, footMm } = under.part.seen.measured;
      // A foot in the wall's own body may fill the gap; that is said as a foot.
      const footStands = footMm !== null && bands[0]!.fromMm <= under.contact.shelf.topMm + SAME_LEVEL_MM;
      if (byMm > SAME_LEVEL_MM) noteOf('buried', under);
      else if (byMm < -SAME_LEVEL_MM && !footStands) noteOf('gap', under);
      if (byMm > 0) baseMm = under.contact.shelf.topMm;
    } else {
      const over = there.find((c) => c.contact.how === 'clear')?.contact ?? null;
      bare.push({ part: low.part, over, fromMm, toMm });
    }
    levels.push({ fromMm, toMm, baseMm, topMm: high.topMm, parts: here.map((h) => h.part) });
  });
  if (of.parts.some((p) => p.seen.contacts.some(carries)))
    for (const b of runsOf(bare))
      notes.push({
        kind: 'bare',
        part: b.part,
        over: b.over,
        at: at((b.fromMm + b.toMm) / 2),
        lengthMm: b.toMm - b.fromMm,
      });
  const all = joined(levels);
  const holes = measured.flatMap((o) => o.profile.holes.map((hole) => ({ hole, part: o.part })));
  return { of, levels: stretched(all, axis.lengthMm), holes, notes };
};

/** From start to end without gaps. */
const stretched = (levels: readonly LevelPart[], lengthMm: number): LevelPart[] =>
  levels.map((l, i) => ({
    ...l,
    fromMm: i === 0 ? 0 : l.fromMm,
    toMm: levels[i + 1]?.fromMm ?? lengthMm,
  }));

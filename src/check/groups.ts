/** Rule T10, what moves as one: a group is one panel with fillers bolted stiff to it, and names the supports that it has. */

import { extentOn } from '../ground/extent.js';
import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import { COVER_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Group, Piece } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, placeOn, unitOf } from './context.js';
import type { Line } from './lines.js';
import { heldRaised } from './raised.js';

/** The pieces of a group from left to right of stations; null when one is missing or stands elsewhere. */
const piecesOf = (ctx: Context, group: Group): Piece[] | null => {
  const pieces: Piece[] = [];
  for (const id of group.pieces) {
    const piece = ctx.pieces.get(id);
    if (!piece || piece.course !== group.course || !extentOn(ctx.plan, piece, group.face)) return null;
    pieces.push(piece);
  }
  return pieces.sort((a, b) => extentOn(ctx.plan, a, group.face)!.fromMm - extentOn(ctx.plan, b, group.face)!.fromMm);
};

/** Why the pieces are not one rigid group of the extent that is named; null when they are. */
const notRigid = (ctx: Context, group: Group, pieces: readonly Piece[]): string | null => {
  if (pieces.filter((p) => p.kind === 'panel').length !== 1) return 'does not hold exactly one panel';
  const loose = pieces.find((p) => p.kind !== 'panel' && (p.kind !== 'filler' || unitOf(ctx, p)?.stiffTo !== 'panel'));
  if (loose) return `holds ${loose.id}, which is not bolted stiff to a panel`;
  const ends = pieces.map((p) => extentOn(ctx.plan, p, group.face)!);
  const joined = ends.every((c, i) => i === 0 || Math.abs(c.fromMm - ends[i - 1]!.toMm) <= COVER_MM);
  if (!joined) return 'holds pieces that do not stand side by side';
  const [first, last] = [ends[0]!, ends[ends.length - 1]!];
  if (Math.abs(first.fromMm - group.fromMm) <= COVER_MM && Math.abs(last.toMm - group.toMm) <= COVER_MM) return null;
  return `is named from ${plainNumber(group.fromMm, 1)} to ${plainNumber(group.toMm, 1)}, its pieces stand elsewhere`;
};

/** The supports that a group has, as against those it names. */
const wrongSupports = (ctx: Context, group: Group, held: ReadonlySet<string>): string | null => {
  const own = new Set(group.pieces);
  const real = (ctx.ties.get(group.run) ?? [])
    .filter((t) => t.stationMm > group.fromMm && t.stationMm < group.toMm)
    .filter((t) => t.pieces.some((p) => own.has(p)))
    .map((t) => t.id);
  if (held.has(group.id)) real.push('held');
  const [a, b] = [[...real].sort(compareText), [...group.supports].sort(compareText)];
  if (a.join() === b.join()) return null;
  const extra = b.filter((s) => !a.includes(s));
  const lacking = a.filter((s) => !b.includes(s));
  const say = (word: string, list: string[]) => (list.length > 0 ? [`${word} ${list.slice(0, 4).join(', ')}`] : []);
  return `${[...say('names supports that it has not:', extra), ...say('leaves out supports:', lacking)].join('; ')}`;
};

/** Ids of groups that a held edge supports. */
const heldGroups = (lines: readonly Line[]): Set<string> => {
  const held = new Set<string>();
  for (const { heldMm, elements } of lines) {
    for (const { group, fromMm, toMm } of elements)
      if (group && heldMm.some((h) => Math.abs(h - fromMm) <= EQUAL_MM || Math.abs(h - toMm) <= EQUAL_MM))
        held.add(group.id);
  }
  return held;
};

/** Fillers on a return are bolted to the leg there (jogs.ts). */
const isOnReturn = (ctx: Context, { kind, covers }: Piece): boolean =>
  kind === 'filler' &&
  covers.every((c) => {
    const side = ctx.faces.get(c.face)?.side;
    return side === 'start' || side === 'end';
  });

/** Panels and fillers that stand in no group, or in two. */
const membership = (ctx: Context): Finding[] => {
  const count = new Map<string, number>();
  for (const g of ctx.layout.groups) for (const id of g.pieces) count.set(id, (count.get(id) ?? 0) + 1);
  return ctx.layout.pieces.flatMap((p) => {
    const n = count.get(p.id) ?? 0;
    if ((p.kind !== 'panel' && p.kind !== 'filler') || n === 1 || isOnReturn(ctx, p)) return [];
    const message = `Piece ${p.id} stands in ${n === 0 ? 'no rigid group' : `${n} rigid groups`}.`;
    return [finding('check.group', message, { subject: p.id })];
  });
};

export const groupFindings = (ctx: Context, lines: readonly Line[]): Finding[] => {
  const held = new Set([...heldGroups(lines), ...heldRaised(ctx)]);
  const found = ctx.layout.groups.flatMap((group): Finding[] => {
    const face = ctx.faces.get(group.face);
    const side = face?.side === 'left' || face?.side === 'right' ? face.side : null;
    const at = face ? placeOn(ctx, face.wall, side, (group.fromMm + group.toMm) / 2) : null;
    const say = (text: string) => finding('check.group', `Group ${group.id} ${text}.`, { at, subject: group.id });
    const pieces = piecesOf(ctx, group);
    if (!pieces || pieces.length === 0) return [say('names pieces that do not stand on its face in its course')];
    const faults = [notRigid(ctx, group, pieces), wrongSupports(ctx, group, held)];
    return faults.flatMap((text) => (text === null ? [] : [say(text)]));
  });
  return [...found, ...membership(ctx)];
};

/** What reading could not use or had to change, gathered while it goes on and said at its end. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { UnreadEntities } from '../../ground/vocabulary.js';

type Counts = Map<string, number>;

const count = (counts: Counts, key: string, by = 1): void => {
  counts.set(key, (counts.get(key) ?? 0) + by);
};

const NAMES_SHOWN = 8;
const NAMES_KEPT = 10_000;
const LONGEST_NAME = 80;

const shortened = (name: string): string => (name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME)}…` : name);

/** 'a, b, c and 4 more': sorted, long names cut short. */
export const listed = (names: Iterable<string>): string => {
  const sorted = [...names].sort(compareText).map(shortened);
  const shown = sorted.slice(0, NAMES_SHOWN).join(', ');
  return sorted.length > NAMES_SHOWN ? `${shown} and ${sorted.length - NAMES_SHOWN} more` : shown;
};

const counted = (counts: Counts): string => listed([...counts].map(([key, n]) => `${key} ${n}`));

const total = (counts: Counts): number => [...counts.values()].reduce((sum, n) => sum + n, 0);

export class ReadLog {
  private readonly unread: Counts = new Map();
  /** By layer, then by type: all that could not be turned into linework. */
  private readonly leftOut = new Map<string, Counts>();
  private readonly widths: Counts = new Map();
  private readonly away: Counts = new Map();
  private readonly cut: Counts = new Map();
  private readonly hidden: Counts = new Map();
  private readonly chords: Counts = new Map();
  private readonly without: Counts = new Map();
  private readonly bad: Counts = new Map();
  private readonly badNames = new Set<string>();
  private readonly missing = new Set<string>();
  private readonly outside = new Map<string, string>();
  private readonly recursive = new Set<string>();
  private readonly twice = new Set<string>();
  private readonly said = new Map<string, Finding>();
  private paper = 0;

  /** Entities of a type that is no linework here, on their effective layer. */
  notRead(type: string, layer: string, n: number): void {
    count(this.unread, type, n);
    this.unusable(type, layer, n);
  }
  /** Entities whose numbers could not be used, on their effective layer. */
  unusable(type: string, layer: string, n: number): void {
    let on = this.leftOut.get(layer);
    if (!on) {
      on = new Map();
      this.leftOut.set(layer, on);
    }
    count(on, type, n);
  }
  /** An entity that lies outside of the boundary to which its insert is clipped. */
  clippedAway(type: string): void {
    count(this.away, type);
  }
  /** One that was cut there. */
  clipped(type: string): void {
    count(this.cut, type);
  }
  /** A polyline whose width is not one and the same, as it stands. */
  widthDiffers(type: string): void {
    count(this.widths, type);
  }
  /** An entity that is switched invisible, or brought by an insert that is hidden. */
  isHidden(type: string): void {
    count(this.hidden, type);
  }
  isOnPaper(): void {
    this.paper++;
  }
  /** A curve that was turned into short straight pieces. */
  inChords(type: string): void {
    count(this.chords, type);
  }
  /** An entity that is a point in plan. */
  noExtent(type: string): void {
    count(this.without, type);
  }
  /** An entity whose numbers are missing, not finite or impossible. */
  badNumbers(name: string, type: string): void {
    count(this.bad, type);
    if (this.badNames.size < NAMES_KEPT) this.badNames.add(`${type} ${name}`);
  }
  blockMissing(name: string): void {
    this.missing.add(name);
  }
  blockOutside(name: string, path: string): void {
    this.outside.set(name, path);
  }
  blockInItself(name: string): void {
    this.recursive.add(name);
  }
  blockTwice(name: string): void {
    this.twice.add(name);
  }
  /** A finding that is made where the matter is met; said once. */
  say(found: Finding): void {
    this.said.set(`${found.code}\n${found.message}`, found);
  }

  /** Counts by type, sorted by type: what could not be turned into linework, unusable entities included. */
  unreadCounts(): Record<string, number> {
    const all: Counts = new Map();
    for (const on of this.leftOut.values()) for (const [type, n] of on) count(all, type, n);
    return Object.fromEntries([...all].sort((a, b) => compareText(a[0], b[0])));
  }

  /** The same by layer, sorted by layer and type. */
  unreadOn(): UnreadEntities[] {
    const all: UnreadEntities[] = [];
    for (const [layer, on] of this.leftOut) for (const [entity, n] of on) all.push({ entity, layer, count: n });
    return all.sort((a, b) => compareText(a.layer, b.layer) || compareText(a.entity, b.entity));
  }

  findings(): Finding[] {
    return [...this.said.values(), ...this.ofBlocks(), ...this.ofEntities()];
  }

  private ofBlocks(): Finding[] {
    const found: Finding[] = [];
    if (this.outside.size > 0) {
      const names = [...this.outside].map(([name, path]) => (path === '' ? name : `${name} ("${path}")`));
      const message = `${this.outside.size} block(s) refer to other drawings, which are not in this file: ${listed(names)}.`;
      found.push(finding('read.reference-missing', message, { assumed: 'what they show is missing' }));
    }
    if (this.missing.size > 0) {
      const message = `${this.missing.size} block(s) are inserted but not defined: ${listed(this.missing)}.`;
      found.push(finding('read.block-missing', message, { assumed: 'the inserts show nothing' }));
    }
    if (this.recursive.size > 0) {
      const message = `${this.recursive.size} block(s) contain themselves: ${listed(this.recursive)}.`;
      found.push(finding('read.block-in-itself', message, { assumed: 'the inner insert shows nothing' }));
    }
    if (this.twice.size > 0) {
      const message = `${this.twice.size} block name(s) are defined more than once: ${listed(this.twice)}.`;
      found.push(finding('read.block-twice', message, { assumed: 'the first definition was used' }));
    }
    return found;
  }

  private ofEntities(): Finding[] {
    const found: Finding[] = [];
    if (this.bad.size > 0) {
      const message = `${total(this.bad)} entities have missing or impossible numbers and were not used: ${counted(this.bad)} (among them ${listed(this.badNames)}).`;
      found.push(finding('read.bad-numbers', message, { assumed: 'left out of the linework' }));
    }
    if (this.hidden.size > 0) {
      const message = `${total(this.hidden)} entities are invisible: ${counted(this.hidden)}.`;
      found.push(finding('read.invisible', message, { assumed: 'left out of the linework' }));
    }
    if (this.paper > 0) {
      const message = `${this.paper} entities are in paper space (sheets).`;
      found.push(finding('read.paper-space', message, { assumed: 'left out of the linework' }));
    }
    if (this.chords.size > 0) {
      const message = `${total(this.chords)} curves were turned into short straight pieces: ${counted(this.chords)}.`;
      found.push(
        finding('read.chords', message, { assumed: 'pieces leave the curve by less than 0.03 % of its radius' }),
      );
    }
    if (this.without.size > 0) {
      const message = `${total(this.without)} entities are points in plan: ${counted(this.without)}.`;
      found.push(finding('read.no-extent', message, { assumed: 'left out of the linework' }));
    }
    if (this.away.size + this.cut.size > 0) {
      const left = this.away.size === 0 ? 'none' : counted(this.away);
      const cut = this.cut.size === 0 ? 'none' : counted(this.cut);
      const message = `Inserts are clipped: outside of their boundaries ${total(this.away)} entities (${left}), cut at them ${total(this.cut)} (${cut}).`;
      found.push(finding('read.cut-at-clip', message, { assumed: 'only what is inside was read' }));
    }
    if (this.widths.size > 0) {
      const message = `${total(this.widths)} polylines taper or are drawn in several widths: ${counted(this.widths)}.`;
      found.push(finding('read.width-differs', message, { assumed: 'read as thin lines' }));
    }
    if (this.unread.size > 0) {
      const message = `${total(this.unread)} entities are not read as linework: ${counted(this.unread)}.`;
      found.push(finding('read.not-linework', message, { assumed: 'left out of the linework' }));
    }
    return found;
  }
}

/**
 * Walls that are cast against earth, rock or what stands, as the drawing shows it (rule T21): by a note, or since a standing wall is drawn along one of their
 * faces. They are taken so, since ties can be set on neither; what was taken is asked.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { add, distance, dot, leftOf, scale, sub, unit, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { Against, OneSidedWish, Side, WallCurve, WallStretch } from '../ground/vocabulary.js';
import { type Host, hostsOf, nearestWall } from './notes/hosts.js';
import type { OneSidedNote } from './notes/oneSidedNotes.js';
import { ROOM_MM, type StandingBeside } from './standing.js';

export interface OneSidedInput {
  /** The job file lists the walls that are formed on one side, and counts alone. */
  readonly isGiven: boolean;
  readonly notes: readonly OneSidedNote[];
  readonly standing: readonly StandingBeside[];
  readonly stretches: readonly WallStretch[];
  readonly curves: readonly WallCurve[];
}

/** A note is for the wall within this of its leader's tip, or of where it stands, mm. *Practice, no source.* */
const TIP_REACH_MM = 600;
const TEXT_REACH_MM = 1500;
/** A tip this far off the wall's body points at one of its sides. */
const OFF_MM = 20;
/** So far outside a face the place of a wish lies. */
const BESIDE_MM = 50;

const AGAINST_WORDS: Readonly<Record<Against, string>> = { earth: 'earth', rock: 'rock', wall: 'what stands there' };

/** Middle of all walls, by their lengths. */
const middleOfWalls = (stretches: readonly WallStretch[]): Vec => {
  let [x, y, sum] = [0, 0, 0];
  for (const s of stretches) {
    const length = distance(s.start, s.end);
    x += ((s.start.x + s.end.x) / 2) * length;
    y += ((s.start.y + s.end.y) / 2) * length;
    sum += length;
  }
  return sum > 0 ? { x: x / sum, y: y / sum } : { x: 0, y: 0 };
};

const where = (p: Vec) => [p.x, p.y, 0] as const;
const quoted = (text: string) => text.replace(/\s+/g, ' ').trim();

/** On the formed side of a wall, a little outside its face. */
const wish = (at: Vec, normal: Vec, thicknessMm: number, against: Against | null): OneSidedWish => ({
  near: add(at, scale(normal, thicknessMm / 2 + BESIDE_MM)),
  formed: null,
  against,
});

/** What the drawing shows, and what comes of it; where the job file counts alone the first of the two is told. */
const told = (
  isGiven: boolean,
  code: 'trace.one-sided-noted' | 'trace.one-sided-unplaced',
  fact: string,
  then: string,
  detail: { readonly at: ReturnType<typeof where>; readonly subject?: string; readonly assumed: string },
): Finding =>
  isGiven
    ? finding('trace.one-sided-overruled', `${fact}.`, { ...detail, assumed: 'oneSided in the job file counts alone' })
    : finding(code, `${fact}${then}.`, detail);

const byNote = (
  note: OneSidedNote,
  hosts: readonly Host[],
  middle: Vec,
  isGiven: boolean,
): Staged<readonly OneSidedWish[]> => {
  const near = nearestWall(note.at, hosts, note.byLeader ? TIP_REACH_MM : TEXT_REACH_MM);
  const said = `"${quoted(note.text)}"`;
  if (!near || near.rival) {
    const why = near ? 'stands about as near to two walls' : 'stands near no wall';
    const fact = `The note ${said} says that a wall is formed on one side`;
    const detail = { at: where(note.at), assumed: 'every wall has two faces formed' };
    return { value: [], findings: [told(isGiven, 'trace.one-sided-unplaced', fact, `, and ${why}`, detail)] };
  }
  const { foot } = near;
  const at = foot.host.pointAt(foot.stationMm);
  const n = leftOf(foot.host.directionAt(foot.stationMm));
  const tip = dot(sub(note.at, foot.at), n);
  // Who writes what it is cast against points at that; else forms stand on the side of the other walls, and where these tell none away from the words.
  const isPointed = note.byLeader && note.against !== null && foot.awayMm > OFF_MM;
  const inwards = dot(sub(middle, at), n);
  const isAlone = Math.abs(inwards) <= foot.host.thicknessMm;
  const towards = isPointed || isAlone ? -tip : inwards;
  const normal = towards >= 0 ? n : scale(n, -1);
  const cast = note.against ? ` against ${AGAINST_WORDS[note.against]}` : ' on one side';
  const fact = `By the note ${said} the wall here is cast${cast}`;
  const then = ': no ties and no forms are laid out on it';
  const assumed = `forms stand on ${isPointed || isAlone ? 'the side away from the note' : 'the side of the other walls'}`;
  return {
    value: [wish(at, normal, foot.host.thicknessMm, note.against)],
    findings: [told(isGiven, 'trace.one-sided-noted', fact, then, { at: where(at), assumed })],
  };
};

const sideways = (stretch: WallStretch, side: Side): Vec => {
  const n = leftOf(unit(sub(stretch.end, stretch.start)));
  return side === 'left' ? n : scale(n, -1);
};

const byStanding = (all: readonly StandingBeside[], isGiven: boolean): Staged<readonly OneSidedWish[]> => {
  const value: OneSidedWish[] = [];
  const findings: Finding[] = [];
  for (const s of all) {
    const both = all.some((o) => o.stretch === s.stretch && o.side !== s.side && o.how === 'against');
    const length = `${plainNumber(s.lengthMm, 0)} mm`;
    const on = s.layers.join(', ');
    const detail = { at: where(s.at), subject: on };
    const goesOn = { ...detail, assumed: 'forms and ties stand there all the same' };
    if (s.how === 'against' && !both) {
      value.push(wish(s.at, sideways(s.stretch, s.side === 'left' ? 'right' : 'left'), s.stretch.thicknessMm, 'wall'));
      const fact = `A wall that stands (${on}) lies along a face of the wall here for ${length}`;
      const then = ': it is taken as cast against it, and no ties and no forms are laid out';
      const taken = { ...detail, assumed: 'forms stand on the other side alone' };
      findings.push(told(isGiven, 'trace.one-sided-noted', fact, then, taken));
    } else if (s.how === 'within') {
      const message = `What stands (${on}) lies within the wall here, along ${length}: forms and ties are laid out as if it were not there.`;
      findings.push(finding('trace.standing-touches', message, goesOn));
    } else if (s.how === 'near') {
      const message = `What stands (${on}) is ${plainNumber(s.awayMm, 0)} mm from a face of the wall here, along ${length}: less than ${ROOM_MM} mm leave no room to set, clamp and strike forms.`;
      findings.push(finding('trace.standing-close', message, goesOn));
    } else {
      const why = s.how === 'against' ? 'as on its other face' : 'along a part of it';
      const message = `A wall that stands (${on}) lies ${plainNumber(s.awayMm, 0)} mm from a face of the wall here, for ${length}, ${why}: no form fits between them.`;
      findings.push(finding('trace.standing-touches', message, goesOn));
    }
  }
  return { value, findings };
};

/** The walls that the drawing shows as formed on one side; none where the job file counts alone. */
export const oneSidedFound = ({
  isGiven,
  notes,
  standing,
  stretches,
  curves,
}: OneSidedInput): Staged<readonly OneSidedWish[]> => {
  const middle = middleOfWalls(stretches);
  const hosts = notes.length > 0 ? hostsOf(stretches, curves) : [];
  const made = [byStanding(standing, isGiven), ...notes.map((note) => byNote(note, hosts, middle, isGiven))];
  return { value: isGiven ? [] : made.flatMap((m) => m.value), findings: made.flatMap((m) => m.findings) };
};

/** Findings that have a place: numbered as in the list beside the drawing. Failures and attentions are triangles, notes circles, so that no colour is needed. */

import type { Finding, Severity } from '../../ground/findings.js';
import { add, distance, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { type Box, leaderBox, type Places } from './labels.js';
import type { LayerKey } from './layers.js';
import { line, polyline, type Shape, text, textWidth } from './sheet.js';

const LETTER: Readonly<Record<Severity, string>> = { failure: 'F', attention: 'A', note: 'N' };

/** Number by which a finding is called in the drawing: letter of its severity and its place in the list. */
export const flagNumber = (finding: Finding, index: number): string => `${LETTER[finding.severity]}${index + 1}`;

/** How flags look: the layout's, and the trace's question marks. */
export interface FlagLook {
  /** Height of the numbers; the signs follow it. */
  readonly textMm: number;
  readonly numberOf: (finding: Finding, index: number) => string;
  /** Whether what a finding is about stands beside its sign. */
  readonly showsSubject: boolean;
}

/** Height of a sign over that of its number. */
const SIGN_HEIGHT = 3.75;

/** A triangle that holds a text of this width, its middle at `at`. */
const triangle = (at: Vec, widthMm: number, heightMm: number): Vec[] => {
  const half = Math.max(heightMm * 0.6, widthMm * 0.95);
  return [
    { x: at.x - half, y: at.y - heightMm / 2 },
    { x: at.x + half, y: at.y - heightMm / 2 },
    { x: at.x, y: at.y + heightMm / 2 },
  ];
};

/** The sign round the number: a double triangle for a failure, a triangle for an attention, a circle for a note. */
const sign = (
  { severity }: Finding,
  at: Vec,
  widthMm: number,
  heightMm: number,
  layer: LayerKey,
  about: readonly string[],
): Shape[] => {
  if (severity === 'note') {
    return [{ type: 'circle', layer, centre: at, radiusMm: Math.max(heightMm / 2, widthMm * 0.65), about }];
  }
  const corners = triangle(at, widthMm, heightMm);
  const outer = polyline(layer, corners, true, about);
  if (severity === 'attention') return [outer];
  const wider = corners.map((c) => add(at, scale(sub(c, at), 1.18)));
  return [outer, polyline(layer, wider, true, about)];
};

/** Findings at one place, or at places close together, share a leader; their signs stand over each other. */
interface FlagGroup {
  /** Where the leader ends. */
  readonly place: Vec;
  /** Every place that the group has findings at, the one of the leader too: each has a dot, led to that one. */
  readonly places: readonly Vec[];
  readonly items: readonly { readonly finding: Finding; readonly index: number }[];
}

/** Signs in one stack; more findings at a place make more stacks. */
const STACK = 8;
/** Over the height of a sign. */
const PITCH = 1.3;
/** Radius of the dot at the place, over the height of the numbers. */
const DOT = 0.3125;
const RINGS = 16;
const DIRECTIONS = 48;

/** Places nearer to each other than this, over the height of the numbers, share a leader: as at the two edges of a short jog. */
const NEAR = 4;

/** Findings with a place in the order of the list, gathered about the first place of each group. */
const groupsOf = (findings: readonly Finding[], nearMm: number): FlagGroup[] => {
  const gathered: { places: Vec[]; items: { finding: Finding; index: number }[] }[] = [];
  findings.forEach((finding, index) => {
    if (finding.at === null) return;
    const at = { x: finding.at[0], y: finding.at[1] };
    let group = gathered.find(({ places }) => distance(places[0]!, at) <= nearMm);
    if (!group) {
      group = { places: [], items: [] };
      gathered.push(group);
    }
    if (group.places.every((p) => distance(p, at) > 1)) group.places.push(at);
    group.items.push({ finding, index });
  });
  return gathered.flatMap(({ places, items }) => {
    const stacks = Math.ceil(items.length / STACK);
    return Array.from({ length: stacks }, (_, i) => ({
      place: places[0]!,
      // One stack of many has the dots.
      places: i === 0 ? places : places.slice(0, 1),
      items: items.slice(i * STACK, (i + 1) * STACK),
    }));
  });
};

interface FlagPlace {
  /** Middle of the stack of signs. */
  readonly at: Vec;
  /** Subjects stand right of the signs (+1) or left (-1): away from the place. */
  readonly out: 1 | -1;
  readonly leader: readonly [Vec, Vec] | null;
  readonly boxes: readonly [Box, ...Box[]];
}

/** Half sizes of a stack of signs, room for texts beside it, and radius of the dot, mm. */
interface StackSize {
  readonly signHalf: number;
  readonly stackHalf: number;
  readonly subjectMm: number;
  readonly dotMm: number;
}

/** Places round a finding in which its flags are tried: rings that grow, the upper right first. */
function* flagPlaces(place: Vec, size: StackSize): Generator<FlagPlace> {
  const { signHalf, stackHalf, subjectMm, dotMm } = size;
  for (let ring = 1; ring <= RINGS; ring++) {
    for (let k = 0; k < DIRECTIONS; k++) {
      const angle = Math.PI / 4 + (k * 2 * Math.PI) / DIRECTIONS;
      const reach = dotMm * (8 + ring * 10);
      const [dx, dy] = [Math.cos(angle) * (reach + signHalf), Math.sin(angle) * (reach + stackHalf)];
      const at = add(place, { x: dx, y: dy });
      const out = dx < -1 ? -1 : 1;
      const centre = add(at, { x: (out * subjectMm) / 2, y: 0 });
      const box: Box = { kind: 'text', centre, halfMm: [signHalf + subjectMm / 2, stackHalf], rotationDeg: 0 };
      const towards = unit(sub(at, place));
      const edge = Math.min(
        signHalf / Math.max(Math.abs(towards.x), 1e-9),
        stackHalf / Math.max(Math.abs(towards.y), 1e-9),
      );
      const start = add(place, scale(towards, dotMm));
      const end = add(at, scale(towards, -edge - 10));
      if (distance(place, at) <= edge + 2 * dotMm) yield { at, out, leader: null, boxes: [box] };
      else yield { at, out, leader: [start, end], boxes: [box, leaderBox(start, end)] };
    }
  }
}

const layerOf = (finding: Finding): LayerKey => (finding.severity === 'note' ? 'NOTE' : 'FLAG');

/** Flags of all findings of a list, in one look. */
class Flags {
  private readonly heightMm: number;
  private readonly dotMm: number;

  constructor(
    private readonly look: FlagLook,
    private readonly places: Places,
  ) {
    this.heightMm = look.textMm * SIGN_HEIGHT;
    this.dotMm = look.textMm * DOT;
  }

  private subjectOf(finding: Finding): string {
    return this.look.showsSubject ? finding.subject : '';
  }

  /** One sign with its number, and what the finding is about beside it. */
  private sign(finding: Finding, index: number, at: Vec, out: 1 | -1, signHalf: number): Shape[] {
    const { textMm } = this.look;
    const layer = layerOf(finding);
    const number = this.look.numberOf(finding, index);
    const about = ['finding', finding.code, number];
    const low = finding.severity === 'note' ? at : add(at, { x: 0, y: -this.heightMm * 0.2 });
    const shapes = [
      ...sign(finding, at, textWidth(number, textMm), this.heightMm, layer, about),
      text(layer, number, low, textMm, { across: 'centre', upright: 'middle', about }),
    ];
    const subject = this.subjectOf(finding);
    if (subject === '') return shapes;
    const beside = add(at, { x: out * (signHalf + textMm / 2), y: 0 });
    const across = out > 0 ? 'left' : 'right';
    return [...shapes, text(layer, subject, beside, textMm, { across, upright: 'middle', about })];
  }

  group({ place, places, items }: FlagGroup): Shape[] {
    const { textMm, numberOf } = this.look;
    const numberMm = Math.max(...items.map((i) => textWidth(numberOf(i.finding, i.index), textMm)));
    const signHalf = Math.max(this.heightMm * 0.75, numberMm * 1.2);
    const subjects = items.map(({ finding }) => {
      const subject = this.subjectOf(finding);
      return subject === '' ? 0 : textWidth(subject, textMm) + textMm;
    });
    const pitchMm = this.heightMm * PITCH;
    const stackHalf = (items.length * pitchMm) / 2;
    const size = { signHalf, stackHalf, subjectMm: Math.max(...subjects), dotMm: this.dotMm };
    const found = this.places.firstFree(flagPlaces(place, size));
    const first = items[0]!.finding;
    const layer = layerOf(first);
    const about = ['finding', first.code, numberOf(first, items[0]!.index)];
    const shapes = places.flatMap((centre): Shape[] => {
      const dot: Shape = { type: 'circle', layer, centre, radiusMm: this.dotMm, about };
      const apart = distance(centre, place);
      if (apart <= 2 * this.dotMm) return [dot];
      const by = scale(sub(place, centre), this.dotMm / apart);
      return [dot, line(layer, add(centre, by), sub(place, by), about)];
    });
    if (found.leader) shapes.push(line(layer, found.leader[0], found.leader[1], about));
    items.forEach(({ finding, index }, i) => {
      const at = add(found.at, { x: 0, y: stackHalf - pitchMm * (i + 0.5) });
      shapes.push(...this.sign(finding, index, at, found.out, signHalf));
    });
    return shapes;
  }
}

/** Flags of all findings that have a place; `places` has what stands in the plan already. */
export const drawFlags = (findings: readonly Finding[], places: Places, look: FlagLook): Shape[] => {
  const flags = new Flags(look, places);
  return groupsOf(findings, NEAR * look.textMm).flatMap((group) => flags.group(group));
};

/** Findings that have a place: numbered as in the list beside the drawing. Failures and attentions are triangles, notes circles, so that no colour is needed. */

import type { Finding, Severity } from '../../ground/findings.js';
import { add, distance, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { type Box, leaderBox, type Places } from './labels.js';
import type { LayerKey } from './layers.js';
import { TEXT_MM } from './scene.js';
import { line, polyline, type Shape, text, textWidth } from './sheet.js';

const LETTER: Readonly<Record<Severity, string>> = { failure: 'F', attention: 'A', note: 'N' };

/** Number by which a finding is called in the drawing: letter of its severity and its place in the list. */
export const flagNumber = (finding: Finding, index: number): string => `${LETTER[finding.severity]}${index + 1}`;

const HEIGHT_MM = 300;

/** A triangle that holds a text of this width, its middle at `at`. */
const triangle = (at: Vec, widthMm: number): Vec[] => {
  const half = Math.max(HEIGHT_MM * 0.6, widthMm * 0.95);
  return [
    { x: at.x - half, y: at.y - HEIGHT_MM / 2 },
    { x: at.x + half, y: at.y - HEIGHT_MM / 2 },
    { x: at.x, y: at.y + HEIGHT_MM / 2 },
  ];
};

/** The sign round the number: a double triangle for a failure, a triangle for an attention, a circle for a note. */
const sign = (finding: Finding, at: Vec, widthMm: number, layer: LayerKey, about: readonly string[]): Shape[] => {
  if (finding.severity === 'note') {
    return [{ type: 'circle', layer, centre: at, radiusMm: Math.max(HEIGHT_MM / 2, widthMm * 0.65), about }];
  }
  const corners = triangle(at, widthMm);
  const outer = polyline(layer, corners, true, about);
  if (finding.severity === 'attention') return [outer];
  const wider = corners.map((c) => add(at, scale(sub(c, at), 1.18)));
  return [outer, polyline(layer, wider, true, about)];
};

/** Findings at one place share a dot and a leader; their signs stand over each other. */
interface FlagGroup {
  readonly place: Vec;
  readonly items: readonly { readonly finding: Finding; readonly index: number }[];
}

/** Signs in one stack; more findings at a place make more stacks. */
const STACK = 8;
const PITCH_MM = HEIGHT_MM * 1.3;
const DOT_MM = 25;
const RINGS = 16;
const DIRECTIONS = 48;

/** Findings with a place, gathered by place (to the mm) in the order of the list. */
const groupsOf = (findings: readonly Finding[]): FlagGroup[] => {
  const byPlace = new Map<string, { place: Vec; items: { finding: Finding; index: number }[] }>();
  findings.forEach((finding, index) => {
    if (finding.at === null) return;
    const [x, y] = finding.at;
    const key = `${Math.round(x)} ${Math.round(y)}`;
    const group = byPlace.get(key) ?? { place: { x, y }, items: [] };
    group.items.push({ finding, index });
    byPlace.set(key, group);
  });
  return [...byPlace.values()].flatMap(({ place, items }) => {
    const stacks = Math.ceil(items.length / STACK);
    return Array.from({ length: stacks }, (_, i) => ({ place, items: items.slice(i * STACK, (i + 1) * STACK) }));
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

/** Places round a finding in which its flags are tried: rings that grow, the upper right first. `subjectMm`: room for texts beside the signs. */
function* flagPlaces(place: Vec, signHalf: number, stackHalf: number, subjectMm: number): Generator<FlagPlace> {
  for (let ring = 1; ring <= RINGS; ring++) {
    for (let k = 0; k < DIRECTIONS; k++) {
      const angle = Math.PI / 4 + (k * 2 * Math.PI) / DIRECTIONS;
      const reach = 200 + ring * 250;
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
      const start = add(place, scale(towards, DOT_MM));
      const end = add(at, scale(towards, -edge - 10));
      if (distance(place, at) <= edge + 2 * DOT_MM) yield { at, out, leader: null, boxes: [box] };
      else yield { at, out, leader: [start, end], boxes: [box, leaderBox(start, end)] };
    }
  }
}

const layerOf = (finding: Finding): LayerKey => (finding.severity === 'note' ? 'NOTE' : 'FLAG');

/** One sign with its number, and what the finding is about beside it. */
const drawSign = (finding: Finding, index: number, at: Vec, out: 1 | -1, signHalf: number): Shape[] => {
  const layer = layerOf(finding);
  const number = flagNumber(finding, index);
  const about = ['finding', finding.code, number];
  const low = finding.severity === 'note' ? at : add(at, { x: 0, y: -HEIGHT_MM * 0.2 });
  const shapes = [
    ...sign(finding, at, textWidth(number, TEXT_MM.dimension), layer, about),
    text(layer, number, low, TEXT_MM.dimension, { across: 'centre', upright: 'middle', about }),
  ];
  if (finding.subject === '') return shapes;
  const beside = add(at, { x: out * (signHalf + 40), y: 0 });
  const across = out > 0 ? 'left' : 'right';
  return [...shapes, text(layer, finding.subject, beside, TEXT_MM.dimension, { across, upright: 'middle', about })];
};

const drawGroup = ({ place, items }: FlagGroup, places: Places): Shape[] => {
  const numberMm = Math.max(...items.map((i) => textWidth(flagNumber(i.finding, i.index), TEXT_MM.dimension)));
  const signHalf = Math.max(HEIGHT_MM * 0.75, numberMm * 1.2);
  const subjects = items.map((i) =>
    i.finding.subject === '' ? 0 : textWidth(i.finding.subject, TEXT_MM.dimension) + 80,
  );
  const stackHalf = (items.length * PITCH_MM) / 2;
  const found = places.firstFree(flagPlaces(place, signHalf, stackHalf, Math.max(...subjects)));
  const first = items[0]!.finding;
  const layer = layerOf(first);
  const about = ['finding', first.code, flagNumber(first, items[0]!.index)];
  const shapes: Shape[] = [{ type: 'circle', layer, centre: place, radiusMm: DOT_MM, about }];
  if (found.leader) shapes.push(line(layer, found.leader[0], found.leader[1], about));
  items.forEach(({ finding, index }, i) => {
    const at = add(found.at, { x: 0, y: stackHalf - PITCH_MM * (i + 0.5) });
    shapes.push(...drawSign(finding, index, at, found.out, signHalf));
  });
  return shapes;
};

/** Flags of all findings that have a place; `places` has what stands in the plan already. */
export const drawFlags = (findings: readonly Finding[], places: Places): Shape[] =>
  groupsOf(findings).flatMap((group) => drawGroup(group, places));

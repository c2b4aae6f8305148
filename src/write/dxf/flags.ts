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

interface FlagPlace {
  /** Middle of the sign. */
  readonly at: Vec;
  readonly leader: readonly [Vec, Vec] | null;
  readonly boxes: readonly Box[];
}

const DOT_MM = 25;

/** Places round a finding in which its flag is tried: rings that grow, the upper right first. `subjectMm`: room for a text right of the sign. */
function* flagPlaces(place: Vec, signHalf: number, subjectMm: number): Generator<FlagPlace> {
  for (let ring = 1; ring <= 16; ring++) {
    for (let k = 0; k < 16; k++) {
      const angle = Math.PI / 4 + (k * Math.PI) / 8;
      const reach = 200 + ring * 250;
      const at = add(place, { x: Math.cos(angle) * reach, y: Math.sin(angle) * reach });
      const centre = add(at, { x: subjectMm / 2, y: 0 });
      const box: Box = { kind: 'text', centre, halfMm: [signHalf + subjectMm / 2, HEIGHT_MM * 0.65], rotationDeg: 0 };
      const towards = unit(sub(at, place));
      const end = add(at, scale(towards, -HEIGHT_MM * 0.75));
      if (distance(place, end) <= 2 * DOT_MM || reach < HEIGHT_MM) yield { at, leader: null, boxes: [box] };
      else {
        const start = add(place, scale(towards, DOT_MM));
        yield { at, leader: [start, end], boxes: [box, leaderBox(start, end)] };
      }
    }
  }
}

const drawFlag = (finding: Finding, index: number, places: Places): Shape[] => {
  const layer: LayerKey = finding.severity === 'note' ? 'NOTE' : 'FLAG';
  const number = flagNumber(finding, index);
  const about = ['finding', finding.code, number];
  const [x, y] = finding.at!;
  const place = { x, y };
  const signHalf = Math.max(HEIGHT_MM * 0.75, textWidth(number, TEXT_MM.dimension) * 1.2);
  const subjectMm = finding.subject === '' ? 0 : textWidth(finding.subject, TEXT_MM.dimension) + 80;
  const { at, leader } = places.firstFree(flagPlaces(place, signHalf, subjectMm));
  const shapes = sign(finding, at, textWidth(number, TEXT_MM.dimension), layer, about);
  const low = finding.severity === 'note' ? at : add(at, { x: 0, y: -HEIGHT_MM * 0.2 });
  shapes.push(text(layer, number, low, TEXT_MM.dimension, { across: 'centre', upright: 'middle', about }), {
    type: 'circle',
    layer,
    centre: place,
    radiusMm: DOT_MM,
    about,
  });
  if (leader) shapes.push(line(layer, leader[0], leader[1], about));
  if (finding.subject !== '') {
    const beside = add(at, { x: signHalf + 40, y: 0 });
    shapes.push(text(layer, finding.subject, beside, TEXT_MM.dimension, { upright: 'middle', about }));
  }
  return shapes;
};

/** Flags of all findings that have a place; `places` has what stands in the plan already. */
export const drawFlags = (findings: readonly Finding[], places: Places): Shape[] =>
  findings.flatMap((finding, index) => (finding.at === null ? [] : drawFlag(finding, index, places)));

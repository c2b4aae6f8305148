/** Findings that have a place: numbered as in the list beside the drawing. Failures and attentions are triangles, notes circles, so that no colour is needed. */

import type { Finding, Severity } from '../../ground/findings.js';
import { add, distance, scale, sub, unit, type Vec } from '../../ground/plane.js';
import type { Box, Places } from './labels.js';
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

/** Boxes round a place in which a flag is tried: rings that grow, the upper right first. */
const rings = (place: Vec, half: readonly [number, number], offsetMm: number): Box[] => {
  const boxes: Box[] = [];
  for (let ring = 1; ring <= 8; ring++) {
    for (let k = 0; k < 8; k++) {
      const angle = Math.PI / 4 + (k * Math.PI) / 4;
      const reach = ring * 450;
      const centre = add(place, { x: Math.cos(angle) * reach + offsetMm, y: Math.sin(angle) * reach });
      boxes.push({ centre, halfMm: half, rotationDeg: 0 });
    }
  }
  return boxes;
};

const drawFlag = (finding: Finding, index: number, places: Places): Shape[] => {
  const layer: LayerKey = finding.severity === 'note' ? 'NOTE' : 'FLAG';
  const number = flagNumber(finding, index);
  const about = ['finding', finding.code, number];
  const [x, y] = finding.at!;
  const place = { x, y };
  const signHalf = Math.max(HEIGHT_MM * 0.75, textWidth(number, TEXT_MM.dimension) * 1.2);
  const subjectMm = finding.subject === '' ? 0 : textWidth(finding.subject, TEXT_MM.dimension) + 80;
  const boxes = rings(place, [signHalf + subjectMm / 2, HEIGHT_MM * 0.65], subjectMm / 2);
  const box = boxes[places.firstFree(boxes)]!;
  const at = add(box.centre, { x: -subjectMm / 2, y: 0 });
  const reach = distance(at, place);
  const shapes = sign(finding, at, textWidth(number, TEXT_MM.dimension), layer, about);
  const low = finding.severity === 'note' ? at : add(at, { x: 0, y: -HEIGHT_MM * 0.2 });
  shapes.push(text(layer, number, low, TEXT_MM.dimension, { across: 'centre', upright: 'middle', about }), {
    type: 'circle',
    layer,
    centre: place,
    radiusMm: 25,
    about,
  });
  if (reach > HEIGHT_MM) {
    const towards = unit(sub(at, place));
    shapes.push(line(layer, add(place, scale(towards, 25)), add(at, scale(towards, -HEIGHT_MM * 0.75)), about));
  }
  if (finding.subject !== '') {
    const beside = add(at, { x: signHalf + 40, y: 0 });
    shapes.push(text(layer, finding.subject, beside, TEXT_MM.dimension, { upright: 'middle', about }));
  }
  return shapes;
};

/** Flags of all findings that have a place; `places` has what stands in the plan already. */
export const drawFlags = (findings: readonly Finding[], places: Places): Shape[] =>
  findings.flatMap((finding, index) => (finding.at === null ? [] : drawFlag(finding, index, places)));

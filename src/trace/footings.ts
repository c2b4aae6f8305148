/** Outlines of footings: lines that are no walls, and on which the forms of walls stand. */

import type { Vec } from '../ground/plane.js';
import { roundTo } from '../ground/units.js';
import type { DrawingPath, FootingLine, Foundation, ModelOutline, TraceOptions } from '../ground/vocabulary.js';
import type { LeftOver } from './group.js';
import { matchesPattern, readName } from './layers.js';

/** More lines than this are no outlines of footings but hatching; none is used then. */
const LINES_MOST = 5000;

type WithFootings = Pick<Foundation, 'footings'>;

const some = (lines: readonly FootingLine[], rings: readonly (readonly Vec[])[]): WithFootings =>
  lines.length === 0 || lines.length > LINES_MOST ? {} : { footings: { lines, rings } };

const sidesOf = (ring: readonly Vec[]): FootingLine[] =>
  ring.map((from, i) => ({ from, to: ring[(i + 1) % ring.length]! }));

interface Outline {
  readonly lines: readonly FootingLine[];
  readonly ring: readonly Vec[] | null;
}

/** The straight pieces of a path, mm; a ring where it closes and is straight throughout. */
const outlineOf = ({ vertices, closed }: DrawingPath, mmPer: number): Outline => {
  const points = vertices.map(({ x, y }): Vec => ({ x: roundTo(x * mmPer, 4), y: roundTo(y * mmPer, 4) }));
  const lines = sidesOf(points).filter((_, i) => vertices[i]!.bulge === 0 && (closed || i + 1 < points.length));
  const isRing = closed && points.length > 2 && lines.length === points.length;
  return { lines, ring: isRing ? points : null };
};

/** Of a drawing: the linework of layers that the job file or their names call footings, and rows of lines that were told from walls as such. */
export const footingsOf = (
  paths: readonly DrawingPath[],
  leftOver: readonly LeftOver[],
  { footingLayers = [] }: TraceOptions,
  mmPer: number,
): WithFootings => {
  const named = new Map<string, boolean>();
  const isFooting = (layer: string): boolean => {
    const known = named.get(layer);
    if (known !== undefined) return known;
    const is =
      footingLayers.length > 0
        ? footingLayers.some((p) => matchesPattern(p, layer))
        : readName(layer).kind === 'footing';
    named.set(layer, is);
    return is;
  };
  const drawn = paths.filter((p) => p.fill === null && isFooting(p.layer)).map((p) => outlineOf(p, mmPer));
  const told = leftOver.filter((l) => l.reason === 'outline of a footing').map(({ from, to }) => ({ from, to }));
  const rings = drawn.flatMap((o) => (o.ring ? [o.ring] : []));
  return some([...drawn.flatMap((o) => o.lines), ...told], rings);
};

/** Of a model: the outlines of its footings. */
export const footingsOfModel = (outlines: readonly ModelOutline[]): WithFootings => {
  const rings = outlines.filter((o) => o.kind === 'footing').flatMap((o) => o.rings);
  return some(rings.flatMap(sidesOf), rings);
};

/** Drawings of curved walls in mm: arcs, circles and lines on one layer, written as plain DXF. Truth comes from the measures alone. */

import type { Vec } from '../../src/ground/plane.js';

export type CurveMark =
  | { readonly kind: 'line'; readonly from: Vec; readonly to: Vec }
  | {
      readonly kind: 'arc';
      readonly centre: Vec;
      readonly radius: number;
      readonly fromDeg: number;
      readonly toDeg: number;
    }
  | { readonly kind: 'circle'; readonly centre: Vec; readonly radius: number };

const LAYER = 'S-FNDN-WALL';

const entity = (mark: CurveMark): (string | number)[] => {
  switch (mark.kind) {
    case 'line':
      return [0, 'LINE', 8, LAYER, 10, mark.from.x, 20, mark.from.y, 11, mark.to.x, 21, mark.to.y];
    case 'arc': {
      const { centre, radius, fromDeg, toDeg } = mark;
      return [0, 'ARC', 8, LAYER, 10, centre.x, 20, centre.y, 40, radius, 50, fromDeg, 51, toDeg];
    }
    case 'circle':
      return [0, 'CIRCLE', 8, LAYER, 10, mark.centre.x, 20, mark.centre.y, 40, mark.radius];
  }
};

/** A drawing in mm of R12, which every program reads. */
export const curvedDxf = (marks: readonly CurveMark[]): Uint8Array => {
  const head = [0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1009', 9, '$INSUNITS', 70, 4, 0, 'ENDSEC'];
  const body = [0, 'SECTION', 2, 'ENTITIES', ...marks.flatMap(entity), 0, 'ENDSEC', 0, 'EOF'];
  return new TextEncoder().encode(`${[...head, ...body].join('\n')}\n`);
};

export const polarAt = (centre: Vec, radius: number, deg: number): Vec => ({
  x: centre.x + radius * Math.cos((deg * Math.PI) / 180),
  y: centre.y + radius * Math.sin((deg * Math.PI) / 180),
});

export interface CurveSize {
  readonly centre: Vec;
  readonly innerMm: number;
  readonly thicknessMm: number;
  readonly fromDeg: number;
  readonly byDeg: number;
}

/** A curved wall closed at both ends, or a whole ring. */
export const curvedWall = ({ centre, innerMm, thicknessMm, fromDeg, byDeg }: CurveSize): CurveMark[] => {
  const radii = [innerMm, innerMm + thicknessMm];
  if (byDeg >= 360) return radii.map((radius) => ({ kind: 'circle', centre, radius }));
  const toDeg = fromDeg + byDeg;
  return [
    ...radii.map((radius): CurveMark => ({ kind: 'arc', centre, radius, fromDeg, toDeg })),
    ...[fromDeg, toDeg].map(
      (deg): CurveMark => ({
        kind: 'line',
        from: polarAt(centre, radii[0]!, deg),
        to: polarAt(centre, radii[1]!, deg),
      }),
    ),
  ];
};

/** A room between a half ring and a straight wall opposite: two straight walls tangent to the ring, square corners beyond. `turnDeg`: the whole turned. */
export const halfRound = (innerMm: number, thicknessMm: number, legMm: number, turnDeg = 0): CurveMark[] => {
  const outer = innerMm + thicknessMm;
  const rad = (turnDeg * Math.PI) / 180;
  const turned = (x: number, y: number): Vec => ({
    x: x * Math.cos(rad) - y * Math.sin(rad),
    y: x * Math.sin(rad) + y * Math.cos(rad),
  });
  const line = (x0: number, y0: number, x1: number, y1: number): CurveMark => ({
    kind: 'line',
    from: turned(x0, y0),
    to: turned(x1, y1),
  });
  const side = (r: number, foot: number): CurveMark[] => [
    { kind: 'arc', centre: { x: 0, y: 0 }, radius: r, fromDeg: turnDeg, toDeg: turnDeg + 180 },
    line(r, 0, r, foot),
    line(-r, 0, -r, foot),
    line(-r, foot, r, foot),
  ];
  return [...side(innerMm, -legMm), ...side(outer, -legMm - thicknessMm)];
};

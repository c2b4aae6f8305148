/** A measured length: the DIMENSION that is meant, and the picture of it that becomes its block. */

import { readable } from '../../ground/places.js';
import { add, angleOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Blocks } from './blocks.js';
import { type DimensionShape, line, type Shape } from './sheet.js';

/** Half of a stroke, and how far extension lines go past the dimension line, over the height of the text. */
const TICK = 0.4;
const PAST = 0.48;
/** Strokes of strings are this much shorter. */
const STRING = 25 / 36;

const RAD_PER_DEG = Math.PI / 180;

interface Measured {
  /** Ends of the dimension line, and what they are taken from; a string's lie on the line itself. */
  readonly ends: readonly [Vec, Vec];
  readonly feet?: readonly [Vec, Vec];
  /** Points that are measured. */
  readonly points: readonly [Vec, Vec];
  readonly textAt: Vec;
  /** Against the line's own readable direction. */
  readonly turnDeg?: number;
  /** Of its text: from where it was led. */
  readonly leader?: readonly [Vec, Vec];
  readonly isTextPlaced: boolean;
  readonly heightMm: number;
  readonly style: DimensionShape['style'];
  readonly says: string;
  readonly pattern?: string;
  readonly about: readonly string[];
}

/**
 * Line, extension lines, oblique strokes, text, on the dimension's own layer, since not every program hands a dimension's layer down to layer 0 of its block.
 */
export const dimensionShape = (m: Measured): DimensionShape => {
  const along = unit(sub(m.ends[1], m.ends[0]));
  const across = m.feet ? unit(sub(m.ends[0], m.feet[0])) : { x: 0, y: 1 };
  // In a string, whose texts are smaller, strokes stand close.
  const stroke = scale(unit(add(along, across)), m.heightMm * (m.feet ? TICK : TICK * STRING));
  const rotationDeg = (readable(angleOf(along) / RAD_PER_DEG) + (m.turnDeg ?? 0) + 360) % 360;
  const picture: Shape[] = [
    line('DIMS', m.ends[0], m.ends[1]),
    ...m.ends.flatMap((end, i) => [
      ...(m.feet ? [line('DIMS', m.feet[i]!, add(end, scale(across, m.heightMm * PAST)))] : []),
      line('DIMS', sub(end, stroke), add(end, stroke)),
    ]),
    ...(m.leader ? [line('DIMS', m.leader[0], m.leader[1])] : []),
    {
      type: 'text',
      layer: 'DIMS',
      about: [],
      text: m.says,
      at: m.textAt,
      heightMm: m.heightMm,
      rotationDeg,
      across: 'centre',
      upright: 'middle',
    },
  ];
  return {
    type: 'dimension',
    layer: 'DIMS',
    block: null,
    picture,
    from: m.points[0],
    to: m.points[1],
    through: m.ends[1],
    textAt: m.textAt,
    turnDeg: m.turnDeg ?? 0,
    isTextPlaced: m.isTextPlaced,
    textMm: m.heightMm,
    style: m.style,
    says: m.says,
    pattern: m.pattern ?? null,
    about: m.about,
  };
};

/** '<>' stands for the measured length. */
export const MEASURED = '<>';

/**
 * What is written instead of the measured length, null where that alone is shown. Styles of R12 know neither feet nor decimals: what would read otherwise
 * there is written out.
 */
export const overrideOf = (shape: DimensionShape, version: string): string | null => {
  if (version > 'AC1009') return shape.pattern;
  const plain = plainNumber(Math.hypot(shape.to.x - shape.from.x, shape.to.y - shape.from.y), 4);
  const isSame = (shape.pattern ?? MEASURED).replace(MEASURED, plain) === shape.says;
  return isSame ? shape.pattern : shape.says;
};

/** The shapes as they stand at last, each dimension with a block of its own. */
export const withBlocks = (shapes: readonly Shape[], blocks: Blocks): Shape[] =>
  shapes.map((s) => (s.type === 'dimension' ? { ...s, block: blocks.anonymous(s.picture) } : s));

/** Rectangle extrusions of a STEP file by an independent path: parameters by place, matrices of four by four, file units. */

import type { StepFile, StepInstance, StepValue } from './stepText.js';

/** Rows of a matrix of four by four. */
export type Matrix = readonly (readonly number[])[];

const UNIT: Matrix = [
  [1, 0, 0, 0],
  [0, 1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, 0, 1],
];

export const product = (a: Matrix, b: Matrix): Matrix =>
  a.map((row) => [0, 1, 2, 3].map((j) => row.reduce((sum, value, k) => sum + value * b[k]![j]!, 0)));

type V = readonly number[];
const normal = (v: V): V => {
  const l = Math.hypot(...v);
  return v.map((x) => x / l);
};
const outer = (a: V, b: V): V => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];
const inner = (a: V, b: V): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;

/** A corner of a box, and its three edges, in file units and world axes. */
export interface Box {
  readonly item: number;
  readonly corner: V;
  readonly edges: readonly [V, V, V];
}

export class Boxes {
  constructor(private readonly file: StepFile) {}

  private vector(value: StepValue | undefined, otherwise: V): V {
    const found = this.file.at(value);
    const numbers = found === null ? [] : this.file.numbers(found.values[0]);
    return numbers.length === 0 ? otherwise : [...numbers, 0].slice(0, 3);
  }

  /** IfcAxis2Placement3D, or 2D lifted into space. */
  axes(value: StepValue | undefined): Matrix {
    const line = this.file.at(value);
    if (line === null) return UNIT;
    const flat = line.type === 'IFCAXIS2PLACEMENT2D';
    const origin = this.vector(line.values[0], [0, 0, 0]);
    const z = flat ? [0, 0, 1] : normal(this.vector(line.values[1], [0, 0, 1]));
    const towards = this.vector(line.values[flat ? 1 : 2], [1, 0, 0]);
    const x = normal(towards.map((t, i) => t - inner(towards, z) * z[i]!));
    const y = outer(z, x);
    return [0, 1, 2].map((i) => [x[i]!, y[i]!, z[i]!, origin[i]!]).concat([[0, 0, 0, 1]]);
  }

  /** IfcLocalPlacement with all that it is relative to. */
  world(value: StepValue | undefined): Matrix {
    const line = this.file.at(value);
    return line === null ? UNIT : product(this.world(line.values[0]), this.axes(line.values[1]));
  }

  /** The rectangle extrusions among the items of a product's Body, also those that are clipped; `placement` and `shape` are places in its parameters. */
  ofProduct(product_: StepInstance, placement = 5, shape = 6): Box[] {
    const world = this.world(product_.values[placement]);
    const shapes = this.file.all(this.file.at(product_.values[shape])?.values[2]);
    return shapes
      .filter((representation) => representation.values[1] === 'Body')
      .flatMap((representation) => this.file.all(representation.values[3]))
      .flatMap((item) => this.box(item, world) ?? []);
  }

  private box(item: StepInstance, world: Matrix): Box | null {
    const body = item.type === 'IFCBOOLEANCLIPPINGRESULT' ? this.file.at(item.values[1]) : null;
    if (body !== null) return this.box(body, world);
    if (item.type !== 'IFCEXTRUDEDAREASOLID') return null;
    const [area, position, direction, depth] = item.values;
    const profile = this.file.at(area);
    if (profile?.type !== 'IFCRECTANGLEPROFILEDEF') return null;
    const solid = product(world, this.axes(position));
    const plane = product(solid, this.axes(profile.values[2]));
    const [x, y] = [profile.values[3] as number, profile.values[4] as number];
    const column = (m: Matrix, j: number, k: number): V => [0, 1, 2].map((i) => m[i]![j]! * k);
    const along = normal(this.vector(direction, [0, 0, 1]));
    const sweep = [0, 1, 2].map((i) => inner(solid[i]!, along) * (depth as number));
    const corner = [0, 1, 2].map((i) => plane[i]![3]! - (plane[i]![0]! * x) / 2 - (plane[i]![1]! * y) / 2);
    return { item: item.id, corner, edges: [column(plane, 0, x), column(plane, 1, y), sweep] };
  }
}

/** Shapes that nothing else reads, as the engine tessellates them: the item alone, in its own axes, so that float32 costs little far from the origin. */

import type { Mesh, Solid, Vec3 } from '../../ground/vocabulary.js';
import type { Curves } from './curves.js';
import type { EngineModel } from './engine.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import { PointIndex } from './pointIndex.js';
import { type Affine, mirrors, placed, vec3 } from './space.js';
import { isWellFormed } from './wellformed.js';

const tessellated = new WeakSet<Solid>();

/** Whether the mesh came from the engine. */
export const isTessellated = (solid: Solid): boolean => tessellated.has(solid);

/** Most triangles that are taken of one item. */
const MOST_TRIANGLES = 400_000;
/** The engine gives six numbers a vertex: place and normal. */
const STRIDE = 6;

interface Local {
  readonly points: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
}

export class Tessellation {
  private readonly known = new Map<number, Local | null>();

  constructor(
    private readonly lines: Lines,
    private readonly opened: EngineModel,
    private readonly curves: Curves,
    private readonly mmPerUnit: number,
    private readonly log: ModelLog,
  ) {}

  mesh(item: number, world: Affine, subject: Subject, entity: string): Mesh | null {
    let local = this.known.get(item);
    if (local === undefined) {
      local = this.local(item);
      this.known.set(item, local);
    }
    if (local === null) {
      this.log.add('read.model-shape', `Shapes of kind ${entity} could not be read`, subject);
      return null;
    }
    this.log.add('read.model-tessellated', `Shapes of kind ${entity} were taken as flat triangles`, subject);
    const flip = mirrors(world);
    const mesh: Mesh = {
      kind: 'mesh',
      points: local.points.map((point) => placed(world, point)),
      faces: local.triangles.map(([a, b, c]) => [flip ? [a, c, b] : [a, b, c]]),
    };
    tessellated.add(mesh);
    return mesh;
  }

  /** Triangles in the item's own axes, mm, z up; points that coincide are one. */
  private local(item: number): Local | null {
    if (!isWellFormed(this.lines, this.curves, item)) return null;
    const { engine } = this.opened;
    return this.opened.with(item, (model) => {
      const flat = engine.GetFlatMesh(model, item, false);
      const gathered = new Gathered(this.mmPerUnit);
      for (let i = 0; i < flat.geometries.size(); i++) {
        const part = flat.geometries.get(i);
        const geometry = engine.GetGeometry(model, part.geometryExpressID);
        const vertices = engine.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
        const indices = engine.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize());
        const fits = gathered.add(vertices, indices, part.flatTransformation);
        geometry.delete();
        if (!fits) return null;
      }
      return gathered.triangles.length === 0 ? null : gathered;
    });
  }
}

class Gathered implements Local {
  readonly points: Vec3[] = [];
  readonly triangles: (readonly [number, number, number])[] = [];
  private readonly places = new PointIndex();

  constructor(private readonly mmPerUnit: number) {}

  /** False where there is more than is taken or a number is none. */
  add(vertices: Float32Array, indices: Uint32Array, m: readonly number[]): boolean {
    if (this.triangles.length + indices.length / 3 > MOST_TRIANGLES) return false;
    const known = new Int32Array(vertices.length / STRIDE).fill(-1);
    const at = (index: number): number => {
      const had = known[index] ?? -1;
      if (had >= 0) return had;
      const k = index * STRIDE;
      const [x, y, z] = [vertices[k]!, vertices[k + 1]!, vertices[k + 2]!];
      // The matrix lies by columns; the engine has y up.
      const X = m[0]! * x + m[4]! * y + m[8]! * z + m[12]!;
      const Y = m[1]! * x + m[5]! * y + m[9]! * z + m[13]!;
      const Z = m[2]! * x + m[6]! * y + m[10]! * z + m[14]!;
      const k2 = this.mmPerUnit;
      const place = this.places.of(X, Y, Z);
      if (place === this.points.length) this.points.push(vec3(X * k2, -Z * k2, Y * k2));
      known[index] = place;
      return place;
    };
    for (let i = 0; i + 2 < indices.length; i += 3) {
      const [a, b, c] = [at(indices[i]!), at(indices[i + 1]!), at(indices[i + 2]!)];
      if (a !== b && b !== c && c !== a) this.triangles.push([a, b, c]);
    }
    return this.points.every(({ x, y, z }) => Number.isFinite(x + y + z));
  }
}

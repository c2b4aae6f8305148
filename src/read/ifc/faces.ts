/** Breps and face sets of flat faces as meshes, in world axes, mm. */

import {
  IFCEDGECURVE,
  IFCFACE,
  IFCFACEBOUND,
  IFCFACEOUTERBOUND,
  IFCLINE,
  IFCORIENTEDEDGE,
  IFCPLANE,
  IFCPOLYLOOP,
  IFCVERTEXPOINT,
} from 'web-ifc';
import type { Mesh, Vec3 } from '../../ground/vocabulary.js';
import { booleanOf, type Line, listOf, numbersOf, refOf, refsOf, triplesOf, type Value } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import type { Placements } from './placements.js';
import { type Affine, mirrors, placed } from './space.js';

type Loop = readonly number[];
type Face = readonly Loop[];

/** Faces and points in the item's own axes. */
interface Local {
  readonly points: readonly Vec3[];
  readonly faces: readonly Face[];
}

const MOST_FACES = 400_000;

class Builder implements Local {
  readonly points: Vec3[] = [];
  readonly faces: Face[] = [];
  /** Places of points by the number of their instance. */
  readonly places = new Map<number, number>();
  left = 0;
  /** A surface is not flat or an edge not straight: nothing for flat faces. */
  curved = false;
  /** There were more faces than are taken. */
  full = false;
}

/** Whether no more faces are taken; then there are some that are not. */
const isFull = (into: Builder): boolean => {
  into.full = into.faces.length >= MOST_FACES;
  return into.full;
};

export class Faces {
  private readonly lines: Lines;

  constructor(
    private readonly places: Placements,
    private readonly log: ModelLog,
  ) {
    this.lines = places.lines;
  }

  /** The item as a mesh; null where it has no face that can be used (said); 'not-faces' where it is none of these. */
  read(line: Line, entity: string, world: Affine, subject: Subject): Mesh | null | 'not-faces' {
    const local = this.local(line, entity);
    // Shells of other than polygons are for the engine.
    if (local === null || (local.faces.length === 0 && local.left > 0)) return 'not-faces';
    if (local.full) {
      this.log.add('read.too-much', `Bodies of more than ${MOST_FACES} faces were read in part`, subject);
    }
    if (local.left > 0) {
      this.log.add('read.model-broken', 'Faces with fewer than three usable corners were left out', subject);
    }
    if (local.faces.length === 0) {
      this.log.add('read.model-size', 'Bodies without a usable face were left out', subject);
      return null;
    }
    const flip = mirrors(world);
    return {
      kind: 'mesh',
      points: local.points.map((point) => placed(world, point)),
      faces: flip ? local.faces.map((face) => face.map((loop) => [...loop].reverse())) : local.faces,
    };
  }

  /** Null where it is none of these, or not of flat faces alone. */
  private local(line: Line, entity: string): Builder | null {
    const into = new Builder();
    if (!this.gather(line, entity, into)) return null;
    return into.curved ? null : into;
  }

  private gather(line: Line, entity: string, into: Builder): boolean {
    switch (entity) {
      case 'IfcFacetedBrep':
      case 'IfcFacetedBrepWithVoids':
      case 'IfcAdvancedBrep':
      case 'IfcAdvancedBrepWithVoids':
        this.shells([line.Outer, ...listOf(line.Voids)], into);
        return true;
      case 'IfcFaceBasedSurfaceModel':
        this.shells(listOf(line.FbsmFaces), into);
        return true;
      case 'IfcShellBasedSurfaceModel':
        this.shells(listOf(line.SbsmBoundary), into);
        return true;
      case 'IfcClosedShell':
      case 'IfcOpenShell':
      case 'IfcConnectedFaceSet':
        this.faces(line, into);
        return true;
      case 'IfcTriangulatedFaceSet':
      case 'IfcTriangulatedIrregularNetwork':
        this.triangles(line, into);
        return true;
      case 'IfcPolygonalFaceSet':
        this.polygons(line, into);
        return true;
      default:
        return false;
    }
  }

  private shells(shells: readonly (Value | undefined)[], into: Builder): void {
    for (const value of shells) {
      const shell = this.lines.at(value);
      if (shell === null) into.left++;
      else this.faces(shell, into);
    }
  }

  private faces(shell: Line, into: Builder): void {
    for (const id of refsOf(shell.CfsFaces)) {
      if (into.curved || isFull(into)) return;
      const polygon = this.polygon(id, into);
      if (polygon !== null) {
        into.faces.push([polygon]);
        continue;
      }
      const face = this.lines.once(id);
      const surface = face === null ? null : this.lines.typeOf(refOf(face.FaceSurface));
      if (surface !== null && surface !== IFCPLANE) into.curved = true;
      const loops = face === null ? null : this.loops(face, into);
      if (loops === null) into.left++;
      else into.faces.push(loops);
    }
  }

  /** A face with one bound that is a polygon, as nearly all are, read without a detour; null where anything about it is otherwise. */
  private polygon(face: number, into: Builder): Loop | null {
    const bounds = this.lines.references(face, IFCFACE);
    if (bounds === null || bounds.length !== 1) return null;
    const bound =
      this.lines.signedReference(bounds[0]!, IFCFACEOUTERBOUND) || this.lines.signedReference(bounds[0]!, IFCFACEBOUND);
    const points = bound === 0 ? null : this.lines.references(Math.abs(bound), IFCPOLYLOOP);
    return points === null ? null : this.loopOf(points, bound < 0, into);
  }

  /** Loops of a face, the outer one first. */
  private loops(face: Line, into: Builder): Face | null {
    const outer: Loop[] = [];
    const inner: Loop[] = [];
    for (const id of refsOf(face.Bounds)) {
      const bound = this.lines.once(id);
      if (bound === null) return null;
      const loop = this.loop(bound, into);
      if (loop === null) return null;
      const isOuter = this.lines.entity(bound) === 'IfcFaceOuterBound';
      (isOuter ? outer : inner).push(loop);
    }
    const loops = [...outer, ...inner];
    return loops.length === 0 ? null : loops;
  }

  private loop(bound: Line, into: Builder): Loop | null {
    const polygon = this.lines.once(refOf(bound.Bound));
    if (polygon === null) return null;
    const isOfEdges = this.lines.entity(polygon) === 'IfcEdgeLoop';
    const points = isOfEdges ? this.ends(polygon, into) : listOf(polygon.Polygon).map(refOf);
    return this.loopOf(points, booleanOf(bound.Orientation) === false, into);
  }

  private loopOf(points: readonly (number | null)[], reversed: boolean, into: Builder): Loop | null {
    const loop: number[] = [];
    for (const id of points) {
      const at = id === null ? null : this.pointAt(id, into);
      if (at === null) return null;
      if (loop[loop.length - 1] !== at) loop.push(at);
    }
    if (loop.length > 1 && loop[0] === loop[loop.length - 1]) loop.pop();
    if (loop.length < 3) return null;
    return reversed ? loop.reverse() : loop;
  }

  /** Place of a point in the list; null where it cannot be read. */
  private pointAt(id: number, into: Builder): number | null {
    const known = into.places.get(id);
    if (known !== undefined) return known;
    const point = this.places.pointAt(id);
    if (point === null) return null;
    into.places.set(id, into.points.length);
    return into.points.push(point) - 1;
  }

  /** Points where the edges of a loop begin; edges must be straight. */
  private ends(loop: Line, into: Builder): (number | null)[] {
    return refsOf(loop.EdgeList).map((id) => {
      const [, , element, sense] = this.lines.valuesOf(id, IFCORIENTEDEDGE) ?? [];
      const edge = refOf(element);
      const [start, end, curve] = (edge === null ? null : this.lines.valuesOf(edge, IFCEDGECURVE)) ?? [];
      if (this.lines.typeOf(refOf(curve)) !== IFCLINE) into.curved = true;
      const vertex = refOf(booleanOf(sense) === false ? end : start);
      const [point] = (vertex === null ? null : this.lines.valuesOf(vertex, IFCVERTEXPOINT)) ?? [];
      return refOf(point);
    });
  }

  /** Points of a face set; false where one is none. */
  private coordinates(line: Line, into: Builder): boolean {
    const list = this.lines.once(refOf(line.Coordinates));
    if (list === null) return false;
    const triples = triplesOf(list.CoordList);
    for (let i = 0; triples !== null && i < triples.length; i += 3) {
      const point = this.places.pointFrom(triples[i]!, triples[i + 1]!, triples[i + 2]!);
      if (point === null) return false;
      into.points.push(point);
    }
    if (triples !== null) return true;
    for (const item of listOf(list.CoordList)) {
      const numbers = numbersOf(item);
      const point = numbers === null || numbers.length < 3 ? null : this.places.pointOf(numbers);
      if (point === null) return false;
      into.points.push(point);
    }
    return true;
  }

  /** Turns places in the file's lists, which count from 1 and may go through PnIndex, into places in `points`. */
  private finder(line: Line, into: Builder): (value: Value | undefined) => Loop | null {
    const through = line.PnIndex === undefined ? [] : (numbersOf(line.PnIndex) ?? []);
    return (value) => {
      const loop: number[] = [];
      for (const number of numbersOf(value) ?? []) {
        const index = through.length > 0 ? (through[number - 1] ?? 0) : number;
        if (!Number.isInteger(index) || index < 1 || index > into.points.length) return null;
        if (loop[loop.length - 1] !== index - 1) loop.push(index - 1);
      }
      if (loop.length > 1 && loop[0] === loop[loop.length - 1]) loop.pop();
      return loop.length < 3 ? null : loop;
    };
  }

  private triangles(line: Line, into: Builder): void {
    if (!this.coordinates(line, into)) {
      into.left++;
      return;
    }
    const triples = line.PnIndex == null ? triplesOf(line.CoordIndex) : null;
    if (triples !== null) {
      corners(triples, into);
      return;
    }
    const find = this.finder(line, into);
    for (const item of listOf(line.CoordIndex)) {
      if (isFull(into)) return;
      const loop = find(item);
      if (loop === null) into.left++;
      else into.faces.push([loop]);
    }
  }

  private polygons(line: Line, into: Builder): void {
    if (!this.coordinates(line, into)) {
      into.left++;
      return;
    }
    const find = this.finder(line, into);
    for (const id of refsOf(line.Faces)) {
      if (isFull(into)) return;
      const face = this.lines.once(id);
      const loops = face === null ? [null] : [find(face.CoordIndex), ...listOf(face.InnerCoordIndices).map(find)];
      if (loops.includes(null)) into.left++;
      else into.faces.push(loops as Loop[]);
    }
  }
}

/** Triangles of places that count from 1; those of fewer than three different ones, or of ones that are not there, are left. */
const corners = (triples: readonly number[], into: Builder): void => {
  const most = into.points.length;
  const isPlace = (n: number): boolean => Number.isInteger(n) && n >= 1 && n <= most;
  for (let i = 0; i < triples.length; i += 3) {
    if (isFull(into)) return;
    const [a, b, c] = [triples[i]!, triples[i + 1]!, triples[i + 2]!];
    if (a === b || b === c || c === a || !isPlace(a) || !isPlace(b) || !isPlace(c)) into.left++;
    else into.faces.push([[a - 1, b - 1, c - 1]]);
  }
};

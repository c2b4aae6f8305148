/** Items of a body as solids in world axes: sweeps and clippings exact, faces as meshes, the rest as the engine tessellates it. */

import type { BodySolid, Combined, Frame, HalfSpace, Prism, Solid, Vec3 } from '../../ground/vocabulary.js';
import { booleanOf, itemOf, type Line, refOf, type Value } from './attributes.js';
import type { Curves } from './curves.js';
import type { Faces } from './faces.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import { outlineOf } from './outlines.js';
import type { Placements } from './placements.js';
import { circle, hasArcs, noteOutline, type Outline, type Profile, type Profiles, rectangle } from './profiles.js';
import { type Affine, cross3, dot3, IDENTITY, joined, length3, times, turned, unit3, vec3, Z_AXIS } from './space.js';
import { isTessellated, type Tessellation } from './tessellate.js';

/** Thinner than this (mm) nothing is a body. */
const LEAST_MM = 1e-3;
const MOST_MM = 1e9;

/** Why an item has no solid: it says why itself, or the engine may try. */
type Fault = 'said' | 'engine';
type Read = readonly Solid[] | Fault;

const union = (solids: readonly Solid[]): Solid =>
  solids.reduce((first, second): Combined => ({ kind: 'union', first, second }));

export class Solids {
  private readonly lines: Lines;

  constructor(
    private readonly places: Placements,
    private readonly curves: Curves,
    private readonly profiles: Profiles,
    private readonly faces: Faces,
    private readonly engine: Tessellation,
    private readonly log: ModelLog,
  ) {
    this.lines = places.lines;
  }

  /** An item as solids, one for each disjoint part; the item must not be a mapped one. */
  item(
    line: Line,
    world: Affine,
    subject: Subject,
  ): { readonly solids: readonly Solid[]; readonly from: BodySolid['from'] } {
    const solids = this.withEngine(line, world, subject);
    return { solids, from: fromOf(solids) };
  }

  /** As `read`, and where nothing else reads it the engine's tessellation. */
  private withEngine(line: Line, world: Affine, subject: Subject): readonly Solid[] {
    const read = this.read(line, world, subject);
    if (read === 'said') return [];
    if (read !== 'engine') return read;
    const mesh = this.engine.mesh(line.expressID, world, subject, this.lines.entity(line));
    return mesh === null ? [] : [mesh];
  }

  private read(line: Line, world: Affine, subject: Subject): Read {
    const entity = this.lines.entity(line);
    switch (entity) {
      case 'IfcExtrudedAreaSolid':
        return this.extrusion(line, world, subject);
      case 'IfcBooleanResult':
      case 'IfcBooleanClippingResult':
        return this.combined(line, world, subject);
      case 'IfcCsgSolid': {
        const root = this.lines.at(line.TreeRootExpression);
        return root === null ? 'engine' : this.withEngine(root, world, subject);
      }
      case 'IfcHalfSpaceSolid':
      case 'IfcPolygonalBoundedHalfSpace':
      case 'IfcBoxedHalfSpace': {
        const half = this.halfSpace(line, entity, world, subject);
        return half === null ? 'engine' : [half];
      }
      case 'IfcBlock':
      case 'IfcRightCircularCylinder':
        return this.primitive(line, entity, world, subject);
      default: {
        const mesh = this.faces.read(line, entity, world, subject);
        return mesh === 'not-faces' ? 'engine' : mesh === null ? 'said' : [mesh];
      }
    }
  }

  private tooSmall(what: string, subject: Subject): 'said' {
    this.log.add(
      'read.model-size',
      `${what} with sizes that are zero, negative, too large or no numbers were left out`,
      subject,
    );
    return 'said';
  }

  private extrusion(line: Line, world: Affine, subject: Subject): Read {
    const { places } = this;
    const area = this.lines.at(line.SweptArea);
    const profile = this.profiles.read(area, subject);
    if (profile === 'size') return this.tooSmall('Extrusions', subject);
    if (profile === 'unread') return 'engine';
    const place = places.axes(line.Position);
    const depthMm = places.lengthMm(line.Depth);
    if (place === null) return 'engine';
    const along = places.sweep(line.ExtrudedDirection, subject);
    return this.prisms(profile, joined(world, place), along, depthMm ?? Number.NaN, subject);
  }

  /** A profile swept from the x-y plane of `place`. */
  private prisms(profile: Profile, place: Affine, along: Vec3, depthMm: number, subject: Subject): Read {
    const unit = unit3(along);
    if (unit === null || !(depthMm > LEAST_MM && depthMm < MOST_MM)) return this.tooSmall('Extrusions', subject);
    const sweep = turned(place, times(unit, depthMm));
    const plane = planeOf(place);
    const direction = unit3(sweep);
    if (plane === null || direction === null || Math.abs(dot3(direction, plane.frame.z)) < 1e-6) {
      return this.tooSmall('Extrusions', subject);
    }
    const solids: Prism[] = [];
    for (const outlines of profile) {
      if (!plane.round && outlines.some(hasArcs)) return 'engine';
      solids.push({
        kind: 'prism',
        frame: plane.frame,
        outlines: outlines.map(plane.outline),
        direction,
        depthMm: length3(sweep),
      });
    }
    return solids;
  }

  private primitive(line: Line, entity: string, world: Affine, subject: Subject): Read {
    const { places } = this;
    const place = places.axes(line.Position);
    if (place === null) return 'engine';
    const mm = (value: Value | undefined): number => places.lengthMm(value) ?? Number.NaN;
    if (entity === 'IfcBlock') {
      const [x, y, z] = [mm(line.XLength), mm(line.YLength), mm(line.ZLength)];
      if (!(x > LEAST_MM && y > LEAST_MM)) return this.tooSmall('Blocks', subject);
      // A block stands in the corner of its placement, a rectangle about its middle.
      const middle: Affine = { ...IDENTITY, origin: vec3(x / 2, y / 2, 0) };
      return this.prisms([[rectangle(x, y)]], joined(joined(world, place), middle), Z_AXIS, z, subject);
    }
    const [r, height] = [mm(line.Radius), mm(line.Height)];
    if (!(r > LEAST_MM)) return this.tooSmall('Cylinders', subject);
    return this.prisms([[circle(r)]], joined(world, place), Z_AXIS, height, subject);
  }

  private combined(line: Line, world: Affine, subject: Subject): Read {
    const [first, second] = [this.lines.at(line.FirstOperand), this.lines.at(line.SecondOperand)];
    if (first === null || second === null) {
      this.log.add('read.model-broken', 'Clippings whose operands are missing were left out', subject);
      return 'said';
    }
    const body = this.withEngine(first, world, subject);
    if (body.length === 0) return 'said';
    const tool = this.withEngine(second, world, subject);
    const kind = { DIFFERENCE: 'difference', UNION: 'union', INTERSECTION: 'intersection' }[
      itemOf(line.Operator) ?? 'DIFFERENCE'
    ] as Combined['kind'] | undefined;
    if (tool.length === 0 || kind === undefined) {
      this.log.add(
        'read.model-clip-left',
        'A body is shown whole, since what clips it cannot be read',
        subject,
        'nothing is cut off',
      );
      return body;
    }
    return [{ kind, first: union(body), second: union(tool) }];
  }

  private halfSpace(line: Line, entity: string, world: Affine, subject: Subject): HalfSpace | null {
    const { places } = this;
    const surface = this.lines.at(line.BaseSurface);
    if (surface === null || this.lines.entity(surface) !== 'IfcPlane') return null;
    const plane = refOf(surface.Position) === null ? null : places.axes(surface.Position);
    const turnedPlane = plane === null ? null : planeOf(joined(world, plane));
    if (turnedPlane === null) return null;
    const { frame } = turnedPlane;
    // Of a mirrored map the plane's own normal is the other way round.
    const own = turned(world, plane!.z);
    const up = dot3(own, frame.z) < 0 ? times(frame.z, -1) : frame.z;
    // AgreementFlag: true where the normal points away from the material. Source: IFC4, IfcHalfSpaceSolid.
    const normal = booleanOf(line.AgreementFlag) === false ? times(up, -1) : up;
    if (entity !== 'IfcPolygonalBoundedHalfSpace')
      return { kind: 'half-space', origin: frame.origin, normal, boundary: null };
    const position = places.axes(line.Position);
    const pieces = this.curves.pieces(this.lines.at(line.PolygonalBoundary));
    const bound = position === null ? null : planeOf(joined(world, position));
    const outline = pieces === null ? null : outlineOf(pieces, (what) => noteOutline(this.log, what, subject));
    if (bound === null || outline === null || (!bound.round && hasArcs(outline))) {
      this.log.add(
        'read.model-clip-left',
        'A clipping whose boundary cannot be read was taken without it',
        subject,
        'it cuts without bounds',
      );
      return { kind: 'half-space', origin: frame.origin, normal, boundary: null };
    }
    return {
      kind: 'half-space',
      origin: frame.origin,
      normal,
      boundary: { frame: bound.frame, outline: bound.outline(outline) },
    };
  }
}

interface Plane {
  readonly frame: Frame;
  /** Whether circles in the plane stay circles. */
  readonly round: boolean;
  /** An outline of the plane, in the frame. */
  readonly outline: (outline: Outline) => Outline;
}

/** The x-y plane of a map as a frame with unit axes, and how outlines in it come to lie. A rigid map is the frame itself. */
const planeOf = (m: Affine): Plane | null => {
  const x = unit3(m.x);
  const z = unit3(cross3(m.x, m.y));
  if (x === null || z === null) return null;
  const y = cross3(z, x);
  const [scale, shear, height] = [length3(m.x), dot3(m.y, x), dot3(m.y, y)];
  const rigid = Math.abs(scale - 1) < 1e-12 && Math.abs(height - 1) < 1e-12 && Math.abs(shear) < 1e-12;
  return {
    frame: { origin: m.origin, x, y, z },
    round: rigid || (Math.abs(scale - height) <= 1e-9 * scale && Math.abs(shear) <= 1e-9 * scale),
    outline: (outline) =>
      rigid ? outline : outline.map((v) => ({ x: v.x * scale + v.y * shear, y: v.y * height, bulge: v.bulge })),
  };
};

/** The least exact of what a solid is made of. */
const fromOf = (solids: readonly Solid[]): BodySolid['from'] => {
  let [clipped, faces, engine] = [false, false, false];
  const look = (solid: Solid): void => {
    if (solid.kind === 'mesh') {
      if (isTessellated(solid)) engine = true;
      else faces = true;
    } else if (solid.kind !== 'prism' && solid.kind !== 'half-space') {
      clipped = true;
      look(solid.first);
      look(solid.second);
    }
  };
  for (const solid of solids) look(solid);
  return engine ? 'engine' : faces ? 'faces' : clipped ? 'clipped' : 'extrusion';
};

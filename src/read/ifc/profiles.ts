/** Profiles of swept solids as outlines in their plane, mm: the outer one first, then its voids. */

import type { PathVertex } from '../../ground/vocabulary.js';
import type { Line, Value } from './attributes.js';
import type { Curves } from './curves.js';
import type { ModelLog, Subject } from './log.js';
import { type OutlineNote, outlineOf } from './outlines.js';
import { type Affine2, IDENTITY2, type Placements } from './placements.js';

export type Outline = readonly PathVertex[];
/** A profile may be made of several, each with its voids. */
export type Profile = readonly (readonly Outline[])[];

/** 'size': a dimension is zero, negative or no number. 'unread': not a profile that is read here. */
type ProfileFault = 'size' | 'unread';

const corner = (x: number, y: number): PathVertex => ({ x, y, bulge: 0 });

export const rectangle = (xDim: number, yDim: number): Outline => {
  const [x, y] = [xDim / 2, yDim / 2];
  return [corner(-x, -y), corner(x, -y), corner(x, y), corner(-x, y)];
};

/** tan(90 degrees / 4): the bulge of a quarter of a circle. */
const QUARTER = Math.tan(Math.PI / 8);

/** A rectangle with round corners; with sharp ones where the radius is none or does not fit. */
const rounded = (xDim: number, yDim: number, r: number): Outline => {
  if (!(r > 0 && 2 * r <= Math.min(xDim, yDim) * (1 + 1e-9))) return rectangle(xDim, yDim);
  const [x, y] = [xDim / 2, yDim / 2];
  const at = (px: number, py: number, bulge: number): PathVertex => ({ x: px, y: py, bulge });
  return [
    at(-x + r, -y, 0),
    at(x - r, -y, QUARTER),
    at(x, -y + r, 0),
    at(x, y - r, QUARTER),
    at(x - r, y, 0),
    at(-x + r, y, QUARTER),
    at(-x, y - r, 0),
    at(-x, -y + r, QUARTER),
  ].filter((v, i, all) => {
    const next = all[(i + 1) % all.length]!;
    return v.x !== next.x || v.y !== next.y;
  });
};

export const circle = (r: number): Outline => [
  { x: r, y: 0, bulge: 1 },
  { x: -r, y: 0, bulge: 1 },
];

const mapped = (outline: Outline, m: Affine2): Outline => {
  if (m === IDENTITY2) return outline;
  const flips = m.x.x * m.y.y - m.x.y * m.y.x < 0;
  return outline.map(({ x, y, bulge }) => ({
    x: m.origin.x + m.x.x * x + m.y.x * y,
    y: m.origin.y + m.x.y * x + m.y.y * y,
    bulge: flips && bulge !== 0 ? -bulge : bulge,
  }));
};

/** Whether a map of the plane keeps circles round. */
const keepsRound = (m: Affine2): boolean => {
  const [a, b] = [Math.hypot(m.x.x, m.x.y), Math.hypot(m.y.x, m.y.y)];
  return Math.abs(a - b) <= 1e-9 * a && Math.abs(m.x.x * m.y.x + m.x.y * m.y.y) <= 1e-9 * a * a;
};

export const hasArcs = (outline: Outline): boolean => outline.some((vertex) => vertex.bulge !== 0);

/** Says what was done to an outline so that it could be read. */
export const noteOutline = (log: ModelLog, what: OutlineNote, subject: Subject): void => {
  if (what === 'chords') {
    log.add('read.model-chords', 'Curves that are no arcs of circles were read as short straight pieces', subject);
  } else log.add('read.model-open-curve', 'Outlines are not closed', subject, 'a straight line from end to start');
};

export class Profiles {
  private readonly known = new Map<number, Profile | ProfileFault>();

  constructor(
    private readonly places: Placements,
    private readonly curves: Curves,
    private readonly log: ModelLog,
  ) {}

  read(line: Line | null, subject: Subject): Profile | ProfileFault {
    if (line === null) return 'unread';
    let profile = this.known.get(line.expressID);
    if (profile === undefined) {
      profile = this.of(line, subject);
      this.known.set(line.expressID, profile);
    }
    return profile;
  }

  private of(line: Line, subject: Subject): Profile | ProfileFault {
    const { places } = this;
    const entity = places.lines.entity(line);
    switch (entity) {
      case 'IfcArbitraryClosedProfileDef':
      case 'IfcArbitraryProfileDefWithVoids':
        return this.arbitrary(line, subject);
      case 'IfcCompositeProfileDef': {
        const parts: (readonly Outline[])[] = [];
        for (const inner of places.lines.all(line.Profiles)) {
          const part = this.read(inner, subject);
          if (typeof part === 'string') return part;
          parts.push(...part);
        }
        return parts.length === 0 ? 'unread' : parts;
      }
      case 'IfcDerivedProfileDef':
      case 'IfcMirroredProfileDef':
        return this.derived(line, entity, subject);
      default: {
        const outlines = this.parametric(line, entity);
        if (typeof outlines === 'string') return outlines;
        const place = places.axes2(line.Position);
        return place === null ? 'unread' : [outlines.map((outline) => mapped(outline, place))];
      }
    }
  }

  private arbitrary(line: Line, subject: Subject): Profile | ProfileFault {
    const { lines } = this.places;
    const outlines: Outline[] = [];
    for (const curve of [lines.at(line.OuterCurve), ...lines.all(line.InnerCurves)]) {
      const pieces = this.curves.pieces(curve);
      if (pieces === null) return 'unread';
      const outline = outlineOf(pieces, (what) => noteOutline(this.log, what, subject));
      if (outline === null) {
        if (outlines.length === 0) return 'size';
        continue;
      }
      outlines.push(outline);
    }
    return [outlines];
  }

  private derived(line: Line, entity: string, subject: Subject): Profile | ProfileFault {
    const { places } = this;
    const parent = this.read(places.lines.at(line.ParentProfile), subject);
    if (typeof parent === 'string') return parent;
    // The operator of a mirrored profile is derived: it turns x round. Source: IFC4, IfcMirroredProfileDef.
    const m: Affine2 | null =
      entity === 'IfcMirroredProfileDef'
        ? { ...IDENTITY2, x: { x: -1, y: 0 } }
        : places.operator2(places.lines.at(line.Operator));
    if (m === null || (!keepsRound(m) && parent.some((part) => part.some(hasArcs)))) return 'unread';
    return parent.map((part) => part.map((outline) => mapped(outline, m)));
  }

  /** Not a number where there is none. */
  private mm(value: Value | undefined): number {
    return this.places.lengthMm(value) ?? Number.NaN;
  }

  /** 0 where there is none: corners are sharp. */
  private radiusMm(value: Value | undefined): number {
    return this.places.lengthMm(value) ?? 0;
  }

  /** Profiles given by dimensions, about their own origin. */
  private parametric(line: Line, entity: string): readonly Outline[] | ProfileFault {
    switch (entity) {
      case 'IfcRectangleProfileDef':
      case 'IfcRoundedRectangleProfileDef':
      case 'IfcRectangleHollowProfileDef': {
        const [x, y] = [this.mm(line.XDim), this.mm(line.YDim)];
        if (!(x > 0 && y > 0)) return 'size';
        if (entity === 'IfcRectangleProfileDef') return [rectangle(x, y)];
        if (entity === 'IfcRoundedRectangleProfileDef') return [rounded(x, y, this.radiusMm(line.RoundingRadius))];
        const t = this.mm(line.WallThickness);
        if (!(t > 0 && 2 * t < Math.min(x, y))) return 'size';
        return [
          rounded(x, y, this.radiusMm(line.OuterFilletRadius)),
          rounded(x - 2 * t, y - 2 * t, this.radiusMm(line.InnerFilletRadius)),
        ];
      }
      case 'IfcCircleProfileDef':
      case 'IfcCircleHollowProfileDef': {
        const r = this.mm(line.Radius);
        if (!(r > 0)) return 'size';
        if (entity === 'IfcCircleProfileDef') return [circle(r)];
        const t = this.mm(line.WallThickness);
        return t > 0 && t < r ? [circle(r), circle(r - t)] : 'size';
      }
      case 'IfcTrapeziumProfileDef': {
        const [bottom, top] = [this.mm(line.BottomXDim), this.mm(line.TopXDim)];
        const [y, offset] = [this.mm(line.YDim), this.mm(line.TopXOffset)];
        if (!(bottom > 0 && top > 0 && y > 0) || Number.isNaN(offset)) return 'size';
        const [x0, h] = [-bottom / 2, y / 2];
        return [[corner(x0, -h), corner(-x0, -h), corner(x0 + offset + top, h), corner(x0 + offset, h)]];
      }
      default:
        return 'unread';
    }
  }
}

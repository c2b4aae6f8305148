/** The body of a product: which representation, its items, mapped ones included. */

import type { BodySolid } from '../../ground/vocabulary.js';
import { itemOf, type Line, nameOf, refOf, refsOf } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import type { Placements } from './placements.js';
import type { Solids } from './solids.js';
import { type Affine, IDENTITY, isIdentity, joined } from './space.js';

/** Identifiers of representations that may stand for the body, best first. Source: IFC4, IfcShapeRepresentation. */
const BODIES = ['BODY', 'BODY-FALLBACK', 'FACETATION', 'TESSELLATION', 'SURFACE'];
/** Never a body, whatever their items. */
const NEVER = /^(axis|footprint|box|annotation|profile|plan|reference|cog|clearance|lighting|surveypoints|nosymbols)/i;
/** Types of representation that hold solids or surfaces, for those without an identifier. */
const SOLID_TYPES =
  /^(SweptSolid|AdvancedSweptSolid|Clipping|Brep|AdvancedBrep|CSG|SolidModel|SurfaceModel|Tessellation|MappedRepresentation)$/i;

export interface Item {
  readonly line: Line;
  /** World place of what the item's coordinates are relative to. */
  readonly world: Affine;
}

const MOST_ITEMS = 20_000;
/** Shapes mapped by mapped ones: no program nests them deeper than a few. */
const MOST_DEPTH = 20;

export class Bodies {
  private readonly lines: Lines;

  constructor(
    private readonly places: Placements,
    private readonly solids: Solids,
    private readonly log: ModelLog,
    /** Material of an item where the file tells it. */
    private readonly materialOf: (item: number, product: Line) => string | null,
  ) {
    this.lines = places.lines;
  }

  /** Whether the product has any representation that may be a body. */
  has(product: Line): boolean {
    return this.representation(product) !== null;
  }

  /** Solids of the product in world axes; empty where it has no body that could be read. */
  read(product: Line, subject: Subject, part: string | null): BodySolid[] {
    const found: BodySolid[] = [];
    for (const { line, world } of this.items(product, subject)) {
      const { solids, from } = this.solids.item(line, world, subject);
      const material = this.materialOf(line.expressID, product);
      for (const solid of solids) {
        if (solid.kind === 'half-space') continue;
        found.push({ solid, from, material, part });
      }
    }
    return found;
  }

  /** Items of the body with their places, mapped ones followed. */
  items(product: Line, subject: Subject): Item[] {
    const representation = this.representation(product);
    if (representation === null) return [];
    const world = this.places.world(product.ObjectPlacement, subject);
    if (world === null) return [];
    const found: Item[] = [];
    this.collect(representation, world, subject, found, 0);
    return found;
  }

  private collect(representation: Line, world: Affine, subject: Subject, found: Item[], depth: number): void {
    for (const id of refsOf(representation.Items)) {
      if (found.length >= MOST_ITEMS) {
        this.log.add('read.too-much', `Bodies of more than ${MOST_ITEMS} items were read in part`, subject);
        return;
      }
      const line = this.lines.get(id);
      if (line === null) {
        this.log.add('read.model-broken', 'Items of bodies are missing', subject);
        continue;
      }
      if (this.lines.entity(line) !== 'IfcMappedItem') found.push({ line, world });
      else if (depth < MOST_DEPTH) this.mapped(line, world, subject, found, depth);
      else {
        this.log.add('read.too-much', `Shapes mapped through more than ${MOST_DEPTH} others were left out`, subject);
      }
    }
  }

  private mapped(line: Line, world: Affine, subject: Subject, found: Item[], depth: number): void {
    const source = this.lines.at(line.MappingSource);
    const inner = source === null ? null : this.lines.at(source.MappedRepresentation);
    const target =
      refOf(line.MappingTarget) === null ? IDENTITY : this.places.operator(this.lines.at(line.MappingTarget));
    const origin = source === null ? null : this.places.axes(source.MappingOrigin);
    if (inner === null || target === null || origin === null) {
      this.log.add('read.model-placement', 'Mapped shapes whose source or place cannot be read were left out', subject);
      return;
    }
    if (!isIdentity(origin)) {
      this.log.add(
        'read.model-mapping-origin',
        'Mapped shapes have an origin of their own',
        subject,
        'the origin is joined to the place, as viewers do',
      );
    }
    this.collect(inner, joined(joined(world, target), origin), subject, found, depth + 1);
  }

  /** The representation that is the body. */
  private representation(product: Line): Line | null {
    const shape = this.lines.at(product.Representation);
    if (shape === null) return null;
    let best: Line | null = null;
    let bestRank = Number.POSITIVE_INFINITY;
    for (const representation of this.lines.all(shape.Representations)) {
      const rank = this.rank(representation);
      if (rank < bestRank) {
        best = representation;
        bestRank = rank;
      }
    }
    return best;
  }

  /** Lower is more of a body; infinite: none. */
  private rank(representation: Line): number {
    const identifier = nameOf(representation.RepresentationIdentifier)?.trim() ?? '';
    const type = nameOf(representation.RepresentationType)?.trim() ?? '';
    if (NEVER.test(identifier) || /^(BoundingBox|Curve|GeometricCurveSet|Annotation|Point)/i.test(type)) {
      return Number.POSITIVE_INFINITY;
    }
    const place = BODIES.indexOf(identifier.toUpperCase());
    const context = this.lines.at(representation.ContextOfItems);
    const view = context === null ? null : itemOf(context.TargetView);
    const other = view !== null && view !== 'MODEL_VIEW' && view !== 'NOTDEFINED' && view !== 'USERDEFINED' ? 0.5 : 0;
    if (place >= 0) return place + other;
    return SOLID_TYPES.test(type) ? BODIES.length + other : Number.POSITIVE_INFINITY;
  }
}

/** Placing: items of the drawing and of its blocks, out of any nesting, in world coordinates. */

import { finding } from '../../ground/findings.js';
import type { Vec } from '../../ground/plane.js';
import type { DrawingDimension, DrawingPath, DrawingText, PathVertex } from '../../ground/vocabulary.js';
import type { Content, DimensionItem, InsertItem, PathItem, TextItem } from './content.js';
import { flattened, hasBulge } from './curves.js';
import type { Outline } from './entities/outline.js';
import type { Layers } from './layers.js';
import type { ReadLog } from './log.js';
import { actionInPlan, apply, compose, IDENTITY, type Matrix, type Point3, turn } from './matrix.js';

export interface ReadLimits {
  /** Vertices of all paths, inserts expanded. */
  readonly vertices: number;
  /** Entities that are visited, inserts expanded. */
  readonly entities: number;
  /** Inserts within inserts. */
  readonly depth: number;
}

export const READ_LIMITS: ReadLimits = { vertices: 2_000_000, entities: 4_000_000, depth: 32 };

/** A block as it is placed. */
export interface BlockContent {
  readonly name: string;
  readonly base: Matrix;
  readonly content: Content;
}

/** Where an item stands: the map to world coordinates, and what it came through. */
interface Place {
  readonly map: Matrix;
  /** Names of the inserts before it, each with '/'. */
  readonly prefix: string;
  /** Effective layer of the insert; null in the drawing itself. */
  readonly layer: string | null;
  readonly blocks: readonly string[];
}

const TOP: Place = { map: IDENTITY, prefix: '', layer: null, blocks: [] };

/** Coordinates beyond this cannot be told apart to a tenth of a unit in double precision. */
const FARTHEST = 1e14;

const usable = (p: Vec): boolean => Math.abs(p.x) <= FARTHEST && Math.abs(p.y) <= FARTHEST;

export class Expansion {
  readonly paths: DrawingPath[] = [];
  readonly texts: DrawingText[] = [];
  readonly dimensions: DrawingDimension[] = [];
  private vertices = 0;
  private entities = 0;
  private full = false;

  constructor(
    private readonly layers: Layers,
    private readonly log: ReadLog,
    private readonly blockNamed: (name: string) => BlockContent | null,
    private readonly limits: ReadLimits,
  ) {}

  /** Places everything of the drawing itself. */
  all(content: Content): void {
    this.place(content, TOP);
  }

  private place(content: Content, place: Place): void {
    for (const item of content.paths) if (this.step()) this.placePath(item, place);
    for (const item of content.texts) if (this.step()) this.placeText(item, place);
    for (const item of content.dimensions) if (this.step()) this.placeDimension(item, place);
    for (const item of content.inserts) if (this.step()) this.placeInsert(item, place);
  }

  /** Counts one entity; false once a limit is reached, from then on nothing is placed. */
  private step(): boolean {
    this.entities++;
    if (!this.full && (this.entities > this.limits.entities || this.vertices > this.limits.vertices)) {
      this.full = true;
      const message = `The drawing has more than ${this.limits.vertices} vertices or ${this.limits.entities} entities once its blocks are expanded; the rest was not read.`;
      this.log.say(finding('read.too-much', message));
    }
    return !this.full;
  }

  private layerAt(item: { readonly layer: string }, place: Place): string {
    return item.layer === '0' && place.layer !== null ? place.layer : item.layer;
  }

  private placePath(item: PathItem, place: Place): void {
    const layer = this.layerAt(item, place);
    item.outlines.forEach((outline, i) => {
      const map = compose(place.map, outline.frame);
      const vertices = this.verticesOf(outline, map, item.entity);
      const name = place.prefix + item.name;
      if (!vertices.every(usable)) {
        this.log.badNumbers(name, item.entity);
        return;
      }
      if (!vertices.some((v) => v.x !== vertices[0]!.x || v.y !== vertices[0]!.y)) {
        this.log.noExtent(item.entity);
        return;
      }
      this.vertices += vertices.length;
      this.paths.push({
        source: i === 0 ? name : `${name}.${i + 1}`,
        entity: item.entity,
        layer,
        blocks: place.blocks,
        vertices,
        closed: outline.closed,
        elevation: apply(map, outline.knots[0]!).z,
      });
    });
  }

  /** Vertices in plan. Arcs stay arcs under even scaling (turned about when mirrored); otherwise they are chords. */
  private verticesOf(outline: Outline, map: Matrix, entity: string): PathVertex[] {
    const arcs = hasBulge(outline.knots);
    const action = arcs ? actionInPlan(map) : 'keeps';
    const bends = action === 'bends';
    if (bends || outline.chords) this.log.inChords(entity);
    const knots = bends ? flattened(outline.knots, outline.closed) : outline.knots;
    return knots.map((knot) => {
      const { x, y } = apply(map, knot);
      return { x, y, bulge: action === 'mirrors' && knot.bulge !== 0 ? -knot.bulge : knot.bulge };
    });
  }

  private placeText(item: TextItem, place: Place): void {
    const at = apply(place.map, item.at);
    const along = turn(place.map, item.along);
    const up = turn(place.map, item.up);
    if (!usable(at)) {
      this.log.badNumbers(place.prefix + item.name, 'TEXT');
      return;
    }
    this.texts.push({
      source: place.prefix + item.name,
      layer: this.layerAt(item, place),
      blocks: place.blocks,
      at: { x: at.x, y: at.y },
      height: Math.abs(item.height) * Math.hypot(up.x, up.y),
      rotationRad: Math.atan2(along.y, along.x),
      text: item.text,
    });
  }

  private placeDimension(item: DimensionItem, place: Place): void {
    const from = apply(place.map, item.from);
    const to = apply(place.map, item.to);
    const dx = to.x - from.x;
    const dy = to.y - from.y;
    const along: Point3 | null = item.along && turn(place.map, item.along);
    const size = along ? Math.hypot(along.x, along.y) : 0;
    const measured = along && size > 0 ? Math.abs(dx * along.x + dy * along.y) / size : Math.hypot(dx, dy);
    if (!usable(from) || !usable(to)) {
      this.log.badNumbers(place.prefix + item.name, 'DIMENSION');
      return;
    }
    this.dimensions.push({
      source: place.prefix + item.name,
      layer: this.layerAt(item, place),
      from: { x: from.x, y: from.y },
      to: { x: to.x, y: to.y },
      measured,
      text: item.text,
    });
  }

  private placeInsert(item: InsertItem, place: Place): void {
    const layer = this.layerAt(item, place);
    if (this.layers.frozen(layer)) {
      this.log.isHidden('INSERT');
      return;
    }
    const block = this.blockNamed(item.block);
    const blocks = [...place.blocks, block?.name ?? item.block];
    const prefix = `${place.prefix}${item.name}`;
    for (const text of item.attributes) {
      this.placeText(text, { map: place.map, prefix: `${prefix}/`, layer, blocks });
    }
    if (block === null) return;
    if (place.blocks.includes(block.name)) {
      this.log.blockInItself(block.name);
      return;
    }
    if (blocks.length > this.limits.depth) {
      this.log.say(finding('read.blocks-too-deep', `Blocks are nested more than ${this.limits.depth} deep.`));
      return;
    }
    const several = item.columns * item.rows > 1;
    for (let row = 0; row < item.rows && !this.full; row++) {
      for (let column = 0; column < item.columns && this.step(); column++) {
        const map = compose(place.map, compose(shifted(item, column, row), block.base));
        const copy = several ? `${prefix}[${column + 1},${row + 1}]/` : `${prefix}/`;
        this.place(block.content, { map, prefix: copy, layer, blocks });
      }
    }
  }
}

/** The place of one copy of an array. */
const shifted = (item: InsertItem, column: number, row: number): Matrix => {
  if (column === 0 && row === 0) return item.place;
  const { origin } = item.place;
  const { columnStep: c, rowStep: r } = item;
  return {
    ...item.place,
    origin: {
      x: origin.x + column * c.x + row * r.x,
      y: origin.y + column * c.y + row * r.y,
      z: origin.z + column * c.z + row * r.z,
    },
  };
};

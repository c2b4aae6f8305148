/** Placing: items of the drawing and of its blocks, out of any nesting, in world coordinates. */

import { finding } from '../../ground/findings.js';
import type { Vec } from '../../ground/plane.js';
import type {
  DrawingDimension,
  DrawingInsert,
  DrawingLeader,
  DrawingPath,
  DrawingText,
} from '../../ground/vocabulary.js';
import { type Boundary, cutAt, isInside, type Outlined } from './clip.js';
import { sortedAttributes } from './content.js';
import { flattened, flattenedCount, hasBulge } from './curves.js';
import type { Outline } from './entities/outline.js';
import type {
  Attribute,
  Content,
  DimensionItem,
  InsertItem,
  LeaderItem,
  PathItem,
  TextItem,
  UnreadItem,
} from './items.js';
import type { Layers } from './layers.js';
import { BY_BLOCK, BY_LAYER } from './linetypes.js';
import type { ReadLog } from './log.js';
import { actionInPlan, apply, compose, type Matrix, type Point3, scaleInPlan, turn } from './matrix.js';
import {
  CORNERS_PER_VERTEX,
  FARTHEST,
  inPlan,
  inPlanOf,
  MOST_BULGE,
  type Place,
  shifted,
  TOP,
  usable,
} from './place.js';

export interface ReadLimits {
  /** Vertices of all paths, inserts expanded. */
  readonly vertices: number;
  /** Entities that are visited, inserts expanded. */
  readonly entities: number;
  /** Inserts within inserts. */
  readonly depth: number;
}

export const READ_LIMITS: ReadLimits = { vertices: 2_000_000, entities: 2_000_000, depth: 32 };

/** A block as it is placed. */
export interface BlockContent {
  readonly name: string;
  readonly base: Matrix;
  readonly content: Content;
}

/** A height as it comes out in plan: of a place that stretches one way more than the other the mean of both. */
const heightAt = (height: number | null, { map: { ax, ay } }: Place): number | null => {
  if (height === null) return null;
  const placed = Math.abs(height) * Math.sqrt(Math.abs(ax.x * ay.y - ax.y * ay.x));
  return placed > 0 && placed <= FARTHEST ? placed : null;
};

export class Expansion {
  readonly paths: DrawingPath[] = [];
  readonly texts: DrawingText[] = [];
  readonly dimensions: DrawingDimension[] = [];
  readonly leaders: DrawingLeader[] = [];
  readonly inserts: DrawingInsert[] = [];
  private readonly attributes = new Map<InsertItem, readonly Attribute[]>();
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
    for (const item of content.leaders) if (this.step()) this.placeLeader(item, place);
    for (const item of content.unread) if (this.step()) this.countUnread(item, place);
    for (const item of content.inserts) if (this.step()) this.placeInsert(item, place);
  }

  /** Counts one entity or piece of it; false once a limit is reached, from then on nothing is placed. */
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

  /** BYLAYER is what the layer has where the entity stands, BYBLOCK what the insert has. */
  private lineTypeAt(stated: string, layer: string, place: Place): string {
    if (stated === BY_LAYER) return this.layers.lineTypeOf(layer);
    return stated === BY_BLOCK ? (place.lineType ?? this.layers.plain) : stated;
  }

  private unusable(item: { readonly name: string; readonly layer: string }, type: string, place: Place): void {
    this.log.badNumbers(place.prefix + item.name, type);
    this.log.unusable(type, this.layerAt(item, place), 1);
  }

  private countUnread(item: UnreadItem, place: Place): void {
    const layer = this.layerAt(item, place);
    if (item.unusable) this.log.unusable(item.entity, layer, item.count);
    else this.log.notRead(item.entity, layer, item.count);
  }

  /** The width of an outline once placed; 0 where it has not one. */
  private widthOf({ width }: Outline, map: Matrix, entity: string): number {
    if (width === 0) return 0;
    const scale = width === null ? null : scaleInPlan(map);
    if (width !== null && scale !== null) return width * scale;
    this.log.widthDiffers(entity);
    return 0;
  }

  private placePath(item: PathItem, place: Place): void {
    const layer = this.layerAt(item, place);
    const extrusion = item.extrusion === null ? 0 : turn(place.map, item.extrusion).z;
    const name = place.prefix + item.name;
    const clipped: DrawingPath[] = [];
    item.outlines.forEach((outline, index) => {
      const map = compose(place.map, outline.frame);
      const arcs = hasBulge(outline.knots);
      const action = arcs ? actionInPlan(map) : 'keeps';
      const bends = action === 'bends';
      this.vertices += bends ? flattenedCount(outline.knots) : outline.knots.length;
      if (!this.step()) return;
      const knots = bends ? flattened(outline.knots, outline.closed) : outline.knots;
      const points = knots.map((knot) => apply(map, knot));
      const sane = knots.every((knot) => Math.abs(knot.bulge) <= MOST_BULGE) && Math.abs(extrusion) <= FARTHEST;
      if (!sane || !points.every(usable)) {
        this.unusable(item, item.entity, place);
        return;
      }
      const vertices = inPlan(points, knots, action === 'mirrors');
      if (!vertices.some((v) => v.x !== vertices[0]!.x || v.y !== vertices[0]!.y)) {
        this.log.noExtent(item.entity);
        return;
      }
      if (bends || outline.chords) this.log.inChords(item.entity);
      const path: DrawingPath = {
        source: index === 0 ? name : `${name}.${index + 1}`,
        entity: item.entity,
        layer,
        blocks: place.blocks,
        vertices,
        closed: outline.closed,
        elevation: points[0]!.z,
        extrusion,
        lineType: this.lineTypeAt(outline.lineType ?? item.lineType, layer, place),
        width: this.widthOf(outline, map, item.entity),
        fill: item.fill,
      };
      if (place.clips.length === 0) this.paths.push(path);
      else clipped.push(path);
    });
    if (place.clips.length > 0) this.addClipped(clipped, name, item.entity, place.clips);
  }

  /** Adds what is seen of an entity's paths inside the boundaries; its parts are counted through. */
  private addClipped(paths: readonly DrawingPath[], name: string, entity: string, clips: readonly Boundary[]): void {
    let seen = 0;
    let whole = true;
    for (const path of paths) {
      let parts: readonly Outlined[] = [path];
      for (const clip of clips) {
        // Work in proportion to the boundary, counted so that it ends.
        this.vertices += Math.ceil((path.vertices.length * clip.length) / CORNERS_PER_VERTEX);
        parts = parts.flatMap((part) => cutAt(part, clip));
      }
      if (parts.length !== 1 || parts[0] !== path) whole = false;
      for (const { vertices, closed } of parts) {
        this.vertices += vertices.length;
        if (!this.step()) return;
        seen++;
        this.paths.push({ ...path, source: seen === 1 ? name : `${name}.${seen}`, vertices, closed });
      }
    }
    if (paths.length > 0 && seen === 0) this.log.clippedAway(entity);
    else if (!whole) this.log.clipped(entity);
  }

  /** Whether any of the places is seen inside the boundaries of the inserts; what is not is counted. */
  private isSeen(places: readonly Vec[], entity: string, place: Place): boolean {
    if (places.some((p) => place.clips.every((clip) => isInside(clip, p)))) return true;
    this.log.clippedAway(entity);
    return false;
  }

  private placeText(item: TextItem, place: Place): void {
    const at = apply(place.map, item.at);
    const along = turn(place.map, item.along);
    const up = turn(place.map, item.up);
    const height = Math.abs(item.height) * Math.hypot(up.x, up.y);
    if (!usable(at) || !(height <= FARTHEST)) {
      this.unusable(item, 'TEXT', place);
      return;
    }
    if (!this.isSeen([at], 'TEXT', place)) return;
    this.texts.push({
      source: place.prefix + item.name,
      layer: this.layerAt(item, place),
      blocks: place.blocks,
      at: { x: at.x, y: at.y },
      height,
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
      this.unusable(item, 'DIMENSION', place);
      return;
    }
    if (!this.isSeen([from, to], 'DIMENSION', place)) return;
    this.dimensions.push({
      source: place.prefix + item.name,
      layer: this.layerAt(item, place),
      from: { x: from.x, y: from.y },
      to: { x: to.x, y: to.y },
      measured,
      text: item.text,
      textHeight: heightAt(item.textHeight, place),
    });
  }

  private placeLeader(item: LeaderItem, place: Place): void {
    this.vertices += item.points.length;
    const points = item.points.map((p) => apply(place.map, p));
    if (!points.every(usable)) {
      this.unusable(item, item.entity, place);
      return;
    }
    if (!this.isSeen(points, item.entity, place)) return;
    this.leaders.push({
      source: place.prefix + item.name,
      layer: this.layerAt(item, place),
      points: points.map(({ x, y }) => ({ x, y })),
      text: item.text === null ? null : place.prefix + item.text,
    });
  }

  private placeInsert(item: InsertItem, place: Place): void {
    const layer = this.layerAt(item, place);
    if (this.layers.frozen(layer)) {
      this.log.isHidden('INSERT');
      return;
    }
    const block = this.blockNamed(item.block);
    const lineType = this.lineTypeAt(item.lineType, layer, place);
    const blocks = [...place.blocks, block?.name ?? item.block];
    const prefix = `${place.prefix}${item.name}`;
    for (const text of item.texts) {
      if (!this.step()) return;
      this.placeText(text, { map: place.map, prefix: `${prefix}/`, layer, lineType, blocks, clips: place.clips });
    }
    if (block !== null && place.blocks.includes(block.name)) {
      this.log.blockInItself(block.name);
      return;
    }
    if (blocks.length > this.limits.depth) {
      this.log.say(finding('read.blocks-too-deep', `Blocks are nested more than ${this.limits.depth} deep.`));
      return;
    }
    const attributes = this.attributesOf(item, block);
    const several = item.columns * item.rows > 1;
    for (let row = 0; row < item.rows && !this.full; row++) {
      for (let column = 0; column < item.columns && this.step(); column++) {
        const stands = compose(place.map, shifted(item, column, row));
        const source = several ? `${prefix}[${column + 1},${row + 1}]` : prefix;
        const along = turn(place.map, item.along);
        const before = this.placed;
        if (block !== null) {
          const map = compose(stands, block.base);
          let { clips } = place;
          if (item.clip !== null) {
            clips = [...clips, inPlanOf(item.clip, map)];
            this.vertices += Math.ceil(item.clip.length / CORNERS_PER_VERTEX);
          }
          this.place(block.content, { map, prefix: `${source}/`, layer, lineType, blocks, clips });
        }
        // Of a clipped insert nothing may be seen, wherever it stands.
        const gone = place.clips.length > 0 && this.placed === before && !this.isSeen([stands.origin], 'INSERT', place);
        if (gone || !usable(stands.origin)) continue;
        this.inserts.push({
          source,
          block: block?.name ?? item.block,
          layer,
          blocks: place.blocks,
          at: { x: stands.origin.x, y: stands.origin.y },
          rotationRad: Math.atan2(along.y, along.x),
          attributes,
        });
      }
    }
  }

  /** Its own and the block's constant ones, put together once however often it is placed. */
  private attributesOf(item: InsertItem, block: BlockContent | null): readonly Attribute[] {
    let all = this.attributes.get(item);
    if (all === undefined) {
      all = sortedAttributes([...item.attributes, ...(block?.content.constants ?? [])]);
      this.attributes.set(item, all);
    }
    return all;
  }

  /** How much was placed so far. */
  private get placed(): number {
    return this.paths.length + this.texts.length + this.dimensions.length + this.leaders.length;
  }
}

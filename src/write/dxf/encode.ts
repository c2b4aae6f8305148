/**
 * Shapes to tags, for one version of DXF and one unit. R12 has neither subclass markers nor owners nor light polylines; R13 has markers but still no
 * light polyline; owners (330) and plot weights come with R2000. Group codes and their order: DXF reference, ENTITIES and BLOCKS.
 */

import type { Vec } from '../../ground/plane.js';
import { APPLICATION_ID, encodeText, type Tag } from '../../ground/tags.js';
import { plainNumber } from '../../ground/units.js';
import { overrideOf } from './dimension.js';
import { HATCH_WEIGHT, PATTERNS } from './hatch.js';
import type { LayerNames } from './layers.js';
import {
  type Attribute,
  type BlockDefinition,
  type DimensionShape,
  type DimensionStyleKey,
  type HatchShape,
  type InsertShape,
  type PolylineShape,
  type Shape,
  type SolidShape,
  type TextPose,
  type Viewport,
  WIDTH_FACTOR,
} from './sheet.js';
import { viewData, viewTags } from './viewports.js';

export interface Encoding {
  readonly version: string;
  /** Drawing units per mm. */
  readonly perMm: number;
  readonly layers: LayerNames;
  /** Names of the text style and of the dimension styles. */
  readonly style: string;
  readonly dimensionStyles: Readonly<Record<DimensionStyleKey, string>>;
  /** The next handle, or null where the drawing has none. */
  readonly nextHandle: () => string | null;
  /** What is encoded lies on a sheet, in paper space. */
  readonly isPaper?: boolean;
}

const DECIMALS = 10;

/** A coordinate, height or angle as a value. Throws on what is no finite number, which would be our own fault. */
export const numberValue = (value: number): string => {
  if (!Number.isFinite(value)) throw new Error('a coordinate of ours is not finite');
  return plainNumber(value, DECIMALS);
};

const tag = (code: number, value: string | number): Tag => ({ code, value: String(value) });

export const hasMarkers = (version: string): boolean => version > 'AC1009';
export const hasOwners = (version: string): boolean => version >= 'AC1015';
const hasLightPolylines = (version: string): boolean => version >= 'AC1014';

export const mark = (version: string, name: string): Tag[] => (hasMarkers(version) ? [tag(100, name)] : []);

/** Application data: what the entity is about, so that it is known again. Strings of XDATA hold at most 255 bytes. */
export const xdata = (version: string, about: readonly string[]): Tag[] => [
  tag(1001, APPLICATION_ID),
  ...about.map((a) => tag(1000, encodeText({ version }, a).slice(0, 255))),
];

const MAIN_LAYER = '0';

class Encoder {
  constructor(private readonly e: Encoding) {}

  private text(value: string): string {
    return encodeText(this.e, value);
  }

  private point(code: number, at: Vec): Tag[] {
    const { perMm } = this.e;
    return [tag(code, numberValue(at.x * perMm)), tag(code + 10, numberValue(at.y * perMm)), tag(code + 20, '0')];
  }

  private length(code: number, mm: number): Tag {
    return tag(code, numberValue(mm * this.e.perMm));
  }

  /** Type, handle, owner, layer; gives the handle too, since parts are owned by it. */
  private head(type: string, layer: string, owner: string | null): { tags: Tag[]; handle: string | null } {
    const { version } = this.e;
    const handle = this.e.nextHandle();
    const tags = [tag(0, type)];
    if (handle !== null) tags.push(tag(5, handle));
    if (hasOwners(version) && owner !== null) tags.push(tag(330, owner));
    tags.push(...mark(version, 'AcDbEntity'), ...(this.e.isPaper ? [tag(67, 1)] : []), tag(8, this.text(layer)));
    return { tags, handle };
  }

  private layerOf(shape: Shape): string {
    return shape.layer === null ? MAIN_LAYER : this.e.layers[shape.layer];
  }

  shape(shape: Shape, owner: string | null): Tag[] {
    const { version } = this.e;
    const about = xdata(version, shape.about);
    const start = (type: string, subclass: string): Tag[] => [
      ...this.head(type, this.layerOf(shape), owner).tags,
      ...mark(version, subclass),
    ];
    switch (shape.type) {
      case 'line':
        return [...start('LINE', 'AcDbLine'), ...this.point(10, shape.from), ...this.point(11, shape.to), ...about];
      case 'circle':
        return [
          ...start('CIRCLE', 'AcDbCircle'),
          ...this.point(10, shape.centre),
          this.length(40, shape.radiusMm),
          ...about,
        ];
      case 'solid':
        return [...start('SOLID', 'AcDbTrace'), ...this.corners(shape), ...about];
      case 'hatch':
        return this.hatch(shape, owner);
      case 'text':
        return [
          ...start('TEXT', 'AcDbText'),
          ...this.textBody(shape.text, shape),
          ...mark(version, 'AcDbText'),
          ...(shape.upright === 'baseline' ? [] : [tag(73, UPRIGHT[shape.upright])]),
          ...about,
        ];
      case 'polyline':
        return hasLightPolylines(version) ? this.lightPolyline(shape, owner) : this.heavyPolyline(shape, owner);
      case 'insert':
        return this.insert(shape, owner);
      case 'dimension':
        return this.dimension(shape, owner);
    }
  }

  private hatch(shape: HatchShape, owner: string | null): Tag[] {
    const { version, perMm } = this.e;
    const { name, lines } = PATTERNS[shape.pattern];
    const real = (code: number, mm: number): Tag => tag(code, numberValue(mm * perMm));
    const flat = (code: number, at: Vec): Tag[] => [real(code, at.x), real(code + 10, at.y)];
    const upward = [tag(210, 0), tag(220, 0), tag(230, 1)];
    return [
      ...this.head('HATCH', this.layerOf(shape), owner).tags,
      ...(hasOwners(version) ? [tag(370, HATCH_WEIGHT)] : []),
      ...mark(version, 'AcDbHatch'),
      ...this.point(10, { x: 0, y: 0 }),
      ...upward,
      tag(2, name),
      // Not solid, not associative; each path a closed polyline without bulges, the first the outer one.
      ...[tag(70, 0), tag(71, 0), tag(91, shape.paths.length)],
      ...shape.paths.flatMap((path, i) => [
        ...[tag(92, i === 0 ? 3 : 2), tag(72, 0), tag(73, 1), tag(93, path.length)],
        ...path.flatMap((v) => flat(10, v)),
        tag(97, 0),
      ]),
      tag(75, 0),
      // A pattern of its own, at its own angle and scale.
      ...[tag(76, 2), tag(52, 0), tag(41, 1), tag(77, 0), tag(78, lines.length)],
      ...lines.flatMap((l) => [
        tag(53, l.angleDeg),
        ...[tag(43, 0), tag(44, 0)],
        real(45, l.offset.x * shape.spacingMm),
        real(46, l.offset.y * shape.spacingMm),
        tag(79, l.dashes.length),
        ...l.dashes.map((dash) => real(49, dash * shape.spacingMm)),
      ]),
      tag(98, 1),
      ...flat(10, shape.paths[0]![0]!),
      ...xdata(version, shape.about),
    ];
  }

  /** Corners of a SOLID: the third and fourth change places, a triangle names its last one twice. */
  private corners({ corners }: SolidShape): Tag[] {
    const [a, b, c, d] = [corners[0]!, corners[1]!, corners[2]!, corners[3] ?? corners[2]!];
    const order = corners.length > 3 ? [a, b, d, c] : [a, b, c, c];
    return order.flatMap((corner, i) => this.point(10 + i, corner));
  }

  /** Values that are the format's defaults are left out: most attributes are hidden and stand plainly at their insert. */
  private textBody(content: string, pose: TextPose): Tag[] {
    const isPlain = pose.across === 'left' && pose.upright === 'baseline';
    return [
      ...this.point(10, pose.at),
      this.length(40, pose.heightMm),
      tag(1, this.text(content)),
      ...(pose.rotationDeg === 0 ? [] : [tag(50, numberValue(pose.rotationDeg))]),
      tag(41, numberValue(WIDTH_FACTOR)),
      tag(7, this.text(this.e.style)),
      ...(isPlain ? [] : [tag(72, ACROSS[pose.across]), ...this.point(11, pose.at)]),
    ];
  }

  private lightPolyline(shape: PolylineShape, owner: string | null): Tag[] {
    const { version, perMm } = this.e;
    return [
      ...this.head('LWPOLYLINE', this.layerOf(shape), owner).tags,
      ...mark(version, 'AcDbPolyline'),
      tag(90, shape.vertices.length),
      tag(70, shape.closed ? 1 : 0),
      ...shape.vertices.flatMap((v) => [tag(10, numberValue(v.x * perMm)), tag(20, numberValue(v.y * perMm))]),
      ...xdata(version, shape.about),
    ];
  }

  private heavyPolyline(shape: PolylineShape, owner: string | null): Tag[] {
    const { version } = this.e;
    const layer = this.layerOf(shape);
    const about = xdata(version, shape.about);
    const head = this.head('POLYLINE', layer, owner);
    return [
      ...head.tags,
      ...mark(version, 'AcDb2dPolyline'),
      tag(66, 1),
      ...this.point(10, { x: 0, y: 0 }),
      tag(70, shape.closed ? 1 : 0),
      ...about,
      ...shape.vertices.flatMap((v) => [
        ...this.head('VERTEX', layer, head.handle).tags,
        ...mark(version, 'AcDbVertex'),
        ...mark(version, 'AcDb2dVertex'),
        ...this.point(10, v),
        ...about,
      ]),
      ...this.head('SEQEND', layer, head.handle).tags,
      ...about,
    ];
  }

  private insert(shape: InsertShape, owner: string | null): Tag[] {
    const { version } = this.e;
    const layer = this.layerOf(shape);
    const about = xdata(version, shape.about);
    const head = this.head('INSERT', layer, owner);
    const withAttributes = shape.attributes.length > 0;
    return [
      ...head.tags,
      ...mark(version, 'AcDbBlockReference'),
      ...(withAttributes ? [tag(66, 1)] : []),
      tag(2, this.text(shape.block)),
      ...this.point(10, shape.at),
      tag(50, numberValue(shape.rotationDeg)),
      ...about,
      ...shape.attributes.flatMap((a) => this.attribute('ATTRIB', a, layer, head.handle, about)),
      ...(withAttributes ? [...this.head('SEQEND', layer, head.handle).tags, ...about] : []),
    ];
  }

  /** An aligned dimension; its number is the program's to make from the measured length, by the dimension style. */
  private dimension(shape: DimensionShape, owner: string | null): Tag[] {
    const { version } = this.e;
    if (shape.block === null) throw new Error('a dimension has no block');
    const measured = Math.hypot(shape.to.x - shape.from.x, shape.to.y - shape.from.y);
    const override = overrideOf(shape, version);
    const placed = shape.isTextPlaced ? TEXT_PLACED : 0;
    return [
      ...this.head('DIMENSION', this.layerOf(shape), owner).tags,
      ...mark(version, 'AcDbDimension'),
      ...(version >= 'AC1024' ? [tag(280, 0)] : []),
      tag(2, shape.block),
      ...this.point(10, shape.through),
      ...this.point(11, shape.textAt),
      tag(70, ALIGNED + placed + (hasMarkers(version) ? OWN_BLOCK : 0)),
      ...(override === null ? [] : [tag(1, this.text(override))]),
      ...(hasOwners(version) ? [tag(71, 5), this.length(42, measured)] : []),
      ...(shape.turnDeg === 0 ? [] : [tag(53, numberValue(shape.turnDeg))]),
      tag(3, this.text(this.e.dimensionStyles[shape.style])),
      ...mark(version, 'AcDbAlignedDimension'),
      ...this.point(13, shape.from),
      ...this.point(14, shape.to),
      ...xdata(version, shape.about),
    ];
  }

  private attribute(type: 'ATTRIB' | 'ATTDEF', a: Attribute, layer: string, owner: string | null, about: Tag[]): Tag[] {
    const { version } = this.e;
    const definition = type === 'ATTDEF';
    return [
      ...this.head(type, layer, owner).tags,
      ...mark(version, 'AcDbText'),
      ...this.textBody(a.text, a),
      ...mark(version, definition ? 'AcDbAttributeDefinition' : 'AcDbAttribute'),
      ...(version >= 'AC1024' ? [tag(280, 0)] : []),
      ...(definition ? [tag(3, a.tag)] : []),
      tag(2, a.tag),
      tag(70, a.visible ? 0 : 1),
      ...(a.upright === 'baseline' ? [] : [tag(74, UPRIGHT[a.upright])]),
      ...about,
    ];
  }

  /** The window `id` of a sheet at `at` (mm of paper); `perMm` is that of the model space that it shows. 1 is the sheet's own view of its paper. */
  viewport(v: Viewport, id: number, perMm: number, owner: string | null): Tag[] {
    const { version } = this.e;
    const heightDu = v.heightMm * v.scale * perMm;
    const [x, y] = [v.lookAt.x * perMm, v.lookAt.y * perMm];
    return [
      ...this.head('VIEWPORT', this.e.layers.VPRT, owner).tags,
      ...mark(version, 'AcDbViewport'),
      ...this.point(10, v.centre),
      tag(40, numberValue(v.widthMm)),
      tag(41, numberValue(v.heightMm)),
      tag(68, id),
      tag(69, id),
      ...(hasOwners(version) ? viewTags(x, y, heightDu) : []),
      ...(hasOwners(version) ? [] : viewData(x, y, heightDu)),
      ...xdata(version, ['sheet']),
    ];
  }

  paperBlock(name: string, body: readonly Tag[], record: string | null): Tag[] {
    const { version } = this.e;
    return [
      ...this.head('BLOCK', MAIN_LAYER, record).tags,
      ...mark(version, 'AcDbBlockBegin'),
      tag(2, name),
      tag(70, 0),
      ...this.point(10, { x: 0, y: 0 }),
      tag(3, name),
      tag(1, ''),
      ...xdata(version, ['sheet']),
      ...body,
      ...this.head('ENDBLK', MAIN_LAYER, record).tags,
      ...mark(version, 'AcDbBlockEnd'),
    ];
  }

  /** BLOCK, its entities and attribute definitions, ENDBLK; `record`: handle of its block record. */
  block(definition: BlockDefinition, record: string | null): Tag[] {
    const { version } = this.e;
    const name = this.text(definition.name);
    const about = xdata(version, ['block']);
    const pose: TextPose = { at: { x: 0, y: 0 }, heightMm: 50, rotationDeg: 0, across: 'left', upright: 'baseline' };
    return [
      ...this.head('BLOCK', MAIN_LAYER, record).tags,
      ...mark(version, 'AcDbBlockBegin'),
      tag(2, name),
      tag(70, definition.isPicture ? 1 : definition.attributes.length > 0 ? 2 : 0),
      ...this.point(10, { x: 0, y: 0 }),
      tag(3, name),
      tag(1, ''),
      ...definition.shapes.flatMap((s) => this.shape({ ...s, about: ['block'] }, record)),
      ...definition.attributes.flatMap((a) =>
        this.attribute('ATTDEF', { tag: a, text: '', visible: a === 'MARK', ...pose }, MAIN_LAYER, record, about),
      ),
      ...this.head('ENDBLK', MAIN_LAYER, record).tags,
      ...mark(version, 'AcDbBlockEnd'),
    ];
  }
}

/** Group 70 of a dimension: its type, that its block is its own (from R13 on), that its text was placed by hand. */
const ALIGNED = 1;
const OWN_BLOCK = 32;
const TEXT_PLACED = 128;

const ACROSS = { left: 0, centre: 1, right: 2 } as const;
const UPRIGHT = { baseline: 0, middle: 2, top: 3 } as const;

export const encodeShape = (encoding: Encoding, shape: Shape, owner: string | null): Tag[] =>
  new Encoder(encoding).shape(shape, owner);

export const encodeViewport = (
  encoding: Encoding,
  viewport: Viewport,
  id: number,
  perMm: number,
  owner: string | null,
): Tag[] => new Encoder(encoding).viewport(viewport, id, perMm, owner);

/** The block that holds a sheet: `body` between its head and its end. */
export const encodePaperBlock = (
  encoding: Encoding,
  name: string,
  body: readonly Tag[],
  record: string | null,
): Tag[] => new Encoder(encoding).paperBlock(name, body, record);

export const encodeBlock = (encoding: Encoding, block: BlockDefinition, record: string | null): Tag[] =>
  new Encoder(encoding).block(block, record);

/**
 * The blank sheet for a layout without a drawing under it: header, unit, our layers and line type as dxf-writer makes them (version AC1021), as tags.
 * Its handle counter runs through the whole process, so handles are numbered again from 1 here: the same input gives the same bytes.
 */

import Drawing, { type Unit } from 'dxf-writer';
import {
  APPLICATION_ID,
  handleOf,
  headerRange,
  nameOf,
  parseTags,
  structureOf,
  type Tag,
  type TagDocument,
  xdataOf,
} from '../../ground/tags.js';
import type { LengthUnit } from '../../ground/units.js';
import type { Bounds } from './bounds.js';
import { isEmpty } from './bounds.js';
import { Edits } from './edits.js';
import { numberValue, xdata } from './encode.js';
import { LAYERS, type LayerKey, type LayerNames } from './layers.js';

export const BLANK_VERSION = 'AC1021';

const UNIT_NAMES: Readonly<Record<LengthUnit, Unit>> = {
  mm: 'Millimeters',
  cm: 'Centimeters',
  m: 'Meters',
  in: 'Inches',
  ft: 'Feet',
};

/** $MEASUREMENT: 1 metric, 0 English. */
const isMetric = (unit: LengthUnit): boolean => unit === 'mm' || unit === 'cm' || unit === 'm';

export interface BlankOptions {
  readonly unit: LengthUnit;
  readonly layers: LayerNames;
  readonly used: ReadonlySet<LayerKey | null>;
  readonly lineType: { readonly name: string; readonly elements: readonly number[] };
  /** Drawing units. */
  readonly extents: Bounds;
}

const written = ({ unit, layers, used, lineType, extents }: BlankOptions): string => {
  const drawing = new Drawing();
  drawing.setUnits(UNIT_NAMES[unit]);
  drawing.header('MEASUREMENT', [[70, isMetric(unit) ? 1 : 0]]);
  drawing.header('LTSCALE', [[40, 1]]);
  drawing.header('LWDISPLAY', [[290, 1]]);
  if (!isEmpty(extents)) {
    const corner = (x: number, y: number): [number, number][] => [
      [10, x],
      [20, y],
      [30, 0],
    ];
    drawing.header('EXTMIN', corner(extents.minX, extents.minY));
    drawing.header('EXTMAX', corner(extents.maxX, extents.maxY));
  }
  drawing.addLineType(lineType.name, 'Pour line __ __ __', [...lineType.elements]);
  for (const key of Object.keys(LAYERS) as LayerKey[]) {
    if (!used.has(key)) continue;
    const { colour, lineType: kind } = LAYERS[key];
    drawing.addLayer(layers[key], colour, kind === 'DASH' ? lineType.name : 'CONTINUOUS');
  }
  return drawing.toDxfString();
};

/** Codes that hold handles in what dxf-writer makes. */
const HANDLE_CODES = new Set([5, 105, 330, 340, 350, 360]);

/** Numbers the handles from 1 in their order in the file; the plot style (390) that names no object becomes 0. */
const renumbered = (document: TagDocument): TagDocument => {
  const header = headerRange(document, '$HANDSEED');
  const isSeed = (at: number): boolean => header !== null && at >= header[0] && at < header[1];
  const numbers = new Map<string, string>([['0', '0']]);
  document.tags.forEach(({ code, value }, at) => {
    if (code !== 5 || isSeed(at)) return;
    numbers.set(handleOf(value)!, numbers.size.toString(16).toUpperCase());
  });
  const tags = document.tags.map((tag, at): Tag => {
    if (isSeed(at)) return { code: 5, value: numbers.size.toString(16).toUpperCase() };
    if (tag.code === 390) return { code: 390, value: '0' };
    if (!HANDLE_CODES.has(tag.code)) return tag;
    return { code: tag.code, value: numbers.get(handleOf(tag.value) ?? '') ?? '0' };
  });
  return { ...document, tags };
};

/** What dxf-writer cannot say: plot weights and our mark on layers and line type, and a view that shows the extents. */
const completed = (document: TagDocument, { layers, lineType, extents }: BlankOptions): TagDocument => {
  const edits = new Edits(document.tags);
  const { tables } = structureOf(document);
  const entries = (name: string) => tables.find((t) => t.name === name)?.entries ?? [];
  const keyOf = new Map(Object.entries(layers).map(([key, name]) => [name, key as LayerKey]));
  for (const record of entries('LAYER')) {
    const key = keyOf.get(nameOf(document, record) ?? '');
    if (key === undefined || xdataOf(document, record, APPLICATION_ID)) continue;
    const weight = { code: 370, value: String(LAYERS[key].weight) };
    const unplotted = LAYERS[key].isUnplotted ? [{ code: 290, value: '0' }] : [];
    edits.insert(record.end, [...unplotted, weight, ...xdata(document.version, ['layer'])]);
  }
  for (const record of entries('LTYPE')) {
    if (nameOf(document, record) === lineType.name) edits.insert(record.end, xdata(document.version, ['linetype']));
  }
  const view = entries('VPORT')[0];
  if (view && !isEmpty(extents)) edits.insert(view.end, viewTags(extents));
  return { ...document, tags: edits.done() };
};

const viewTags = (extents: Bounds): Tag[] => {
  const height = Math.max(extents.maxY - extents.minY, (extents.maxX - extents.minX) / 1.5) * 1.05;
  const tags: readonly (readonly [number, number])[] = [
    [12, (extents.minX + extents.maxX) / 2],
    [22, (extents.minY + extents.maxY) / 2],
    [45, height],
  ];
  return tags.map(([code, value]) => ({ code, value: numberValue(value) }));
};

/** A document with our layers and line type and nothing drawn. */
export const blankSheet = (options: BlankOptions): TagDocument => {
  const parsed = parseTags(new TextEncoder().encode(written(options)));
  if (!parsed.ok) throw new Error('the blank sheet cannot be read back');
  return completed(renumbered(parsed.value), options);
};

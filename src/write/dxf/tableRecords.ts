/** Records of ours in the symbol tables: layers, line types, the text style, the application id, block records. DXF reference, TABLES. */

import { APPLICATION_ID, encodeText, type Tag } from '../../ground/tags.js';
import { hasOwners, mark, numberValue, xdata } from './encode.js';
import type { LayerStyle } from './layers.js';
import { WIDTH_FACTOR } from './sheet.js';

export interface RecordPlace {
  readonly version: string;
  /** null in R12. */
  readonly handle: string | null;
  /** Handle of the table, null where it has none. */
  readonly table: string | null;
}

const tag = (code: number, value: string | number): Tag => ({ code, value: String(value) });

/** Entries of DIMSTYLE carry their handle as group 105. */
const head = (type: string, place: RecordPlace, subclass: string, name: string): Tag[] => {
  const { version } = place;
  return [
    tag(0, type),
    ...(place.handle === null ? [] : [tag(type === 'DIMSTYLE' ? 105 : 5, place.handle)]),
    ...(hasOwners(version) && place.table !== null ? [tag(330, place.table)] : []),
    ...mark(version, 'AcDbSymbolTableRecord'),
    ...mark(version, subclass),
    tag(2, encodeText(place, name)),
  ];
};

/** `borrowed`: references that the drawing's own layers carry (390 plot style, 347 material), taken from one of them. */
export const layerRecord = (
  place: RecordPlace,
  name: string,
  style: LayerStyle,
  lineType: string,
  borrowed: readonly Tag[],
): Tag[] => [
  ...head('LAYER', place, 'AcDbLayerTableRecord', name),
  tag(70, 0),
  tag(62, style.colour),
  tag(6, encodeText(place, lineType)),
  ...(hasOwners(place.version) && style.isUnplotted ? [tag(290, 0)] : []),
  ...(hasOwners(place.version) ? [tag(370, style.weight)] : []),
  ...borrowed,
  ...xdata(place.version, ['layer']),
];

/** `elements`: dashes (positive) and gaps (negative), drawing units. */
export const lineTypeRecord = (
  place: RecordPlace,
  name: string,
  description: string,
  elements: readonly number[],
): Tag[] => [
  ...head('LTYPE', place, 'AcDbLinetypeTableRecord', name),
  tag(70, 0),
  tag(3, description),
  tag(72, 65),
  tag(73, elements.length),
  tag(40, numberValue(elements.reduce((sum, e) => sum + Math.abs(e), 0))),
  ...elements.flatMap((e) => [tag(49, numberValue(e)), ...(place.version > 'AC1009' ? [tag(74, 0)] : [])]),
  ...xdata(place.version, ['linetype']),
];

/** A plain stroke font that every CAD program has. */
export const styleRecord = (place: RecordPlace, name: string): Tag[] => [
  ...head('STYLE', place, 'AcDbTextStyleTableRecord', name),
  tag(70, 0),
  tag(40, 0),
  tag(41, numberValue(WIDTH_FACTOR)),
  tag(50, 0),
  tag(71, 0),
  tag(42, 1),
  tag(3, 'txt'),
  tag(4, ''),
  ...xdata(place.version, ['style']),
];

export interface DimensionStyle {
  /** Drawing units per mm. */
  readonly perMm: number;
  /** Factor from drawing units to the unit in which lengths are told. */
  readonly factor: number;
  readonly isInches: boolean;
  readonly textMm: number;
  /** Handle of the text style, null where it has none. */
  readonly textStyle: string | null;
}

/** DIMLUNIT (DIMUNIT before R2000) and DIMFRAC. */
const ARCHITECTURAL = 4;
const DECIMAL = 2;
const NOT_STACKED = 2;

/**
 * Lengths told in mm, or feet and inches: group 144 turns drawing units into the gear's. Oblique strokes, text over the line.
 * Group codes: DXF reference, DIMSTYLE (40 DIMSCALE, 41 DIMASZ, 42 DIMEXO, 44 DIMEXE, 140 DIMTXT, 142 DIMTSZ, 144 DIMLFAC, 147 DIMGAP, 73 DIMTIH,
 * 74 DIMTOH, 77 DIMTAD, 78 DIMZIN (3: no zero feet, but zero inches; 8: no zeros at the end), 270 DIMUNIT, 271 DIMDEC, 276 DIMFRAC, 277 DIMLUNIT,
 * 340 DIMTXSTY).
 */
export const dimensionStyleRecord = (place: RecordPlace, name: string, style: DimensionStyle): Tag[] => {
  const { perMm, textMm } = style;
  const later = place.version > 'AC1009';
  const length = (code: number, mm: number): Tag => tag(code, numberValue(mm * perMm));
  return [
    ...head('DIMSTYLE', place, 'AcDbDimStyleTableRecord', name),
    tag(70, 0),
    tag(40, 1),
    length(41, 50),
    length(42, 100),
    length(44, 60),
    tag(73, 0),
    tag(74, 0),
    tag(77, 1),
    tag(78, style.isInches ? 3 : 8),
    length(140, textMm),
    length(142, 50),
    tag(144, numberValue(style.factor)),
    length(147, 40),
    ...(later && !hasOwners(place.version) ? [tag(270, style.isInches ? ARCHITECTURAL : DECIMAL)] : []),
    ...(later ? [tag(271, style.isInches ? 4 : 1)] : []),
    ...(hasOwners(place.version) ? [tag(276, NOT_STACKED), tag(277, style.isInches ? ARCHITECTURAL : DECIMAL)] : []),
    ...(later && style.textStyle !== null ? [tag(340, style.textStyle)] : []),
    ...xdata(place.version, ['dimension style']),
  ];
};

export const applicationRecord = (place: RecordPlace): Tag[] => [
  ...head('APPID', place, 'AcDbRegAppTableRecord', APPLICATION_ID),
  tag(70, 0),
];

/** `unitCode`: $INSUNITS of the drawing, so that the block stands at its size when it is inserted there. `layout`: of a sheet's block, the handle of its layout. */
export const blockRecord = (place: RecordPlace, name: string, unitCode: number, layout: string | null): Tag[] => [
  ...head('BLOCK_RECORD', place, 'AcDbBlockTableRecord', name),
  ...(place.version >= 'AC1015' ? [tag(340, layout ?? 0)] : []),
  ...(place.version >= 'AC1021' ? [tag(70, layout === null ? unitCode : 0), tag(280, 1), tag(281, 0)] : []),
];

/** An empty table's head: name, handle, count. */
export const tableHead = (version: string, name: string, handle: string | null, count: number): Tag[] => [
  tag(0, 'TABLE'),
  tag(2, name),
  ...(handle === null ? [] : [tag(5, handle)]),
  ...(hasOwners(version) && handle !== null ? [tag(330, '0')] : []),
  ...mark(version, 'AcDbSymbolTable'),
  tag(70, count),
  ...(name === 'DIMSTYLE' ? mark(version, 'AcDbDimStyleTable') : []),
];

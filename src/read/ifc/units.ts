/** The project's units of length, angle and area. */

import { IFCUNITASSIGNMENT } from 'web-ifc';
import type { LengthUnit } from '../../ground/units.js';
import { MM_PER, plainNumber } from '../../ground/units.js';
import type { ModelUnit } from '../../ground/vocabulary.js';
import { itemOf, type Line, nameOf, numberOf } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog } from './log.js';

/** SI prefixes as powers of ten. Source: IFC4, IfcSIPrefix. */
const PREFIXES: Readonly<Record<string, number>> = {
  EXA: 18,
  PETA: 15,
  TERA: 12,
  GIGA: 9,
  MEGA: 6,
  KILO: 3,
  HECTO: 2,
  DECA: 1,
  DECI: -1,
  CENTI: -2,
  MILLI: -3,
  MICRO: -6,
  NANO: -9,
  PICO: -12,
  FEMTO: -15,
  ATTO: -18,
};

/** Conversion based units by name, mm; used only where the factor is missing. International foot and inch, 1959; US survey foot 1200/3937 m. */
const NAMED_MM: Readonly<Record<string, number>> = {
  FOOT: 304.8,
  FEET: 304.8,
  FT: 304.8,
  INCH: 25.4,
  IN: 25.4,
  YARD: 914.4,
  MILE: 1_609_344,
  'US SURVEY FOOT': 1_200_000 / 3937,
  'US-SURVEY FOOT': 1_200_000 / 3937,
  MILLIMETRE: 1,
  CENTIMETRE: 10,
  METRE: 1000,
};

/** A unit of length, angle or area: its size in mm, rad or mm2. */
interface UnitSize {
  readonly size: number;
  readonly prefix: string | null;
  readonly conversionName: string | null;
}

const MOST_STEPS = 8;

/** A power of ten times 1000 mm without rounding on the way. */
const siMm = (power: number): number => (power >= -3 ? 10 ** (power + 3) : 1 / 10 ** -(power + 3));

type Kind = 'METRE' | 'RADIAN' | 'SQUARE_METRE';

/**
 * Size of an SI unit: metre in mm, radian in rad, square metre in mm2; null for any other. The prefix of a square metre is that of its sides, as
 * MILLI SQUARE_METRE stands for mm2 in models (value from memory: IfcOpenShell converts so).
 */
const siSize = (line: Line, kind: Kind): UnitSize | null => {
  if (itemOf(line.Name) !== kind) return null;
  const prefix = itemOf(line.Prefix);
  const power = prefix === null ? 0 : PREFIXES[prefix];
  if (power === undefined) return null;
  const size = kind === 'METRE' ? siMm(power) : kind === 'SQUARE_METRE' ? siMm(power) ** 2 : 10 ** power;
  return { size, prefix, conversionName: null };
};

/** A unit whatever it is made of: chained conversions end in an SI unit. */
export const sizeOf = (lines: Lines, unit: Line | null, kind: Kind, steps = 0): UnitSize | null => {
  if (unit === null || steps > MOST_STEPS) return null;
  if (lines.entity(unit) === 'IfcSIUnit') return siSize(unit, kind);
  const name = nameOf(unit.Name);
  const measure = lines.at(unit.ConversionFactor);
  const factor = measure === null ? null : numberOf(measure.ValueComponent);
  const base = measure === null ? null : sizeOf(lines, lines.at(measure.UnitComponent), kind, steps + 1);
  if (factor !== null && factor > 0 && base !== null) {
    const size = tidy(factor, base.size);
    return { size, prefix: null, conversionName: name ?? 'UNNAMED' };
  }
  if (kind === 'METRE' && name !== null) {
    const size = NAMED_MM[name.trim().toUpperCase()];
    if (size !== undefined) return { size, prefix: null, conversionName: name };
  }
  return null;
};

/** The product, as decimal numbers would have it: 0.3048 m is 304.8 mm and not 304.80000000000001. */
const tidy = (factor: number, base: number): number => {
  const product = factor * base;
  const round = Number(product.toPrecision(14));
  return Math.abs(round - product) <= Math.abs(product) * 4e-16 ? round : product;
};

/** Those of our units that is nearest in size, by ratio. */
const nearestUnit = (mm: number): { readonly unit: LengthUnit; readonly exact: boolean } => {
  let best: LengthUnit = 'mm';
  for (const unit of Object.keys(MM_PER) as LengthUnit[]) {
    if (Math.abs(Math.log(MM_PER[unit] / mm)) < Math.abs(Math.log(MM_PER[best] / mm))) best = unit;
  }
  return { unit: best, exact: Math.abs(MM_PER[best] / mm - 1) < 1e-9 };
};

export interface Units {
  readonly length: ModelUnit;
  readonly radPerUnit: number;
  readonly mm2PerUnit: number;
}

const isSize = (unit: UnitSize | null): unit is UnitSize =>
  unit !== null && unit.size > 0 && Number.isFinite(unit.size);

const LEAST_MM = 1e-6;
const MOST_MM = 1e9;

export const readUnits = (lines: Lines, project: Line | null, log: ModelLog): Units => {
  let assignment = project === null ? null : lines.at(project.UnitsInContext);
  if (assignment === null) {
    const [any] = lines.ofType(IFCUNITASSIGNMENT);
    assignment = lines.get(any ?? null);
  }
  let length: UnitSize | null = null;
  let angle: UnitSize | null = null;
  let area: UnitSize | null = null;
  const given = new Set<string | null>();
  for (const unit of assignment === null ? [] : lines.all(assignment.Units)) {
    const kind = itemOf(unit.UnitType);
    given.add(kind);
    if (kind === 'LENGTHUNIT') length ??= sizeOf(lines, unit, 'METRE');
    else if (kind === 'PLANEANGLEUNIT') angle ??= sizeOf(lines, unit, 'RADIAN');
    else if (kind === 'AREAUNIT') area ??= sizeOf(lines, unit, 'SQUARE_METRE');
  }
  if (given.has('PLANEANGLEUNIT') && !isSize(angle)) {
    log.add('read.model-unit', "The model's unit of angles cannot be read", null, 'radians');
  }
  if (given.has('AREAUNIT') && !isSize(area)) {
    log.add('read.model-unit', "The model's unit of areas cannot be read", null, 'the square of its unit of length');
  }
  if (length === null || !(length.size > LEAST_MM && length.size < MOST_MM)) {
    log.add(
      'read.model-unit',
      'The model does not say its unit of length',
      null,
      'metres, the unit of IFC without a prefix',
    );
    length = { size: 1000, prefix: null, conversionName: null };
  }
  const nearest = nearestUnit(length.size);
  if (!nearest.exact) {
    log.add(
      'read.model-odd-unit',
      `The model's unit of length is ${plainNumber(length.size, 6)} mm (${length.conversionName ?? length.prefix ?? 'METRE'}), which drawings do not have`,
      null,
      `drawings are written in ${nearest.unit}`,
    );
  }
  return {
    length: {
      lengthUnit: nearest.unit,
      mmPerUnit: length.size,
      prefix: length.prefix,
      conversionName: length.conversionName,
    },
    radPerUnit: isSize(angle) ? angle.size : 1,
    mm2PerUnit: isSize(area) ? area.size : length.size ** 2,
  };
};

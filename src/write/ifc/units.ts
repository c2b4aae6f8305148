/** Units of the file: length as in the source, everything else in the unit in which the layout is checked (kg, kN, kPa, degrees Celsius). */

import { MM_PER } from '../../ground/units.js';
import type { Result } from '../../ground/vocabulary.js';
import type { Author } from './author.js';
import { integer, list, real, type StepRef, text, typed, word } from './step/values.js';

/** A unit of length: an SI metre with its prefix, or a unit that is converted from the metre. */
export interface LengthUnitFacts {
  readonly prefix: string | null;
  readonly conversionName: string | null;
  readonly mmPerUnit: number;
}

/** Size of the metre's prefixes (IfcSIPrefix; BIPM, The International System of Units, 9th ed., table 7), mm. */
const PREFIX_MM: Readonly<Record<string, number>> = {
  NONE: 1000,
  KILO: 1e6,
  HECTO: 1e5,
  DECA: 1e4,
  DECI: 100,
  CENTI: 10,
  MILLI: 1,
  MICRO: 1e-3,
};

const OF_DRAWINGS: Readonly<Record<Result['source']['lengthUnit'], Omit<LengthUnitFacts, 'mmPerUnit'>>> = {
  mm: { prefix: 'MILLI', conversionName: null },
  cm: { prefix: 'CENTI', conversionName: null },
  m: { prefix: null, conversionName: null },
  in: { prefix: null, conversionName: 'INCH' },
  ft: { prefix: null, conversionName: 'FOOT' },
};

/** The source's unit of length. */
export const lengthUnitOf = (result: Result): LengthUnitFacts => {
  if (result.model) return result.model.unit;
  const { lengthUnit } = result.source;
  return { ...OF_DRAWINGS[lengthUnit], mmPerUnit: MM_PER[lengthUnit] };
};

const si = (author: Author, type: string, prefix: string | null, name: string): StepRef =>
  author.file.share('IfcSIUnit', {
    UnitType: word(type),
    Prefix: prefix === null ? null : word(prefix),
    Name: word(name),
  });

/** Dimensional exponents of a length and of an angle (none). */
const exponents = (author: Author, length: 0 | 1): StepRef =>
  author.file.share('IfcDimensionalExponents', {
    LengthExponent: integer(length),
    MassExponent: integer(0),
    TimeExponent: integer(0),
    ElectricCurrentExponent: integer(0),
    ThermodynamicTemperatureExponent: integer(0),
    AmountOfSubstanceExponent: integer(0),
    LuminousIntensityExponent: integer(0),
  });

/** SI where prefix and size agree; else converted from the metre by its size, under the name that it has in the source. */
export const lengthUnit = (author: Author, { prefix, conversionName, mmPerUnit }: LengthUnitFacts): StepRef => {
  if (conversionName === null && PREFIX_MM[prefix ?? 'NONE'] === mmPerUnit)
    return si(author, 'LENGTHUNIT', prefix, 'METRE');
  return author.file.share('IfcConversionBasedUnit', {
    Dimensions: exponents(author, 1),
    UnitType: word('LENGTHUNIT'),
    Name: author.label(conversionName ?? `${prefix ?? ''}METRE`),
    ConversionFactor: author.file.share('IfcMeasureWithUnit', {
      ValueComponent: typed('IfcLengthMeasure', real(mmPerUnit / 1000)),
      UnitComponent: si(author, 'LENGTHUNIT', null, 'METRE'),
    }),
  });
};

/** The degree, since sites and true north are told in degrees: pi/180 rad. */
const degree = (author: Author): StepRef =>
  author.file.share('IfcConversionBasedUnit', {
    Dimensions: exponents(author, 0),
    UnitType: word('PLANEANGLEUNIT'),
    Name: text('DEGREE'),
    ConversionFactor: author.file.share('IfcMeasureWithUnit', {
      ValueComponent: typed('IfcPlaneAngleMeasure', real(Math.PI / 180)),
      UnitComponent: si(author, 'PLANEANGLEUNIT', null, 'RADIAN'),
    }),
  });

export const unitAssignment = (author: Author, length: LengthUnitFacts): StepRef =>
  author.file.add('IfcUnitAssignment', {
    Units: list([
      lengthUnit(author, length),
      si(author, 'AREAUNIT', null, 'SQUARE_METRE'),
      si(author, 'VOLUMEUNIT', null, 'CUBIC_METRE'),
      degree(author),
      si(author, 'MASSUNIT', 'KILO', 'GRAM'),
      si(author, 'FORCEUNIT', 'KILO', 'NEWTON'),
      si(author, 'PRESSUREUNIT', 'KILO', 'PASCAL'),
      si(author, 'THERMODYNAMICTEMPERATUREUNIT', null, 'DEGREE_CELSIUS'),
    ]),
  });

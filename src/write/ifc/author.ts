/** What every part of the model needs: the file in the making, ids, lengths in the file's unit, points and placements, property sets. */

import { roundTo } from '../../ground/units.js';
import type { Result, Vec3 } from '../../ground/vocabulary.js';
import { Ids } from './globalId.js';
import { aboutOf } from './source.js';
import { StepFile } from './step/file.js';
import { integer, list, real, type StepRef, type StepValue, text, truth, typed } from './step/values.js';

/** A property's name, its value with its type, and what it means where the name does not say it. */
export interface Property {
  readonly name: string;
  readonly value: StepValue | readonly StepValue[] | null;
  readonly about?: string;
}

/** IfcLabel and IfcIdentifier hold so many characters (IFC4). */
const LABEL_LONGEST = 255;
/** Coordinates are told to a millionth of a mm: less is noise of the calculation. */
const LENGTH_PLACES = 6;
/** Direction ratios nearer to 0 or 1 than this are noise. */
const RATIO_NOISE = 1e-12;

const cleanRatio = (ratio: number): number => {
  const near = Math.round(ratio);
  return Math.abs(ratio - near) < RATIO_NOISE ? near : ratio;
};

export class Author {
  readonly file = new StepFile();
  readonly ids: Ids;
  /** Labels that had to be cut. */
  readonly cut: string[] = [];

  constructor(
    readonly result: Result,
    /** Size of the file's unit of length, mm. */
    readonly mmPerUnit: number,
  ) {
    this.ids = new Ids(aboutOf(result));
  }

  /** A length in the file's unit. */
  length(valueMm: number): StepValue {
    return real(roundTo(valueMm, LENGTH_PLACES) / this.mmPerUnit);
  }

  /** A text that may have 255 characters; what is longer is cut and told. */
  label(value: string): StepValue {
    const characters = [...value];
    if (characters.length <= LABEL_LONGEST) return text(value);
    this.cut.push(value);
    return text(`${characters.slice(0, LABEL_LONGEST - 1).join('')}…`);
  }

  labelOrNone(value: string | null | undefined): StepValue | null {
    return value === null || value === undefined ? null : this.label(value);
  }

  point(p: Vec3): StepRef {
    return this.file.share('IfcCartesianPoint', {
      Coordinates: list([this.length(p.x), this.length(p.y), this.length(p.z)]),
    });
  }

  point2(x: number, y: number): StepRef {
    return this.file.share('IfcCartesianPoint', { Coordinates: list([this.length(x), this.length(y)]) });
  }

  direction(...ratios: number[]): StepRef {
    return this.file.share('IfcDirection', { DirectionRatios: list(ratios.map((r) => real(cleanRatio(r)))) });
  }

  /** Axes at a point: z and x, the usual ones where they are not given. */
  axes(at: Vec3, z?: Vec3, x?: Vec3): StepRef {
    return this.file.share('IfcAxis2Placement3D', {
      Location: this.point(at),
      Axis: z ? this.direction(z.x, z.y, z.z) : null,
      RefDirection: x ? this.direction(x.x, x.y, x.z) : null,
    });
  }

  placement(relativeTo: StepRef | null, axes: StepRef): StepRef {
    return this.file.add('IfcLocalPlacement', { PlacementRelTo: relativeTo, RelativePlacement: axes });
  }

  /** Values of properties by measure. What is no number is left out. */
  readonly is = {
    label: (value: string): StepValue => typed('IfcLabel', this.label(value)),
    identifier: (value: string): StepValue => typed('IfcIdentifier', this.label(value)),
    text: (value: string): StepValue => typed('IfcText', text(value)),
    truth: (value: boolean): StepValue => typed('IfcBoolean', truth(value)),
    count: (value: number): StepValue => typed('IfcInteger', integer(value)),
    length: (valueMm: number): StepValue | null =>
      Number.isFinite(valueMm) ? typed('IfcLengthMeasure', this.length(valueMm)) : null,
    measure: (
      type:
        | 'IfcMassMeasure'
        | 'IfcForceMeasure'
        | 'IfcPressureMeasure'
        | 'IfcRatioMeasure'
        | 'IfcReal'
        | 'IfcAreaMeasure'
        | 'IfcVolumeMeasure'
        | 'IfcThermodynamicTemperatureMeasure',
      value: number,
    ): StepValue | null => (Number.isFinite(value) ? typed(type, real(value)) : null),
  };

  /** A property set; null where no property has a value. */
  propertySet(key: string, name: string, properties: readonly Property[]): StepRef | null {
    const made = properties.flatMap(({ name: property, value, about }) => {
      if (value === null || ('length' in value && value.length === 0)) return [];
      const common = { Name: text(property), Description: about === undefined ? null : text(about) };
      return 'step' in value
        ? [this.file.share('IfcPropertySingleValue', { ...common, NominalValue: value })]
        : [this.file.share('IfcPropertyListValue', { ...common, ListValues: list(value) })];
    });
    if (made.length === 0) return null;
    return this.file.add('IfcPropertySet', {
      GlobalId: text(this.ids.make(`${key}/${name}`)),
      Name: text(name),
      HasProperties: list(made),
    });
  }

  /** A property set of things in the file. */
  describe(key: string, things: readonly StepRef[], name: string, properties: readonly Property[]): void {
    const set = this.propertySet(key, name, properties);
    if (!set) return;
    this.file.add('IfcRelDefinesByProperties', {
      GlobalId: text(this.ids.make(`${key}/${name}/of`)),
      RelatedObjects: list(things),
      RelatingPropertyDefinition: set,
    });
  }

  /** A whole and its parts. */
  aggregate(key: string, whole: StepRef, parts: readonly StepRef[]): void {
    if (parts.length === 0) return;
    this.file.add('IfcRelAggregates', {
      GlobalId: text(this.ids.make(`${key}/parts`)),
      RelatingObject: whole,
      RelatedObjects: list(parts),
    });
  }
}

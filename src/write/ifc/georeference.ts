/** The geometric context of the source, so that the forms lie over the model: world coordinate system, true north, map conversion. */

import { ORIGIN } from '../../ground/space.js';
import type { MapConversion } from '../../ground/vocabulary.js';
import type { Author } from './author.js';
import { integer, real, type StepRef, text, word } from './step/values.js';
import { lengthUnit } from './units.js';

export interface Contexts {
  readonly model: StepRef;
  /** Of all bodies. */
  readonly body: StepRef;
}

/** Points nearer to each other than this are one: a hundredth of a mm. */
const PRECISION_MM = 0.01;
const mapConversion = (author: Author, context: StepRef, map: MapConversion): void => {
  const { crs } = map;
  const number = (value: number | null) => (value === null ? null : real(value));
  author.file.add('IfcMapConversion', {
    SourceCRS: context,
    TargetCRS: author.file.add('IfcProjectedCRS', {
      Name: author.label(crs.name ?? 'unnamed'),
      Description: crs.description === null ? null : text(crs.description),
      GeodeticDatum: author.labelOrNone(crs.geodeticDatum),
      VerticalDatum: author.labelOrNone(crs.verticalDatum),
      MapProjection: author.labelOrNone(crs.mapProjection),
      MapZone: author.labelOrNone(crs.mapZone),
      MapUnit: crs.unit ? lengthUnit(author, crs.unit) : null,
    }),
    Eastings: real(map.eastings),
    Northings: real(map.northings),
    OrthogonalHeight: real(map.orthogonalHeight),
    XAxisAbscissa: number(map.xAxisAbscissa),
    XAxisOrdinate: number(map.xAxisOrdinate),
    Scale: number(map.scale),
  });
};

/** The contexts of the file; of a drawing without any georeference. */
export const contexts = (author: Author): Contexts => {
  const { file, result } = author;
  const georeference = result.model?.georeference;
  const frame = georeference?.worldFrame;
  const north = georeference?.trueNorth;
  const model = file.add('IfcGeometricRepresentationContext', {
    ContextType: text('Model'),
    CoordinateSpaceDimension: integer(3),
    Precision: author.length(PRECISION_MM),
    WorldCoordinateSystem: frame ? author.axes(frame.origin, frame.z, frame.x) : author.axes(ORIGIN),
    TrueNorth: north && Math.hypot(...north) > 0 ? author.direction(...north) : null,
  });
  const body = file.add('IfcGeometricRepresentationSubContext', {
    ContextIdentifier: text('Body'),
    ContextType: text('Model'),
    ParentContext: model,
    TargetView: word('MODEL_VIEW'),
  });
  if (georeference?.map) mapConversion(author, model, georeference.map);
  return { model, body };
};

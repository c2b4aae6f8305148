/** Project, sites, buildings, storeys and where the model lies on the earth. */

import {
  IFCBUILDING,
  IFCBUILDINGSTOREY,
  IFCGEOMETRICREPRESENTATIONCONTEXT,
  IFCMAPCONVERSION,
  IFCPROJECT,
  IFCSITE,
} from 'web-ifc';
import { byText, compareText } from '../../ground/order.js';
import type { Georeference, MapConversion, ModelStorey, Named } from '../../ground/vocabulary.js';
import { type Line, nameOf, numberOf, numbersOf, refOf, type Value } from './attributes.js';
import type { Identities } from './identities.js';
import type { Lines } from './lines.js';
import type { ModelLog } from './log.js';
import type { Placements } from './placements.js';
import { isIdentity } from './space.js';
import { sizeOf } from './units.js';

/** The project; the first by its number where there are more. */
export const projectOf = (lines: Lines): Line | null => lines.get(lines.ofType(IFCPROJECT)[0] ?? null);

const named = (lines: Lines, identities: Identities, type: number): Named[] =>
  lines
    .ofType(type)
    .flatMap((id) => {
      const line = lines.get(id);
      return line === null ? [] : [{ id: identities.of(line).id, name: nameOf(line.Name) }];
    })
    .sort(byText(({ id }) => id));

export const sitesOf = (lines: Lines, identities: Identities): Named[] => named(lines, identities, IFCSITE);
export const buildingsOf = (lines: Lines, identities: Identities): Named[] => named(lines, identities, IFCBUILDING);

/** Level and attribute of a storey say different things beyond this. */
const SAME_LEVEL_MM = 1;

interface StoreyLine extends ModelStorey {
  readonly line: number;
}

export const storeysOf = (
  lines: Lines,
  places: Placements,
  identities: Identities,
  log: ModelLog,
): readonly StoreyLine[] =>
  lines
    .ofType(IFCBUILDINGSTOREY)
    .flatMap((id): StoreyLine[] => {
      const line = lines.get(id);
      if (line === null) return [];
      const subject = identities.of(line);
      const elevationMm = places.lengthMm(line.Elevation);
      const place = refOf(line.ObjectPlacement) === null ? null : places.world(line.ObjectPlacement, subject);
      const levelMm = place?.origin.z ?? elevationMm ?? 0;
      if (place !== null && elevationMm !== null && Math.abs(place.origin.z - elevationMm) > SAME_LEVEL_MM) {
        log.add(
          'read.model-storey-level',
          'Storeys have an elevation that is not the level of their placement',
          subject,
          'the level of the placement',
        );
      }
      return [{ id: subject.id, name: nameOf(line.Name), levelMm, elevationMm, line: id }];
    })
    .sort((a, b) => a.levelMm - b.levelMm || compareText(a.id, b.id));

/** The context in three dimensions in which bodies stand: of type 'Model', else the first of three dimensions. */
const modelContext = (lines: Lines): Line | null => {
  let found: Line | null = null;
  for (const id of lines.ofType(IFCGEOMETRICREPRESENTATIONCONTEXT, false)) {
    const line = lines.get(id);
    if (line === null) continue;
    if (/^(model|3d)$/i.test(nameOf(line.ContextType) ?? '')) return line;
    if (found === null && numberOf(line.CoordinateSpaceDimension) === 3) found = line;
  }
  return found;
};

const mapOf = (lines: Lines, log: ModelLog): MapConversion | null => {
  const ids = lines.ofType(IFCMAPCONVERSION);
  const line = lines.get(ids[0] ?? null);
  if (line === null) return null;
  const [eastings, northings, height] = [line.Eastings, line.Northings, line.OrthogonalHeight].map(numberOf);
  if (eastings == null || northings == null) {
    log.add('read.model-georeference', 'The map conversion lacks eastings or northings and was left out', null);
    return null;
  }
  if (ids.length > 1) {
    log.add('read.model-georeference', 'The model has more than one map conversion', null, 'the first by its number');
  }
  // Of IfcMapConversionScaled alone. Source: IFC4X3_ADD2.
  if ([line.FactorX, line.FactorY, line.FactorZ].some((factor) => (numberOf(factor) ?? 1) !== 1)) {
    log.add('read.model-georeference', 'The map conversion scales its axes one by one, which is not read', null);
  }
  const crs = lines.at(line.TargetCRS);
  const unitLine = crs === null ? null : lines.at(crs.MapUnit);
  const unit = sizeOf(lines, unitLine, 'METRE');
  return {
    eastings,
    northings,
    orthogonalHeight: height ?? 0,
    xAxisAbscissa: numberOf(line.XAxisAbscissa),
    xAxisOrdinate: numberOf(line.XAxisOrdinate),
    scale: numberOf(line.Scale),
    crs: {
      name: nameOf(crs?.Name),
      description: nameOf(crs?.Description),
      geodeticDatum: nameOf(crs?.GeodeticDatum),
      verticalDatum: nameOf(crs?.VerticalDatum),
      mapProjection: nameOf(crs?.MapProjection),
      mapZone: nameOf(crs?.MapZone),
      unit: unit === null ? null : { prefix: unit.prefix, conversionName: unit.conversionName, mmPerUnit: unit.size },
    },
  };
};

/** Angle of the compound measure of a site: three or four whole numbers. */
const compound = (value: Value | undefined): readonly number[] | null => {
  const numbers = numbersOf(value);
  return numbers === null || numbers.length < 3 ? null : numbers;
};

export const georeferenceOf = (lines: Lines, places: Placements, log: ModelLog): Georeference => {
  const context = modelContext(lines);
  const north = context === null ? null : places.direction(context.TrueNorth);
  const world =
    context === null || refOf(context.WorldCoordinateSystem) === null
      ? null
      : places.axes(context.WorldCoordinateSystem);
  const worldFrame = world === null || isIdentity(world) ? null : world;
  if (worldFrame !== null) {
    log.add(
      'read.model-world',
      "The model's context has a world coordinate system of its own",
      null,
      'coordinates are taken before it, as viewers do',
    );
  }
  const site = lines
    .ofType(IFCSITE)
    .map((id) => lines.get(id))
    .find((line) => line !== null && (compound(line.RefLatitude) !== null || numberOf(line.RefElevation) !== null));
  const trueNorth = north === null ? null : ([north.x, north.y] as const);
  return {
    map: mapOf(lines, log),
    // y itself says no more than nothing.
    trueNorth: trueNorth !== null && trueNorth[0] === 0 && trueNorth[1] > 0 ? null : trueNorth,
    worldFrame,
    latitude: compound(site?.RefLatitude),
    longitude: compound(site?.RefLongitude),
    siteElevationMm: site == null ? null : places.lengthMm(site.RefElevation),
  };
};

/**
 * Project, site, building and storeys. Names and levels are the source's, GlobalIds our own: two files that a viewer lays over each other must not hold
 * two things of one GlobalId. Large coordinates are carried once, by the site's placement; everything below it has small numbers.
 */

import { reachPoints } from '../../ground/arcs.js';
import { isGlobalId } from '../../ground/ids.js';
import type { Vec } from '../../ground/plane.js';
import { ORIGIN } from '../../ground/space.js';
import type { Named, Result } from '../../ground/vocabulary.js';
import type { Author } from './author.js';
import { middle } from './extent.js';
import { type Contexts, contexts } from './georeference.js';
import { associateDocument, sourceDocument, stemOf } from './source.js';
import { integer, list, type StepRef, text, word } from './step/values.js';
import { lengthUnitOf, unitAssignment } from './units.js';

export interface Storey {
  readonly ref: StepRef;
  readonly placement: StepRef;
  readonly levelMm: number;
  /** GlobalId in the source; null of a storey of our own. */
  readonly source: string | null;
}

export interface Ground {
  readonly project: StepRef;
  readonly building: StepRef;
  readonly contexts: Contexts;
  readonly document: StepRef;
  readonly buildingPlacement: StepRef;
  readonly storeys: readonly Storey[];
  /** What the site's placement carries, mm. */
  readonly shift: Vec;
}

/** Coordinates are moved by whole kilometres, so that what is left is small and the step is told by eye. */
const SHIFT_MM = 1e6;

/** Whole kilometres near the middle of the walls; none for a plan near its origin. */
export const shiftOf = ({ plan }: Result): Vec => {
  const points = plan.walls.flatMap(reachPoints);
  const whole = (mm: number): number => Math.round(mm / SHIFT_MM) * SHIFT_MM + 0;
  return { x: whole(middle(points.map((p) => p.x))), y: whole(middle(points.map((p) => p.y))) };
};

/** IfcCompoundPlaneAngleMeasure: three or four whole numbers of one sign, minutes and seconds below 60. */
const angle = (parts: readonly number[] | null) => {
  if (!parts || parts.length < 3 || parts.length > 4 || !parts.every(Number.isSafeInteger)) return null;
  const [, minutes = 0, seconds = 0, millionths = 0] = parts.map(Math.abs);
  if (minutes >= 60 || seconds >= 60 || millionths >= 1e6) return null;
  if (parts.some((p) => p < 0) && parts.some((p) => p > 0)) return null;
  return list(parts.map((p) => integer(p)));
};

const sourceId = (author: Author, key: string, thing: StepRef, source: Named | undefined): void => {
  if (!source || !isGlobalId(source.id)) return;
  author.describe(key, [thing], 'Shutterwright_Source', [
    { name: 'SourceGlobalId', value: author.is.identifier(source.id), about: 'GlobalId of its like in the source' },
  ]);
};

const storeysOf = (author: Author, buildingPlacement: StepRef): Storey[] => {
  const { result, file, ids } = author;
  const own = [{ id: null, name: 'Foundation', levelMm: result.foundation.levels.footingMm, elevationMm: null }];
  const keys = new Map<string, number>();
  return (result.model?.storeys ?? own).map(({ id, name, levelMm, elevationMm }) => {
    const placement = author.placement(buildingPlacement, author.axes({ ...ORIGIN, z: levelMm }));
    // Storeys of a faulty model may share a GlobalId or have none.
    const nth = (keys.get(id ?? '') ?? 0) + 1;
    keys.set(id ?? '', nth);
    const key = `storey ${id ?? 'own'}${nth === 1 ? '' : `#${nth}`}`;
    const ref = file.add('IfcBuildingStorey', {
      GlobalId: text(ids.make(key)),
      Name: author.labelOrNone(name),
      ObjectPlacement: placement,
      CompositionType: word('ELEMENT'),
      Elevation: author.length(elevationMm ?? levelMm),
    });
    if (id !== null) sourceId(author, key, ref, { id, name });
    return { ref, placement, levelMm, source: id };
  });
};

export const ground = (author: Author): Ground => {
  const { result, file, ids } = author;
  const { model } = result;
  const made = contexts(author);
  const project = file.add('IfcProject', {
    GlobalId: text(ids.make('project')),
    Name: author.label(model?.project.name ?? stemOf(result)),
    Description: text('Wall forms: temporary works, to be laid over the model of the building'),
    LongName: author.label(`Wall forms for ${result.source.file}`),
    RepresentationContexts: list([made.model]),
    UnitsInContext: unitAssignment(author, lengthUnitOf(result)),
  });
  const shift = shiftOf(result);
  const sitePlacement = author.placement(null, author.axes({ ...shift, z: 0 }));
  const elevationMm = model?.georeference.siteElevationMm ?? null;
  const site = file.add('IfcSite', {
    GlobalId: text(ids.make('site')),
    Name: author.label(model?.sites[0]?.name ?? 'Site'),
    ObjectPlacement: sitePlacement,
    CompositionType: word('ELEMENT'),
    RefLatitude: angle(model?.georeference.latitude ?? null),
    RefLongitude: angle(model?.georeference.longitude ?? null),
    RefElevation: elevationMm === null ? null : author.length(elevationMm),
  });
  const buildingPlacement = author.placement(sitePlacement, author.axes(ORIGIN));
  const building = file.add('IfcBuilding', {
    GlobalId: text(ids.make('building')),
    Name: author.label(model?.buildings[0]?.name ?? stemOf(result)),
    ObjectPlacement: buildingPlacement,
    CompositionType: word('ELEMENT'),
  });
  const storeys = storeysOf(author, buildingPlacement);
  author.aggregate('project', project, [site]);
  author.aggregate('site', site, [building]);
  author.aggregate(
    'building',
    building,
    storeys.map((s) => s.ref),
  );
  sourceId(author, 'project', project, model?.project);
  sourceId(author, 'site', site, model?.sites[0]);
  sourceId(author, 'building', building, model?.buildings[0]);
  const document = sourceDocument(author);
  associateDocument(author, 'project', [project], document);
  return { project, building, contexts: made, document, buildingPlacement, storeys, shift };
};

/** How the forms are put together: one assembly a pour, in it one assembly a wall; a group a wall for pieces that stand between two. */

import { CAUTIONS } from '../../ground/cautions.js';
import type { Result, Wall } from '../../ground/vocabulary.js';
import type { Author } from './author.js';
import { wallProperties } from './concrete.js';
import { POUR } from './elements.js';
import type { Ground, Storey } from './site.js';
import { associateWalls, sourceProperty, sourceWalls } from './source.js';
import { list, type StepRef, text, word } from './step/values.js';

/** A level that lies no more than this above another counts as on it: tolerance of levels in models (mm). *Practice, no source.* */
const ON_LEVEL_MM = 10;

/** The storey of the forms: the lowest in which a source wall stands, else the highest not above the lowest foot; null: the source has none. */
export const storeyOf = (author: Author, storeys: readonly Storey[]): Storey | null => {
  const { result } = author;
  const sources = new Set(result.plan.walls.flatMap((w) => sourceWalls(result, w)));
  const of = new Set(result.foundation.model?.elements.filter((e) => sources.has(e.id)).map((e) => e.storey) ?? []);
  const rising = [...storeys].sort((a, b) => a.levelMm - b.levelMm);
  const named = rising.find((s) => of.has(s.source));
  if (named) return named;
  const feet = result.plan.walls.flatMap((w) => w.base.map((b) => b.levelMm));
  const lowest = feet.length > 0 ? Math.min(...feet) : result.foundation.levels.footingMm;
  return rising.filter((s) => s.levelMm <= lowest + ON_LEVEL_MM).at(-1) ?? rising[0] ?? null;
};

const assembly = (author: Author, key: string, name: string, description: string, placement: StepRef): StepRef =>
  author.file.add('IfcElementAssembly', {
    GlobalId: text(author.ids.make(key)),
    Name: author.label(name),
    Description: text(description),
    ObjectType: text('FORMWORK'),
    ObjectPlacement: placement,
    AssemblyPlace: word('SITE'),
    PredefinedType: word('USERDEFINED'),
  });

/** The forms of one wall. */
export const wallAssembly = (
  author: Author,
  wall: Wall,
  key: string,
  placement: StepRef,
  parts: readonly StepRef[],
  document: StepRef,
): StepRef => {
  const ref = assembly(author, `forms ${key}`, `Forms ${wall.id}`, `Forms of wall ${wall.id}, both faces`, placement);
  author.aggregate(`forms ${key}`, ref, parts);
  author.describe(`forms ${key}`, [ref], 'Shutterwright_Wall', [
    ...wallProperties(author, wall),
    sourceProperty(author, wall),
    { name: 'Temporary', value: author.is.truth(true) },
  ]);
  associateWalls(author, `forms ${key}`, ref, wall, document);
  return ref;
};

/** Says which wall of this file the forms are for. */
export const isFor = (author: Author, key: string, forms: StepRef, wall: StepRef): void => {
  author.file.add('IfcRelAssignsToProduct', {
    GlobalId: text(author.ids.make(`forms ${key}/for`)),
    RelatedObjects: list([forms]),
    RelatingProduct: wall,
  });
};

/** What was counted of aligners, braces and platforms; null: they were not asked for. */
const siteCounts = ({ aligners, braces, platforms }: Result['layout']) => [
  { name: 'Aligners', count: aligners?.length ?? null },
  { name: 'Braces', count: braces?.length ?? null },
  { name: 'Platforms', count: platforms?.length ?? null },
  { name: 'Brackets', count: platforms?.reduce((sum, p) => sum + p.brackets.length, 0) ?? null },
];

/** The pour: whole of all walls' forms, with pressure and totals; a resource of the schema's own kind for formwork says what it is. */
export const pourAssembly = (
  author: Author,
  ground: Ground,
  placement: StepRef,
  parts: readonly StepRef[],
): StepRef => {
  const { is, result } = author;
  const [pressure] = result.layout.pressure;
  const { totals } = result.schedule;
  const ref = assembly(author, 'pour', 'Forms, pour 1', 'Wall forms of one pour', placement);
  author.aggregate('pour', ref, parts);
  author.describe('pour', [ref], 'Shutterwright_Pour', [
    { name: 'Pour', value: is.label(POUR) },
    { name: 'Temporary', value: is.truth(true) },
    { name: 'PressureMethod', value: pressure ? is.label(pressure.method) : null },
    {
      name: 'DesignPressure',
      value: pressure ? is.measure('IfcPressureMeasure', pressure.designKpa) : null,
      about: 'Characteristic value of the method',
    },
    {
      name: 'RateOfRiseMPerH',
      value: pressure ? is.measure('IfcReal', pressure.rateMPerH) : null,
      about: 'Metres an hour',
    },
    {
      name: 'ConcreteTemperature',
      value: pressure ? is.measure('IfcThermodynamicTemperatureMeasure', pressure.temperatureC) : null,
    },
    { name: 'PourHeight', value: pressure ? is.length(pressure.pourHeightMm) : null },
    { name: 'Pieces', value: is.count(result.layout.pieces.length) },
    { name: 'Ties', value: is.count(result.layout.ties.length) },
    { name: 'Clamps', value: is.count(result.layout.clamps.length) },
    ...siteCounts(result.layout).map(({ name, count }) => ({ name, value: count === null ? null : is.count(count) })),
    { name: 'Mass', value: is.measure('IfcMassMeasure', totals.massKg) },
    { name: 'ContactArea', value: is.measure('IfcAreaMeasure', totals.contactAreaM2), about: 'Both faces, gross' },
    { name: 'ConcreteVolume', value: is.measure('IfcVolumeMeasure', totals.concreteM3) },
  ]);
  const resource = author.file.add('IfcConstructionProductResource', {
    GlobalId: text(author.ids.make('resource')),
    Name: text('Formwork'),
    Description: text('Wall forms, used for one pour and taken away'),
    PredefinedType: word('FORMWORK'),
  });
  author.file.add('IfcRelAssignsToResource', {
    GlobalId: text(author.ids.make('resource/of')),
    RelatedObjects: list([ref]),
    RelatingResource: resource,
  });
  author.file.add('IfcRelDeclares', {
    GlobalId: text(author.ids.make('resource/declared')),
    RelatingContext: ground.project,
    RelatedDefinitions: list([resource]),
  });
  return ref;
};

/** All that touches a wall, the corners that it shares with others included. */
export const wallGroup = (author: Author, wall: Wall, key: string, members: readonly StepRef[]): void => {
  if (members.length === 0) return;
  const group = author.file.add('IfcGroup', {
    GlobalId: text(author.ids.make(`group ${key}`)),
    Name: author.label(`Wall ${wall.id}`),
    Description: text(
      'Every piece and tie that touches this wall and what stands before it; corners belong to two walls',
    ),
    ObjectType: text('FORMWORK OF WALL'),
  });
  author.file.add('IfcRelAssignsToGroup', {
    GlobalId: text(author.ids.make(`group ${key}/of`)),
    RelatedObjects: list(members),
    RelatingGroup: group,
  });
};

/** What is said of the whole: program, source, gear, findings, cautions. */
export const describeJob = (author: Author, project: StepRef): void => {
  const { is, result } = author;
  const { source, catalogue, model, findings } = result;
  const count = (severity: 'failure' | 'attention' | 'note') =>
    is.count(findings.filter((f) => f.severity === severity).length);
  author.describe('project', [project], 'Shutterwright_Job', [
    { name: 'Program', value: is.label('shutterwright') },
    { name: 'SourceFile', value: is.label(source.file) },
    { name: 'SourceSha256', value: is.label(source.sha256) },
    { name: 'SourceKind', value: is.label(source.kind) },
    { name: 'SourceSchema', value: model ? is.label(model.schemaName) : null },
    { name: 'Catalogue', value: is.label(catalogue.name) },
    { name: 'Failures', value: count('failure'), about: 'Findings; above 0 the forms must not be built as they are' },
    { name: 'Attentions', value: count('attention') },
    { name: 'Notes', value: count('note') },
    { name: 'Cautions', value: CAUTIONS.map((caution) => is.text(caution)) },
  ]);
};

/** Puts what stands on its own into the storey, or into the building where there is no storey. */
export const contain = (author: Author, ground: Ground, storey: Storey | null, things: readonly StepRef[]): void => {
  author.file.add('IfcRelContainedInSpatialStructure', {
    GlobalId: text(author.ids.make('contained')),
    RelatedElements: list(things),
    RelatingStructure: storey?.ref ?? ground.building,
  });
};

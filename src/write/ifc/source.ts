/** The source and what is said of it: time stamp, documents, the architect's walls of a wall. */

import { isGlobalId } from '../../ground/ids.js';
import type { Result, Wall } from '../../ground/vocabulary.js';
import type { Author, Property } from './author.js';
import { list, type StepRef, text } from './step/values.js';

/** Stands where the source has no time stamp that can be read: no clock is asked. */
export const NO_DATE = '1980-01-01T00:00:00';

/** ISO 8601, as FILE_NAME and BCF want it: date, time, and a zone where there is one. */
const TIME_STAMP =
  /^(\d{4})-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-](0\d|1[0-3]):[0-5]\d)?$/;

/** Days of a month in the calendar of ISO 8601 (Gregorian). */
const daysOf = (year: number, month: number): number => {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]!;
};

/** The date that everything written carries: the source's own. */
export const timeStampOf = ({ model }: Result): string => {
  const stamp = model?.timeStamp?.trim() ?? '';
  const found = TIME_STAMP.exec(stamp);
  if (!found) return NO_DATE;
  const [year, month, day] = [Number(found[1]), Number(found[2]), Number(found[3])];
  return year > 0 && day <= daysOf(year, month) ? stamp : NO_DATE;
};

/** GlobalIds of the architect's walls from which a wall was made; none for a drawing. */
export const sourceWalls = ({ model }: Result, wall: Wall): readonly string[] =>
  model ? [...new Set(wall.sources)].sort().filter(isGlobalId) : [];

/** What the forms are for, from which all ids are made: the model by its project's GlobalId, a drawing by its file's name. */
export const aboutOf = ({ model, source }: Result): string =>
  model ? `model ${model.project.id}` : `drawing ${source.file}`;

/** File name without its ending. */
export const stemOf = ({ source }: Result): string => source.file.replace(/\.[^.]*$/, '') || source.file;

/** The source as a document: by its hash, so that nobody takes another state of the file for it. */
export const sourceDocument = (author: Author): StepRef => {
  const { source } = author.result;
  return author.file.add('IfcDocumentInformation', {
    Identification: author.label(`sha256:${source.sha256}`),
    Name: author.label(source.file),
    Description: text('What the forms were laid out from'),
    Location: author.label(source.file),
    ElectronicFormat: author.label(source.kind === 'ifc' ? 'application/x-step' : 'image/vnd.dxf'),
  });
};

export const associateDocument = (author: Author, key: string, things: readonly StepRef[], document: StepRef): void => {
  author.file.add('IfcRelAssociatesDocument', {
    GlobalId: text(author.ids.make(`${key}/document`)),
    RelatedObjects: list(things),
    RelatingDocument: document,
  });
};

/**
 * The architect's walls of a group of forms, as references into the source document: they are not in this file, and a relation would need them here.
 */
export const associateWalls = (author: Author, key: string, thing: StepRef, wall: Wall, document: StepRef): void => {
  const names = new Map(author.result.foundation.model?.elements.map((e) => [e.id, e.name]) ?? []);
  for (const id of sourceWalls(author.result, wall)) {
    const reference = author.file.add('IfcDocumentReference', {
      Identification: text(id),
      Description: text(names.get(id) ?? 'Wall of the model'),
      ReferencedDocument: document,
    });
    associateDocument(author, `${key}/${id}`, [thing], reference);
  }
};

/** The walls of the source model that something forms, as a property. */
export const sourceProperty = ({ result, is }: Author, wall: Wall): Property => ({
  name: 'WallGlobalIds',
  value: sourceWalls(result, wall).map((id) => is.identifier(id)),
  about: 'The walls of the source model that it forms',
});

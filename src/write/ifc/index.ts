/** The formwork as a model: IFC4 to be laid over the model of the building, and the findings as BCF topics. */

import { type Finding, finding, type Refusable } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { Result } from '../../ground/vocabulary.js';
import { Author } from './author.js';
import { writeForms } from './forms.js';
import { notANumber } from './numbers.js';
import { stemOf, timeStampOf } from './source.js';
import { lengthUnitOf } from './units.js';

export { writeBcf } from './bcf/index.js';

const encoder = new TextEncoder();

const findingsOf = (author: Author, lost: readonly { readonly id: string; readonly kind: string }[]): Finding[] => {
  const map = author.result.model?.georeference.map;
  return [
    ...(map && map.crs.name === null
      ? [
          finding('write.ifc-crs-unnamed', 'The coordinate reference system of the source model has no name.', {
            assumed: 'called "unnamed"',
          }),
        ]
      : []),
    ...[...new Set(author.cut)].map((name) =>
      finding(
        'write.ifc-text-cut',
        `A name of ${plainNumber([...name].length, 0)} characters is cut: "${[...name].slice(0, 40).join('')}…".`,
        { assumed: 'its first 254 characters' },
      ),
    ),
    ...lost.map(({ id, kind }) =>
      finding(
        'write.ifc-no-place',
        `Piece ${id} (${kind}) names no face, vertex or wall end, or has no size, and is not in the model.`,
        { subject: id },
      ),
    ),
  ];
};

/**
 * Writes the model of the forms: IFC4 as a STEP file. Refused where a place or a size is no number. Throws when the result names what its own catalogue
 * does not have.
 */
export const writeIfc = (result: Result): Refusable<Uint8Array> => {
  const broken = notANumber(result);
  if (broken !== null) {
    const message = `${broken} has a place or a size that is no number or lies beyond any site; the model of the forms is not written.`;
    return { ok: false, findings: [finding('write.ifc-no-number', message, { subject: broken })] };
  }
  const author = new Author(result, lengthUnitOf(result).mmPerUnit);
  const lost = writeForms(author);
  const text = author.file.text({
    description: 'Model of wall forms (temporary works); no model view definition is claimed',
    fileName: `${stemOf(result)}.forms.ifc`,
    timeStamp: timeStampOf(result),
    program: 'shutterwright',
    schema: 'IFC4',
  });
  return { ok: true, value: encoder.encode(text), findings: findingsOf(author, lost) };
};

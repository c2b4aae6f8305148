/**
 * The findings as BCF 2.1 (buildingSMART, BCF-XML release 2.1: markup.xsd, visinfo.xsd, version.xsd): a ZIP with a folder a topic. Same result, same bytes:
 * ids come from the findings, dates from the source, the archive's own dates are fixed.
 */

import { strToU8, type Zippable, zipSync } from 'fflate';
import { finding, type Refusable } from '../../../ground/findings.js';
import { isGlobalId } from '../../../ground/ids.js';
import type { Result } from '../../../ground/vocabulary.js';
import { Ids } from '../globalId.js';
import { aboutOf, NO_DATE, stemOf, timeStampOf } from '../source.js';
import { MOST_TOPICS, type Topic, topicsOf } from './topics.js';
import { viewpoint } from './viewpoint.js';
import { document, element, type Xml } from './xml.js';

const AUTHOR = 'shutterwright';

/** The files that the topics are about: the source model, if it is one, and the forms. */
const header = (result: Result, ids: Ids): Xml => {
  const date = timeStampOf(result);
  const file = (name: string, projectId: string): Xml =>
    element('File', [element('Filename', name), date === NO_DATE ? null : element('Date', date)], {
      IfcProject: isGlobalId(projectId) ? projectId : null,
    });
  return element('Header', [
    result.model ? file(result.source.file, result.model.project.id) : null,
    file(`${stemOf(result)}.forms.ifc`, ids.of('project')),
  ]);
};

const markup = (topic: Topic, index: number, head: Xml, date: string): string =>
  document(
    element('Markup', [
      head,
      element(
        'Topic',
        [
          element('Title', topic.title),
          element('Priority', topic.priority),
          element('Index', String(index)),
          ...topic.labels.map((label) => element('Labels', label)),
          element('CreationDate', date),
          element('CreationAuthor', AUTHOR),
          element('Description', topic.description),
        ],
        { Guid: topic.uuid, TopicType: topic.type, TopicStatus: 'Open' },
      ),
      element('Viewpoints', [element('Viewpoint', 'viewpoint.bcfv'), element('Index', '0')], { Guid: topic.viewUuid }),
    ]),
  );

/** Writes the findings as BCF. Never refused: no findings make an archive without topics. */
export const writeBcf = (result: Result): Refusable<Uint8Array> => {
  const ids = new Ids(aboutOf(result));
  const { topics, gatheredCount } = topicsOf(result, ids);
  const head = header(result, ids);
  const date = timeStampOf(result);
  const files: Zippable = {
    'bcf.version': strToU8(document(element('Version', [element('DetailedVersion', '2.1')], { VersionId: '2.1' }))),
  };
  topics.forEach((topic, i) => {
    files[`${topic.uuid}/markup.bcf`] = strToU8(markup(topic, i, head, date));
    files[`${topic.uuid}/viewpoint.bcfv`] = strToU8(viewpoint(topic, result.plan));
  });
  // A date without a zone: read and written as local time, it gives the same bytes everywhere.
  const value = zipSync(files, { mtime: NO_DATE });
  const findings =
    gatheredCount === 0
      ? []
      : [
          finding(
            'write.ifc-topics-gathered',
            `${gatheredCount} failures and points of attention beyond the first ${MOST_TOPICS} have no BCF topic of their own.`,
            { assumed: 'named together in one topic' },
          ),
        ];
  return { ok: true, value, findings };
};

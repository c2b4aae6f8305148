/** What a person finds beside the results, and in the watched folder. */

import { CAUTIONS } from '../ground/cautions.js';
import type { JobRecord, KeptOutcome } from '../jobs/record.js';
import { faultText } from '../jobs/refusal.js';
import { resultText } from '../jobs/words.js';

/** The text beside the results; `isAgain`: they were there before. */
export const whatHappened = (record: JobRecord, outcome: KeptOutcome, isAgain: boolean): string => {
  const { fileName, submittedAt, endedAt, id, files } = record;
  const head = [`${fileName}: dropped ${submittedAt}, done ${endedAt} (job ${id})`];
  if (isAgain) head.push('The same drawing with the same settings was done before: these are its results.');
  const told =
    outcome.kind === 'fault'
      ? faultText(fileName, outcome.detail)
      : resultText(
          fileName,
          { ...outcome, files: [] },
          files.map((f) => f.name),
          [],
        );
  return `${head.join('\n')}\n\n${told}\n${outcome.kind === 'done' && files.length > 0 ? `${CAUTIONS.join('\n')}\n` : ''}`;
};

/** A drawing that no job came of. */
export const refusedWords = (fileName: string, why: string): string => `${fileName}: not laid out. ${why}\n`;

export interface Status {
  readonly waiting: readonly string[];
  /** Files that are still being copied. */
  readonly arriving: readonly string[];
  /** Name and reason. */
  readonly passedOver: readonly (readonly [string, string])[];
  readonly trouble: readonly string[];
}

export const statusText = ({ waiting, arriving, passedOver, trouble }: Status): string => {
  const part = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [title, ...lines.map((line) => `  ${line}`), ''];
  const lines = [
    ...part('Cannot go on:', trouble),
    ...part('In work:', waiting),
    ...part('Arriving (not touched until they have not changed for a while):', arriving),
    ...part(
      'Passed over:',
      passedOver.map(([name, why]) => `${name}: ${why}`),
    ),
  ];
  return lines.length === 0 ? 'Nothing to do: drop drawings (.dxf, .ifc) into drop-here.\n' : lines.join('\n');
};

/** The page docs/reference/traced-samples.md. */

import { AXIS_MM, THICKNESS_MM } from '../../support/drawings/score.js';
import type { SampleScore } from './traced.js';

const metres = (mm: number): string => (mm / 1000).toFixed(2);
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

const row = ({ truth, score }: SampleScore): string => {
  const some = truth.walls.length > 0;
  return `| ${truth.file} | ${some ? metres(score.truthMm) : 'no walls'} | ${some ? percent(score.recall) : ''} | ${metres(score.foundMm)} | ${percent(score.precision)} | ${score.falseWalls.length} |`;
};

const list = (title: string, entries: readonly string[], why: string | undefined): string[] =>
  entries.length === 0 ? [] : ['', `${title}${why ? ` (${why})` : ''}:`, ...entries.map((e) => `- ${e}`)];

const chapter = ({ truth, unitFound, score }: SampleScore): string[] => [
  '',
  `## ${truth.file}`,
  ...truth.notes,
  ...(unitFound === truth.unit || truth.walls.length === 0
    ? []
    : ['', `Taken as ${unitFound}; its numbers are ${truth.unit}.`]),
  ...list('Missed', score.missed, truth.missedBecause),
  ...list('Found, but no wall', score.falseWalls, truth.falseBecause),
  ...list(
    'Doubtful, counts neither way',
    truth.doubtful.map(
      (d) => `${d.thickness} thick, ${d.from.join(' ')} to ${d.to.join(' ')} (${truth.unit}): ${d.why ?? ''}`,
    ),
    undefined,
  ),
];

export const tracedSamplesPage = (scores: readonly SampleScore[]): string => {
  const all = scores.reduce(
    (s, x) => ({
      truth: s.truth + x.score.truthMm,
      recalled: s.recalled + x.score.recalledMm,
      found: s.found + x.score.foundMm,
      right: s.right + x.score.trueMm,
      falseWalls: s.falseWalls + x.score.falseWalls.length,
    }),
    { truth: 0, recalled: 0, found: 0, right: 0, falseWalls: 0 },
  );
  return `${[
    '# Walls found in the sample drawings',
    '',
    'Drawings made by others, traced without a job file, against the walls that a person would trace. The walls were read off pictures and coordinates',
    'by eye, one text for each drawing in tests/golden/truth. Written by tests/golden/truth/samples.test.ts, which also holds this page to be true',
    '(`UPDATE_GOLDEN=1` writes it anew).',
    '',
    `A piece of wall is found when a traced wall has the same axis within ${AXIS_MM} mm, the same direction and the same thickness within ${THICKNESS_MM} mm. Length counts`,
    'where both faces are bare, so joints belong to no wall. A false wall is a traced one of which less than half is true. Gaps with doors and windows,',
    'and what a person would be in doubt about, count neither way.',
    '',
    '| drawing | walls by eye, m | found | traced, m | of that true | false walls |',
    '|---|---|---|---|---|---|',
    ...scores.map(row),
    `| all | ${metres(all.truth)} | ${percent(all.recalled / all.truth)} | ${metres(all.found)} | ${percent(all.right / all.found)} | ${all.falseWalls} |`,
    ...scores.flatMap(chapter),
  ].join('\n')}\n`;
};

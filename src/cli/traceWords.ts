/** A trace in words, for stdout: what was understood, and the questions by their numbers. */

import { plainNumber } from '../ground/units.js';
import type { JobDone } from '../jobs/index.js';
import { plural } from '../jobs/words.js';
import type { TraceSummary } from '../pipeline/index.js';

const FROM = { job: 'job file', drawing: 'drawing', default: 'assumed' } as const;

const figures = (t: TraceSummary): string[] => {
  const { levels } = t;
  const more = [
    [t.curves, 'curved wall'],
    [t.openings, 'opening'],
    [t.steps, 'step'],
    [t.pilasters, 'pilaster'],
    [t.bars, 'note of bars', 'notes of bars'],
  ] as const;
  const counted = more.filter(([n]) => n > 0).map(([n, one, many]) => plural(n, one, many));
  const at = t.levelsAt > 0 ? `; ${plural(t.levelsAt, 'level')} of single walls` : '';
  const chosen = t.views.flatMap((v, i) =>
    v.chosen ? [`${i + 1}${v.title === null ? '' : ` (${v.title})`}, ${v.why}`] : [],
  );
  return [
    [`${plural(t.walls, 'wall')}, ${plainNumber(t.wallLengthM, 2)} m`, ...counted, `drawing in ${t.lengthUnit}`].join(
      ', ',
    ),
    `layers: ${t.layers.join(', ') || 'none'}`,
    `levels: footing ${plainNumber(levels.footingMm, 1)} mm (${FROM[levels.footingFrom]}), top ${plainNumber(levels.topMm, 1)} mm (${FROM[levels.topFrom]})${at}`,
    ...(t.views.length > 1
      ? [
          `views: ${chosen.length} of ${t.views.length} taken: ${chosen.slice(0, VIEWS_MOST).join('; ')}${chosen.length > VIEWS_MOST ? '; ...' : ''}`,
        ]
      : []),
  ];
};

/** Questions of one kind that are told in full; drawing and job file have all of them. */
const TOLD_MOST = 5;
const VIEWS_MOST = 3;

const allQuestions = (questions: TraceSummary['questions']): string[] => {
  const lines: string[] = [];
  for (const code of new Set(questions.map((q) => q.code))) {
    const same = questions.filter((q) => q.code === code);
    lines.push(...same.slice(0, TOLD_MOST).flatMap(questionLines));
    const rest = same.slice(TOLD_MOST);
    if (rest.length > 0) lines.push(`?${rest[0]!.number} to ?${rest.at(-1)!.number}: ${rest.length} more of ${code}`);
  }
  return lines;
};

const questionLines = (q: TraceSummary['questions'][number]): string[] => [
  `?${q.number} ${q.severity} ${q.code}: ${q.question}`,
  `   ${q.found}${q.assumed === null ? '' : ` Assumed: ${q.assumed}.`}${q.at === null ? '' : ` At ${plainNumber(q.at[0], 0)}, ${plainNumber(q.at[1], 0)} mm.`}`,
  ...(q.keys.length > 0 ? [`   answer: ${q.keys.join(', ')}`] : []),
];

const headline = (drawing: string, { exitCode, findings, traced }: JobDone): string => {
  if (exitCode === 2 || traced === null) return `${drawing}: refused. ${findings.at(-1)?.message ?? ''}`;
  const failures = findings.filter((f) => f.severity === 'failure').length;
  return `${drawing}: traced, ${failures === 0 ? 'no failures' : `with ${plural(failures, 'failure')}`}; nothing is laid out yet`;
};

/** The whole trace of one drawing, for a person. */
export const traceText = (
  drawing: string,
  done: JobDone,
  files: readonly string[],
  older: readonly string[],
): string => {
  const lines = [headline(drawing, done)];
  if (done.traced !== null) {
    const { questions } = done.traced;
    lines.push(...figures(done.traced).map((l) => `  ${l}`));
    lines.push(questions.length === 0 ? '  no questions' : `  ${plural(questions.length, 'question')}:`);
    lines.push(...allQuestions(questions).map((l) => `    ${l}`));
    lines.push('  files:', ...files.map((file) => `    ${file}`));
  }
  lines.push(...older.map((file) => `  ${file} is older: it is not of this run`));
  return `${lines.join('\n')}\n`;
};

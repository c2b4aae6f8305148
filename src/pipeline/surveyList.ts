/** Measured levels as they come in: a list in the job file, or the text of a file with one point a line. */

import { finding, type Refusable } from '../ground/findings.js';
import { comparePoints } from '../ground/order.js';
import { type LengthUnit, MM_PER, roundTo } from '../ground/units.js';
import type { SurveyPoint } from '../ground/vocabulary.js';
import type { Job } from './schema.js';

/** More points than this are no list that a person measured. */
export const SURVEY_POINTS_MOST = 10000;

/** A point as it was given: place in drawing units, level in mm. */
interface GivenPoint {
  readonly at: readonly [number, number];
  readonly levelMm: number;
}

const refused = (why: string): Refusable<never> => ({
  ok: false,
  findings: [finding('pipeline.survey-refused', `The list of measured levels cannot be used: ${why}.`)],
});

/** Columns of the two places and of the level, and the unit of the level. */
interface Columns {
  readonly x: number;
  readonly y: number;
  readonly level: number;
  readonly mmPer: number;
}

const WITHOUT_HEADER: Columns = { x: 0, y: 1, level: 2, mmPer: 1 };

/** 'levelMm', 'level_m', 'Level (ft)': a level with its unit. */
const LEVEL_HEAD = /^(?:level|elevation|z)[\s_(]*(mm|cm|m|in|ft)\)?$/;

/** The columns of a header; null where it does not name all three, with the level's unit. */
const columnsOf = (cells: readonly string[]): Columns | null => {
  const names = cells.map((c) => c.toLowerCase());
  const [x, y] = [names.indexOf('x'), names.indexOf('y')];
  const level = names.findIndex((n) => LEVEL_HEAD.test(n));
  if (x < 0 || y < 0 || level < 0) return null;
  return { x, y, level, mmPer: MM_PER[LEVEL_HEAD.exec(names[level]!)![1] as LengthUnit] };
};

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?$/i;

/** Cells of a line. Between semicolons and tabs a comma is a decimal one. */
const cellsOf = (line: string): string[] => {
  const mark = line.includes(';') ? ';' : line.includes('\t') ? '\t' : ',';
  const cells = line.split(mark).map((c) =>
    c
      .trim()
      .replace(/^"(.*)"$/, '$1')
      .trim(),
  );
  return mark === ',' ? cells : cells.map((c) => (/^[+-]?\d*,\d+$/.test(c) ? c.replace(',', '.') : c));
};

/**
 * Reads x, y, level a line; blank lines and those that begin with # are passed over. A first line with names tells the order of the columns and the unit
 * of the level (x, y, levelMm, levelM, levelFt …); without it levels are mm. Refuses with the number of the first line that is no point.
 */
export const parseSurvey = (text: string): Refusable<readonly GivenPoint[]> => {
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .map((line, i) => ({ line: line.trim(), n: i + 1 }))
    .filter(({ line }) => line !== '' && !line.startsWith('#'));
  const first = lines[0];
  if (!first) return refused('it holds no point');
  const head = cellsOf(first.line);
  const isHeader = !NUMBER.test(head[0]!);
  const columns = isHeader ? columnsOf(head) : WITHOUT_HEADER;
  if (!columns)
    return refused(`line ${first.n} must be a point, or name the columns x, y and the level with its unit, as levelMm`);
  const rows = isHeader ? lines.slice(1) : lines;
  if (rows.length === 0) return refused('it holds no point');
  if (rows.length > SURVEY_POINTS_MOST) return refused(`it holds more than ${SURVEY_POINTS_MOST} points`);
  const value: GivenPoint[] = [];
  for (const { line, n } of rows) {
    const cells = cellsOf(line);
    const [x, y, level] = [columns.x, columns.y, columns.level].map((c) => cells[c] ?? '');
    const isPoint = [x!, y!, level!].every((c) => NUMBER.test(c) && Number.isFinite(Number(c)));
    if (!isPoint || (!isHeader && cells.length !== 3)) return refused(`line ${n} is no point x, y, level`);
    value.push({ at: [Number(x), Number(y)], levelMm: roundTo(Number(level) * columns.mmPer, 4) });
  }
  return { ok: true, value, findings: [] };
};

/** The measured points of a job in mm, by place; none where it gives none. `fileText`: what the file that the job names holds. */
export const surveyOf = (
  job: Job,
  fileText: string | undefined,
  unit: LengthUnit,
): Refusable<readonly SurveyPoint[]> => {
  if (typeof job.survey === 'string' && fileText === undefined)
    throw new Error(`the caller read no survey '${job.survey}'`);
  const given: Refusable<readonly GivenPoint[]> =
    typeof job.survey === 'string' ? parseSurvey(fileText!) : { ok: true, value: job.survey ?? [], findings: [] };
  if (!given.ok) return given;
  const value = given.value
    .map(({ at, levelMm }) => ({
      at: { x: roundTo(at[0] * MM_PER[unit], 4), y: roundTo(at[1] * MM_PER[unit], 4) },
      levelMm,
    }))
    .sort((p, q) => comparePoints(p.at, q.at) || p.levelMm - q.levelMm);
  return { ok: true, value, findings: [] };
};

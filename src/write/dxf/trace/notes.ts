/** What stands beside the trace: what was read in figures, the questions by number, the legend, the cautions. */

import { CAUTIONS } from '../../../ground/cautions.js';
import type { Vec } from '../../../ground/plane.js';
import { type Question, questionMark, type TraceResult } from '../../../ground/questions.js';
import { plainNumber } from '../../../ground/units.js';
import type { Levels } from '../../../ground/vocabulary.js';
import { levelText } from '../lengths.js';
import { line, polyline, type Shape, text, textWidth } from '../sheet.js';
import { wrap } from '../tables.js';
import type { Ink } from './ink.js';
import { barSign, hatch, levelSign, openingSign, stepSign } from './symbols.js';

const ABOUT = ['trace-notes'];
/** Characters of a line of the list, and of the columns of the questions: number, question, answer. */
const LINE_CHARACTERS = 92;
const COLUMNS = [6, 60, 26] as const;

/** Writes downwards from a corner. */
class Column {
  readonly shapes: Shape[] = [];
  private y: number;

  constructor(
    private readonly at: Vec,
    private readonly textMm: number,
  ) {
    this.y = at.y;
  }

  private get lineMm(): number {
    return this.textMm * 1.5;
  }

  private put(content: string, x: number, top: number, heightMm: number): void {
    this.shapes.push(text('NOTE', content, { x, y: top - heightMm }, heightMm, { about: ABOUT }));
  }

  title(content: string): void {
    if (this.y !== this.at.y) this.y -= this.textMm;
    const heightMm = this.textMm * 1.4;
    this.put(content, this.at.x, this.y, heightMm);
    this.y -= heightMm * 1.8;
  }

  paragraph(content: string, indentMm = 0): void {
    for (const l of wrap(content, LINE_CHARACTERS)) {
      this.put(l, this.at.x + indentMm, this.y, this.textMm);
      this.y -= this.lineMm;
    }
    this.y -= this.textMm * 0.4;
  }

  /** A sign with what it means. `draw` gets the middle of the room for the sign. */
  sign(draw: (at: Vec) => readonly Shape[], meaning: string): void {
    const roomMm = this.textMm * 9;
    const lines = Math.max(2, wrap(meaning, LINE_CHARACTERS).length);
    this.shapes.push(...draw({ x: this.at.x + roomMm / 2, y: this.y - (lines * this.lineMm) / 2 }));
    const top = this.y;
    this.paragraph(meaning, roomMm + this.textMm);
    this.y = Math.min(this.y, top - lines * this.lineMm - this.textMm * 0.4);
  }

  /** Ruled rows of cells that are wrapped to their columns. */
  table(rows: readonly (readonly (readonly string[])[])[]): void {
    const padMm = this.textMm * 0.6;
    const edges = [this.at.x];
    for (const characters of COLUMNS) {
      edges.push(edges.at(-1)! + textWidth('0', this.textMm) * characters + 2 * padMm);
    }
    const rule = (): void => {
      const [from, to] = [edges[0]!, edges.at(-1)!];
      this.shapes.push(line('NOTE', { x: from, y: this.y }, { x: to, y: this.y }, ABOUT));
    };
    const top = this.y;
    rule();
    for (const cells of rows) {
      const wrapped = cells.map((paragraphs, c) => paragraphs.flatMap((p) => wrap(p, COLUMNS[c]!)));
      wrapped.forEach((lines, c) => {
        lines.forEach((l, i) => {
          this.put(l, edges[c]! + padMm, this.y - padMm - i * this.lineMm, this.textMm);
        });
      });
      this.y -= Math.max(...wrapped.map((lines) => lines.length)) * this.lineMm + padMm * 1.5;
      rule();
    }
    for (const x of edges) this.shapes.push(line('NOTE', { x, y: top }, { x, y: this.y }, ABOUT));
  }
}

const FROM: Readonly<Record<Levels['topFrom'], string>> = {
  job: 'from the job file',
  drawing: 'from the drawing',
  default: 'assumed, nothing says it',
};

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const figures = (result: TraceResult, ink: Ink): string[] => {
  const { source, foundation, plan, layers, questions } = result;
  const { levels, curves, openings, steps, pilasters, bars, views } = foundation;
  const straight = plan.walls.filter((w) => !w.arc);
  const lengthM = straight.reduce((sum, w) => sum + w.lengthMm, 0) / 1000;
  const kinds = [
    [curves.length, 'curved wall', 'curved walls'],
    [openings.length, 'opening', 'openings'],
    [steps.length, 'step', 'steps'],
    [pilasters.length, 'pilaster', 'pilasters'],
    [bars.length, 'note of bars', 'notes of bars'],
  ] as const;
  const counted = kinds.filter(([n]) => n > 0).map(([n, one, more]) => `, ${count(n, one, more)}`);
  const taken = views.flatMap((v, i) => (v.chosen ? [i + 1] : []));
  return [
    `Drawing ${source.file}, unit of its numbers: ${source.lengthUnit}. Lengths here in ${ink.unit === 'mm' ? 'mm' : 'feet and inches'}.`,
    `${count(straight.length, 'straight wall', 'straight walls')}, ${plainNumber(lengthM, 2)} m along their axes${counted.join('')}.`,
    `Walls from layers: ${layers.length > 0 ? layers.join(', ') : 'none'}.`,
    `Top of footing ${levelText(ink.unit, levels.footingMm)}, ${FROM[levels.footingFrom]}; top of walls ${levelText(ink.unit, levels.topMm)}, ${FROM[levels.topFrom]}.`,
    ...(views.length > 1 ? [`Views taken of ${views.length} on the sheet: ${taken.join(', ') || 'none'}.`] : []),
    questions.length === 0
      ? 'No questions. Nothing has been laid out yet.'
      : `${count(questions.length, 'question', 'questions')}. Nothing has been laid out yet: answer in the job file and run again.`,
  ];
};

const placeText = (q: Question, result: TraceResult, ink: Ink): string => {
  if (q.finding.at === null) return 'no place of its own';
  const [x, y] = q.finding.at;
  const place =
    ink.unit === 'mm'
      ? `${plainNumber(x, 0)}, ${plainNumber(y, 0)} mm`
      : `${plainNumber(x / 25.4, 0)}, ${plainNumber(y / 25.4, 0)} in`;
  return q.finding.subject === '' || result.plan.walls.length === 0
    ? `at ${place}`
    : `${q.finding.subject}, at ${place}`;
};

const questionRow = (q: Question, result: TraceResult, ink: Ink): string[][] => [
  [questionMark(q), q.finding.severity === 'failure' ? '!' : ''].filter((t) => t !== ''),
  [
    q.question,
    q.finding.message,
    ...(q.finding.assumed === null ? [] : [`Assumed: ${q.finding.assumed}.`]),
    `Place: ${placeText(q, result, ink)}. [${q.finding.code}]`,
  ],
  q.keys.length > 0 ? [...q.keys] : ['no key: see to the drawing'],
];

const legend = (column: Column, s: number): void => {
  const left = (at: Vec, dx: number, dy = 0): Vec => ({ x: at.x + dx * s, y: at.y + dy * s });
  column.sign(
    (at) => [line('TRCE-FACE', left(at, -4), left(at, 4), ABOUT)],
    'Outline of the concrete as understood: both faces of every wall, joined at corners and junctions.',
  );
  column.sign(
    (at) => [line('TRCE-AXIS', left(at, -4), left(at, 4), ABOUT)],
    'Axis of a wall. Its label: name, length x thickness; level of its base / of its top.',
  );
  column.sign(
    (at) => hatch(left(at, -4), left(at, 4), 1.2 * s, 1.6 * s, ABOUT),
    'Hatch: here both faces were seen in the drawing. Concrete without a hatch was added at corners and junctions.',
  );
  column.sign(
    (at) => openingSign(left(at, -2), left(at, 2), 1.2 * s, ABOUT),
    'Opening in standing concrete, with the levels of its sill and head; ? where nothing says them. A plain box on a face: pilaster.',
  );
  column.sign((at) => stepSign(at, { x: 1, y: 0 }, 0.9 * s, ABOUT), 'The footing or the top of the wall steps here.');
  column.sign((at) => levelSign(left(at, 0, -0.4), 0.8 * s, ABOUT), 'Level that holds for the wall nearest to it.');
  column.sign((at) => barSign(at, 0.9 * s, ABOUT), 'Bars as a note of the plan has them: to be confirmed.');
  column.sign(
    (at) => [
      polyline('TRCE-VIEW', [left(at, -3, -0.8), left(at, 3, -0.8), left(at, 3, 0.8), left(at, -3, 0.8)], true, ABOUT),
    ],
    'One of several drawings on the sheet; a double frame: it was taken.',
  );
  column.sign(
    (at) => [
      polyline('FLAG', [left(at, -1.2, -0.8), left(at, 1.2, -0.8), left(at, 0, 0.9)], true, ABOUT),
      text('FLAG', '?', left(at, 0, -0.25), 0.7 * s, { across: 'centre', upright: 'middle', about: ABOUT }),
    ],
    'Question, by its number in the table; a double triangle and ! in the table: without an answer nothing can be laid out there.',
  );
};

/** The notes, top left at `at`. */
export const drawTraceNotes = (result: TraceResult, ink: Ink, at: Vec): Shape[] => {
  const column = new Column(at, ink.textMm);
  column.title('WHAT WAS READ: TO BE CONFIRMED BEFORE ANYTHING IS LAID OUT');
  for (const p of figures(result, ink)) column.paragraph(p);
  column.title('QUESTIONS');
  if (result.questions.length === 0) column.paragraph('None.');
  else {
    const head = [['NO'], ['QUESTION, WHAT WAS FOUND, WHAT WAS ASSUMED'], ['ANSWER IN JOB FILE']];
    column.table([head, ...result.questions.map((q) => questionRow(q, result, ink))]);
  }
  column.title('LEGEND');
  legend(column, ink.textMm);
  column.title('CAUTIONS');
  CAUTIONS.forEach((c, i) => {
    column.paragraph(`${i + 1}. ${c}`);
  });
  return column.shapes;
};

/** The schedule as a table, and the notes: what the layout is, the cautions, the pressure case, the signs, the findings by number. */

import { CAUTIONS } from '../../ground/cautions.js';
import type { Vec } from '../../ground/plane.js';
import { allowedText, DEGREES, limitText } from '../../ground/rateWords.js';
import { itemText } from '../../ground/sizes.js';
import { plainNumber } from '../../ground/units.js';
import type { PressureCase, Rates } from '../../ground/vocabulary.js';
import { flagNumber } from './flags.js';
import type { Scene } from './scene.js';
import { line, type Shape, text, textWidth } from './sheet.js';

/** Over the height of the text: from row to row, and blank at either end of a cell. */
const ROW = 1.8;
const PAD = 0.64;

const LEFT_ALIGNED = new Set(['MARK', 'ITEM', 'KIND']);

/** Rows of text in ruled columns, top left at `at`. */
const drawTable = (textMm: number, head: readonly string[], rows: readonly (readonly string[])[], at: Vec): Shape[] => {
  const [rowMm, padMm] = [ROW * textMm, PAD * textMm];
  const about = ['schedule'];
  const widths = head.map(
    (h, c) => Math.max(...[h, ...rows.map((r) => r[c] ?? '')].map((t) => textWidth(t, textMm))) + 2 * padMm,
  );
  const edges = [at.x];
  for (const w of widths) edges.push(edges.at(-1)! + w);
  const bottom = at.y - (rows.length + 1) * rowMm;
  const shapes: Shape[] = edges.map((x) => line('NOTE', { x, y: at.y }, { x, y: bottom }, about));
  [head, ...rows].forEach((cells, r) => {
    const top = at.y - r * rowMm;
    shapes.push(line('NOTE', { x: edges[0]!, y: top }, { x: edges.at(-1)!, y: top }, about));
    cells.forEach((content, c) => {
      if (content === '') return;
      const right = !LEFT_ALIGNED.has(head[c]!);
      const x = right ? edges[c + 1]! - padMm : edges[c]! + padMm;
      const y = top - rowMm / 2;
      shapes.push(
        text('NOTE', content, { x, y }, textMm, { across: right ? 'right' : 'left', upright: 'middle', about }),
      );
    });
  });
  shapes.push(line('NOTE', { x: edges[0]!, y: bottom }, { x: edges.at(-1)!, y: bottom }, about));
  return shapes;
};

/** The schedule: mark, item, kind, size, count, mass, stock. */
export const drawSchedule = (scene: Scene, at: Vec): Shape[] => {
  const { schedule } = scene.result;
  const rows = schedule.rows.map((r) => {
    const mark = scene.marks.ofRow(r.kind, r.item, r);
    const stock = r.stock === null ? '' : String(r.stock);
    const pours = (r.inPours ?? []).map((p) => String(p.count));
    return [
      mark?.mark ?? '',
      itemText(scene.result.catalogue, r.kind, r.item),
      r.kind,
      mark?.size ?? '',
      String(r.count),
      ...pours,
      plainNumber(r.massKg, 1),
      stock,
    ];
  });
  const count = schedule.rows.reduce((n, r) => n + r.count, 0);
  const pours = scene.result.plan.pours ?? [];
  const sums = pours.map((_, i) => String(schedule.rows.reduce((n, r) => n + (r.inPours?.[i]?.count ?? 0), 0)));
  const total = ['', 'TOTAL', '', '', String(count), ...sums, plainNumber(schedule.totals.massKg, 1), ''];
  const title = text('NOTE', 'SCHEDULE', { x: at.x, y: at.y - scene.sizes.title }, scene.sizes.title, {
    about: ['schedule'],
  });
  const head = ['MARK', 'ITEM', 'KIND', 'SIZE', 'COUNT', ...pours.map((name) => `POUR ${name}`), 'MASS KG', 'STOCK'];
  return [title, ...drawTable(scene.sizes.table, head, [...rows, total], { x: at.x, y: at.y - scene.sizes.title * 2 })];
};

/** Lines of at most `most` characters, broken at blanks where there are any. */
export const wrap = (content: string, most: number): string[] => {
  const lines: string[] = [];
  let current = '';
  for (const word of content.split(/\s+/).filter((w) => w !== '')) {
    let rest = word;
    while ([...rest].length > most) {
      if (current !== '') lines.push(current);
      current = '';
      lines.push([...rest].slice(0, most).join(''));
      rest = [...rest].slice(most).join('');
    }
    if (current === '') current = rest;
    else if ([...current].length + 1 + [...rest].length <= most) current += ` ${rest}`;
    else {
      lines.push(current);
      current = rest;
    }
  }
  if (current !== '') lines.push(current);
  return lines;
};

const pressureLines = (cases: readonly PressureCase[]): string[] =>
  cases.flatMap((c) => {
    const inputs = Object.keys(c.inputs)
      .sort()
      .map((key) => `${key} ${typeof c.inputs[key] === 'number' ? plainNumber(c.inputs[key]) : c.inputs[key]}`);
    return [
      `Pressure by ${c.method}: design pressure ${plainNumber(c.designKpa, 1)} kPa at a rate of rise of ${plainNumber(c.rateMPerH, 2)} m/h and ${plainNumber(c.temperatureC, 1)} degrees C, pour height ${plainNumber(c.pourHeightMm, 1)} mm.`,
      `Inputs: ${inputs.join(', ')}.`,
    ];
  });

/** The allowed rate of rise, and its table, in one paragraph. */
const rateLines = (rates: Rates | undefined): string[] => {
  if (!rates) return [];
  const { units, table } = rates;
  const by = table.map((limit) => `${plainNumber(limit.temperature, 1)}: ${limitText(units, limit)}`);
  const more = table.some((limit) => limit.rate !== null) ? ` By ${DEGREES[units]}: ${by.join(', ')}.` : '';
  return [`Rate of rise: ${allowedText(rates)}${more}`];
};

const SIGNS: readonly string[] = [
  'Plan: each unit stands at its place, stacked units over each other; the mark of the lowest shows, with ON SIDE after it where a panel lies on its side. Open frame with ticks at the tie holes: panel. One diagonal: steel filler. Solid: timber; hatched: timber under a unit. Two legs: inside corner. Angle outside the edge: outside corner. Crossed: bulkhead. A bar behind two frames with a jaw into either: clamps.',
  'Elevations: each face as a person sees it who stands before it. Crossed circle: tie. Crossed square: tie beyond the concrete. Cross alone, LEFT OUT: a row of holes against concrete that has no ties; these holes stay closed. R1, R2 ...: rows of ties from below, with their levels. Double upright edges: corner unit. One diagonal: steel filler. Two diagonals: timber or bulkhead. Thick dashes: pour line. A dot under the forms: the side of a joint on which its ties stand. Levels are those of the drawing, in brackets above the lowest footing of the face. Running dimensions start at the start vertex of the concrete. START: where setting begins, and its direction, as in the list.',
  'Bar behind the frames: aligner; it lines the forms up and carries no concrete pressure. Bar to a crossed plate, BR: brace, in elevation a filled triangle at its head. Broken outline, PF: access platform with its brackets, a double edge where a guard stands, rungs where the ladder stands.',
  'Numbers in triangles and circles: findings of the list below. F failure, A attention, N note.',
];

interface Paragraph {
  readonly lead: string;
  readonly content: string;
}

const findingParagraphs = (scene: Scene): Paragraph[] =>
  scene.result.findings.map((f, i) => {
    const assumed = f.assumed === null ? '' : ` Assumed: ${f.assumed}.`;
    return { lead: flagNumber(f, i), content: `${f.message}${assumed} [${f.rule}, ${f.code}]` };
  });

const LEAD_CHARACTERS = 6;
const LINE_CHARACTERS = 84;

/** The notes, top left at `at`. */
export const drawNotes = (scene: Scene, at: Vec): Shape[] => {
  const { source, catalogue, layout } = scene.result;
  const about = ['notes'];
  const shapes: Shape[] = [];
  let y = at.y;
  const put = (content: string, x: number, heightMm: number): void => {
    shapes.push(text('NOTE', content, { x, y: y - heightMm }, heightMm, { about }));
  };
  const title = (content: string): void => {
    if (y !== at.y) y -= (ROW * scene.sizes.table) / 2;
    put(content, at.x, scene.sizes.title);
    y -= scene.sizes.title * 1.8;
  };
  const indentMm = textWidth('0', scene.sizes.table) * LEAD_CHARACTERS;
  const paragraph = ({ lead, content }: Paragraph): void => {
    if (lead !== '') put(lead, at.x, scene.sizes.table);
    for (const l of wrap(content, LINE_CHARACTERS)) {
      put(l, at.x + indentMm, scene.sizes.table);
      y -= scene.sizes.table * 1.5;
    }
    y -= scene.sizes.table * 0.4;
  };
  const plain = (contents: readonly string[]): void => {
    for (const content of contents) paragraph({ lead: '', content });
  };
  title('FORM LAYOUT');
  plain([
    `Drawing ${source.file}, unit of its numbers: ${source.lengthUnit}. Gear: ${catalogue.name}. Sizes and stations in ${catalogue.lengthUnit === 'mm' ? 'mm' : 'feet and inches'}.`,
    ...pressureLines(layout.pressure),
    ...rateLines(layout.rates),
  ]);
  title('CAUTIONS');
  CAUTIONS.forEach((content, i) => {
    paragraph({ lead: `${i + 1}.`, content });
  });
  title('SIGNS');
  plain(SIGNS);
  title('FINDINGS');
  const findings = findingParagraphs(scene);
  if (findings.length === 0) plain(['None.']);
  for (const p of findings) paragraph(p);
  return shapes;
};

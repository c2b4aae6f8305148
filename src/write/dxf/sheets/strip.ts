/** The strip at the right of every sheet: legend or not, cautions, key plan, scale bar, revisions, title block. All of our own design. */

import { CAUTIONS } from '../../../ground/cautions.js';
import { PROGRAM_VERSION } from '../../../ground/version.js';
import type { Scene } from '../scene.js';
import { rectangle, type Shape } from '../sheet.js';
import { wrap } from '../tables.js';
import { charactersIn, paragraph, rule, say } from './ink.js';
import { drawKeyPlan } from './keyPlan.js';
import { drawLegend } from './legend.js';
import { type Area, frameOfPaper, PAPER_TEXT_MM, type Paper, STRIP_MM, scaleText } from './paper.js';
import { drawScaleBar } from './scaleBar.js';

/** What the strip says of its sheet. */
export interface Titled {
  /** 'ELEVATIONS OF W1 AND W2'. */
  readonly title: string;
  /** Scales of its drawings. */
  readonly scales: readonly number[];
  readonly number: number;
  readonly count: number;
  /** Faces that it shows: drawn bold in the key plan. */
  readonly faces: readonly string[];
  /** Pours that it shows. */
  readonly pours: readonly string[];
  readonly hasLegend: boolean;
}

const PAD_MM = 4;
const ROW_MM = 8;
const TITLE_HIGH_MM = 132;
const REVISIONS_HIGH_MM = 46;
const KEY_HIGH_MM = 100;
const BAR_HIGH_MM = 24;
/** First digits of the input's hash: enough to tell two drawings apart by eye; the whole stands in the notes. */
const HASH_DIGITS = 16;

const frame = (a: Area): Shape => rectangle('SHET', a.left, a.bottom, a.right, a.top, ['sheet']);

/** Fields of the title block from above: label and value. */
const fields = (scene: Scene, paper: Paper, titled: Titled): (readonly [string, string])[] => {
  const { source, catalogue } = scene.result;
  const gear = catalogue.lengthUnit;
  const scales = titled.scales.map((s) => scaleText(gear, s)).join(', ') || 'NONE';
  const pours = titled.pours.length > 0 ? titled.pours.join(', ') : 'ALL IN ONE';
  return [
    ['DRAWING', source.file],
    ['SCALE', scales],
    ['PAPER', `${paper.name}, half size on ${paper.halfName}`],
    ['GEAR', catalogue.name],
    ['POUR', pours],
    ['INPUT', `SHA-256 ${source.sha256.slice(0, HASH_DIGITS)}...`],
    ['MADE BY', `shutterwright ${PROGRAM_VERSION}`],
  ];
};

const LABEL_MM = 26;

const titleBlock = (scene: Scene, paper: Paper, titled: Titled, a: Area): Shape[] => {
  const shapes: Shape[] = [frame(a)];
  const { plain, title, mark } = PAPER_TEXT_MM;
  const inner = a.right - a.left - 2 * PAD_MM;
  let y = a.top - PAD_MM;
  const lines = wrap(titled.title, charactersIn(inner, title)).slice(0, 2);
  for (const l of lines) {
    y -= title;
    shapes.push(say(l, { x: a.left + PAD_MM, y }, title));
    y -= title * 0.5;
  }
  y = a.top - PAD_MM - 2 * 1.5 * title;
  for (const [label, value] of fields(scene, paper, titled)) {
    shapes.push(rule({ x: a.left, y }, { x: a.right, y }));
    const most = charactersIn(inner - LABEL_MM, plain);
    const cut = [...value].length > most ? `${[...value].slice(0, most - 3).join('')}...` : value;
    shapes.push(say(label, { x: a.left + PAD_MM, y: y - ROW_MM / 2 }, plain, { upright: 'middle' }));
    shapes.push(say(cut, { x: a.left + PAD_MM + LABEL_MM, y: y - ROW_MM / 2 }, plain, { upright: 'middle' }));
    y -= ROW_MM;
  }
  for (const who of ['DESIGNED', 'CHECKED']) {
    shapes.push(rule({ x: a.left, y }, { x: a.right, y }));
    const row = ROW_MM * 1.35;
    shapes.push(say(who, { x: a.left + PAD_MM, y: y - row / 2 }, plain, { upright: 'middle' }));
    shapes.push(say('DATE', { x: a.left + inner * 0.66, y: y - row / 2 }, plain, { upright: 'middle' }));
    y -= row;
  }
  shapes.push(rule({ x: a.left, y }, { x: a.right, y }));
  const sheet = `SHEET ${titled.number} OF ${titled.count}`;
  shapes.push(say(sheet, { x: a.left + PAD_MM, y: (y + a.bottom) / 2 }, mark, { upright: 'middle' }));
  return shapes;
};

const REVISION_ROWS = 4;

/** Empty: revisions are written in by who issues them. */
const revisions = (a: Area): Shape[] => {
  const row = (a.top - a.bottom) / (REVISION_ROWS + 1);
  const columns = [0, 16, 44, 132].map((x) => a.left + x);
  const head = ['REV', 'DATE', 'WHAT CHANGED (CLOUDED)', 'BY'];
  return [
    frame(a),
    ...Array.from({ length: REVISION_ROWS }, (_, i) => {
      const y = a.top - (i + 1) * row;
      return rule({ x: a.left, y }, { x: a.right, y });
    }),
    ...columns.slice(1).map((x) => rule({ x, y: a.bottom }, { x, y: a.top })),
    ...head.map((h, i) =>
      say(h, { x: columns[i]! + 2, y: a.top - row / 2 }, PAPER_TEXT_MM.plain, { upright: 'middle' }),
    ),
  ];
};

/** Frame, strip and all that stands in it. */
export const drawStrip = (scene: Scene, paper: Paper, titled: Titled): Shape[] => {
  const outer = frameOfPaper(paper);
  const left = outer.right - STRIP_MM;
  let bottom = outer.bottom;
  const shapes: Shape[] = [frame(outer), rule({ x: left, y: outer.bottom }, { x: left, y: outer.top })];
  const above = (highMm: number): Area => {
    const area = { left, right: outer.right, bottom, top: bottom + highMm };
    bottom += highMm;
    return area;
  };
  shapes.push(...titleBlock(scene, paper, titled, above(TITLE_HIGH_MM)));
  shapes.push(...revisions(above(REVISIONS_HIGH_MM)));
  if (titled.scales.length > 0) shapes.push(...drawScaleBar(scene, titled.scales[0]!, above(BAR_HIGH_MM)));
  shapes.push(...drawKeyPlan(scene, titled.faces, above(KEY_HIGH_MM)));
  const inner = STRIP_MM - 2 * PAD_MM;
  shapes.push(rule({ x: left, y: bottom }, { x: outer.right, y: bottom }));
  const { plain, mark } = PAPER_TEXT_MM;
  let top = outer.top - PAD_MM;
  shapes.push(say('CAUTIONS', { x: left + PAD_MM, y: top - mark }, mark));
  top -= mark * 1.7;
  const cautions = paragraph(
    CAUTIONS.map((c, i) => `${i + 1}. ${c}`),
    { x: left + PAD_MM, y: top },
    inner,
    plain,
  );
  shapes.push(...cautions.shapes);
  top = cautions.bottom - PAD_MM;
  if (titled.hasLegend) shapes.push(...drawLegend(scene, { x: left + PAD_MM, y: top }, top - bottom));
  return shapes;
};

/**
 * Composes the sheet with the highest lettering for which the plan has room, so that no text lies over another and few more marks stand aside than at the usual
 * height: as high as the drawing's own, else the next lower step. What the job file states is taken as it is.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { LETTERING_MM } from '../../ground/lettering.js';
import type { Vec } from '../../ground/plane.js';
import { fromMm, plainNumber } from '../../ground/units.js';
import type { Lettering, Result } from '../../ground/vocabulary.js';
import { type Bounds, textCorners } from './bounds.js';
import { type Composed, compose, type Surroundings } from './compose.js';
import { type Box, Places } from './labels.js';
import { makeScene } from './scene.js';
import type { Shape, Sheet, TextPose } from './sheet.js';

/** Heights that are tried between the wanted one and the usual one, mm. */
const STEPS_MM: readonly number[] = [200, 160];

/** Texts that touch lie beside each other. */
const TOUCH_MM = 1;

const textBox = (content: string, pose: TextPose): Box => {
  const [a, b, c] = textCorners(content, pose) as readonly [Vec, Vec, Vec];
  return {
    kind: 'text',
    centre: { x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 },
    halfMm: [Math.hypot(b.x - a.x, b.y - a.y) / 2 - TOUCH_MM, pose.heightMm / 2 - TOUCH_MM],
    rotationDeg: pose.rotationDeg,
  };
};

const boxesOf = (shapes: readonly Shape[], pictures: ReadonlyMap<string, readonly Shape[]>): Box[] =>
  shapes.flatMap((s): Box[] => {
    if (s.type === 'text') return [textBox(s.text, s)];
    if (s.type === 'dimension') return s.block === null ? [] : boxesOf(pictures.get(s.block) ?? [], pictures);
    if (s.type === 'insert') return s.attributes.filter((a) => a.visible).map((a) => textBox(a.text, a));
    return [];
  });

/** How many texts of a sheet lie over one that was drawn before, or over one of the drawing's own. */
export const textsOverTexts = (sheet: Sheet, drawing: readonly Bounds[]): number => {
  const places = new Places();
  for (const b of drawing) {
    const centre = { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 };
    const halfMm = [(b.maxX - b.minX) / 2 - TOUCH_MM, (b.maxY - b.minY) / 2 - TOUCH_MM] as const;
    places.take({ kind: 'text', centre, halfMm, rotationDeg: 0 });
  }
  const pictures = new Map(sheet.blocks.filter((b) => b.isPicture).map((b) => [b.name, b.shapes]));
  let over = 0;
  for (const box of boxesOf(sheet.shapes, pictures)) {
    if (!places.isFree(box)) over++;
    places.take(box);
  }
  return over;
};

/** Marks of pieces that found no room at their unit and stand aside, at the end of a leader. */
export const marksAside = (sheet: Sheet): number =>
  sheet.shapes.filter((s) => s.type === 'line' && s.about?.[0] === 'leader').length;

/** More marks aside than at the usual height, of all units in plan: beyond this a plan is harder to read than its lettering is to read small. *Practice, no source.* */
const ASIDE_MORE = 0.05;

const whence = ({ from, count }: Lettering): string =>
  ({
    job: 'as the job file says',
    dimensions: `as most of the ${count} dimensions of the drawing`,
    texts: `as most of the ${count} texts of the drawing`,
    usual: 'as usual',
  })[from];

/** What height was taken, and from where; `over`: texts that lie over others, which counts where the job file states the height. */
const said = (result: Result, heightMm: number, over: number): Finding[] => {
  const { lettering, source } = result;
  if (!lettering || lettering.from === 'usual' || lettering.statedMm === null) return [];
  const { lengthUnit: unit } = source;
  const height = (mm: number): string =>
    `${plainNumber(mm, 1)} mm${unit === 'mm' ? '' : ` (${plainNumber(fromMm(mm, unit), 3)} ${unit})`}`;
  const { statedMm, from } = lettering;
  const isLimited = lettering.heightMm !== statedMm;
  const words =
    heightMm === statedMm
      ? `Marks and dimensions in plan are ${height(heightMm)} high, ${whence(lettering)}`
      : `Marks and dimensions in plan are ${height(heightMm)} high, not ${height(statedMm)}, ${whence(lettering)}`;
  const why =
    heightMm < lettering.heightMm
      ? ': higher ones would lie over each other, or stand aside of their units at leaders'
      : isLimited
        ? ': that is the limit at which they fit their units and can be read on the sheets'
        : from === 'job' && over > 0
          ? `; ${over} texts lie over others at this height`
          : '';
  return [finding('write.text-height', `${words}${why}.`, { subject: 'output.textHeightMm' })];
};

export const composeFitting = (
  result: Result,
  version: string,
  takenBlocks: ReadonlySet<string>,
  drawing: Surroundings,
  hasSheets: boolean,
): Composed => {
  const wanted = result.lettering?.heightMm ?? LETTERING_MM.usual;
  const isFixed = result.lettering?.from === 'job';
  const composedAt = (heightMm: number): Composed =>
    compose(makeScene(result, version, takenBlocks, heightMm), drawing, hasSheets);
  const overIn = ({ sheet }: Composed): number => textsOverTexts(sheet, drawing.texts);
  const taken = (composed: Composed, heightMm: number): Composed => {
    const over = isFixed ? overIn(composed) : 0;
    return { ...composed, findings: [...composed.findings, ...said(result, heightMm, over)] };
  };
  if (isFixed || wanted <= LETTERING_MM.usual) return taken(composedAt(wanted), wanted);
  const usual = composedAt(LETTERING_MM.usual);
  const most = marksAside(usual.sheet) + ASIDE_MORE * result.layout.pieces.length;
  for (const heightMm of [wanted, ...STEPS_MM.filter((mm) => mm < wanted)]) {
    const composed = composedAt(heightMm);
    if (overIn(composed) === 0 && marksAside(composed.sheet) <= most) return taken(composed, heightMm);
  }
  return taken(usual, LETTERING_MM.usual);
};

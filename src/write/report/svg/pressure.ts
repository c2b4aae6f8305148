/** Pressure against depth below the pour line: the method's envelope, and the full liquid head beside it where the density is known. */

import type { Vec } from '../../../ground/plane.js';
import { KPA_PER_PSF, plainNumber, unitWeightKnPerM3 } from '../../../ground/units.js';
import type { PressureCase } from '../../../ground/vocabulary.js';
import { html, lines, type Markup } from '../markup.js';
import { type GearUnit, lengthText } from '../sizes.js';
import {
  boxOf,
  type Drawing,
  drawing,
  FAIL_INK,
  grow,
  INK,
  LINE,
  NOTE_INK,
  num,
  pathData,
  QUIET_INK,
  SMALL_TEXT_MM,
  TEXT_MM,
  textMarkup,
  type View,
  viewOf,
} from './canvas.js';

/** Width of the diagram for its greatest pressure, mm of the sheet's units, and its height for the pour. */
const WIDE_MM = 4200;
const HIGH_MM = 3200;

/** Pressure of the full liquid head at the foot, kPa (p = rho g h), or null where the case tells neither the density nor the head. */
export const liquidHeadKpa = (pressure: PressureCase): number | null => {
  const { densityKgPerM3, fluidKpa, fluidPsf } = pressure.inputs;
  const known = (value: number | string | undefined): value is number =>
    typeof value === 'number' && Number.isFinite(value);
  if (known(densityKgPerM3)) return (unitWeightKnPerM3(densityKgPerM3) * pressure.pourHeightMm) / 1000;
  if (known(fluidKpa)) return fluidKpa;
  return known(fluidPsf) ? fluidPsf * KPA_PER_PSF : null;
};

/** The envelope from the pour line to the foot: 0 at depth 0, constant below its last point, cut at the foot. */
export const envelopeToFoot = (
  pressure: PressureCase,
): readonly { readonly depthMm: number; readonly kpa: number }[] => {
  const all = [{ depthMm: 0, kpa: 0 }, ...pressure.envelope.points.filter((p) => p.depthMm > 0)];
  const foot = pressure.pourHeightMm;
  const above = all.filter((p) => p.depthMm < foot);
  const last = above.at(-1)!;
  const next = all.find((p) => p.depthMm >= foot);
  const atFoot =
    next === undefined
      ? last.kpa
      : last.kpa + ((next.kpa - last.kpa) * (foot - last.depthMm)) / (next.depthMm - last.depthMm);
  return [...above, { depthMm: foot, kpa: atFoot }];
};

const pointTexts = (
  points: readonly { readonly depthMm: number; readonly kpa: number }[],
  at: (d: number, p: number) => Vec,
  gear: GearUnit,
  view: View,
): Markup => {
  const texts = points.slice(1).map((p) => {
    const place = at(p.depthMm, p.kpa);
    const text = `${plainNumber(p.kpa, 1)} kPa at ${lengthText(p.depthMm, gear)}`;
    return html`${textMarkup(text, { x: place.x + 90, y: place.y + 80 }, view, { anchor: 'start', sizeMm: TEXT_MM })}`;
  });
  return html`${texts}`;
};

/** The diagram of one case; null for a pour without height. */
export const pressureDrawing = (pressure: PressureCase, name: string, gear: GearUnit): Drawing | null => {
  if (!(pressure.pourHeightMm > 0)) return null;
  const points = envelopeToFoot(pressure);
  const head = liquidHeadKpa(pressure);
  const most = Math.max(1, head ?? 0, ...points.map((p) => p.kpa));
  const at = (depthMm: number, kpa: number): Vec => ({
    x: (kpa / most) * WIDE_MM,
    y: -(depthMm / pressure.pourHeightMm) * HIGH_MM,
  });
  const inner = boxOf([at(0, 0), at(pressure.pourHeightMm, most)])!;
  const box = grow(inner, 1300, 550, 2300, 500);
  const view = viewOf(box);
  const area = [...points.map((p) => at(p.depthMm, p.kpa)), at(pressure.pourHeightMm, 0)];
  const foot = at(pressure.pourHeightMm, 0);
  const liquid =
    head === null
      ? null
      : html`<path d="${pathData([at(0, 0), at(pressure.pourHeightMm, head)], view, false)}" fill="none" stroke="${FAIL_INK}" stroke-width="${num(LINE.tie)}" stroke-dasharray="110 60"/>${textMarkup(`liquid head ${plainNumber(head, 1)} kPa`, { ...at(pressure.pourHeightMm, head), y: foot.y - 140 }, view, { fill: FAIL_INK })}`;
  const body = lines([
    html`<path d="${pathData(area, view, true)}" fill="#dbe6ee" stroke="${INK}" stroke-width="${num(LINE.form)}"/>`,
    html`<path d="${pathData([at(0, 0), foot], view, false)}" stroke="${INK}" stroke-width="${num(LINE.form)}"/>`,
    html`<path d="${pathData([{ x: -500, y: 0 }, at(0, most)], view, false)}" stroke="${NOTE_INK}" stroke-width="26" stroke-dasharray="130 60"/>`,
    liquid,
    pointTexts(points, at, gear, view),
    textMarkup('pour line', { x: -60, y: 150 }, view, { anchor: 'end', fill: NOTE_INK, bold: true }),
    textMarkup(`foot, ${lengthText(pressure.pourHeightMm, gear)} down`, { x: foot.x - 60, y: foot.y }, view, {
      anchor: 'end',
      sizeMm: SMALL_TEXT_MM,
      fill: QUIET_INK,
    }),
  ]);
  const desc = `Greatest pressure ${plainNumber(Math.max(...points.map((p) => p.kpa)), 1)} kPa over a pour of ${lengthText(pressure.pourHeightMm, gear)} ${gear}${head === null ? '' : `; the full liquid head would be ${plainNumber(head, 1)} kPa`}.`;
  return drawing({ box, name, title: `Pressure envelope, ${pressure.method}`, desc, body });
};

/** The diagram as one SVG document; an empty string for a pour without height. */
export const pressureSvg = (pressure: PressureCase, name: string, gear: GearUnit): string =>
  pressureDrawing(pressure, name, gear)?.markup.text ?? '';

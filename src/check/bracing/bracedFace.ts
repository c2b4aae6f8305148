/** A line of forms as braces hold it: its weight, the stretch that each holds, and what pushes it per metre. */

import { weightKn } from '../../ground/units.js';
import type { BracedFace, CheckedBrace } from '../../ground/vocabulary.js';
import { type Context, unitOf } from '../context.js';
import { nearestStretches } from '../nearestStretches.js';
import { type FormLine, heightOf, lengthOf } from './formLines.js';
import { LEAST, type SiteOptions } from './options.js';
import { braceForces } from './statics.js';
import { windOn } from './wind.js';

/** Weight of the units on a line, kN per m: a corner unit counts by its leg. */
export const weightOf = (ctx: Context, line: FormLine): number => {
  const kg = line.covers.reduce((sum, { piece, cover }) => {
    const width = piece.covers.reduce((w, c) => w + c.toMm - c.fromMm, 0);
    const unit = unitOf(ctx, piece);
    return unit && width > 0 ? sum + (unit.massKg * (cover.toMm - cover.fromMm)) / width : sum;
  }, 0);
  return (weightKn(kg) / lengthOf(line)) * 1000;
};

/** What the report tells of a braced line: per metre, with the strongest wind on any of its braces. */
export const bracedFace = (
  line: FormLine,
  made: readonly CheckedBrace[],
  options: SiteOptions,
  platformKnmPerM: number,
): BracedFace[] => {
  const head = made[0];
  if (!head) return [];
  const stations = made.map((b) => b.stationMm);
  const shares = nearestStretches(stations, line.fromMm, line.toMm);
  const windKpa = Math.max(...shares.map(([from, to]) => windOn(line, options, from, to)));
  const f = braceForces({
    lineKnPerM: LEAST[options.code].lineKnPerM,
    windKpa,
    platformKnmPerM,
    heightM: heightOf(line) / 1000,
    headM: Math.max(1, head.headMm - head.footMm) / 1000,
    runM: 1,
    widthM: 1,
    weightKnPerM: 0,
  });
  return [
    {
      run: line.run.id,
      face: line.face.id,
      side: line.side,
      heightMm: heightOf(line),
      headMm: head.headMm,
      lineKnPerM: LEAST[options.code].lineKnPerM,
      windKpa,
      platformKnmPerM,
      braceKnPerM: f.headKn,
      governs: f.governs,
      baseWindKnPerM: f.baseWindKn,
      baseLineKnPerM: f.baseLineKn,
    },
  ];
};

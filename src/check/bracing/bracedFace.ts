/** A line of forms as braces hold it: its weight, the stretch that each holds, and what pushes it per metre. */

import type { BracedFace, CheckedBrace } from '../../ground/vocabulary.js';
import { type Context, unitOf } from '../context.js';
import { type FormLine, heightOf, lengthOf } from './formLines.js';
import { LEAST, type SiteOptions } from './options.js';
import { braceForces } from './statics.js';
import { windOn } from './wind.js';

const GRAVITY = 9.80665;

/** Weight of the units on a line, kN per m: a corner unit counts by its leg. */
export const weightOf = (ctx: Context, line: FormLine): number => {
  const kg = line.covers.reduce((sum, { piece, cover }) => {
    const width = piece.covers.reduce((w, c) => w + c.toMm - c.fromMm, 0);
    const unit = unitOf(ctx, piece);
    return unit && width > 0 ? sum + (unit.massKg * (cover.toMm - cover.fromMm)) / width : sum;
  }, 0);
  return ((kg * GRAVITY) / 1000 / lengthOf(line)) * 1000;
};

/** Each brace with the stretch of the line that is nearer to it than to the next. */
export const sharesOf = (line: FormLine, stations: readonly number[]): (readonly [number, number])[] =>
  stations.map((s, i) => [
    i === 0 ? line.fromMm : (stations[i - 1]! + s) / 2,
    i === stations.length - 1 ? line.toMm : (s + stations[i + 1]!) / 2,
  ]);

/** What the report tells of a braced line: per metre, with the strongest wind on any of its braces. */
export const bracedFace = (
  line: FormLine,
  made: readonly CheckedBrace[],
  options: SiteOptions,
  platformKnmPerM: number,
): BracedFace[] => {
  const head = made[0];
  if (!head) return [];
  const shares = sharesOf(
    line,
    made.map((b) => b.stationMm),
  );
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

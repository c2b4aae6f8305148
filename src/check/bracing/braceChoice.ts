/** Which brace at which angle: what reaches from a row of aligners to the ground, works both ways and carries the load of its width. */

import { MM_PER } from '../../ground/units.js';
import type { BraceItem, Catalogue } from '../../ground/vocabulary.js';
import { type FormLine, heightOf } from './formLines.js';
import { headOffsetMm } from './freeSpace.js';
import { LEAST, RULES, type SiteOptions } from './options.js';
import { braceForces, platformMoment } from './statics.js';
import { netCoefficient } from './wind.js';

export interface BraceChoice {
  readonly item: BraceItem;
  readonly footOffsetMm: number;
  /** The widest stretch of form that it holds. */
  readonly widthMostMm: number;
}

const STEP_DEG = 2.5;

/** Angles from 45 degrees outwards, the steeper first: they need less ground. */
const ANGLES: readonly number[] = (() => {
  const angles = [45];
  for (let off = STEP_DEG; off <= 15; off += STEP_DEG) angles.push(45 + off, 45 - off);
  return angles;
})();

/** Feet are set out in whole steps. */
const footStepMm = ({ lengthUnit }: Catalogue): number => (lengthUnit === 'in' ? MM_PER.in / 2 : 10);

/** The floor of a platform begins this far from the face of the form. Common practice, no source. */
export const PLATFORM_GAP_MM = 100;

/** Moment of a loaded platform on a run, kNm/m; 0 where it has none. */
export const platformOn = (widthMm: number, options: SiteOptions): number =>
  widthMm > 0 ? platformMoment(options.platformKpa, widthMm / 1000, PLATFORM_GAP_MM / 1000) : 0;

/** The strongest wind on any part of the line, kPa. */
const strongest = (line: FormLine, { windKpa, windCoefficient, code }: SiteOptions): number => {
  if (windKpa === null) return LEAST[code].windKpa;
  const ends = [line.fromMm, (line.fromMm + line.toMm) / 2, line.toMm].map((s) => netCoefficient(line, s));
  return Math.max(LEAST[code].windKpa, windKpa * (windCoefficient ?? Math.max(...ends)));
};

/** Heads and feet that the yard's braces can have, the best first. `platformKnmPerM`: of the platform that the run may carry. */
export const braceChoices = (
  line: FormLine,
  headMm: number,
  catalogue: Catalogue,
  options: SiteOptions,
  platformKnmPerM: number,
): BraceChoice[] => {
  const heightMm = heightOf(line);
  const riseMm = headMm - line.groundMm;
  const offMm = headOffsetMm(catalogue.frameDepthMm);
  const step = footStepMm(catalogue);
  const items = (catalogue.braces ?? [])
    .filter((b) => b.pushKn > 0 && b.pullKn > 0 && b.wallMm.fromMm <= heightMm && b.wallMm.toMm >= heightMm)
    .sort(
      (a, b) =>
        Number(a.kind === 'telescopic') - Number(b.kind === 'telescopic') ||
        a.massKg - b.massKg ||
        (a.id < b.id ? -1 : 1),
    );
  const windKpa = strongest(line, options);
  return items.flatMap((item) =>
    ANGLES.flatMap((deg): BraceChoice[] => {
      const footOffsetMm = Math.round((offMm + riseMm / Math.tan((deg * Math.PI) / 180)) / step) * step;
      const runMm = footOffsetMm - offMm;
      const lengthMm = Math.hypot(runMm, riseMm);
      const angle = (Math.atan2(riseMm, runMm) * 180) / Math.PI;
      if (angle < RULES.angleLeastDeg || angle > RULES.angleMostDeg) return [];
      if (lengthMm < item.lengthMm.fromMm || lengthMm > item.lengthMm.toMm) return [];
      const perMetre = braceForces({
        lineKnPerM: LEAST[options.code].lineKnPerM,
        windKpa,
        platformKnmPerM,
        heightM: heightMm / 1000,
        headM: riseMm / 1000,
        runM: runMm / 1000,
        widthM: 1,
        weightKnPerM: 0,
      });
      const widthM = Math.min(
        Math.min(item.pushKn, item.pullKn) / perMetre.axialKn,
        item.footUpliftKn / perMetre.verticalKn,
        item.footShearKn / perMetre.headKn,
      );
      return [{ item, footOffsetMm, widthMostMm: widthM * 1000 }];
    }),
  );
};

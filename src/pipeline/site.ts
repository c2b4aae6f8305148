/** What the job says of bracing and access, with its defaults. */

import { GANG_RULES, type SiteOptions, velocityPressureKpa } from '../check/index.js';
import { KPA_PER_PSF, MM_PER } from '../ground/units.js';
import type { Catalogue } from '../ground/vocabulary.js';
import type { Job } from './schema.js';

/** Drop from which platforms stand: 6 ft, 29 CFR 1926.501(b)(5) (from memory), in SI rounded as is common. */
const DROP_MM = { us: 6 * MM_PER.ft, en: 1800 } as const;
/** Light duty in the US (25 psf, ASCE 37); class 2 of EN 12811-1. */
const LOAD_KPA = { us: 25 * KPA_PER_PSF, en: 1.5 } as const;

const windOf = ({ wind }: Job): number | null => {
  if (wind?.pressureKpa !== undefined) return wind.pressureKpa;
  if (wind?.pressurePsf !== undefined) return wind.pressurePsf * KPA_PER_PSF;
  return wind?.speedMPerS === undefined ? null : velocityPressureKpa(wind.speedMPerS);
};

const gangsOf = ({ gangs }: Job): Pick<SiteOptions, 'gangs'> =>
  gangs
    ? {
        gangs: {
          craneKg: gangs.craneKg,
          longestMm: gangs.longestMm ?? GANG_RULES.longestMm,
          legAngleDeg: gangs.legAngleDeg ?? GANG_RULES.legAngleDeg,
          windMPerS: gangs.windMPerS ?? null,
        },
      }
    : {};

export const siteOf = (job: Job, { lengthUnit }: Catalogue): SiteOptions => {
  const { sides, access, wind } = job;
  const code = access?.code ?? (lengthUnit === 'in' ? 'us' : 'en');
  const psf = access?.loadPsf;
  return {
    code,
    aligners: sides?.aligners ?? null,
    platforms: sides?.platforms ?? null,
    windKpa: windOf(job),
    windCoefficient: wind?.coefficient ?? null,
    freeOutsideMm: access?.freeOutsideMm ?? null,
    dropMm: access?.dropMm ?? DROP_MM[code],
    platformKpa: access?.loadKpa ?? (psf === undefined ? LOAD_KPA[code] : psf * KPA_PER_PSF),
    ...gangsOf(job),
  };
};

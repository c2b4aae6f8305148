/** Pressure of fresh concrete on a wall: from the concrete and its placing to the design pressure and its envelope. */

import type { Staged } from '../ground/findings.js';
import type { PressureCase } from '../ground/vocabulary.js';
import { aciSi, aciUs } from './aciCases.js';
import { fluidCase } from './cases.js';
import { ciriaCase } from './ciria108.js';
import type { ConcreteInputs, PourShape } from './concrete.js';
import { dinCase } from './din18218.js';

/**
 * Design pressure and envelope of one pour. `pourHeightMm` is the height of fresh concrete poured at once: it chooses the formula's case and
 * caps the pressure at that of a fluid.
 *
 * Methods: `aci-347-si` and `aci-347-us` (aci.ts), `din-18218`, `ciria-108`, `hydrostatic` (unit weight times depth); each file has its formulas and
 * sources. Outside the limits of a method: full fluid pressure, the upper bound of them all, and a finding. Impossible values give no pressure and a failure.
 */
export const pressureCase = (
  concrete: ConcreteInputs,
  pourHeightMm: number,
  shape: PourShape = {},
): Staged<PressureCase> => {
  switch (concrete.method) {
    case 'aci-347-si':
      return aciSi(concrete, pourHeightMm);
    case 'aci-347-us':
      return aciUs(concrete, pourHeightMm);
    case 'din-18218':
      return dinCase(concrete, pourHeightMm);
    case 'ciria-108':
      return ciriaCase(concrete, pourHeightMm, shape);
    case 'hydrostatic':
      return fluidCase(concrete, pourHeightMm, {
        edition: 'full fluid pressure',
        chosen: 'fluid',
        why: 'the job asks for it',
        conditions: [],
        notConfirmed: [],
        findings: [],
      });
  }
};

/** What a yard asks of a pilaster that is to be formed as a wall of its own. */

import { tiesFor } from '../fit/index.js';
import type { Staged } from '../ground/findings.js';
import type { Catalogue, FacePlan, Foundation } from '../ground/vocabulary.js';
import { shape, type ThickeningRules } from '../shape/index.js';

/** No rules where the yard lacks corner units, panels with tie holes or fillers: then every pilaster is a box. */
const thickeningRules = (catalogue: Catalogue): ThickeningRules | null => {
  const legs = catalogue.units.flatMap((u) => (u.kind === 'inside-corner' && u.legsMm ? [u.legsMm[0]] : []));
  const panels = catalogue.units.filter((u) => u.kind === 'panel' && u.holes.length > 0).map((u) => u.widthMm);
  const fillers = catalogue.units.filter((u) => u.kind === 'filler').map((u) => u.widthMm);
  if (legs.length === 0 || panels.length === 0 || fillers.length === 0) return null;
  const narrowest = Math.min(...panels);
  return {
    leastDepthMm: Math.min(...legs),
    // Near either edge of its front a tie stands in a panel with a filler.
    leastWidthMm: 2 * (narrowest + Math.max(...fillers)),
    widestBoxMm: Math.max(...panels) - 2 * catalogue.timberLeastMm,
    besideMm: 2 * Math.max(...legs) + narrowest,
    hasTie: (thicknessMm) => tiesFor(catalogue, thicknessMm).length > 0,
  };
};

/** The plan of a foundation as this yard forms it. */
export const shapeFor = (foundation: Foundation, catalogue: Catalogue): Staged<FacePlan> => {
  const thickenings = thickeningRules(catalogue);
  return shape(foundation, { gridMm: catalogue.gridMm, ...(thickenings ? { thickenings } : {}) });
};

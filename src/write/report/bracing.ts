/** Braces of the face that stands first, with their forces both ways, and platforms with their brackets. */

import { plainNumber } from '../../ground/units.js';
import type { Result } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { lengthText, utilisation } from './sizes.js';
import { table } from './table.js';

const kn = (n: number): string => plainNumber(n, 2);

export const bracingSection = ({ layout, catalogue }: Result): Markup => {
  const { braces = [], braced = [], platforms = [] } = layout;
  if (braces.length === 0 && platforms.length === 0) return lines([]);
  const gear = catalogue.lengthUnit;
  const figures = (head: string) => ({ head, figures: true });
  const braceRows = braces.map((b) => ({
    cells: [
      b.id,
      b.item,
      b.face,
      lengthText(b.stationMm, gear),
      plainNumber(b.angleDeg, 1),
      kn(b.pushKn),
      kn(b.pullKn),
      utilisation(Math.max(b.pushKn / b.mostPushKn || 0, b.pullKn / b.mostPullKn || 0), 1) ?? 'no capacity',
      kn(b.holdDownKn),
      kn(b.footUpliftKn),
      kn(b.footShearKn),
    ],
  }));
  const baseRows = braced.map((f) => ({
    cells: [f.face, f.run, kn(f.braceKnPerM), f.governs, kn(f.baseWindKnPerM), kn(f.baseLineKnPerM)],
  }));
  const floorRows = platforms.map((p) => ({
    cells: [p.id, p.item, p.face, lengthText(p.levelMm, gear), kn(p.bracketKn), kn(p.mostBracketKn)],
  }));
  return html`<section id="bracing">
<h2>Aligners, braces and platforms</h2>
<p>Aligners line the forms up and carry no concrete pressure. Braces are checked for one face that stands alone, both ways, characteristic loads against working loads; the foot of the forms is held by a kicker or a pinned sole plate. Coefficients from memory are named among the findings.</p>
${table('Braces', [{ head: 'Brace' }, { head: 'Item' }, { head: 'Face' }, figures(`Station, ${gear}`), figures('Angle'), figures('Pushed, kN'), figures('Pulled, kN'), figures('Utilisation'), figures('Hold-down, kN'), figures('Foot up, kN'), figures('Foot shear, kN')], braceRows, 'There are no braces.')}
${table('Foot of the forms, per metre', [{ head: 'Face' }, { head: 'Part' }, figures('Braces take, kN/m'), { head: 'Governs' }, figures('Foot under wind, kN/m'), figures('Foot under line load, kN/m')], baseRows, 'No face is braced.')}
${table('Platforms', [{ head: 'Platform' }, { head: 'Bracket' }, { head: 'Face' }, figures(`Floor, ${gear}`), figures('Bracket asked, kN'), figures('Bracket carries, kN')], floorRows, 'There are no platforms.')}
</section>`;
};

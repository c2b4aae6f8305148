/** Gangs: what is lifted as one, with its mass, its lift points and the force in each leg; what stays to be set one by one. */

import { plainNumber, roundTo } from '../../ground/units.js';
import type { Gang, Result } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { type GearUnit, lengthText, unitSize } from './sizes.js';
import { table } from './table.js';

const kg = (n: number): string => plainNumber(n, 0);
const kn = (n: number): string => plainNumber(roundTo(n, 2), 2);

const KEEP = [
  'A lift is planned and checked by the person appointed for lifting, before the first gang leaves the ground: crane and reach, slings, ground, wind, way.',
  'Forces are static weights: no factor for jerks, nothing for forms that stick to the concrete. Free the form before it is lifted; never pull it off with the crane.',
  'Before a lift: every clamp set, tubes fixed to every unit, nothing loose on it, lifting brackets locked. Tag lines at both ends, nobody under it.',
  'Unhook only when the gang stands on its seat and its braces hold it both ways; the second gang of a wall only when its ties are in.',
  'Clamps are not rated for units that slide along their joints: the tubes, fixed to every unit, carry them.',
];

const gangRow = (g: Gang, gear: GearUnit) => ({
  cells: [
    g.id,
    g.face,
    `${lengthText(g.fromMm, gear)} to ${lengthText(g.toMm, gear)}`,
    lengthText(g.toMm - g.fromMm, gear),
    lengthText(g.topMm - g.baseMm, gear),
    plainNumber(g.pieces.length, 0),
    plainNumber(g.ties, 0),
    kg(g.massKg),
    `${kg(g.unitsKg)} + ${kg(g.clampsKg)} + ${kg(g.alignersKg)} + ${kg(g.platformsKg)}`,
    lengthText(g.centreMm[0], gear),
    lengthText(g.centreMm[2], gear),
  ],
});

const legRow = (g: Gang, gear: GearUnit) => ({
  cells: [
    g.id,
    g.bracket ?? 'none',
    ...g.legs.flatMap((leg) => [
      lengthText(leg.stationMm, gear),
      lengthText(leg.lengthMm, gear),
      plainNumber(leg.leanDeg, 1),
      kn(leg.forceKn),
    ]),
    lengthText(g.hookMm, gear),
  ],
});

/** Units outside gangs by item. */
const restTable = ({ layout, catalogue }: Result): Markup => {
  const lifted = new Set((layout.gangs ?? []).flatMap((g) => g.pieces));
  const counts = new Map<string, number>();
  for (const { id, item } of layout.pieces)
    if (item !== null && !lifted.has(id)) counts.set(item, (counts.get(item) ?? 0) + 1);
  const rows = catalogue.units
    .filter((u) => counts.has(u.id))
    .map((u) => ({
      cells: [u.id, unitSize(u, catalogue.lengthUnit), plainNumber(counts.get(u.id)!, 0), plainNumber(u.massKg, 1)],
    }));
  return table(
    'Set one by one',
    [{ head: 'Item' }, { head: 'Size' }, { head: 'Count', figures: true }, { head: 'Each, kg', figures: true }],
    rows,
    'Every unit is lifted in a gang.',
  );
};

export const gangsSection = (result: Result): Markup => {
  const { gangs } = result.layout;
  if (!gangs) return lines([]);
  const gear = result.catalogue.lengthUnit;
  const figures = (head: string) => ({ head, figures: true });
  const legHeads = ['Left', 'Right'].flatMap((side, i) => [
    figures(`Lift point ${i + 1}, ${gear}`),
    figures(`Leg ${i + 1}, ${gear}`),
    figures(`${side === 'Left' ? 'Leg 1' : 'Leg 2'} from plumb`),
    figures(`Force ${i + 1}, kN`),
  ]);
  return html`<section id="gangs">
<h2>Gangs</h2>
<p>Panels of one face that are joined on the ground and lifted as one. They end on joints of both faces; corner units, strips and timber stay outside. Lift points sit on joints that go from foot to top, on either side of the centre of gravity; the hook stands plumb over it.</p>
${table(
  'What is lifted',
  [
    { head: 'Gang' },
    { head: 'Face' },
    { head: `Stations, ${gear}` },
    figures(`Length, ${gear}`),
    figures(`Height, ${gear}`),
    figures('Units'),
    figures('Ties'),
    figures('Mass, kg'),
    { head: 'Units + clamps + aligners + platforms, kg' },
    figures(`Centre of gravity, station, ${gear}`),
    figures(`behind the concrete, ${gear}`),
  ],
  gangs.map((g) => gangRow(g, gear)),
  'No gang can be lifted; see the findings.',
)}
${
  gangs.length > 0
    ? table(
        'Slings',
        [{ head: 'Gang' }, { head: 'Lifting bracket' }, ...legHeads, figures(`Hook over the lift points, ${gear}`)],
        gangs.map((g) => legRow(g, gear)),
        '',
      )
    : null
}
${restTable(result)}
<ul>${KEEP.map((k) => html`<li>${k}</li>`)}</ul>
</section>`;
};

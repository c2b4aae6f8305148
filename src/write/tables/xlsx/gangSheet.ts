/** What is lifted as one: sizes, mass, legs; null where nothing is. */

import type { Result } from '../../../ground/vocabulary.js';
import { count, kg, length, lengthHead } from './cells.js';
import type { Column, Row, Sheet } from './sheet.js';

export const gangsSheet = ({ layout, catalogue }: Result): Sheet | null => {
  const gangs = layout.gangs ?? [];
  if (gangs.length === 0) return null;
  const gear = catalogue.lengthUnit;
  const head = (what: string, width = 10) => lengthHead(what, { catalogue }, width);
  const columns: Column[] = [
    { head: 'Gang', width: 10 },
    { head: 'Face', width: 12 },
    head('From station'),
    head('To station'),
    head('Height'),
    { head: 'Units', width: 7 },
    { head: 'Ties', width: 7 },
    { head: 'Mass with all, kg', width: 11 },
    { head: 'Lifting bracket', width: 20 },
    head('Lift at station', 11),
    head('Other at station', 11),
    { head: 'Most in a leg, kN', width: 11 },
    { head: 'Pieces', width: 44, wraps: true },
  ];
  const rows = gangs.map((g): Row => {
    const [a, b] = g.legs;
    return {
      cells: [
        g.id,
        g.face,
        length(g.fromMm, gear),
        length(g.toMm, gear),
        length(g.topMm - g.baseMm, gear),
        count(g.pieces.length),
        count(g.ties),
        kg(g.massKg),
        g.bracket ?? 'none carries it',
        length(a.stationMm, gear),
        length(b.stationMm, gear),
        { number: Math.max(a.forceKn, b.forceKn), format: 'two' },
        g.pieces.join(', '),
      ],
    };
  });
  return {
    name: 'Gangs',
    title: 'Gangs: what is lifted as one',
    columns,
    rows,
    notes: [
      'The mass is that of units, clamps, aligners and platforms that hang on the gang. See the report for the lift.',
    ],
  };
};

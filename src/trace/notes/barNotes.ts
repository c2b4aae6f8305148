/** Reinforcement of the walls as the plan notes it, at its places: offered, not relied on. */

import { type Finding, finding } from '../../ground/findings.js';
import { comparePoints, compareText } from '../../ground/order.js';
import { plainNumber, roundTo } from '../../ground/units.js';
import type { BarNote } from '../../ground/vocabulary.js';
import { type BarReading, readBars } from './bars.js';
import { readAll } from './parts.js';
import type { PlacedText } from './places.js';
import { asWritten, placeOf, quoted } from './say.js';

const words = (b: BarNote): string =>
  [
    `bars of ${plainNumber(b.diameterMm, 2)} mm`,
    ...(b.spacingMm === null ? [] : [`every ${plainNumber(b.spacingMm, 1)} mm`]),
    ...(b.direction === null ? [] : [b.direction === 'both' ? 'both ways' : b.direction]),
    ...(b.faces === null ? [] : [b.faces === 'each' ? 'in each face' : `in the ${b.faces}`]),
  ].join(', ');

/** The notes, sorted by place, and one finding for each kind of bars. Bars of footings and slabs are told apart and not offered. */
export const placeBars = (texts: readonly PlacedText[]): { bars: BarNote[]; findings: Finding[] } => {
  const known = new Map<string, readonly BarReading[]>();
  const read = (text: string): readonly BarReading[] => {
    const readings = known.get(text) ?? readAll(text, readBars);
    known.set(text, readings);
    return readings;
  };
  const bars = texts
    .flatMap((t) =>
      read(t.text)
        .filter((r) => r.of !== 'other')
        .flatMap((r) =>
          t.at.map(
            (at): BarNote => ({
              at: { x: roundTo(at.x, 4), y: roundTo(at.y, 4) },
              text: asWritten(t.text, r.raw),
              diameterMm: r.diameterMm,
              spacingMm: r.spacingMm,
              direction: r.direction,
              faces: r.faces,
              source: t.source,
            }),
          ),
        ),
    )
    .sort(
      (p, q) =>
        comparePoints(p.at, q.at) ||
        p.diameterMm - q.diameterMm ||
        (p.spacingMm ?? 0) - (q.spacingMm ?? 0) ||
        compareText(p.direction ?? '', q.direction ?? '') ||
        compareText(p.faces ?? '', q.faces ?? '') ||
        compareText(p.text, q.text) ||
        compareText(p.source, q.source),
    );
  const groups = new Map<string, BarNote[]>();
  for (const b of bars) groups.set(words(b), [...(groups.get(words(b)) ?? []), b]);
  const findings = [...groups].map(([what, list]) => {
    const first = list[0]!;
    const places = list.length === 1 ? 'at one place' : `at ${list.length} places`;
    const message = `${quoted(first.text)} notes ${what}, ${places}; they are not used until you confirm them.`;
    return finding('trace.bars-noted', message, { at: placeOf(first.at), subject: first.source });
  });
  return { bars, findings };
};

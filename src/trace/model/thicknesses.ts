/** Walls that are not equally thick from base to top: looked at across their axis, band by band. Local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { Part } from './parts.js';
import { type Axis, onAxis, seenFrom } from './plan.js';
import { boxOfRegion, enclosed, intersection, verticesOf } from './region.js';
import { nameOf } from './said.js';
import type { StretchLevels } from './wallLevels.js';

/** Differences up to this are no ledge. */
const LEDGE_LEAST_MM = 5;
/** A top that is cut aslant is no batter: that takes up more than this share of the height. */
const BATTER_SHARE = 0.5;
/** Bands lower than this are edges: chamfers, drips. */
const BAND_LEAST_MM = 20;
/** Half the length of wall that is looked at. */
const LOOK_MM = 5;
const LOOKS = [0.5, 0.3, 0.7, 0.15, 0.85];

interface Thick {
  readonly fromMm: number;
  readonly toMm: number;
  readonly group: number;
  readonly thicknessMm: number;
}

/** The part of most of a wall's height over which its thickness changes evenly: its lowest and highest section. */
const batterOf = (thick: readonly Thick[]): readonly [Thick, Thick] | null => {
  const heightMm = thick[thick.length - 1]!.toMm - thick[0]!.fromMm;
  for (const first of thick) {
    const last = thick.filter((t) => t.group === first.group).pop()!;
    const differs = Math.abs(first.thicknessMm - last.thicknessMm) > LEDGE_LEAST_MM;
    if (differs && last.toMm - first.fromMm > BATTER_SHARE * heightMm) return [first, last];
  }
  return null;
};

/** How thick each band is at one place along the axis; bands that are missing there (openings) are none. */
const thicknessesAt = (part: Part, axis: Axis, u: number): Thick[] => {
  const { bands, footMm, headMm } = part.seen.measured;
  const half = axis.halfMm + 1;
  const ring = [
    onAxis(axis, u - LOOK_MM, -half),
    onAxis(axis, u + LOOK_MM, -half),
    onAxis(axis, u + LOOK_MM, half),
    onAxis(axis, u - LOOK_MM, half),
  ];
  const window = enclosed([ring]);
  return bands.flatMap((band): Thick[] => {
    if (band.toMm - band.fromMm < BAND_LEAST_MM || (footMm !== null && band.toMm <= footMm)) return [];
    if (headMm !== null && band.fromMm >= headMm) return [];
    const shared = intersection(band.region, window);
    if (boxOfRegion(shared) === null) return [];
    const across = verticesOf(shared).map((p) => seenFrom(axis, p).v);
    return [
      {
        fromMm: band.fromMm,
        toMm: band.toMm,
        group: band.group,
        thicknessMm: Math.max(...across) - Math.min(...across),
      },
    ];
  });
};

/** One finding for each element of a stretch whose thickness changes with the level. */
export const thicknessFindings = (all: readonly StretchLevels[]): Finding[] => {
  const said = new Set<string>();
  return all.flatMap((s) =>
    s.of.parts.flatMap((part): Finding[] => {
      const { element, bands } = part.seen.measured;
      if (bands.length < 2 || part.seen.measured.lean !== null || said.has(element.id)) return [];
      for (const share of LOOKS) {
        const u = part.fromMm + share * (part.toMm - part.fromMm);
        const thick = thicknessesAt(part, s.of.axis, u);
        if (thick.length < 2) continue;
        const least = thick.reduce((a, b) => (b.thicknessMm < a.thicknessMm ? b : a));
        const most = thick.reduce((a, b) => (b.thicknessMm > a.thicknessMm ? b : a));
        if (most.thicknessMm - least.thicknessMm <= LEDGE_LEAST_MM) continue;
        said.add(element.id);
        const mm = (n: number) => plainNumber(n, 1);
        const place = onAxis(s.of.axis, u);
        const batter = batterOf(thick);
        if (batter) {
          const [low, high] = batter;
          const sizes = `from ${plainNumber(low.thicknessMm, 0)} mm at level ${mm(low.fromMm)} to ${plainNumber(high.thicknessMm, 0)} mm at ${mm(high.toMm)}`;
          return [
            finding('trace.not-plumb', `The thickness of ${nameOf(element)} changes evenly ${sizes}.`, {
              subject: element.id,
              at: [place.x, place.y, low.fromMm],
              assumed: `upright faces, ${mm(s.of.stretch.thicknessMm)} mm apart`,
            }),
          ];
        }
        const text = `${nameOf(element)} is ${mm(most.thicknessMm)} mm thick from level ${mm(most.fromMm)} to ${mm(most.toMm)} and ${mm(least.thicknessMm)} mm from ${mm(least.fromMm)} to ${mm(least.toMm)}.`;
        return [
          finding('trace.thickness-varies', text, {
            subject: element.id,
            at: [place.x, place.y, least.fromMm],
            // What is thicker above hangs over what is thinner below.
            severity: most.fromMm >= least.toMm ? 'failure' : 'attention',
            assumed: `${mm(s.of.stretch.thicknessMm)} mm throughout`,
          }),
        ];
      }
      return [];
    }),
  );
};

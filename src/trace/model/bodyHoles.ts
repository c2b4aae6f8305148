/** Holes that bodies have themselves: openings where they go through the wall, else recesses, or small enough for the ties to keep clear of. Local mm in plan. */

import type { Vec } from '../../ground/plane.js';
import type { Prism } from '../../ground/vocabulary.js';
import type { OpeningBody } from './modelOpenings.js';
import { levelAt, type OpeningNote, type PlacedOpening, whyNot } from './openingKinds.js';
import type { Part } from './parts.js';
import { type Axis, bodyRing, onAxis } from './plan.js';
import type { Hole } from './profile.js';
import { areaOf, enclosed, intersection, type Region, union } from './region.js';
import { nameOf } from './said.js';
import { levelFrame } from './space.js';
import type { StretchLevels } from './wallLevels.js';

/** Half the length of wall that is looked at for what stands behind a hole. */
const LOOK_MM = 5;

const middleOf = (hole: Hole): number => (hole.fromMm + hole.toMm) / 2;
const levelOf = (hole: Hole): number => (hole.sillMm + hole.headMm) / 2;

/** The wall's thickness over a short length about the middle of a hole. */
const windowOf = (hole: Hole, axis: Axis): Region =>
  enclosed([bodyRing({ ...axis, from: onAxis(axis, middleOf(hole) - LOOK_MM), lengthMm: 2 * LOOK_MM })]);

/** The share of the thickness that a hole takes, half way up it: another wall of the same stretch may stand behind it. */
const shareOf = (hole: Hole, of: StretchLevels['of']): number => {
  const window = windowOf(hole, of.axis);
  const level = levelOf(hole);
  const there = of.parts.flatMap((p) =>
    p.seen.measured.bands.filter((b) => b.fromMm < level && level < b.toMm).map((b) => intersection(b.region, window)),
  );
  return 1 - areaOf(union(...there)) / areaOf(window);
};

/** A hole over the thickness of the wall, as a body in the model's axes. */
const bodyOf = (hole: Hole, axis: Axis, origin: Vec): Prism => {
  const ring = bodyRing({ ...axis, from: onAxis(axis, hole.fromMm), lengthMm: hole.toMm - hole.fromMm });
  return {
    kind: 'prism',
    frame: levelFrame(origin, hole.sillMm),
    outlines: [ring.map((p) => ({ ...p, bulge: 0 }))],
    direction: { x: 0, y: 0, z: 1 },
    depthMm: hole.headMm - hole.sillMm,
  };
};

/** Is the hole where an opening of the same element is, which is told of by itself? */
const isOpening = (hole: Hole, part: Part, axis: Axis, bodies: readonly OpeningBody[]): boolean =>
  bodies.some(
    (b) =>
      b.owner === part.seen &&
      b.baseMm < levelOf(hole) &&
      levelOf(hole) < b.topMm &&
      areaOf(intersection(b.plan, windowOf(hole, axis))) > 0,
  );

export const holesOf = (
  all: readonly StretchLevels[],
  bodies: readonly OpeningBody[],
  origin: Vec,
): (PlacedOpening | OpeningNote)[] =>
  all.flatMap((s, stretch) =>
    s.holes.flatMap(({ hole, part }): (PlacedOpening | OpeningNote)[] => {
      const { axis } = s.of;
      const { element } = part.seen.measured;
      const { fromMm, toMm, sillMm, headMm } = hole;
      const level = levelAt(s, middleOf(hole));
      const name = `A hole in the body of ${nameOf(element)}`;
      const seen = {
        widthMm: toMm - fromMm,
        baseMm: sillMm,
        topMm: headMm,
        share: shareOf(hole, s.of),
        isRecess: false,
      };
      const why = whyNot(seen, level);
      if (why !== null) {
        if (isOpening(hole, part, axis, bodies)) return [];
        const clearOf = { what: 'hole in wall', name: element.name, solids: [bodyOf(hole, axis, origin)] };
        return [{ ...why, id: element.id, name, at: onAxis(axis, middleOf(hole)), levelMm: sillMm, clearOf }];
      }
      const found = {
        from: onAxis(axis, fromMm),
        to: onAxis(axis, toMm),
        thicknessMm: s.of.stretch.thicknessMm,
        kind: 'opening' as const,
        sillMm: Math.max(sillMm, level?.baseMm ?? sillMm),
        headMm: Math.min(headMm, level?.topMm ?? headMm),
        sources: [element.id],
      };
      return [{ found, stretch, fromMm, toMm, name, isBox: hole.isBox }];
    }),
  );

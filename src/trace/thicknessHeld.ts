/** Wall thicknesses as they were found held against those that the drawing notes. */

import { type Finding, finding } from '../ground/findings.js';
import type { Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { WallStretch } from '../ground/vocabulary.js';
import { awayFrom } from './gaps.js';
import type { ThicknessNote } from './notes/thicknessNotes.js';

/** A note is about a wall this near, if one of another thickness stands elsewhere. *Practice, no source.* */
const NEAR_MM = 1000;
/** Farther from every wall a thickness may be that of something else. *Practice, no source.* */
const FAR_MM = 5000;
/** Half an inch: what is noted in round numbers and drawn to the surface of something. *Practice, no source.* */
const SAME_MM = 13;

/** Texts about other parts of a building may give their thickness in the words of a wall's. Common words, no source. */
const OTHER_PART =
  /slab|raft|screed|blinding|insul|membrane|footing|platte|decke|estrich|d[äa]mm|sauberkeit|fundament|dalle|radier|chape|isol|semelle|losa|zapata|solera|laje|sapata|solaio|platea|vloer|poer/i;

const awayOf = (p: Vec, { start, end, thicknessMm }: WallStretch): number =>
  awayFrom(p, { from: start, to: end, thicknessMm });

/**
 * A failure for each note of a thickness that no wall near it has: the forms would stand in the wrong place; for a note away from all walls, a question. Only notes that say that they are a
 * thickness count. The walls within NEAR_MM are asked, and where there is none the nearest one, unless another wall of the plan has that thickness.
 */
export const thicknessAgainstNotes = (stretches: readonly WallStretch[], notes: readonly ThicknessNote[]): Finding[] =>
  notes
    .filter((n) => n.sure && !OTHER_PART.test(n.text.replace(/ledge|auflager/gi, '')))
    .flatMap((n) => {
      const nearest = [...stretches].sort((p, q) => awayOf(n.at, p) - awayOf(n.at, q))[0];
      if (!nearest || awayOf(n.at, nearest) > FAR_MM) return [];
      const beside = stretches.filter((s) => awayOf(n.at, s) <= NEAR_MM);
      const asked = beside.length > 0 ? beside : stretches;
      const fits = (s: WallStretch) => [n.thicknessMm, ...n.orMm].some((mm) => Math.abs(mm - s.thicknessMm) <= SAME_MM);
      if (asked.some(fits)) return [];
      const text = `"${n.text}" notes a wall of ${plainNumber(n.thicknessMm, 1)} mm; the wall drawn beside it is ${plainNumber(nearest.thicknessMm, 1)} mm thick.`;
      return [
        finding('trace.thickness-contradicted', text, {
          at: [n.at.x, n.at.y, 0],
          subject: n.source,
          assumed: 'the lines are right',
          severity: beside.length > 0 ? 'failure' : 'attention',
        }),
      ];
    });

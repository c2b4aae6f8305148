/** Polylines with width: which of them are walls of that thickness on their axis, and which are only drawn with a heavy pen. */

import { byNumber, byText, inOrder } from '../../ground/order.js';
import { distance } from '../../ground/plane.js';
import { roundTo } from '../../ground/units.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { USUAL_MOST_MM } from '../limits.js';
import type { LocalFrame } from '../segments.js';
import { isWallThickness } from '../strips.js';
import { partnerShare } from './partners.js';
import { partsOf, sortedParts, type TraceArea } from './parts.js';

export interface WidthGroup {
  readonly widthMm: number;
  readonly layer: string;
  readonly paths: readonly DrawingPath[];
  readonly lengthMm: number;
  /** Most of their length runs beside another at the distance of two wall faces. */
  readonly paired: boolean;
  readonly isWall: boolean;
}

/** Lines of one width that run beside each other over more than this share of their length are faces drawn with a heavy pen. */
const PARTNERED_SHARE = 0.5;
/** Widths nearer than this are one width. */
const WIDTH_STEP_MM = 0.1;

/** Groups of paths of one width and layer, by layer, then width. */
export const widthGroups = (paths: readonly DrawingPath[], frame: LocalFrame, area: TraceArea): WidthGroup[] => {
  const groups = new Map<string, DrawingPath[]>();
  for (const path of paths) {
    if (!(path.width > 0) || path.fill !== null) continue;
    const key = `${path.layer}\n${Math.round((path.width * frame.mmPer) / WIDTH_STEP_MM)}`;
    groups.set(key, [...(groups.get(key) ?? []), path]);
  }
  return [...groups.values()]
    .map((list): WidthGroup => {
      const widthMm = roundTo(Math.min(...list.map((p) => p.width)) * frame.mmPer, 4);
      const straight = sortedParts(partsOf(list, frame, area).straight);
      const lengthMm = straight.reduce((sum, s) => sum + distance(s.a, s.b), 0);
      const paired = partnerShare(straight, USUAL_MOST_MM) > PARTNERED_SHARE;
      const isWall = isWallThickness(widthMm) && !paired;
      return { widthMm, layer: list[0]!.layer, paths: list, lengthMm, paired, isWall };
    })
    .sort(
      inOrder<WidthGroup>(
        byText((g) => g.layer),
        byNumber((g) => g.widthMm),
      ),
    );
};

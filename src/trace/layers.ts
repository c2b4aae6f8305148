/** What a layer's name says, and whether it is seen; the words and forms are in names/. */

import type { Drawing, TraceOptions } from '../ground/vocabulary.js';
import { matchesPattern } from './names/patterns.js';
import { type LayerKind, readName } from './names/reading.js';

export { matchesPattern } from './names/patterns.js';
export { isThing, type LayerKind, type NameReading, readName, WALL_KINDS } from './names/reading.js';
export { nameWords, withoutXref } from './names/split.js';

/** Layers that are off or frozen. One that the table does not list is visible. */
export const hiddenLayers = (drawing: Pick<Drawing, 'layers'>): ReadonlySet<string> =>
  new Set(drawing.layers.filter((l) => !l.visible).map((l) => l.name));

export const layerKind = (name: string): LayerKind => readName(name).kind;

/**
 * What each layer holds as the job file and the names say it: layers that the job file names for walls or centre lines are 'foundation-wall',
 * those that it leaves out 'other'; where it names wall layers, so are all the rest.
 */
export const layerKinds = (
  options: Pick<TraceOptions, 'wallLayers' | 'ignoreLayers' | 'centreLineLayers'>,
): ((layer: string) => LayerKind) => {
  const known = new Map<string, LayerKind>();
  const judge = (layer: string): LayerKind => {
    const among = (patterns: readonly string[]) => patterns.some((p) => matchesPattern(p, layer));
    if (among(options.ignoreLayers)) return 'other';
    if (among(options.centreLineLayers) || among(options.wallLayers)) return 'foundation-wall';
    return options.wallLayers.length > 0 ? 'other' : layerKind(layer);
  };
  return (layer) => {
    let kind = known.get(layer);
    if (kind === undefined) {
      kind = judge(layer);
      known.set(layer, kind);
    }
    return kind;
  };
};

/** What a layer's name says; the words and forms are in names/. */

import { type LayerKind, readName } from './names/reading.js';

export { matchesPattern } from './names/patterns.js';
export { type LayerKind, type NameReading, readName, WALL_KINDS } from './names/reading.js';
export { nameWords, withoutXref } from './names/split.js';

export const layerKind = (name: string): LayerKind => readName(name).kind;

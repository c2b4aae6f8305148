/**
 * DXF as it lies in the file: group-code pairs in, the same pairs out. Reading, writing and re-checking stand on this layer.
 * Bytes ↔ tags (parseTags, serializeTags), values ↔ text and numbers (decodeText, encodeText, numberOf …), and records over the tags (structureOf …).
 */

export { beyondAscii, decodeText, encodeText } from './tags/coding.js';
export { plainMText, plainText } from './tags/escapes.js';
export { parseTags, TAG_LIMITS, type TagLimits } from './tags/parse.js';
export {
  firstTag,
  handleOf,
  headerRange,
  highestHandle,
  nameOf,
  ownEnd,
  placeOf,
  sections,
  structureOf,
  type TagBlock,
  type TagRecord,
  type TagSection,
  type TagStructure,
  type TagTable,
  xdataOf,
} from './tags/records.js';
export { serializeTags } from './tags/serialize.js';
export { APPLICATION_ID, BLOCK_PREFIX, type Tag, type TagDocument, type TextCoding } from './tags/types.js';
export { integerOf, numberOf, restated, shortest, type ValueKind, valueKind } from './tags/values.js';

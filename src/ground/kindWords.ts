/** Kinds of gear in words, for lists and tables. */

import type { ScheduleRow } from './vocabulary.js';

export const KIND_WORDS: Readonly<Record<ScheduleRow['kind'], string>> = {
  panel: 'panel',
  filler: 'steel filler',
  'inside-corner': 'inside corner',
  'outside-corner': 'outside corner',
  'hinged-corner': 'hinged corner',
  timber: 'timber',
  strip: 'stripping strip',
  bulkhead: 'bulkhead',
  'box-out': 'box-out',
  tie: 'tie',
  lock: 'lock of ties',
  clamp: 'clamp',
  aligner: 'aligner',
  fixing: 'clamp of an aligner',
  brace: 'brace',
  bracket: 'bracket',
  plank: 'plank',
  rail: 'rail or toe board',
  'lifting-bracket': 'lifting bracket',
};

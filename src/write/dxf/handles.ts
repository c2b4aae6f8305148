/** Handles for what is added: above every handle of the drawing, or the free ones from below where there is no room above. */

import { handleOf, highestHandle, type TagDocument } from '../../ground/tags.js';

/** Highest handle that may be given: handles are 64 bits wide (DXF reference, group 5), and the seed stands one above. */
const MOST = 0xffff_ffff_ffff_fffen;
/** More than any sheet of ours takes. */
const ROOM = 1n << 32n;

const hex = (n: bigint): string => n.toString(16).toUpperCase();

export interface Handles {
  /** The next handle; null where the drawing needs none. */
  readonly next: () => string | null;
  /** What $HANDSEED must be; null where the drawing has no handles. */
  readonly seed: () => string | null;
}

/**
 * Handles for a drawing. R12 needs none: there ours get some only if the drawing has any. The start rests on the records alone, not on
 * $HANDSEED, so that a drawing from which an earlier layout was taken out gets the same handles again.
 */
export const makeHandles = (document: TagDocument): Handles => {
  const highest = highestHandle(document);
  if (document.version <= 'AC1009' && highest === 0n) return { next: () => null, seed: () => null };
  let last = highest;
  let taken: Set<string | null> | null = null;
  if (highest > MOST - ROOM) {
    taken = new Set(document.tags.filter((t) => t.code === 5 || t.code === 105).map((t) => handleOf(t.value)));
    last = 0n;
  }
  return {
    next: () => {
      do last += 1n;
      while (taken?.has(hex(last)));
      return hex(last);
    },
    seed: () => {
      if (last < highest) return hex(highest >= MOST ? MOST : highest + 1n);
      return hex(last + 1n);
    },
  };
};

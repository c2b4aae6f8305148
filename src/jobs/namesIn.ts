/**
 * The ids in a folder that may hold many, in order, read again only where the folder has changed. That is told by the folder's own time, whose steps may be
 * coarse: a list counts as lasting only where it was read well after that time was first seen, so that no change can hide within one step.
 */

import { readdir, stat } from 'node:fs/promises';
import { ID } from './idForm.js';

/** Longer than the steps of any file system's time, ms; those of FAT are two seconds. */
const STEP_MS = 2_500;

export class NamesIn {
  readonly #folder: string;
  #time = '';
  /** Since when the folder has been seen to have this time, and when its names were read, by a clock that only goes on. */
  #seenAt = 0;
  #readAt = 0;
  #ids: readonly string[] = [];

  constructor(folder: string) {
    this.#folder = folder;
  }

  async ids(): Promise<readonly string[]> {
    const { mtimeNs, ino } = await stat(this.#folder, { bigint: true });
    const time = `${mtimeNs} ${ino}`;
    const now = performance.now();
    if (time === this.#time && this.#readAt - this.#seenAt > STEP_MS) return this.#ids;
    const ids = (await readdir(this.#folder)).filter((name) => ID.test(name)).sort();
    if (time !== this.#time) this.#seenAt = now;
    this.#time = time;
    this.#readAt = now;
    this.#ids = ids;
    return ids;
  }
}

/** Of ids in order the last ones, `most` of them, that come before one. */
export const lastBefore = (ids: readonly string[], before: string | undefined, most: number): readonly string[] => {
  let low = 0;
  let high = ids.length;
  while (before !== undefined && low < high) {
    const middle = (low + high) >> 1;
    if (ids[middle]! < before) low = middle + 1;
    else high = middle;
  }
  return ids.slice(Math.max(0, high - most), high);
};

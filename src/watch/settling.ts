/** Which dropped files are whole: those that have not changed for a while, since nothing tells when a copy over a network has ended. */

import type { Stats } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { ifThere } from '../jobs/durable.js';
import { sidecarOf } from '../jobs/files.js';
import { stemOf } from '../pipeline/callers.js';

/** Size and time of a file and of the job file beside it: what changes while it is copied. */
export type Look = string;

const lookOf = (drawing: Stats, sidecar: Stats | null): Look =>
  [drawing, sidecar].map((s) => (s ? `${s.size} ${s.mtimeMs} ${s.ino}` : '-')).join(' ');

/** A drawing with the job file beside it, as they are now; null where it is not there. */
export const lookAt = async (path: string): Promise<{ look: Look; sidecar: string | null } | 'not a file' | null> => {
  const facts = await ifThere(stat(path));
  if (!facts?.isFile()) return facts && 'not a file';
  const sidecar = await sidecarOf(path, stemOf(basename(path)));
  return { look: lookOf(facts, sidecar === null ? null : await ifThere(stat(sidecar))), sidecar };
};

export class Settling {
  readonly #settleMs: number;
  readonly #seen = new Map<string, { look: Look; sinceMs: number }>();

  constructor(settleMs: number) {
    this.#settleMs = settleMs;
  }

  /** Whether a file with this look has had it long enough at `nowMs`, a clock that only goes on. */
  isSettled(name: string, look: Look, nowMs: number): boolean {
    const seen = this.#seen.get(name);
    if (!seen || seen.look !== look) {
      this.#seen.set(name, { look, sinceMs: nowMs });
      return false;
    }
    return nowMs - seen.sinceMs >= this.#settleMs;
  }

  /** Forgets files that are not there any more. */
  keepOnly(names: ReadonlySet<string>): void {
    for (const name of this.#seen.keys()) if (!names.has(name)) this.#seen.delete(name);
  }
}

/** The mark of the one program that watches a folder. */

import { mkdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { ifThere } from '../jobs/durable.js';
import { isAbandoned, own, renew, timeThere } from '../jobs/owner.js';
import { beginPulse } from '../jobs/pulse.js';
import { Refusal } from '../jobs/refusal.js';

/** Between signs of life, ms: a small part of the time after which an owner is taken to be gone. */
const RENEW_MS = 3_000;

export interface LockOf {
  /** The folder that is the mark. */
  readonly path: string;
  /** A folder on the same file system that can be written. */
  readonly beside: string;
  /** Another program has it now: this one must hand over nothing more. */
  readonly lost: () => void;
  readonly said: (level: 'info' | 'warn', words: string) => void;
}

export class Lock {
  readonly #of: LockOf;
  #timer: NodeJS.Timeout | null = null;
  #endPulse: () => void = () => undefined;
  #isLost = false;

  private constructor(of: LockOf) {
    this.#of = of;
  }

  /**
   * A mark that its owner left behind is taken over: at once where he is known to have ended, else when there was no sign of life for long enough, which is
   * waited for. A Refusal where another program watches.
   */
  static async take(of: LockOf): Promise<Lock> {
    const lock = new Lock(of);
    const isMade = await mkdir(of.path).then(
      () => true,
      (error: NodeJS.ErrnoException) => {
        if (error.code === 'EEXIST') return false;
        throw new Refusal(`${of.path} cannot be made (${error.code}).`);
      },
    );
    if (!isMade) await lock.#abandoned();
    await lock.#begin();
    return lock;
  }

  async #abandoned(): Promise<void> {
    const { path, beside, said } = this.#of;
    const timeOf = async () => (await ifThere(stat(join(path, 'owner.json'))))?.mtimeMs ?? 0;
    const before = await timeOf();
    for (let isFirst = true; !(await isAbandoned(path, await timeThere(beside))); isFirst = false) {
      if ((await timeOf()) !== before) throw new Refusal(`Another program watches this folder already (${path}).`);
      if (isFirst) said('info', 'another program watched this folder; waiting to see whether it still does');
      await pause(500);
    }
  }

  async #begin(): Promise<void> {
    await mkdir(this.#of.path, { recursive: true });
    await own(this.#of.path);
    this.#endPulse = await beginPulse(this.#of.path);
    this.#timer ??= setInterval(() => void this.check().catch(() => undefined), RENEW_MS);
  }

  /** Gives a sign of life; false where another program has the mark. One that somebody took away is made again. */
  async check(): Promise<boolean> {
    if (this.#isLost) return false;
    const { path, lost, said } = this.#of;
    if (await renew(path)) return true;
    if ((await ifThere(stat(join(path, 'owner.json')))) === null) {
      said('warn', 'the mark of who watches was gone, and is made again');
      this.#endPulse();
      await this.#begin();
      return true;
    }
    // Written by another: this program slept, or was cut off, for so long that it was taken to have ended.
    this.#isLost = true;
    if (this.#timer) clearInterval(this.#timer);
    said('warn', 'another program has taken over this folder; this one ends');
    lost();
    return false;
  }

  async end(): Promise<void> {
    if (this.#timer) clearInterval(this.#timer);
    this.#endPulse();
    if (!this.#isLost) await rm(this.#of.path, { recursive: true, force: true });
  }
}

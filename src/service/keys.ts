/**
 * API keys. A key is 32 bytes of chance, so the file holds a plain SHA-256 of it: nothing that can be guessed stands behind it, and a slow hash would only
 * let callers keep the service busy. One line each: `name:sha256:HEX`; blank lines and lines that begin with # are passed over.
 */

import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { Refusal } from '../jobs/refusal.js';
import type { ServiceLog } from './log.js';

const NAME = /^[\w.@-]{1,64}$/;
const LINE = /^([\w.@-]{1,64}):sha256:([0-9a-f]{64})$/;
const PREFIX = 'sw_';

const hashOf = (key: string): Buffer => createHash('sha256').update(key).digest();

/** A new key, and its line for the file. */
export const newKey = (name: string): { readonly key: string; readonly line: string } => {
  if (!NAME.test(name)) throw new Refusal(`'${name}' is no name of a key: up to 64 letters, digits, . _ @ and -.`);
  const key = PREFIX + randomBytes(32).toString('base64url');
  return { key, line: `${name}:sha256:${hashOf(key).toString('hex')}` };
};

/** A line of the file. */
export interface KeyOwner {
  readonly name: string;
  readonly hash: Buffer;
}

const parsed = (path: string, text: string): KeyOwner[] => {
  const entries: KeyOwner[] = [];
  for (const [i, raw] of text.split('\n').entries()) {
    const line = raw.trim();
    if (line === '' || line.startsWith('#')) continue;
    const [, name, hex] = LINE.exec(line) ?? [];
    if (!name || !hex) throw new Refusal(`Line ${i + 1} of ${path} is no key: name:sha256: and 64 hex digits.`);
    if (entries.some((e) => e.name === name)) throw new Refusal(`${path} has the key '${name}' twice.`);
    entries.push({ name, hash: Buffer.from(hex, 'hex') });
  }
  if (entries.length === 0)
    throw new Refusal(`${path} holds no key; make one with: shutterwright serve --new-key NAME`);
  return entries;
};

/** Between looks at the file, ms: how long a key that was taken out is still good. */
const LOOK_MS = 2_000;

export class Keys {
  readonly #path: string;
  readonly #log: ServiceLog;
  #entries: readonly KeyOwner[];
  #stamp: string;
  #looked = performance.now();

  private constructor(path: string, log: ServiceLog, entries: readonly KeyOwner[], stamp: string) {
    this.#path = path;
    this.#log = log;
    this.#entries = entries;
    this.#stamp = stamp;
  }

  /** A Refusal where the file cannot be read or a line of it is no key. */
  static async from(path: string, log: ServiceLog): Promise<Keys> {
    try {
      const stamp = await stampOf(path);
      return new Keys(path, log, parsed(path, await readFile(path, 'utf8')), stamp);
    } catch (error) {
      if (error instanceof Refusal) throw error;
      throw new Refusal(`The file of keys ${path} cannot be read (${(error as NodeJS.ErrnoException).code}).`);
    }
  }

  /** Whose key it is; null where it is nobody's. Every key of the file is compared, whichever it is. */
  async ownerOf(key: string): Promise<KeyOwner | null> {
    await this.#look();
    const hash = hashOf(key);
    let owner: KeyOwner | null = null;
    for (const entry of this.#entries) if (timingSafeEqual(entry.hash, hash)) owner = entry;
    return owner;
  }

  /** Whether a key is still good: not one of the same name that was given in its place. */
  async has({ name, hash }: KeyOwner): Promise<boolean> {
    await this.#look();
    return this.#entries.some((e) => e.name === name && timingSafeEqual(e.hash, hash));
  }

  /** Reads the file again where it was changed; one that is wrong now leaves the keys as they were. */
  async #look(): Promise<void> {
    if (performance.now() - this.#looked < LOOK_MS) return;
    this.#looked = performance.now();
    try {
      const stamp = await stampOf(this.#path);
      if (stamp === this.#stamp) return;
      this.#entries = parsed(this.#path, await readFile(this.#path, 'utf8'));
      this.#stamp = stamp;
      this.#log('info', 'the keys were read again', { keys: this.#entries.length });
    } catch (error) {
      this.#log('error', 'the keys cannot be read again and stay as they were', { error: String(error) });
    }
  }
}

const stampOf = async (path: string): Promise<string> => {
  const { mtimeMs, size, ino } = await stat(path);
  return `${mtimeMs} ${size} ${ino}`;
};

/**
 * The files of jobs, in a folder that all programs on one database share:
 * ```
 * store-id             whose files these are
 * files/ID             drawing, settings.json
 * files/ID/CLAIM       outcome.json, files/0, files/1 …
 * ```
 * A worker writes into the folder of its claim alone, and the database says which claim counts: what a lost one has written harms nothing.
 */

import { mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { ifThere, replaceFile, syncFolder } from '../durable.js';
import { openResult, readInput, readOutcome, readResult, writeInput, writeOutcome } from '../kept.js';
import type { JobInput, JobOutcome } from '../messages.js';
import { timeThere } from '../owner.js';
import type { JobRecord, KeptFile, KeptOutcome } from '../record.js';

/** What no job is known of, ms after it was last touched. */
const ASTRAY_MS = 3_600_000;

const SWEPT_AT_ONCE = 500;

export class JobFiles {
  readonly #root: string;

  constructor(dataDir: string) {
    this.#root = dataDir;
  }

  #of(id: string, ...names: string[]): string {
    return join(this.#root, 'files', id, ...names);
  }

  async idOfStore(): Promise<string | null> {
    return (await ifThere(readFile(join(this.#root, 'store-id'), 'utf8')))?.trim() ?? null;
  }

  async giveId(id: string): Promise<void> {
    await mkdir(join(this.#root, 'files'), { recursive: true });
    await replaceFile(join(this.#root, 'store-id'), `${id}\n`);
  }

  async keepInput(id: string, input: JobInput): Promise<void> {
    await mkdir(this.#of(id));
    await writeInput(this.#of(id), input);
    await syncFolder(join(this.#root, 'files'));
  }

  inputOf(id: string): Promise<JobInput | null> {
    return readInput(this.#of(id));
  }

  async keepOutcome(id: string, claim: string, outcome: JobOutcome): Promise<KeptFile[]> {
    const folder = this.#of(id, claim);
    await mkdir(folder, { recursive: true });
    const files = await writeOutcome(folder, outcome);
    await syncFolder(this.#of(id));
    return files;
  }

  outcomeOf(id: string, claim: string): Promise<KeptOutcome | null> {
    return readOutcome(this.#of(id, claim));
  }

  resultOf(record: JobRecord, claim: string, name: string): Promise<Uint8Array | null> {
    return readResult(this.#of(record.id, claim), record, name);
  }

  openResultOf(record: JobRecord, claim: string, name: string): Promise<Readable | null> {
    return openResult(this.#of(record.id, claim), record, name);
  }

  dropClaim(id: string, claim: string): Promise<void> {
    return rm(this.#of(id, claim), { recursive: true, force: true });
  }

  drop(id: string): Promise<void> {
    return rm(this.#of(id), { recursive: true, force: true });
  }

  /** Forgets files that no job is known of: of programs that ended before they could say whose they are. */
  async sweep(isKnown: (ids: readonly string[]) => Promise<ReadonlySet<string>>): Promise<void> {
    const now = await timeThere(join(this.#root, 'files'));
    const ids = await readdir(join(this.#root, 'files'));
    while (ids.length > 0) {
      const old: string[] = [];
      for (const id of ids.splice(-SWEPT_AT_ONCE)) {
        const facts = await ifThere(stat(this.#of(id)));
        if (facts && now - facts.mtimeMs > ASTRAY_MS) old.push(id);
      }
      const known = old.length === 0 ? new Set() : await isKnown(old);
      for (const id of old) if (!known.has(id)) await this.drop(id);
    }
  }
}

/**
 * Which job is next: the part that pg-boss does. It keeps jobs that wait in order and hands each to one worker, however many ask at once. Whose worker is
 * gone is not known to it but by a fixed time, so its own supervision is off, and the store tells it which jobs go back.
 */

import PgBoss, { type Db } from 'pg-boss';
import { sha256Of } from '../index.js';
import { QUEUE_SCHEMA } from './schema.js';

const QUEUE = 'layout';

/** Never the queue's own reason to give a job up: how often one may be begun is for the runner to say. */
const RETRY_LIMIT = 1_000_000;

/** pg-boss calls its entries by UUIDs. */
const placeOf = (id: string): string =>
  sha256Of(new TextEncoder().encode(id)).replace(/^(.{8})(.{4})(.{4})(.{4})(.{12}).*$/, '$1-$2-$3-$4-$5');

export class Queue {
  readonly #boss: PgBoss;

  constructor(ask: Db['executeSql']) {
    this.#boss = new PgBoss({ db: { executeSql: ask }, schema: QUEUE_SCHEMA, supervise: false, schedule: false });
    // Without anyone who listens an error would end the program; what was asked for rejects by itself.
    this.#boss.on('error', () => undefined);
  }

  /** Makes the queue's own tables. */
  async open(): Promise<void> {
    await this.#boss.start();
    await this.#boss.createQueue(QUEUE);
  }

  async put(id: string, db: Db): Promise<void> {
    await this.#boss.send(QUEUE, { id }, { id: placeOf(id), db, retryLimit: RETRY_LIMIT, retryDelay: 0 });
  }

  /** The id of the job that has waited longest; null where none waits. */
  async next(db: Db): Promise<string | null> {
    // Whether its time has come is not asked: the clock of a database may be set back.
    const [entry] = await this.#boss.fetch<{ id: string }>(QUEUE, {
      db,
      batchSize: 1,
      ignoreStartAfter: true,
    } as PgBoss.FetchOptions);
    return entry?.data.id ?? null;
  }

  /** A job that was handed out goes back, to the place that it had. */
  async putBack(id: string, db: Db): Promise<void> {
    await this.#boss.fail(QUEUE, placeOf(id), {}, { db });
  }

  async drop(id: string, db: Db): Promise<void> {
    await this.#boss.deleteJob(QUEUE, placeOf(id), { db });
  }

  close(): Promise<void> {
    return this.#boss.stop({ graceful: false });
  }
}

/**
 * Jobs in PostgreSQL, for any number of programs on any number of machines that share a folder for the files. The row of a job is what counts; pg-boss says
 * which is next (`queue.ts`); drawings and results stand in the folder (`files.ts`).
 *
 * Times are those of the database alone, so that clocks of several machines need not agree.
 */

import { randomBytes, randomUUID } from 'node:crypto';
import type { Db } from 'pg-boss';
import type { StageName } from '../../pipeline/index.js';
import { ID } from '../idForm.js';
import { endedRecord, GONE, isSettled, knownOrNew } from '../kept.js';
import { isKnownGone, LEASE_S, ME, type Owner } from '../owner.js';
import type { Claim, JobRecord, JobState, JobStore } from '../record.js';
import { Refusal } from '../refusal.js';
import { Database } from './database.js';
import { JobFiles } from './files.js';
import { Queue } from './queue.js';
import { migrate, oneByOne, SCHEMA } from './schema.js';

const JOB = `${SCHEMA}.job`;

/** A row as it is read; see `schema.ts`. */
interface Row {
  readonly id: string;
  readonly state: JobState;
  readonly attempts: number;
  readonly stage: StageName | null;
  readonly record: string;
  readonly claim: string | null;
}
const COLUMNS = 'id, state, attempts, stage, record, claim';

const recordOf = ({ state, attempts, stage, record }: Row): JobRecord => {
  const kept: JobRecord = { ...(JSON.parse(record) as JobRecord), state, attempts, stage };
  return state === 'waiting' ? { ...kept, startedAt: null } : kept;
};

/** Claims that this process holds. One of its own that is not among them was lost on the way to it, when the connection was. */
const held = new Set<string>();

class PostgresStore implements JobStore {
  readonly #database: Database;
  #queue: Queue;
  readonly #files: JobFiles;
  readonly #version: string;
  #sweeping: Promise<void> = Promise.resolve();
  #id = '';
  /** Claims of which there was no sign of life for too long at the last look. */
  #stale: ReadonlySet<string> = new Set();

  constructor(dataDir: string, version: string, databaseUrl: string) {
    this.#database = new Database(databaseUrl);
    this.#queue = new Queue(this.#database.ask);
    this.#files = new JobFiles(dataDir);
    this.#version = version;
  }

  async open(): Promise<void> {
    await this.#database.opened(() =>
      oneByOne(this.#database.pool, async (client) => {
        await migrate(client);
        // One that could not be opened cannot be opened again.
        this.#queue = new Queue(this.#database.ask);
        await this.#queue.open();
        this.#id = await this.#sameStore();
      }),
    );
    // Beside the work: it looks at every job that is kept. What fails is swept when a program begins next.
    this.#sweeping = this.#files
      .sweep(async (ids) => new Set((await this.#rows('where id = any($1)', [ids])).map((row) => row.id)))
      .catch(() => undefined);
  }

  /** The id that database and folder have in common. A Refusal where they do not belong together: jobs would be without their files. */
  async #sameStore(): Promise<string> {
    const ask = this.#database.ask;
    await ask(`insert into ${SCHEMA}.store (id) select $1 where not exists (select from ${SCHEMA}.store)`, [
      randomUUID(),
    ]);
    const { rows } = await ask(`select id, in_folder from ${SCHEMA}.store`, []);
    const { id, in_folder: isInFolder } = rows[0] as { id: string; in_folder: boolean };
    const there = await this.#files.idOfStore();
    if (there !== id) {
      if (there !== null || isInFolder)
        throw new Refusal(
          'The data folder does not belong to this database (store-id): all programs on one database share one folder, and a new database needs a new one.',
        );
      await this.#files.giveId(id);
    }
    await ask(`update ${SCHEMA}.store set in_folder = true where not in_folder`, []);
    return id;
  }

  async #rows(condition: string, values: unknown[], ask = this.#database.ask): Promise<Row[]> {
    return (await ask(`select ${COLUMNS} from ${JOB} ${condition}`, values)).rows as Row[];
  }

  async #row(id: string): Promise<Row | null> {
    return ID.test(id) ? ((await this.#rows('where id = $1', [id]))[0] ?? null) : null;
  }

  async #holderOf(key: string, ask = this.#database.ask): Promise<JobRecord | null> {
    const [row] = await this.#rows('where key = $1 and holds_key', [key], ask);
    return row ? recordOf(row) : null;
  }

  readonly submit: JobStore['submit'] = async (submission) => {
    const begun = await knownOrNew(submission, this.#version, (key) => this.#holderOf(key));
    if (!begun.isNew) return begun;
    const { record } = begun;
    const { id } = record;
    await this.#files.keepInput(id, submission.input);
    for (;;) {
      const first = await this.#put(record);
      if (first === null) continue;
      if (first.id !== id) await this.#files.drop(id);
      return { record: first, isNew: first.id === id };
    }
  };

  /** The job that has the key then; null where the one that had it is forgotten meanwhile. */
  async #put(record: JobRecord): Promise<JobRecord | null> {
    try {
      return await this.#database.whole(async (db) => {
        const { rows } = await db.executeSql(
          `insert into ${JOB} (id, state, key, record) values ($1, 'waiting', $2, $3)
           on conflict (key) where holds_key do nothing returning id`,
          [record.id, record.key, JSON.stringify(record)],
        );
        if (rows.length === 0) return this.#holderOf(record.key, db.executeSql);
        await this.#queue.put(record.id, db);
        return record;
      });
    } catch (error) {
      // It may have come to stand all the same, when the answer was lost. Where that cannot be asked its files stay.
      if (await this.#row(record.id)) return record;
      await this.#files.drop(record.id);
      throw error;
    }
  }

  readonly claim: JobStore['claim'] = async () => {
    const claim = randomBytes(12).toString('hex');
    held.add(claim);
    try {
      const taken = await this.#database.whole((db) => this.#taken(claim, db));
      if (!taken) held.delete(claim);
      return taken && (await this.#handOut(claim, taken));
    } catch (error) {
      held.delete(claim);
      throw error;
    }
  };

  async #taken(claim: string, db: Db): Promise<JobRecord | null> {
    for (;;) {
      const id = await this.#queue.next(db);
      if (id === null) return null;
      const [row] = await this.#rows("where id = $1 and state = 'waiting' for update", [id], db.executeSql);
      if (!row) {
        // Cancelled while it waited.
        await this.#queue.drop(id, db);
        continue;
      }
      const record: JobRecord = {
        ...recordOf(row),
        state: 'running',
        startedAt: new Date().toISOString(),
        attempts: row.attempts + 1,
      };
      await db.executeSql(
        `update ${JOB} set state = 'running', attempts = $2, record = $3, claim = $4, owner = $5, beat_at = clock_timestamp()
         where id = $1`,
        [id, record.attempts, JSON.stringify(record), claim, JSON.stringify(ME)],
      );
      return record;
    }
  }

  async #handOut(claim: string, record: JobRecord): Promise<Claim | null> {
    const { id } = record;
    const input = await this.#files.inputOf(id).catch((error: unknown) => error as Error);
    if (input instanceof Error || input === null) {
      const isFolderThere = (await this.#files.idOfStore().catch(() => null)) === this.#id;
      if (input === null && isFolderThere) {
        await this.#finish(claim, record, GONE);
        return null;
      }
      await this.#release(claim, id);
      throw input ?? new Error('the folder of the jobs’ files is not there');
    }
    return {
      record,
      input,
      beat: (stage) => this.#beat(claim, id, stage),
      finish: (outcome) => this.#finish(claim, record, outcome),
      release: () => this.#release(claim, id),
    };
  }

  async #beat(claim: string, id: string, stage: StageName | null): Promise<'held' | 'lost' | 'cancelled'> {
    const { rows } = await this.#database.ask(
      `update ${JOB} set beat_at = clock_timestamp(), stage = $3 where id = $1 and claim = $2 and state = 'running' returning cancel`,
      [id, claim, stage],
    );
    const row = rows[0] as { cancel: boolean } | undefined;
    if (!row) held.delete(claim);
    return row === undefined ? 'lost' : row.cancel ? 'cancelled' : 'held';
  }

  async #finish(claim: string, before: JobRecord, outcome: Parameters<Claim['finish']>[0]): Promise<boolean> {
    const { id } = before;
    const files = outcome === 'cancelled' ? [] : await this.#files.keepOutcome(id, claim, outcome);
    const record = endedRecord(before, outcome, files);
    const isKept = await this.#database.whole(async (db) => {
      const { rows } = await db.executeSql(
        `update ${JOB} set state = $3, holds_key = $4, record = $5, stage = null
         where id = $1 and claim = $2 and state = 'running' returning id`,
        [id, claim, record.state, isSettled(outcome), JSON.stringify(record)],
      );
      if (rows.length > 0) await this.#queue.drop(id, db);
      // Of an earlier try whose answer was lost.
      else return (await this.#rows('where id = $1 and claim = $2', [id, claim], db.executeSql)).length > 0;
      return true;
    });
    held.delete(claim);
    if (!isKept) await this.#files.dropClaim(id, claim);
    return isKept;
  }

  async #release(claim: string, id: string): Promise<void> {
    // The worker is done with it, also where the database cannot be told now.
    held.delete(claim);
    await this.#giveBack(claim, id, false);
  }

  /** Whether it was still this claim's. */
  #giveBack(claim: string, id: string, isLost: boolean): Promise<boolean> {
    return this.#database.whole(async (db) => {
      const { rows } = await db.executeSql(
        `update ${JOB} set state = 'waiting', attempts = attempts - $3, claim = null, owner = null, beat_at = null, stage = null
         where id = $1 and claim = $2 and state = 'running' returning id`,
        [id, claim, isLost ? 0 : 1],
      );
      if (rows.length > 0) await this.#queue.putBack(id, db);
      return rows.length > 0;
    });
  }

  readonly recover: JobStore['recover'] = async () => {
    const { rows } = await this.#database.ask(
      `select id, claim, owner, clock_timestamp() - beat_at > $1 * interval '1 s' as is_stale from ${JOB} where state = 'running'`,
      [LEASE_S],
    );
    const before = this.#stale;
    const stale = new Set<string>();
    const given: string[] = [];
    for (const row of rows as { id: string; claim: string; owner: string; is_stale: boolean }[]) {
      const owner = JSON.parse(row.owner) as Owner;
      const isOwn = owner.instance === ME.instance;
      if (row.is_stale) stale.add(row.claim);
      // Seen twice: when a database comes back, its workers have had no time yet to say that they live.
      const isGone = isOwn ? !held.has(row.claim) : isKnownGone(owner) || (row.is_stale && before.has(row.claim));
      if (isGone && (await this.#giveBack(row.claim, row.id, !isOwn))) given.push(row.id);
    }
    this.#stale = stale;
    return given;
  };

  readonly get: JobStore['get'] = async (id) => {
    const row = await this.#row(id);
    return row && recordOf(row);
  };

  /** By `job_id` or `job_state_id`, see `schema.ts`. */
  readonly page: JobStore['page'] = async ({ before, state, limit }) => {
    const values: unknown[] = [limit];
    const conditions = [
      before === undefined ? '' : `id collate "C" < $${values.push(before)}`,
      state === undefined ? '' : `state = $${values.push(state)}`,
    ].filter((c) => c !== '');
    const where = conditions.length === 0 ? '' : `where ${conditions.join(' and ')}`;
    return (await this.#rows(`${where} order by id collate "C" desc limit $1`, values)).map(recordOf);
  };

  readonly count: JobStore['count'] = async (state) =>
    (await this.#database.ask(`select count(*)::int as n from ${JOB} where state = $1`, [state])).rows[0].n as number;

  readonly outcomeOf: JobStore['outcomeOf'] = async (id) => {
    const row = await this.#row(id);
    return row?.state === 'ended' && row.claim ? this.#files.outcomeOf(id, row.claim) : null;
  };

  readonly fileOf: JobStore['fileOf'] = async (id, name) => {
    const row = await this.#row(id);
    return row?.state === 'ended' && row.claim ? this.#files.resultOf(recordOf(row), row.claim, name) : null;
  };

  readonly streamOf: JobStore['streamOf'] = async (id, name) => {
    const row = await this.#row(id);
    return row?.state === 'ended' && row.claim ? this.#files.openResultOf(recordOf(row), row.claim, name) : null;
  };

  readonly cancel: JobStore['cancel'] = async (id) => {
    const row = await this.#row(id);
    if (!row) return false;
    const record = endedRecord(recordOf(row), 'cancelled', []);
    // Its place in the queue is found empty by whoever takes it next.
    const { rows } = await this.#database.ask(
      `update ${JOB} set cancel = true,
         state = case state when 'waiting' then 'cancelled' else state end,
         holds_key = holds_key and state <> 'waiting',
         record = case state when 'waiting' then $2 else record end
       where id = $1 and state in ('waiting', 'running') returning id`,
      [id, JSON.stringify(record)],
    );
    return rows.length > 0;
  };

  readonly discard: JobStore['discard'] = async (id) => {
    if (!ID.test(id)) return false;
    const { rows } = await this.#database.ask(
      `delete from ${JOB} where id = $1 and state in ('ended', 'cancelled') returning id`,
      [id],
    );
    if (rows.length > 0) await this.#files.drop(id);
    return rows.length > 0;
  };

  readonly close: JobStore['close'] = async () => {
    await this.#sweeping;
    await this.#queue.close();
    await this.#database.pool.end();
  };
}

/** The store of a database over the folder `dataDir`. A Refusal where it cannot be used. */
export const postgresStore = async (dataDir: string, version: string, databaseUrl: string): Promise<JobStore> => {
  const store = new PostgresStore(dataDir, version, databaseUrl);
  try {
    await store.open();
  } catch (error) {
    await store.close().catch(() => undefined);
    throw error;
  }
  return store;
};

/** What can go wrong between a program and its database, and what stands where. */

import { mkdtempSync, readdirSync, readFileSync, rmSync, unlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { connect, createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { type JobInput, type JobOutcome, sha256Of } from '../../src/jobs/index.js';
import { openStore } from '../../src/jobs/openStore.js';
import { Runner } from '../../src/jobs/runner.js';
import { everyJob } from '../support/everyJob.js';
import { cluster } from '../support/postgres.js';
import { overPostgres } from '../support/stores.js';

const inputOf = (text: string, told: object = {}): JobInput => {
  const bytes = new TextEncoder().encode(text);
  return { fileName: 'plan.dxf', bytes, sha256: sha256Of(bytes), job: told as JobInput['job'] };
};
const DONE: JobOutcome = { kind: 'done', exitCode: 0, findings: [], files: [], summary: null, traced: null };

/** A way to a database that can be cut: at once, or right before the answer to what holds `word` comes back. */
class Way {
  readonly url: string;
  readonly #server: Server;
  readonly #sockets = new Set<Socket>();
  #cutAfter: string | null = null;
  isOpen = true;

  private constructor(server: Server, url: string) {
    this.#server = server;
    this.url = url;
  }

  static async to(url: string): Promise<Way> {
    const target = new URL(url);
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const address = server.address() as { port: number };
    const way = new Way(server, url.replace(`:${target.port}/`, `:${address.port}/`));
    server.on('connection', (near) => {
      if (!way.isOpen) {
        near.destroy();
        return;
      }
      const far = connect(Number(target.port), target.hostname);
      for (const socket of [near, far]) {
        way.#sockets.add(socket);
        socket.on('error', () => undefined);
        socket.on('close', () => {
          near.destroy();
          far.destroy();
          way.#sockets.delete(socket);
        });
      }
      let isLast = false;
      near.on('data', (bytes) => {
        if (way.#cutAfter !== null && bytes.includes(way.#cutAfter)) {
          way.#cutAfter = null;
          isLast = true;
        }
        far.write(bytes);
      });
      // The database has done it, and its answer is lost.
      far.on('data', (bytes) => (isLast ? near.destroy() : near.write(bytes)));
    });
    return way;
  }

  /** The next answer to a text that holds this is lost, and the connection with it. */
  loseAnswerTo(word: string): void {
    this.#cutAfter = word;
  }

  cut(): void {
    this.isOpen = false;
    for (const socket of this.#sockets) socket.destroy();
  }

  end(): void {
    this.cut();
    this.#server.close();
  }
}

overPostgres((fresh) => {
  it('several programs may open a fresh store at once', async () => {
    const at = await fresh();
    const stores = await Promise.all(Array.from({ length: 6 }, () => at.open()));
    await stores[0]!.submit({ input: inputOf('a') });
    for (const store of stores) expect(await everyJob(store)).toHaveLength(1);
    await (await at.open()).claim();
    expect(await everyJob(await at.open())).toMatchObject([{ state: 'running' }]);
  });

  it('reads lists, counts and old jobs by an index, however many are kept', async () => {
    const at = await fresh();
    await at.open();
    const server = await cluster();
    await server.ask(
      at.databaseUrl!,
      `insert into shutterwright.job (id, state, key, record)
       select lpad(to_hex(n), 33, '0'), case when n % 50 = 0 then 'waiting' else 'ended' end, n::text, '{}'
       from generate_series(1, 20000) n; analyze shutterwright.job`,
    );
    const asked = [
      `select id from shutterwright.job order by id collate "C" desc limit 50`,
      `select id from shutterwright.job where id collate "C" < '2' order by id collate "C" desc limit 50`,
      `select id from shutterwright.job where id collate "C" < '2' and state = 'ended' order by id collate "C" desc limit 50`,
      `select count(*) from shutterwright.job where state = 'waiting'`,
    ];
    for (const text of asked) {
      const plan = JSON.stringify(await server.ask(at.databaseUrl!, `explain ${text}`));
      expect(plan, text).toMatch(/job_id|job_state_id/);
      expect(plan, text).not.toMatch(/Seq Scan|Sort/);
    }
  });

  it('a folder that is not the one of the database is refused, and a later database, and one that is not there', async () => {
    const at = await fresh();
    await at.open();
    const elsewhere = mkdtempSync(join(tmpdir(), 'store-'));
    await expect(openStore(elsewhere, '1', at.databaseUrl)).rejects.toThrow('does not belong to this database');
    const server = await cluster();
    const other = await server.freshDatabase();
    await expect(openStore(at.dataDir, '1', other)).rejects.toThrow('does not belong to this database');
    await expect(openStore(elsewhere, '1', server.urlOf('nowhere'))).rejects.toThrow(
      /^The database 127\.0\.0\.1:\d+\/nowhere cannot be used: database "nowhere" does not exist\.$/,
    );
    await server.ask(at.databaseUrl!, 'insert into shutterwright.migration (version) values (99)');
    await expect(openStore(at.dataDir, '1', at.databaseUrl)).rejects.toThrow('later version');
  });

  it('files that no job is known of are swept, those of jobs are not', async () => {
    const at = await fresh();
    const store = await at.open();
    const { record } = await store.submit({ input: inputOf('a') });
    for (const name of ['astray', '0'.repeat(33)]) writeFileSync(join(at.dataDir, 'files', name), '');
    const then = Date.now() / 1000 - 4000;
    for (const name of readdirSync(join(at.dataDir, 'files'))) utimesSync(join(at.dataDir, 'files', name), then, then);
    await at.open();
    await vi.waitFor(() => expect(readdirSync(join(at.dataDir, 'files'))).toEqual([record.id]));
  });

  it('a job whose files are gone is a fault; where the whole folder is gone it waits', async () => {
    const at = await fresh();
    const store = await at.open();
    const { record } = await store.submit({ input: inputOf('a') });
    const idOfStore = join(at.dataDir, 'store-id');
    unlinkSync(join(at.dataDir, 'files', record.id, 'drawing'));
    const id = readFileSync(idOfStore);
    unlinkSync(idOfStore);
    await expect(store.claim()).rejects.toThrow('is not there');
    expect(await store.get(record.id)).toMatchObject({ state: 'waiting', attempts: 0 });
    writeFileSync(idOfStore, id);
    expect(await store.claim()).toBeNull();
    expect(await store.get(record.id)).toMatchObject({ state: 'ended', exitCode: 3 });
    rmSync(at.dataDir, { recursive: true });
  });

  it('what had happened when its answer was lost has happened', async () => {
    const at = await fresh();
    await at.open();
    const way = await Way.to(at.databaseUrl!);
    const store = await openStore(at.dataDir, '1', way.url);
    // Of bringing a job: it is there, and its files with it.
    way.loseAnswerTo('commit');
    const { record, isNew } = await store.submit({ input: inputOf('a') });
    expect(isNew).toBe(true);
    // Of taking it: whoever asked does not know, and it goes back without having counted.
    way.loseAnswerTo('commit');
    await expect(store.claim()).rejects.toThrow();
    expect(await store.get(record.id)).toMatchObject({ state: 'running' });
    expect(await store.recover()).toEqual([record.id]);
    const claim = (await store.claim())!;
    expect(claim.record.attempts).toBe(1);
    // Of its end: it is kept, and asking again says so.
    way.loseAnswerTo('commit');
    await expect(claim.finish(DONE)).rejects.toThrow();
    expect(await claim.finish(DONE)).toBe(true);
    expect(await store.outcomeOf(record.id)).toMatchObject({ exitCode: 0 });
    expect(await store.recover()).toEqual([]);
    // Lost before the end of it, nothing has happened.
    way.loseAnswerTo('insert into shutterwright.job');
    await expect(store.submit({ input: inputOf('b') })).rejects.toThrow();
    expect(await everyJob(store)).toHaveLength(1);
    expect(readdirSync(join(at.dataDir, 'files'))).toEqual([record.id]);
    await store.close();
    way.end();
  });

  it('a connection that is lost while a store is opened costs a moment', async () => {
    const at = await fresh();
    const way = await Way.to(at.databaseUrl!);
    for (const word of ['create schema', 'pg_advisory_unlock', 'any($1)']) {
      way.loseAnswerTo(word);
      const store = await openStore(at.dataDir, '1', way.url);
      expect(await everyJob(store)).toEqual([]);
      await store.close();
    }
    way.end();
  });

  it('a runner goes on by itself when the database comes back', async () => {
    const at = await fresh();
    const steady = await at.open();
    const way = await Way.to(at.databaseUrl!);
    const store = await openStore(at.dataDir, '1', way.url);
    const said: string[] = [];
    const runner = new Runner(store, {
      workers: 2,
      workerUrl: new URL('../support/echoWorker.mjs', import.meta.url),
      pollMs: 20,
      log: (_, words) => said.push(words),
    });
    runner.start();
    await steady.submit({ input: inputOf('a', { wait: 400 }) });
    await vi.waitFor(async () => expect((await everyJob(steady))[0]?.state).toBe('running'), { timeout: 10_000 });
    way.cut();
    await steady.submit({ input: inputOf('b') });
    await new Promise((resolve) => setTimeout(resolve, 600));
    expect((await everyJob(steady)).map((r) => r.state)).toEqual(['running', 'waiting']);
    way.isOpen = true;
    await vi.waitFor(async () => expect((await everyJob(steady)).every((r) => r.state === 'ended')).toBe(true), {
      timeout: 10_000,
    });
    expect((await everyJob(steady)).map((r) => [r.exitCode, r.attempts])).toEqual([
      [0, 1],
      [0, 1],
    ]);
    // Said once each, not at every try.
    expect(said.filter((w) => w.includes('it is tried again')).length).toBeLessThan(5);
    expect(said).toContain('the store of jobs can be read and written again');
    await runner.stop(0);
    await store.close();
    way.end();
  });
});

/** Both stores of jobs, for tests of what they promise alike. */

import { mkdtempSync, readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe } from 'vitest';
import { openStore } from '../../src/jobs/openStore.js';
import type { Owner } from '../../src/jobs/owner.js';
import type { JobStore } from '../../src/jobs/record.js';
import { itNeeds } from '../read/samples.js';
import { cluster, HAS_POSTGRES } from './postgres.js';

/** Where the jobs of one store stand. */
export interface Place {
  readonly dataDir: string;
  readonly databaseUrl: string | undefined;
  readonly open: (version?: string) => Promise<JobStore>;
  /** Makes the owner of all running jobs another. */
  readonly disown: (owner: Owner) => Promise<void>;
  /** The last sign of life of all running jobs was so long ago, s. */
  readonly age: (seconds: number) => Promise<void>;
  /** What stands there beside the records of jobs that have ended. */
  readonly remains: () => Promise<readonly unknown[]>;
}

const opened: JobStore[] = [];
const openedIn = async (dataDir: string, version: string, url: string | undefined): Promise<JobStore> => {
  const store = await openStore(dataDir, version, url);
  opened.push(store);
  return store;
};

const freshFolder = (): string => mkdtempSync(join(tmpdir(), 'store-'));

const folderPlace = async (): Promise<Place> => {
  const dataDir = freshFolder();
  const owners = () =>
    readdirSync(join(dataDir, 'running')).map((name) => join(dataDir, 'running', name, 'owner.json'));
  return {
    dataDir,
    databaseUrl: undefined,
    open: (version = '1') => openedIn(dataDir, version, undefined),
    disown: async (owner) => {
      for (const path of owners()) {
        const { atime, mtime } = statSync(path);
        writeFileSync(path, JSON.stringify(owner));
        utimesSync(path, atime, mtime);
      }
    },
    age: async (seconds) => {
      const then = Date.now() / 1000 - seconds;
      for (const path of owners()) utimesSync(path, then, then);
    },
    remains: async () => ['keys', 'making', 'waiting', 'running'].flatMap((part) => readdirSync(join(dataDir, part))),
  };
};

const postgresPlace = async (): Promise<Place> => {
  const dataDir = freshFolder();
  const server = await cluster();
  const url = await server.freshDatabase();
  const ask = async (text: string, values: readonly unknown[]) => {
    await server.ask(url, text, values);
  };
  return {
    dataDir,
    databaseUrl: url,
    open: (version = '1') => openedIn(dataDir, version, url),
    disown: (owner) => ask(`update shutterwright.job set owner = $1 where state = 'running'`, [JSON.stringify(owner)]),
    age: (seconds) =>
      ask(`update shutterwright.job set beat_at = clock_timestamp() - $1 * interval '1 s' where state = 'running'`, [
        seconds,
      ]),
    remains: async () => [
      ...readdirSync(join(dataDir, 'files')),
      ...(await server.ask(url, 'select id from shutterwright_queue.job')),
    ],
  };
};

/** The same tests over both stores. */
export const overStores = (tests: (fresh: () => Promise<Place>) => void): void => {
  afterEach(async () => {
    await Promise.all(opened.splice(0).map((store) => store.close()));
  });
  describe('jobs in folders', () => tests(folderPlace));
  if (HAS_POSTGRES) describe('jobs in PostgreSQL', () => tests(postgresPlace));
  else itNeeds(false, 'PostgreSQL')('jobs in PostgreSQL', () => undefined);
};

export const overPostgres = (tests: (fresh: () => Promise<Place>) => void): void => {
  if (HAS_POSTGRES) {
    afterEach(async () => {
      await Promise.all(opened.splice(0).map((store) => store.close()));
    });
    tests(postgresPlace);
  } else itNeeds(false, 'PostgreSQL')('jobs in PostgreSQL', () => undefined);
};

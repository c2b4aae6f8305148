/** The tables, made and brought up to date by whoever opens the store first. Those of pg-boss stand in a schema of their own. */

import type { Pool, PoolClient } from 'pg';
import { Refusal } from '../refusal.js';

export const SCHEMA = 'shutterwright';
export const QUEUE_SCHEMA = 'shutterwright_queue';

/** One after the other, never changed once they have been released. */
const STEPS = [
  `create table ${SCHEMA}.store (
     id uuid primary key,
     -- Whether the folder of files has been given the id.
     in_folder boolean not null default false
   );
   create table ${SCHEMA}.job (
     id text primary key,
     -- In the order in which they came.
     seq bigint generated always as identity,
     state text not null check (state in ('waiting', 'running', 'ended', 'cancelled')),
     key text not null,
     -- Whether the same job brought again is this one.
     holds_key boolean not null default true,
     attempts integer not null default 0,
     stage text,
     -- JSON; what the columns say counts over it.
     record text not null,
     -- Of the worker that has it, or whose outcome was kept; the folder of results is called by it.
     claim text,
     -- JSON.
     owner text,
     beat_at timestamptz,
     cancel boolean not null default false
   );
   create unique index job_key on ${SCHEMA}.job (key) where holds_key;
   create index job_running on ${SCHEMA}.job (beat_at) where state = 'running';
   create index job_seq on ${SCHEMA}.job (seq)`,
  // Lists are read by parts, newest first. In the order of bytes, as ids are compared everywhere else.
  `drop index ${SCHEMA}.job_seq;
   create index job_id on ${SCHEMA}.job (id collate "C");
   create index job_state_id on ${SCHEMA}.job (state, id collate "C")`,
] as const;

/** Any number, the same in every program of ours. */
const LOCK = 7_483_912_406;

/** Lets one program at a time through, over all machines. */
export const oneByOne = async <T>(pool: Pool, step: (client: PoolClient) => Promise<T>): Promise<T> => {
  const client = await pool.connect();
  // What is asked rejects by itself; without anyone who hears it a lost connection would end the program.
  const lost = () => undefined;
  client.on('error', lost);
  let isWell = false;
  try {
    await client.query('select pg_advisory_lock($1)', [LOCK]);
    const value = await step(client);
    await client.query('select pg_advisory_unlock($1)', [LOCK]);
    isWell = true;
    return value;
  } finally {
    client.off('error', lost);
    // A connection that is closed holds no lock.
    client.release(!isWell);
  }
};

export const migrate = async (client: PoolClient): Promise<void> => {
  await client.query(`create schema if not exists ${SCHEMA};
    create table if not exists ${SCHEMA}.migration (version integer primary key, done_at timestamptz not null default now())`);
  const { rows } = await client.query(`select coalesce(max(version), 0)::int as version from ${SCHEMA}.migration`);
  const version = rows[0].version as number;
  if (version > STEPS.length)
    throw new Refusal('The database was brought up to date by a later version of this program.');
  for (const [i, step] of STEPS.entries()) {
    if (i < version) continue;
    // Of several statements in one text all are done or none.
    await client.query(`${step}; insert into ${SCHEMA}.migration (version) values (${i + 1})`);
  }
};

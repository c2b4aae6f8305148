/** Small runs of the trials of `npm run faults`. FAULT_SEED chooses the moments. */

import { expect, it, vi } from 'vitest';
import { itNeeds } from '../read/samples.js';
import { cluster, HAS_POSTGRES } from '../support/postgres.js';
import { groundOf } from './children.js';
import { workersKilled } from './queueTrials.js';
import { watchKilled } from './watchTrials.js';

/** Programs begin slowly on a machine with much to do. */
vi.setConfig({ testTimeout: 180_000 });

const seed = Number(process.env.FAULT_SEED ?? 1);
const SMALL = { jobs: 8, seed, lifeMs: 1200, killsMost: 2 };

it('a watched folder that is killed loses, doubles and tears nothing', async () => {
  expect((await watchKilled(await groundOf(null), 6, seed, 1200, 3)).faults).toEqual([]);
});

it('workers on one queue, killed, do each job once', async () => {
  expect((await workersKilled(await groundOf(null), { ...SMALL, stops: 0 })).faults).toEqual([]);
});

itNeeds(HAS_POSTGRES, 'PostgreSQL')('the same in PostgreSQL, which is stopped and begun again', async () => {
  expect((await workersKilled(await groundOf(await cluster()), { ...SMALL, stops: 1 })).faults).toEqual([]);
});

/** Small runs of the trials of `npm run faults`. FAULT_SEED chooses the moments. */

import { expect, it } from 'vitest';
import { itNeeds } from '../read/samples.js';
import { cluster, HAS_POSTGRES } from '../support/postgres.js';
import { groundOf } from './children.js';
import { workersKilled } from './queueTrials.js';
import { watchKilled } from './watchTrials.js';

const seed = Number(process.env.FAULT_SEED ?? 1);
const SMALL = { jobs: 8, seed, lifeMs: 1200 };

it('a watched folder that is killed loses, doubles and tears nothing', async () => {
  expect((await watchKilled(await groundOf(null), 6, seed, 1200)).faults).toEqual([]);
});

it('workers on one queue, killed, do each job once', async () => {
  expect((await workersKilled(await groundOf(null), { ...SMALL, stops: 0 })).faults).toEqual([]);
});

itNeeds(HAS_POSTGRES, 'PostgreSQL')('the same in PostgreSQL, which is stopped and begun again', async () => {
  expect((await workersKilled(await groundOf(await cluster()), { ...SMALL, stops: 1 })).faults).toEqual([]);
});

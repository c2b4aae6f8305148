/** A log that cannot be written ends no program. */

import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, openSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { run } from '../../src/cli/program.js';
import { logTo } from '../../src/service/log.js';
import { itNeeds } from '../read/samples.js';
import { ROOT } from '../support/repository.js';

const FULL = '/dev/full';
const itWhereFull = itNeeds(existsSync(FULL), FULL);

itWhereFull('on a disk that is full the service goes on', async () => {
  const log = logTo(openSync(FULL, 'w'));
  for (let i = 0; i < 3; i++) log('info', 'request', { i });
  await new Promise((resolve) => setTimeout(resolve, 50));
});

itWhereFull('on a disk that is full the watched folder goes on', () => {
  const full = openSync(FULL, 'w');
  const folder = mkdtempSync(join(tmpdir(), 'watch-'));
  const { status } = spawnSync(process.execPath, [`${ROOT}dist/cli/main.js`, 'watch', folder, '--once'], {
    stdio: ['ignore', 'ignore', full],
    timeout: 30_000,
  });
  expect(status).toBe(0);
});

it('a limit that the timers of the system cannot count to is refused', async () => {
  expect(await run(['work', '--time-limit', '3000000'])).toBe(2);
});

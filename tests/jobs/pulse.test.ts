/** Whether the owner of a folder lives, where neither his number nor the name of his machine tells. */

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { isAbandoned, isKnownGone, ME } from '../../src/jobs/owner.js';
import { BOOT, beginPulse, isPulseGone } from '../../src/jobs/pulse.js';
import { itNeeds } from '../read/samples.js';

const itOnLinux = itNeeds(BOOT !== null, 'Linux');

/** Longer than the address of a socket may be. */
const folder = join(mkdtempSync(join(tmpdir(), 'pulse-')), 'x'.repeat(120));
let child: ChildProcess;
beforeAll(async () => {
  mkdirSync(folder);
  const code = `require('net').createServer().listen('/proc/self/fd/' + require('fs').openSync(process.argv[1]) + '/alive', () => console.log('on'))`;
  child = spawn(process.execPath, ['-e', code, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  await once(child.stdout!, 'data');
});
afterAll(() => {
  child.kill('SIGKILL');
});

itOnLinux('a program in another container is known to live, and to have been killed, at once', async () => {
  const now = Date.now();
  const elsewhere = { host: 'other container', pid: 1, instance: 'x', boot: BOOT };
  writeFileSync(join(folder, 'owner.json'), JSON.stringify(elsewhere));
  expect(await isAbandoned(folder, now)).toBe(false);
  child.kill('SIGKILL');
  await once(child, 'exit');
  expect(existsSync(join(folder, 'alive'))).toBe(true);
  expect(await isAbandoned(folder, now)).toBe(true);
  // Under another kernel the same refusal says nothing.
  for (const boot of ['other', null, undefined]) {
    writeFileSync(join(folder, 'owner.json'), JSON.stringify({ ...elsewhere, boot }));
    expect(await isAbandoned(folder, now)).toBe(false);
  }
});

itOnLinux('what was left behind is no hindrance to whoever comes next', async () => {
  const end = await beginPulse(folder);
  expect(await isPulseGone(folder)).toBe(false);
  end();
  expect(await isPulseGone(mkdtempSync(join(tmpdir(), 'pulse-')))).toBe(false);
});

itOnLinux('a process number that was given anew is another program', () => {
  const other = { ...ME, pid: process.ppid, instance: 'x' };
  expect(isKnownGone({ ...other, began: '1' })).toBe(true);
  expect(isKnownGone({ ...other, began: null })).toBe(false);
});

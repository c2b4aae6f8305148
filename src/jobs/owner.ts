/**
 * Whose a running job is, and whether its worker still lives: the process where that can be asked, else the time since it last said so. Times are those of
 * the file system alone, so that clocks of several machines need not agree.
 */

import { randomUUID } from 'node:crypto';
import { readFile, stat, unlink, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { ifThere } from './durable.js';

/** A worker that has not said so for this long is taken to be gone, s. */
export const LEASE_S = 60;

/** Of this process; a number that the system gives anew is no proof that it is the same one. */
const INSTANCE = randomUUID();

interface Owner {
  readonly host: string;
  readonly pid: number;
  readonly instance: string;
}

const OWNER_FILE = 'owner.json';

export const own = (folder: string): Promise<void> =>
  writeFile(
    join(folder, OWNER_FILE),
    JSON.stringify({ host: hostname(), pid: process.pid, instance: INSTANCE } satisfies Owner),
  );

/** Renews the owner's word; false where the folder is gone. */
export const renew = async (folder: string): Promise<boolean> => {
  // Only the kind of change counts: the file system sets its own time where it is a share.
  const now = new Date();
  const renewed = await ifThere(utimes(join(folder, OWNER_FILE), now, now).then(() => true));
  return renewed === true;
};

const isProcess = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // It is there, and another user's.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** The time of the file system under a folder, ms. */
export const timeThere = async (folder: string): Promise<number> => {
  const path = join(folder, `.now-${randomUUID()}`);
  await writeFile(path, '');
  const { mtimeMs } = await stat(path);
  await unlink(path);
  return mtimeMs;
};

/** Whether the worker of a running job's folder is gone, at `nowMs` of the file system. */
export const isAbandoned = async (folder: string, nowMs: number): Promise<boolean> => {
  const facts = await ifThere(stat(join(folder, OWNER_FILE)));
  // Without an owner it was taken just now, or the worker ended between two steps.
  const seen = facts ?? (await ifThere(stat(folder)));
  if (!seen) return false;
  const stale = nowMs - seen.mtimeMs > LEASE_S * 1000;
  const text = facts && (await ifThere(readFile(join(folder, OWNER_FILE), 'utf8')));
  if (!text) return stale;
  let owner: Owner;
  try {
    owner = JSON.parse(text) as Owner;
  } catch {
    return stale;
  }
  if (owner.instance === INSTANCE) return false;
  if (owner.host === hostname() && (owner.pid === process.pid || !isProcess(owner.pid))) return true;
  return stale;
};

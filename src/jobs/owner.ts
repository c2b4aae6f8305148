/**
 * Whose a running job is, and whether its worker still lives: the process where that can be asked, else the time since it last said so. Times are those of
 * the file system alone, so that clocks of several machines need not agree.
 */

import { randomUUID } from 'node:crypto';
import { readlinkSync } from 'node:fs';
import { readFile, stat, unlink, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { ifThere } from './durable.js';

/** A worker that has not said so for this long is taken to be gone, s. */
export const LEASE_S = 60;

export interface Owner {
  readonly host: string;
  readonly pid: number;
  readonly instance: string;
}

/** Where process numbers mean the same: the machine, or on Linux the container. Containers of one host may have its name, and each its own process 1. */
const hereOf = (): string => {
  try {
    return `${hostname()} ${readlinkSync('/proc/self/ns/pid')}`;
  } catch {
    return hostname();
  }
};

/** This process. */
export const ME: Owner = { host: hereOf(), pid: process.pid, instance: randomUUID() };

const OWNER_FILE = 'owner.json';

export const own = (folder: string): Promise<void> => writeFile(join(folder, OWNER_FILE), JSON.stringify(ME));

/** Renews this process's word; false where the folder is gone, or another's. */
export const renew = async (folder: string): Promise<boolean> => {
  const path = join(folder, OWNER_FILE);
  const word = JSON.stringify(ME);
  if ((await ifThere(readFile(path, 'utf8'))) !== word) return false;
  // Written over, never made: a time that was set would be one of this machine's clock, what is written has the file system's.
  return (await ifThere(writeFile(path, word, { flag: 'r+' }).then(() => true))) === true;
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

/** Whether the system says that the process has ended. A number that the system gave anew is no proof that it is the same one. */
export const isKnownGone = ({ host, pid, instance }: Owner): boolean =>
  instance !== ME.instance && host === ME.host && (pid === ME.pid || !isProcess(pid));

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
  return isKnownGone(owner) || (stale && owner.instance !== ME.instance);
};

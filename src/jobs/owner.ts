/**
 * Whose a running job is, and whether its worker still lives: the process where that can be asked, else the time since it last said so. Times are those of
 * the file system alone, so that clocks of several machines need not agree.
 */

import { randomUUID } from 'node:crypto';
import { readFileSync, readlinkSync } from 'node:fs';
import { readFile, stat, unlink, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { ifThere } from './durable.js';
import { BOOT, isPulseGone } from './pulse.js';

/** A worker that has not said so for this long is taken to be gone, s. */
export const LEASE_S = 60;

export interface Owner {
  readonly host: string;
  readonly pid: number;
  readonly instance: string;
  /** When the process began, by the system's own count: another one of the same number began at another time. */
  readonly began?: string | null;
  /** Of the kernel, see `pulse.ts`. */
  readonly boot?: string | null;
}

/** Where process numbers mean the same: the machine, or on Linux the container. Containers of one host may have its name, and each its own process 1. */
const hereOf = (): string => {
  try {
    return `${hostname()} ${readlinkSync('/proc/self/ns/pid')}`;
  } catch {
    return hostname();
  }
};

/** Null where the system does not tell (proc(5): the 22nd word of `stat`; the 2nd is in brackets and may hold anything). */
const beginOf = (pid: number): string | null => {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return text.slice(text.lastIndexOf(')') + 2).split(' ')[19] ?? null;
  } catch {
    return null;
  }
};

/** This process. */
export const ME: Owner = {
  host: hereOf(),
  pid: process.pid,
  instance: randomUUID(),
  began: beginOf(process.pid),
  boot: BOOT,
};

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

/** Whether the system says that the process has ended. One of its number that began at another time is another one. */
export const isKnownGone = ({ host, pid, instance, began = null }: Owner): boolean => {
  if (instance === ME.instance || host !== ME.host) return false;
  if (pid === ME.pid || !isProcess(pid)) return true;
  const now = beginOf(pid);
  return began !== null && now !== null && began !== now;
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
  if (owner.instance === ME.instance) return false;
  return isKnownGone(owner) || stale || (BOOT !== null && owner.boot === BOOT && (await isPulseGone(folder)));
};

/**
 * Whether a program in another container of this machine lives, which neither its number nor its name tells there: it listens at a socket in its folder, and
 * the kernel refuses whoever calls there once it has ended, however it ended. Only one kernel can say so, so its mark (`BOOT`) stands beside the socket;
 * where folders hold no sockets, or on another machine, nothing is known by this.
 */

import { readFileSync } from 'node:fs';
import { open, rm } from 'node:fs/promises';
import { connect, createServer } from 'node:net';
import { join } from 'node:path';

const readBoot = (): string | null => {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return null;
  }
};

/** Of the kernel that runs, the same in all containers over it and another after each start; null where it does not tell. */
export const BOOT = readBoot();

const SOCKET = 'alive';

/** Addresses of sockets are short; that of a folder that is open always is. */
const through = async <T>(folder: string, step: (address: string) => Promise<T>): Promise<T> => {
  const handle = await open(folder, 'r');
  try {
    return await step(`/proc/self/fd/${handle.fd}/${SOCKET}`);
  } finally {
    await handle.close();
  }
};

/** Listens in a folder until it is ended; where that cannot be, it is as if this were not there. */
export const beginPulse = async (folder: string): Promise<() => void> => {
  if (BOOT === null) return () => undefined;
  const server = createServer((socket) => socket.destroy());
  server.unref();
  try {
    await rm(join(folder, SOCKET), { force: true });
    await through(
      folder,
      (address) =>
        new Promise<void>((resolve, reject) => {
          server.once('error', reject);
          server.listen(address, resolve);
        }),
    );
  } catch {
    await rm(join(folder, SOCKET), { force: true }).catch(() => undefined);
  }
  server.on('error', () => undefined);
  return () => server.close();
};

/** Whether whoever listened in a folder under this very kernel is known to have ended. */
export const isPulseGone = async (folder: string): Promise<boolean> => {
  try {
    return await through(
      folder,
      (address) =>
        new Promise<boolean>((resolve) => {
          const socket = connect(address);
          socket.setTimeout(1_000, () => socket.destroy());
          socket.once('connect', () => socket.destroy());
          socket.once('error', (error: NodeJS.ErrnoException) => resolve(error.code === 'ECONNREFUSED'));
          socket.once('close', () => resolve(false));
        }),
    );
  } catch {
    return false;
  }
};

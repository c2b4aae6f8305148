/** Files that are whole or not there, also after the power has failed. */

import { open, rename } from 'node:fs/promises';
import { dirname } from 'node:path';

/** A folder's own list of names. Not every file system lets a folder be opened; where it does not there is nothing more to do. */
export const syncFolder = async (path: string): Promise<void> => {
  const folder = await open(path, 'r').catch(() => null);
  if (!folder) return;
  try {
    await folder.sync().catch(() => undefined);
  } finally {
    await folder.close();
  }
};

/** Writes all bytes to the disk before it resolves. */
export const writeSynced = async (path: string, bytes: Uint8Array | string): Promise<void> => {
  const file = await open(path, 'w');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
};

/** Replaces a file in one step: a reader sees the old one or the new one. */
export const replaceFile = async (path: string, bytes: Uint8Array | string): Promise<void> => {
  const passing = `${path}.part`;
  await writeSynced(passing, bytes);
  await rename(passing, path);
  await syncFolder(dirname(path));
};

/** What a missing file gives. */
export const ifThere = async <T>(promise: Promise<T>): Promise<T | null> => {
  try {
    return await promise;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
};

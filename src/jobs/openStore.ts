/** The store of jobs that a front end was told of: folders alone, or PostgreSQL with a folder for the files. */

import { mkdir } from 'node:fs/promises';
import { readPlainText } from './files.js';
import { folderStore } from './folderStore.js';
import type { JobStore } from './record.js';
import { Refusal } from './refusal.js';

/** What of an environment tells where jobs stand. */
export interface StoreEnvironment {
  readonly DATABASE_URL?: string | undefined;
  /** A file that holds the password, so that it stands in no environment. */
  readonly DATABASE_PASSWORD_FILE?: string | undefined;
}

/** The whole address of the database; undefined where none is told of. */
export const databaseUrlOf = async (environment: StoreEnvironment): Promise<string | undefined> => {
  const { DATABASE_URL: told, DATABASE_PASSWORD_FILE: file } = environment;
  if (!told) return undefined;
  let url: URL;
  try {
    url = new URL(told);
  } catch {
    throw new Refusal('DATABASE_URL is not an address: postgres://user@host:5432/database is wanted.');
  }
  if (!/^postgres(ql)?:$/.test(url.protocol)) throw new Refusal('DATABASE_URL must begin with postgres://.');
  if (file) url.password = encodeURIComponent((await readPlainText(file)).trim());
  return url.href;
};

/**
 * The store over `dataDir`, which is made where it is not there. With a database any number of programs on any number of machines share the work over
 * one such folder. `version`: of the program; results of another one are not taken for the same.
 */
export const openStore = async (
  dataDir: string,
  version: string,
  databaseUrl: string | undefined,
): Promise<JobStore> => {
  try {
    await mkdir(dataDir, { recursive: true });
  } catch (error) {
    throw new Refusal(`The folder ${dataDir} cannot be made (${(error as NodeJS.ErrnoException).code}).`);
  }
  if (databaseUrl === undefined) return folderStore(dataDir, version);
  const { postgresStore } = await import('./postgres/store.js');
  return postgresStore(dataDir, version, databaseUrl);
};

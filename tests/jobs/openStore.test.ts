/** How a store is told of by the environment. */

import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { databaseUrlOf, openStore } from '../../src/jobs/openStore.js';

describe('the address of a database', () => {
  it('is as it was told, with the password of a file where one is named', async () => {
    expect(await databaseUrlOf({})).toBeUndefined();
    expect(await databaseUrlOf({ DATABASE_URL: '' })).toBeUndefined();
    expect(await databaseUrlOf({ DATABASE_URL: 'postgres://a@h/d' })).toBe('postgres://a@h/d');
    const file = join(mkdtempSync(join(tmpdir(), 'secret-')), 'password');
    writeFileSync(file, 'p/w @:%\n');
    const url = await databaseUrlOf({ DATABASE_URL: 'postgresql://a@h:5432/d', DATABASE_PASSWORD_FILE: file });
    expect(decodeURIComponent(new URL(url!).password)).toBe('p/w @:%');
    expect(new URL(url!).host).toBe('h:5432');
  });

  it('that is none, or whose file is not there, is refused without showing what it holds', async () => {
    for (const told of ['no address', 'mysql://a:secret@h/d'])
      await expect(databaseUrlOf({ DATABASE_URL: told })).rejects.toThrow(/^(?!.*secret).*DATABASE_URL/);
    await expect(
      databaseUrlOf({ DATABASE_URL: 'postgres://a@h/d', DATABASE_PASSWORD_FILE: '/nowhere/at/all' }),
    ).rejects.toThrow('There is no file');
  });
});

it('a folder for jobs that cannot be made is refused', async () => {
  const file = join(mkdtempSync(join(tmpdir(), 'store-')), 'file');
  writeFileSync(file, '');
  await expect(openStore(join(file, 'jobs'), '1', undefined)).rejects.toThrow('cannot be made (ENOTDIR)');
});

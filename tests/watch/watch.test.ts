/** The watched folder, seen by whoever drops drawings into it. */

import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Runner } from '../../src/jobs/runner.js';
import { Watch, type WatchOptions } from '../../src/watch/index.js';
import { overPostgres } from '../support/stores.js';

const ECHO = new URL('../support/echoWorker.mjs', import.meta.url);
const watches: Watch[] = [];
const freshRoot = () => mkdtempSync(join(tmpdir(), 'watch-'));
const begun = async (root: string, more: Partial<WatchOptions> = {}): Promise<Watch> => {
  const watch = await Watch.begin(root, { version: '1', workerUrl: ECHO, settleS: 0.05, pollS: 0.05, ...more });
  watches.push(watch);
  return watch;
};
const drop = (root: string, name: string, text: string) => {
  mkdirSync(join(root, 'drop-here'), { recursive: true });
  writeFileSync(join(root, 'drop-here', name), text);
};
const inFolder = (root: string, ...names: string[]) => readdirSync(join(root, ...names)).sort();
const wordsOf = (root: string, folder: string, name: string) =>
  readFileSync(join(root, folder, name, `${name.replace(/ \(\d\)$/, '')}.what-happened.txt`), 'utf8');

afterEach(async () => {
  await Promise.all(watches.splice(0).map((w) => w.end(0)));
});

describe('a drawing that is dropped', () => {
  it('is found with its results, its job file and words in one folder', async () => {
    const root = freshRoot();
    drop(root, 'plan.dxf', 'walls');
    drop(root, 'plan.job.yaml', 'concrete: { rateMPerH: 1.2 }\n');
    drop(root, 'notes.docx', '');
    await (await begun(root)).untilDone();
    expect(inFolder(root, 'laid-out', 'plan')).toEqual([
      'plan.dxf',
      'plan.dxf.echo',
      'plan.job.yaml',
      'plan.what-happened.txt',
    ]);
    expect(readFileSync(join(root, 'laid-out/plan/plan.dxf'), 'utf8')).toBe('walls');
    expect(wordsOf(root, 'laid-out', 'plan')).toContain('plan.dxf: laid out, no failures');
    expect(inFolder(root, 'drop-here')).toEqual(['notes.docx']);
    await vi.waitFor(() => expect(readFileSync(join(root, 'status.txt'), 'utf8')).toContain('notes.docx: neither'));
  });

  it('comes out beside the reason where it is refused, by the job or by its job file', async () => {
    const root = freshRoot();
    drop(root, 'a.dxf', 'x');
    drop(root, 'a.job.yaml', 'wals: 3\n');
    drop(root, 'b.dxf', 'x');
    drop(root, 'b.job.yaml', '{ not yaml');
    await (await begun(root)).untilDone();
    expect(inFolder(root, 'not-laid-out')).toEqual(['a', 'b']);
    expect(inFolder(root, 'not-laid-out', 'a')).toEqual(['a.dxf', 'a.job.yaml', 'a.what-happened.txt']);
    expect(wordsOf(root, 'not-laid-out', 'a')).toContain('wals');
    expect(wordsOf(root, 'not-laid-out', 'b')).toContain('not valid YAML');
    expect(inFolder(root, 'drop-here')).toEqual([]);
  });

  it('and dropped once more has its results at once, beside the first', async () => {
    const root = freshRoot();
    const watch = await begun(root);
    for (const text of ['same', 'same', 'other']) {
      drop(root, 'plan.dxf', text);
      await watch.untilDone();
    }
    expect(inFolder(root, 'laid-out')).toEqual(['plan', 'plan (2)', 'plan (3)']);
    expect(wordsOf(root, 'laid-out', 'plan (2)')).toContain('was done before');
    expect(wordsOf(root, 'laid-out', 'plan (3)')).not.toContain('was done before');
    expect(inFolder(root, '.jobs', 'ended')).toHaveLength(2);
  });

  it('is not touched while it still grows', async () => {
    const root = freshRoot();
    const watch = await begun(root, { settleS: 0.4 });
    drop(root, 'plan.dxf', '');
    for (let i = 0; i < 8; i++) {
      appendFileSync(join(root, 'drop-here/plan.dxf'), 'more ');
      await new Promise((resolve) => setTimeout(resolve, 120));
    }
    await watch.untilDone();
    expect(inFolder(root, 'laid-out')).toEqual(['plan']);
    expect(readFileSync(join(root, 'laid-out/plan/plan.dxf.echo'), 'utf8')).toBe('more '.repeat(8));
  });

  it('is taken anew where it was changed while in work, and loses no results where it was taken away', async () => {
    const root = freshRoot();
    const watch = await begun(root);
    drop(root, 'plan wait-1500.dxf', 'first');
    drop(root, 'gone wait-1500.dxf', 'gone');
    await vi.waitFor(() => expect(inFolder(root, '.jobs', 'running').length).toBe(1), { timeout: 10_000 });
    await new Promise((resolve) => setTimeout(resolve, 200));
    drop(root, 'plan wait-1500.dxf', 'second, and longer');
    rmSync(join(root, 'drop-here/gone wait-1500.dxf'));
    await vi.waitFor(() => expect(inFolder(root, 'laid-out')).toEqual(['gone wait-1500', 'plan wait-1500']), {
      timeout: 20_000,
    });
    await watch.untilDone();
    expect(readFileSync(join(root, 'laid-out/plan wait-1500/plan wait-1500.dxf.echo'), 'utf8')).toBe(
      'second, and longer',
    );
    expect(inFolder(root, 'laid-out', 'gone wait-1500')).toEqual([
      'gone wait-1500.dxf.echo',
      'gone wait-1500.what-happened.txt',
    ]);
  });
});

describe('a drawing that is gone or changed before it can be read', () => {
  // The limit of size is asked for between the look and the reading.
  const between = (step: () => void) => ({
    get fileMb() {
      step();
      return 200;
    },
  });

  it('is nothing, and no folder is made for it', async () => {
    const root = freshRoot();
    drop(root, 'plan.dxf', 'walls');
    const watch = await begun(root, {
      limits: between(() => rmSync(join(root, 'drop-here/plan.dxf'), { force: true })),
    });
    await watch.untilDone();
    expect(inFolder(root, 'not-laid-out')).toEqual([]);
    expect(inFolder(root, 'laid-out')).toEqual([]);
  });

  it('is read anew, with the job file that it has then', async () => {
    const root = freshRoot();
    drop(root, 'plan.dxf', 'walls');
    drop(root, 'plan.job.yaml', 'wals: 3\n');
    let isDone = false;
    const once = () => {
      if (!isDone) drop(root, 'plan.job.yaml', '{}\n');
      isDone = true;
    };
    await (await begun(root, { limits: between(once) })).untilDone();
    expect(inFolder(root, 'not-laid-out')).toEqual([]);
    expect(inFolder(root, 'laid-out', 'plan')).toContain('plan.job.yaml');
  });
});

describe('a watched folder', () => {
  it('is not handed over by a program that another one has taken over from', async () => {
    const root = freshRoot();
    const logged: string[] = [];
    const watch = await begun(root, { log: (_level, words) => logged.push(words) });
    await vi.waitFor(() => expect(readFileSync(join(root, 'status.txt'), 'utf8')).toContain('Nothing to do'));
    const other = JSON.stringify({ host: 'elsewhere', pid: 1, instance: 'other' });
    writeFileSync(join(root, '.watching/owner.json'), other);
    drop(root, 'plan.dxf', 'walls');
    await watch.untilLost;
    await watch.end(0);
    expect(logged.at(-1)).toBe('another program has taken over this folder; this one ends');
    expect(inFolder(root, 'laid-out')).toEqual([]);
    // What the other has is left alone.
    expect(readFileSync(join(root, '.watching/owner.json'), 'utf8')).toBe(other);
  });

  it('goes on where somebody took its mark away, and says so', async () => {
    const root = freshRoot();
    const logged: string[] = [];
    await begun(root, { log: (_level, words) => logged.push(words) });
    rmSync(join(root, '.watching'), { recursive: true });
    await vi.waitFor(() => expect(logged).toContain('the mark of who watches was gone, and is made again'));
    await expect(begun(root)).rejects.toThrow('watches this folder already');
  });

  it('says once that it cannot be looked into, and once that it can again', async () => {
    const root = freshRoot();
    const logged: string[] = [];
    await begun(root, { log: (_level, words) => logged.push(words) });
    rmSync(join(root, 'drop-here'), { recursive: true });
    await new Promise((resolve) => setTimeout(resolve, 500));
    mkdirSync(join(root, 'drop-here'));
    await vi.waitFor(() => expect(logged).toContain('the folder can be looked into again'));
    expect(logged.filter((words) => words.startsWith('cannot look'))).toHaveLength(1);
  });

  it('lays two drawings out by one job file that belongs to both', async () => {
    const root = freshRoot();
    drop(root, 'plan.dxf', 'walls');
    drop(root, 'plan.ifc', 'solids');
    drop(root, 'plan.job.yaml', 'comparePitchMm: 50\n');
    const watch = await begun(root);
    await watch.untilDone();
    expect(inFolder(root, 'drop-here')).toEqual([]);
    for (const folder of inFolder(root, 'laid-out'))
      expect(inFolder(root, 'laid-out', folder)).toContain('plan.job.yaml');
    expect(inFolder(root, 'laid-out')).toHaveLength(2);
  });

  it('is watched by one program', async () => {
    const root = freshRoot();
    const first = await begun(root);
    await expect(begun(root)).rejects.toThrow('Another program watches this folder');
    await first.end(0);
    await begun(root);
  });

  it('goes on where a program was ended between two steps of handing over', async () => {
    const root = freshRoot();
    const note = (fileName: string, sidecar: string | null) => JSON.stringify({ fileName, sidecar, isTaken: false });
    const part = (name: string, files: Readonly<Record<string, string>>, told?: string) => {
      mkdirSync(join(root, 'laid-out', `${name}.part`), { recursive: true });
      for (const [file, text] of Object.entries(files))
        writeFileSync(join(root, 'laid-out', `${name}.part`, file), text);
      if (told !== undefined) writeFileSync(join(root, 'laid-out', `${name}.note`), told);
    };
    // The drawing was moved already; it was not; only the job file was; nothing is known; only the note was left.
    part('.done.1', { 'done.dxf': 'd', 'done.dxf.echo': 'd' }, note('done.dxf', null));
    part('.open.2', { 'open.dxf.echo': 'half' }, note('open.dxf', null));
    drop(root, 'open.dxf', 'whole');
    part('.half.3', { 'half.job.yaml': 'drawing: {}\n' }, note('half.dxf', 'half.job.yaml'));
    drop(root, 'half.dxf', 'h');
    part('.torn.4', { 'torn.dxf.echo': 't' });
    writeFileSync(join(root, 'laid-out', '.torn.4.note.part'), '{"fileN');
    writeFileSync(join(root, 'laid-out', '.named.5.note'), note('named.dxf', null));
    await (await begun(root)).untilDone();
    expect(inFolder(root, 'laid-out')).toEqual(['done', 'half', 'open']);
    expect(inFolder(root, 'laid-out', 'done')).toEqual(['done.dxf', 'done.dxf.echo']);
    expect(inFolder(root, 'laid-out', 'half')).toContain('half.job.yaml');
    expect(readFileSync(join(root, 'laid-out/open/open.dxf.echo'), 'utf8')).toBe('whole');
  });

  it('takes many at once, each once', async () => {
    const root = freshRoot();
    for (let i = 0; i < 30; i++) drop(root, `plan ${i}.dxf`, `walls ${i}`);
    await (await begun(root, { workers: 4 })).untilDone();
    expect(inFolder(root, 'laid-out')).toHaveLength(30);
    expect(inFolder(root, '.jobs', 'ended')).toHaveLength(30);
  });
});

overPostgres((fresh) => {
  it('may have its jobs in PostgreSQL, done by another program', async () => {
    const { dataDir, databaseUrl, open } = await fresh();
    const root = freshRoot();
    for (const name of ['a', 'b', 'c']) drop(root, `${name}.dxf`, name);
    const runner = new Runner(await open(), { workers: 1, workerUrl: ECHO, pollMs: 20 });
    runner.start();
    const watch = await begun(root, { jobsFolder: dataDir, databaseUrl: databaseUrl!, workers: 1 });
    await watch.untilDone();
    expect(inFolder(root, 'laid-out')).toEqual(['a', 'b', 'c']);
    expect(readFileSync(join(root, 'laid-out/c/c.dxf.echo'), 'utf8')).toBe('c');
    await runner.stop(0);
  });
});

/** A job in its thread: its result, and each way in which it can fail to come to one. */

import { describe, expect, it } from 'vitest';
import { runJob, sha256Of } from '../../src/jobs/index.js';
import { WORKER_URL } from '../support/dist.js';
import { layBytes } from '../support/lay.js';
import { gardenWall } from '../support/scenes.js';
import { dxfBytes } from '../support/sheet.js';

const LOOP = new URL('../support/loopWorker.mjs', import.meta.url);
const bytes = dxfBytes(gardenWall);
const input = { fileName: 'plan.dxf', bytes, sha256: sha256Of(bytes), job: {} };
const astray = (how: string) => ({ ...input, job: { catalogue: how } });

describe('a job', () => {
  it('gives what the pipeline gives, byte for byte, and says its stages', async () => {
    const stages: string[] = [];
    const done = await runJob(input, { workerUrl: WORKER_URL, onProgress: (stage) => stages.push(stage) });
    const plain = layBytes(bytes);
    if (done.kind !== 'done' || plain.kind !== 'laid-out') throw new Error('was not laid out');
    expect(done.exitCode).toBe(plain.exitCode);
    // The pipeline by itself has no fonts and writes no PDF.
    const papers = done.files.filter((f) => f.name.endsWith('.pdf'));
    const others = done.files.filter((f) => !papers.includes(f));
    expect(papers.map((f) => f.name)).toEqual(['plan.report.pdf']);
    expect(Buffer.from(papers[0]!.bytes.subarray(0, 5)).toString()).toBe('%PDF-');
    expect(others.map((f) => f.name)).toEqual(plain.files.map((f) => f.name));
    for (const [i, file] of others.entries()) {
      expect(Buffer.compare(file.bytes, plain.files[i]!.bytes), file.name).toBe(0);
    }
    expect(done.summary?.walls).toBe(plain.result.plan.walls.length);
    expect(stages.at(-1)).toBe('write');
    expect(bytes.byteLength).toBeGreaterThan(0);
  });

  it('that is refused has findings and no files', async () => {
    const done = await runJob({ ...input, bytes: new Uint8Array(0) }, { workerUrl: WORKER_URL });
    expect(done).toMatchObject({ kind: 'done', exitCode: 2, files: [], summary: null });
  });

  it('that does not end is ended in its time', async () => {
    const before = Date.now();
    const done = await runJob(astray('loop'), { workerUrl: LOOP, limits: { timeS: 0.5 } });
    expect(done).toMatchObject({ exitCode: 2, findings: [{ code: 'pipeline.out-of-time' }] });
    expect(Date.now() - before).toBeLessThan(20_000);
  });

  it('that eats memory is ended, and the caller lives on', async () => {
    const done = await runJob(astray('memory'), { workerUrl: LOOP, limits: { memoryMb: 64 } });
    expect(done).toMatchObject({ exitCode: 2, findings: [{ code: 'pipeline.out-of-memory' }] });
  });

  it('that hits a fault of ours says so', async () => {
    const done = await runJob(astray('throw'), { workerUrl: LOOP });
    expect(done).toMatchObject({ kind: 'fault', exitCode: 3 });
    expect(done.kind === 'fault' && done.detail).toContain('a fault on purpose');
  });

  it('that ends without a word is a fault too', async () => {
    expect(await runJob(astray('silent'), { workerUrl: LOOP })).toMatchObject({ kind: 'fault', exitCode: 3 });
  });

  it('of too large a file is not begun', async () => {
    const done = await runJob(input, { workerUrl: WORKER_URL, limits: { fileMb: 0.001 } });
    expect(done).toMatchObject({ exitCode: 2, findings: [{ code: 'pipeline.file-too-large' }] });
  });

  it('goes on beside one that fails', async () => {
    const [bad, good] = await Promise.all([
      runJob(astray('loop'), { workerUrl: LOOP, limits: { timeS: 0.5 } }),
      runJob(input, { workerUrl: WORKER_URL }),
    ]);
    expect(bad.exitCode).toBe(2);
    expect(good.kind).toBe('done');
    expect(good.exitCode).toBeLessThan(2);
  });
});

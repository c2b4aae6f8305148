/** The client of the guide against a service with keys, and the command that begins one. */

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Client, ServiceProblem } from '../../docs/guide/client/client.js';
import { shutterwright } from '../support/dist.js';
import { ROOT } from '../support/repository.js';
import { freshFolder, served } from './served.js';

const folder = freshFolder();
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const keyOf = (stdout: string) => {
  const [, key, , line] = stdout.split('\n');
  return { key: key!, line: line! };
};

describe('the client of the guide', () => {
  it('brings a drawing with a key, hears of its stages, and fetches its files', async () => {
    const made = keyOf(shutterwright(['serve', '--new-key', 'ci'], folder).stdout);
    const keysFile = join(folder, 'keys.txt');
    writeFileSync(keysFile, `${made.line}\n`);
    const own = await served({ keysFile });
    const client = new Client(own.url, made.key);
    const drawing = new TextEncoder().encode('walls');
    const { id } = await client.bring({ fileName: 'wait-300.dxf', drawing, job: { levels: { topMm: 2400 } } });
    const stages: string[] = [];
    const job = await client.ended(id, (stage) => stages.push(stage));
    expect([job.exitCode, stages]).toEqual([0, ['read']]);
    expect(new TextDecoder().decode(await client.file(job.files[0]!))).toBe('walls');
    const wrong = client.bring({ fileName: 'a.dxf', drawing, job: 'levels: { topMm: x }' });
    await expect(wrong).rejects.toMatchObject({ status: 422, errors: [{ pointer: '#/levels/topMm' }] });
    await expect(client.cancel(id)).rejects.toMatchObject({ status: 409 });
    await client.forget(id);
    await expect(client.job(id)).rejects.toBeInstanceOf(ServiceProblem);
    await expect(new Client(own.url).job(id)).rejects.toMatchObject({ status: 401 });
    await own.end();
  });
});

describe('serve', () => {
  it('refuses in one sentence what it may not do', () => {
    for (const [args, words] of [
      [['--host', '0.0.0.0'], /^Without keys only this machine may call/],
      [['--port', '70000'], /must be a port/],
    ] as const) {
      const { status, stderr, stdout } = shutterwright(['serve', ...args], folder);
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toMatch(words);
      expect(stderr.trim().split('\n')).toHaveLength(1);
    }
  });

  it('lays a drawing out, and ends with 0 when it is told to', async () => {
    const args = [`${ROOT}dist/cli/main.js`, 'serve', '--port', '0', '--data', 'data', '--grace', '1'];
    const program: ChildProcess = spawn(process.execPath, args, { cwd: folder });
    const log: string[] = [];
    program.stderr!.on('data', (chunk) => log.push(String(chunk)));
    const [said] = (await once(program.stdout!, 'data')) as [Buffer];
    const url = /http:\S+/.exec(String(said))![0];
    const client = new Client(url);
    const drawing = readFileSync(`${ROOT}fixtures/07-questions-to-answer/weir-store.dxf`);
    const { id } = await client.bring({ fileName: 'weir-store.dxf', drawing, kind: 'trace' });
    const job = await client.ended(id);
    expect(job.files.map((f) => f.name)).toEqual([
      'weir-store.trace.dxf',
      'weir-store.trace.json',
      'weir-store.job.proposed.yaml',
    ]);
    program.kill('SIGTERM');
    expect(await once(program, 'exit')).toEqual([0, null]);
    const lines = log
      .join('')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { msg: string });
    expect(lines.map((l) => l.msg)).toEqual(
      expect.arrayContaining(['listening', 'request', 'job ended', 'stopping', 'stopped']),
    );
    expect(log.join('')).not.toContain('weir-store');
  }, 40_000);
});

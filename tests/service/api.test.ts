/** The service's addresses, seen by a program that calls them. Every answer is held against the published document (./contract.ts). */

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { CAUTIONS } from '../../src/ground/cautions.js';
import type { JobList } from '../../src/service/shapes.js';
import { answered, callerOf } from './caller.js';
import { type Served, served } from './served.js';

let service: Served;
let caller: ReturnType<typeof callerOf>;
beforeAll(async () => {
  service = await served({ workers: 2 });
  caller = callerOf(service.url);
});
afterAll(() => service.end());

const problemOf = (name: string) => `/api/problems/${name}`;

describe('bringing a drawing', () => {
  it('makes a job that waits, runs and ends with its files', async () => {
    const brought = await caller.bring('walls', 'plan.dxf');
    expect(brought.status).toBe(202);
    expect(brought.headers.location).toBe(`/api/jobs/${brought.json.id}`);
    expect(brought.json).toMatchObject({ fileName: 'plan.dxf', sizeBytes: 5, kind: 'layout', result: null });
    expect(brought.json.sha256).toBe(createHash('sha256').update('walls').digest('hex'));
    const job = await caller.ended(brought.json.id);
    expect(job).toMatchObject({ state: 'ended', exitCode: 0, stage: null, cautions: CAUTIONS });
    expect(job.files.map((f: { name: string }) => f.name)).toEqual(['plan.dxf.echo']);
    const file = await caller.get(job.files[0].href);
    expect(file.text).toBe('walls');
  });

  it('gives the job that there is where the same is brought again, and another one for anything that differs', async () => {
    const [first, again] = [await caller.bring('same'), await caller.bring('same')];
    expect([first.status, again.status]).toEqual([202, 200]);
    expect(again.json.id).toBe(first.json.id);
    for (const other of [
      await caller.bring('same', 'other.dxf'),
      await caller.bring('same', 'plan.dxf', { job: 'levels: { topMm: 2500 }' }),
      await caller.bring('same', 'plan.dxf', { kind: 'trace' }),
    ])
      expect(other.status).toBe(202);
  });

  it('takes a job file as YAML, as JSON, as a field and as a file', async () => {
    const ids = new Set<string>();
    for (const job of ['concrete:\n  rateMPerH: 1.2\n', '{"concrete":{"rateMPerH":1.2}}'])
      ids.add((await caller.bring('forms', 'a.dxf', { job })).json.id);
    const file = await answered(
      caller
        .call('post', '/api/jobs')
        .attach('job', Buffer.from('concrete: { rateMPerH: 1.2 }'), 'a.job.yaml')
        .attach('drawing', Buffer.from('forms'), 'a.dxf'),
    );
    expect(ids.add(file.json.id).size).toBe(1);
  });

  it('has pictures where they are wished for and its job file says nothing of them', async () => {
    const { call } = callerOf(service.url);
    const asked = async (pictures: string, job: string) => {
      const form = call('post', '/api/jobs').field('pictures', pictures).field('job', job);
      return answered(form.attach('drawing', Buffer.from(pictures + job), 'plan.dxf'));
    };
    const said = async (pictures: string, job: string) => {
      const { id } = (await asked(pictures, job)).json;
      await vi.waitFor(() => readdirSync(join(service.data, 'jobs/ended', id)));
      return JSON.parse(readFileSync(join(service.data, 'jobs/ended', id, 'settings.json'), 'utf8'));
    };
    expect(await said('svg', '')).toMatchObject({ job: { output: { pictures: 'svg' } }, jobAsGiven: {} });
    expect((await said('svg', 'output: { pdf: false }')).job.output).toEqual({ pictures: 'svg', pdf: false });
    expect((await said('svg', 'output: { pictures: none }')).job.output).toEqual({ pictures: 'none' });
    expect((await asked('gif', '')).status).toBe(400);
  });

  it('says of a wrong job file which keys are wrong and where', async () => {
    const job = JSON.stringify({ levels: { topMm: 'high', at: [{ near: [1] }] }, walls: 2, 'a/b': 1 });
    const { status, json, headers } = await caller.bring('x', 'x.dxf', { job });
    expect(status).toBe(422);
    expect(headers['content-type']).toContain('application/problem+json');
    expect(json).toMatchObject({ type: problemOf('bad-job-file'), status: 422 });
    expect(json.errors.map((e: { pointer: string }) => e.pointer).sort()).toEqual([
      '#/a~1b',
      '#/levels/at/0/near',
      '#/levels/topMm',
      '#/walls',
    ]);
    expect(json.errors.find((e: { pointer: string }) => e.pointer === '#/levels/topMm').detail).toBe(
      'levels.topMm must be a number, but is a text.',
    );
    expect((await caller.bring('x', 'x.dxf', { job: '{ not: [yaml' })).json.detail).toContain('not valid YAML');
  });

  it('wants files that the job file names, and takes those that come along', async () => {
    const named = { job: 'catalogue: yard.yaml' };
    const missing = await caller.bring('x', 'y.dxf', named);
    expect(missing).toMatchObject({ status: 422, json: { type: problemOf('bad-settings') } });
    expect(missing.json.detail).toContain("the part 'catalogue'");
    const along = caller.call('post', '/api/jobs').field('job', named.job);
    along.attach('catalogue', Buffer.from('name: mine'), 'yard.yaml').attach('drawing', Buffer.from('x'), 'y.dxf');
    expect((await answered(along)).status).toBe(202);
    const wrong = caller.call('post', '/api/jobs').attach('stock', Buffer.from('a: [b'), 's.yaml');
    expect((await answered(wrong.attach('drawing', Buffer.from('x'), 'y.dxf'))).json).toMatchObject({ status: 422 });
  });

  it('keeps a refusal and a fault apart, and tells nothing of what is inside', async () => {
    const refused = await caller.ended((await caller.bring('r', 'end-refuse.dxf')).json.id);
    expect(refused).toMatchObject({ exitCode: 2, files: [], result: { kind: 'done' } });
    expect(refused.result.findings[0]).toMatchObject({ code: 'read.refused', message: 'Refused on purpose.' });
    expect(refused.result.findings[0].action).toMatch(/\.$/);
    const fault = await caller.ended((await caller.bring('r', 'end-throw.dxf')).json.id);
    expect(fault).toMatchObject({ state: 'ended', exitCode: 3, result: { kind: 'fault' } });
    expect(JSON.stringify(fault)).not.toContain('on purpose');
  });
});

describe('a job', () => {
  it('is listed newest first, page by page', async () => {
    for (let i = 0; i < 3; i++) await caller.bring(`listed ${i}`, `listed-${i}.dxf`);
    const all = (await caller.get('/api/jobs?limit=200')).json;
    expect(all.next).toBeNull();
    const ids = all.jobs.map((j: { id: string }) => j.id);
    expect(ids).toEqual([...ids].sort().reverse());
    expect(all.jobs[0].fileName).toBe('listed-2.dxf');
    const paged: string[] = [];
    for (let before: string | null = ''; before !== null; ) {
      const page: JobList = (await caller.get(`/api/jobs?limit=2${before && `&before=${before}`}`)).json;
      paged.push(...page.jobs.map((j) => j.id));
      before = page.next;
    }
    expect(paged).toEqual(ids);
    expect(
      (await caller.get('/api/jobs?kind=trace')).json.jobs.every((j: { kind: string }) => j.kind === 'trace'),
    ).toBe(true);
    for (const query of ['limit=0', 'limit=1e9', 'limit=x', 'before=../x', 'state=odd', 'limit=1&limit=2'])
      expect((await caller.get(`/api/jobs?${query}`)).status, query).toBe(400);
  });

  it('that runs is cancelled within a second, and one that waits at once', async () => {
    const runs = (await caller.bring('long', 'wait-9000.dxf')).json.id;
    const runsToo = (await caller.bring('long', 'wait-9001.dxf')).json.id;
    const waits = (await caller.bring('behind', 'behind.dxf')).json.id;
    await vi.waitFor(async () => expect((await caller.get(`/api/jobs/${runs}`)).json.state).toBe('running'));
    expect((await caller.del(`/api/jobs/${waits}`)).json).toMatchObject({ state: 'cancelled', exitCode: null });
    for (const id of [runs, runsToo]) {
      expect((await caller.del(`/api/jobs/${id}?only=forget`)).json).toMatchObject({ status: 409 });
      expect((await caller.del(`/api/jobs/${id}?only=cancel`)).status).toBe(202);
      expect((await caller.ended(id)).state).toBe('cancelled');
    }
  });

  it('that has ended is forgotten with its files', async () => {
    const { id } = (await caller.bring('to forget')).json;
    const { files } = await caller.ended(id);
    expect((await caller.del(`/api/jobs/${id}?only=cancel`)).json.type).toBe(problemOf('wrong-state'));
    expect((await caller.del(`/api/jobs/${id}`)).status).toBe(204);
    expect((await caller.get(`/api/jobs/${id}`)).json.type).toBe(problemOf('job-not-found'));
    expect((await caller.get(files[0].href)).status).toBe(404);
    expect((await caller.del(`/api/jobs/${id}`)).status).toBe(404);
  });
});

describe('progress', () => {
  const eventsOf = (text: string) =>
    text
      .split('\n\n')
      .filter((block) => block.includes('event: '))
      .map((block) => Object.fromEntries(block.split('\n').map((line) => line.split(/: (.*)/s).slice(0, 2))));

  it('comes as events to the end of the job, also to who comes late or back', async () => {
    const { id } = (await caller.bring('watched', 'wait-300.dxf')).json;
    const live = await caller.get(`/api/jobs/${id}/events`);
    expect(live.headers['content-type']).toBe('text/event-stream');
    const events = eventsOf(live.text);
    expect(events.at(-1)).toMatchObject({ event: 'ended', id: 'end' });
    expect(JSON.parse(events.at(-1)!.data!)).toEqual({ id, state: 'ended', stage: null, exitCode: 0 });
    expect(events.map((e) => JSON.parse(e.data!).stage)).toContain('read');
    const late = eventsOf((await caller.get(`/api/jobs/${id}/events`)).text);
    expect(late.map((e) => e.event)).toEqual(['ended']);
    for (const [last, status] of [
      ['end', 204],
      ['2', 200],
      ['{"x":1}', 200],
    ] as const)
      expect((await answered(caller.call('get', `/api/jobs/${id}/events`).set('Last-Event-ID', last))).status).toBe(
        status,
      );
  });

  it('keeps the connection open by comments, and a caller that goes away leaves nothing behind', async () => {
    const own = await served({ heartbeatMs: 50 });
    const { bring } = callerOf(own.url);
    const { id } = (await bring('slow', 'wait-600.dxf')).json;
    const text = (await callerOf(own.url).get(`/api/jobs/${id}/events`)).text;
    expect(text.match(/^: /gm)!.length).toBeGreaterThan(3);
    const other = (await bring('slower', 'wait-5000.dxf')).json.id;
    const leaving = new AbortController();
    const streams = async () =>
      /shutterwright_event_streams (\d+)/.exec((await callerOf(own.url).get('/metrics')).text)![1];
    const stream = await fetch(`${own.url}/api/jobs/${other}/events`, { signal: leaving.signal });
    expect(await streams()).toBe('1');
    leaving.abort();
    await stream.text().catch(() => undefined);
    await vi.waitFor(async () => expect(await streams()).toBe('0'));
    await own.end();
  });
});

describe('a file', () => {
  it('has its type, its name in every script, its hash, and no way out of a sandbox', async () => {
    const name = 'Kellerwände „Süd“ 100%.dxf';
    const { id } = (await caller.bring('umlauts', name)).json;
    const [file] = (await caller.ended(id)).files;
    const got = await caller.get(file.href);
    expect(file.name).toBe(`${name}.echo`);
    expect(got.headers).toMatchObject({
      etag: `"${file.sha256}"`,
      'x-content-type-options': 'nosniff',
      'content-type': 'application/octet-stream',
      'cache-control': 'private, no-cache',
    });
    const [, encoded] = /^attachment; filename="[\x20-\x7e]+"; filename\*=UTF-8''(\S+)$/.exec(
      got.headers['content-disposition']!,
    )!;
    expect(decodeURIComponent(encoded!)).toBe(file.name);
    expect(createHash('sha256').update(got.bytes).digest('hex')).toBe(file.sha256);
    const again = await answered(caller.call('get', file.href).set('If-None-Match', got.headers.etag!));
    expect([again.status, again.text]).toEqual([304, '']);
    expect((await answered(caller.call('head', file.href))).headers['content-length']).toBe(String(file.sizeBytes));
  });
});

describe('about itself the service', () => {
  it('tells that it lives, is ready, and its figures', async () => {
    expect((await caller.get('/healthz')).json).toEqual({ status: 'ok', checks: {} });
    expect((await caller.get('/readyz')).json).toEqual({
      status: 'ok',
      checks: { store: 'ok', disk: 'ok', runner: 'ok' },
    });
    const { text } = await caller.get('/metrics');
    expect(Number(/^shutterwright_jobs\{state="ended"\} (\d+)$/m.exec(text)![1])).toBeGreaterThan(3);
    expect(text).toMatch(/^shutterwright_jobs_ended_total\{kind="layout",exit_code="0"\} \d+$/m);
    expect(text).toMatch(/^shutterwright_jobs_ended_total\{kind="layout",exit_code="cancelled"\} 3$/m);
    expect(text).toMatch(/^shutterwright_stage_duration_seconds_count\{stage="read"\} \d+$/m);
    expect(text).toMatch(/^nodejs_eventloop_lag_p99_seconds /m);
    expect(text).toContain('route="/api/jobs/:id/files/:name"');
  });

  it('explains every problem, and says so where there is nothing', async () => {
    expect((await caller.get('/api/problems/bad-job-file')).json).toMatchObject({ status: 422 });
    for (const path of ['/api/problems/toString', '/api/problems/none', '/api/nothing', '/nothing', '/api/jobs/x/y/z'])
      expect((await caller.get(path)).json, path).toMatchObject({ status: 404, type: problemOf('not-found') });
    const put = await answered(caller.call('put', '/api/jobs'));
    expect(put).toMatchObject({ status: 405, headers: { allow: 'GET, POST, HEAD' } });
  });

  it('publishes the document that it keeps to', async () => {
    const { json } = await caller.get('/api/openapi.json');
    expect(json.openapi).toBe('3.1.0');
    expect(Object.keys(json.paths)).toContain('/api/jobs/{id}/files/{name}');
  });

  it('logs requests by route and id, and never what a drawing is called', async () => {
    await caller.bring('secret content', 'secret-name.dxf');
    const text = JSON.stringify(service.logged);
    expect(text).not.toContain('secret');
    const about = service.logged.filter((l) => l.words === 'request').at(-1)!.about;
    expect(about).toMatchObject({ method: 'POST', route: '/api/jobs', status: 202 });
    expect(about.jobId).toMatch(/^[0-9a-z]{33}$/);
    const told = await answered(caller.call('get', '/healthz').set('X-Request-Id', 'mine-1'));
    expect(told.headers['x-request-id']).toBe('mine-1');
  });
});

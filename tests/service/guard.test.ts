/** Who may call the service: by which name, from which page, with which key, how often. */

import { mkdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../src/jobs/refusal.js';
import { newKey } from '../../src/service/index.js';
import { answered, callerOf } from './caller.js';
import { freshFolder, type Served, served } from './served.js';

const folder = freshFolder();
const keysFile = join(folder, 'keys.txt');
const [office, site] = [newKey('office'), newKey('site')];
const writeKeys = (...lines: string[]) => writeFileSync(keysFile, `# who may call\n\n${lines.join('\n')}\n`);

let open: Served;
let keyed: Served;
beforeAll(async () => {
  writeKeys(office.line, site.line);
  [open, keyed] = await Promise.all([served(), served({ keysFile, host: '0.0.0.0' })]);
});
afterAll(async () => {
  await Promise.all([open.end(), keyed.end()]);
  rmSync(folder, { recursive: true, force: true });
});
const keyedUrl = () => `http://127.0.0.1:${keyed.port}`;

describe('without keys', () => {
  it.each(['0.0.0.0', '::', '10.1.2.3', 'forms.example', '127.0.0.1.example', 'localhost.example', '127.1'])(
    'the service does not begin at %s',
    async (host) => {
      const begun = served({ host });
      await expect(begun).rejects.toThrow(Refusal);
      await expect(begun).rejects.toThrow(/only this machine may call.*--keys/);
    },
  );

  it.each(['::1', '127.0.0.2', 'localhost'])('it begins at %s', async (host) => {
    const own = await served({ host }).catch((error: Error) => error);
    // A machine without IPv6 has no ::1.
    if (own instanceof Error) expect(own.message).toContain('Nothing can listen at ::1');
    else await own.end();
  });

  it('only names of this machine are answered to, so that no page can take its own name for it', async () => {
    const { call } = callerOf(open.url);
    for (const host of ['localhost', 'LOCALHOST:99', '127.0.0.1', '[::1]:8080'])
      expect((await answered(call('get', '/api/jobs').set('Host', host))).status, host).toBe(200);
    for (const host of ['evil.example', 'localhost.evil.example', '127.0.0.1.evil.example', '10.0.0.1', '127.evil'])
      for (const path of ['/api/jobs', '/', '/healthz', '/metrics'])
        expect((await answered(call('get', path).set('Host', host))).json, host).toMatchObject({
          status: 421,
          type: '/api/problems/unknown-host',
        });
    for (const host of ['a b', 'user@localhost', 'localhost/', ''])
      expect((await answered(call('get', '/api/jobs').set('Host', host))).status, host).toBe(400);
    const named = await served({ allowHosts: ['forms.example'] });
    const there = callerOf(named.url).call('get', '/api/jobs').set('Host', 'forms.example');
    expect((await answered(there)).status).toBe(200);
    await named.end();
  });

  it('pages of other sites may not bring or remove anything', async () => {
    const { call, bring } = callerOf(open.url);
    const { id } = (await bring('mine')).json;
    const own = `127.0.0.1:${open.port}`;
    const refused = [
      { Origin: 'https://evil.example' },
      { Origin: 'null' },
      { Origin: 'http://127.0.0.1:1' },
      { 'Sec-Fetch-Site': 'cross-site' },
      { 'Sec-Fetch-Site': 'same-site', Origin: `http://${own}` },
      { Origin: `http://${own}.evil.example` },
    ];
    for (const headers of refused) {
      const deleted = await answered(call('delete', `/api/jobs/${id}`).set(headers as Record<string, string>));
      expect(deleted.json, JSON.stringify(headers)).toMatchObject({ status: 403, type: '/api/problems/cross-site' });
      const brought = call('post', '/api/jobs').set(headers as Record<string, string>);
      expect((await answered(brought.attach('drawing', Buffer.from('x'), 'x.dxf'))).status).toBe(403);
    }
    const ours = { Origin: `http://${own}`, 'Sec-Fetch-Site': 'same-origin' };
    expect((await answered(call('delete', `/api/jobs/${id}`).set(ours))).status).toBeLessThan(300);
    const read = await answered(call('get', '/api/jobs').set('Origin', 'https://evil.example'));
    expect(read.headers['access-control-allow-origin']).toBeUndefined();
    expect(read.headers['cross-origin-resource-policy']).toBe('same-origin');
  });
});

describe('with keys', () => {
  it('everything but health, page, problems and the document wants one', async () => {
    const { get, call } = callerOf(keyedUrl());
    for (const path of ['/', '/app.js', '/style.css', '/healthz', '/readyz', '/api/openapi.json', '/api/session'])
      expect((await get(path).catch(() => ({ status: 200 }))).status, path).toBe(200);
    for (const path of ['/api/jobs', '/metrics', `/api/jobs/${'0'.repeat(33)}`, '/api/nothing']) {
      const { json, headers } = await get(path);
      expect(json, path).toMatchObject({ status: 401, type: '/api/problems/not-authorised' });
      expect(headers['www-authenticate']).toBe('Bearer');
    }
    for (const authorization of [
      'Bearer wrong',
      `Bearer ${office.key}x`,
      `Basic ${office.key}`,
      office.key,
      `Bearer ${office.line.split(':')[2]}`,
      `Bearer ${'k'.repeat(5000)}`,
    ])
      expect((await answered(call('get', '/api/jobs').set('Authorization', authorization))).status).toBe(401);
    for (const { key } of [office, site])
      expect((await answered(call('get', '/api/jobs').set('Authorization', `Bearer ${key}`))).status).toBe(200);
    const about = keyed.logged.filter((l) => l.words === 'request').at(-1)!.about;
    expect(about.caller).toBe('site');
    expect(JSON.stringify(keyed.logged)).not.toContain(site.key);
  });

  it('a browser signs in for a cookie that scripts cannot read, and out', async () => {
    const { call, get } = callerOf(keyedUrl());
    expect((await get('/api/session')).json).toEqual({ needsKey: true, name: null });
    const wrong = await answered(call('post', '/api/session').send({ key: 'sw_none' }));
    expect([wrong.status, wrong.headers['set-cookie']]).toEqual([401, undefined]);
    for (const body of ['{', '[]', '{"key":1}', '{"key":""}', `{"key":"${'x'.repeat(3000)}"}`])
      expect((await answered(call('post', '/api/session').type('json').send(body))).status, body).toBeGreaterThan(399);
    const signed = await answered(call('post', '/api/session').send({ key: office.key }));
    expect(signed.json).toEqual({ needsKey: true, name: 'office' });
    const [cookie] = signed.headers['set-cookie'] as unknown as string[];
    expect(cookie).toMatch(/; HttpOnly; SameSite=Strict$/);
    const pair = cookie!.split(';')[0]!;
    expect((await answered(call('get', '/api/jobs').set('Cookie', `a=b; ${pair}`))).status).toBe(200);
    expect((await answered(call('get', '/api/jobs').set('Cookie', `${pair}x`))).status).toBe(401);
    await answered(call('delete', '/api/session').set('Cookie', pair));
    expect((await answered(call('get', '/api/jobs').set('Cookie', pair))).status).toBe(401);
  });

  it('a cookie ends with its key, also where another one is given under the same name', async () => {
    const own = join(folder, 'own.txt');
    const [before, after] = [newKey('yard'), newKey('yard')];
    writeFileSync(own, before.line);
    const service = await served({ keysFile: own });
    const { call } = callerOf(service.url);
    const signed = await answered(call('post', '/api/session').send({ key: before.key }));
    const cookie = String(signed.headers['set-cookie']?.[0]).split(';')[0]!;
    const status = async () => (await answered(call('get', '/api/jobs').set('Cookie', cookie))).status;
    expect(await status()).toBe(200);
    writeFileSync(own, `${after.line}\n`);
    await vi.waitFor(async () => expect(await status()).toBe(401), { timeout: 5000, interval: 200 });
    await service.end();
  });

  it('a key that is taken out of the file is not taken any more, and a file that is wrong changes nothing', async () => {
    const { call } = callerOf(keyedUrl());
    const status = async (key: string) =>
      (await answered(call('get', '/api/jobs').set('Authorization', `Bearer ${key}`))).status;
    writeKeys(office.line, 'half a line');
    utimesSync(keysFile, 1, 1);
    await vi.waitFor(
      async () => {
        await status(office.key);
        expect(keyed.logged.map((l) => l.words)).toContain('the keys cannot be read again and stay as they were');
      },
      { timeout: 5000, interval: 200 },
    );
    expect(await status(site.key)).toBe(200);
    writeKeys(office.line);
    await vi.waitFor(async () => expect(await status(site.key)).toBe(401), { timeout: 5000, interval: 200 });
    expect(await status(office.key)).toBe(200);
  });

  it('the service does not begin with a file of keys that is none', async () => {
    const bad = join(folder, 'bad.txt');
    for (const text of ['', '# nothing\n', `${office.line}\n${office.line}\n`, 'office:md5:00\n', 'office\n']) {
      writeFileSync(bad, text);
      await expect(served({ keysFile: bad })).rejects.toThrow(Refusal);
    }
    await expect(served({ keysFile: join(folder, 'none.txt') })).rejects.toThrow(/cannot be read \(ENOENT\)/);
    expect(() => newKey('a b')).toThrow(Refusal);
  });
});

describe('too much', () => {
  it('of wrong keys is turned away by address; a good key passes all the same, and so do many who only look', async () => {
    writeKeys(office.line);
    const own = await served({ keysFile });
    const { call } = callerOf(own.url);
    const wrong = () => answered(call('get', '/api/jobs').set('Authorization', 'Bearer sw_wrong'));
    const statuses = await Promise.all(Array.from({ length: 130 }, async () => (await wrong()).status));
    expect(statuses.filter((s) => s === 401)).toHaveLength(120);
    expect(statuses.filter((s) => s === 429)).toHaveLength(10);
    const good = () => answered(call('get', '/api/jobs').set('Authorization', `Bearer ${office.key}`));
    expect((await good()).status).toBe(200);
    const { id } = (
      await answered(
        call('post', '/api/jobs')
          .set('Authorization', `Bearer ${office.key}`)
          .attach('drawing', Buffer.from('x'), 'wait-9000.dxf'),
      )
    ).json;
    const looking = new AbortController();
    const headers = { Authorization: `Bearer ${office.key}` };
    const streams = Array.from({ length: 150 }, () =>
      fetch(`${own.url}/api/jobs/${id}/events`, { headers, signal: looking.signal }),
    );
    for (const { status } of await Promise.all(streams)) expect(status).toBe(200);
    expect((await good()).status).toBe(200);
    looking.abort();
    await own.end();
  });

  it('of one caller is turned away, with the seconds to wait', async () => {
    const own = await served({ requestsPerMinute: 5, jobsPerMinute: 2 });
    const { bring, get } = callerOf(own.url);
    const statuses = [];
    for (let i = 0; i < 3; i++) statuses.push((await bring(`job ${i}`)).status);
    expect(statuses).toEqual([202, 202, 429]);
    await get('/api/jobs');
    await get('/api/jobs');
    const turned = await get('/api/jobs');
    expect(turned.json).toMatchObject({ status: 429, type: '/api/problems/too-many-requests' });
    expect(Number(turned.headers['retry-after'])).toBeGreaterThan(0);
    expect(Number(turned.headers['retry-after'])).toBeLessThanOrEqual(60);
    expect((await get('/healthz')).status).toBe(200);
    await own.end();
  });

  it('that waits is turned away', async () => {
    const own = await served({ waitingMost: 1 });
    const { bring } = callerOf(own.url);
    await bring('runs', 'wait-5000.dxf');
    await vi.waitFor(async () => {
      const { text } = await callerOf(own.url).get('/metrics');
      expect(text).toContain('shutterwright_jobs{state="running"} 1');
    });
    expect((await bring('waits', 'wait-1.dxf')).status).toBe(202);
    const turned = await bring('too much', 'wait-2.dxf');
    expect(turned).toMatchObject({ status: 503, json: { type: '/api/problems/busy' } });
    expect(turned.headers['retry-after']).toBe('30');
    await own.end();
  });
});

describe('a service that is ended', () => {
  it('ends its streams, gives running jobs back, and the next one over its folder does them', async () => {
    const data = freshFolder();
    const first = await served({ data });
    const { id } = (await callerOf(first.url).bring('long', 'wait-1500.dxf')).json;
    const stream = callerOf(first.url).get(`/api/jobs/${id}/events`);
    await vi.waitFor(async () => expect((await callerOf(first.url).get(`/api/jobs/${id}`)).json.stage).toBe('read'));
    const begun = performance.now();
    await first.end();
    expect(performance.now() - begun).toBeLessThan(2000);
    expect((await stream).text).not.toContain('event: ended');
    const second = await served({ data });
    expect(await callerOf(second.url).ended(id)).toMatchObject({ state: 'ended', exitCode: 0 });
    await second.end();
    rmSync(data, { recursive: true, force: true });
  });

  it('is not ready any more, and is not ready either where its folder cannot be written', async () => {
    const own = await served();
    const { get } = callerOf(own.url);
    rmSync(join(own.data, 'uploads'), { recursive: true });
    expect((await get('/readyz')).json).toMatchObject({ status: 'failing', checks: { disk: 'ENOENT' } });
    const lost = await callerOf(own.url).bring('x', 'x.dxf');
    expect(lost).toMatchObject({ status: 503, json: { type: '/api/problems/store-unavailable' } });
    expect(lost.text).not.toContain(own.data);
    mkdirSync(join(own.data, 'uploads'));
    expect((await callerOf(own.url).bring('x', 'x.dxf')).status).toBe(202);
    await own.end();
  });

  it('forgets jobs that ended long ago, and says so', async () => {
    const own = await served({ keepDays: 1e-6 });
    const { id } = (await callerOf(own.url).bring('old')).json;
    await callerOf(own.url).ended(id);
    await new Promise((resolve) => setTimeout(resolve, 150));
    await own.service.forgetOld();
    expect((await callerOf(own.url).get(`/api/jobs/${id}`)).status).toBe(404);
    expect(own.logged.find((l) => l.about.id === id && l.words.includes('forgotten'))).toBeDefined();
    await own.end();
  });
});

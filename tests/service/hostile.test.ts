/** Callers who mean harm. Each is answered with a clear problem, nothing is left on the disk, and others are served meanwhile. */

import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { zipSync } from 'fflate';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { cleanName } from '../../src/service/uploads.js';
import { WORKER_URL } from '../support/dist.js';
import { answered, callerOf } from './caller.js';
import { hostileRequests } from './hostileRequests.js';
import { END, filePart, part, raw, upload } from './raw.js';
import { type Served, served } from './served.js';

let service: Served;
let caller: ReturnType<typeof callerOf>;
beforeAll(async () => {
  service = await served({ limits: { fileMb: 1, timeS: 20 }, requestTimeoutS: 1 });
  caller = callerOf(service.url);
});
afterAll(() => service.end());

const uploadsLeft = () => readdirSync(join(service.data, 'uploads'));

afterEach(async () => {
  const begun = performance.now();
  expect((await caller.get('/healthz')).status).toBe(200);
  expect(performance.now() - begun).toBeLessThan(1000);
  await vi.waitFor(() => expect(uploadsLeft()).toEqual([]));
});

const problem = (name: string) => `"type":"/api/problems/${name}"`;

describe('paths', () => {
  it('in ids and names of files lead nowhere', async () => {
    const { id } = (await caller.bring('walls')).json;
    await caller.ended(id);
    const names = [
      '..%2f..%2fkeys',
      '%2e%2e%2frecord.json',
      '..%5c..%5cx',
      '0',
      'record.json',
      '%00',
      'plan.dxf.echo%00',
    ];
    const others = ['..', '..%2fended', `..%2fended%2f${id}`, `${id}%2f..`, `${id}%00`, '*', `${id}@1`];
    const paths = [
      ...names.map((name) => `/api/jobs/${id}/files/${name}`),
      ...others.flatMap((other) => ['', '/events', '/files/plan.dxf.echo'].map((rest) => `/api/jobs/${other}${rest}`)),
      '/../../etc/passwd',
    ];
    const get = (path: string) => raw(service.port, [`GET ${path} HTTP/1.1\r\nHost: localhost\r\n\r\n`]);
    const answers = await Promise.all(paths.map(async (path) => [path, (await get(path)).status]));
    expect(answers).toEqual(paths.map((path) => [path, 404]));
    for (const path of ['/api/jobs/%zz', '/api/jobs/%c0%ae%c0%ae']) expect((await get(path)).status, path).toBe(400);
  });

  it('in names of uploads are cut to a name for people', async () => {
    const names: readonly (readonly [string, string])[] = [
      ['../../../etc/cron.d/x.dxf', 'x.dxf'],
      ['..\\..\\boot.dxf', 'boot.dxf'],
      ['/abs/olute.dxf', 'olute.dxf'],
      ['C:\\plans\\a.dxf', 'a.dxf'],
      ['....dxf', 'drawing.dxf'],
      ['a\u202Efxd.exe.dxf', 'afxd.exe.dxf'],
      ['a\u0007\u001b[31mb.dxf', 'a[31mb.dxf'],
      ['..', 'drawing'],
      [`${'ü'.repeat(400)}.dxf`, `${'ü'.repeat(116)}.dxf`],
    ];
    for (const [given, kept] of names) expect(cleanName(given), given).toBe(kept);
    const brought = await raw(service.port, [upload(filePart('drawing', '../../up.dxf', 'walls') + END)]);
    expect(brought.text).toContain('"fileName":"up.dxf"');
    expect(existsSync(join(service.data, 'up.dxf'))).toBe(false);
  });
});

describe('an upload', () => {
  it('that has no drawing, a part too many, an unknown part or one twice is named', async () => {
    const drawing = filePart('drawing', 'a.dxf', 'x');
    const cases: readonly (readonly [string, number, string])[] = [
      [END, 400, "'drawing' is missing"],
      [part(['Content-Disposition: form-data; name="drawing"'], 'x') + END, 400, "'drawing' is not known"],
      [drawing + filePart('passwd', 'p', 'x') + END, 400, "'passwd' is not known"],
      [drawing + drawing + END, 400, 'more than once'],
      [
        drawing + part(['Content-Disposition: form-data; name="kind"'], 'trace').repeat(2) + END,
        400,
        'must come once, as text',
      ],
      [drawing + part(['Content-Disposition: form-data; name="kind"'], 'evil') + END, 400, 'layout, trace'],
      [drawing + part(['Content-Disposition: form-data; name="x"'], 'y').repeat(50) + END, 413, 'than are taken'],
      [drawing + part(['Content-Disposition: form-data; name="__proto__"'], 'y') + END, 400, 'is not known'],
      [drawing + part(['Content-Disposition: form-data; name="job[a][b]"'], 'y') + END, 400, 'must come once, as text'],
      [drawing + part(['Content-Disposition: form-data; name="job"'], 'j'.repeat(300_001)) + END, 413, 'longer'],
      [
        drawing + part(['Content-Disposition: form-data; name="job"'], '['.repeat(100_000)) + END,
        422,
        'nested deeper than 200 levels',
      ],
      [drawing + part(['Content-Disposition: form-data; name="job"'], BILLION) + END, 422, 'not valid YAML'],
      [drawing + filePart('job', 'j.yaml', 'k: 1\n'.repeat(2)) + END, 422, 'must be unique'],
    ];
    for (const [body, status, words] of cases) {
      const answer = await raw(service.port, [upload(body)]);
      expect([answer.status, answer.text.slice(-600)], body.slice(0, 200)).toEqual([
        status,
        expect.stringContaining(words),
      ]);
      expect(answer.text).toContain('application/problem+json');
    }
  });

  it('whose job file would keep the reader of YAML busy for half a minute is cut short, and keeps nobody waiting', async () => {
    const slow = caller.bring('x', 'x.dxf', { job: '- !!x '.repeat(33_000) });
    let longest = 0;
    let isOver = false;
    const others = (async () => {
      while (!isOver) {
        const begun = performance.now();
        await caller.get('/healthz');
        longest = Math.max(longest, performance.now() - begun);
      }
    })();
    expect(await slow).toMatchObject({ status: 422, json: { type: '/api/problems/bad-job-file' } });
    isOver = true;
    await others;
    expect(longest).toBeLessThan(1000);
    const many = Array.from({ length: 3000 }, (_, i) => `"wrong ${i}": 0`).join(',');
    const { json, text } = await caller.bring('x', 'x.dxf', { job: `{${many}}` });
    expect([json.status, json.errors.length]).toEqual([422, 50]);
    expect(text.length).toBeLessThan(50_000);
  });

  it('of which the connection goes before or while it is read leaves nothing and holds no place', async () => {
    const half = upload(filePart('drawing', 'a.dxf', 'half'), { length: 5000 });
    const cut = [half, half.slice(0, -3), half.slice(0, 200)];
    const all = Array.from({ length: 30 }, (_, i) =>
      raw(service.port, [cut[i % 3]!], { halfClose: true, giveUpMs: 3000 }),
    );
    for (const { status } of await Promise.all(all)) expect([0, 400, 503]).toContain(status);
    const leaving = Array.from({ length: 20 }, () => raw(service.port, [half], { giveUpMs: 100 }));
    await Promise.all(leaving);
    await vi.waitFor(() => expect(uploadsLeft()).toEqual([]));
    expect((await caller.bring('after all of them')).status).toBe(202);
  });

  it('that is larger than is taken ends before or while it arrives', async () => {
    const big = filePart('drawing', 'a.dxf', 'x'.repeat(1_000_001)) + END;
    expect((await raw(service.port, [upload(big)])).text).toContain(problem('too-large'));
    const announced = await raw(service.port, [upload('', { length: 1e12 })]);
    expect(announced.text).toContain(problem('too-large'));
    expect(announced.text).toContain('Connection: close');
    const body = (await caller.bring('x'.repeat(900_000))).status;
    expect(body).toBe(202);
  });

  it('that is cut, or has no end, or is no form, is told so', async () => {
    const whole = filePart('drawing', 'a.dxf', 'walls');
    expect((await raw(service.port, [upload(whole)])).text).toContain(problem('bad-upload'));
    for (const type of [
      'text/plain',
      'application/json',
      'multipart/mixed; boundary=x',
      'application/x-www-form-urlencoded',
    ])
      expect((await answered(caller.call('post', '/api/jobs').type(type).send('{}'))).status, type).toBe(415);
    const noBoundary =
      'POST /api/jobs HTTP/1.1\r\nHost: localhost\r\nContent-Type: multipart/form-data\r\nContent-Length: 2\r\n\r\nxx';
    expect((await raw(service.port, [noBoundary])).text).toContain(problem('bad-upload'));
    const gone = await raw(service.port, [upload(filePart('drawing', 'a.dxf', 'half'), { length: 5000 })], {
      halfClose: true,
      lingerMs: 200,
    });
    expect([0, 400]).toContain(gone.status);
    const longHeader = part(
      [`Content-Disposition: form-data; name="drawing"; filename="${'n'.repeat(100_000)}.dxf"`],
      'x',
    );
    expect((await raw(service.port, [upload(longHeader + END)])).status).toBe(400);
  });

  it('that arrives a byte at a time is cut, and so are headers that do', async () => {
    const slow = upload(filePart('drawing', 'a.dxf', 'x'.repeat(4000)) + END).match(/[\s\S]{1,100}/g)!;
    const headers = ['GET / HTTP/1.1\r\nHost: localhost\r\n', ...Array.from({ length: 40 }, (_, i) => `X-${i}: y\r\n`)];
    const [body, head] = await Promise.all([
      raw(service.port, slow, { pauseMs: 100, giveUpMs: 8000 }),
      raw(service.port, headers, { pauseMs: 100, giveUpMs: 8000 }),
    ]);
    for (const answer of [body, head]) {
      expect(answer.status).toBe(408);
      expect(answer.text).toContain(problem('timed-out'));
      expect(answer.ms).toBeLessThan(5000);
    }
  });
});

/** Aliases that would unfold to a thousand million values. */
const BILLION = [
  'a: &a [x,x,x,x,x,x,x,x,x,x]',
  ...'bcdefghi'.split('').map((k, i) => `${k}: &${k} [${Array(10).fill(`*${'abcdefgh'[i]}`).join(',')}]`),
].join('\n');

describe('requests that are none', () => {
  it('that Node would answer by itself have a problem as their answer', async () => {
    const asked = [
      ['GET /api/jobs HTTP/1.1\r\nHost: localhost\r\nExpect: tea\r\n\r\n', 417],
      ['GET /healthz HTTP/1.1\r\n\r\n', 400],
      ['CONNECT other:80 HTTP/1.1\r\nHost: localhost\r\n\r\n', 400],
    ] as const;
    for (const [text, status] of asked) {
      const answer = await raw(service.port, [text]);
      expect(answer.status, text).toBe(status);
      expect(answer.text, text).toMatch(/content-type: application\/problem\+json/i);
      expect(answer.text, text).toContain(`"status":${status}`);
    }
  });

  it('are told so, and headers have a measure', async () => {
    const get = (more: string) => raw(service.port, [`GET /healthz HTTP/1.1\r\nHost: localhost\r\n${more}\r\n`]);
    expect((await get(`X: ${'y'.repeat(20_000)}\r\n`)).text).toContain(problem('headers-too-large'));
    expect((await get('X-Header: yyyyyyyyyy\r\n'.repeat(1500))).status).toBe(431);
    for (const request of ['hello\r\n\r\n', '\x16\x03\x01\x02\x00\x01', 'GET / HTTP/9.9\r\n\r\n', 'GET\r\n\r\n'])
      expect((await raw(service.port, [request])).text, request).toContain(problem('bad-request'));
    const smuggled =
      'POST /api/jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n';
    expect((await raw(service.port, [smuggled])).text).toContain(problem('bad-request'));
    for (const method of ['TRACE', 'CONNECT', 'OPTIONS', 'PROPFIND'])
      expect([0, 400, 404, 405]).toContain(
        (await raw(service.port, [`${method} /api/jobs HTTP/1.1\r\nHost: localhost\r\n\r\n`])).status,
      );
  });

  it('come by the hundred, and the service serves others between them', async () => {
    const done = hostileRequests(service.port, 300, 7);
    let served = 0;
    let isOver = false;
    const others = (async () => {
      while (!isOver) {
        expect((await caller.get('/healthz')).status).toBe(200);
        served++;
      }
    })();
    const outcome = await done;
    isOver = true;
    await others;
    expect(outcome.sent).toBe(300);
    expect(outcome.faults).toEqual([]);
    expect(served).toBeGreaterThan(5);
    expect(service.logged.filter((l) => l.words === 'a request failed')).toEqual([]);
  });
});

describe('a file that is a trap', () => {
  it('meets the limits of its job, and the job ends refused', async () => {
    const own = await served({ workerUrl: WORKER_URL, limits: { timeS: 20, memoryMb: 256 } });
    const { call, ended } = callerOf(own.url);
    const bomb = zipSync({ 'a.ifc': new Uint8Array(10_000_000) }, { level: 1 });
    expect(bomb.byteLength).toBeLessThan(1_000_000);
    const brought = await answered(call('post', '/api/jobs').attach('drawing', Buffer.from(bomb), 'bomb.ifczip'));
    const begun = performance.now();
    expect((await callerOf(own.url).get('/healthz')).status).toBe(200);
    expect(performance.now() - begun).toBeLessThan(500);
    const job = await ended(brought.json.id);
    expect(job).toMatchObject({ exitCode: 2, files: [] });
    await own.end();
  }, 40_000);
});

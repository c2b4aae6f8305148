/** Many malformed requests, drawn by chance from a seed: for the test in small numbers, for `npm run hostile` in large ones. */

import { END, filePart, part, raw, upload } from './raw.js';

/** A stream of numbers in [0, 1) from a seed (mulberry32). */
const chance = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
};

const PIECES = [
  '../',
  '%2e%2e%2f',
  '%00',
  '\u0000',
  '\r\n',
  '"',
  "'",
  '<script>',
  '#{x}',
  '%',
  '*',
  '[]',
  '__proto__',
  '\uffff',
  'ü',
  ' ',
  ';',
  '\t',
  '0',
  'A'.repeat(300),
];
const METHODS = ['GET', 'POST', 'DELETE', 'PUT', 'HEAD', 'PATCH', 'OPTIONS', 'GTE', ''];
const PATHS = [
  '/',
  '/api/jobs',
  '/api/jobs/',
  '/api/session',
  '/api/problems/',
  '/metrics',
  '/readyz',
  '/api/jobs?limit=',
  '/api/jobs?before=',
];
const WHOLE = upload(
  filePart('drawing', 'a.dxf', 'walls') +
    part(['Content-Disposition: form-data; name="job"'], 'levels: { topMm: 1 }') +
    END,
);

/** One request: a whole one that was bitten, or one put together of odd pieces. */
const oneOf = (next: () => number): string => {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const odd = (most: number) => Array.from({ length: Math.floor(next() * most) }, () => pick(PIECES)).join('');
  if (next() < 0.5) {
    let text = WHOLE;
    for (let bites = 1 + Math.floor(next() * 4); bites > 0; bites--) {
      const at = Math.floor(next() * text.length);
      const long = Math.floor(next() * 40);
      text = text.slice(0, at) + (next() < 0.5 ? pick(PIECES) : '') + text.slice(at + long);
    }
    return text;
  }
  const headers = Array.from(
    { length: Math.floor(next() * 6) },
    () =>
      `${pick(['X', 'Content-Type', 'Content-Length', 'Cookie', 'Authorization', 'Origin', 'Last-Event-ID', 'If-None-Match', 'Transfer-Encoding', 'Expect', 'Range'])}: ${odd(4)}`,
  );
  return `${pick(METHODS)} ${pick(PATHS)}${odd(5)} HTTP/1.1\r\nHost: ${next() < 0.8 ? 'localhost' : odd(3)}\r\n${headers.join('\r\n')}${headers.length > 0 ? '\r\n' : ''}\r\n${odd(6)}`;
};

export interface Hostile {
  readonly sent: number;
  /** Answers by status; 0: none, the connection was left open for more or closed. */
  readonly byStatus: Readonly<Record<number, number>>;
  /** Requests that were answered by a fault of the service, or not at all by a service that is gone. */
  readonly faults: readonly string[];
}

const AT_ONCE = 16;

export const hostileRequests = async (port: number, count: number, seed: number): Promise<Hostile> => {
  const next = chance(seed);
  const byStatus: Record<number, number> = {};
  const faults: string[] = [];
  let sent = 0;
  const work = async () => {
    while (sent < count) {
      sent++;
      const request = oneOf(next);
      const { status, text } = await raw(port, [request], { halfClose: true, lingerMs: 5, giveUpMs: 3000 });
      byStatus[status] = (byStatus[status] ?? 0) + 1;
      if (status === 500) faults.push(`${JSON.stringify(request.slice(0, 300))} -> ${text.slice(0, 300)}`);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return { sent, byStatus, faults };
};

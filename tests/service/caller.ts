/** Calls a service through supertest and holds every answer against the contract. */

import request, { type Response, type Test } from 'supertest';
import { expect } from 'vitest';
import { breaches } from './contract.js';

export type Method = 'get' | 'post' | 'delete' | 'put' | 'patch' | 'head';

/** The bytes of an answer as text, whatever its type. */
const whole = (res: unknown, done: (error: Error | null, body: unknown) => void) => {
  const stream = res as NodeJS.ReadableStream;
  const chunks: Buffer[] = [];
  stream.on('data', (chunk: Buffer) => chunks.push(Buffer.from(chunk)));
  stream.on('end', () => done(null, Buffer.concat(chunks)));
};

export interface Answered {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly bytes: Buffer;
  readonly text: string;
  // biome-ignore lint/suspicious/noExplicitAny: tests say what they expect of it
  readonly json: any;
}

export const answered = async (test: Test): Promise<Answered> => {
  const response: Response = await test.buffer(true).parse(whole);
  const bytes = response.body instanceof Buffer ? response.body : Buffer.alloc(0);
  const text = bytes.toString('utf8');
  const type = response.headers['content-type'] ?? '';
  const { method, url } = test as unknown as { method: string; url: string };
  if (method !== 'HEAD') expect(breaches({ method, path: url, status: response.status, type, body: text })).toEqual([]);
  return {
    status: response.status,
    headers: response.headers,
    bytes,
    text,
    json: /json/.test(type) && text !== '' ? JSON.parse(text) : null,
  };
};

export const callerOf = (url: string) => {
  const call = (method: Method, path: string): Test => request(url)[method](path);
  return {
    call,
    get: (path: string) => answered(call('get', path)),
    del: (path: string) => answered(call('delete', path)),
    /** Brings a drawing; `job` as a field. */
    bring: (content: string, fileName = 'plan.dxf', fields: Readonly<Record<string, string>> = {}) => {
      const test = call('post', '/api/jobs').attach('drawing', Buffer.from(content), fileName);
      for (const [name, value] of Object.entries(fields)) test.field(name, value);
      return answered(test);
    },
    /** The job when it has come to its end. */
    async ended(id: string): Promise<Answered['json']> {
      for (let look = 0; look < 400; look++) {
        const { json } = await answered(call('get', `/api/jobs/${id}`));
        if (json.endedAt !== null) return json;
        await new Promise((resolve) => setTimeout(resolve, 25));
      }
      throw new Error(`job ${id} does not end`);
    },
  };
};

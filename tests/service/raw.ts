/** Bytes to a port as they are, and what comes back: for requests that no client would send. */

import { connect } from 'node:net';

export interface RawAnswer {
  /** 0 where the connection ended without an answer. */
  readonly status: number;
  readonly text: string;
  readonly ms: number;
}

/** Sends pieces one after the other, `pauseMs` apart, and waits for the connection to close or for an answer and then `lingerMs`. */
export const raw = (
  port: number,
  pieces: readonly (string | Uint8Array)[],
  { pauseMs = 0, lingerMs = 50, giveUpMs = 10_000, halfClose = false } = {},
): Promise<RawAnswer> =>
  new Promise((resolve) => {
    const begun = performance.now();
    const chunks: Buffer[] = [];
    const socket = connect(port, '127.0.0.1');
    let linger: NodeJS.Timeout | null = null;
    const done = () => {
      clearTimeout(timer);
      if (linger) clearTimeout(linger);
      socket.destroy();
      const text = Buffer.concat(chunks).toString('utf8');
      resolve({ status: Number(/^HTTP\/1\.1 (\d{3})/.exec(text)?.[1] ?? 0), text, ms: performance.now() - begun });
    };
    const timer = setTimeout(done, giveUpMs);
    socket.on('data', (chunk) => {
      chunks.push(chunk);
      linger ??= setTimeout(done, lingerMs);
    });
    socket.on('error', () => undefined);
    socket.on('close', done);
    socket.on('connect', async () => {
      for (const piece of pieces) {
        if (socket.destroyed) return;
        socket.write(piece);
        if (pauseMs > 0) await new Promise((r) => setTimeout(r, pauseMs));
      }
      if (halfClose) socket.end();
    });
  });

const BOUNDARY = 'xx--boundary--xx';

export const part = (headers: readonly string[], content: string): string =>
  `--${BOUNDARY}\r\n${headers.join('\r\n')}\r\n\r\n${content}\r\n`;

export const filePart = (name: string, fileName: string, content: string): string =>
  part([`Content-Disposition: form-data; name="${name}"; filename="${fileName}"`], content);

/** A request with a body of parts, whole unless cut. */
export const upload = (
  body: string,
  { length = Buffer.byteLength(body), more = [] as readonly string[] } = {},
): string =>
  [
    'POST /api/jobs HTTP/1.1',
    'Host: 127.0.0.1',
    `Content-Type: multipart/form-data; boundary=${BOUNDARY}`,
    `Content-Length: ${length}`,
    ...more,
    '',
    body,
  ].join('\r\n');

export const END = `--${BOUNDARY}--\r\n`;

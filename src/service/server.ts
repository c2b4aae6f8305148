/** The listening socket: limits of time and size, and what is said to requests that are none. */

import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import { Refusal } from '../jobs/refusal.js';
import { CONNECTIONS_MOST, HEADERS_MOST, HEADERS_TIMEOUT_MS, IDLE_TIMEOUT_MS } from './options.js';
import { PROBLEMS, type ProblemName, problemBody } from './problems.js';

/** Between looks for requests that take too long, ms. */
const LOOK_MS = 1_000;

const kindOf = (code: string | undefined): readonly [ProblemName, string] => {
  if (code === 'ERR_HTTP_REQUEST_TIMEOUT') return ['timed-out', 'The request did not arrive in time.'];
  if (code === 'HPE_HEADER_OVERFLOW') return ['headers-too-large', 'The headers have more than 16 KiB.'];
  return ['bad-request', 'What was sent is no request of HTTP/1.1.'];
};

/** Answers what the parser of HTTP refuses, where an answer has not begun, and closes. */
const refuse = (
  error: NodeJS.ErrnoException,
  socket: Socket & { _httpMessage?: { headersSent?: boolean } | null },
): void => {
  if (!socket.writable || error.code === 'ECONNRESET' || socket._httpMessage?.headersSent) {
    socket.destroy();
    return;
  }
  end(socket, ...kindOf(error.code));
};

/** Answers without the rest of the service, and closes. */
const end = (socket: Socket, name: ProblemName, detail: string): void => {
  const body = JSON.stringify(problemBody(name, detail));
  const { status, title } = PROBLEMS[name];
  socket.end(
    `HTTP/1.1 ${status} ${title}\r\nConnection: close\r\nContent-Type: application/problem+json\r\nX-Content-Type-Options: nosniff\r\nContent-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`,
    () => socket.destroy(),
  );
};

/** A server that listens; a Refusal where the port cannot be had. */
export const listening = async (
  listener: RequestListener,
  { host, port, requestTimeoutS }: { readonly host: string; readonly port: number; readonly requestTimeoutS: number },
): Promise<{ readonly server: Server; readonly port: number }> => {
  const requestTimeout = requestTimeoutS * 1000;
  const server = createServer(
    {
      requestTimeout,
      headersTimeout: Math.min(HEADERS_TIMEOUT_MS, requestTimeout),
      connectionsCheckingInterval: Math.min(LOOK_MS, requestTimeout / 2),
      maxHeaderSize: HEADERS_MOST,
      // The guard says what is wrong with a missing one.
      requireHostHeader: false,
      // Longer than proxies keep theirs, so that none sends into a connection that is being closed.
      keepAliveTimeout: 75_000,
    },
    listener,
  );
  // What Node would answer by itself, without a body that says why.
  server.on('checkExpectation', (_req, res) => {
    const body = JSON.stringify(problemBody('expectation-failed', 'The header Expect may be 100-continue alone.'));
    res.writeHead(417, { 'Content-Type': 'application/problem+json', Connection: 'close' }).end(body);
  });
  server.on('connect', (_req, socket) => end(socket as Socket, 'bad-request', 'This service is no proxy.'));
  server.maxConnections = CONNECTIONS_MOST;
  server.setTimeout(IDLE_TIMEOUT_MS);
  server.on('clientError', refuse);
  await new Promise<void>((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) =>
      reject(new Refusal(`Nothing can listen at ${host}, port ${port} (${error.code}).`)),
    );
    server.listen(port, host, resolve);
  });
  return { server, port: (server.address() as AddressInfo).port };
};

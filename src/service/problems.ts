/** What a caller is told when a request fails: problem details of RFC 9457, each of a type that is explained under its own address. */

import type { ErrorRequestHandler, Response } from 'express';
import type { ServiceLog } from './log.js';

interface ProblemKind {
  readonly status: number;
  readonly title: string;
  /** What it means and what to do. */
  readonly meaning: string;
}

export const PROBLEMS = {
  'bad-request': {
    status: 400,
    title: 'The request cannot be understood',
    meaning: 'The address, a parameter or the body of the request is not well formed.',
  },
  'bad-upload': {
    status: 400,
    title: 'The upload cannot be used',
    meaning:
      'A body of type multipart/form-data is expected with one part `drawing` that has a file name, and if wanted `job`, `catalogue`, `stock`, `survey`, `kind` and `pictures`, each once.',
  },
  'not-authorised': {
    status: 401,
    title: 'A key is needed',
    meaning: 'Send `Authorization: Bearer KEY` with a key of this service, or sign in on its page.',
  },
  'cross-site': {
    status: 403,
    title: 'Requests of other sites are refused',
    meaning: 'A browser sent this request for a page that is not of this service.',
  },
  'not-found': { status: 404, title: 'There is nothing here', meaning: 'No such address.' },
  'job-not-found': {
    status: 404,
    title: 'There is no such job',
    meaning: 'It never was, or it ended long ago and was forgotten.',
  },
  'file-not-found': {
    status: 404,
    title: 'The job has no such file',
    meaning: 'The files that there are stand in the job, with their addresses.',
  },
  'method-not-allowed': {
    status: 405,
    title: 'The method is not known here',
    meaning: 'The header `Allow` names those that are.',
  },
  'timed-out': {
    status: 408,
    title: 'The request took too long',
    meaning: 'Header and body have to arrive within the limits of the service; the connection was closed.',
  },
  'wrong-state': {
    status: 409,
    title: 'The job is not in that state any more',
    meaning: 'It went on between what was asked and now. Ask for it again.',
  },
  'too-large': {
    status: 413,
    title: 'The upload is too large',
    meaning: 'A drawing or another part is larger than the service takes, or there are too many parts.',
  },
  'unsupported-media-type': {
    status: 415,
    title: 'The body has another type than is expected',
    meaning: 'Jobs are brought as multipart/form-data, a session as application/json.',
  },
  'unknown-host': {
    status: 421,
    title: 'The service does not go by that name',
    meaning:
      'The header `Host` names neither this machine nor a name that the service was begun with (`--allow-host`).',
  },
  'expectation-failed': {
    status: 417,
    title: 'What the request expects is not known',
    meaning: 'The header `Expect` may be `100-continue` alone; leave it out.',
  },
  'bad-job-file': {
    status: 422,
    title: 'The job file cannot be used',
    meaning: 'Each of `errors` names a key by a JSON pointer and says what is wrong with it.',
  },
  'bad-settings': {
    status: 422,
    title: 'A file that belongs to the job cannot be used',
    meaning: 'The catalogue, stock or survey is missing, too large or cannot be read.',
  },
  'too-many-requests': {
    status: 429,
    title: 'Too many requests',
    meaning: 'Wait as many seconds as `Retry-After` says.',
  },
  'headers-too-large': {
    status: 431,
    title: 'The headers are too large',
    meaning: 'All headers of a request together may have 16 KiB.',
  },
  fault: {
    status: 500,
    title: 'The service itself failed',
    meaning: 'A fault of the program, not of the drawing; its log has more under the id of the request.',
  },
  busy: {
    status: 503,
    title: 'The service has all that it can hold',
    meaning: 'Too many jobs wait or too many uploads are under way. Wait as many seconds as `Retry-After` says.',
  },
  stopping: { status: 503, title: 'The service is stopping', meaning: 'It takes no new work.' },
  'store-unavailable': {
    status: 503,
    title: 'The store of jobs cannot be read or written',
    meaning: 'Nothing of what was asked has happened. The disk may be full.',
  },
} as const satisfies Record<string, ProblemKind>;

export type ProblemName = keyof typeof PROBLEMS;

export interface Misplaced {
  /** JSON pointer of RFC 6901 as a fragment: '#/levels/topMm'. */
  readonly pointer: string;
  readonly detail: string;
}

export class Problem extends Error {
  constructor(
    readonly problem: ProblemName,
    readonly detail: string,
    readonly more: { readonly errors?: readonly Misplaced[]; readonly headers?: Readonly<Record<string, string>> } = {},
  ) {
    super(detail);
  }
}

export const problemType = (name: ProblemName): string => `/api/problems/${name}`;

export const problemBody = (name: ProblemName, detail: string, errors?: readonly Misplaced[]) => ({
  type: problemType(name),
  title: PROBLEMS[name].title,
  status: PROBLEMS[name].status,
  detail,
  ...(errors ? { errors } : {}),
});

export const sendProblem = (res: Response, { problem, detail, more }: Problem): void => {
  for (const [name, value] of Object.entries(more.headers ?? {})) res.setHeader(name, value);
  res
    .status(PROBLEMS[problem].status)
    .type('application/problem+json')
    .send(JSON.stringify(problemBody(problem, detail, more.errors)));
};

/** What a library of ours threw about a request, in our words; null: it is a fault. */
const ofLibrary = (error: unknown): Problem | null => {
  const { status, type } = error as { status?: number; type?: string };
  if (status === 413) return new Problem('too-large', 'The body of the request is larger than is taken.');
  if (status === 415) return new Problem('unsupported-media-type', 'The body has an encoding that is not taken.');
  if (type === 'request.aborted') return new Problem('bad-request', 'The request ended before its body was whole.');
  if (status !== undefined && status >= 400 && status < 500)
    return new Problem('bad-request', 'The address or the body of the request is not well formed.');
  return null;
};

/** A store that cannot be written, or a disk that is full, comes as an error with a code of the system. */
const isOfSystem = (error: unknown): boolean =>
  /^E[A-Z]+$/.test(String((error as NodeJS.ErrnoException | null)?.code ?? ''));

/** Everything that a handler throws ends here. */
export const answerErrors =
  (log: ServiceLog): ErrorRequestHandler =>
  (error, _req, res, _next) => {
    const known = error instanceof Problem ? error : ofLibrary(error);
    if (!known) {
      log('error', 'a request failed', {
        requestId: res.locals.requestId,
        error: error instanceof Error ? error.stack : String(error),
      });
    }
    if (res.headersSent) {
      res.destroy();
      return;
    }
    const fallback = isOfSystem(error)
      ? new Problem('store-unavailable', 'The store of jobs cannot be read or written now.')
      : new Problem('fault', `Look for ${String(res.locals.requestId)} in the log.`);
    sendProblem(res, known ?? fallback);
  };

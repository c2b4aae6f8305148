/** The service as this page calls it. */

import type { JobList, JobView, ProblemView, ProgressView, SessionView } from '../shapes.js';

/** An answer that is no success. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problem: ProblemView | null,
  ) {
    super(problem?.detail ?? `The service answered ${status}.`);
  }
}

const answered = async (path: string, init: RequestInit = {}): Promise<Response> => {
  let response: Response;
  try {
    response = await fetch(path, { credentials: 'same-origin', ...init });
  } catch {
    throw new Error('The service cannot be reached. Is it still running?');
  }
  if (response.ok) return response;
  const problem = (await response.json().catch(() => null)) as ProblemView | null;
  throw new Refused(response.status, problem);
};

const json = async <T>(path: string, init?: RequestInit): Promise<T> => (await answered(path, init)).json();

export const session = (): Promise<SessionView> => json('api/session');

export const signIn = (key: string): Promise<SessionView> =>
  json('api/session', {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ key }),
  });

export const signOut = async (): Promise<void> => {
  await answered('api/session', { method: 'DELETE' });
};

export const bring = (form: FormData): Promise<JobView> => json('api/jobs', { method: 'POST', body: form });

export const job = (id: string): Promise<JobView> => json(`api/jobs/${id}`);

export const jobs = (before: string | null): Promise<JobList> =>
  json(`api/jobs?limit=20${before === null ? '' : `&before=${before}`}`);

export const remove = async (id: string, only: 'cancel' | 'forget'): Promise<void> => {
  await answered(`api/jobs/${id}?only=${only}`, { method: 'DELETE' });
};

/** A result of a job that is JSON. */
export const content = <T>(href: string): Promise<T> => json(href.slice(1));

const POLL_MS = 2000;
const ERRORS_MOST = 3;

/**
 * Follows a job to its end: by its events, and where those do not come through by asking. `signedOut`: the service wants a key first, as after a restart.
 * Gives back how to stop.
 */
export const follow = (
  id: string,
  told: (progress: ProgressView) => void,
  signedOut: (error: Refused) => void,
): (() => void) => {
  let timer: ReturnType<typeof setTimeout> | null = null;
  let isOver = false;
  const isEnd = ({ state }: ProgressView) => state === 'ended' || state === 'cancelled';
  const take = (progress: ProgressView) => {
    if (isOver) return;
    if (isEnd(progress)) stop();
    told(progress);
  };
  const poll = async (): Promise<void> => {
    if (isOver) return;
    try {
      take(await job(id));
    } catch (error) {
      if (error instanceof Refused && error.status === 404)
        take({ id, state: 'cancelled', stage: null, exitCode: null });
      if (!isOver && error instanceof Refused && error.status === 401) {
        stop();
        signedOut(error);
      }
    }
    if (!isOver) timer = setTimeout(() => void poll(), POLL_MS);
  };
  const events = new EventSource(`api/jobs/${id}/events`);
  let errors = 0;
  const heard = (event: Event) => {
    errors = 0;
    take(JSON.parse((event as MessageEvent<string>).data));
  };
  events.addEventListener('progress', heard);
  events.addEventListener('ended', heard);
  events.addEventListener('error', () => {
    errors++;
    if (isOver || (events.readyState !== EventSource.CLOSED && errors < ERRORS_MOST)) return;
    events.close();
    if (timer === null) void poll();
  });
  const stop = () => {
    isOver = true;
    events.close();
    if (timer !== null) clearTimeout(timer);
  };
  return stop;
};

/** The addresses of jobs. */

import { pipeline } from 'node:stream/promises';
import { type Request, type Response, Router } from 'express';
import { ID as JOB_ID } from '../jobs/idForm.js';
import type { JobRecord, JobStore } from '../jobs/record.js';
import type { Runner } from '../jobs/runner.js';
import type { Events } from './events.js';
import type { Listing } from './listing.js';
import { disposition, isShown, mediaTypeOf, RESULT_POLICY } from './mediaTypes.js';
import { Problem } from './problems.js';
import type { JobList } from './shapes.js';
import { submissionOf } from './submission.js';
import type { Uploads } from './uploads.js';
import { briefOf, hrefOf, viewOf } from './views.js';

export interface JobRoutesOf {
  readonly store: JobStore;
  readonly runner: Runner;
  readonly events: Events;
  readonly uploads: Uploads;
  readonly listing: Listing;
  readonly waitingMost: number;
  readonly settingsUrl?: URL;
  readonly isStopping: () => boolean;
  /** Told of a job that was cancelled before any worker had it. */
  readonly onCancelled: (record: JobRecord) => void;
}

const LIST_MOST = 200;
const LIST_USUAL = 50;

const noSuchJob = () => new Problem('job-not-found', 'There is no job of that id.');

/** The one value of a parameter of the query, or null. */
const one = (req: Request, name: string): string | null => {
  const value = req.query[name];
  if (value === undefined) return null;
  if (typeof value !== 'string') throw new Problem('bad-request', `The parameter '${name}' comes more than once.`);
  return value;
};

const chosen = <T extends string>(req: Request, name: string, known: readonly T[]): T | null => {
  const value = one(req, name);
  if (value === null || (known as readonly string[]).includes(value)) return value as T | null;
  throw new Problem('bad-request', `The parameter '${name}' must be one of ${known.join(', ')}.`);
};

export const jobRoutes = (
  of: JobRoutesOf,
  limitJobs: (req: Request, res: Response, next: () => void) => void,
): Router => {
  const { store, runner, events, uploads, listing } = of;
  const router = Router();

  /** The record of the job in the address. */
  const asked = async (req: Request, res: Response): Promise<JobRecord> => {
    const id = String(req.params.id);
    if (!JOB_ID.test(id)) throw noSuchJob();
    res.locals.jobId = id;
    const record = await store.get(id);
    if (!record) throw noSuchJob();
    return { ...record, stage: events.stageOf(record) };
  };

  const whole = async (record: JobRecord) =>
    viewOf(record, record.state === 'ended' ? await store.outcomeOf(record.id) : null);

  const bring = async (req: Request, res: Response): Promise<void> => {
    if (of.isStopping())
      throw new Problem('stopping', 'The service is stopping.', { headers: { 'Retry-After': '10' } });
    const waiting = await store.count('waiting');
    if (waiting >= of.waitingMost)
      throw new Problem('busy', `${waiting} jobs wait already.`, { headers: { 'Retry-After': '30' } });
    const { record, isNew } = await uploads.receive(req, res, async (parts) =>
      store.submit(await submissionOf(parts, res.locals.caller ?? null, of.settingsUrl)),
    );
    listing.changed();
    runner.wake();
    res.locals.jobId = record.id;
    res
      .status(isNew ? 202 : 200)
      .location(hrefOf(record.id))
      .json(await whole(record));
  };

  const list = async (req: Request, res: Response): Promise<void> => {
    const limit = Number(one(req, 'limit') ?? LIST_USUAL);
    if (!Number.isInteger(limit) || limit < 1 || limit > LIST_MOST)
      throw new Problem('bad-request', `The parameter 'limit' must be a whole number from 1 to ${LIST_MOST}.`);
    const before = one(req, 'before');
    if (before !== null && !JOB_ID.test(before))
      throw new Problem('bad-request', "The parameter 'before' must be the id of a job.");
    const state = chosen(req, 'state', ['waiting', 'running', 'ended', 'cancelled']);
    const kind = chosen(req, 'kind', ['layout', 'trace']);
    const { records, next } = await listing.part({ before, state, kind, limit });
    const jobs = records.map((r) => briefOf({ ...r, stage: events.stageOf(r) }));
    res.json({ jobs, next } satisfies JobList);
  };

  const file = async (req: Request, res: Response): Promise<void> => {
    const record = await asked(req, res);
    const name = String(req.params.name);
    const kept = record.files.find((f) => f.name === name);
    if (!kept) throw new Problem('file-not-found', 'The job has no file of that name.');
    const shown = isShown(name) && one(req, 'download') === null;
    res.set({
      ETag: `"${kept.sha256}"`,
      'Cache-Control': 'private, no-cache',
      'Content-Type': mediaTypeOf(name),
      'Content-Disposition': disposition(shown ? 'inline' : 'attachment', name),
      ...(/\.(html|svg)$/.test(name) ? { 'Content-Security-Policy': RESULT_POLICY } : {}),
    });
    if (req.fresh) {
      res.status(304).end();
      return;
    }
    res.set('Content-Length', String(kept.sizeBytes));
    if (req.method === 'HEAD') {
      res.end();
      return;
    }
    // Piece by piece: of many who take a large file slowly none holds it in memory.
    const pieces = await store.streamOf(record.id, name);
    if (!pieces) throw noSuchJob();
    await pipeline(pieces, res).catch((error: NodeJS.ErrnoException) => {
      // A caller who hangs up is no fault.
      if (!res.destroyed && !res.closed) throw error;
    });
  };

  /** Cancels what waits or runs, forgets what has ended; who asks for one of the two does not get the other. */
  const remove = async (req: Request, res: Response): Promise<void> => {
    const wish = chosen(req, 'only', ['cancel', 'forget']);
    const record = await asked(req, res);
    const { id } = record;
    if (record.endedAt === null && wish !== 'forget') {
      if (await store.cancel(id)) {
        listing.changed();
        runner.wake();
        const now = (await store.get(id)) ?? record;
        if (record.state === 'waiting' && now.state === 'cancelled') of.onCancelled(now);
        res.status(202).json(await whole(now));
        return;
      }
    } else if (record.endedAt !== null && wish !== 'cancel') {
      if (await store.discard(id)) {
        listing.changed();
        res.status(204).end();
        return;
      }
    }
    throw new Problem('wrong-state', `The job is in the state '${(await asked(req, res)).state}'.`);
  };

  router.route('/api/jobs').get(list).post(limitJobs, bring).all(only('GET', 'POST'));
  router
    .route('/api/jobs/:id')
    .get(async (req, res) => {
      res.json(await whole(await asked(req, res)));
    })
    .delete(remove)
    .all(only('GET', 'DELETE'));
  router
    .route('/api/jobs/:id/events')
    .get(async (req, res) => {
      const record = await asked(req, res);
      if (of.isStopping()) throw new Problem('stopping', 'The service is stopping.');
      events.begin(req, res, record);
    })
    .all(only('GET'));
  router.route('/api/jobs/:id/files/:name').get(file).all(only('GET'));
  return router;
};

/** The answer to any other method. */
export const only =
  (...methods: readonly string[]) =>
  (req: Request): never => {
    const allow = [...methods, ...(methods.includes('GET') ? ['HEAD'] : [])].join(', ');
    throw new Problem('method-not-allowed', `${req.method} is not known here.`, { headers: { Allow: allow } });
  };

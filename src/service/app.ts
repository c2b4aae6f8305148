/** The service's addresses, and what every request goes through before and after. */

import { randomUUID } from 'node:crypto';
import express, { type Express, type RequestHandler, Router } from 'express';
import helmet from 'helmet';
import { authorised, fewStrangers, knownHosts, perMinute, sameSite } from './guard.js';
import { healthRoutes } from './health.js';
import { type JobRoutesOf, jobRoutes, only } from './jobRoutes.js';
import type { Keys } from './keys.js';
import type { ServiceLog } from './log.js';
import type { Metrics } from './metrics.js';
import { openApi } from './openapi.js';
import { answerErrors, PROBLEMS, Problem, type ProblemName, problemType } from './problems.js';
import { sessionRoutes } from './sessionRoutes.js';
import { Sessions } from './sessions.js';

export interface AppOf extends JobRoutesOf {
  readonly keys: Keys | null;
  readonly allowHosts: readonly string[];
  readonly proxies: number;
  readonly requestsPerMinute: number;
  readonly jobsPerMinute: number;
  readonly metrics: Metrics;
  readonly log: ServiceLog;
  readonly page: Router;
  readonly version: string;
}

const REQUEST_ID = /^[\w.-]{1,64}$/;

/** Counts and logs each request when its answer has ended, whichever way. */
const observed =
  ({ metrics, log }: AppOf): RequestHandler =>
  (req, res, next) => {
    const begun = performance.now();
    const given = req.headers['x-request-id'];
    const requestId = typeof given === 'string' && REQUEST_ID.test(given) ? given : randomUUID();
    res.locals.requestId = requestId;
    res.setHeader('X-Request-Id', requestId);
    res.on('close', () => {
      const ms = performance.now() - begun;
      // The route as it is written, never what a caller put into the address.
      const route = req.route ? String(req.route.path) : 'none';
      metrics.request(req.method, route, res.statusCode, ms / 1000);
      log(res.statusCode >= 500 ? 'warn' : 'info', 'request', {
        requestId,
        method: req.method,
        route,
        status: res.statusCode,
        ms: Math.round(ms * 10) / 10,
        ...(res.writableFinished ? {} : { cut: true }),
        ...(res.locals.jobId ? { jobId: res.locals.jobId } : {}),
        ...(res.locals.caller ? { caller: res.locals.caller } : {}),
      });
    });
    next();
  };

/** Nothing from elsewhere, nothing inline, no frames: the page is three files of this service. */
const secured = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      'default-src': ["'none'"],
      'script-src': ["'self'"],
      'style-src': ["'self'"],
      'img-src': ["'self'"],
      'connect-src': ["'self'"],
      'form-action': ["'self'"],
      'base-uri': ["'none'"],
      'frame-ancestors': ["'none'"],
    },
  },
  // Whoever ends TLS says this for the whole of its site.
  strictTransportSecurity: false,
  xFrameOptions: { action: 'deny' },
  // The page's own requests are to name their origin.
  referrerPolicy: { policy: 'same-origin' },
});

const noStore: RequestHandler = (_req, res, next) => {
  res.setHeader('Cache-Control', 'no-store');
  next();
};

const problemRoutes = (): Router =>
  Router().get('/api/problems/:name', (req, res) => {
    const name = String(req.params.name);
    if (!Object.hasOwn(PROBLEMS, name)) throw new Problem('not-found', 'There is no problem of that name.');
    res.json({ type: problemType(name as ProblemName), ...PROBLEMS[name as ProblemName] });
  });

export const appOf = (of: AppOf): Express => {
  const app = express();
  app.disable('x-powered-by');
  app.disable('etag');
  app.set('trust proxy', of.proxies);
  app.set('query parser', 'simple');
  app.set('case sensitive routing', true);
  const sessions = new Sessions();
  const { keys, metrics } = of;
  const strangers = fewStrangers();
  const guarded = authorised(keys, sessions, strangers);
  const document = JSON.stringify(openApi(of.version), null, 2);

  app.use(observed(of), secured, knownHosts(of.allowHosts, keys !== null));
  app.use(healthRoutes({ ...of, folder: of.uploads.folder }));
  app.use(of.page);
  app.get('/metrics', guarded, async (_req: express.Request, res: express.Response) => {
    res.type(metrics.registry.contentType).end(await metrics.registry.metrics());
  });

  app.use('/api', noStore, sameSite);
  app.use(sessionRoutes(keys, sessions, strangers), problemRoutes());
  app
    .route('/api/openapi.json')
    .get((_req, res) => {
      res.type('json').end(document);
    })
    .all(only('GET'));
  app.use('/api', guarded, perMinute(of.requestsPerMinute, 'requests'));
  app.use(jobRoutes(of, perMinute(of.jobsPerMinute, 'jobs')));

  app.use((_req, _res, next) => next(new Problem('not-found', 'There is nothing at this address.')));
  app.use(answerErrors(of.log));
  return app;
};

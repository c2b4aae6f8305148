/** Signing in and out on the page, and whether that is needed. */

import express, { type RequestHandler, Router } from 'express';
import { callerOf, turnAway } from './guard.js';
import { only } from './jobRoutes.js';
import type { Keys } from './keys.js';
import { Problem } from './problems.js';
import type { Sessions } from './sessions.js';
import { type SessionView, sessionAskShape } from './shapes.js';

export const sessionRoutes = (keys: Keys | null, sessions: Sessions, strangers: RequestHandler): Router => {
  const router = Router();
  router
    .route('/api/session')
    .get(async (req, res) => {
      const name = keys ? await callerOf(req, keys, sessions) : null;
      res.json({ needsKey: keys !== null, name } satisfies SessionView);
    })
    .post(express.json({ limit: '1kb' }), async (req, res, next) => {
      if (!req.is('application/json'))
        throw new Problem('unsupported-media-type', 'A session is asked for with application/json.');
      const asked = sessionAskShape.safeParse(req.body);
      if (!asked.success) throw new Problem('bad-request', 'The body must be { "key": "…" }.');
      const owner = keys ? await keys.ownerOf(asked.data.key) : null;
      if (owner === null) {
        turnAway(strangers, 'The key is not known.')(req, res, next);
        return;
      }
      sessions.begin(res, owner, req.secure);
      res.json({ needsKey: true, name: owner.name } satisfies SessionView);
    })
    .delete((req, res) => {
      sessions.end(req, res);
      res.status(204).end();
    })
    .all(only('GET', 'POST', 'DELETE'));
  return router;
};

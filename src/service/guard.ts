/** Who may call: by which name, from which page, with which key, and how often. */

import type { Request, RequestHandler } from 'express';
import { ipKeyGenerator, rateLimit } from 'express-rate-limit';
import type { Keys } from './keys.js';
import { Problem } from './problems.js';
import type { Sessions } from './sessions.js';

const LOOPBACK = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);

export const isLoopback = (host: string): boolean => LOOPBACK.has(host) || /^127(\.\d{1,3}){3}$/.test(host);

/** 'forms.example' of 'forms.example:8080', '[::1]' of '[::1]:80'; null where it is no host. */
const nameOf = (host: string | undefined): string | null =>
  /^(\[[0-9a-fA-F:.]+\]|[A-Za-z0-9._-]+)(?::\d{1,5})?$/.exec(host ?? '')?.[1]?.toLowerCase() ?? null;

/**
 * A page of another site may have its own name lead to this machine (DNS rebinding) and would then be of the same origin: without keys only names of this
 * machine are answered to. With keys the browser sends no cookie along under another name.
 */
export const knownHosts =
  (allowed: readonly string[], anyName: boolean): RequestHandler =>
  (req, _res, next) => {
    const name = nameOf(req.headers.host);
    if (name === null) throw new Problem('bad-request', 'The header Host is missing or names no host.');
    const isKnown = allowed.includes(name) || isLoopback(name) || (anyName && allowed.length === 0);
    if (!isKnown) throw new Problem('unknown-host', `This service does not go by the name '${name.slice(0, 100)}'.`);
    next();
  };

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

/** What changes something must come from the service's own page or from no page at all. */
export const sameSite: RequestHandler = (req, _res, next) => {
  if (SAFE.has(req.method)) return next();
  const site = req.headers['sec-fetch-site'];
  const { origin, host } = req.headers;
  const refused = () => new Problem('cross-site', 'A page of another site may not do this.');
  if (site !== undefined && site !== 'same-origin' && site !== 'none') throw refused();
  if (origin !== undefined) {
    const from = URL.canParse(origin) ? new URL(origin).host : null;
    if (from === null || from !== host?.toLowerCase()) throw refused();
  }
  next();
};

export interface Caller {
  /** Name of the key; null where the service has none. */
  readonly name: string | null;
}

const BEARER = /^Bearer +([\x21-\x7e]{1,200})$/i;

export const bearerOf = (req: Request): string | null => BEARER.exec(req.headers.authorization ?? '')?.[1] ?? null;

/** The name of whoever calls; null where nobody is known. */
export const callerOf = async (req: Request, keys: Keys, sessions: Sessions): Promise<string | null> => {
  const key = bearerOf(req);
  if (key !== null) return (await keys.ownerOf(key))?.name ?? null;
  const owner = sessions.ownerOf(req);
  return owner !== null && (await keys.has(owner)) ? owner.name : null;
};

/** Lets nobody pass whose key is not known. */
export const authorised =
  (keys: Keys | null, sessions: Sessions, strangers: RequestHandler): RequestHandler =>
  async (req, res, next) => {
    if (keys) {
      const name = await callerOf(req, keys, sessions);
      if (name === null) {
        const detail = req.headers.authorization ? 'The key is not known.' : 'The request has no key.';
        turnAway(strangers, detail)(req, res, next);
        return;
      }
      res.locals.caller = name;
    }
    next();
  };

/** Says that no key was given or that it is not known; who does that often is told to wait. */
export const turnAway =
  (strangers: RequestHandler, detail: string): RequestHandler =>
  (req, res, next) =>
    strangers(req, res, (error) =>
      next(error ?? new Problem('not-authorised', detail, { headers: { 'WWW-Authenticate': 'Bearer' } })),
    );

const MINUTE_MS = 60_000;
/** Requests with a wrong key, or none, that an address may make in a minute. */
const STRANGERS_PER_MINUTE = 120;

const addressOf = (req: Request): string => ipKeyGenerator(req.ip ?? '');

const limited = (perMinute: number, keyOf: (req: Request) => string) =>
  ({
    windowMs: MINUTE_MS,
    limit: perMinute,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    keyGenerator: keyOf,
    validate: false,
    handler: (_req, _res, next) =>
      next(new Problem('too-many-requests', `More than ${perMinute} of these requests in a minute are not taken.`)),
  }) satisfies Parameters<typeof rateLimit>[0];

/** So many requests a minute for each key or address; `what` keeps several of them apart. */
export const perMinute = (most: number, what: string): RequestHandler =>
  rateLimit({
    ...limited(most, (req) => `${what} ${req.res?.locals.caller ?? addressOf(req)}`),
    identifier: what,
  });

/** Keys are not to be tried out: called for requests that are turned away, and for no others. */
export const fewStrangers = (): RequestHandler =>
  rateLimit({ ...limited(STRANGERS_PER_MINUTE, addressOf), identifier: 'keys' });

/** Browsers that signed in with a key: a cookie that scripts cannot read stands for it, so that links, pictures and streams of events work. */

import { randomBytes } from 'node:crypto';
import type { Request, Response } from 'express';
import type { KeyOwner } from './keys.js';

const COOKIE = 'shutterwright-session';
const LASTS_MS = 12 * 3_600_000;
/** The oldest gives way. */
const SESSIONS_MOST = 10_000;

export class Sessions {
  readonly #sessions = new Map<string, { readonly owner: KeyOwner; readonly endsAt: number }>();

  begin(res: Response, owner: KeyOwner, isSecure: boolean): void {
    const token = randomBytes(32).toString('base64url');
    const [oldest] = this.#sessions.keys();
    if (this.#sessions.size >= SESSIONS_MOST && oldest !== undefined) this.#sessions.delete(oldest);
    this.#sessions.set(token, { owner, endsAt: performance.now() + LASTS_MS });
    res.cookie(COOKIE, token, { httpOnly: true, sameSite: 'strict', secure: isSecure, path: '/', maxAge: LASTS_MS });
  }

  end(req: Request, res: Response): void {
    const token = tokenOf(req);
    if (token) this.#sessions.delete(token);
    res.clearCookie(COOKIE, { path: '/' });
  }

  /** The key that the browser signed in with. */
  ownerOf(req: Request): KeyOwner | null {
    const token = tokenOf(req);
    const session = token ? this.#sessions.get(token) : undefined;
    if (!token || !session) return null;
    if (session.endsAt > performance.now()) return session.owner;
    this.#sessions.delete(token);
    return null;
  }
}

const tokenOf = (req: Request): string | null => {
  for (const pair of (req.headers.cookie ?? '').split(';')) {
    const [name, value] = pair.trim().split('=');
    if (name === COOKIE && value) return value;
  }
  return null;
};

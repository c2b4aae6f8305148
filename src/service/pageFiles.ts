/** The page for people: three files as they were built, held in memory. */

import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { Router } from 'express';
import { Refusal } from '../jobs/refusal.js';

const FILES = [
  ['/', 'index.html', 'text/html; charset=utf-8'],
  ['/app.js', 'app.js', 'text/javascript; charset=utf-8'],
  ['/style.css', 'style.css', 'text/css; charset=utf-8'],
  ['/icon.svg', 'icon.svg', 'image/svg+xml'],
] as const;

export const pageRoutes = async (folder: URL): Promise<Router> => {
  const router = Router();
  for (const [path, name, type] of FILES) {
    const bytes = await readFile(new URL(name, folder)).catch(() => {
      throw new Refusal('The page of the service is not built; run: npm run build');
    });
    const etag = `"${createHash('sha256').update(bytes).digest('base64url')}"`;
    router.get(path, (req, res) => {
      res.set({ 'Content-Type': type, 'Cache-Control': 'no-cache', ETag: etag });
      if (req.fresh) res.status(304).end();
      else res.end(req.method === 'HEAD' ? undefined : bytes);
    });
  }
  return router;
};

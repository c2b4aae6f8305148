/** Whether the service lives, and whether it can take work. */

import { unlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type RequestHandler, Router } from 'express';
import type { JobStore } from '../jobs/record.js';
import type { Runner } from '../jobs/runner.js';

/** The runner looks into the store every second; it is taken to be dead when it has not for this long, ms. */
const RUNNER_MS = 30_000;
/** Of the form of an id, and none. */
const NO_JOB = '0'.repeat(33);
/** Answers are shared for this long, ms: whoever asks often costs no more. */
const SHARED_MS = 1_000;

export interface HealthOf {
  readonly store: JobStore;
  readonly runner: Runner;
  /** A folder beside the store. */
  readonly folder: string;
  readonly isStopping: () => boolean;
}

const failure = (error: unknown): string => String((error as NodeJS.ErrnoException).code ?? 'failed');

const checksOf = async ({ store, runner, folder }: HealthOf): Promise<Record<string, string>> => {
  const probe = join(folder, `.probe-${process.pid}`);
  const [write, read] = await Promise.all([
    writeFile(probe, 'x').then(
      () =>
        unlink(probe).then(
          () => 'ok',
          () => 'ok',
        ),
      failure,
    ),
    store.get(NO_JOB).then(() => 'ok', failure),
  ]);
  return { store: read, disk: write, runner: runner.sinceLookMs < RUNNER_MS ? 'ok' : 'not looking for jobs' };
};

export const healthRoutes = (of: HealthOf): Router => {
  let last: { readonly at: number; readonly checks: Promise<Record<string, string>> } | null = null;
  const live: RequestHandler = (_req, res) => {
    res.json({ status: 'ok', checks: {} });
  };
  const ready: RequestHandler = async (_req, res) => {
    const now = performance.now();
    if (!last || now - last.at > SHARED_MS) last = { at: now, checks: checksOf(of) };
    const checks = { ...(await last.checks), ...(of.isStopping() ? { service: 'stopping' } : {}) };
    const isWell = Object.values(checks).every((word) => word === 'ok');
    res.status(isWell ? 200 : 503).json({ status: isWell ? 'ok' : 'failing', checks });
  };
  return Router().get('/healthz', live).get('/readyz', ready);
};

/** The HTTP service: takes drawings in, works them off, gives results out, and shows all of it on a page. */

import { mkdir } from 'node:fs/promises';
import type { Server } from 'node:http';
import { join } from 'node:path';
import { Forgetting } from '../jobs/forgetting.js';
import { DEFAULT_LIMITS } from '../jobs/index.js';
import { openStore } from '../jobs/openStore.js';
import type { JobRecord, JobStore } from '../jobs/record.js';
import { Refusal } from '../jobs/refusal.js';
import { Runner } from '../jobs/runner.js';
import { appOf } from './app.js';
import { Events } from './events.js';
import { isLoopback } from './guard.js';
import { Keys } from './keys.js';
import { Listing } from './listing.js';
import { type ServiceLog, withoutNames } from './log.js';
import { Metrics } from './metrics.js';
import type { ServiceOptions } from './options.js';
import { pageRoutes } from './pageFiles.js';
import { listening } from './server.js';
import { Uploads } from './uploads.js';

export { newKey } from './keys.js';
export { logTo } from './log.js';
export { DEFAULTS, type ServiceOptions } from './options.js';

export class Service {
  readonly url: string;
  readonly #server: Server;
  readonly #runner: Runner;
  readonly #events: Events;
  readonly #store: JobStore;
  readonly #log: ServiceLog;
  readonly #options: ServiceOptions;
  readonly #forgetting: Forgetting;
  readonly #stop: () => void;

  private constructor(
    options: ServiceOptions,
    parts: {
      url: string;
      server: Server;
      runner: Runner;
      events: Events;
      store: JobStore;
      log: ServiceLog;
      forgetting: Forgetting;
      stop: () => void;
    },
  ) {
    this.#options = options;
    this.url = parts.url;
    this.#server = parts.server;
    this.#runner = parts.runner;
    this.#events = parts.events;
    this.#store = parts.store;
    this.#log = parts.log;
    this.#stop = parts.stop;
    this.#forgetting = parts.forgetting;
  }

  /** A Refusal where the service may not or cannot be begun as asked. */
  static async begin(options: ServiceOptions): Promise<Service> {
    const { host, data, version, keysFile } = options;
    if (keysFile === null && !isLoopback(host))
      throw new Refusal(
        `Without keys only this machine may call: bind ${host} with --keys FILE, or leave --host at 127.0.0.1.`,
      );
    const log = options.logNames ? options.log : withoutNames(options.log);
    const keys = keysFile === null ? null : await Keys.from(keysFile, log);
    const page = await pageRoutes(options.pageFolder ?? new URL('./page/', import.meta.url));
    await mkdir(data, { recursive: true }).catch((error: NodeJS.ErrnoException) => {
      throw new Refusal(`The folder ${data} cannot be made (${error.code}).`);
    });
    const uploads = await Uploads.in(
      join(data, 'uploads'),
      options.limits.fileMb ?? DEFAULT_LIMITS.fileMb,
      options.requestTimeoutS,
    );
    const store = await openStore(join(data, 'jobs'), version, options.databaseUrl);
    const listing = new Listing(store);
    const events = new Events(store, options.heartbeatMs);
    const metrics = new Metrics(store.count, () => events.open);
    const ended = (record: JobRecord): void => {
      listing.changed();
      metrics.ended(record);
      events.ended(record);
    };
    const runner = new Runner(store, {
      workers: options.workers,
      limits: options.limits,
      ...(options.workerUrl ? { workerUrl: options.workerUrl } : {}),
      log: (level, words, about) => log(level, `job ${words}`, about),
      onLeft: (id) => {
        events.left(id);
        metrics.left(id);
      },
      onStage: (record, stage) => {
        metrics.stage(record.id, stage);
        events.stage(record.id, stage);
      },
      onEnded: ended,
    });
    let isStopping = false;
    const app = appOf({
      ...options,
      store,
      runner,
      events,
      uploads,
      listing,
      keys,
      metrics,
      log,
      page,
      isStopping: () => isStopping,
      onCancelled: ended,
    });
    const { server, port } = await listening(app, options);
    runner.start();
    const forgetting = new Forgetting({
      store,
      keepDays: options.keepDays,
      log: (level, words, about) => {
        listing.changed();
        log(level, `job ${words}`, about);
      },
    });
    forgetting.begin();
    const url = `http://${host.includes(':') && !host.startsWith('[') ? `[${host}]` : host}:${port}`;
    log('info', 'listening', { url, version, workers: options.workers, keys: keys !== null });
    const stop = () => {
      isStopping = true;
    };
    return new Service(options, { url, server, runner, events, store, log, forgetting, stop });
  }

  /** Forgets jobs that ended longer ago than they are kept. */
  forgetOld(): Promise<void> {
    return this.#forgetting.look();
  }

  /** Takes no more work, ends streams of events, lets jobs that run end or gives them back, and closes. */
  async end(): Promise<void> {
    const { graceS } = this.#options;
    this.#log('info', 'stopping', { running: this.#runner.running });
    this.#stop();
    this.#events.end();
    const closed = new Promise<void>((resolve) => this.#server.close(() => resolve()));
    this.#server.closeIdleConnections();
    await this.#runner.stop(graceS * 1000);
    // Answers that are still being sent have had their time.
    const timer = setTimeout(() => this.#server.closeAllConnections(), Math.min(graceS, 2) * 1000);
    await closed;
    clearTimeout(timer);
    await this.#forgetting.end();
    await this.#store.close();
    this.#log('info', 'stopped', {});
  }
}

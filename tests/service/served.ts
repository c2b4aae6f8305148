/** A service for tests: on a free port, over a folder of its own, with what it logged. */

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { DEFAULTS, Service, type ServiceOptions } from '../../src/service/index.js';
import { ROOT } from '../support/repository.js';

export const ECHO = new URL('../support/echoWorker.mjs', import.meta.url);
const PAGE = pathToFileURL(`${ROOT}dist/service/page/`);
const SETTINGS_URL = pathToFileURL(`${ROOT}dist/jobs/settingsWorker.js`);

export interface Logged {
  readonly level: string;
  readonly words: string;
  readonly about: Readonly<Record<string, unknown>>;
}

export interface Served {
  readonly service: Service;
  readonly url: string;
  readonly port: number;
  readonly data: string;
  readonly logged: Logged[];
  readonly end: () => Promise<void>;
}

export const freshFolder = (): string => mkdtempSync(join(tmpdir(), 'service-'));

export const served = async (more: Partial<ServiceOptions> = {}): Promise<Served> => {
  const data = more.data ?? freshFolder();
  const logged: Logged[] = [];
  const service = await Service.begin({
    ...DEFAULTS,
    port: 0,
    data,
    keysFile: null,
    allowHosts: [],
    limits: { timeS: 20 },
    requestsPerMinute: 100_000,
    jobsPerMinute: 100_000,
    graceS: 0.1,
    version: 'test',
    log: (level, words, about) => logged.push({ level, words, about }),
    logNames: false,
    workerUrl: ECHO,
    pageFolder: PAGE,
    settingsUrl: SETTINGS_URL,
    ...more,
  });
  const end = async () => {
    await service.end();
    if (more.data === undefined) rmSync(data, { recursive: true, force: true });
  };
  return { service, url: service.url, port: Number(new URL(service.url).port), data, logged, end };
};

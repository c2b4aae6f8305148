/**
 * `npm run load [-- --minutes N] [--trace] [--workers N]`: what the service bears on this machine, by autocannon on loopback, with one and with four jobs at a
 * time, or with as many as are named. Prints the tables of docs/reference/load.md. Nothing is asserted about time; the ratios are what is compared.
 */

import { readFileSync } from 'node:fs';
import { cpus } from 'node:os';
import autocannon from 'autocannon';
import { Client } from '../../docs/guide/client/client.js';
import { ROOT } from '../support/repository.js';
import { type Begun, begun, figureOf } from './program.js';

const asked = (name: string): number | undefined => {
  const at = process.argv.indexOf(name);
  return at < 0 ? undefined : Number(process.argv[at + 1]);
};
const minutes = asked('--minutes') ?? 2;
const workersAsked = asked('--workers');
const kind = process.argv.includes('--trace') ? 'trace' : 'layout';
const DRAWING = readFileSync(`${ROOT}fixtures/07-questions-to-answer/weir-store.dxf`);
const SECONDS = 5;
const CONNECTIONS = 20;
/** Of a caller that only looks, while jobs run. */
const LOOKS_PER_S = 20;

interface Shot {
  readonly perSecond: number;
  readonly medianMs: number;
  readonly p99Ms: number;
}

const shot = async (url: string, more: Partial<autocannon.Options> = {}): Promise<Shot> => {
  const { requests, latency, non2xx, errors } = await autocannon({
    url,
    connections: CONNECTIONS,
    duration: SECONDS,
    ...more,
  });
  if (non2xx + errors > 0) throw new Error(`${url}: ${non2xx} answers were no success, ${errors} errors`);
  return { perSecond: requests.average, medianMs: latency.p50, p99Ms: latency.p99 };
};

/** Keeps the queue short and full until the time is over; ids of the jobs that ended. */
const jobsFor = async (client: Client, untilMs: number, atOnce: number, onEnded: () => Promise<void>) => {
  let brought = 0;
  const times: number[] = [];
  const one = async () => {
    while (performance.now() < untilMs) {
      const from = performance.now();
      const { id } = await client.bring({ fileName: `plan-${brought++}.dxf`, drawing: DRAWING, kind });
      const { exitCode } = await client.ended(id);
      if (exitCode !== 0) throw new Error(`job ${id} ended with ${exitCode}`);
      times.push(performance.now() - from);
      await onEnded();
    }
  };
  await Promise.all(Array.from({ length: atOnce }, one));
  return times;
};

/** Medians over so many stretches of the list, in order: what creeps up is seen, what swings is not taken for it. */
const STRETCHES = 6;
const stretches = (list: readonly number[]): number[] =>
  Array.from({ length: STRETCHES }, (_, i) =>
    median(list.slice(Math.floor((i * list.length) / STRETCHES), Math.floor(((i + 1) * list.length) / STRETCHES))),
  );

const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? NaN;

const measured = async (service: Begun, workers: number) => {
  const client = new Client(service.url);
  const metrics = async () => (await fetch(`${service.url}/metrics`)).text();
  const first = await client.bring({ fileName: 'first.dxf', drawing: DRAWING });
  const { id, files } = await client.ended(first.id);
  const forms = files.find((f) => f.name.endsWith('.forms.dxf'))!;
  const idle = {
    health: await shot(`${service.url}/healthz`),
    job: await shot(`${service.url}/api/jobs/${id}`),
    list: await shot(`${service.url}/api/jobs`),
    file: await shot(service.url + forms.href),
  };
  await metrics();
  const rssMb: number[] = [];
  const lagMs: number[] = [];
  const begunMs = performance.now();
  const untilMs = begunMs + minutes * 60_000;
  const looking = shot(`${service.url}/api/jobs/${id}`, {
    connections: 2,
    overallRate: LOOKS_PER_S,
    duration: minutes * 60,
  });
  const times = await jobsFor(client, untilMs, workers + 1, async () => {
    const text = await metrics();
    rssMb.push(figureOf(text, 'process_resident_memory_bytes') / 1e6);
    lagMs.push(figureOf(text, 'nodejs_eventloop_lag_max_seconds') * 1000);
  });
  const spentS = (performance.now() - begunMs) / 1000;
  const busy = await looking;
  const third = Math.floor(rssMb.length / 3);
  return {
    workers,
    idle,
    busy,
    jobs: times.length,
    spentS,
    perMinute: (times.length / spentS) * 60,
    medianS: median(times) / 1000,
    lagMaxMs: Math.max(...lagMs),
    lagMedianMs: median(lagMs),
    rssFirstMb: median(rssMb.slice(0, third)),
    rssLastMb: median(rssMb.slice(-third)),
    rssStretchesMb: stretches(rssMb),
  };
};

const n = (value: number, decimals = 0): string => value.toFixed(decimals);
const results: Awaited<ReturnType<typeof measured>>[] = [];
for (const workers of workersAsked === undefined ? [1, 4] : [workersAsked]) {
  const service = await begun(['--workers', String(workers)]);
  try {
    results.push(await measured(service, workers));
  } finally {
    await service.end();
  }
}

const [one, four] = results as [(typeof results)[0], (typeof results)[0] | undefined];
const ratio = (a: number, b: number | undefined, decimals: number): string =>
  b === undefined ? `${n(a, decimals)} |` : `${n(a, decimals)} | ${n(b, decimals)} | ${n(b / a, 2)} |`;
const both = (words: (r: (typeof results)[0]) => string): string => `${results.map(words).join(' | ')} |`;
const rows: string[] = [
  `Node ${process.version}, ${cpus().length} cores, ${minutes} minutes of jobs (${kind}) for each number of workers.`,
  '',
  '| nothing else to do | requests/s | median ms | 99 % ms |',
  '|---|---|---|---|',
  ...(['health', 'job', 'list', 'file'] as const).map(
    (what) =>
      `| ${what} | ${n(one.idle[what].perSecond)} | ${n(one.idle[what].medianMs, 1)} | ${n(one.idle[what].p99Ms, 1)} |`,
  ),
  '',
  `| while jobs run | ${both((r) => (r.workers === 1 ? '1 worker' : `${r.workers} workers`))}${four ? ' ratio |' : ''}`,
  `|---|---|${four ? '---|---|' : ''}`,
  ...(
    [
      ['jobs done', 'jobs', 0],
      ['jobs a minute', 'perMinute', 1],
      ['median of a job, s', 'medianS', 1],
      ['longest event-loop delay, ms', 'lagMaxMs', 0],
      ['median of the longest delay between two jobs, ms', 'lagMedianMs', 0],
      ['memory in the first third, MB', 'rssFirstMb', 0],
      ['memory in the last third, MB', 'rssLastMb', 0],
    ] as const
  ).map(([what, key, decimals]) => `| ${what} | ${ratio(one[key], four?.[key], decimals)}`),
  `| asking for a job, median ms | ${both((r) => n(r.busy.medianMs, 1))}${four ? ' |' : ''}`,
  `| asking for a job, 99 % ms | ${both((r) => n(r.busy.p99Ms, 1))}${four ? ' |' : ''}`,
  `| memory, last third over first | ${both((r) => n(r.rssLastMb / r.rssFirstMb, 2))}${four ? ' |' : ''}`,
  `| memory by sixths of the jobs, MB | ${both((r) => r.rssStretchesMb.map((x) => n(x)).join(', '))}${four ? ' |' : ''}`,
];
process.stdout.write(`${rows.join('\n')}\n`);

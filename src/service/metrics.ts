/** Figures for a monitoring program, in the text format of Prometheus. */

import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { JobRecord, JobStore } from '../jobs/record.js';
import type { StageName } from '../pipeline/index.js';
import { kindOf } from './views.js';

const STATES = ['waiting', 'running', 'ended', 'cancelled'] as const;

export class Metrics {
  readonly registry = new Registry();
  readonly #http: Histogram<'method' | 'route' | 'status'>;
  readonly #ended: Counter<'kind' | 'exit_code'>;
  readonly #stages: Histogram<'stage'>;
  readonly #jobs: Histogram<'kind'>;
  readonly #at = new Map<string, { readonly stage: StageName; readonly since: number }>();

  /** `count`: jobs in the store; `streams`: streams of events that are open. */
  constructor(count: JobStore['count'], streams: () => number) {
    const registers = [this.registry];
    collectDefaultMetrics({ register: this.registry });
    this.#http = new Histogram({
      name: 'shutterwright_http_request_duration_seconds',
      help: 'From the end of the headers of a request to the end of its answer',
      labelNames: ['method', 'route', 'status'],
      buckets: [0.002, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10, 60],
      registers,
    });
    this.#ended = new Counter({
      name: 'shutterwright_jobs_ended_total',
      help: 'Jobs that this process brought to their end, by exit code or cancelled',
      labelNames: ['kind', 'exit_code'],
      registers,
    });
    this.#stages = new Histogram({
      name: 'shutterwright_stage_duration_seconds',
      help: 'Time in one stage of a job',
      labelNames: ['stage'],
      buckets: [0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 300],
      registers,
    });
    this.#jobs = new Histogram({
      name: 'shutterwright_job_duration_seconds',
      help: 'From the begin of a job to its end',
      labelNames: ['kind'],
      buckets: [0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 120, 300],
      registers,
    });
    new Gauge({
      name: 'shutterwright_jobs',
      help: 'Jobs in the store by state; those that wait are the queue',
      labelNames: ['state'],
      registers,
      async collect() {
        for (const state of STATES) this.set({ state }, await count(state));
      },
    });
    new Gauge({
      name: 'shutterwright_event_streams',
      help: 'Streams of events that are open',
      registers,
      collect() {
        this.set(streams());
      },
    });
  }

  request(method: string, route: string, status: number, seconds: number): void {
    this.#http.observe({ method, route, status }, seconds);
  }

  stage(id: string, stage: StageName): void {
    this.#stageEnds(id);
    this.#at.set(id, { stage, since: performance.now() });
  }

  ended(record: JobRecord): void {
    this.#stageEnds(record.id);
    this.#at.delete(record.id);
    const kind = kindOf(record);
    this.#ended.inc({ kind, exit_code: record.exitCode === null ? 'cancelled' : String(record.exitCode) });
    if (record.startedAt && record.endedAt && record.exitCode !== null)
      this.#jobs.observe({ kind }, Math.max(0, Date.parse(record.endedAt) - Date.parse(record.startedAt)) / 1000);
  }

  /** A job is not in the hands of this process any more, and has not ended here. */
  left(id: string): void {
    this.#at.delete(id);
  }

  #stageEnds(id: string): void {
    const at = this.#at.get(id);
    if (at) this.#stages.observe({ stage: at.stage }, (performance.now() - at.since) / 1000);
  }
}

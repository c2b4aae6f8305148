/**
 * Progress of jobs as server-sent events. What a worker of this process says is passed on at once; the store is looked into every second besides, since
 * another process may be at the job.
 */

import type { Request, Response } from 'express';
import type { JobRecord, JobStore } from '../jobs/record.js';
import type { StageName } from '../pipeline/index.js';
import { STREAMS_MOST } from './options.js';
import { Problem } from './problems.js';
import type { ProgressView } from './shapes.js';
import { progressOf } from './views.js';

const LOOK_MS = 1_000;
const HEARTBEAT_MS = 15_000;
/** Of events that a caller does not take off the line, bytes: then the stream is cut. */
const BEHIND_MOST = 64_000;
/** Id of the last event of a job: a browser that asks for what comes after it is told that there is no more. */
const LAST = 'end';

interface Stream {
  readonly res: Response;
  last: string;
  sent: number;
}

export class Events {
  readonly #store: JobStore;
  readonly #heartbeatMs: number;
  readonly #streams = new Map<string, Set<Stream>>();
  /** The stage of jobs that run in this process; the store learns of it a little later. */
  readonly #stages = new Map<string, StageName>();
  #count = 0;
  #looks: NodeJS.Timeout | null = null;
  #heartbeats: NodeJS.Timeout | null = null;

  constructor(store: JobStore, heartbeatMs = HEARTBEAT_MS) {
    this.#store = store;
    this.#heartbeatMs = heartbeatMs;
  }

  /** Streams that are open. */
  get open(): number {
    return this.#count;
  }

  stage(id: string, stage: StageName): void {
    this.#stages.set(id, stage);
    this.#tell(id, { id, state: 'running', stage, exitCode: null });
  }

  ended(record: JobRecord): void {
    this.#stages.delete(record.id);
    this.#tell(record.id, progressOf(record));
  }

  /** A job is not in the hands of this process any more. */
  left(id: string): void {
    this.#stages.delete(id);
  }

  /** The stage of a job as it is known best. */
  stageOf(record: JobRecord): StageName | null {
    return record.state === 'running' ? (this.#stages.get(record.id) ?? record.stage) : record.stage;
  }

  /** Answers a request for a job's events. */
  begin(req: Request, res: Response, record: JobRecord): void {
    if (req.headers['last-event-id'] === LAST && record.endedAt) {
      res.status(204).end();
      return;
    }
    if (this.#count >= STREAMS_MOST)
      throw new Problem('busy', `${STREAMS_MOST} streams of events are open.`, { headers: { 'Retry-After': '5' } });
    res.writeHead(200, {
      'Content-Type': 'text/event-stream',
      'Cache-Control': 'no-store',
      // Proxies are not to gather events.
      'X-Accel-Buffering': 'no',
    });
    res.write('retry: 3000\n\n');
    const stream: Stream = { res, last: '', sent: 0 };
    const { id } = record;
    const streams = this.#streams.get(id) ?? new Set();
    this.#streams.set(id, streams.add(stream));
    this.#count++;
    this.#begin();
    res.on('close', () => {
      this.#count--;
      streams.delete(stream);
      if (streams.size === 0 && this.#streams.get(id) === streams) this.#streams.delete(id);
      if (this.#count === 0) this.#rest();
    });
    this.#send(stream, { ...progressOf(record), stage: this.stageOf(record) });
  }

  /** Ends all streams; who comes back is told elsewhere that the service stops. */
  end(): void {
    for (const streams of this.#streams.values()) for (const { res } of streams) res.end();
    this.#rest();
  }

  #begin(): void {
    this.#looks ??= setInterval(() => void this.#look(), LOOK_MS);
    this.#heartbeats ??= setInterval(() => this.#beat(), this.#heartbeatMs);
  }

  #rest(): void {
    for (const timer of [this.#looks, this.#heartbeats]) if (timer) clearInterval(timer);
    this.#looks = null;
    this.#heartbeats = null;
  }

  async #look(): Promise<void> {
    for (const id of [...this.#streams.keys()]) {
      // The next look may find the store well again.
      const record = await this.#store.get(id).catch(() => undefined);
      if (record === null) for (const { res } of this.#streams.get(id) ?? []) res.end();
      else if (record) this.#tell(id, { ...progressOf(record), stage: this.stageOf(record) });
    }
  }

  #beat(): void {
    for (const streams of this.#streams.values())
      for (const { res } of streams) {
        if (res.writableLength > BEHIND_MOST) res.destroy();
        else res.write(': still here\n\n');
      }
  }

  #tell(id: string, progress: ProgressView): void {
    for (const stream of this.#streams.get(id) ?? []) this.#send(stream, progress);
  }

  #send(stream: Stream, progress: ProgressView): void {
    const data = JSON.stringify(progress);
    if (data === stream.last || stream.res.writableEnded) return;
    stream.last = data;
    const isLast = progress.state === 'ended' || progress.state === 'cancelled';
    const id = isLast ? LAST : String(++stream.sent);
    stream.res.write(`id: ${id}\nevent: ${isLast ? 'ended' : 'progress'}\ndata: ${data}\n\n`);
    if (isLast) stream.res.end();
  }
}

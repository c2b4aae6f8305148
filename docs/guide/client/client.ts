/**
 * A client of the service, to copy and change: brings a drawing, follows the job, fetches its files. Needs nothing but Node 20, or a browser of the same
 * origin. What is not used here stands in docs/reference/openapi.json.
 */

export interface JobFile {
  readonly name: string;
  readonly sizeBytes: number;
  readonly sha256: string;
  readonly href: string;
}

export interface Finding {
  readonly code: string;
  readonly severity: 'note' | 'attention' | 'failure';
  readonly message: string;
  readonly assumed: string | null;
}

export interface Job {
  readonly id: string;
  readonly state: 'waiting' | 'running' | 'ended' | 'cancelled';
  readonly stage: string | null;
  /** 0 laid out; 1 with failures; 2 refused; 3 a fault of the program; null: not ended, or cancelled. */
  readonly exitCode: 0 | 1 | 2 | 3 | null;
  readonly endedAt: string | null;
  readonly files: readonly JobFile[];
  readonly result: { readonly kind: 'done'; readonly findings: readonly Finding[] } | { readonly kind: 'fault' } | null;
}

/** An answer that is no success, as RFC 9457 has it. */
export class ServiceProblem extends Error {
  constructor(
    readonly status: number,
    readonly type: string,
    detail: string,
    readonly errors: readonly { readonly pointer: string; readonly detail: string }[],
    /** Seconds to wait before trying again, where the service says so. */
    readonly retryAfterS: number | null,
  ) {
    super(detail);
  }
}

export interface Bring {
  /** Results are called by its name. */
  readonly fileName: string;
  readonly drawing: Uint8Array;
  /** The job file, as an object or as YAML. */
  readonly job?: object | string;
  readonly kind?: 'layout' | 'trace';
}

export class Client {
  constructor(
    /** 'http://127.0.0.1:8080' */
    private readonly service: string,
    private readonly key: string | null = null,
  ) {}

  private async call(path: string, init: RequestInit = {}): Promise<Response> {
    const headers = new Headers(init.headers);
    if (this.key !== null) headers.set('Authorization', `Bearer ${this.key}`);
    const response = await fetch(new URL(path, this.service), { ...init, headers });
    if (response.ok) return response;
    const problem = (await response.json().catch(() => ({}))) as Partial<Record<'type' | 'detail', string>> & {
      errors?: ServiceProblem['errors'];
    };
    const retry = response.headers.get('Retry-After');
    throw new ServiceProblem(
      response.status,
      problem.type ?? '',
      problem.detail ?? `The service answered ${response.status}.`,
      problem.errors ?? [],
      retry === null ? null : Number(retry),
    );
  }

  /** The job of this drawing: a new one, or the one that it is already. */
  async bring({ fileName, drawing, job, kind = 'layout' }: Bring): Promise<Job> {
    const form = new FormData();
    form.set('kind', kind);
    if (job !== undefined) form.set('job', typeof job === 'string' ? job : JSON.stringify(job));
    form.set('drawing', new Blob([new Uint8Array(drawing)]), fileName);
    const response = await this.call('/api/jobs', { method: 'POST', body: form });
    return (await response.json()) as Job;
  }

  async job(id: string): Promise<Job> {
    return (await (await this.call(`/api/jobs/${id}`)).json()) as Job;
  }

  /** Follows a job to its end by its events; where the connection breaks it is asked for anew. */
  async ended(id: string, onStage: (stage: string) => void = () => {}, signal?: AbortSignal): Promise<Job> {
    for (;;) {
      const job = await this.job(id);
      if (job.endedAt !== null) return job;
      try {
        const response = await this.call(`/api/jobs/${id}/events`, signal ? { signal } : {});
        for await (const { stage } of progress(response)) if (stage !== null) onStage(stage);
      } catch (error) {
        if (signal?.aborted || error instanceof ServiceProblem) throw error;
      }
    }
  }

  async file({ href }: JobFile): Promise<Uint8Array> {
    return new Uint8Array(await (await this.call(href)).arrayBuffer());
  }

  /** Ends a job that waits or runs; a ServiceProblem of status 409 where it has ended already. */
  async cancel(id: string): Promise<void> {
    await this.call(`/api/jobs/${id}?only=cancel`, { method: 'DELETE' });
  }

  async forget(id: string): Promise<void> {
    await this.call(`/api/jobs/${id}?only=forget`, { method: 'DELETE' });
  }
}

/** The data of each event of a stream. */
async function* progress(response: Response): AsyncGenerator<{ readonly stage: string | null }> {
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of response.body ?? []) {
    text += decoder.decode(chunk, { stream: true });
    const blocks = text.split('\n\n');
    text = blocks.pop() ?? '';
    for (const block of blocks) {
      const data = block.split('\n').find((line) => line.startsWith('data: '));
      if (data) yield JSON.parse(data.slice('data: '.length)) as { stage: string | null };
    }
  }
}

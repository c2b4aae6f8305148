/** The list of past jobs. */

import type { JobBrief } from '../shapes.js';
import { el } from './dom.js';

const STATES = { waiting: 'waiting', running: 'at work', cancelled: 'cancelled' } as const;
const ENDS = ['no failures', 'with failures', 'refused', 'fault of the program'] as const;

const wordsOf = (job: JobBrief): string => {
  if (job.state === 'ended') return ENDS[job.exitCode ?? 3];
  return job.stage === null ? STATES[job.state] : `${STATES[job.state]}: ${job.stage}`;
};

/** '2026-03-01 14:05', in the reader's own time. */
const timeOf = (iso: string): string => {
  const t = new Date(iso);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())} ${two(t.getHours())}:${two(t.getMinutes())}`;
};

export interface JobActions {
  readonly open: (id: string) => void;
  readonly remove: (job: JobBrief) => void;
  readonly more: (() => void) | null;
}

const row = (job: JobBrief, { open, remove }: JobActions): HTMLElement => {
  const isOver = job.state === 'ended' || job.state === 'cancelled';
  const about = `${job.fileName}, ${timeOf(job.submittedAt)}`;
  const kind = job.state === 'ended' ? ['well', 'fails', 'fails', 'fails'][job.exitCode ?? 3] : 'open';
  return el(
    'li',
    { class: `job ${kind}` },
    el(
      'div',
      { class: 'about' },
      el('strong', {}, job.fileName),
      el('span', {}, `${job.kind === 'trace' ? 'read' : 'layout'}, ${wordsOf(job)}`),
      el('time', { datetime: job.submittedAt, class: 'hint' }, timeOf(job.submittedAt)),
    ),
    el(
      'div',
      { class: 'buttons' },
      el('button', { type: 'button', 'aria-label': `Open ${about}`, click: () => open(job.id) }, 'Open'),
      el(
        'button',
        {
          type: 'button',
          class: 'plain',
          'aria-label': `${isOver ? 'Delete' : 'Cancel'} ${about}`,
          click: () => remove(job),
        },
        isOver ? 'Delete' : 'Cancel',
      ),
    ),
  );
};

export const jobsList = (jobs: readonly JobBrief[], actions: JobActions): HTMLElement =>
  jobs.length === 0
    ? el('p', { class: 'hint' }, 'None yet.')
    : el(
        'div',
        {},
        el('ul', { class: 'jobs' }, ...jobs.map((job) => row(job, actions))),
        actions.more !== null && el('button', { type: 'button', click: actions.more }, 'Show older jobs'),
      );

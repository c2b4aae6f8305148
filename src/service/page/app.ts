/** The page: a drawing is read, its questions are answered, it is laid out, and what came of it is shown. */

import type { JobBrief, JobView } from '../shapes.js';
import * as api from './api.js';
import { byId, count, el, figure, lead } from './dom.js';
import { jobsList } from './jobsList.js';
import { planOf, type TraceFacts, thicknesses } from './plan.js';
import { otherQuestions, type QuestionForm, questionForm } from './questions.js';
import { downloads, findingLists, resultView, verdict } from './result.js';

const STAGE_WORDS: Readonly<Record<string, string>> = {
  read: 'Reading the file',
  trace: 'Finding the walls',
  shape: 'Corners and junctions',
  fit: 'Laying out the units',
  check: 'Checking pressure and ties',
  schedule: 'Counting',
  write: 'Writing the files',
};

let stopFollowing: () => void = () => {};
let followed: string | null = null;
let listed: JobBrief[] = [];

const fileOf = (id: string): File | null => byId<HTMLInputElement>(id).files?.[0] ?? null;

const say = (words: string): void => {
  byId('status').textContent = words;
};

const clearProblem = (): void => byId('problem').replaceChildren();

const problem = (words: string, more: readonly string[] = []): void => {
  byId('problem').replaceChildren(
    el(
      'div',
      { class: 'problem' },
      el('p', {}, words),
      more.length > 0 && el('ul', {}, ...more.map((m) => el('li', {}, m))),
    ),
  );
  byId('problem').scrollIntoView({ block: 'nearest' });
};

/** Does something that may fail, and says so where it does. */
const guarded = async (work: () => Promise<void>): Promise<void> => {
  clearProblem();
  try {
    await work();
  } catch (error) {
    say('');
    if (error instanceof api.Refused) {
      if (error.status === 401 && byId('sign-in').hidden) {
        askForKey();
        return;
      }
      const errors = (error.problem?.errors ?? []).map((e) => e.detail);
      problem(errors.length > 0 ? 'The job file cannot be used.' : error.message, errors);
    } else problem(error instanceof Error ? error.message : String(error));
  }
};

const hideAll = (...ids: readonly string[]): void => {
  for (const id of ids) byId(id).hidden = true;
};

// ---- jobs ----

const listJobs = async (): Promise<void> => {
  const page = await api.jobs(null);
  listed = page.jobs;
  showJobs(page.next);
};

const showJobs = (next: string | null): void => {
  const more = async () => {
    const page = await api.jobs(next);
    listed = [...listed, ...page.jobs];
    showJobs(page.next);
  };
  byId('jobs-body').replaceChildren(
    jobsList(listed, {
      open: (id) => void guarded(() => open(id)),
      remove: (job) => void guarded(() => remove(job)),
      more: next === null ? null : () => void guarded(more),
    }),
  );
};

const remove = async (job: JobBrief): Promise<void> => {
  const isOver = job.state === 'ended' || job.state === 'cancelled';
  if (isOver && !confirm(`Delete ${job.fileName} with its results?`)) return;
  await api.remove(job.id, isOver ? 'forget' : 'cancel');
  say(isOver ? `${job.fileName} is deleted.` : `${job.fileName} is cancelled.`);
  await listJobs();
  byId('jobs-title').tabIndex = -1;
  byId('jobs-title').focus();
};

const open = async (id: string): Promise<void> => {
  const view = await api.job(id);
  if (view.endedAt === null) follow(view);
  else await show(view);
};

// ---- progress ----

const showStages = (stages: readonly string[], now: string | null): void => {
  const at = now === null ? -1 : stages.indexOf(now);
  byId('stages').replaceChildren(
    ...stages.map((stage, i) =>
      el(
        'li',
        { class: i < at ? 'done' : i === at ? 'now' : '', 'aria-current': i === at ? 'step' : null },
        STAGE_WORDS[stage] ?? stage,
      ),
    ),
  );
};

const follow = (view: JobView): void => {
  stopFollowing();
  followed = view.id;
  history.replaceState(null, '', `#job=${view.id}`);
  hideAll('questions', 'result');
  showStages(view.stages, view.stage);
  lead('progress');
  say(view.state === 'waiting' ? 'The job waits for its turn.' : '');
  stopFollowing = api.follow(
    view.id,
    (progress) => {
      if (progress.state === 'running') {
        showStages(view.stages, progress.stage);
        const at = progress.stage === null ? 0 : view.stages.indexOf(progress.stage) + 1;
        if (at > 0) say(`${STAGE_WORDS[progress.stage!]}, step ${at} of ${view.stages.length}.`);
      } else if (progress.state !== 'waiting') void guarded(async () => show(await api.job(view.id)));
    },
    (error) => void guarded(() => Promise.reject(error)),
  );
};

const bring = async (kind: 'trace' | 'layout', job: Record<string, unknown> | null): Promise<void> => {
  const drawing = fileOf('drawing');
  if (!drawing) throw new Error('Choose a drawing first.');
  const form = new FormData();
  form.set('kind', kind);
  const ownJob = fileOf('own-job');
  if (ownJob) form.set('job', ownJob);
  else if (job) form.set('job', JSON.stringify(job));
  for (const [part, id] of [
    ['catalogue', 'own-catalogue'],
    ['stock', 'own-stock'],
  ] as const) {
    const file = fileOf(id);
    if (file) form.set(part, file);
  }
  // For this page to show; what a job file says of it counts.
  if (kind === 'layout') form.set('pictures', 'svg');
  form.set('drawing', drawing);
  say('Sending the drawing.');
  const view = await api.bring(form);
  if (view.endedAt === null) follow(view);
  else await show(view);
  await listJobs();
};

// ---- what came of it ----

const show = async (view: JobView): Promise<void> => {
  stopFollowing();
  followed = null;
  history.replaceState(null, '', `#job=${view.id}`);
  hideAll('progress', 'questions', 'result');
  if (view.kind === 'trace') await showTrace(view);
  else {
    byId('result-body').replaceChildren(...resultView(view));
    lead('result');
  }
  say(
    view.state === 'cancelled'
      ? 'The job is cancelled.'
      : view.kind === 'trace'
        ? 'The drawing is read.'
        : 'The job is done.',
  );
  void listJobs().catch(() => undefined);
};

const showTrace = async (view: JobView): Promise<void> => {
  const body = byId('questions-body');
  const traced = view.result?.kind === 'done' ? view.result.traced : null;
  body.replaceChildren(el('p', { class: 'file' }, view.fileName), verdict(view));
  if (traced) {
    const facts = view.files.find((f) => f.name.endsWith('.trace.json'));
    const plan = facts ? await api.content<TraceFacts>(facts.href).catch(() => null) : null;
    const isModel = (plan?.source.kind ?? (/\.ifc(zip)?$/i.test(view.fileName) ? 'ifc' : 'dxf')) === 'ifc';
    const counted = (
      [
        [traced.curves, 'curved wall'],
        [traced.openings, 'opening'],
        [traced.steps, 'step'],
        [traced.pilasters, 'pilaster'],
      ] as const
    ).filter(([n]) => n > 0);
    const lines = [
      [
        `${count(traced.walls, 'wall')}, ${figure(traced.wallLengthM, 2)} m`,
        ...counted.map(([n, word]) => count(n, word)),
      ].join(', '),
      plan ? `thickness ${thicknesses(plan)}` : '',
      `drawing in ${traced.lengthUnit}`,
      traced.levelsAt > 0 ? `${count(traced.levelsAt, 'level')} of single walls` : '',
    ];
    body.append(el('p', {}, `${lines.filter((l) => l !== '').join('; ')}.`));
    const drawn = plan && planOf(plan);
    if (drawn) body.append(drawn);
    body.append(...questionPart(view, isModel));
  } else if (view.result?.kind === 'done') body.append(...findingLists(view.result.findings));
  if (view.files.length > 0)
    body.append(el('details', {}, el('summary', {}, 'Downloads of what was read'), downloads(view)));
  lead('questions');
};

const questionPart = (view: JobView, isModel: boolean): HTMLElement[] => {
  const traced = view.result?.kind === 'done' ? view.result.traced : null;
  if (!traced) return [];
  const ownJob = fileOf('own-job');
  const form: QuestionForm | null = ownJob
    ? null
    : questionForm(view, traced, isModel, fileOf('own-catalogue') !== null);
  const others = ownJob ? traced.questions : otherQuestions(traced);
  const go = (kind: 'trace' | 'layout') =>
    guarded(async () => {
      const drawing = fileOf('drawing');
      if (drawing?.name !== view.fileName)
        throw new Error(`Choose ${view.fileName} under Drawing again: this page does not keep it.`);
      const said = form?.answers() ?? { job: {} };
      if ('wrong' in said) {
        problem('Some answers cannot be used.', said.wrong);
        document.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
        return;
      }
      await bring(kind, said.job);
    });
  const parts: HTMLElement[] = [];
  if (others.length > 0) {
    const items = others.map((q) =>
      el(
        'li',
        {},
        el('p', {}, el('strong', {}, `Question ${q.number}: `), q.question),
        el('p', { class: 'hint' }, q.found, q.assumed === null ? '' : ` Assumed: ${q.assumed}.`),
        q.keys.length > 0 && el('p', { class: 'hint code' }, `answered by ${q.keys.join(', ')} in a job file`),
      ),
    );
    parts.push(
      el(
        'details',
        { class: 'findings attention', open: others.length <= 5 },
        el('summary', {}, `${ownJob ? 'Open questions' : 'To look at in the drawing'} (${others.length})`),
        el('ul', {}, ...items),
      ),
    );
  }
  if (ownJob)
    parts.push(
      el('p', {}, `The answers come from ${ownJob.name}. Change it and choose it again, or lay out as it is.`),
    );
  parts.push(
    el(
      'form',
      {
        novalidate: true,
        submit: (event) => {
          event.preventDefault();
          void go('layout');
        },
      },
      form !== null &&
        el('p', {}, 'What stands in the form is what was read. Change what is wrong, fill in what is missing.'),
      form?.element ?? null,
      el(
        'div',
        { class: 'buttons' },
        el('button', { type: 'submit', class: 'go' }, 'Lay out the forms'),
        form !== null &&
          el('button', { type: 'button', click: () => void go('trace') }, 'Read again with these answers'),
      ),
    ),
  );
  return parts;
};

// ---- beginning ----

const askForKey = (): void => {
  hideAll('work', 'sign-out');
  lead('sign-in');
  byId('key').focus();
};

const jobInAddress = (): string | null => /^#job=([0-9a-z]{33})$/.exec(location.hash)?.[1] ?? null;

const begin = async (needsKey: boolean): Promise<void> => {
  byId('sign-in').hidden = true;
  byId('sign-out').hidden = !needsKey;
  byId('work').hidden = false;
  await listJobs();
  const id = jobInAddress();
  if (id !== null) await open(id);
};

/** Drawings and what belongs to them are told apart by their names. */
const place = (files: readonly File[]): void => {
  const put = (id: string, file: File) => {
    const held = new DataTransfer();
    held.items.add(file);
    byId<HTMLInputElement>(id).files = held.files;
  };
  for (const file of files) {
    if (/\.(dxf|ifc|ifczip|dwg)$/i.test(file.name)) put('drawing', file);
    else if (/\.job(\.proposed)?\.(ya?ml|json)$/i.test(file.name)) put('own-job', file);
    else
      problem(`${file.name} is neither a drawing nor a job file; choose a catalogue or stock list in its own field.`);
  }
  told();
};

const told = (): void => {
  const drawing = fileOf('drawing');
  byId('drop-hint').textContent = drawing
    ? `${drawing.name} is chosen.`
    : 'Choose a file, or drop it here: .dxf, .ifc or .ifczip.';
};

const wire = (): void => {
  window.addEventListener('hashchange', () => {
    const id = jobInAddress();
    if (id !== null && !byId('work').hidden) void guarded(() => open(id));
  });
  byId('bring-form').addEventListener('submit', (event) => {
    event.preventDefault();
    void guarded(() => bring('trace', null));
  });
  byId('drawing').addEventListener('change', told);
  byId('cancel').addEventListener('click', () => {
    const id = followed;
    if (id !== null) void guarded(() => api.remove(id, 'cancel'));
  });
  byId('sign-in-form').addEventListener('submit', (event) => {
    event.preventDefault();
    const key = byId<HTMLInputElement>('key');
    void guarded(async () => {
      await api.signIn(key.value.trim());
      key.value = '';
      await begin(true);
      byId('bring-title').focus();
    });
  });
  byId('sign-out').addEventListener('click', () => {
    void guarded(async () => {
      await api.signOut();
      stopFollowing();
      askForKey();
    });
  });
  const drop = byId('drop');
  for (const type of ['dragenter', 'dragover'])
    document.addEventListener(type, (event) => {
      event.preventDefault();
      drop.classList.add('over');
    });
  for (const type of ['dragleave', 'drop'])
    document.addEventListener(type, (event) => {
      event.preventDefault();
      drop.classList.remove('over');
      const dropped = event instanceof DragEvent && type === 'drop' ? [...(event.dataTransfer?.files ?? [])] : [];
      if (dropped.length > 0 && !byId('work').hidden) {
        clearProblem();
        place(dropped);
      }
    });
};

wire();
void guarded(async () => {
  const { needsKey, name } = await api.session();
  if (needsKey && name === null) askForKey();
  else await begin(needsKey);
});

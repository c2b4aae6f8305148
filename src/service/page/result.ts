/** What became of a job: verdict, figures, findings, pictures, downloads, cautions. */

import type { FindingView, JobView, SummaryView } from '../shapes.js';
import { count, el, figure, size } from './dom.js';

/** Findings of one kind that are shown in full. */
const SHOWN_MOST = 5;

const KINDS: readonly (readonly [RegExp, string])[] = [
  [/\.forms\.dxf$/, 'drawing with the forms'],
  [/\.report\.html$/, 'report'],
  [/\.report\.pdf$/, 'report on paper'],
  [/\.schedule\.xlsx$/, 'lists, workbook'],
  [/\.schedule\.csv$/, 'lists, plain'],
  [/\.layout\.json$/, 'layout for programs'],
  [/\.forms\.ifc$/, 'model of the forms'],
  [/\.findings\.bcf$/, 'findings as topics'],
  [/\.trace\.dxf$/, 'drawing of what was read'],
  [/\.trace\.json$/, 'what was read, for programs'],
  [/\.job\.proposed\.yaml$/, 'proposed job file'],
];

const wordsOf = (name: string): string => KINDS.find(([pattern]) => pattern.test(name))?.[1] ?? 'picture';

export const downloads = ({ files }: JobView): HTMLElement => {
  const isPicture = (name: string) => /\.(svg|png)$/.test(name);
  const link = (f: JobView['files'][number]) =>
    el(
      'li',
      {},
      el('a', { href: `${f.href}?download=1`, download: f.name }, f.name),
      ` – ${wordsOf(f.name)}, ${size(f.sizeBytes)}`,
    );
  const main = files.filter((f) => !isPicture(f.name));
  const pictures = files.filter((f) => isPicture(f.name));
  return el(
    'div',
    {},
    el('ul', { class: 'downloads' }, ...main.map(link)),
    pictures.length > 0 &&
      el(
        'details',
        {},
        el('summary', {}, count(pictures.length, 'picture')),
        el('ul', { class: 'downloads' }, ...pictures.map(link)),
      ),
  );
};

const verdictOf = (view: JobView): readonly [string, string] => {
  const { result, exitCode, state } = view;
  if (state === 'cancelled') return ['care', 'Cancelled. Nothing was laid out.'];
  if (result === null || result.kind === 'fault')
    return ['fails', result?.kind === 'fault' ? result.message : 'The job has no result.'];
  const failures = result.findings.filter((f) => f.severity === 'failure').length;
  const attention = result.findings.filter((f) => f.severity === 'attention').length;
  const points =
    view.kind === 'trace' ? count(attention, 'question') : `${count(attention, 'point')} to look at before building`;
  const look = attention === 0 ? '' : ` ${points}.`;
  if (exitCode === 2) return ['fails', `Refused. ${result.findings.at(-1)?.message ?? ''}`];
  const what = view.kind === 'trace' ? 'Read' : 'Laid out';
  if (exitCode === 1)
    return [
      'fails',
      `${what}, with ${count(failures, 'failure')}${view.kind === 'trace' ? '' : ': these places must be solved by hand'}.${look}`,
    ];
  return [attention > 0 ? 'care' : 'well', `${what}, no failures.${look}`];
};

export const verdict = (view: JobView): HTMLElement => {
  const [kind, words] = verdictOf(view);
  return el('p', { class: `verdict ${kind}` }, words);
};

const figures = (s: SummaryView): HTMLElement => {
  const { totals, worstTie } = s;
  const rows: [string, string][] = [
    ['walls', `${s.walls}, ${figure(totals.wallLengthM, 2)} m`],
    ['pieces', String(s.pieces)],
    ['ties', String(totals.tieCount)],
    ['mass', `${figure(totals.massKg, 0)} kg`],
    ['concrete face', `${figure(totals.contactAreaM2, 1)} m²`],
    ['timber', `${figure(totals.timberAreaM2, 3)} m²`],
    ['concrete', `${figure(totals.concreteM3, 1)} m³`],
    ['levels', `${figure(s.footingMm, 0)} to ${figure(s.topMm, 0)} mm`],
  ];
  for (const { method, rateMPerH, designKpa } of s.pressure)
    rows.push(['pressure', `${figure(designKpa[0] ?? 0, 1)} kPa (${method}, ${figure(rateMPerH, 2)} m/h)`]);
  // Rounded up: a tie over its load must never read as at it.
  if (worstTie)
    rows.push([
      'most loaded tie',
      `${worstTie.id}: ${Math.ceil((worstTie.loadKn / worstTie.workingLoadKn) * 100 - 1e-9)} % of ${figure(worstTie.workingLoadKn, 1)} kN`,
    ]);
  return el(
    'dl',
    { class: 'figures' },
    ...rows.map(([name, value]) => el('div', {}, el('dt', {}, name), el('dd', {}, value))),
  );
};

const item = (f: FindingView): HTMLElement =>
  el(
    'li',
    {},
    el('p', {}, f.message, f.assumed === null ? '' : ` Assumed: ${f.assumed}.`),
    f.action !== '' && el('p', { class: 'hint' }, f.action),
    el(
      'p',
      { class: 'hint code' },
      [f.code, f.subject, f.at === null ? '' : `at ${figure(f.at[0], 0)}, ${figure(f.at[1], 0)} mm`]
        .filter((t) => t !== '')
        .join(' · '),
    ),
  );

const TITLES = { failure: 'Failures', attention: 'To look at', note: 'Notes' } as const;

export const findingLists = (findings: readonly FindingView[]): HTMLElement[] =>
  (['failure', 'attention', 'note'] as const).flatMap((severity) => {
    const of = findings.filter((f) => f.severity === severity);
    if (of.length === 0) return [];
    const items = [...new Set(of.map((f) => f.code))].flatMap((code) => {
      const same = of.filter((f) => f.code === code);
      const more = same.length - SHOWN_MOST;
      return [
        ...same.slice(0, SHOWN_MOST).map(item),
        ...(more > 0 ? [el('li', { class: 'hint' }, `and ${more} more of ${code}: the report has them all`)] : []),
      ];
    });
    return [
      el(
        'details',
        { class: `findings ${severity}`, open: severity !== 'note' },
        el('summary', {}, `${TITLES[severity]} (${of.length})`),
        el('ul', {}, ...items),
      ),
    ];
  });

/** 'Elevation of wall W1, left face' of 'plan.elevation-W1-L.svg'. */
const titleOf = (name: string): string => {
  const [, wall, side] = /\.elevation-(.+)-([LR])\.(?:svg|png)$/.exec(name) ?? [];
  if (wall) return `Elevation of wall ${wall}, ${side === 'L' ? 'left' : 'right'} face`;
  return /\.plan\.(svg|png)$/.test(name) ? 'Plan of the forms' : name.replace(/^.*\.([^.]+)\.(?:svg|png)$/, '$1');
};

const pictures = ({ files }: JobView): HTMLElement | null => {
  const drawn = files.filter((f) => /\.(svg|png)$/.test(f.name));
  if (drawn.length === 0) return null;
  const shown = (f: JobView['files'][number]) =>
    el(
      'figure',
      { class: 'picture' },
      el(
        'a',
        { href: f.href, target: '_blank', rel: 'noopener' },
        el('img', { src: f.href, alt: titleOf(f.name), loading: 'lazy' }),
      ),
      el('figcaption', {}, titleOf(f.name)),
    );
  const [plan, ...elevations] = drawn;
  return el(
    'div',
    {},
    shown(plan!),
    elevations.length > 0 &&
      el(
        'details',
        { open: elevations.length <= 8 },
        el('summary', {}, count(elevations.length, 'elevation')),
        el('div', { class: 'elevations' }, ...elevations.map(shown)),
      ),
  );
};

/** The whole of a layout, for a person. */
export const resultView = (view: JobView): HTMLElement[] => {
  const { result } = view;
  const parts: (HTMLElement | null)[] = [el('p', { class: 'file' }, view.fileName), verdict(view)];
  if (result?.kind === 'done') {
    const report = view.files.find((f) => f.name.endsWith('.report.html'));
    if (report)
      parts.push(
        el('p', {}, el('a', { href: report.href, target: '_blank', rel: 'noopener', class: 'go' }, 'Open the report')),
      );
    if (result.summary) parts.push(el('h3', {}, 'Totals'), figures(result.summary));
    if (result.findings.length > 0) parts.push(el('h3', {}, 'Findings'), ...findingLists(result.findings));
    const drawn = pictures(view);
    if (drawn) parts.push(el('h3', {}, 'Plan and elevations'), drawn);
    else if (result.summary)
      parts.push(el('p', { class: 'hint' }, 'No pictures were asked for: plan and elevations stand in the report.'));
    if (view.files.length > 0) parts.push(el('h3', {}, 'Downloads'), downloads(view));
    if (view.files.length > 0)
      parts.push(
        el('h3', {}, 'Cautions'),
        el('ul', { class: 'cautions' }, ...view.cautions.map((c) => el('li', {}, c))),
      );
  }
  return parts.filter((p): p is HTMLElement => p !== null);
};

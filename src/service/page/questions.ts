/** The questions of a trace as a form, with what was found as the answer that stands, and the job file that comes of it. */

import type { FindingView, JobView, TracedView } from '../shapes.js';
import { type Child, el, figure } from './dom.js';

const MM_PER = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 } as const;
const METHODS = [
  ['', 'ACI 347, SI units (if nothing is said)'],
  ['aci-347-si', 'ACI 347, SI units'],
  ['aci-347-us', 'ACI 347, US units'],
  ['din-18218', 'DIN 18218'],
  ['ciria-108', 'CIRIA 108'],
  ['hydrostatic', 'Full liquid head'],
] as const;

type Question = TracedView['questions'][number];
type Answers = Record<string, unknown>;

interface Field {
  readonly element: HTMLElement;
  /** Adds to the job what this field says; a sentence where it says nothing that can be used. */
  readonly read: (job: Record<string, Answers>) => string | null;
}

let made = 0;
const freshId = (): string => `field-${++made}`;

/** A label, an input, and beside it the evidence. */
const field = (label: string, input: HTMLElement, ...evidence: readonly Child[]): HTMLElement => {
  const id = freshId();
  input.id = id;
  const hint = el('div', { class: 'hint', id: `${id}-hint` }, ...evidence);
  input.setAttribute('aria-describedby', hint.id);
  return el('div', { class: 'field' }, el('label', { for: id }, label), input, hint);
};

const select = (options: readonly (readonly [string, string])[], chosen: string): HTMLSelectElement =>
  el('select', {}, ...options.map(([value, words]) => el('option', { value, selected: value === chosen }, words)));

const numberInput = (value: string, hintValue: string): HTMLInputElement =>
  el('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off', value, placeholder: hintValue });

/** The number in a field; null where it is empty, NaN where it is none. A comma may part decimals. */
const numberOf = (input: HTMLInputElement): number | null => {
  const text = input.value.trim().replace(',', '.');
  return text === '' ? null : Number(text);
};

const put = (job: Record<string, Answers>, group: string, key: string, value: unknown): void => {
  job[group] = { ...job[group], [key]: value };
};

const numberField = (
  label: string,
  group: string,
  keyOf: () => string,
  input: HTMLInputElement,
  ...evidence: readonly Child[]
): Field => {
  const element = field(label, input, ...evidence);
  return {
    element,
    read: (job) => {
      const value = numberOf(input);
      const isWrong = value !== null && !Number.isFinite(value);
      input.setAttribute('aria-invalid', String(isWrong));
      if (isWrong) return `${element.querySelector('label')!.textContent}: '${input.value}' is no number.`;
      if (value !== null) put(job, group, keyOf(), value);
      return null;
    },
  };
};

/** What was said about a key: questions first, then notes. */
const evidenceOf = (key: string, questions: readonly Question[], findings: readonly FindingView[]): Child[] => {
  const asked = questions.filter((q) => q.keys.includes(key));
  if (asked.length > 0) {
    return asked.flatMap((q) => [
      el('p', { class: 'asked' }, el('strong', {}, `Question ${q.number}: `), q.question),
      el('p', {}, q.found, q.assumed === null ? '' : ` Assumed: ${q.assumed}.`),
    ]);
  }
  return findings
    .filter((f) => f.keys.includes(key))
    .slice(0, 2)
    .map((f) => el('p', {}, f.message));
};

const drawingFields = (traced: TracedView, findings: readonly FindingView[]): Field[] => {
  const { questions, lengthUnit, layers } = traced;
  const isAsked = (key: string) => questions.some((q) => q.keys.includes(key));
  const unit = select(
    [
      ['mm', 'millimetres'],
      ['cm', 'centimetres'],
      ['m', 'metres'],
      ['in', 'inches'],
      ['ft', 'feet'],
    ],
    lengthUnit,
  );
  const walls = el(
    'textarea',
    { rows: Math.min(6, Math.max(2, layers.length)), spellcheck: 'false' },
    layers.join('\n'),
  );
  const named = () =>
    walls.value
      .split('\n')
      .map((l) => l.trim())
      .filter((l) => l !== '');
  const fields: Field[] = [
    {
      element: field('Unit of the drawing', unit, ...evidenceOf('drawing.unit', questions, findings)),
      read: (job) => {
        if (unit.value !== lengthUnit || isAsked('drawing.unit')) put(job, 'drawing', 'unit', unit.value);
        return null;
      },
    },
    {
      element: field(
        'Layers of the walls, one a line',
        walls,
        ...evidenceOf('drawing.wallLayers', questions, findings),
        el('p', {}, 'The walls were taken from these; * and ? stand for any letters.'),
      ),
      read: (job) => {
        const now = named();
        const isChanged = now.join('\n') !== layers.join('\n');
        if (now.length > 0 && (isChanged || isAsked('drawing.wallLayers'))) put(job, 'drawing', 'wallLayers', now);
        return null;
      },
    },
  ];
  if (isAsked('drawing.thicknessMm')) {
    fields.push(
      numberField(
        'Thickness of walls that are drawn as centre lines, mm',
        'drawing',
        () => 'thicknessMm',
        numberInput('', ''),
        ...evidenceOf('drawing.thicknessMm', questions, findings),
      ),
    );
  }
  return fields;
};

const levelField = (
  key: 'footingMm' | 'topMm',
  label: string,
  traced: TracedView,
  findings: readonly FindingView[],
) => {
  const { levels, questions } = traced;
  const from = key === 'footingMm' ? levels.footingFrom : levels.topFrom;
  const value = figure(levels[key], 1);
  const said =
    from === 'default'
      ? `Nothing in the drawing says it: ${value} is assumed if you leave this empty.`
      : `The ${from === 'job' ? 'answers' : 'drawing'} gave it.`;
  const input = numberInput(from === 'default' ? '' : value, from === 'default' ? `${value} (assumed)` : '');
  const evidence = from === 'default' ? [] : evidenceOf(`levels.${key}`, questions, findings);
  return numberField(label, 'levels', () => key, input, ...evidence, el('p', {}, said));
};

const concreteFields = (isUs: boolean): Field[] => {
  const method = select(METHODS, isUs ? 'aci-347-us' : '');
  const rate = numberInput('', '');
  const temperature = numberInput('', '');
  const inUs = () => method.value === 'aci-347-us';
  const rateField = numberField('', 'concrete', () => (inUs() ? 'rateFtPerH' : 'rateMPerH'), rate, el('p'));
  const warmthField = numberField(
    '',
    'concrete',
    () => (inUs() ? 'temperatureF' : 'temperatureC'),
    temperature,
    el('p'),
  );
  const say = (f: Field, label: string, hint: string) => {
    f.element.querySelector('label')!.textContent = label;
    f.element.querySelector('.hint p')!.textContent = hint;
  };
  const relabel = () => {
    const us = inUs();
    say(
      rateField,
      `Rate of rise, ${us ? 'ft/h' : 'm/h'}`,
      `${us ? '4.9 ft/h' : '1.5 m/h'} is assumed if you leave this empty.`,
    );
    say(
      warmthField,
      `Temperature of the concrete, °${us ? 'F' : 'C'}`,
      `${us ? '50 °F' : '10 °C'} is assumed if you leave this empty.`,
    );
  };
  method.addEventListener('change', relabel);
  relabel();
  return [
    {
      element: field('Concrete pressure by', method, el('p', {}, 'Which standard sets the pressure on the forms.')),
      read: (job) => {
        if (method.value !== '') put(job, 'concrete', 'method', method.value);
        return null;
      },
    },
    rateField,
    warmthField,
  ];
};

/** A break in a wall: an opening, or two walls that end. */
const openingField = (q: Question, unit: TracedView['lengthUnit']): Field => {
  const group = freshId();
  const radio = (value: string, words: string) => {
    const id = freshId();
    return el(
      'div',
      { class: 'choice' },
      el('input', { type: 'radio', name: group, value, id, checked: value === '' }),
      el('label', { for: id }, words),
    );
  };
  const sill = numberInput('', '');
  const head = numberInput('', '');
  const levels = el(
    'div',
    { class: 'fields', hidden: true },
    field('Level of the sill, mm', sill),
    field('Level of the head, mm', head),
  );
  const element = el(
    'fieldset',
    { class: 'field' },
    el('legend', {}, `Question ${q.number}: ${q.question}`),
    el('p', { class: 'hint' }, q.found),
    radio('', `As assumed${q.assumed === null ? '' : `: ${q.assumed}`}`),
    radio('ends', 'Two walls end here'),
    radio('opening', 'It is an opening in one wall'),
    levels,
  );
  const chosen = () => element.querySelector<HTMLInputElement>('input:checked')?.value ?? '';
  element.addEventListener('change', () => {
    levels.hidden = chosen() !== 'opening';
  });
  return {
    element,
    read: (job) => {
      if (chosen() === '' || q.at === null) return null;
      const near = [q.at[0] / MM_PER[unit], q.at[1] / MM_PER[unit]].map((v) => Number(v.toFixed(6)));
      let answer: Answers = { near, wallEnds: true };
      if (chosen() === 'opening') {
        const [sillMm, headMm] = [numberOf(sill), numberOf(head)];
        const isWrong = [sillMm, headMm].some((v) => v !== null && !Number.isFinite(v));
        if (isWrong || (sillMm === null && headMm === null))
          return `Question ${q.number}: give the level of the sill, of the head, or of both, as numbers.`;
        answer = { near, ...(sillMm === null ? {} : { sillMm }), ...(headMm === null ? {} : { headMm }) };
      }
      const before = (job.drawing?.openings ?? []) as Answers[];
      put(job, 'drawing', 'openings', [...before, answer]);
      return null;
    },
  };
};

const gearField = (isInch: boolean): Field => {
  const gear = select(
    [
      ['demo', 'Demonstration yard, metric'],
      ['demo-inch', 'Demonstration yard, inches'],
    ],
    isInch ? 'demo-inch' : 'demo',
  );
  const words = 'Invented gear, to try the program. Give your own catalogue with the drawing above.';
  return {
    element: field('Gear', gear, el('p', {}, words)),
    read: (job) => {
      (job as Record<string, unknown>).catalogue = gear.value;
      return null;
    },
  };
};

export interface QuestionForm {
  readonly element: HTMLElement;
  /** The job file that the answers make, or what is wrong with them. */
  readonly answers: () => { readonly job: Record<string, unknown> } | { readonly wrong: readonly string[] };
}

const part = (title: string, fields: readonly Field[]): HTMLElement =>
  el(
    'fieldset',
    { class: 'part' },
    el('legend', {}, title),
    el('div', { class: 'fields' }, ...fields.map((f) => f.element)),
  );

/** `isModel`: the file is IFC, which has its own unit and no layers; `hasCatalogue`: the person's own goes along. */
export const questionForm = (
  view: JobView,
  traced: TracedView,
  isModel: boolean,
  hasCatalogue: boolean,
): QuestionForm => {
  const findings = view.result?.kind === 'done' ? view.result.findings : [];
  const isInch = traced.lengthUnit === 'in' || traced.lengthUnit === 'ft';
  const drawing = isModel ? [] : drawingFields(traced, findings);
  const levels = [
    levelField('footingMm', 'Top of the footing, mm', traced, findings),
    levelField('topMm', 'Top of the walls (pour line), mm', traced, findings),
  ];
  const breaks = traced.questions.filter((q) => q.keys.includes('drawing.openings') && q.at !== null);
  const openings = breaks.map((q) => openingField(q, traced.lengthUnit));
  const concrete = concreteFields(isInch);
  const gear = hasCatalogue ? [] : [gearField(isInch)];
  const element = el(
    'div',
    { class: 'parts' },
    drawing.length > 0 && part('Drawing', drawing),
    part('Levels', levels),
    openings.length > 0 && part('Breaks and openings', openings),
    part('Concrete', concrete),
    gear.length > 0 && part('Gear', gear),
  );
  return {
    element,
    answers: () => {
      const job: Record<string, Answers> = {};
      const wrong = [...drawing, ...levels, ...openings, ...concrete, ...gear]
        .map((f) => f.read(job))
        .filter((w): w is string => w !== null);
      const { footingMm, topMm } = job.levels ?? {};
      if (typeof footingMm === 'number' && typeof topMm === 'number' && topMm <= footingMm)
        wrong.push('The top of the walls must lie above the top of the footing.');
      return wrong.length > 0 ? { wrong } : { job };
    },
  };
};

const IN_FORM = new Set([
  'drawing.unit',
  'drawing.wallLayers',
  'drawing.thicknessMm',
  'drawing.openings',
  'levels.footingMm',
  'levels.topMm',
]);

/** Questions that the form does not ask. */
export const otherQuestions = (traced: TracedView): Question[] =>
  traced.questions.filter(
    (q) => !q.keys.some((key) => IN_FORM.has(key)) || (q.keys.includes('drawing.openings') && q.at === null),
  );

/**
 * Findings as topics: for failures and for what needs a person's attention, in the order of the report, one each, but those of one kind on one wall
 * together where they are many, since they have one cause; notes together in one, since nobody has to answer them. What is beyond the first topics is named in one more.
 */

import { FINDINGS, type Finding, type FindingKind, type Severity } from '../../../ground/findings.js';
import type { Result } from '../../../ground/vocabulary.js';
import type { Ids } from '../globalId.js';
import { isSourceElement, type Subject, subjectsOf } from './subjects.js';

export interface Topic {
  readonly uuid: string;
  readonly viewUuid: string;
  /** Values of buildingSMART's sample of extensions. */
  readonly type: 'Issue' | 'Request' | 'Comment';
  readonly priority: '1' | '2' | '3';
  readonly title: string;
  readonly labels: readonly string[];
  readonly description: string;
  readonly components: readonly string[];
  /** Plan and level, mm; null: the whole plan is shown. */
  readonly at: readonly [number, number, number] | null;
  readonly subject: Subject | null;
}

/** More than a person goes through one by one. *Practice, no source.* */
export const MOST_TOPICS = 200;
/** More findings of one kind on one wall than this are one topic. *Practice, no source.* */
const ALIKE_MOST = 3;
/** Lines of a gathered topic. */
const MOST_LINES = 200;
const TITLE_LONGEST = 120;
/** Things that a viewpoint selects. */
const MOST_COMPONENTS = 100;

const KIND: Readonly<Record<Severity, Pick<Topic, 'type' | 'priority'>>> = {
  failure: { type: 'Issue', priority: '1' },
  attention: { type: 'Request', priority: '2' },
  note: { type: 'Comment', priority: '3' },
};

const shortened = (text: string): string => {
  const characters = [...text.replace(/\s+/g, ' ').trim()];
  return characters.length <= TITLE_LONGEST
    ? characters.join('')
    : `${characters.slice(0, TITLE_LONGEST - 1).join('')}…`;
};

const kindOf = (code: string): FindingKind | undefined => (FINDINGS as Readonly<Record<string, FindingKind>>)[code];

const describe = (f: Finding): string => {
  const kind = kindOf(f.code);
  return [
    f.message,
    f.assumed === null ? null : `Assumed: ${f.assumed}.`,
    kind ? `What it means: ${kind.meaning}` : null,
    kind ? `What to do: ${kind.action}` : null,
    `Finding ${f.code}, rule ${f.rule}${f.subject === '' ? '' : `, about ${f.subject}`}.`,
  ]
    .filter((line) => line !== null)
    .join('\n');
};

const gathered = (findings: readonly Finding[], intro: string): string => {
  const lines = findings
    .slice(0, MOST_LINES)
    .map((f) => `- ${f.message}${f.assumed === null ? '' : ` Assumed: ${f.assumed}.`} (${f.code})`);
  const left = findings.length - lines.length;
  return [intro, ...lines, ...(left > 0 ? [`and ${left} more; all are in layout.json and in the report.`] : [])].join(
    '\n',
  );
};

/** The place of a finding: its own; without a level, that of what it is about. */
const placeOf = (f: Finding, subject: Subject | null): readonly [number, number, number] | null => {
  if (f.at?.every(Number.isFinite)) return [f.at[0], f.at[1], f.at[2] === 0 && subject ? subject.levelMm : f.at[2]];
  return subject ? [subject.at.x, subject.at.y, subject.levelMm] : null;
};

/** Findings of one code on one wall in one list where they are many, all others by themselves; in the order of the first of each. */
const listsAlike = (findings: readonly Finding[], wallOf: (f: Finding) => string | null): Finding[][] => {
  const groups = new Map<string, Finding[]>();
  for (const f of findings) {
    const wall = wallOf(f);
    if (wall !== null) groups.set(`${f.code} ${wall}`, [...(groups.get(`${f.code} ${wall}`) ?? []), f]);
  }
  return findings.flatMap((f) => {
    const group = groups.get(`${f.code} ${wallOf(f)}`) ?? [];
    if (group.length <= ALIKE_MOST) return [[f]];
    return group[0] === f ? [group] : [];
  });
};

export interface Topics {
  readonly topics: readonly Topic[];
  /** Failures and attentions that have no topic of their own. */
  readonly gatheredCount: number;
}

export const topicsOf = (result: Result, ids: Ids): Topics => {
  const subjects = subjectsOf(result, ids);
  const counts = new Map<string, number>();
  const uuids = (key: string): Pick<Topic, 'uuid' | 'viewUuid'> => {
    const n = (counts.get(key) ?? 0) + 1;
    counts.set(key, n);
    const whole = n === 1 ? key : `${key}#${n}`;
    return { uuid: ids.uuid(`topic ${whole}`), viewUuid: ids.uuid(`view ${whole}`) };
  };
  const single = (f: Finding): Topic => {
    const subject = subjects.get(f.subject) ?? null;
    const where = f.at ? ` ${f.at.map((v) => Math.round(v)).join(',')}` : '';
    const own = isSourceElement(result, f.subject) ? [f.subject] : [];
    return {
      ...uuids(`${f.code} ${subject?.key ?? `${f.subject}${where}`}`),
      ...KIND[f.severity],
      title: shortened(f.message),
      labels: [f.code, f.rule],
      description: describe(f),
      components: [...own, ...(subject?.components ?? [])].slice(0, MOST_COMPONENTS),
      at: placeOf(f, subject),
      subject,
    };
  };
  /** Findings of one kind on one wall; a single one by itself. */
  const alike = (list: readonly Finding[]): Topic => {
    const first = list[0]!;
    const one = single(first);
    if (list.length === 1) return one;
    const kind = kindOf(first.code);
    const about = list.map((f) => subjects.get(f.subject)).filter((s) => s !== undefined);
    const explained = kind ? `\nWhat it means: ${kind.meaning}\nWhat to do: ${kind.action}` : '';
    return {
      ...one,
      ...uuids(`${first.code} all of ${about[0]?.wallKey ?? ''}`),
      title: shortened(`${list.length} alike: ${first.message}`),
      description: `${gathered(list, `${list.length} findings of one kind on one wall:`)}${explained}`,
      components: [...new Set(about.flatMap((s) => s.components))].slice(0, MOST_COMPONENTS),
    };
  };
  const together = (key: string, severity: Severity, title: string, description: string): Topic => ({
    ...uuids(key),
    ...KIND[severity],
    title,
    labels: ['shutterwright'],
    description,
    components: [],
    at: null,
    subject: null,
  });
  const wanted = result.findings.filter((f) => f.severity !== 'note');
  const notes = result.findings.filter((f) => f.severity === 'note');
  const lists = listsAlike(wanted, (f) => subjects.get(f.subject)?.wallKey ?? null);
  const rest = lists.slice(MOST_TOPICS).flat();
  return {
    topics: [
      ...lists.slice(0, MOST_TOPICS).map(alike),
      ...(rest.length > 0
        ? [
            together(
              'rest',
              rest[0]!.severity,
              `${rest.length} further findings`,
              gathered(rest, 'Findings beyond those with a topic of their own:'),
            ),
          ]
        : []),
      ...(notes.length > 0
        ? [
            together(
              'notes',
              'note',
              `What was assumed and noted (${notes.length})`,
              gathered(notes, 'Notes: nobody has to answer them, but what was assumed stands here.'),
            ),
          ]
        : []),
    ],
    gatheredCount: rest.length,
  };
};

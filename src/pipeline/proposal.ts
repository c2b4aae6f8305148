/**
 * The proposed job file: what the person has given stands as given, what was read or assumed stands in comment lines that begin with a single '#', each
 * under its question. Taking the '#' and the blank after it away from a line confirms it; lines with '##' explain.
 */

import { FINDINGS, type Finding, type FindingKind } from '../ground/findings.js';
import { type Question, questionMark } from '../ground/questions.js';
import { fromMm, type LengthUnit, plainNumber } from '../ground/units.js';
import type { Answer } from './answers.js';
import { filesNamed } from './options.js';
import { type Job, jobKeys } from './schema.js';
import { flow, oneLine } from './yamlText.js';

export interface ProposalInput {
  readonly fileName: string;
  readonly jobName: string;
  readonly unit: LengthUnit;
  /** As the person gave it. */
  readonly job: Job;
  readonly answers: readonly Answer[];
  /** Keys whose value was read, but that would change what is read if they were named. */
  readonly unsafe: readonly string[];
  /** Nobody tried out whether the proposed lines give what was read. */
  readonly isUntried: boolean;
  readonly questions: readonly Question[];
  readonly findings: readonly Finding[];
}

/** What is asked where no finding asks. */
const ASKED: Readonly<Record<string, string>> = {
  'drawing.unit': 'In which unit are the numbers of the drawing?',
  'drawing.wallLayers': 'Are these the layers that hold the faces of the walls?',
  'drawing.takeElements': 'Are these the walls that are to be formed?',
  'drawing.area': 'Is this the part of the sheet that is to be formed?',
  'drawing.openings': 'Is this an opening in a wall?',
  'levels.footingMm': 'At which level is the top of the footing?',
  'levels.topMm': 'At which level is the top of the walls?',
  'levels.at': 'Does this level hold for the wall nearest to it?',
  'levels.steps': 'Does the wall step here?',
  oneSided: 'Is this wall formed on one side only?',
};

const WIDTH = 110;
/** A finding and an answer nearer than this are about one place, mm. */
const SAME_PLACE_MM = 1;
/** More notes of one kind are counted, not told. */
const NOTES_MOST = 3;

const wrapped = (words: string, indent: string): string[] => {
  const lines: string[] = [];
  let current = '';
  for (const word of oneLine(words).split(' ')) {
    if (current !== '' && current.length + 1 + word.length > WIDTH) {
      lines.push(current);
      current = word;
    } else current = current === '' ? word : `${current} ${word}`;
  }
  if (current !== '') lines.push(current);
  return lines.map((l) => `${indent}## ${l}`);
};

class Writer {
  private readonly lines: string[] = [];
  private readonly told = new Set<Finding>();
  private readonly numbers: ReadonlyMap<Finding, Question>;

  constructor(private readonly input: ProposalInput) {
    this.numbers = new Map(input.questions.map((q) => [q.finding, q]));
  }

  private say(words: string, indent: string): void {
    this.lines.push(...wrapped(words, indent));
  }

  private placeText([x, y]: readonly [number, number, number]): string {
    const units = (v: number): string => plainNumber(fromMm(v, this.input.unit), 3);
    return `At ${units(x)}, ${units(y)}.`;
  }

  /** Question, place, evidence and what was assumed; of one that was told before, its number. */
  private tell(finding: Finding, indent: string): void {
    const question = this.numbers.get(finding);
    const mark = question ? `${questionMark(question)} ` : '';
    if (this.told.has(finding)) {
      if (question) this.say(`${mark}asks for this too.`, indent);
      return;
    }
    this.told.add(finding);
    const kind: FindingKind = FINDINGS[finding.code];
    const place = finding.at === null ? '' : `${this.placeText(finding.at)} `;
    this.say(`${mark}${kind.ask?.question ?? kind.action}`, indent);
    this.say(`${place}${finding.message}`, indent);
    if (finding.assumed !== null) this.say(`Assumed: ${finding.assumed}.`, indent);
  }

  private asking(key: string): Finding[] {
    return this.input.findings.filter((f) => (FINDINGS[f.code] as FindingKind).ask?.keys.includes(key));
  }

  /** Findings that ask for the key as a whole; notes in part. */
  private tellKey(key: string, findings: readonly Finding[], indent: string): void {
    const notes = findings.filter((f) => f.severity === 'note');
    for (const f of findings.filter((f) => f.severity !== 'note')) this.tell(f, indent);
    for (const f of notes.slice(0, NOTES_MOST)) this.tell(f, indent);
    if (this.input.unsafe.includes(key)) {
      this.say(`No value of ${key} is proposed: naming it as it was read would change what is read.`, indent);
    }
  }

  private scalar(key: string, name: string, given: unknown): void {
    const indent = '  ';
    const answer = this.input.answers.find((a) => a.key === key);
    const findings = this.asking(key);
    if (given === undefined && !answer && findings.every((f) => f.severity === 'note')) return;
    this.tellKey(key, findings, indent);
    if (given !== undefined) this.lines.push(`${indent}${name}: ${flow(given)}`);
    else if (answer) {
      if (findings.length === 0) this.say(`${ASKED[key] ?? ''} ${answer.evidence}`, indent);
      this.lines.push(`${indent}# ${name}: ${flow(answer.value)}`);
    } else this.say(`Answer with ${name}.`, indent);
  }

  private places(key: string, name: string, given: readonly unknown[] | null | undefined, indent = '  '): void {
    const answers = this.input.answers.filter((a) => a.key === key);
    const findings = this.asking(key);
    const isAt = (f: Finding, a: Answer): boolean =>
      f.at !== null && a.at !== null && Math.hypot(f.at[0] - a.at.x, f.at[1] - a.at.y) <= SAME_PLACE_MM;
    const whole = findings.filter((f) => !answers.some((a) => isAt(f, a)));
    if ((given ?? []).length + answers.length + whole.length === 0) return;
    this.tellKey(key, whole, indent);
    this.lines.push(`${indent}${name}:`);
    for (const item of given ?? []) this.lines.push(`${indent}  - ${flow(item)}`);
    for (const answer of answers) {
      const about = findings.filter((f) => isAt(f, answer));
      for (const f of about) this.tell(f, `${indent}  `);
      this.say(about.length === 0 ? `${ASKED[key] ?? ''} ${answer.evidence}` : answer.evidence, `${indent}  `);
      this.lines.push(`${indent}  # - ${flow(answer.value)}`);
    }
  }

  private group(name: 'drawing' | 'levels'): void {
    const before = this.lines.length;
    this.lines.push(`${name}:`);
    const given = (this.input.job[name] ?? {}) as Record<string, unknown>;
    for (const { key, isPlaces } of jobKeys(name)) {
      const path = `${name}.${key}`;
      if (isPlaces) this.places(path, key, given[key] as readonly unknown[] | null | undefined);
      else this.scalar(path, key, given[key]);
    }
    if (this.lines.length === before + 1) this.lines.pop();
  }

  /** The one list of places that stands in no group. An empty one says that there are none. */
  private oneSided(): void {
    const { oneSided } = this.input.job;
    if (oneSided?.length === 0) this.lines.push('oneSided: []');
    else this.places('oneSided', 'oneSided', oneSided, '');
  }

  /** Groups that tracing takes no heed of: as given. */
  private rest(): void {
    for (const [name, value] of Object.entries(this.input.job)) {
      if (name === 'drawing' || name === 'levels' || name === 'oneSided' || value === undefined) continue;
      if (value === null || typeof value !== 'object' || Array.isArray(value) || Object.keys(value).length === 0) {
        this.lines.push(`${name}: ${flow(value)}`);
        continue;
      }
      this.lines.push(`${name}:`);
      for (const [key, inner] of Object.entries(value)) {
        if (inner !== undefined) this.lines.push(`  ${flow(key)}: ${flow(inner)}`);
      }
    }
  }

  private head(): void {
    const { fileName, jobName, job, isUntried } = this.input;
    const { catalogue, stock, survey } = filesNamed(job);
    const files = [catalogue, stock, survey].filter((f) => f !== null).join(' and ');
    const where =
      files === '' ? 'beside the drawing' : `in the folder of your job file, beside which ${files} is looked for,`;
    for (const words of [
      `Job file proposed for ${fileName}: what was read of the drawing, as keys. Nothing has been laid out yet.`,
      'Lines without a mark: what you have given. Lines that begin with a single #: what the program read or assumed; take the # and the blank after it away to confirm such a line, or change its value. Lines with ##: the questions.',
      'Numbers like ?1 are those of the trace drawing. Places are in drawing coordinates, levels in mm.',
      `Save it as ${jobName} ${where} and run again. This file itself is written anew by each run as long as nobody has changed it.`,
      ...(isUntried
        ? [
            'The drawing is large: it was not tried out whether these lines, all taken, give again what was read. Compare the next trace with this one.',
          ]
        : []),
    ]) {
      this.say(words, '');
    }
  }

  private unanswered(): void {
    const open = this.input.questions.filter((q) => !this.told.has(q.finding));
    if (open.length === 0) return;
    this.lines.push('');
    this.say('Questions that no key answers: look at the place, and correct the drawing where it is wrong.', '');
    for (const q of open) this.tell(q.finding, '');
  }

  text(): string {
    this.head();
    this.lines.push('');
    this.group('drawing');
    this.group('levels');
    this.oneSided();
    this.rest();
    this.unanswered();
    return `${this.lines.join('\n')}\n`;
  }
}

/** FNV-1a over code units, 32 bits, as eight hex digits: to see that a file was changed, not to keep anyone from changing it. */
const checksum = (content: string): string => {
  let hash = 0x811c9dc5;
  for (let i = 0; i < content.length; i++) hash = Math.imul(hash ^ content.charCodeAt(i), 0x01000193) >>> 0;
  return hash.toString(16).padStart(8, '0');
};

const SEAL = '## As written by shutterwright, checksum ';

/** The file as it is written, with its last line by which it is known again. */
export const proposalText = (input: ProposalInput): string => {
  const body = new Writer(input).text();
  return `${body}${SEAL}${checksum(body)}\n`;
};

/** Whether a file is a proposed job file as this program wrote it, changed by nobody. */
export const isOwnProposal = (content: string): boolean => {
  const plain = content.replace(/\r\n/g, '\n');
  const at = plain.lastIndexOf(SEAL);
  return at >= 0 && plain.slice(at) === `${SEAL}${checksum(plain.slice(0, at))}\n`;
};

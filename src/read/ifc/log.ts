/** What reading could not use or had to assume, gathered by cause while it goes on and said at its end: one finding a cause. */

import { type Finding, type FindingCode, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';

/** Who it happens to: an element by name and GlobalId, or an instance by its number. */
export interface Subject {
  /** GlobalId; null for an instance that has none. */
  readonly id: string | null;
  readonly line: number;
  readonly name: string | null;
}

const SHOWN = 5;
const KEPT = 10_000;
const LONGEST = 60;

export const shortened = (text: string): string => (text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);

const label = (subject: Subject): string =>
  subject.id === null
    ? `#${subject.line}`
    : subject.name === null
      ? `${shortened(subject.id)} (#${subject.line})`
      : `'${shortened(subject.name)}' ${shortened(subject.id)}`;

interface Cause {
  readonly code: FindingCode;
  readonly message: string;
  readonly assumed: string | null;
  readonly subjects: Map<string, Subject>;
}

export class ModelLog {
  private readonly causes = new Map<string, Cause>();

  /** Says it once for all that it happens to. `message` is a sentence without its full stop; who it happens to is put behind it. */
  add(code: FindingCode, message: string, subject: Subject | null, assumed: string | null = null): void {
    const key = `${code}\n${message}`;
    let cause = this.causes.get(key);
    if (!cause) {
      cause = { code, message, assumed, subjects: new Map() };
      this.causes.set(key, cause);
    }
    if (subject === null || cause.subjects.size >= KEPT) return;
    cause.subjects.set(label(subject), subject);
  }

  /** Sorted by code and message; subjects by GlobalId. */
  findings(): readonly Finding[] {
    return [...this.causes.values()]
      .sort((a, b) => compareText(a.code, b.code) || compareText(a.message, b.message))
      .map((cause) => {
        const subjects = [...cause.subjects.values()].sort(
          (a, b) => compareText(a.id ?? '', b.id ?? '') || a.line - b.line,
        );
        const shown = subjects.slice(0, SHOWN).map(label);
        const rest = subjects.length - shown.length;
        const who = shown.length === 0 ? '' : `: ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`;
        const subject = subjects.length === 1 ? (subjects[0]!.id ?? `#${subjects[0]!.line}`) : '';
        return finding(cause.code, `${cause.message}${who}.`, { subject, assumed: cause.assumed });
      });
  }
}

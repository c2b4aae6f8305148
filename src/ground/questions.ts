/** What a person is asked before anything is laid out: the findings of attention and failure, numbered once for drawing, lists and job file. */

import { compareFindings, FINDINGS, type Finding, type FindingKind } from './findings.js';
import type { FacePlan, Foundation, ModelHeader, SourceFacts } from './vocabulary.js';

export interface Question {
  /** From 1, in the order of compareFindings. */
  readonly number: number;
  readonly finding: Finding;
  /** In plain words; where no key answers it: what to do. */
  readonly question: string;
  /** Paths of the keys of the job file that answer it; empty where none does. */
  readonly keys: readonly string[];
}

/** How a question is called in drawing, lists and job file. */
export const questionMark = (question: Pick<Question, 'number'>): string => `?${question.number}`;

/** The questions among the findings. */
export const questionsOf = (findings: readonly Finding[]): Question[] =>
  findings
    .filter((f) => f.severity !== 'note')
    .sort(compareFindings)
    .map((finding, i) => {
      const { ask, action }: FindingKind = FINDINGS[finding.code];
      return { number: i + 1, finding, question: ask?.question ?? action, keys: ask?.keys ?? [] };
    });

/** What was understood of a drawing, before any fitting: for the writers of the trace. */
export interface TraceResult {
  readonly source: SourceFacts;
  readonly foundation: Foundation;
  /** Of a model alone. */
  readonly model?: ModelHeader;
  /** Walls with their names, levels and faces, as the layout will have them. */
  readonly plan: FacePlan;
  /** Layers that the walls were taken from, sorted. */
  readonly layers: readonly string[];
  /** Height of the drawing's own lettering, or what the job file says instead; null where there is neither. */
  readonly textHeightMm: number | null;
  readonly questions: readonly Question[];
  /** All findings, notes too, in the order of compareFindings. */
  readonly findings: readonly Finding[];
}

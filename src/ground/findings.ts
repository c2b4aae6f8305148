/** What a stage has to say: findings. The table of codes is in ./findings/, one file a stage; docs/FINDINGS.md is made from it. */

import { catalogueFindings } from './findings/catalogue.js';
import { checkFindings } from './findings/check.js';
import { checkSiteFindings } from './findings/checkSite.js';
import { fitFindings } from './findings/fit.js';
import { pipelineFindings } from './findings/pipeline.js';
import { readFindings } from './findings/read.js';
import { readIfcFindings } from './findings/readIfc.js';
import { shapeFindings } from './findings/shape.js';
import { traceFindings } from './findings/trace.js';
import { traceChoiceFindings } from './findings/traceChoice.js';
import { traceCurvesFindings } from './findings/traceCurves.js';
import { traceHabitFindings } from './findings/traceHabits.js';
import { traceModelFindings } from './findings/traceModel.js';
import { traceNoteFindings } from './findings/traceNotes.js';
import { writeFindings } from './findings/write.js';
import { writeIfcFindings } from './findings/writeIfc.js';

export type Severity = 'note' | 'attention' | 'failure';

export interface FindingKind {
  readonly severity: Severity;
  /** The rule or standard behind it: T1 … of the layout rules, a standard's clause, or 'input' for the state of the file. */
  readonly rule: string;
  /** One sentence: what it means. Goes into docs/FINDINGS.md. */
  readonly meaning: string;
  /** One sentence: what a person does about it. Goes into docs/FINDINGS.md. */
  readonly action: string;
  /** The question that a person answers in the job file, where keys of it answer: goes into the trace drawing, the proposed job file and docs/FINDINGS.md. */
  readonly ask?: {
    /** Paths of the keys: 'drawing.unit', 'levels.at'. */
    readonly keys: readonly string[];
    /** In plain words, with its question mark. */
    readonly question: string;
  };
}

export const FINDINGS = {
  ...catalogueFindings,
  ...readFindings,
  ...readIfcFindings,
  ...traceFindings,
  ...traceChoiceFindings,
  ...traceNoteFindings,
  ...traceCurvesFindings,
  ...traceHabitFindings,
  ...traceModelFindings,
  ...shapeFindings,
  ...fitFindings,
  ...checkFindings,
  ...checkSiteFindings,
  ...writeFindings,
  ...writeIfcFindings,
  ...pipelineFindings,
} satisfies Record<string, FindingKind>;

export type FindingCode = keyof typeof FINDINGS;

export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly rule: string;
  /** Place in the drawing: x, y in mm in the drawing's own axes, z (level, mm) or 0; null when it has no place. */
  readonly at: readonly [number, number, number] | null;
  /** What it is about: a wall, piece or tie id, a layer, a handle; '' when it is about the whole. */
  readonly subject: string;
  /** One plain sentence for the person who reads the drawing. */
  readonly message: string;
  /** What the program assumed in order to go on, or null. */
  readonly assumed: string | null;
}

/** A stage's result: always both. */
export interface Staged<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
}

/** A stage that may refuse: then the last finding says why in one sentence. */
export type Refusable<T> =
  | { readonly ok: true; readonly value: T; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly findings: readonly Finding[] };

export interface FindingDetail {
  readonly at?: readonly [number, number, number] | null;
  readonly subject?: string;
  readonly assumed?: string | null;
  /** Only where one code stands at different severities; the table's value otherwise. */
  readonly severity?: Severity;
}

/** Makes a finding; severity and rule come from the table. */
export const finding = (code: FindingCode, message: string, detail: FindingDetail = {}): Finding => {
  const kind: FindingKind = FINDINGS[code];
  return {
    code,
    severity: detail.severity ?? kind.severity,
    rule: kind.rule,
    at: detail.at ?? null,
    subject: detail.subject ?? '',
    message,
    assumed: detail.assumed ?? null,
  };
};

const RANK: Record<Severity, number> = { failure: 0, attention: 1, note: 2 };

/** Order in which findings are shown: failures first, then by code, place and text. */
export const compareFindings = (a: Finding, b: Finding): number => {
  const text = (x: string, y: string) => (x < y ? -1 : x > y ? 1 : 0);
  return (
    RANK[a.severity] - RANK[b.severity] ||
    text(a.code, b.code) ||
    (a.at?.[0] ?? 0) - (b.at?.[0] ?? 0) ||
    (a.at?.[1] ?? 0) - (b.at?.[1] ?? 0) ||
    text(a.subject, b.subject) ||
    text(a.message, b.message)
  );
};

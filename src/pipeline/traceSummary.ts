/** The few figures of a trace that a person reads first, and the questions. */

import type { TraceResult } from '../ground/questions.js';
import { roundTo } from '../ground/units.js';
import type { DrawingView, Levels, SourceFacts } from '../ground/vocabulary.js';

export interface TraceSummary {
  readonly lengthUnit: SourceFacts['lengthUnit'];
  readonly walls: number;
  readonly wallLengthM: number;
  readonly curves: number;
  readonly openings: number;
  readonly steps: number;
  readonly pilasters: number;
  readonly bars: number;
  readonly layers: readonly string[];
  readonly levels: Levels;
  /** Levels of single walls that the drawing or the job file gives. */
  readonly levelsAt: number;
  readonly views: readonly Pick<DrawingView, 'title' | 'chosen' | 'why'>[];
  readonly questions: readonly {
    readonly number: number;
    readonly severity: 'attention' | 'failure';
    readonly question: string;
    readonly found: string;
    readonly assumed: string | null;
    readonly at: readonly [number, number, number] | null;
    readonly keys: readonly string[];
    readonly code: string;
  }[];
}

export const traceSummaryOf = (result: TraceResult): TraceSummary => {
  const { foundation: f, plan } = result;
  const straight = plan.walls.filter((w) => !w.arc);
  return {
    lengthUnit: result.source.lengthUnit,
    walls: straight.length,
    wallLengthM: roundTo(straight.reduce((sum, w) => sum + w.lengthMm, 0) / 1000, 4),
    curves: f.curves.length,
    openings: f.openings.length,
    steps: f.steps.length,
    pilasters: f.pilasters.length,
    bars: f.bars.length,
    layers: result.layers,
    levels: f.levels,
    levelsAt: f.levelsAt.length,
    views: f.views.map(({ title, chosen, why }) => ({ title, chosen, why })),
    questions: result.questions.map(({ number, finding, question, keys }) => ({
      number,
      severity: finding.severity === 'failure' ? 'failure' : 'attention',
      question,
      found: finding.message,
      assumed: finding.assumed,
      at: finding.at,
      keys,
      code: finding.code,
    })),
  };
};

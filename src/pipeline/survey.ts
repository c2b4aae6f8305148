/** What measured levels change: the plan stood once by its drawn levels, and compared stretch by stretch. */

import { gapAreaMm2, type StackChoice } from '../fit/index.js';
import { type Finding, finding, type Staged } from '../ground/findings.js';
import { middleOf, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan, Foundation, Run, Stood, SurveyChange, SurveyedStretch } from '../ground/vocabulary.js';
import { chooseStanding, type PhaseQuestion, stacksWith } from './phases.js';
import { shapeFor } from './thickenings.js';

type Stacks = ReadonlyMap<string, StackChoice>;

const isOf = (run: Run, { parts }: SurveyedStretch): boolean => {
  const middle = middleOf(run);
  return parts.some((p) => p.wall === run.wall && middle >= p.fromMm && middle <= p.toMm);
};

const sorted = (levels: Iterable<number>): number[] => [...new Set(levels)].sort((a, b) => a - b);

/** How the runs of a stretch stand; runs that no stack reaches are not among them. */
const stoodOf = (plan: FacePlan, stacks: Stacks, stretch: SurveyedStretch): Stood => {
  const own = plan.runs.flatMap((run) => {
    const choice = isOf(run, stretch) ? stacks.get(run.id) : undefined;
    return choice ? [{ run, choice }] : [];
  });
  const courses = new Map(
    own.map(({ choice: { stack, turnedTop } }) => {
      const heights = turnedTop ? [...stack.heightsMm.slice(0, -1), turnedTop.heightMm] : stack.heightsMm;
      return [heights.join(' '), heights];
    }),
  );
  const gaps = own.flatMap(({ run, choice: { stack } }) => [
    stack.baseMm - (run.highMm ?? run.footingMm),
    stack.baseMm - run.footingMm,
  ]);
  return {
    basesMm: sorted(own.map((o) => o.choice.stack.baseMm)),
    courses: [...courses.values()],
    rowsMm: sorted(own.flatMap(({ choice }) => [...choice.rowLevelsMm, ...(choice.turnedTop?.rowLevelsMm ?? [])])),
    gapMm: gaps.length === 0 ? [0, 0] : [Math.min(...gaps), Math.max(...gaps)],
    fillM2: own.reduce((sum, { run, choice }) => sum + gapAreaMm2(run, choice.stack.baseMm), 0) / 1e6,
  };
};

const coursesText = ({ courses }: Stood): string =>
  courses.map((c) => c.map((h) => plainNumber(h, 1)).join(' + ')).join(' or ');

/** Stretches on which other courses stand than by the drawn levels. */
const courseFindings = (plan: FacePlan, changes: readonly SurveyChange[]): Finding[] =>
  changes.flatMap(({ stretch, drawn, measured }) => {
    const [before, after] = [coursesText(drawn), coursesText(measured)];
    if (before === after || before === '' || after === '') return [];
    const message = `On the footing ${stretch.id} the courses are ${after} by the measured levels, ${before} by the drawn ones.`;
    const run = plan.runs.find((r) => isOf(r, stretch));
    const at = run ? placeAlong(plan, run.wall, middleOf(run), run.footingMm) : null;
    return [finding('pipeline.survey-courses', message, { at, subject: run?.wall ?? '' })];
  });

/** Compares how the plan stands with how it would stand by its drawn levels; null where nothing was measured. */
export const surveyChanges = (
  q: PhaseQuestion,
  stacks: Stacks,
  foundation: Foundation,
): Staged<readonly SurveyChange[] | null> => {
  const { survey } = q.plan;
  if (survey === undefined) return { value: null, findings: [] };
  const { survey: _, ...asDrawn } = foundation;
  const drawn = { ...q, plan: shapeFor(asDrawn, q.catalogue).value };
  const drawnStacks = stacksWith(drawn, chooseStanding(drawn)).value;
  const value = survey.map((stretch) => ({
    stretch,
    drawn: stoodOf(drawn.plan, drawnStacks, stretch),
    measured: stoodOf(q.plan, stacks, stretch),
  }));
  return { value, findings: courseFindings(q.plan, value) };
};

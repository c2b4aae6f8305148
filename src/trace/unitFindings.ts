/** The unit that is used, and what is said of it. */

import { type Finding, finding } from '../ground/findings.js';
import { type LengthUnit, plainNumber } from '../ground/units.js';
import type { Drawing, TraceOptions } from '../ground/vocabulary.js';
import { UNIT_NAME, type UnitVerdict } from './unit.js';

export const unitFindings = (
  drawing: Drawing,
  verdict: UnitVerdict,
  options: TraceOptions,
): { unit: LengthUnit; findings: Finding[] } => {
  const { declaredUnit, declaredUnitCode } = drawing;
  const doubts = (unit: LengthUnit): Finding[] => {
    if (verdict.absurdMm === null || unit !== verdict.unit) return [];
    const size =
      verdict.absurdMm < 10000
        ? `${plainNumber(verdict.absurdMm, 1)} mm`
        : `${plainNumber(verdict.absurdMm / 1000, 0)} m`;
    const text = `In ${UNIT_NAME[unit]} the linework measures ${size}, which is no size of a building; no other unit fits better.`;
    return [finding('trace.unit-doubtful', text, { subject: unit, assumed: `the drawing is in ${UNIT_NAME[unit]}` })];
  };
  const words = verdict.evidence.length > 0 ? verdict.evidence.join('; ') : '';
  const inferred = UNIT_NAME[verdict.unit];
  if (options.unit !== null) {
    const strong = verdict.unit !== options.unit && verdict.score - verdict.nextScore > 2;
    const text = `The job file says ${UNIT_NAME[options.unit]}, but the drawing speaks for ${inferred}: ${words}.`;
    return {
      unit: options.unit,
      findings: strong ? [finding('trace.unit-contradicted', text, { subject: options.unit })] : [],
    };
  }
  if (declaredUnit === verdict.unit) {
    const text =
      words === ''
        ? `The header says ${inferred}, and nothing in the drawing tells otherwise.`
        : `The header says ${inferred}, and the drawing agrees: ${words}.`;
    return {
      unit: verdict.unit,
      findings: [finding('trace.unit-agreed', text, { subject: verdict.unit }), ...doubts(verdict.unit)],
    };
  }
  const header =
    declaredUnitCode === null || declaredUnitCode === 0
      ? 'The header names no unit'
      : declaredUnit === null
        ? `The header names a unit (code ${declaredUnitCode}) that no building is drawn in`
        : `The header says ${UNIT_NAME[declaredUnit]}, which does not fit`;
  const text = `${header}; the numbers were taken as ${inferred}: ${words || 'nothing in the drawing tells, so this is a guess'}.`;
  return {
    unit: verdict.unit,
    findings: [
      finding('trace.unit-inferred', text, { subject: verdict.unit, assumed: `the drawing is in ${inferred}` }),
      ...doubts(verdict.unit),
    ],
  };
};

/** What the command says of a result in its few lines. */

import { describe, expect, it } from 'vitest';
import { resultText } from '../../src/jobs/words.js';
import { summaryOf } from '../../src/pipeline/index.js';
import { exampleResult } from '../support/exampleResult.js';

const [pour] = exampleResult.layout.pressure;

const linesOf = (kpa: readonly number[]): string[] => {
  const pressure = kpa.map((designKpa) => ({ ...pour!, designKpa }));
  const summary = summaryOf({ ...exampleResult, layout: { ...exampleResult.layout, pressure } });
  const done = { exitCode: 0 as const, findings: [], files: [], summary };
  const text = resultText('plan.dxf', done as unknown as Parameters<typeof resultText>[1], [], []);
  return text.split('\n').filter((line) => line.includes('concrete pressure'));
};

describe('pressures of several pours', () => {
  it.each<[string, number[], string]>([
    ['that are equal stand once', [43.1, 43.1], 'concrete pressure 43.1 kPa ('],
    ['that read alike stand once', [43.099, 43.101], 'concrete pressure 43.1 kPa ('],
    [
      'that differ are told with the highest first',
      [42.4, 43.1, 43.1],
      'concrete pressure 43.1 kPa, 42.4 in lower pours (',
    ],
    [
      'that are many are told by their ends',
      [30, 43.1, 20, 25],
      'concrete pressure 43.1 kPa, down to 20 in lower pours (',
    ],
  ])('%s', (_, kpa, start) => {
    const lines = linesOf(kpa);
    expect(lines).toHaveLength(1);
    expect(lines[0]!.trim().startsWith(start)).toBe(true);
  });
});

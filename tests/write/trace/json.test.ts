/** trace.json keeps to its published schema and says what was understood. */

import { describe, expect, it } from 'vitest';
import { roundTo } from '../../../src/ground/units.js';
import { traceFile, traceJson, traceJsonSchema, traceSchema } from '../../../src/write/json/index.js';
import { exampleTrace } from '../../support/exampleTrace.js';
import { complaints } from '../jsonSchema.js';

describe('trace.json', () => {
  const text = traceJson(exampleTrace);
  const value = JSON.parse(text) as ReturnType<typeof traceFile>;

  it('keeps to the schema, by zod and by a validator of our own', () => {
    expect(traceSchema.safeParse(value).success).toBe(true);
    expect(complaints(value, traceJsonSchema() as never, '$')).toEqual([]);
    expect(complaints({ ...value, walls: [{}] }, traceJsonSchema() as never, '$').length).toBeGreaterThan(0);
  });

  it('is what the writer was given', () => {
    expect(value).toEqual(JSON.parse(JSON.stringify(traceFile(exampleTrace))));
    expect(value.format).toBe('shutterwright-trace');
    expect(value.totals).toEqual({ walls: 2, wallLengthM: 4.6, curves: 1, curveLengthM: roundTo(Math.PI, 4) });
    expect(value.questions.map((q) => [q.number, q.severity, q.at?.slice(0, 2) ?? null, q.keys])).toEqual([
      [
        1,
        'failure',
        [7000, 1000],
        ['drawing.wallLayers', 'drawing.centreLineLayers', 'drawing.thicknessMm', 'drawing.unit'],
      ],
      [2, 'attention', null, ['levels.footingMm', 'levels.topMm']],
      [3, 'attention', [3150, 0], ['drawing.openings']],
    ]);
    expect(value.notes.map((n) => n.code)).toEqual(['trace.layers']);
  });

  it('refuses a number that JSON cannot hold', () => {
    const broken = {
      ...exampleTrace,
      foundation: {
        ...exampleTrace.foundation,
        pilasters: [{ at: { x: Number.NaN, y: 0 }, widthMm: 1, projectionMm: 1, sources: [] }],
      },
    };
    expect(() => traceJson(broken)).toThrow('trace.json cannot hold NaN');
  });
});

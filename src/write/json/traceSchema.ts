/**
 * The published shape of trace.json, version 1: what was understood of a drawing and what is asked, for pages that show it. Keys may be added, never
 * renamed; the JSON Schema made from this lets unknown keys pass. Lengths are mm in the drawing's own axes, levels mm in its datum, angles radians.
 */

import { z } from 'zod';
import { modelSchema } from './model.js';

const lengthMm = z.number();
const levelMm = z.number().nullable().describe('null: not said');
const point = z.tuple([lengthMm, lengthMm]).describe('x, y in mm in the drawing’s own axes');
const band = z.object({ fromMm: lengthMm, toMm: lengthMm, levelMm: lengthMm });
const sources = z.array(z.string()).describe('handles that it was traced from');
const from = z.enum(['job', 'drawing', 'default']);

const wall = z
  .object({
    id: z.string().describe('the name that it has in the trace drawing and will have in the layout'),
    start: point,
    end: point,
    lengthMm,
    thicknessMm: lengthMm,
    base: z.array(band).describe('footing levels by station'),
    top: z.array(band).describe('pour line by station'),
    sources,
  })
  .describe('one straight run of one thickness; its axis starts at the end of lower x, then lower y');

const stretch = z
  .object({
    start: point,
    end: point,
    thicknessMm: lengthMm,
    startCapped: z.boolean().describe('the drawing closes the wall across its thickness there'),
    endCapped: z.boolean(),
    sources,
  })
  .describe('a part of a wall where both faces were seen; ends are on the axis');

const curve = z.object({
  centre: point,
  radiusMm: lengthMm.describe('of the axis'),
  fromRad: z.number(),
  toRad: z.number(),
  thicknessMm: lengthMm,
  sources,
});

const opening = z.object({
  from: point,
  to: point,
  thicknessMm: lengthMm,
  kind: z.enum(['door', 'window', 'opening']),
  sillMm: levelMm,
  headMm: levelMm,
  sources,
});

const question = z.object({
  number: z.int().describe('the number in the trace drawing: 2 is ?2'),
  question: z.string(),
  keys: z
    .array(z.string())
    .describe('paths of the job file’s keys that answer it; empty: the drawing has to be corrected'),
  code: z.string(),
  severity: z.enum(['attention', 'failure']),
  at: z.tuple([lengthMm, lengthMm, lengthMm]).nullable(),
  subject: z.string(),
  message: z.string().describe('what was found'),
  assumed: z.string().nullable().describe('what holds if nobody answers'),
});

export const traceSchema = z.object({
  format: z.literal('shutterwright-trace'),
  version: z.literal(1),
  source: z.object({
    file: z.string().describe('file name without folders'),
    sha256: z.string(),
    kind: z.enum(['dxf', 'ifc']),
    lengthUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft']).describe('the unit that was used, stated or inferred'),
  }),
  layers: z.array(z.string()).describe('layers that the walls were taken from'),
  levels: z.object({ footingMm: lengthMm, topMm: lengthMm, footingFrom: from, topFrom: from }),
  levelsAt: z.array(z.object({ near: point, footingMm: levelMm, topMm: levelMm, from, text: z.string().nullable() })),
  walls: z.array(wall),
  stretches: z.array(stretch),
  curves: z.array(curve),
  openings: z.array(opening),
  steps: z.array(
    z.object({
      kind: z.enum(['footing', 'top']),
      at: point,
      riseMm: lengthMm.nullable(),
      text: z.string().nullable(),
      sources,
    }),
  ),
  pilasters: z.array(z.object({ at: point, widthMm: lengthMm, projectionMm: lengthMm, sources })),
  bars: z
    .array(
      z.object({
        at: point,
        text: z.string(),
        diameterMm: lengthMm,
        spacingMm: lengthMm.nullable(),
        direction: z.enum(['vertical', 'horizontal', 'both']).nullable(),
        faces: z.enum(['each', 'inside', 'outside', 'middle']).nullable(),
        source: z.string(),
      }),
    )
    .describe('reinforcement as the plan notes it: to be confirmed'),
  views: z.array(
    z.object({
      box: z.tuple([lengthMm, lengthMm, lengthMm, lengthMm]).describe('x, y of the lower left and upper right corner'),
      title: z.string().nullable(),
      chosen: z.boolean(),
      why: z.string(),
    }),
  ),
  totals: z.object({ walls: z.int(), wallLengthM: z.number(), curves: z.int(), curveLengthM: z.number() }),
  questions: z.array(question),
  notes: z
    .array(
      z.object({
        code: z.string(),
        at: z.tuple([lengthMm, lengthMm, lengthMm]).nullable(),
        subject: z.string(),
        message: z.string(),
        assumed: z.string().nullable(),
      }),
    )
    .describe('findings that ask nothing'),
  model: modelSchema.optional(),
});

export type TraceFile = z.infer<typeof traceSchema>;

/** The JSON Schema of trace.json. */
export const traceJsonSchema = (): unknown => z.toJSONSchema(traceSchema, { io: 'input' });

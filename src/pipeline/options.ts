/** The job file as it comes in: checked against its schema, with what is wrong said in plain words. */

import type { z } from 'zod';
import { finding, type Refusable } from '../ground/findings.js';
import { complaints, placedComplaints } from './complaints.js';
import { type Job, jobSchema, stockSchema } from './schema.js';

export { type Job, jobJsonSchema, jobSchema } from './schema.js';

/** Keys that the schema knows at a path of the job file: for the sentence about one that it does not know. */
const knownKeys = (path: readonly PropertyKey[]): readonly string[] => {
  let schema: unknown = jobSchema;
  for (const step of path) {
    schema = open(schema);
    const def = (schema as { _zod?: { def?: Record<string, unknown> } })._zod?.def;
    if (def?.type === 'object') schema = (def.shape as Record<PropertyKey, unknown>)[step];
    else if (def?.type === 'array') schema = def.element;
    else return [];
  }
  const def = (open(schema) as { _zod?: { def?: { type?: string; shape?: object } } } | undefined)?._zod?.def;
  return def?.type === 'object' && def.shape ? Object.keys(def.shape) : [];
};

/** Takes `optional` and `nullable` off a schema. */
const open = (schema: unknown): unknown => {
  let at = schema as z.core.$ZodType | undefined;
  while (at?._zod?.def.type === 'optional' || at?._zod?.def.type === 'nullable')
    at = (at as z.core.$ZodOptional)._zod.def.innerType;
  return at;
};

/**
 * Checks a job file that has been parsed from YAML or JSON. null or undefined (an empty file) is a job of defaults.
 * Refuses with one sentence that names every key that is wrong.
 */
export const parseJob = (value: unknown): Refusable<Job> => {
  const given = value ?? {};
  const parsed = jobSchema.safeParse(given);
  if (parsed.success) return { ok: true, value: parsed.data, findings: [] };
  const wrong = complaints(parsed.error, given, knownKeys);
  return {
    ok: false,
    findings: [finding('pipeline.job-refused', `The job file cannot be used: ${wrong.join('; ')}.`)],
  };
};

/** Everything that is wrong with a job file, each with a JSON pointer to its key; empty when it can be used. */
export const wrongInJob = (value: unknown): readonly { readonly pointer: string; readonly detail: string }[] => {
  const given = value ?? {};
  const parsed = jobSchema.safeParse(given);
  return parsed.success ? [] : placedComplaints(parsed.error, given, knownKeys);
};

/** Checks a stock list that has been parsed from a file of its own. */
export const parseStock = (value: unknown): Refusable<Readonly<Record<string, number>>> => {
  const parsed = stockSchema.safeParse(value ?? {});
  if (parsed.success) return { ok: true, value: parsed.data, findings: [] };
  const wrong = complaints(parsed.error, value, () => []);
  return {
    ok: false,
    findings: [finding('pipeline.stock-refused', `The stock list cannot be used: ${wrong.join('; ')}.`)],
  };
};

/** Names of our own yards; any other catalogue is a file. */
export const DEMO_CATALOGUES = ['demo', 'demo-inch'] as const;

/** Files that a job names, for the front end to read: it hands what they hold to layOut. */
export const filesNamed = (
  job: Job,
): { readonly catalogue: string | null; readonly stock: string | null; readonly survey: string | null } => {
  const name = job.catalogue;
  const isDemo = name === undefined || (DEMO_CATALOGUES as readonly string[]).includes(name);
  return {
    catalogue: isDemo ? null : name,
    stock: typeof job.stock === 'string' ? job.stock : null,
    survey: typeof job.survey === 'string' ? job.survey : null,
  };
};

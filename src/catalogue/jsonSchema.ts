/** The catalogue file's JSON Schema (draft 2020-12), written by zod, with the twin keys in inches added. */

import { z } from 'zod';
import { LENGTH_KEYS } from './lengths.js';
import { catalogueSchema } from './schema.js';

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const MM_KEYS: ReadonlySet<string> = new Set(LENGTH_KEYS.map((k) => `${k}Mm`));
const twinOf = (key: string): string => `${key.slice(0, -2)}In`;

const isRecord = (value: Json): value is { [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Limits and defaults are in mm, so a twin keeps only the shape of its value. */
const shapeOnly = (schema: Json): Json => {
  if (Array.isArray(schema)) return schema.map(shapeOnly);
  if (!isRecord(schema)) return schema;
  const dropped = new Set(['minimum', 'maximum', 'exclusiveMaximum', 'default', 'description']);
  return Object.fromEntries(
    Object.entries(schema)
      .filter(([key]) => !dropped.has(key))
      .map(([key, v]) => [key, shapeOnly(v)]),
  );
};

/** Adds `widthIn` beside each `widthMm`; where one of the two is required, either satisfies it, never both. */
const withTwins = (schema: Json): Json => {
  if (Array.isArray(schema)) return schema.map(withTwins);
  if (!isRecord(schema)) return schema;
  const { properties, required, ...rest } = schema;
  const out: { [key: string]: Json } = Object.fromEntries(Object.entries(rest).map(([k, v]) => [k, withTwins(v)]));
  if (!properties || !isRecord(properties)) return { ...out, ...(required === undefined ? {} : { required }) };
  const names = Object.keys(properties);
  const lengths = names.filter((k) => MM_KEYS.has(k));
  const needed = Array.isArray(required) ? required.map(String) : [];
  out.properties = Object.fromEntries(
    names.flatMap((k): [string, Json][] => {
      const own: [string, Json] = [k, withTwins(properties[k]!)];
      return MM_KEYS.has(k)
        ? [own, [twinOf(k), { ...(shapeOnly(properties[k]!) as object), description: `${k} in inches.` }]]
        : [own];
    }),
  );
  const plain = needed.filter((k) => !MM_KEYS.has(k));
  if (plain.length > 0) out.required = plain;
  const either = lengths.map((k): Json => {
    const both: Json = { required: [k, twinOf(k)] };
    return needed.includes(k) ? { oneOf: [{ required: [k] }, { required: [twinOf(k)] }] } : { not: both };
  });
  if (either.length > 0) out.allOf = either;
  return out;
};

/** JSON Schema of the catalogue file as a person writes it (defaults optional). */
export const catalogueJsonSchema = (): Record<string, unknown> => {
  const schema = z.toJSONSchema(catalogueSchema, { io: 'input' }) as unknown as Json;
  return withTwins(schema) as Record<string, unknown>;
};

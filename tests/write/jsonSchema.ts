/** A small validator for the part of JSON Schema (draft 2020-12) that our schemas use; any other keyword is an error, so that nothing is passed over. */

type Schema = Readonly<Record<string, unknown>>;

const SILENT = new Set(['$schema', 'title', 'description', 'format', 'default', 'propertyNames']);

const typeOf = (value: unknown): string => {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'array';
  return Number.isInteger(value) ? 'integer' : typeof value;
};

const fitsType = (value: unknown, type: string): boolean =>
  typeOf(value) === type || (type === 'number' && typeOf(value) === 'integer');

const CHECKS: Readonly<Record<string, (value: unknown, rule: never, schema: Schema, path: string) => string[]>> = {
  type: (value, rule: string | string[], _, path) =>
    [rule].flat().some((type) => fitsType(value, type)) ? [] : [`${path} is no ${rule}`],
  const: (value, rule: unknown, _, path) => (value === rule ? [] : [`${path} is not ${rule}`]),
  enum: (value, rule: unknown[], _, path) => (rule.includes(value) ? [] : [`${path} is none of ${rule}`]),
  required: (value, rule: string[], _, path) =>
    rule.filter((key) => !Object.hasOwn(value as object, key)).map((key) => `${path}.${key} is missing`),
  properties: (value, rule: Record<string, Schema>, _, path) =>
    Object.entries(rule).flatMap(([key, schema]) =>
      Object.hasOwn(value as object, key)
        ? complaints((value as Record<string, unknown>)[key], schema, `${path}.${key}`)
        : [],
    ),
  additionalProperties: (value, rule: Schema | boolean, schema, path) => {
    const known = (schema.properties ?? {}) as Record<string, Schema>;
    const others = Object.entries(value as object).filter(([key]) => !Object.hasOwn(known, key));
    if (rule === true) return [];
    if (rule === false) return others.map(([key]) => `${path}.${key} is not known`);
    return others.flatMap(([key, v]) => complaints(v, rule, `${path}.${key}`));
  },
  pattern: (value, rule: string, _, path) =>
    typeof value !== 'string' || new RegExp(rule, 'u').test(value) ? [] : [`${path} is not of the form ${rule}`],
  minimum: (value, rule: number, _, path) =>
    typeof value !== 'number' || value >= rule ? [] : [`${path} is less than ${rule}`],
  maximum: (value, rule: number, _, path) =>
    typeof value !== 'number' || value <= rule ? [] : [`${path} is more than ${rule}`],
  minLength: (value, rule: number, _, path) =>
    typeof value !== 'string' || value.length >= rule ? [] : [`${path} is too short`],
  maxLength: (value, rule: number, _, path) =>
    typeof value !== 'string' || value.length <= rule ? [] : [`${path} is too long`],
  oneOf: (value, rule: Schema[], _, path) =>
    rule.filter((schema) => complaints(value, schema, path).length === 0).length === 1
      ? []
      : [`${path} does not fit one alternative alone`],
  items: (value, rule: Schema | false, schema, path) => {
    const rest = (value as unknown[]).slice(((schema.prefixItems as unknown[]) ?? []).length);
    if (rule === false) return rest.length === 0 ? [] : [`${path} is too long`];
    return rest.flatMap((v, i) => complaints(v, rule, `${path}[${i}]`));
  },
  prefixItems: (value, rule: Schema[], _, path) =>
    (value as unknown[]).slice(0, rule.length).flatMap((v, i) => complaints(v, rule[i]!, `${path}[${i}]`)),
  minItems: (value, rule: number, _, path) => ((value as unknown[]).length >= rule ? [] : [`${path} is too short`]),
  maxItems: (value, rule: number, _, path) => ((value as unknown[]).length <= rule ? [] : [`${path} is too long`]),
  anyOf: (value, rule: Schema[], _, path) =>
    rule.some((schema) => complaints(value, schema, path).length === 0) ? [] : [`${path} fits no alternative`],
};

/** What is wrong with a value; empty when it is valid. */
export const complaints = (value: unknown, schema: Schema, path = '$'): string[] => {
  const wrongType = schema.type === undefined ? [] : CHECKS.type!(value, schema.type as never, schema, path);
  if (wrongType.length > 0) return wrongType;
  return Object.entries(schema).flatMap(([keyword, rule]) => {
    if (SILENT.has(keyword) || keyword === 'type') return [];
    const check = CHECKS[keyword];
    if (check === undefined) throw new Error(`unknown keyword ${keyword} at ${path}`);
    return check(value, rule as never, schema, path);
  });
};

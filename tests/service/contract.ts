/** Holds answers against the published OpenAPI document, by a reader of JSON Schema that is not the one which made it. */

import { textOf } from '../support/repository.js';
import { complaints } from '../write/jsonSchema.js';

type Json = Record<string, unknown>;

export const document = JSON.parse(textOf('docs/reference/openapi.json')) as {
  readonly paths: Record<string, Record<string, { responses: Record<string, Json> }>>;
  readonly components: { readonly schemas: Record<string, Json> };
};

/** A schema with every reference replaced by what it leads to; none of ours leads back to itself. */
const resolved = (schema: unknown, trail: readonly string[] = []): unknown => {
  if (Array.isArray(schema)) return schema.map((s) => resolved(s, trail));
  if (schema === null || typeof schema !== 'object') return schema;
  const { $ref } = schema as { $ref?: string };
  if ($ref === undefined) return Object.fromEntries(Object.entries(schema).map(([k, v]) => [k, resolved(v, trail)]));
  const name = $ref.replace('#/components/schemas/', '');
  const target = document.components.schemas[name];
  if (!target || trail.includes(name)) throw new Error(`${$ref} leads nowhere`);
  return resolved(target, [...trail, name]);
};

const known = new Map<string, Json>();
const schemaFor = (key: string, schema: unknown): Json => {
  if (!known.has(key)) known.set(key, resolved(schema) as Json);
  return known.get(key)!;
};

const templates = Object.keys(document.paths).map((path) => ({
  path,
  pattern: new RegExp(`^${path.replaceAll('.', '\\.').replace(/\{[^}]+\}/g, '[^/]+')}$`),
}));

export interface Answer {
  readonly method: string;
  /** With or without host and query. */
  readonly path: string;
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

const PROBLEM = 'application/problem+json';

/** What of an answer is not as the document says; empty when all of it is. */
export const breaches = ({ method, path, status, type, body }: Answer): string[] => {
  const bare = path.replace(/^https?:\/\/[^/]+/, '').replace(/\?.*$/, '');
  const media = type.replace(/;.*$/, '');
  const where = `${method} ${bare} ${status}`;
  if (status >= 400 && media === PROBLEM) {
    const wrong = complaints(JSON.parse(body), schemaFor('Problem', document.components.schemas.Problem));
    const told = (JSON.parse(body) as { status: number }).status;
    if (told !== status) wrong.push(`the body says status ${told}`);
    if (wrong.length > 0) return wrong.map((w) => `${where}: ${w}`);
  }
  const template = templates.find(({ pattern }) => pattern.test(bare));
  const operation = template && document.paths[template.path]![method.toLowerCase()];
  // An address or method that is not there has no entry but the form of its problem.
  if (!operation) return status >= 400 && media === PROBLEM ? [] : [`${where} is not in the document`];
  const response = operation.responses[String(status)];
  if (!response) return [`${where} is not among the answers of ${template.path}`];
  const contents = response.content as Record<string, { schema: Json }> | undefined;
  if (!contents) return body === '' ? [] : [`${where} has a body, the document none`];
  const content = contents[media] ?? contents['*/*'];
  if (!content) return [`${where} is of type ${media}, the document says ${Object.keys(contents).join(', ')}`];
  if (!/json$/.test(media) || contents['*/*']) return [];
  const key = `${template.path} ${method} ${status} ${media}`;
  return complaints(JSON.parse(body), schemaFor(key, content.schema)).map((w) => `${where}: ${w}`);
};

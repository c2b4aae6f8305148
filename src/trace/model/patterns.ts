/** Patterns of the job file against elements and storeys: * and ?, case not heeded; GlobalIds count letter by letter. */

import type { Model, ModelElement, ModelStorey } from '../../ground/vocabulary.js';

const asRegExp = (pattern: string): RegExp =>
  new RegExp(
    `^${pattern
      .replace(/[.+^${}()|[\]\\]/gu, '\\$&')
      .replace(/\*+/gu, '.*')
      .replace(/\?/gu, '.')}$`,
    'isu',
  );

export type Matcher = (id: string, ...names: readonly (string | null)[]) => boolean;

/** GlobalIds hold $ and differ by case alone; names do not. */
export const matcher = (patterns: readonly string[]): Matcher => {
  const ids = new Set(patterns);
  const tests = patterns.map((p) => asRegExp(p.trim()));
  return (id, ...names) => ids.has(id) || names.some((n) => n !== null && tests.some((t) => t.test(n.trim())));
};

export const matchesElement = (match: Matcher, e: ModelElement): boolean =>
  match(e.id, e.name, e.typeName, e.objectType, e.tag);

export const storeysById = (model: Model): ReadonlyMap<string, ModelStorey> =>
  new Map(model.storeys.map((s) => [s.id, s]));

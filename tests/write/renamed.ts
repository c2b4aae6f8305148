/** A result in which every name that comes from outside, or may, is another one: for tests with hostile names. */

import type { Result } from '../../src/ground/vocabulary.js';

/** Records whose keys are names, not words of ours. */
const NAMED = new Set(['stock', 'inputs']);

const changed = (value: unknown, names: ReadonlyMap<string, string>, keysToo = false): unknown => {
  if (typeof value === 'string') return names.get(value) ?? value;
  if (Array.isArray(value)) return value.map((v) => changed(v, names));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, v]) => [
      keysToo ? (names.get(key) ?? key) : key,
      changed(v, names, NAMED.has(key)),
    ]),
  );
};

/** The names of a result: files, ids, items, and whatever a finding says. */
export const namesOf = (result: Result): readonly string[] => [
  ...new Set([
    result.source.file,
    result.source.sha256,
    result.catalogue.name,
    ...result.catalogue.units.map((u) => u.id),
    ...result.catalogue.ties.map((t) => t.id),
    ...result.plan.walls.map((w) => w.id),
    ...result.plan.nodes.map((n) => n.id),
    ...result.plan.faces.map((f) => f.id),
    ...result.plan.vertices.map((v) => v.id),
    ...result.layout.pieces.map((p) => p.id),
    ...result.layout.ties.map((t) => t.id),
    ...result.schedule.rows.map((r) => r.item),
    ...result.layout.pressure.flatMap((p) => [p.method, ...Object.keys(p.inputs)]),
    ...result.findings.flatMap((f) => [f.message, f.subject, f.rule, f.code, f.assumed ?? '']),
  ]),
];

/** The result with `change` applied to all its names; names that were different stay different if `change` keeps them so. */
export const renamed = (result: Result, change: (name: string) => string): Result => {
  const names = new Map(namesOf(result).map((name) => [name, name === '' ? '' : change(name)]));
  return changed(result, names) as Result;
};

/** Is an element of concrete cast in place, and which of its solids are: by material, then by the names of its type and itself. */

import type { BodySolid, ModelElement, ModelTraceOptions } from '../../ground/vocabulary.js';
import { type Matcher, matcher } from './patterns.js';
import { materialWord, type Word } from './words.js';

export interface Concrete {
  readonly is: 'concrete' | 'other' | 'unknown';
  /** 'concrete by material Beton C30/37', 'not concrete: masonry (Baksteen)', 'nothing says what it is made of'. */
  readonly why: string;
  /** The same without the names, for counting: 'not concrete: masonry'. */
  readonly reason: string;
  /** The solids to be formed: those of concrete where the file tells them apart, else all. */
  readonly body: readonly BodySolid[];
  /** Materials of solids left out; of one solid in layers, the layers that are not concrete. */
  readonly others: readonly string[];
  readonly isWhole: boolean;
}

const materialsOf = (e: ModelElement): string[] => [
  ...new Set([...e.materials.map((m) => m.name), ...e.body.flatMap((b) => b.material ?? [])]),
];

/** The names of type and element, the first to say anything first. */
const namesOf = (e: ModelElement) =>
  [
    ['type', e.typeName ?? e.objectType],
    ['name', e.name],
  ] as const;

/** The job file's concreteMaterials; null where it has none. */
export const concreteMaterials = (options: ModelTraceOptions): Matcher | null =>
  options.concreteMaterials.length > 0 ? matcher(options.concreteMaterials) : null;

/** The names that concreteMaterials is held against: of materials, or of type and element where there are none. */
export const namesHeard = (e: ModelElement): string[] => {
  const materials = materialsOf(e);
  return materials.length > 0 ? materials : namesOf(e).flatMap(([, name]) => name ?? []);
};

/** By the job file's list where there is one, else by the words of the trade. */
const wordWith =
  (job: Matcher | null) =>
  (name: string): Word => {
    if (job === null) return materialWord(name);
    return job(name, name) ? { is: 'concrete', what: 'concrete' } : { is: 'other', what: 'not in concreteMaterials' };
  };

const byMaterial = (e: ModelElement, word: (name: string) => Word): Concrete | null => {
  const names = materialsOf(e);
  const categories = new Map(e.materials.map((m) => [m.name, m.category]));
  const told = names.map((name) => {
    const own = word(name);
    const category = categories.get(name);
    return { name, word: own.is === 'silent' && category ? word(category) : own };
  });
  const cast = told.filter((t) => t.word.is === 'concrete').map((t) => t.name);
  const others = told.filter((t) => t.word.is === 'other');
  if (cast.length > 0) {
    const isCast = (b: BodySolid) => b.material !== null && cast.includes(b.material);
    const some = e.body.filter(isCast);
    const apart = some.length > 0 && some.length < e.body.length;
    const left = told.filter((t) => !cast.includes(t.name)).map((t) => t.name);
    return {
      is: 'concrete',
      why: `concrete by material (${cast.join(', ')})`,
      reason: 'concrete by material',
      body: apart ? some : e.body,
      others: left,
      isWhole: !apart,
    };
  }
  if (others.length === 0) return null;
  const reason = `not concrete: ${[...new Set(others.map((o) => o.word.what))].join(', ')}`;
  const shown = others.map((o) => o.name).slice(0, 3);
  return { is: 'other', why: `${reason} (${shown.join(', ')})`, reason, body: e.body, others: [], isWhole: true };
};

/** What an element is made of; `job`: the job file's concreteMaterials, null where it has none. */
export const concreteOf = (e: ModelElement, job: Matcher | null): Concrete => {
  const word = wordWith(job);
  const materials = byMaterial(e, word);
  if (materials) return materials;
  const all = { body: e.body, others: [], isWhole: true };
  for (const [of, name] of namesOf(e)) {
    if (name === null || (job !== null && !job(name, name))) continue;
    const said = word(name);
    if (said.is === 'silent') continue;
    const reason = said.is === 'concrete' ? `concrete by ${of}` : `not concrete by ${of}: ${said.what}`;
    return { is: said.is, why: `${reason} (${name})`, reason, ...all };
  }
  const reason = 'nothing says what it is made of';
  return { is: 'unknown', why: reason, reason, ...all };
};

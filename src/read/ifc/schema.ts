/**
 * The entities of a schema, as the engine's package tells them: number, attributes in the order of the file, subtypes. Made once a schema; nothing of it
 * depends on a model, so that none has to be open to be asked.
 */

import * as engine from 'web-ifc';
import type { Line, Value } from './attributes.js';

export interface Entity {
  /** The engine's number of the type. */
  readonly type: number;
  /** The keyword in the file: IFCWALL. */
  readonly word: string;
  /** Names of the attributes in the order of their values; null where this schema has no such entity. */
  readonly attributes: readonly string[] | null;
  /** An instance of the values in the order of the file; null where this schema has no such entity. */
  readonly make: ((id: number, values: readonly Value[]) => Line) | null;
}

/** Of each of the engine's schemas by its number: a maker for each type, and the subtypes of each, at any depth. */
const MAKERS = engine.Constructors as Record<number, Record<number, Maker>>;
const SUBTYPES = engine.InheritanceDef as Record<number, Record<number, readonly number[]>>;

/** Every entity of any schema: an instance of one that the file's schema lacks is found by its type all the same, and said to be broken. */
const WORDS: ReadonlyMap<number, string> = new Map(
  Object.entries(engine).flatMap(([word, type]): [number, string][] =>
    typeof type === 'number' && word.startsWith('IFC') && Object.values(MAKERS).some((makers) => type in makers)
      ? [[type, word]]
      : [],
  ),
);

/** Larger than twice the number of words, a power of two. */
const SLOTS = 8192;

/** FNV-1a, letter by letter. Source: draft-eastlake-fnv. */
export const HASH_OF_NONE = 0x811c9dc5 | 0;
export const hashed = (hash: number, letter: number): number => Math.imul(hash ^ letter, 0x01000193);

const slotOf = (hash: number): number => (hash ^ (hash >>> 15)) & (SLOTS - 1);

const sameBytes = (bytes: Uint8Array, from: number, to: number, word: Uint8Array): boolean => {
  if (to - from !== word.length) return false;
  for (let i = 0; i < word.length; i++) if (bytes[from + i] !== word[i]) return false;
  return true;
};

export class Schema {
  readonly entities: readonly Entity[];
  private readonly letters: readonly Uint8Array[];
  private readonly slots = new Int16Array(SLOTS).fill(-1);
  private readonly places: ReadonlyMap<number, number>;
  /** What was asked for with subtypes. */
  private readonly families = new Map<number, readonly number[]>();
  private readonly subtypes: Readonly<Record<number, readonly number[]>>;

  constructor(number: number) {
    const makers = MAKERS[number] ?? {};
    this.subtypes = SUBTYPES[number] ?? {};
    this.entities = [...WORDS].map(([type, word]) => ({ type, word, ...fromMaker(makers[type]) }));
    this.letters = this.entities.map(({ word }) => Uint8Array.from(word, (c) => c.charCodeAt(0)));
    this.places = new Map(this.entities.map(({ type }, place) => [type, place]));
    for (const [place, letters] of this.letters.entries()) {
      let slot = slotOf(letters.reduce(hashed, HASH_OF_NONE));
      while (this.slots[slot]! >= 0) slot = (slot + 1) & (SLOTS - 1);
      this.slots[slot] = place;
    }
  }

  /** Place in `entities` of the word that the bytes hold, in capitals, and that has this hash; -1 where no schema has it. */
  find(hash: number, bytes: Uint8Array, from: number, to: number): number {
    for (let slot = slotOf(hash); ; slot = (slot + 1) & (SLOTS - 1)) {
      const place = this.slots[slot]!;
      if (place < 0 || sameBytes(bytes, from, to, this.letters[place]!)) return place;
    }
  }

  /** Places in `entities` of a type, and with its subtypes where they are asked for. */
  of(type: number, subtypes: boolean): readonly number[] {
    let places = subtypes ? this.families.get(type) : undefined;
    if (places === undefined) {
      const types = subtypes ? [type, ...(this.subtypes[type] ?? [])] : [type];
      places = types.flatMap((each) => this.places.get(each) ?? []);
      if (subtypes) this.families.set(type, places);
    }
    return places;
  }
}

type Maker = (values: readonly unknown[]) => object;
type Open = Record<string, unknown>;

/** Attributes and a maker of instances. An object of the type without values still has its attributes. */
const fromMaker = (make: Maker | undefined): Pick<Entity, 'attributes' | 'make'> => {
  if (make === undefined) return { attributes: null, make: null };
  const attributes = Object.keys(make([])).filter((name) => name !== 'expressID' && name !== 'type');
  const trial = make(attributes.map((_, i) => i)) as Open;
  // The engine's own objects are several times as fast as ones put together name by name; but where attributes are derived it skips their places.
  const inOrder = attributes.every((name, i) => trial[name] === i);
  return {
    attributes,
    make: (id, values) => {
      const all = values.length >= attributes.length ? values : attributes.map((_, i) => values[i] ?? null);
      const line = make(all) as Open;
      line.expressID = id;
      if (!inOrder) for (const [i, name] of attributes.entries()) line[name] = all[i];
      return line as Line;
    },
  };
};

const made = new Map<number, Schema>();

/** The schema by the engine's name of it; of a name that it does not know, one in which no entity has attributes. */
export const schemaOf = (name: string): Schema => {
  const number = (engine.SchemaNames as readonly (readonly string[])[]).findIndex((names) => names?.includes(name));
  let schema = made.get(number);
  if (schema === undefined) {
    schema = new Schema(number);
    made.set(number, schema);
  }
  return schema;
};

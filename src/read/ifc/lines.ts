/**
 * The instances of an open model, by number and by type. The engine knows the schema: which entity is whose subtype and what its attributes are called.
 * Their values are read here, out of the text that the engine was given: that is some ten times as fast as asking it for each, and numbers keep all digits.
 */

import type { IfcAPI } from 'web-ifc';
import { type Line, refOf, refsOf, type Value } from './attributes.js';
import type { ModelLog } from './log.js';
import type { StepText } from './step.js';
import { BadValue, ValueReader } from './values.js';

/** The engine broke down on what it was given. It must not be used again where it was aborted. */
export class EngineFault extends Error {}

/** A WebAssembly module that has aborted or run out of memory is in an undefined state. */
export const isFatal = (error: unknown): boolean =>
  (error instanceof Error && error.name === 'RuntimeError') ||
  (error instanceof RangeError && /stack/i.test(error.message)) ||
  /abort|out of memory|memory access|unreachable/i.test(String(error));

export class Lines {
  private readonly cache = new Map<number, Line | null>();
  private readonly names = new Map<number, string>();
  private readonly kinds: Map<string, Kind>;
  private readonly tries = new Map<string, number>();
  private readonly values: ValueReader;

  constructor(
    readonly engine: IfcAPI,
    readonly model: number,
    private readonly text: StepText,
    private readonly log: ModelLog,
  ) {
    this.values = new ValueReader(text.bytes);
    this.kinds = kindsOf(engine, text.header.engineSchema ?? '');
  }

  /** The instance, or null where there is none that can be read. */
  get(id: number | null): Line | null {
    if (id === null) return null;
    const had = this.cache.get(id);
    if (had !== undefined) return had;
    const line = this.load(id);
    this.cache.set(id, line);
    return line;
  }

  /** The instance that an attribute refers to. */
  at(value: Value | undefined): Line | null {
    return this.get(refOf(value));
  }

  /** All instances that a list refers to; those that cannot be read are left out. */
  all(value: Value | undefined): Line[] {
    const found: Line[] = [];
    for (const id of refsOf(value)) {
      const line = this.get(id);
      if (line !== null) found.push(line);
    }
    return found;
  }

  /** Numbers of the instances of a type and its subtypes, ascending. */
  ofType(type: number, subtypes = true): readonly number[] {
    const found = this.engine.GetLineIDsWithType(this.model, type, subtypes);
    const ids: number[] = [];
    for (let i = 0; i < found.size(); i++) ids.push(found.get(i));
    return [...new Set(ids)].sort((a, b) => a - b);
  }

  /** Name of an entity as IFC spells it. */
  nameOf(type: number): string {
    let name = this.names.get(type);
    if (name === undefined) {
      name = this.engine.GetNameFromTypeCode(type) ?? '';
      this.names.set(type, name);
    }
    return name;
  }

  entity(line: Line): string {
    return this.nameOf(line.type);
  }

  /** Lets go of what was fetched for one element and no other will ask for. */
  forget(id: number): void {
    this.cache.delete(id);
  }

  private load(id: number): Line | null {
    const state = this.text.stateOf(id);
    if (state === 'missing') return null;
    const subject = { id: null, line: id, name: null };
    if (state === 'circular') {
      this.log.add(
        'read.model-circular',
        'Instances refer to themselves through others, or stand deeper in each other than any building needs, and were left out',
        subject,
      );
      return null;
    }
    const { word, end } = this.values.wordAt(this.text.beginOf(id));
    const kind = this.kindOf(word, id);
    try {
      if (kind !== null) return lineOf(id, kind, this.values.listAt(end));
    } catch (error) {
      if (!(error instanceof BadValue)) throw error;
    }
    this.log.add('read.model-broken', 'Instances are not written as their schema says and were left out', subject);
    return null;
  }

  /** Type and attributes of an entity by its keyword; null where the schema has none of that name, or all instances so far are broken. */
  private kindOf(word: string, id: number): Kind | null {
    const known = this.kinds.get(word);
    if (known !== undefined) return known;
    const tries = this.tries.get(word) ?? 0;
    if (tries >= MOST_TRIES) return null;
    this.tries.set(word, tries + 1);
    const type = this.engine.GetTypeCodeFromName(word);
    const names = this.attributesOf(id);
    if (names === null) return null;
    const kind = { type, names };
    this.kinds.set(word, kind);
    return kind;
  }

  /** Names of attributes in the order of their values, as the engine has them for one instance; null where that one is broken. */
  private attributesOf(id: number): readonly string[] | null {
    try {
      const line = this.engine.GetLine(this.model, id) as object | undefined;
      return line === undefined ? null : Object.keys(line).filter((name) => name !== 'expressID' && name !== 'type');
    } catch (error) {
      if (isFatal(error)) throw new EngineFault(String(error));
      return null;
    }
  }
}

/** What an engine has once said of the entities of a schema: it says the same for every model. */
const known = new WeakMap<IfcAPI, Map<string, Map<string, Kind>>>();

const kindsOf = (engine: IfcAPI, schema: string): Map<string, Kind> => {
  const schemas = known.get(engine) ?? new Map<string, Map<string, Kind>>();
  known.set(engine, schemas);
  const kinds = schemas.get(schema) ?? new Map<string, Kind>();
  schemas.set(schema, kinds);
  return kinds;
};

interface Kind {
  readonly type: number;
  readonly names: readonly string[];
}

/** So many broken instances of an entity are asked for its attributes before it is given up. */
const MOST_TRIES = 20;

const lineOf = (id: number, { type, names }: Kind, values: readonly Value[]): Line => {
  const line: Record<string, Value | undefined> & { expressID: number; type: number } = { expressID: id, type };
  for (let i = 0; i < names.length; i++) line[names[i]!] = values[i] ?? null;
  return line;
};

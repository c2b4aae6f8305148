/**
 * The instances of a model, by number and by type. The engine's package knows the schema: which entity is whose subtype and what its attributes are called.
 * Their values are read here, out of the cleaned text: that is some ten times as fast as asking the engine for each, and numbers keep all digits.
 */

import type { IfcAPI } from 'web-ifc';
import { type Line, refOf, refsOf, type Value } from './attributes.js';
import type { ModelLog } from './log.js';
import type { StepText } from './step.js';
import { BadValue, ValueReader } from './values.js';

/** Names of entities as IFC spells them, by the engine's number of the type. */
const spelled = new Map<number, string>();

export class Lines {
  /** By the places of the instances; undefined where it was not asked for yet. */
  private readonly cache: (Line | null | undefined)[];
  private readonly values: ValueReader;

  constructor(
    private readonly engine: IfcAPI,
    private readonly text: StepText,
    private readonly log: ModelLog,
  ) {
    this.values = new ValueReader(text.bytes);
    this.cache = new Array(text.instances);
  }

  /** The instance, or null where there is none that can be read. */
  get(id: number | null): Line | null {
    const place = id === null ? -1 : this.text.placeOf(id);
    if (place < 0) return null;
    let line = this.cache[place];
    if (line === undefined) {
      line = this.load(id!, place);
      this.cache[place] = line;
    }
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
    return this.text.ofType(type, subtypes);
  }

  /** Name of an entity as IFC spells it. */
  nameOf(type: number): string {
    let name = spelled.get(type);
    if (name === undefined) {
      name = this.engine.GetNameFromTypeCode(type) ?? '';
      spelled.set(type, name);
    }
    return name;
  }

  entity(line: Line): string {
    return this.nameOf(line.type);
  }

  /** The engine's number of the type of an instance, without reading it; null where it is not there or has none. */
  typeOf(id: number | null): number | null {
    const { text } = this;
    const place = id === null ? -1 : text.placeOf(id);
    return place < 0 || text.isCircular(place) ? null : (text.entityOf(place)?.type ?? null);
  }

  /** Values of an instance of this very entity in the order of the file; null where it is anything else, or not as its schema says. */
  valuesOf(id: number, type: number): readonly Value[] | null {
    const at = this.parameters(id, type);
    if (at < 0) return null;
    try {
      return this.values.listAt(at);
    } catch (error) {
      if (error instanceof BadValue) return null;
      throw error;
    }
  }

  /** As `get` for what no other will ask for: it is not kept. */
  once(id: number | null): Line | null {
    const place = id === null ? -1 : this.text.placeOf(id);
    if (place < 0) return null;
    const had = this.cache[place];
    return had === undefined ? this.load(id!, place) : had;
  }

  /** Numbers of an instance of this very entity, where a plain list of numbers is all it has; null where it is anything else. */
  numbers(id: number, type: number): readonly number[] | null {
    const at = this.parameters(id, type);
    return at < 0 ? null : this.values.onlyNumbersAt(at);
  }

  /** What an instance of this very entity refers to, where a plain list of references is all it has; null where it is anything else. */
  references(id: number, type: number): readonly number[] | null {
    const at = this.parameters(id, type);
    return at < 0 ? null : this.values.onlyReferencesAt(at);
  }

  /** What an instance of this very entity refers to, negative where the truth value behind is false; 0 where it is anything else. */
  signedReference(id: number, type: number): number {
    const at = this.parameters(id, type);
    return at < 0 ? 0 : this.values.signedReferenceAt(at);
  }

  /** Place of the opening bracket of a sound instance of this very entity; -1 where it is none. */
  private parameters(id: number, type: number): number {
    const { text } = this;
    const place = text.placeOf(id);
    const entity = place < 0 || text.isCircular(place) ? null : text.entityOf(place);
    return entity?.type === type ? text.beginOf(place) + entity.word.length : -1;
  }

  private load(id: number, place: number): Line | null {
    const { text } = this;
    const subject = { id: null, line: id, name: null };
    if (text.isCircular(place)) {
      this.log.add(
        'read.model-circular',
        'Instances refer to themselves through others, or stand deeper in each other than any building needs, and were left out',
        subject,
      );
      return null;
    }
    const entity = text.entityOf(place);
    try {
      if (entity?.make != null) return entity.make(id, this.values.listAt(text.beginOf(place) + entity.word.length));
    } catch (error) {
      if (!(error instanceof BadValue)) throw error;
    }
    this.log.add('read.model-broken', 'Instances are not written as their schema says and were left out', subject);
    return null;
  }
}

/** The instances of an open model: each fetched once from the engine, by its number, and told by type. */

import type { IfcAPI } from 'web-ifc';
import { type Line, refOf, refsOf } from './attributes.js';
import type { ModelLog } from './log.js';
import type { StepText } from './step.js';

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

  constructor(
    readonly engine: IfcAPI,
    readonly model: number,
    private readonly text: StepText,
    private readonly log: ModelLog,
  ) {}

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
  at(value: unknown): Line | null {
    return this.get(refOf(value));
  }

  /** All instances that a list refers to; those that cannot be read are left out. */
  all(value: unknown): Line[] {
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
    return ids.sort((a, b) => a - b);
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
    if (state === 'circular') {
      this.log.add(
        'read.model-circular',
        'Instances refer to themselves through others, or stand deeper in each other than any building needs, and were left out',
        {
          id: null,
          line: id,
          name: null,
        },
      );
      return null;
    }
    try {
      return (this.engine.GetLine(this.model, id) as Line | undefined) ?? null;
    } catch (error) {
      if (isFatal(error)) throw new EngineFault(String(error));
      this.log.add('read.model-broken', 'Instances are not written as their schema says and were left out', {
        id: null,
        line: id,
        name: null,
      });
      return null;
    }
  }
}

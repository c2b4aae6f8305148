/**
 * The EXPRESS schema IFC4 as web-ifc's generator has written it down in `ifc-schema.d.ts`: entities with their attributes in order (optional ones allow null),
 * inheritance, enumerations, measures and selects. Every line of a file is held against it. Derived attributes are not in that file; the two entities
 * of ours that have some stand below, after the documentation of IFC4 (IfcSIUnit, IfcGeometricRepresentationSubContext).
 */

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { isRef, readStepText, type StepInstance, type StepValue } from '../../support/stepText.js';

interface Attribute {
  readonly name: string;
  readonly type: string;
  readonly optional: boolean;
}

interface Entity {
  readonly name: string;
  readonly parent: string | null;
  readonly attributes: readonly Attribute[];
}

/** Places of derived attributes. */
const DERIVED: Readonly<Record<string, readonly number[]>> = {
  IFCSIUNIT: [0],
  IFCGEOMETRICREPRESENTATIONSUBCONTEXT: [2, 3, 4, 5],
};

const source = (): string => {
  const path = createRequire(import.meta.url)
    .resolve('web-ifc')
    .replace(/[^/]*$/, 'ifc-schema.d.ts');
  const text = readFileSync(path, 'utf8');
  return text.slice(text.indexOf('export declare namespace IFC4 {'), text.indexOf('export declare namespace IFC4X3 {'));
};

/** Parts of a list at the outermost level. */
const parts = (text: string, separator: string): string[] => {
  const found: string[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i < text.length; i++) {
    if ('([<'.includes(text[i]!)) depth++;
    else if (')]>'.includes(text[i]!)) depth--;
    else if (depth === 0 && text.startsWith(separator, i)) {
      found.push(text.slice(from, i).trim());
      from = i + separator.length;
    }
  }
  return [...found, text.slice(from).trim()].filter((p) => p !== '');
};

export class Schema {
  readonly entities = new Map<string, Entity>();
  readonly enumerations = new Map<string, ReadonlySet<string>>();
  readonly selects = new Map<string, string>();
  readonly lists = new Map<string, string>();
  readonly simple = new Map<string, 'number' | 'string' | 'boolean'>();

  constructor(text = source()) {
    for (const [, name, parent, body] of text.matchAll(/^ {4}class (\w+)(?: extends (\w+))? \{\n(.*?)^ {4}\}/gms)) {
      this.take(name!, parent ?? null, body!);
    }
    for (const [, name, union] of text.matchAll(/^ {4}type (\w+) = (.*);$/gm)) this.selects.set(name!, union!);
  }

  private take(name: string, parent: string | null, body: string): void {
    const items = [...body.matchAll(/static (\w+): any/g)].map((m) => m[1]!);
    const list = /value: Array<(\w+)>/.exec(body)?.[1];
    if (items.length > 0) this.enumerations.set(name, new Set(items));
    else if (parent === 'NumberHandle') this.simple.set(name, 'number');
    else if (list !== undefined) this.lists.set(name, list);
    else if (/value: string/.test(body)) this.simple.set(name, 'string');
    else if (/value: boolean/.test(body)) this.simple.set(name, 'boolean');
    else {
      const written = parts(/constructor\((.*)\);/.exec(body)?.[1] ?? '', ',');
      const attributes = written.map((argument) => {
        const [attribute, type] = [argument.slice(0, argument.indexOf(':')), argument.slice(argument.indexOf(':') + 1)];
        return { name: attribute, type: type.replace(/\| null$/, '').trim(), optional: type.endsWith('| null') };
      });
      this.entities.set(name, { name, parent, attributes });
    }
  }

  /** The entity of a type name in capitals. */
  entityOf(type: string): Entity | null {
    return this.byCapitals.get(type) ?? null;
  }

  private readonly capitals = new Map<string, Entity>();
  private get byCapitals(): Map<string, Entity> {
    if (this.capitals.size === 0) for (const e of this.entities.values()) this.capitals.set(e.name.toUpperCase(), e);
    return this.capitals;
  }

  isA(name: string, ancestor: string): boolean {
    for (let n: string | null = name; n !== null; n = this.entities.get(n)?.parent ?? null)
      if (n === ancestor) return true;
    return false;
  }

  /** Names of a union, selects taken apart. */
  private names(type: string): string[] {
    return parts(type.replace(/\((Handle<\w+> \| )(\w+)\)/g, '$2'), '|').flatMap((name) => {
      const select = this.selects.get(name);
      return select === undefined ? [name] : this.names(select);
    });
  }

  /** What is wrong with a value of a type, '' if nothing. */
  private wrong(value: StepValue, type: string, at: (id: number) => string | null): string {
    if (type === '(NumberHandle | number)') return typeof value === 'number' ? '' : 'is no number';
    const list = /^(?:Array<(.*)>|(.*)\[\])$/.exec(type);
    if (list) {
      if (!Array.isArray(value)) return `is no list of ${type}`;
      const of = (list[1] ?? list[2]!).replace(/^\((.*)\)$/, '$1');
      if (value.length === 0) return 'is an empty list';
      return value.map((v: StepValue) => this.wrong(v, of, at)).find((w) => w !== '') ?? '';
    }
    const names = this.names(type);
    const isSelect = this.selects.has(type);
    const fits = names.some((name) => this.fits(value, name, isSelect, at));
    return fits ? '' : `${JSON.stringify(value)} is none of ${type}`;
  }

  private fits(value: StepValue, name: string, isSelect: boolean, at: (id: number) => string | null): boolean {
    if (isRef(value)) {
      const found = at(value.ref);
      return found !== null && this.entities.has(name) && this.isA(found, name);
    }
    if (value !== null && typeof value === 'object' && 'type' in value) {
      return (
        isSelect &&
        value.type === name.toUpperCase() &&
        value.of.length === 1 &&
        this.fits(value.of[0]!, name, false, at)
      );
    }
    if (isSelect) return false;
    const item = value !== null && typeof value === 'object' && 'item' in value ? value.item : null;
    if (item !== null) {
      return (
        this.enumerations.get(name)?.has(item) ??
        (this.simple.get(name) === 'boolean' ? ['T', 'F'] : name === 'IfcLogical' ? ['T', 'F', 'U'] : []).includes(item)
      );
    }
    const each = this.lists.get(name);
    if (each === 'number') return Array.isArray(value) && value.every((v: StepValue) => typeof v === 'number');
    if (each !== undefined) return Array.isArray(value) && value.every((v: StepValue) => this.fits(v, each, false, at));
    const simple = this.simple.get(name);
    return simple !== undefined && typeof value === simple;
  }

  /** Everything in a file that breaks the schema. */
  breaches(text: string): string[] {
    const instances = readStepText(text);
    const at = (id: number): string | null => {
      const instance = instances.get(id);
      return instance ? (this.entityOf(instance.type)?.name ?? null) : null;
    };
    return [...instances.values()].flatMap((instance) => this.breachesOf(instance, at));
  }

  private breachesOf(instance: StepInstance, at: (id: number) => string | null): string[] {
    const entity = this.entityOf(instance.type);
    if (!entity) return [`#${instance.id}: ${instance.type} is no entity`];
    const derived = DERIVED[instance.type] ?? [];
    const values = instance.values.filter((_, i) => !derived.includes(i));
    if (values.length !== entity.attributes.length) {
      return [
        `#${instance.id}: ${instance.type} has ${values.length} attributes instead of ${entity.attributes.length}`,
      ];
    }
    return entity.attributes.flatMap(({ name, type, optional }, i) => {
      const value = values[i]!;
      const wrong = value === null ? (optional ? '' : 'is missing') : this.wrong(value, type, at);
      return wrong === '' ? [] : [`#${instance.id}: ${instance.type}.${name} ${wrong}`];
    });
  }
}

/** A STEP file in the making: instances by entity and attribute names, numbered in the order in which they are added. */

import { type AttributeOf, ENTITIES, type EntityName } from './entities.js';
import { list, type StepRef, type StepValue, text } from './values.js';

export type Attributes<E extends EntityName> = Partial<Record<AttributeOf<E>, StepValue | null>>;

export interface StepHeader {
  readonly description: string;
  readonly fileName: string;
  readonly timeStamp: string;
  readonly program: string;
  readonly schema: string;
}

export class StepFile {
  private readonly lines: string[] = [];
  private readonly known = new Map<string, StepRef>();

  private put(body: string): StepRef {
    const id = this.lines.length + 1;
    this.lines.push(`#${id}=${body};`);
    return { step: `#${id}`, id };
  }

  private body<E extends EntityName>(entity: E, attributes: Attributes<E>): string {
    const given: Partial<Record<string, StepValue | null>> = attributes;
    const written = ENTITIES[entity]
      .split(' ')
      .map((name) => (name.startsWith('*') ? '*' : (given[name]?.step ?? '$')));
    return `${entity.toUpperCase()}(${written.join(',')})`;
  }

  /** Adds an instance; attributes that are not given are '$'. */
  add<E extends EntityName>(entity: E, attributes: Attributes<E>): StepRef {
    return this.put(this.body(entity, attributes));
  }

  /** The same for what has no identity of its own (points, directions, property values): equal ones are written once. */
  share<E extends EntityName>(entity: E, attributes: Attributes<E>): StepRef {
    const body = this.body(entity, attributes);
    const known = this.known.get(body);
    if (known) return known;
    const made = this.put(body);
    this.known.set(body, made);
    return made;
  }

  /** The whole file: ASCII, one instance a line. */
  text(header: StepHeader): string {
    const none = text('');
    const description = list([list([text(header.description)]), text('2;1')]).step;
    const name = list([
      text(header.fileName),
      text(header.timeStamp),
      list([none]),
      list([none]),
      text(header.program),
      text(header.program),
      none,
    ]).step;
    return [
      'ISO-10303-21;',
      'HEADER;',
      `FILE_DESCRIPTION${description};`,
      `FILE_NAME${name};`,
      `FILE_SCHEMA${list([list([text(header.schema)])]).step};`,
      'ENDSEC;',
      'DATA;',
      ...this.lines,
      'ENDSEC;',
      'END-ISO-10303-21;',
      '',
    ].join('\n');
  }
}

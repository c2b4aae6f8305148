/** Who is who: names and GlobalIds for messages, and GlobalIds that stand twice or are none. */

import { type Line, nameOf, textOf } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';

/** 22 characters of IFC's own base 64; the first holds two bits. Source: IFC4, IfcGloballyUniqueId. */
const GLOBAL_ID = /^[0-3][0-9A-Za-z_$]{21}$/;

export class Identities {
  private readonly subjects = new Map<number, Subject>();
  private readonly owners = new Map<string, number>();
  readonly unread: Record<string, number> = {};

  constructor(
    private readonly lines: Lines,
    private readonly log: ModelLog,
  ) {}

  of(line: Line): Subject {
    const known = this.subjects.get(line.expressID);
    if (known !== undefined) return known;
    const given = textOf(line.GlobalId)?.trim() ?? '';
    const plain: Subject = { id: given === '' ? null : given, line: line.expressID, name: nameOf(line.Name) };
    if (!GLOBAL_ID.test(given)) {
      this.log.add(
        'read.model-global-id',
        `Elements of kind ${this.lines.entity(line)} have no proper GlobalId`,
        plain,
      );
    }
    const owner = this.owners.get(given);
    const taken = given === '' || owner !== undefined;
    if (given !== '' && owner !== undefined) {
      this.log.add(
        'read.model-duplicate-id',
        'Elements carry a GlobalId that another one has',
        plain,
        'told apart by their instance numbers',
      );
    }
    this.owners.set(given, line.expressID);
    const subject: Subject = taken ? { ...plain, id: `${given}#${line.expressID}` } : plain;
    this.subjects.set(line.expressID, subject);
    return subject;
  }

  /** Counts an entity that is not read. */
  without(entity: string): void {
    this.unread[entity] = (this.unread[entity] ?? 0) + 1;
  }
}

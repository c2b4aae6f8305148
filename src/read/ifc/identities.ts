/** Who is who: names and GlobalIds for messages, and GlobalIds that stand twice or are none. */

import { isGlobalId } from '../../ground/ids.js';
import { type Line, nameOf, textOf } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';

/** An element has an id of its own, whatever the file gives it. */
export interface Identity extends Subject {
  readonly id: string;
}

export class Identities {
  private readonly known = new Map<number, Identity>();
  private readonly taken = new Set<string>();
  readonly unread: Record<string, number> = {};

  constructor(
    private readonly lines: Lines,
    private readonly log: ModelLog,
  ) {}

  of(line: Line): Identity {
    const known = this.known.get(line.expressID);
    if (known !== undefined) return known;
    const given = textOf(line.GlobalId)?.trim() ?? '';
    const plain: Subject = { id: given === '' ? null : given, line: line.expressID, name: nameOf(line.Name) };
    if (!isGlobalId(given)) {
      this.log.add(
        'read.model-global-id',
        `Elements of kind ${this.lines.entity(line)} have no proper GlobalId`,
        plain,
      );
    }
    const isTaken = this.taken.has(given);
    if (given !== '' && isTaken) {
      this.log.add(
        'read.model-duplicate-id',
        'Elements carry a GlobalId that another one has',
        plain,
        'told apart by their instance numbers',
      );
    }
    this.taken.add(given);
    const id = given === '' || isTaken ? `${given}#${line.expressID}` : given;
    const identity: Identity = { ...plain, id };
    this.known.set(line.expressID, identity);
    return identity;
  }

  /** Counts an entity that is not read. */
  without(entity: string): void {
    this.unread[entity] = (this.unread[entity] ?? 0) + 1;
  }
}

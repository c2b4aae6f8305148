/** Line types by name, as their table spells them. */

import { nameOf, type TagDocument, type TagStructure } from '../../ground/tags.js';

export const BY_LAYER = 'BYLAYER';
export const BY_BLOCK = 'BYBLOCK';
const CONTINUOUS = 'CONTINUOUS';

export class LineTypes {
  private readonly spelling = new Map<string, string>();

  constructor(document: TagDocument, structure: TagStructure) {
    for (const table of structure.tables) {
      if (table.name !== 'LTYPE') continue;
      for (const record of table.entries) {
        const name = nameOf(document, record);
        if (name === null || this.spelling.has(name.toUpperCase())) continue;
        this.spelling.set(name.toUpperCase(), name);
      }
    }
    this.spelling.set(BY_LAYER, BY_LAYER);
    this.spelling.set(BY_BLOCK, BY_BLOCK);
  }

  /** The name as the table has it (names do not heed case); BYLAYER where an entity states none. A name that the table lacks stays as it is written. */
  named(name: string | null): string {
    return name === null || name === '' ? BY_LAYER : (this.spelling.get(name.toUpperCase()) ?? name);
  }

  /** The line type of a layer, and of what takes its own from an insert while it stands in none. */
  ofLayer(name: string | null): string {
    const found = this.named(name);
    return found === BY_LAYER || found === BY_BLOCK ? this.named(CONTINUOUS) : found;
  }
}

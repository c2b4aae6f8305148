/** The layer table, and names of layers as the table spells them. */

import { byText } from '../../ground/order.js';
import { decodeText, firstTag, integerOf, nameOf, type TagDocument, type TagStructure } from '../../ground/tags.js';
import type { DrawingLayer } from '../../ground/vocabulary.js';
import type { LineTypes } from './linetypes.js';

interface Entry {
  readonly layer: DrawingLayer;
  readonly frozen: boolean;
}

/** Flag (70) of a frozen layer; a negative colour (62) is a layer that is off. */
const FROZEN = 1;

export class Layers {
  private readonly entries = new Map<string, Entry>();
  /** Spelling of names that entities use: the first in code-unit order, so that it does not depend on which entity comes first. */
  private readonly spelling = new Map<string, string>();

  constructor(
    document: TagDocument,
    structure: TagStructure,
    private readonly lineTypes: LineTypes,
  ) {
    for (const table of structure.tables) {
      if (table.name !== 'LAYER') continue;
      for (const record of table.entries) {
        const name = nameOf(document, record);
        if (name === null || this.entries.has(name.toUpperCase())) continue;
        const frozen = ((integerOf(firstTag(document, record, 70)?.value) ?? 0) & FROZEN) !== 0;
        const off = (integerOf(firstTag(document, record, 62)?.value) ?? 7) < 0;
        const stated = firstTag(document, record, 6)?.value.trim();
        const lineType = lineTypes.ofLayer(stated === undefined ? null : decodeText(document.coding, stated));
        this.entries.set(name.toUpperCase(), { layer: { name, visible: !frozen && !off, lineType }, frozen });
      }
    }
    const used = new Set<string>();
    for (const tag of document.tags) if (tag.code === 8) used.add(tag.value);
    for (const raw of used) {
      const name = decodeText(document.coding, raw.trim());
      const had = this.spelling.get(name.toUpperCase());
      if (had === undefined || name < had) this.spelling.set(name.toUpperCase(), name);
    }
  }

  /** The name as the layer table has it (names do not heed case); a layer that the table lacks is taken up as visible. */
  named(name: string | null): string {
    const wanted = name === null || name === '' ? '0' : name;
    const key = wanted.toUpperCase();
    const entry = this.entries.get(key);
    if (entry) return entry.layer.name;
    const layer = { name: this.spelling.get(key) ?? wanted, visible: true, lineType: this.lineTypes.ofLayer(null) };
    this.entries.set(key, { layer, frozen: false });
    return layer.name;
  }

  /** What stands on a frozen layer is hidden, and with an insert all that it brings. */
  frozen(name: string): boolean {
    return this.entries.get(name.toUpperCase())?.frozen ?? false;
  }

  /** The line type of what has none: a plain line. */
  get plain(): string {
    return this.lineTypes.ofLayer(null);
  }

  /** Line type of a layer that was named before. */
  lineTypeOf(name: string): string {
    return this.entries.get(name.toUpperCase())?.layer.lineType ?? this.lineTypes.ofLayer(null);
  }

  /** All layers, sorted by name. */
  all(): DrawingLayer[] {
    return [...this.entries.values()].map((entry) => entry.layer).sort(byText((layer) => layer.name));
  }
}

/** The block definitions of a sheet: made when first asked for, the same drawing under the same name once, names that the version allows. */

import { BLOCK_PREFIX } from '../../ground/tags.js';
import { forVersion } from './hatch.js';
import { symbolName } from './layers.js';
import type { BlockDefinition, Shape } from './sheet.js';

export class Blocks {
  private readonly made = new Map<string, string>();
  private readonly names: Set<string>;
  private readonly definitions: BlockDefinition[] = [];
  private pictures = 0;

  /** `taken`: names (upper case) of blocks that the drawing has already. */
  constructor(
    private readonly version: string,
    taken: ReadonlySet<string>,
  ) {
    this.names = new Set(taken);
  }

  /** The name of the block that shows these shapes, called after `hint`: SHUTTERWRIGHT-<hint>. */
  ask(hint: string, shapes: readonly Shape[], attributes: readonly string[]): string {
    const drawn = forVersion(this.version, shapes);
    const key = JSON.stringify([hint, drawn, attributes]);
    const known = this.made.get(key);
    if (known !== undefined) return known;
    const name = this.freeName(hint);
    this.names.add(name.toUpperCase());
    this.made.set(key, name);
    this.definitions.push({ name, shapes: drawn, attributes });
    return name;
  }

  /** A block for a dimension to draw itself with: *D1, *D2 … */
  anonymous(shapes: readonly Shape[]): string {
    do this.pictures++;
    while (this.names.has(`*D${this.pictures}`));
    const name = `*D${this.pictures}`;
    this.definitions.push({ name, shapes, attributes: [], isPicture: true });
    return name;
  }

  /** In the order in which they were first asked for. */
  get all(): readonly BlockDefinition[] {
    return this.definitions;
  }

  private freeName(hint: string): string {
    const wanted = symbolName(this.version, `${BLOCK_PREFIX}${hint}`);
    const cut = symbolName(this.version, `${BLOCK_PREFIX}${hint.slice(0, 200)}`);
    let name = wanted;
    for (let n = 2; this.names.has(name.toUpperCase()); n++) {
      const tail = `-${n}`;
      name = cut.slice(0, this.version <= 'AC1014' ? 31 - tail.length : 255 - tail.length) + tail;
    }
    return name;
  }
}

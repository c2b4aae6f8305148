/** Which material a single solid of a body is made of: by shape aspects, which bear the names of constituents, else by the name of its style. */

import { IFCSHAPEASPECT, IFCSTYLEDITEM } from 'web-ifc';
import { nameOf, refOf, refsOf } from './attributes.js';
import type { Lines } from './lines.js';
import type { Constituent } from './materials.js';

export class Aspects {
  /** Name of the aspect that an item belongs to. */
  private readonly names = new Map<number, string>();
  /** Item → styled item; made when it is first asked for. */
  private styles: Map<number, number> | null = null;

  constructor(private readonly lines: Lines) {
    for (const id of lines.ofType(IFCSHAPEASPECT)) {
      const line = lines.once(id);
      const name = line === null ? null : nameOf(line.Name);
      if (line === null || name === null) continue;
      for (const representation of lines.all(line.ShapeRepresentations)) {
        for (const item of refsOf(representation.Items)) this.names.set(item, name);
      }
    }
  }

  /** Material of the item among those of its element; null where nothing tells it or there is but one. */
  materialOf(item: number, materials: readonly Constituent[]): string | null {
    if (materials.length < 2) return null;
    for (const name of [this.names.get(item), this.styleOf(item)]) {
      if (name == null) continue;
      const found =
        materials.find((material) => material.part === name) ?? materials.find((material) => material.name === name);
      if (found !== undefined) return found.name;
    }
    return null;
  }

  private styleOf(item: number): string | null {
    if (this.styles === null) {
      this.styles = new Map();
      for (const id of this.lines.ofType(IFCSTYLEDITEM)) {
        const line = this.lines.get(id);
        const of = line === null ? null : refOf(line.Item);
        if (of !== null) this.styles.set(of, id);
      }
    }
    const styled = this.lines.get(this.styles.get(item) ?? null);
    if (styled === null) return null;
    for (const style of this.lines.all(styled.Styles)) {
      // IFC2X3 puts an assignment between.
      const own = nameOf(style.Name);
      if (own !== null) return own;
      for (const inner of this.lines.all(style.Styles)) {
        const name = nameOf(inner.Name);
        if (name !== null) return name;
      }
    }
    return null;
  }
}

/** Materials of elements: single, in lists, layers, constituents and profiles. */

import type { ModelMaterial } from '../../ground/vocabulary.js';
import { type Line, nameOf, type Value } from './attributes.js';
import type { Lines } from './lines.js';
import type { Placements } from './placements.js';
import type { Relations } from './relations.js';

const UNNAMED = 'unnamed';

export interface Constituent extends ModelMaterial {
  /** Name of the layer, constituent or profile itself, by which a shape aspect refers to it; null where it has none. */
  readonly part: string | null;
}

export class Materials {
  private readonly known = new Map<number, readonly Constituent[]>();
  private readonly lines: Lines;

  constructor(
    private readonly places: Placements,
    private readonly relations: Relations,
  ) {
    this.lines = places.lines;
  }

  /** Of the product, else of its type. */
  of(product: Line): readonly Constituent[] {
    const { material, type } = this.relations;
    const own = this.read(material.get(product.expressID));
    if (own.length > 0) return own;
    const of = type.get(product.expressID);
    return of === undefined ? [] : this.read(material.get(of));
  }

  private read(id: number | undefined): readonly Constituent[] {
    if (id === undefined) return [];
    let found = this.known.get(id);
    if (found === undefined) {
      const line = this.lines.get(id);
      found = line === null ? [] : this.from(line, 0);
      this.known.set(id, found);
    }
    return found;
  }

  private from(line: Line, depth: number): readonly Constituent[] {
    if (depth > 4) return [];
    switch (this.lines.entity(line)) {
      case 'IfcMaterial':
        return [{ name: nameOf(line.Name) ?? UNNAMED, category: nameOf(line.Category), thicknessMm: null, part: null }];
      case 'IfcMaterialList':
        return this.inner(line.Materials, depth);
      case 'IfcMaterialLayerSetUsage':
        return this.through(line.ForLayerSet, depth);
      case 'IfcMaterialLayerSet':
        return this.inner(line.MaterialLayers, depth);
      case 'IfcMaterialLayer':
      case 'IfcMaterialLayerWithOffsets': {
        const thicknessMm = this.places.lengthMm(line.LayerThickness);
        // A layer without a material is air.
        const material = this.lines.at(line.Material);
        const name = material === null ? null : nameOf(material.Name);
        return [
          {
            name: name ?? nameOf(line.Name) ?? UNNAMED,
            category: nameOf(line.Category) ?? (material === null ? null : nameOf(material.Category)),
            thicknessMm,
            part: nameOf(line.Name),
          },
        ];
      }
      case 'IfcMaterialConstituentSet':
        return this.inner(line.MaterialConstituents, depth);
      case 'IfcMaterialProfileSetUsage':
      case 'IfcMaterialProfileSetUsageTapering':
        return this.through(line.ForProfileSet, depth);
      case 'IfcMaterialProfileSet':
        return this.inner(line.MaterialProfiles, depth);
      case 'IfcMaterialConstituent':
      case 'IfcMaterialProfile':
      case 'IfcMaterialProfileWithOffsets': {
        const [material] = this.through(line.Material, depth);
        return material === undefined
          ? []
          : [{ ...material, category: nameOf(line.Category) ?? material.category, part: nameOf(line.Name) }];
      }
      default:
        return [];
    }
  }

  private inner(value: Value | undefined, depth: number): readonly Constituent[] {
    return this.lines.all(value).flatMap((part) => this.from(part, depth + 1));
  }

  private through(value: Value | undefined, depth: number): readonly Constituent[] {
    const part = this.lines.at(value);
    return part === null ? [] : this.from(part, depth + 1);
  }
}

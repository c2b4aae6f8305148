/** The relations of a model, each read once: who stands where, is part of what, is cut by what, has which type and material. By instance numbers. */

import {
  IFCRELAGGREGATES,
  IFCRELASSOCIATESMATERIAL,
  IFCRELCONTAINEDINSPATIALSTRUCTURE,
  IFCRELDEFINESBYTYPE,
  IFCRELFILLSELEMENT,
  IFCRELNESTS,
  IFCRELPROJECTSELEMENT,
  IFCRELVOIDSELEMENT,
} from 'web-ifc';
import { type Line, refOf, refsOf } from './attributes.js';
import type { Lines } from './lines.js';

const into = (map: Map<number, number[]>, key: number, value: number): void => {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else if (!list.includes(value)) list.push(value);
};

export class Relations {
  /** Element → what contains it in the spatial structure. */
  readonly container = new Map<number, number>();
  /** Part → whole, and whole → parts in order of their numbers. */
  readonly whole = new Map<number, number>();
  readonly parts = new Map<number, number[]>();
  readonly openings = new Map<number, number[]>();
  readonly projections = new Map<number, number[]>();
  readonly fillings = new Map<number, number[]>();
  readonly type = new Map<number, number>();
  readonly material = new Map<number, number>();

  constructor(private readonly lines: Lines) {
    this.each(IFCRELCONTAINEDINSPATIALSTRUCTURE, (line) => {
      const structure = refOf(line.RelatingStructure);
      if (structure !== null) for (const id of refsOf(line.RelatedElements)) this.container.set(id, structure);
    });
    for (const type of [IFCRELAGGREGATES, IFCRELNESTS]) {
      this.each(type, (line) => {
        const whole = refOf(line.RelatingObject);
        if (whole === null) return;
        for (const id of refsOf(line.RelatedObjects)) {
          if (id === whole) continue;
          this.whole.set(id, whole);
          into(this.parts, whole, id);
        }
      });
    }
    this.pairs(IFCRELVOIDSELEMENT, 'RelatingBuildingElement', 'RelatedOpeningElement', this.openings);
    this.pairs(IFCRELPROJECTSELEMENT, 'RelatingElement', 'RelatedFeatureElement', this.projections);
    this.pairs(IFCRELFILLSELEMENT, 'RelatingOpeningElement', 'RelatedBuildingElement', this.fillings);
    this.each(IFCRELDEFINESBYTYPE, (line) => {
      const type = refOf(line.RelatingType);
      if (type !== null) for (const id of refsOf(line.RelatedObjects)) this.type.set(id, type);
    });
    this.each(IFCRELASSOCIATESMATERIAL, (line) => {
      const material = refOf(line.RelatingMaterial);
      if (material !== null) for (const id of refsOf(line.RelatedObjects)) this.material.set(id, material);
    });
  }

  /** The spatial element that something stands in, also through what it is a part of. */
  containerOf(id: number): number | null {
    let at: number | undefined = id;
    for (let steps = 0; at !== undefined && steps < MOST_STEPS; steps++) {
      const container = this.container.get(at);
      if (container !== undefined) return container;
      at = this.whole.get(at);
    }
    return null;
  }

  private each(type: number, use: (line: Line) => void): void {
    for (const id of this.lines.ofType(type, false)) {
      const line = this.lines.once(id);
      if (line !== null) use(line);
    }
  }

  private pairs(type: number, one: string, many: string, map: Map<number, number[]>): void {
    this.each(type, (line) => {
      const [relating, related] = [refOf(line[one]), refOf(line[many])];
      if (relating !== null && related !== null) into(map, relating, related);
    });
  }
}

/** Deeper than this no part is a part of a part. */
const MOST_STEPS = 50;

/** HATCH for the second reader, which knows none by itself: read by its scanner, group by group. */

import type { Vec } from '../../ground/plane.js';

interface Group {
  readonly code: number;
  readonly value: unknown;
}

interface Scanner {
  next(): Group;
  isEOF(): boolean;
}

export interface ReadHatch {
  type: string;
  layer: string;
  pattern: string;
  paths: Vec[][];
  /** Of the families of lines: from one line to the next. */
  offsets: Vec[];
}

/** Groups 10 and 20 are the elevation before the paths, corners within them, seeds after them. */
export class HatchHandler {
  readonly ForEntityName = 'HATCH';

  parseEntity(scanner: Scanner, first: Group): ReadHatch {
    const hatch: ReadHatch = { type: String(first.value), layer: '', pattern: '', paths: [], offsets: [] };
    let corners = 0;
    let x = 0;
    for (let group = scanner.next(); !scanner.isEOF() && group.code !== 0; group = scanner.next()) {
      const value = group.value as number;
      if (group.code === 8) hatch.layer = String(group.value);
      else if (group.code === 2) hatch.pattern = String(group.value);
      else if (group.code === 93) {
        corners = value;
        hatch.paths.push([]);
      } else if (group.code === 10 || group.code === 45) x = value;
      else if (group.code === 20) {
        const path = hatch.paths.at(-1);
        if (path && path.length < corners) path.push({ x, y: value });
      } else if (group.code === 46) hatch.offsets.push({ x, y: value });
    }
    return hatch;
  }
}

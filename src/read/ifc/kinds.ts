/** Which entities are read as which kind of element. Subtypes go with their supertypes. */

import {
  IFCBEAM,
  IFCBUILDINGELEMENT,
  IFCBUILTELEMENT,
  IFCCHIMNEY,
  IFCCOLUMN,
  IFCCOVERING,
  IFCCURTAINWALL,
  IFCDEEPFOUNDATION,
  IFCDISTRIBUTIONELEMENT,
  IFCDOOR,
  IFCELEMENTASSEMBLY,
  IFCELEMENTCOMPONENT,
  IFCFEATUREELEMENT,
  IFCFOOTING,
  IFCFURNISHINGELEMENT,
  IFCPILE,
  IFCRAILING,
  IFCREINFORCINGBAR,
  IFCREINFORCINGELEMENT,
  IFCSHADINGDEVICE,
  IFCSLAB,
  IFCVIRTUALELEMENT,
  IFCWALL,
  IFCWINDOW,
} from 'web-ifc';
import type { ElementKind } from '../../ground/vocabulary.js';
import type { Lines } from './lines.js';

/** First match wins, so subtypes stand before their supertypes. */
const KINDS: readonly (readonly [number, ElementKind])[] = [
  [IFCWALL, 'wall'],
  [IFCFOOTING, 'footing'],
  [IFCSLAB, 'slab'],
  [IFCCOLUMN, 'column'],
  [IFCBEAM, 'beam'],
  [IFCPILE, 'pile'],
  [IFCDEEPFOUNDATION, 'pile'],
  [IFCDISTRIBUTIONELEMENT, 'service'],
];

/** Neither walls nor in their way: counted, not read. Their shapes are most of many models. */
const NOT_WANTED = [
  IFCDOOR,
  IFCWINDOW,
  IFCCURTAINWALL,
  IFCCOVERING,
  IFCRAILING,
  IFCSHADINGDEVICE,
  IFCFURNISHINGELEMENT,
  IFCFEATUREELEMENT,
  IFCVIRTUALELEMENT,
  IFCREINFORCINGELEMENT,
];

/** Read as 'other': what may stand in a foundation or pass through it. */
const OTHER = [IFCBUILDINGELEMENT, IFCBUILTELEMENT, IFCELEMENTASSEMBLY, IFCELEMENTCOMPONENT, IFCCHIMNEY];

export interface Sorted {
  /** Instance numbers with their kinds, ascending. */
  readonly elements: ReadonlyMap<number, ElementKind>;
  readonly bars: readonly number[];
  /** Reinforcement that is no bar: meshes, tendons. */
  readonly otherReinforcement: readonly number[];
  /** Read with what they belong to: openings, projections, reinforcement. */
  readonly within: ReadonlySet<number>;
}

export const sortElements = (lines: Lines): Sorted => {
  const kinds = new Map<number, ElementKind>();
  for (const [type, kind] of KINDS) {
    for (const id of lines.ofType(type)) if (!kinds.has(id)) kinds.set(id, kind);
  }
  const away = new Set<number>(NOT_WANTED.flatMap((type) => lines.ofType(type)));
  for (const type of OTHER) {
    for (const id of lines.ofType(type)) if (!kinds.has(id) && !away.has(id)) kinds.set(id, 'other');
  }
  const bars = lines.ofType(IFCREINFORCINGBAR);
  const barSet = new Set(bars);
  const reinforcement = lines.ofType(IFCREINFORCINGELEMENT);
  return {
    elements: new Map([...kinds].sort(([a], [b]) => a - b)),
    bars,
    otherReinforcement: reinforcement.filter((id) => !barSet.has(id)),
    within: new Set([...lines.ofType(IFCFEATUREELEMENT), ...reinforcement]),
  };
};

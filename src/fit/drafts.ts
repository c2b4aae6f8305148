/** What the emission gathers before pieces get their courses and ids. */

import type { FaceSide, PieceKind, Taper } from '../ground/vocabulary.js';

export interface Draft {
  readonly kind: PieceKind;
  readonly items: readonly (string | null)[];
  /** The place that sorts it: wall index, face rank, station. */
  readonly order: readonly [number, number, number];
  readonly covers: readonly { readonly face: string; readonly fromGu: number; readonly toGu: number }[];
  readonly node?: string;
  readonly vertex?: string;
  readonly taper?: Taper;
  /** Id of the run whose courses it takes. */
  readonly run: string;
  /** Only the courses below the top one: panels on their side lie on them. */
  readonly belowTop?: boolean;
  /** Set on what stands at levels of its own: under the forms in course 0, or a panel on its side. */
  readonly own?: { readonly course: number; readonly lowMm: number; readonly highMm: number; readonly turned: boolean };
}

/** Setting order of the faces of a wall. */
export const FACE_RANK: Record<FaceSide, number> = { left: 0, right: 1, start: 2, end: 3, pilaster: 4 };

/** Counted and in setting order. */

import type { PieceKind } from './layout.js';

/** What is counted besides pieces: ties, and what holds the forms straight and lets people reach them. */
export type GearKind =
  | 'tie'
  | 'lock'
  | 'clamp'
  | 'aligner'
  | 'brace'
  | 'bracket'
  | 'fixing'
  | 'plank'
  | 'rail'
  | 'lifting-bracket';

export interface ScheduleRow {
  /** Catalogue id, or 'timber W x H' for timber. */
  readonly item: string;
  readonly kind: PieceKind | GearKind;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of tapered timber: its lesser width. */
  readonly narrowMm?: number;
  readonly count: number;
  /** The row's total. */
  readonly massKg: number;
  /** What the yard owns, if its stock is limited. */
  readonly stock: number | null;
  /** Where the job is poured in parts: what each pour takes, in their order; what stands between two is needed in both. */
  readonly inPours?: readonly { readonly name: string; readonly count: number }[];
  /** Each thing once, at the wall at which the setting list has it; in the order of the plan's walls. */
  readonly inWalls?: readonly { readonly wall: string; readonly count: number }[];
  /** How a number of the row came about where it is not the catalogue's: travels into every list. */
  readonly remark?: string;
}

export interface Totals {
  readonly wallLengthM: number;
  /** Left and right faces, gross. */
  readonly contactAreaM2: number;
  readonly contactAreaNetM2: number;
  readonly endAreaM2: number;
  readonly panelAreaM2: number;
  readonly timberAreaM2: number;
  readonly massKg: number;
  readonly concreteM3: number;
  readonly tieCount: number;
}

/** One piece in the order in which the crew sets it: by wall, face, course, station. */
export interface SettingRow {
  readonly piece: string;
  /** Item of its schedule row. */
  readonly item: string;
  readonly kind: PieceKind;
  readonly wall: string;
  /** Face of its first cover; of an outside corner the first face at its vertex; '' where it has none. */
  readonly face: string;
  readonly course: number;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Concrete of one wall with its pilasters, between its own faces, footing to pour line. */
export interface WallConcrete {
  readonly wall: string;
  /** null: everything is poured at once. */
  readonly pour: string | null;
  readonly thicknessMm: number;
  readonly lengthMm: number;
  readonly grossM3: number;
  readonly openingsM3: number;
}

export interface Schedule {
  readonly rows: readonly ScheduleRow[];
  readonly totals: Totals;
  readonly setting?: readonly SettingRow[];
  /** In the order of the plan's walls. */
  readonly concrete?: readonly WallConcrete[];
}

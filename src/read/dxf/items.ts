/** Entities as read, in the coordinates of the drawing or block in which they stand; inserts place them afterwards. */

import type { Boundary } from './clip.js';
import type { Outline } from './entities/outline.js';
import type { Matrix, Point3 } from './matrix.js';

interface Item {
  readonly name: string;
  /** As the layer table spells it. */
  readonly layer: string;
}

/** What an item of an entity is called and where it is drawn. */
export type Named = Item;

export interface PathItem extends Item {
  readonly entity: string;
  readonly outlines: readonly Outline[];
  /** As the table spells it, or BYLAYER or BYBLOCK. */
  readonly lineType: string;
  /** How far the outlines are extruded (group 39), as a direction with that length; null when flat. */
  readonly extrusion: Point3 | null;
  /** Name of the hatch pattern in capitals; null for linework. */
  readonly fill: string | null;
}

export interface TextItem extends Item {
  readonly at: Point3;
  /** Direction in which the text runs, and upwards from it; lengths are 1. */
  readonly along: Point3;
  readonly up: Point3;
  readonly height: number;
  readonly text: string;
}

export interface DimensionItem extends Item {
  readonly from: Point3;
  readonly to: Point3;
  /** Direction along which it measures; null: straight from point to point. */
  readonly along: Point3 | null;
  readonly text: string | null;
  readonly textHeight: number | null;
}

export interface LeaderItem extends Item {
  readonly entity: string;
  /** Tip first. */
  readonly points: readonly Point3[];
  /** Name of the text that hangs on it, from where the leader stands; null where the drawing does not say. */
  readonly text: string | null;
}

export interface Attribute {
  readonly tag: string;
  readonly text: string;
}

export interface InsertItem extends Item {
  readonly block: string;
  /** As the table spells it, or BYLAYER or BYBLOCK. */
  readonly lineType: string;
  /** From the block's coordinates, its base point at the origin, to those in which the insert stands. */
  readonly place: Matrix;
  /** Direction to which the insert is turned, before its scale. */
  readonly along: Point3;
  readonly columns: number;
  readonly rows: number;
  readonly columnStep: Point3;
  readonly rowStep: Point3;
  /** What is seen of the block, in its coordinates; null: all of it. */
  readonly clip: Boundary | null;
  /** Texts of attributes that are seen. */
  readonly texts: readonly TextItem[];
  /** All attributes, hidden ones too. */
  readonly attributes: readonly Attribute[];
}

/** Entities of one type on one layer that are no linework, or whose numbers are unusable. */
export interface UnreadItem {
  readonly entity: string;
  readonly layer: string;
  readonly unusable: boolean;
  count: number;
}

export interface Content {
  readonly paths: PathItem[];
  readonly texts: TextItem[];
  readonly dimensions: DimensionItem[];
  readonly leaders: LeaderItem[];
  readonly inserts: InsertItem[];
  /** Constant attributes, which each insert of the block has. */
  readonly constants: Attribute[];
  readonly unread: UnreadItem[];
}

export const emptyContent = (): Content => ({
  paths: [],
  texts: [],
  dimensions: [],
  leaders: [],
  inserts: [],
  constants: [],
  unread: [],
});

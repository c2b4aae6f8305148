/** The layout, indexed for the checks: what belongs to which wall, face and item. */

import { facePoint } from '../ground/arcs.js';
import { listsBy } from '../ground/groups.js';
import type {
  Catalogue,
  Clamp,
  Cover,
  Face,
  FacePlan,
  FormUnit,
  Group,
  Layout,
  ModelBar,
  Obstacle,
  Piece,
  PressureCase,
  Run,
  RunDemand,
  Side,
  Tie,
  TieItem,
  Vertex,
  Wall,
} from '../ground/vocabulary.js';
import { type Void, voidsOf } from '../ground/voids.js';
import type { SiteOptions } from './bracing/options.js';
import type { ChainAnswer } from './chain.js';
import type { HandSet } from './handling.js';
import type { Lines } from './lines.js';
import type { RateQuestion } from './rates.js';
import type { CoverOfBars } from './tieKinds.js';

export interface CheckInput {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly layout: Layout;
  /** By run id. */
  readonly demands: ReadonlyMap<string, RunDemand>;
  readonly pressure: ReadonlyMap<string, PressureCase>;
  /** How far a form on a curved wall may leave the arc of its face; without it nothing is said of that. */
  readonly chordMostMm?: number;
  /** What is set by hand; without it the usual weights. */
  readonly handSet?: HandSet;
  /** Clamps as they stand in an edited layout; without it they are laid out. */
  readonly clamps?: readonly Clamp[];
  /** Concrete over the first bar; without it holes of ties are not held against it. */
  readonly coverOfBars?: CoverOfBars;
  /** What the job says of bracing and access; without it none are laid out. */
  readonly site?: SiteOptions;
  /** What ties must miss, where a model or the job file tells it. */
  readonly inTheWay?: InTheWay;
  /** Asks for the rates of rise that the layout carries. */
  readonly rates?: RateQuestion;
}

export interface InTheWay {
  readonly bars: readonly ModelBar[];
  readonly obstacles: readonly Obstacle[];
  /** Least clear distance between a tie and any of them. */
  readonly clearMm: number;
}

export interface PlacedCover {
  readonly piece: Piece;
  readonly cover: Cover;
}

export interface Context extends CheckInput {
  readonly walls: ReadonlyMap<string, Wall>;
  /** By run id. */
  readonly runs: ReadonlyMap<string, Run>;
  /** By wall id, in order of station. */
  readonly runsOf: ReadonlyMap<string, readonly Run[]>;
  /** Openings by run id; runs without any have none. */
  readonly voids: ReadonlyMap<string, readonly Void[]>;
  /** Run of each piece that stands in a rigid group, by piece id. */
  readonly runOfPiece: ReadonlyMap<string, string>;
  readonly faces: ReadonlyMap<string, Face>;
  readonly pieces: ReadonlyMap<string, Piece>;
  readonly units: ReadonlyMap<string, FormUnit>;
  readonly tieItems: ReadonlyMap<string, TieItem>;
  /** By face id, in order of station, then level. */
  readonly covers: ReadonlyMap<string, readonly PlacedCover[]>;
  /** By face id. */
  readonly groups: ReadonlyMap<string, readonly Group[]>;
  /** By run id. */
  readonly ties: ReadonlyMap<string, readonly Tie[]>;
  /** By vertex and course, '|' between them. */
  readonly outsideCorners: ReadonlyMap<string, Piece>;
  /** The same by vertex. */
  readonly cornersAt: ReadonlyMap<string, readonly Piece[]>;
  /** What is cut to stand over a vertex, by vertex. */
  readonly timberAt: ReadonlyMap<string, readonly Piece[]>;
  /** By id. */
  readonly vertices: ReadonlyMap<string, Vertex>;
  /** By wall and side, '|' between them. */
  readonly sides: ReadonlyMap<string, Face>;
  readonly memo: Memo;
}

/** What does not depend on the pressure, kept from one load to the next: lines by run and courses, reactions of chains by what they stand on. */
export interface Memo {
  readonly lines: Map<string, Lines>;
  readonly chains: Map<string, ChainAnswer | null>;
}

/** Two lengths that differ by no more than this are equal: stations are whole grid steps, rounded to 1e-4 mm. */
export const EQUAL_MM = 0.01;

const byId = <T extends { readonly id: string }>(items: readonly T[]): Map<string, T> =>
  new Map(items.map((x) => [x.id, x]));

export const contextOf = (input: CheckInput): Context => {
  const { layout, plan } = input;
  const placed = layout.pieces.flatMap((piece) => piece.covers.map((cover): PlacedCover => ({ piece, cover })));
  const covers = listsBy(placed, ({ cover }) => cover.face);
  for (const list of covers.values())
    list.sort((a, b) => a.cover.fromMm - b.cover.fromMm || a.cover.baseMm - b.cover.baseMm);
  return {
    ...input,
    walls: byId(plan.walls),
    runs: byId(plan.runs),
    runsOf: listsBy(plan.runs, (r) => r.wall),
    voids: new Map(
      plan.runs.map((r): [string, readonly Void[]] => [r.id, voidsOf(plan, r)]).filter(([, v]) => v.length > 0),
    ),
    runOfPiece: new Map(layout.groups.flatMap((g) => g.pieces.map((id): [string, string] => [id, g.run]))),
    faces: byId(plan.faces),
    pieces: byId(layout.pieces),
    units: byId(input.catalogue.units),
    tieItems: byId(input.catalogue.ties),
    covers,
    groups: listsBy(layout.groups, (g) => g.face),
    ties: listsBy(layout.ties, (t) => t.run),
    outsideCorners: new Map(
      layout.pieces.filter((p) => p.kind === 'outside-corner').map((p) => [`${p.vertex}|${p.course}`, p]),
    ),
    cornersAt: listsBy(
      layout.pieces.filter((p) => p.kind === 'outside-corner' && p.vertex !== undefined),
      (p) => p.vertex!,
    ),
    timberAt: listsBy(
      layout.pieces.filter((p) => p.kind === 'timber' && p.vertex !== undefined),
      (p) => p.vertex!,
    ),
    vertices: byId(plan.vertices),
    sides: new Map(plan.faces.map((f) => [`${f.wall}|${f.side}`, f])),
    memo: { lines: new Map(), chains: new Map() },
  };
};

export const faceOf = (ctx: Context, wall: string, side: Side): Face | undefined => ctx.sides.get(`${wall}|${side}`);

export const unitOf = (ctx: Context, piece: Piece): FormUnit | undefined =>
  piece.item === null ? undefined : ctx.units.get(piece.item);

/** Place of a station and level of a face for findings: on the face, in the drawing's axes. */
export const placeOn = (
  ctx: Context,
  wallId: string,
  side: Side | null,
  stationMm: number,
  levelMm = 0,
): readonly [number, number, number] | null => {
  const wall = ctx.walls.get(wallId);
  if (!wall) return null;
  const p = facePoint(wall, side ?? 'axis', stationMm);
  return [p.x, p.y, levelMm];
};

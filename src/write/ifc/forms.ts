/** The forms in the file: wall by wall in the plan's order, pieces and ties in the layout's. */

import { marksOf } from '../../ground/marks.js';
import { framesOf } from '../../ground/places.js';
import { runFinder } from '../../ground/runs.js';
import { ORIGIN } from '../../ground/space.js';
import type { CheckedTie, Piece, Wall } from '../../ground/vocabulary.js';
import { contain, describeJob, isFor, pourAssembly, storeyOf, wallAssembly, wallGroup } from './assembly.js';
import type { Author } from './author.js';
import { type Standing, standingPieces } from './bodies.js';
import { ofConcrete, writeWall } from './concrete.js';
import { connect, type Workshop, writePiece, writeTie } from './elements.js';
import { pieceKeys, tieKeys, wallKeys } from './keys.js';
import { Types } from './shapes.js';
import { type Ground, ground } from './site.js';
import type { SiteShop } from './siteElement.js';
import { connectClamps, writeSite } from './siteElements.js';
import { siteGear } from './siteGear.js';
import type { StepRef } from './step/values.js';
import { type WallFrame, wallFrame } from './wallFrame.js';

const workshop = (author: Author, types: Types, walls: ReadonlyMap<string, string>): Workshop => {
  const { plan, catalogue, layout } = author.result;
  return {
    author,
    types,
    marks: marksOf(plan, catalogue, layout),
    units: new Map(catalogue.units.map((u) => [u.id, u])),
    ties: new Map(catalogue.ties.map((t) => [t.id, t])),
    covers: new Map(layout.pieces.map((p) => [p.id, p.covers[0]])),
    pieceKeys: pieceKeys(plan, layout.pieces, walls),
    tieKeys: tieKeys(layout.ties, walls),
    sides: new Map(plan.faces.map((f) => [f.id, f.side])),
    gangs: new Map((layout.gangs ?? []).flatMap((g) => g.pieces.map((id): [string, string] => [id, g.id]))),
    ratings: new Map(layout.ratings.map((r) => [r.piece, r])),
  };
};

interface Bay {
  readonly wall: Wall;
  readonly frame: WallFrame;
  /** Axes of the wall, in which its forms and its concrete are placed. */
  readonly placement: StepRef;
}

/** What was written, by the ids of the layout. */
interface Written {
  readonly pieces: Map<string, StepRef>;
  readonly ties: Map<string, StepRef>;
  readonly touching: Map<string, StepRef[]>;
}

const touch = (written: Written, walls: readonly string[], ref: StepRef): void => {
  for (const wall of walls) {
    const known = written.touching.get(wall);
    if (known) known.push(ref);
    else written.touching.set(wall, [ref]);
  }
};

const byWall = <T>(items: readonly T[], wallOf: (item: T) => string): ReadonlyMap<string, readonly T[]> => {
  const found = new Map<string, T[]>();
  for (const item of items) {
    const known = found.get(wallOf(item));
    if (known) known.push(item);
    else found.set(wallOf(item), [item]);
  }
  return found;
};

/** Pieces of one wall. */
const writePieces = (shop: Workshop, bay: Bay, standing: readonly Standing[], written: Written): StepRef[] =>
  standing.map((s) => {
    const ref = writePiece(shop, s, bay.frame, bay.placement);
    written.pieces.set(s.piece.id, ref);
    touch(written, s.walls, ref);
    return ref;
  });

const writeTies = (shop: Workshop, bay: Bay, ties: readonly CheckedTie[], written: Written): StepRef[] =>
  ties.map((tie) => {
    const item = shop.ties.get(tie.item);
    if (!item) throw new Error(`tie ${tie.id} names ${tie.item}, which the catalogue does not have`);
    const ref = writeTie(shop, tie, item, bay.frame, bay.placement);
    written.ties.set(tie.id, ref);
    touch(written, [tie.wall], ref);
    return ref;
  });

const bayOf = (author: Author, site: Ground, wall: Wall, pour: StepRef, levelMm: number): Bay => {
  const frame = wallFrame(wall);
  const { x, y } = wall.start;
  const at = { x: x - site.shift.x, y: y - site.shift.y, z: frame.footMm - levelMm };
  const along = { ...frame.along, z: 0 };
  return { wall, frame, placement: author.placement(pour, author.axes(at, { x: 0, y: 0, z: 1 }, along)) };
};

/** Writes everything. The pieces that have no place are handed back. */
export const writeForms = (author: Author): readonly Piece[] => {
  const { plan, catalogue, layout, model } = author.result;
  const site = ground(author);
  const keys = wallKeys(plan, model !== undefined);
  const types = new Types(author, site.contexts.body);
  const shop = workshop(author, types, keys);
  const { standing, lost } = standingPieces(plan, catalogue, layout.pieces);
  const pieces = byWall(standing, (s) => s.wall.id);
  const ties = byWall(layout.ties, (t) => t.wall);
  const runAt = runFinder(plan.runs);
  const before: SiteShop = {
    shop,
    gear: siteGear(plan, layout, keys),
    frames: framesOf(plan),
    written: new Map(),
    groundMm: (wall, stationMm) => runAt(wall, stationMm)?.footingMm ?? 0,
  };
  const storey = storeyOf(author, site.storeys);
  const base = storey?.placement ?? site.buildingPlacement;
  const pourPlacement = author.placement(base, author.axes(ORIGIN));
  const written: Written = { pieces: new Map(), ties: new Map(), touching: new Map() };
  const concrete: StepRef[] = [];
  const assemblies: StepRef[] = [];
  for (const wall of plan.walls) {
    const key = keys.get(wall.id)!;
    const bay = bayOf(author, site, wall, pourPlacement, storey?.levelMm ?? 0);
    const gear = writeSite(before, bay, wall.id);
    for (const ref of gear) touch(written, [wall.id], ref);
    const parts = [
      ...writePieces(shop, bay, pieces.get(wall.id) ?? [], written),
      ...writeTies(shop, bay, ties.get(wall.id) ?? [], written),
      ...gear,
    ];
    const forms = parts.length > 0 ? wallAssembly(author, wall, key, bay.placement, parts, site.document) : null;
    const body = model ? null : writeWall(author, types, bay.frame, key, bay.placement);
    if (forms) assemblies.push(forms);
    if (body) concrete.push(body);
    if (forms && body) isFor(author, key, forms, body);
  }
  for (const tie of layout.ties) {
    const ref = written.ties.get(tie.id);
    if (ref) connect(shop, tie, ref, written.pieces);
  }
  connectClamps(before, plan.walls, written.pieces);
  for (const wall of plan.walls) wallGroup(author, wall, keys.get(wall.id)!, written.touching.get(wall.id) ?? []);
  ofConcrete(author, concrete);
  const pour = pourAssembly(author, site, pourPlacement, assemblies);
  contain(author, site, storey, [pour, ...concrete]);
  describeJob(author, site.project);
  types.finish();
  return lost;
};

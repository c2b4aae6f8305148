/**
 * The rows of the list: one an item. A piece is one physical unit even where it covers two faces.
 *
 * Timber carries no catalogue mass. It is taken as solid timber of the frame's depth at TIMBER_KG_PER_M3; backing is not counted.
 * Rows stand in the order in which a truck is loaded: by kind (panels first), wide before narrow, tall before low, then by item.
 */

import { byNumber, byText, inOrder } from '../ground/order.js';
import { postOf } from '../ground/pilasters.js';
import { planIndex } from '../ground/planIndex.js';
import { poursOfWalls, wallsOfPieces } from '../ground/pours.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type { Catalogue, CheckedLayout, FacePlan, Piece, ScheduleRow } from '../ground/vocabulary.js';
import { placesOf } from './place.js';
import { liftingBrackets, siteGear } from './site.js';

/** Mass of damp softwood for cut fill. Common practice, no source. */
export const TIMBER_KG_PER_M3 = 600;

const TIMBER_REMARK = `net size; mass as solid timber of the frame's depth at ${TIMBER_KG_PER_M3} kg/m3 (common practice, no source)`;

const TAPER_REMARK =
  "tapered over the frame's depth: on the inner face of a curve or a bend the wide side is at the concrete, on the outer face at the back";

const POST_REMARK = `post beside a pilaster, width x depth x length; mass as solid timber at ${TIMBER_KG_PER_M3} kg/m3 (common practice, no source)`;

/** Cut sizes are told to a tenth of a mm: inch gear's grid is 1.5875 mm. */
const SIZE_PLACES = 1;

export const KIND_ORDER: readonly ScheduleRow['kind'][] = [
  'panel',
  'filler',
  'inside-corner',
  'outside-corner',
  'hinged-corner',
  'bulkhead',
  'box-out',
  'strip',
  'timber',
  'tie',
  'lock',
  'clamp',
  'aligner',
  'fixing',
  'brace',
  'bracket',
  'plank',
  'rail',
  'lifting-bracket',
];

interface PieceSize {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of tapered timber: its lesser width. */
  readonly narrowMm?: number;
  /** Of a post beside a pilaster. */
  readonly depthMm?: number;
}

/** Size of a piece that is cut on site: the width of all its covers, or the wall's thickness where it has none (a bulkhead), by its height. */
const cutSize = (piece: Piece, plan: FacePlan): PieceSize => {
  if (piece.taper) {
    const { faceMm, backMm } = piece.taper;
    return {
      widthMm: roundTo(Math.max(faceMm, backMm), SIZE_PLACES),
      heightMm: roundTo(piece.topMm - piece.baseMm, SIZE_PLACES),
      narrowMm: roundTo(Math.min(faceMm, backMm), SIZE_PLACES),
    };
  }
  const post = postOf(plan, piece);
  const heightMm = piece.topMm - piece.baseMm;
  if (post) {
    const [widthMm, depthMm] = [roundTo(post.widthMm, SIZE_PLACES), roundTo(post.depthMm, SIZE_PLACES)];
    return { widthMm, heightMm: roundTo(heightMm, SIZE_PLACES), depthMm };
  }
  const { nodes, walls } = planIndex(plan);
  const node = nodes.get(piece.node ?? '');
  const wall = walls.get(node?.walls[0] ?? '');
  const covered = piece.covers.reduce((sum, c) => sum + c.toMm - c.fromMm, 0);
  const widthMm = piece.covers.length === 0 ? (wall?.thicknessMm ?? 0) : covered;
  return { widthMm: roundTo(widthMm, SIZE_PLACES), heightMm: roundTo(heightMm, SIZE_PLACES) };
};

/** Item of the row in which a piece is counted: the catalogue's id, or '<kind> W x H' for what is cut on site. */
export const rowItem = (piece: Piece, plan: FacePlan): string => {
  if (piece.item !== null) return piece.item;
  const { widthMm, heightMm, narrowMm, depthMm } = cutSize(piece, plan);
  const tapers = narrowMm === undefined ? '' : `/${plainNumber(narrowMm, SIZE_PLACES)}`;
  const deep = depthMm === undefined ? '' : ` x ${plainNumber(depthMm, SIZE_PLACES)}`;
  return `${piece.kind} ${plainNumber(widthMm, SIZE_PLACES)}${tapers}${deep} x ${plainNumber(heightMm, SIZE_PLACES)}`;
};

type OneOf = Omit<ScheduleRow, 'count' | 'stock'> & { readonly turned?: boolean };

/** A unit with the pours that need it, and the wall at which it is counted. */
type Standing = OneOf & { readonly pours: readonly (string | null)[]; readonly wall: string };

const ofCatalogue = (piece: Piece, item: string, catalogue: Catalogue): OneOf => {
  const unit = catalogue.units.find((u) => u.id === item);
  if (unit === undefined) throw new Error(`piece ${piece.id} names ${item}, which the catalogue does not have`);
  const { widthMm, heightMm, massKg } = unit;
  return { item, kind: piece.kind, widthMm, heightMm, massKg, turned: piece.turned };
};

const ofTimber = (piece: Piece, plan: FacePlan, catalogue: Catalogue): OneOf => {
  const size = cutSize(piece, plan);
  const { widthMm, heightMm, narrowMm, depthMm = catalogue.frameDepthMm } = size;
  const meanMm = narrowMm === undefined ? widthMm : (widthMm + narrowMm) / 2;
  const massKg = (meanMm * heightMm * depthMm * TIMBER_KG_PER_M3) / 1e9;
  const isPost = size.depthMm !== undefined;
  const remark = isPost ? POST_REMARK : narrowMm === undefined ? TIMBER_REMARK : `${TAPER_REMARK}; ${TIMBER_REMARK}`;
  const narrow = narrowMm === undefined ? {} : { narrowMm };
  return { item: rowItem(piece, plan), kind: piece.kind, widthMm, heightMm, ...narrow, massKg, remark };
};

const ofTie = (item: string, catalogue: Catalogue): OneOf => {
  const tie = catalogue.ties.find((t) => t.id === item);
  if (tie === undefined) throw new Error(`a tie names ${item}, which the catalogue does not have`);
  return { item, kind: 'tie', widthMm: 0, heightMm: 0, massKg: tie.massKg };
};

/** The locks of one tie. */
const locksOf = (item: string, catalogue: Catalogue): OneOf[] => {
  const lock = catalogue.ties.find((t) => t.id === item)?.lock;
  if (!lock) return [];
  const one: OneOf = { item: lock.id, kind: 'lock', widthMm: 0, heightMm: 0, massKg: lock.massKg };
  return Array.from({ length: lock.perTie }, () => one);
};

const ofClamp = (item: string, catalogue: Catalogue): OneOf => {
  const clamp = catalogue.clamps?.find((c) => c.id === item);
  if (clamp === undefined) throw new Error(`a clamp names ${item}, which the catalogue does not have`);
  return { item, kind: 'clamp', widthMm: 0, heightMm: 0, massKg: clamp.massKg };
};

/** Stock of an item, null where it is not limited. Own keys only: an item may be called 'constructor'. */
const stockOf = (catalogue: Catalogue, item: string): number | null =>
  Object.hasOwn(catalogue.stock, item) ? catalogue.stock[item]! : null;

/** Adds up single units to rows; a catalogue item of two kinds would stand in two rows. */
const sum = (units: readonly Standing[], catalogue: Catalogue, plan: FacePlan): ScheduleRow[] => {
  const names = plan.pours;
  const rows = new Map<string, ScheduleRow>();
  const onSide = new Map<string, number>();
  const atWalls = new Map<string, Map<string, number>>();
  for (const { turned = false, pours, wall, ...one } of units) {
    const key = `${one.kind}\n${one.item}`;
    const count = (rows.get(key)?.count ?? 0) + 1;
    const lying = (onSide.get(key) ?? 0) + (turned ? 1 : 0);
    onSide.set(key, lying);
    const atWall = atWalls.get(key) ?? new Map<string, number>();
    atWalls.set(key, atWall.set(wall, (atWall.get(wall) ?? 0) + 1));
    const remark: Pick<ScheduleRow, 'remark'> =
      lying > 0 ? { remark: `${lying} of them on ${lying === 1 ? 'its' : 'their'} side` } : {};
    const before = rows.get(key)?.inPours;
    const inPours = names?.map((name, i) => ({
      name,
      count: (before?.[i]?.count ?? 0) + (pours.includes(name) ? 1 : 0),
    }));
    rows.set(key, {
      ...one,
      ...remark,
      count,
      massKg: count * one.massKg,
      stock: stockOf(catalogue, one.item),
      ...(inPours === undefined ? {} : { inPours }),
    });
  }
  const order = [...plan.walls.map((w) => w.id), ''];
  return [...rows].map(([key, row]) => {
    const atWall = atWalls.get(key)!;
    const inWalls = order.filter((id) => atWall.has(id)).map((wall) => ({ wall, count: atWall.get(wall)! }));
    return { ...row, inWalls };
  });
};

const compareRows = inOrder<ScheduleRow>(
  byNumber((r) => KIND_ORDER.indexOf(r.kind)),
  byNumber((r) => -r.widthMm),
  byNumber((r) => -r.heightMm),
  byText((r) => r.item),
);

/** The rows of all pieces, ties with their locks, clamps, aligners, braces, platforms and lifting brackets. Throws when an item is not in the catalogue, since no stage may invent one. */
export const scheduleRows = (plan: FacePlan, catalogue: Catalogue, layout: CheckedLayout): readonly ScheduleRow[] => {
  const poursOf = poursOfWalls(plan);
  const wallsOf = wallsOfPieces(plan);
  const placeOf = placesOf(plan);
  const pieces = layout.pieces.map(
    (piece): Standing => ({
      ...(piece.item === null ? ofTimber(piece, plan, catalogue) : ofCatalogue(piece, piece.item, catalogue)),
      pours: poursOf(wallsOf(piece)),
      wall: placeOf(piece).wall,
    }),
  );
  const ties = layout.ties.flatMap(({ item, wall }): Standing[] => {
    const pours = poursOf([wall]);
    return [ofTie(item, catalogue), ...locksOf(item, catalogue)].map((one) => ({ ...one, pours, wall }));
  });
  const wallOf = new Map(plan.faces.map((f) => [f.id, f.wall]));
  const onFace = (one: OneOf, face: string): Standing => {
    const wall = wallOf.get(face) ?? '';
    return { ...one, pours: poursOf([wall]), wall };
  };
  const clamps = layout.clamps.map(({ item, face }) => onFace(ofClamp(item, catalogue), face));
  const site = siteGear(layout, catalogue).map(({ face, ...one }) => onFace(one, face));
  // They go from gang to gang and stand at no wall.
  const lifting = liftingBrackets(layout, catalogue).map(({ faces, ...one }): Standing => {
    return { ...one, pours: poursOf(faces.map((face) => wallOf.get(face) ?? '')), wall: '' };
  });
  return sum([...pieces, ...ties, ...clamps, ...site, ...lifting], catalogue, plan).sort(compareRows);
};

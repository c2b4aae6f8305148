/** Ties and groups of a layout whose pieces stand: which holes each tie passes, which supports each group has. */

import { listsBy } from '../ground/groups.js';
import { byNumber, byText, inOrder } from '../ground/order.js';
import { rowsAt } from '../ground/rows.js';
import { roundTo } from '../ground/units.js';
import type { Catalogue, Cover, Group, Piece, Run, RunDemand, Side, Tie } from '../ground/vocabulary.js';
import { tiesFor } from './gear.js';
import { PieceIndex } from './pieceIndex.js';
import { holesOnSide, topFootMm } from './turned.js';

/** A run with what it carries. */
export interface LaidRun {
  readonly run: Run;
  readonly demand: RunDemand;
}

/** A column of ties. */
export interface TieDraft {
  readonly run: string;
  readonly stationGu: number;
  readonly outside: boolean;
  /** Of the run's stack; what stands under panels on their side; or what those panels have themselves. */
  readonly rows: 'stack' | 'below' | 'on-side';
}

export interface GroupDraft {
  readonly face: string;
  readonly run: string;
  readonly wall: string;
  readonly side: Side;
  readonly fromGu: number;
  readonly toGu: number;
  readonly tiesGu: readonly number[];
  readonly held: boolean;
  /** The courses that it stands in. */
  readonly courses: readonly number[];
  /** Where the group runs past a jog: the part of it on the other wall's face, in that wall's stations. */
  readonly past?: { readonly face: string; readonly fromGu: number; readonly toGu: number };
}

const rowsOf = (
  demand: RunDemand,
  stationMm: number,
  which: TieDraft['rows'],
): readonly { row: number; levelMm: number }[] => {
  if (which === 'stack') return rowsAt(demand, stationMm);
  const foot = topFootMm(demand.stack);
  return (demand.turnedTop?.rows ?? []).filter((r) => r.levelMm > foot === (which === 'on-side'));
};

/** The hole of the piece at this place, seen from outside: its left edge lies at the higher station on the left face. */
const holeAt = (catalogue: Catalogue, piece: Piece, side: Side, stationMm: number, levelMm: number): number => {
  const unit = catalogue.units.find((u) => u.id === piece.item);
  const cover = piece.covers[0]!;
  const x = side === 'left' ? cover.toMm - stationMm : stationMm - cover.fromMm;
  const y = levelMm - cover.baseMm;
  const near = (h: { xMm: number; yMm: number }) => Math.abs(h.xMm - x) < 1 && Math.abs(h.yMm - y) < 1;
  return unit ? (piece.turned ? holesOnSide(unit) : unit.holes).findIndex(near) : -1;
};

export const toTies = (
  drafts: readonly TieDraft[],
  faceOf: (wall: string, side: Side) => string,
  laid: readonly LaidRun[],
  catalogue: Catalogue,
  pieces: readonly Piece[],
  gridMm: number,
): Tie[] => {
  const panels = new PieceIndex(pieces.filter((p) => p.kind === 'panel'));
  const ofRun = listsBy(drafts, (t) => t.run);
  const ties: Omit<Tie, 'id'>[] = [];
  for (const { run, demand } of laid) {
    const { id, wall, thicknessMm } = run;
    const item = tiesFor(catalogue, thicknessMm)[0];
    if (!item) continue;
    const stations = [...(ofRun.get(id) ?? [])].sort(byNumber((t) => t.stationGu));
    for (const t of stations) {
      const stationMm = roundTo(t.stationGu * gridMm, 4);
      for (const row of rowsOf(demand, stationMm, t.rows)) {
        const levelMm = roundTo(row.levelMm, 4);
        const left = panels.at(faceOf(wall, 'left'), stationMm, levelMm);
        const right = panels.at(faceOf(wall, 'right'), stationMm, levelMm);
        if (!left || !right) throw new Error(`no panel at tie ${stationMm} of wall ${wall}`);
        const holes = [
          holeAt(catalogue, left, 'left', stationMm, levelMm),
          holeAt(catalogue, right, 'right', stationMm, levelMm),
        ] as const;
        ties.push({
          item: item.id,
          wall,
          run: id,
          row: row.row,
          stationMm,
          levelMm,
          pieces: [left.id, right.id],
          holes,
          outsideConcrete: t.outside,
        });
      }
    }
  }
  return ties.map((t, i) => ({ id: `T${i + 1}`, ...t }));
};

export const toGroups = (
  drafts: readonly GroupDraft[],
  pieces: readonly Piece[],
  ties: readonly Tie[],
  gridMm: number,
): Group[] => {
  const mm = (guValue: number) => roundTo(guValue * gridMm, 4);
  const list: Omit<Group, 'id'>[] = [];
  const units = new PieceIndex(pieces.filter((p) => p.kind === 'panel' || p.kind === 'filler'));
  const placeOf = new Map(pieces.map((p, i) => [p, i]));
  const tiesAt = listsBy(ties, (t) => `${t.run}|${t.stationMm}`);
  for (const g of drafts) {
    const fromMm = mm(g.fromGu);
    const toMm = mm(g.toGu);
    const stations = g.tiesGu.map(mm).sort((a, b) => a - b);
    for (const course of g.courses) {
      const within = (c: Cover): boolean =>
        (c.face === g.face && c.fromMm >= fromMm - 0.01 && c.toMm <= toMm + 0.01) ||
        (c.face === g.past?.face && c.fromMm >= mm(g.past.fromGu) - 0.01 && c.toMm <= mm(g.past.toGu) + 0.01);
      const past = g.past ? units.between(g.past.face, course, mm(g.past.fromGu) - 0.01, mm(g.past.toGu) + 0.01) : [];
      const own = [...units.between(g.face, course, fromMm - 0.01, toMm + 0.01), ...past]
        .filter((p) => p.covers.every(within))
        .sort(byNumber((p) => placeOf.get(p)!));
      const ids = new Set(own.map((p) => p.id));
      const supports = stations
        .flatMap((s) => tiesAt.get(`${g.run}|${s}`) ?? [])
        .filter((t) => t.pieces.some((p) => ids.has(p)))
        .map((t) => t.id);
      list.push({
        face: g.face,
        run: g.run,
        fromMm,
        toMm,
        course,
        pieces: own.map((p) => p.id),
        supports: g.held ? ['held', ...supports] : supports,
      });
    }
  }
  list.sort(
    inOrder(
      byText((g) => g.face),
      byNumber((g) => g.course),
      byNumber((g) => g.fromMm),
    ),
  );
  return list.map((g, i) => ({ id: `G${i + 1}`, ...g }));
};

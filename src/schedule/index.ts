/** What goes on the truck, what is cut, what it weighs, how much concrete: counted from the checked layout, decided nowhere here. */

import type { Staged } from '../ground/findings.js';
import type {
  Catalogue,
  CheckedLayout,
  Cover,
  Face,
  FacePlan,
  Piece,
  Schedule,
  ScheduleRow,
  Totals,
  Wall,
} from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { coveredConcreteMm2, faceAreaMm2, levelAt } from './bands.js';
import { concreteMm3 } from './concrete.js';
import { scheduleRows } from './rows.js';
import { settingRows } from './setting.js';
import { wallConcrete } from './wallConcrete.js';

export { pourAmounts } from './pourAmounts.js';

/** What a wall formed on one side is cast against is no face of forms. */
const formedIn = ({ oneSided = [] }: FacePlan): ((face: Face) => boolean) => {
  const formed = new Map(oneSided.map((w) => [w.wall, w.formed]));
  return ({ wall, side }) => (formed.get(wall) ?? side) === side;
};

const isLong = (face: Face): boolean => face.side === 'left' || face.side === 'right';

/** Area of a face that closes a wall's end, mm2: its width times the height that the wall has there. */
const endFaceMm2 = (wall: Wall, face: Face): number => {
  const station = face.side === 'start' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const heightMm = levelAt(wall.top, station) - levelAt(wall.base, station);
  return (face.toMm - face.fromMm) * Math.max(0, heightMm);
};

/**
 * Totals. Contact area: left and right faces from vertex to vertex, footing to pour line, without the mouths of stems, where no form stands, and the
 * faces of pilasters; net
 * of openings on both faces. Concrete is net of them too.
 * Panel area: the panels' own size (width x height x count), as hired. Timber area: timber on left and right faces where it touches concrete.
 */
const totalsOf = (plan: FacePlan, layout: CheckedLayout, rows: readonly ScheduleRow[]): Totals => {
  const walls = new Map(plan.walls.map((w) => [w.id, w]));
  const faces = new Map(plan.faces.map((f) => [f.id, f]));
  const total = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
  const wallOf = (face: Face): Wall => {
    const wall = walls.get(face.wall);
    if (wall === undefined) throw new Error(`face ${face.id} names wall ${face.wall}, which the plan does not have`);
    return wall;
  };
  const onConcrete = (cover: Cover): number => {
    const face = faces.get(cover.face);
    return face === undefined || !isLong(face) ? 0 : coveredConcreteMm2(wallOf(face), face, cover);
  };
  const isFormed = formedIn(plan);
  const contactMm2 = total(
    plan.faces.filter((f) => (isLong(f) || f.stands) && isFormed(f)).map((f) => faceAreaMm2(plan, wallOf(f), f)),
  );
  const runs = [
    ...plan.runs.map((run) => ({ run, faces: 2 })),
    ...(plan.oneSided ?? []).flatMap((w) => w.runs.map((run) => ({ run, faces: 1 }))),
  ];
  const voids = runs.flatMap(({ run, faces }) =>
    voidsOf(plan, run).map((v) => ({
      areaMm2: (v.toMm - v.fromMm) * (v.headMm - v.sillMm),
      thicknessMm: run.thicknessMm,
      faces,
    })),
  );
  const openingsMm2 = total(voids.map((v) => v.areaMm2 * v.faces));
  const openingsMm3 = total(voids.map((v) => v.areaMm2 * v.thicknessMm));
  const endMm2 = total(plan.faces.filter((f) => !isLong(f) && !f.stands).map((f) => endFaceMm2(wallOf(f), f)));
  // Tapered fill on a curve takes less of the concrete than its stations say; at a bend it follows both faces.
  const shareOf = ({ taper, vertex }: Piece, { fromMm, toMm }: Cover) =>
    taper && vertex === undefined ? taper.faceMm / (toMm - fromMm) : 1;
  const timber = layout.pieces
    .filter((p) => p.kind === 'timber')
    .flatMap((p) => p.covers.map((cover) => onConcrete(cover) * shareOf(p, cover)));
  return {
    wallLengthM: total(plan.walls.map((w) => w.lengthMm)) / 1e3,
    contactAreaM2: contactMm2 / 1e6,
    contactAreaNetM2: (contactMm2 - openingsMm2) / 1e6,
    endAreaM2: endMm2 / 1e6,
    panelAreaM2: total(rows.filter((r) => r.kind === 'panel').map((r) => r.count * r.widthMm * r.heightMm)) / 1e6,
    timberAreaM2: total(timber) / 1e6,
    massKg: total(rows.map((r) => r.massKg)),
    concreteM3: (concreteMm3(plan) - openingsMm3) / 1e9,
    tieCount: layout.ties.length,
  };
};

/** Counts the layout. Rows, totals and the setting list; see ./rows.ts and ./setting.ts for their order. Has no findings of its own. */
export const schedule = (args: {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly layout: CheckedLayout;
}): Staged<Schedule> => {
  const { plan, catalogue, layout } = args;
  const rows = scheduleRows(plan, catalogue, layout);
  return {
    value: {
      rows,
      totals: totalsOf(plan, layout, rows),
      setting: settingRows(plan, layout),
      concrete: wallConcrete(plan),
    },
    findings: [],
  };
};

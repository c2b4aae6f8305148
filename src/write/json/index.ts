/**
 * layout.json: the whole result for other programs, in the shape of ./schema.ts. One line an entry, so that two layouts can be compared line by
 * line. Lists keep the order of the stages; numbers are rounded here and nowhere before.
 */

import { nthId } from '../../ground/ids.js';
import type { Vec } from '../../ground/plane.js';
import { wallsOfPieces } from '../../ground/pours.js';
import { COVER_MM } from '../../ground/tolerance.js';
import { roundTo } from '../../ground/units.js';
import type {
  CheckedLayout,
  CheckedTie,
  Clamp,
  FacePlan,
  LevelBand,
  Piece,
  PressureCase,
  Result,
  Run,
  Stood,
  Totals,
  Wall,
} from '../../ground/vocabulary.js';
import { gangsSection } from './gangs.js';
import { documentLines } from './lines.js';
import { modelSection } from './model.js';
import { ratesOf } from './rates.js';
import type { LayoutFile } from './schema.js';
import { siteSection } from './site.js';

export { type LayoutFile, layoutJsonSchema, layoutSchema } from './schema.js';
export { traceFile, traceJson } from './trace.js';
export { type TraceFile, traceJsonSchema, traceSchema } from './traceSchema.js';

/** A number that JSON cannot hold would come back as null and read as 'none': it is our own mistake, so it ends here. */
const rounded = (value: number, places: number): number => {
  if (!Number.isFinite(value)) throw new Error(`layout.json cannot hold ${value}`);
  return roundTo(value, places);
};
/** Lengths, areas, angles: 4 decimals. */
const length4 = (value: number): number => rounded(value, 4);
/** Loads, pressures, masses: 3 decimals. */
const load3 = (value: number): number => rounded(value, 3);
const pointOf = (p: Vec): [number, number] => [length4(p.x), length4(p.y)];

const bandOf = (band: LevelBand) => ({
  fromMm: length4(band.fromMm),
  toMm: length4(band.toMm),
  levelMm: length4(band.levelMm),
  ...(band.highMm === undefined ? {} : { highMm: length4(band.highMm) }),
});

const arcOf = ({ arc }: Wall): Pick<LayoutFile['walls'][number], 'arc'> =>
  arc
    ? {
        arc: {
          centre: pointOf(arc.centre),
          innerRadiusMm: length4(arc.innerRadiusMm),
          fromDeg: rounded((arc.fromRad * 180) / Math.PI, 8),
          sweepDeg: rounded((arc.sweepRad * 180) / Math.PI, 8),
        },
      }
    : {};

const wallOf = (wall: Wall): LayoutFile['walls'][number] => ({
  id: wall.id,
  start: pointOf(wall.start),
  end: pointOf(wall.end),
  ...arcOf(wall),
  thicknessMm: length4(wall.thicknessMm),
  base: wall.base.map(bandOf),
  top: wall.top.map(bandOf),
  sources: [...wall.sources],
  ...(wall.pour === undefined ? {} : { pour: wall.pour }),
});

const nodeOf = (node: FacePlan['nodes'][number]): LayoutFile['nodes'][number] => ({
  id: node.id,
  kind: node.kind,
  at: pointOf(node.at),
  angleDeg: length4(node.angleDeg),
  walls: [...node.walls],
});

const faceOf = (face: FacePlan['faces'][number]): LayoutFile['faces'][number] => ({
  id: face.id,
  wall: face.wall,
  side: face.side,
  fromMm: length4(face.fromMm),
  toMm: length4(face.toMm),
  ...(face.stands === undefined
    ? {}
    : {
        stands: {
          origin: pointOf(face.stands.origin),
          along: pointOf(face.stands.along),
          outward: pointOf(face.stands.outward),
          stationMm: length4(face.stands.stationMm),
        },
      }),
});

const pieceOf = (piece: Piece, pours: readonly string[]): LayoutFile['pieces'][number] => ({
  id: piece.id,
  kind: piece.kind,
  item: piece.item,
  turned: piece.turned,
  course: piece.course,
  pours: [...pours],
  covers: piece.covers.map((c) => ({
    face: c.face,
    fromMm: length4(c.fromMm),
    toMm: length4(c.toMm),
    baseMm: length4(c.baseMm),
    topMm: length4(c.topMm),
  })),
  ...(piece.taper === undefined
    ? {}
    : { taper: { faceMm: length4(piece.taper.faceMm), backMm: length4(piece.taper.backMm) } }),
  ...(piece.node === undefined ? {} : { node: piece.node }),
});

const tieOf = (tie: CheckedTie): LayoutFile['ties'][number] => ({
  id: tie.id,
  item: tie.item,
  wall: tie.wall,
  row: tie.row,
  stationMm: length4(tie.stationMm),
  levelMm: length4(tie.levelMm),
  pieces: [...tie.pieces],
  holes: [...tie.holes],
  loadKn: load3(tie.loadKn),
  workingLoadKn: load3(tie.workingLoadKn),
  governingFace: tie.governingFace,
  outsideConcrete: tie.outsideConcrete,
});

const clampOf = (clamp: Clamp): LayoutFile['clamps'][number] => ({
  id: clamp.id,
  item: clamp.item,
  joint: clamp.joint,
  face: clamp.face,
  stationMm: length4(clamp.stationMm),
  levelMm: length4(clamp.levelMm),
  pieces: [...clamp.pieces],
  gapMm: length4(clamp.gapMm),
  inPlaneKn: load3(clamp.inPlaneKn),
  shearKn: clamp.shearKn === null ? null : load3(clamp.shearKn),
  utilisation: load3(clamp.utilisation),
});

const pressureOf = ({ id, name, pressure }: FilePour): LayoutFile['pressure'][number] => ({
  pour: id,
  ...(name === null ? {} : { name }),
  method: pressure.method,
  designKpa: load3(pressure.designKpa),
  rateMPerH: length4(pressure.rateMPerH),
  inputs: Object.fromEntries(
    Object.entries(pressure.inputs).map(([key, value]) => [key, typeof value === 'number' ? rounded(value, 6) : value]),
  ),
  envelope: pressure.envelope.points.map((p) => ({ depthMm: length4(p.depthMm), kpa: load3(p.kpa) })),
});

/** One pour as the file numbers them: those of one height of a named pour have one pressure. */
interface FilePour {
  readonly id: string;
  readonly name: string | null;
  readonly pressure: PressureCase;
}

/** Which pressure case a run is poured under; where the layout does not say, the first of a pour that is as high as it. */
const caseOf = ({ layout }: Result, { id, topMm, footingMm }: Run): number =>
  layout.caseOfRun?.get(id) ?? layout.pressure.findIndex((p) => p.pourHeightMm >= topMm - footingMm - COVER_MM);

/** By height where everything is one pour; else by name and height, those that no wall has left out. */
const poursOf = (result: Result): FilePour[] => {
  const { plan, layout } = result;
  if (plan.pours === undefined)
    return layout.pressure.map((pressure, i) => ({ id: nthId('POUR', i), name: null, pressure }));
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour]));
  return plan.pours
    .flatMap((name) => {
      const own = new Set(plan.runs.filter((r) => pourOf.get(r.wall) === name).map((r) => caseOf(result, r)));
      return layout.pressure.flatMap((pressure, i) => (own.has(i) ? [{ name, pressure }] : []));
    })
    .map((pour, i) => ({ id: nthId('POUR', i), ...pour }));
};

/** The pours of a piece; one round a corner may belong to two. */
const poursOfPieces = (result: Result, pours: readonly FilePour[]): ((piece: Piece) => readonly string[]) => {
  const { plan, layout } = result;
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour ?? null]));
  const poursOfWall = new Map<string, string[]>();
  for (const run of plan.runs) {
    const pressure = layout.pressure[caseOf(result, run)];
    const own = pours.find((p) => p.pressure === pressure && p.name === (pourOf.get(run.wall) ?? null));
    if (own) poursOfWall.set(run.wall, [...(poursOfWall.get(run.wall) ?? []), own.id]);
  }
  const wallsOf = wallsOfPieces(plan);
  return (piece) => {
    const own = new Set(wallsOf(piece).flatMap((wall) => poursOfWall.get(wall) ?? []));
    return pours.filter((p) => own.has(p.id)).map((p) => p.id);
  };
};

/** A place is one station interval of a wall, both faces counted once; used where the fit's tiers do not say it. */
const countPlaces = (result: Result): number => {
  const wallOfFace = new Map(result.plan.faces.map((f) => [f.id, f.wall]));
  const covers = result.layout.pieces.filter((p) => p.kind === 'timber').flatMap((p) => p.covers);
  return new Set(covers.map((c) => `${wallOfFace.get(c.face)} ${c.fromMm} ${c.toMm}`)).size;
};

const fillOf = (result: Result): LayoutFile['fill'] => {
  const { tiers } = result.layout;
  return {
    timberAreaM2: length4(result.schedule.totals.timberAreaM2),
    places: tiers.find((t) => t.name === 'places')?.value ?? countPlaces(result),
    tiers: tiers.map((t) => ({
      name: t.name,
      value: length4(t.value),
      bound: t.bound === null ? null : length4(t.bound),
      optimal: t.optimal,
    })),
  };
};

const scheduleOf = (result: Result): LayoutFile['schedule'] =>
  result.schedule.rows.map((row) => ({
    item: row.item,
    kind: row.kind,
    widthMm: length4(row.widthMm),
    heightMm: length4(row.heightMm),
    count: row.count,
    massKg: load3(row.massKg),
    ...(row.inPours === undefined ? {} : { inPours: row.inPours.map((x) => ({ ...x })) }),
  }));

const totalsOf = (totals: Totals): LayoutFile['totals'] => ({
  wallLengthM: length4(totals.wallLengthM),
  contactAreaM2: length4(totals.contactAreaM2),
  contactAreaNetM2: length4(totals.contactAreaNetM2),
  endAreaM2: length4(totals.endAreaM2),
  panelAreaM2: length4(totals.panelAreaM2),
  timberAreaM2: length4(totals.timberAreaM2),
  massKg: load3(totals.massKg),
  concreteM3: length4(totals.concreteM3),
  tieCount: totals.tieCount,
});

const findingsOf = (result: Result): LayoutFile['findings'] =>
  result.findings.map((f) => ({
    code: f.code,
    severity: f.severity,
    rule: f.rule,
    at: f.at === null ? null : [length4(f.at[0]), length4(f.at[1]), length4(f.at[2])],
    subject: f.subject,
    message: f.message,
    assumed: f.assumed,
  }));

const stoodOf = (stood: Stood) => ({
  basesMm: stood.basesMm.map(length4),
  courses: stood.courses.map((c) => c.map(length4)),
  rowsMm: stood.rowsMm.map(length4),
  gapMm: stood.gapMm.map(length4) as [number, number],
  fillM2: length4(stood.fillM2),
});

const surveyOf = ({ survey }: Result): Pick<LayoutFile, 'survey'> =>
  survey
    ? {
        survey: survey.map(({ stretch: { id, parts, drawnMm, measured }, ...by }) => ({
          id,
          parts: parts.map((p) => ({ wall: p.wall, fromMm: length4(p.fromMm), toMm: length4(p.toMm) })),
          drawnMm: length4(drawnMm),
          lowestMm: measured ? length4(measured.lowestMm) : null,
          highestMm: measured ? length4(measured.highestMm) : null,
          points: measured?.points ?? 0,
          byDrawn: stoodOf(by.drawn),
          byMeasured: stoodOf(by.measured),
        })),
      }
    : {};

const specialFormsOf = ({ specialForms }: Result): Pick<LayoutFile, 'specialForms'> =>
  specialForms
    ? {
        specialForms: specialForms.map(({ wall, face, against, ...f }) => ({
          wall,
          face,
          against,
          fromMm: length4(f.fromMm),
          toMm: length4(f.toMm),
          footingMm: length4(f.footingMm),
          topMm: length4(f.topMm),
          forceKnPerM: load3(f.forceKnPerM),
          armM: length4(f.armM),
          momentKnmPerM: load3(f.momentKnmPerM),
        })),
      }
    : {};

const missingTiesOf = ({ missingTies }: CheckedLayout): Pick<LayoutFile, 'missingTies'> => {
  if (!missingTies) return {};
  const { ties, notLooked, columnsNeeded, columnsSpare } = missingTies;
  const worst = ties.find((m) => m.use !== null);
  return {
    missingTies: {
      none: ties.filter((m) => m.use === null).map((m) => m.tie),
      over: ties.filter((m) => m.use !== null && m.use > 1 + 1e-9).map((m) => m.tie),
      worst: worst ? { tie: worst.tie, neighbour: worst.neighbour, use: length4(worst.use!) } : null,
      notLooked,
      columnsNeeded,
      columnsSpare,
    },
  };
};

const stripSumsOf = ({ stripSums }: CheckedLayout): Pick<LayoutFile, 'stripSums'> =>
  stripSums
    ? {
        stripSums: stripSums.map(({ run, rowsKnPerM, areaKnPerM }) => ({
          run,
          rowsKnPerM: rowsKnPerM.map(load3),
          areaKnPerM: load3(areaKnPerM),
        })),
      }
    : {};

/** The result as the published shape. */
export const layoutFile = (result: Result): LayoutFile => {
  const { plan, layout, source } = result;
  const pours = poursOf(result);
  const poursOfPiece = poursOfPieces(result, pours);
  return {
    format: 'shutterwright-layout',
    version: 1,
    source: { file: source.file, sha256: source.sha256, kind: source.kind, lengthUnit: source.lengthUnit },
    walls: plan.walls.map(wallOf),
    nodes: plan.nodes.map(nodeOf),
    faces: plan.faces.map(faceOf),
    openings: plan.openings.map((o) => ({ ...o })),
    pieces: layout.pieces.map((piece) => pieceOf(piece, poursOfPiece(piece))),
    ties: layout.ties.map(tieOf),
    groups: layout.groups.map((g) => ({ id: g.id, face: g.face, pieces: [...g.pieces], supports: [...g.supports] })),
    clamps: layout.clamps.map(clampOf),
    ...siteSection(layout),
    ...gangsSection(layout),
    pressure: pours.map(pressureOf),
    fill: fillOf(result),
    schedule: scheduleOf(result),
    totals: totalsOf(result.schedule.totals),
    findings: findingsOf(result),
    ...specialFormsOf(result),
    ...surveyOf(result),
    ...(layout.rates ? { rates: ratesOf(layout.rates) } : {}),
    ...missingTiesOf(layout),
    ...stripSumsOf(layout),
    ...modelSection(result.model, result.foundation.model),
  };
};

/** The text of layout.json, ending in a line feed. Same result, same bytes. */
export const layoutJson = (result: Result): string => documentLines(layoutFile(result));

/** Looks for what is no number, or beyond any site, among places and sizes, before anything is written. */

import type { Frame, ModelHeader, Result } from '../../ground/vocabulary.js';

/** A thousand million km: what lies further away is damage (mm). *Practice, no source.* */
const FARTHEST_MM = 1e15;
/** A unit of length smaller or larger than these is damage (mm). *Practice, no source.* */
const UNIT_MM = { least: 1e-9, most: 1e12 };

const bad = (...values: readonly number[]): boolean => values.some((v) => !(Math.abs(v) <= FARTHEST_MM));

const badFrame = (frame: Frame | null): boolean =>
  frame !== null && [frame.origin, frame.x, frame.y, frame.z].some((v) => bad(v.x, v.y, v.z));

/** The header of a model: what is wrong in it, null where nothing is. */
const inHeader = ({ unit, storeys, georeference }: ModelHeader): string | null => {
  const isUnit = (mm: number): boolean => mm >= UNIT_MM.least && mm <= UNIT_MM.most;
  if (!isUnit(unit.mmPerUnit)) return 'The unit of length';
  const storey = storeys.find((s) => bad(s.levelMm, s.elevationMm ?? 0));
  if (storey) return `Storey ${storey.name ?? storey.id}`;
  const { map, worldFrame, trueNorth, siteElevationMm } = georeference;
  if (badFrame(worldFrame) || bad(...(trueNorth ?? []), siteElevationMm ?? 0)) return 'The georeference';
  if (!map) return null;
  const { eastings, northings, orthogonalHeight, xAxisAbscissa, xAxisOrdinate, scale, crs } = map;
  const numbers = [eastings, northings, orthogonalHeight, xAxisAbscissa ?? 0, xAxisOrdinate ?? 0, scale ?? 0];
  return bad(...numbers) || (crs.unit && !isUnit(crs.unit.mmPerUnit)) ? 'The map conversion' : null;
};

/** What the first thing is that has a place or a size that is no number; null where all are numbers. */
export const notANumber = ({ plan, layout, catalogue, model }: Result): string | null => {
  const header = model ? inHeader(model) : null;
  if (header !== null) return header;
  for (const w of plan.walls) {
    const levels = [...w.base, ...w.top].flatMap((b) => [b.fromMm, b.toMm, b.levelMm]);
    if (bad(w.start.x, w.start.y, w.end.x, w.end.y, w.lengthMm, w.thicknessMm, ...levels)) return w.id;
  }
  for (const r of plan.runs) if (bad(r.start.leftMm, r.start.rightMm, r.end.leftMm, r.end.rightMm)) return r.wall;
  for (const v of plan.vertices)
    if (bad(v.at.x, v.at.y, v.deflectionDeg, ...v.arms.map((a) => a.stationMm))) return v.id;
  for (const p of layout.pieces) {
    const covers = p.covers.flatMap((c) => [c.fromMm, c.toMm, c.baseMm, c.topMm]);
    if (bad(p.baseMm, p.topMm, p.course, ...covers)) return p.id;
  }
  for (const t of layout.ties) if (bad(t.stationMm, t.levelMm, t.row)) return t.id;
  const { clamps, aligners = [], braces = [], platforms = [] } = layout;
  for (const c of clamps) if (bad(c.stationMm, c.levelMm, c.gapMm)) return c.id;
  for (const a of aligners) if (bad(a.fromMm, a.toMm, a.levelMm, a.topMm ?? 0)) return a.id;
  for (const b of braces) if (bad(b.stationMm, b.headMm, b.footMm, b.footOffsetMm)) return b.id;
  for (const p of platforms) if (bad(p.fromMm, p.toMm, p.levelMm, p.widthMm, ...p.brackets)) return p.id;
  return bad(catalogue.frameDepthMm) ? catalogue.name : null;
};

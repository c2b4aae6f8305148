/**
 * Sections through the wall, one for each height, thickness and way of stacking: concrete hatched, forms of both faces by course, ties by row, aligners,
 * braces and platforms where they stand, levels and heights. Looked at along rising stations: the left face stands at the left.
 */

import { layoutIndex } from '../../ground/layoutIndex.js';
import type { Vec } from '../../ground/plane.js';
import { reachOf } from '../../ground/runs.js';
import type { Cover, Piece, Run } from '../../ground/vocabulary.js';
import { layerOf } from './attributes.js';
import { spread } from './labels.js';
import { lengthText, levelText } from './lengths.js';
import type { Scene } from './scene.js';
import { line, rectangle, type Shape, text, textWidth } from './sheet.js';

export interface Section {
  /** 'A'. */
  readonly letter: string;
  readonly wall: string;
  readonly stationMm: number;
  readonly says: readonly string[];
  readonly shapes: readonly Shape[];
}

/** Share of a unit's width at which it is cut. */
const BESIDE = 0.3;
const HATCH_MM = 120;
/** These and the next: at the usual height of texts. */
const LEAD_MM = 120;
const DIMENSION_OUT_MM = 380;
const TICK_MM = 40;

interface InSection {
  readonly piece: Piece;
  readonly cover: Cover;
}

/** Units whose stations hold this one, of a face of the wall, from below. */
const standingAt = (scene: Scene, wall: string, side: 'left' | 'right', stationMm: number): InSection[] => {
  const faces = new Set(scene.result.plan.faces.filter((f) => f.wall === wall && f.side === side).map((f) => f.id));
  return scene.result.layout.pieces
    .flatMap((piece) => piece.covers.map((cover) => ({ piece, cover })))
    .filter(({ cover }) => faces.has(cover.face) && cover.fromMm < stationMm && stationMm < cover.toMm)
    .sort((a, b) => a.cover.baseMm - b.cover.baseMm || (a.piece.id < b.piece.id ? -1 : 1));
};

/** Stations of a run's units in the lowest course that are panels on both faces: where a section is typical. */
const typicalStation = (scene: Scene, run: Run): number | null => {
  const [low, high] = reachOf(run);
  const ends = [run.start.leftMm, run.start.rightMm, run.end.leftMm, run.end.rightMm];
  const middle = (Math.max(low, Math.min(...ends)) + Math.min(high, Math.max(...ends))) / 2;
  const panels = scene.result.layout.pieces.filter((p) => p.kind === 'panel' && p.course >= 1);
  const faces = new Set(scene.result.plan.faces.filter((f) => f.wall === run.wall).map((f) => f.id));
  const openings = scene.result.plan.openings.filter((o) => o.wall === run.wall);
  const stations = panels
    .flatMap((p) => p.covers)
    .filter((c) => faces.has(c.face) && c.fromMm >= low && c.toMm <= high)
    // Beside the middle, where the mark of the unit stands.
    .map((c) => c.fromMm + Math.round((c.toMm - c.fromMm) * BESIDE) + 1)
    .filter((s) => openings.every((o) => s < o.fromMm || s > o.toMm))
    .filter((s) => (['left', 'right'] as const).every((side) => standingAt(scene, run.wall, side, s).length > 0))
    .sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle) || a - b);
  return stations[0] ?? null;
};

const stackKey = (scene: Scene, run: Run, stationMm: number): string => {
  const side = (s: 'left' | 'right'): string =>
    standingAt(scene, run.wall, s, stationMm)
      .map((i) => `${Math.round(i.cover.baseMm - run.footingMm)}-${Math.round(i.cover.topMm - run.footingMm)}`)
      .join(',');
  return [run.thicknessMm, run.topMm - run.footingMm, side('left'), side('right')].join(' ');
};

const hatch = (x0: number, x1: number, y0: number, y1: number, about: readonly string[]): Shape[] => {
  const strokes: Shape[] = [];
  const width = x1 - x0;
  for (let c = y0 - width; c < y1; c += HATCH_MM) {
    const low = Math.max(y0, c);
    const high = Math.min(y1, c + width);
    if (high - low > 1) strokes.push(line('CONC', { x: x0 + low - c, y: low }, { x: x0 + high - c, y: high }, about));
  }
  return strokes;
};

const drawOne = (scene: Scene, run: Run, stationMm: number, letter: string): Section => {
  const { plan, catalogue, layout } = scene.result;
  const { lengthUnit, frameDepthMm: depth } = catalogue;
  const about = ['section', letter];
  const half = run.thicknessMm / 2;
  const { factor } = scene.sizes;
  const [outMm, tick] = [DIMENSION_OUT_MM * factor, (TICK_MM / 2) * factor];
  const y = (level: number): number => level - run.footingMm;
  const high = y(run.topMm);
  const shapes: Shape[] = [
    rectangle('CONC', -half, 0, half, high, about),
    ...hatch(-half, half, 0, high, about),
    line('FACE', { x: -half - 700, y: 0 }, { x: half + 700, y: 0 }, about),
    line('POUR', { x: -half - 60, y: high }, { x: half + 60, y: high }, about),
  ];
  const at = (side: 'left' | 'right', out: number): number => (side === 'left' ? -half - out : half + out);
  /** How far the marks of the units stand out behind the frames. */
  const marksOutMm = { left: 0, right: 0 };
  for (const side of ['left', 'right'] as const) {
    for (const { piece, cover } of standingAt(scene, run.wall, side, stationMm)) {
      const [a, b] = [at(side, 0), at(side, depth)].sort((p, q) => p - q);
      const [low, top] = [y(cover.baseMm), y(cover.topMm)];
      shapes.push(rectangle(layerOf(piece), a!, low, b!, top, about));
      const { mark } = scene.marks.ofPiece(piece);
      // Upright beside its unit, level where the unit is lower than its mark is long.
      const isLow = top - low < textWidth(mark, scene.sizes.dimension);
      const { dimension } = scene.sizes;
      const outMm = isLow ? dimension / 2 + textWidth(mark, dimension) : dimension;
      marksOutMm[side] = Math.max(marksOutMm[side], 25 + outMm);
      shapes.push(
        text(
          'NOTE',
          mark,
          { x: at(side, depth + 25 + scene.sizes.dimension / 2), y: (low + top) / 2 },
          scene.sizes.dimension,
          {
            rotationDeg: isLow ? 0 : 90,
            across: !isLow ? 'centre' : side === 'left' ? 'right' : 'left',
            upright: 'middle',
            about,
          },
        ),
      );
    }
  }
  const ties = layoutIndex(layout).tiesOf(run.wall);
  const nearest = ties
    .filter((t) => t.run === run.id && !t.outsideConcrete)
    .sort((a, b) => Math.abs(a.stationMm - stationMm) - Math.abs(b.stationMm - stationMm))[0];
  const rows = nearest ? ties.filter((t) => t.stationMm === nearest.stationMm && t.run === run.id) : [];
  for (const t of rows) {
    const out = depth + 40;
    const l = y(t.levelMm);
    shapes.push(line('TIES', { x: -half - out, y: l }, { x: half + out, y: l }, about));
    for (const x of [-half - out, half + out]) shapes.push(rectangle('TIES', x - 10, l - 30, x + 10, l + 30, about));
  }
  const faceOf = new Map(plan.faces.map((f) => [f.id, f]));
  const sideOf = (id: string): 'left' | 'right' | null => {
    const f = faceOf.get(id);
    return f && f.wall === run.wall && (f.side === 'left' || f.side === 'right') ? f.side : null;
  };
  for (const a of (layout.aligners ?? []).filter((x) => x.run === run.id)) {
    const side = sideOf(a.face);
    if (!side || a.fromMm > stationMm + 900 || a.toMm < stationMm - 900) continue;
    const [p, q] = [at(side, depth + 38), at(side, depth + 62)].sort((m, n) => m - n);
    const [low, top] = a.kind === 'horizontal' ? [a.levelMm - 40, a.levelMm + 40] : [a.levelMm, a.topMm ?? a.levelMm];
    shapes.push(rectangle('ALGN', p!, y(low), q!, y(top), about));
  }
  const brace = (layout.braces ?? [])
    .filter((b) => b.run === run.id && sideOf(b.face) !== null)
    .sort((a, b) => Math.abs(a.stationMm - stationMm) - Math.abs(b.stationMm - stationMm) || (a.id < b.id ? -1 : 1))[0];
  const braceSide = brace ? sideOf(brace.face) : null;
  if (brace && braceSide) {
    const head: Vec = { x: at(braceSide, depth + 62), y: y(brace.headMm) };
    const foot: Vec = { x: at(braceSide, brace.footOffsetMm), y: y(brace.footMm) };
    shapes.push(line('BRCE', head, foot, about));
    shapes.push(rectangle('BRCE', foot.x - 100, foot.y - 20, foot.x + 100, foot.y, about));
    const words = `BRACE, foot ${lengthText(lengthUnit, brace.footOffsetMm)} from the concrete`;
    shapes.push(
      text('BRCE', words, { x: foot.x, y: Math.min(foot.y, -outMm) - 200 * factor }, scene.sizes.dimension, {
        across: braceSide === 'left' ? 'left' : 'right',
        upright: 'top',
        about,
      }),
    );
  }
  const floor = (layout.platforms ?? []).find(
    (p) => p.run === run.id && sideOf(p.face) !== null && p.fromMm <= stationMm && stationMm <= p.toMm,
  );
  const floorSide = floor ? sideOf(floor.face) : null;
  if (floor && floorSide) {
    const [from, to] = [at(floorSide, depth + 100), at(floorSide, depth + 100 + floor.widthMm)];
    const l = y(floor.levelMm);
    shapes.push(rectangle('PLAT', Math.min(from, to), l - 40, Math.max(from, to), l, about));
    shapes.push(line('PLAT', { x: to, y: l }, { x: to, y: l + floor.rails.topMm }, about));
    shapes.push(line('PLAT', { x: at(floorSide, depth), y: l - 500 }, { x: to, y: l - 40 }, about));
  }
  const free = braceSide === 'right' ? 'left' : 'right';
  const floorOut = floor && floorSide === free ? floor.widthMm + 100 : 0;
  const labels = [
    { level: run.footingMm, words: `FOOTING ${levelText(lengthUnit, run.footingMm)}` },
    ...rows.map((t) => ({ level: t.levelMm, words: `R${t.row} ${levelText(lengthUnit, t.levelMm)}` })),
    { level: run.topMm, words: `POUR LINE ${levelText(lengthUnit, run.topMm)}` },
  ].sort((a, b) => a.level - b.level);
  const places = spread(
    labels.map((l) => y(l.level)),
    scene.sizes.dimension * 1.4,
  );
  const out = free === 'right' ? 1 : -1;
  const edge = at(free, depth + 35 + Math.max(marksOutMm[free], 115 + floorOut));
  labels.forEach(({ level, words }, i) => {
    const to: Vec = { x: edge + out * LEAD_MM * factor, y: places[i]! };
    shapes.push(line('DIMS', { x: edge, y: y(level) }, to, about));
    shapes.push(
      text('DIMS', words, { x: to.x + out * 30, y: to.y }, scene.sizes.dimension, {
        across: free === 'left' ? 'right' : 'left',
        upright: 'middle',
        about,
      }),
    );
  });
  const under = -outMm;
  shapes.push(line('DIMS', { x: -half, y: under }, { x: half, y: under }, about));
  for (const x of [-half, half]) {
    shapes.push(line('DIMS', { x, y: -40 }, { x, y: under - 40 * factor }, about));
    shapes.push(line('DIMS', { x: x - tick, y: under - tick }, { x: x + tick, y: under + tick }, about));
  }
  const middle = { across: 'centre', upright: 'top', about } as const;
  shapes.push(
    text(
      'DIMS',
      lengthText(lengthUnit, run.thicknessMm),
      { x: 0, y: under - 60 * factor },
      scene.sizes.dimension,
      middle,
    ),
  );
  const names = { left: 'LEFT FACE', right: 'RIGHT FACE' } as const;
  for (const side of ['left', 'right'] as const) {
    shapes.push(
      text('FACE', names[side], { x: at(side, 60), y: high + 420 }, scene.sizes.dimension, {
        across: side === 'left' ? 'right' : 'left',
        about,
      }),
    );
  }
  const height = lengthText(lengthUnit, run.topMm - run.footingMm);
  const says = [
    `wall ${run.wall} at station ${lengthText(lengthUnit, Math.round(stationMm - 1))}, ${height} high`,
    'looked at along rising stations',
  ];
  return { letter, wall: run.wall, stationMm, says, shapes };
};

/** 'A' … 'Z', 'AA' … */
const letterOf = (n: number): string =>
  (n < 26 ? '' : letterOf(Math.floor(n / 26) - 1)) + String.fromCharCode(65 + (n % 26));

/** The sections, in the order of the runs; the key of each stack is drawn once. */
export const drawSections = (scene: Scene): Section[] => {
  const seen = new Set<string>();
  const sections: Section[] = [];
  for (const run of scene.result.plan.runs) {
    const wall = scene.result.plan.walls.find((w) => w.id === run.wall);
    if (!wall) continue;
    const stationMm = typicalStation(scene, run);
    if (stationMm === null) continue;
    const key = stackKey(scene, run, stationMm);
    if (seen.has(key)) continue;
    seen.add(key);
    sections.push(drawOne(scene, run, stationMm, letterOf(sections.length)));
  }
  return sections;
};

/** The legend: every sign that the drawings use, drawn as it stands there, with what it means. Nothing rests on colour. */

import type { Vec } from '../../../ground/plane.js';
import { leftOutShapes } from '../elevation.js';
import type { LayerKey } from '../layers.js';
import type { Scene } from '../scene.js';
import { line, polyline, rectangle, type Shape } from '../sheet.js';
import { alignerShapes, braceShapes, headShapes, uprightShapes } from '../siteSymbols.js';
import { flagShapes } from '../startFlag.js';
import {
  clampShapes,
  elevationShapes,
  insideCornerShapes,
  outsideCornerShapes,
  planShapes,
  tieShapes,
} from '../symbols.js';
import { tieSide } from '../tieSides.js';
import { onPaper, say } from './ink.js';
import { PAPER_TEXT_MM } from './paper.js';

interface Sign {
  readonly words: string;
  readonly layer: LayerKey;
  readonly shapes: readonly Shape[];
}

const RADIUS_MM = 40;
const FRAME_MM = 100;

const crossed = (isSquare: boolean): Shape[] => {
  const r = RADIUS_MM;
  const round: Shape = isSquare
    ? rectangle(null, -r, -r, r, r)
    : { type: 'circle', layer: null, about: [], centre: { x: 0, y: 0 }, radiusMm: r };
  return [round, line(null, { x: -r, y: 0 }, { x: r, y: 0 }), line(null, { x: 0, y: -r }, { x: 0, y: r })];
};

const unitIn = (scene: Scene, kind: 'panel' | 'filler' | 'timber' | 'strip' | 'bulkhead', isUnder = false): Shape[] => {
  const used = scene.result.layout.pieces.find((p) => p.kind === kind && p.item !== null && !p.turned);
  const unit = used ? scene.unitOf(used) : null;
  const widthMm = unit?.widthMm ?? 200;
  return planShapes({ kind, unit, turned: false, widthMm, depthMm: FRAME_MM, isUnder, hatchMm: scene.paperScale });
};

/** Signs in plan, then in elevation; only of what the job has. */
const signsOf = (scene: Scene): Sign[] => {
  const { pieces, ties, clamps, aligners = [], braces = [], platforms = [] } = scene.result.layout;
  const has = (kind: string): boolean => pieces.some((p) => p.kind === kind);
  const when = (isThere: boolean, words: string, layer: LayerKey, shapes: readonly Shape[]): Sign[] =>
    isThere ? [{ words, layer, shapes }] : [];
  const pour = Array.from({ length: 5 }, (_, i) =>
    line(null, { x: -300 + i * 130, y: 0 }, { x: -220 + i * 130, y: 0 }),
  );
  return [
    ...when(has('panel'), 'panel, ticks at its tie holes', 'PANL', unitIn(scene, 'panel')),
    ...when(has('filler'), 'steel filler: one diagonal, close hatch', 'FILL', unitIn(scene, 'filler')),
    ...when(has('timber'), 'timber in plan: solid; TM1, TM2: cut list', 'TIMB', unitIn(scene, 'timber')),
    ...when(has('timber'), 'timber under a unit: hatched', 'TIMB', unitIn(scene, 'timber', true)),
    ...when(
      has('timber'),
      'timber in elevation: diagonals, grain',
      'TIMB',
      elevationShapes('timber', 200, 200, scene.paperScale),
    ),
    ...when(has('strip'), 'strip, struck first', 'TIMB', unitIn(scene, 'strip')),
    ...when(has('inside-corner'), 'inside corner', 'CRNR', insideCornerShapes([200, 200], FRAME_MM, 90)),
    ...when(has('outside-corner'), 'outside corner', 'CRNR', outsideCornerShapes(0, FRAME_MM, 90)),
    ...when(has('bulkhead') || has('box-out'), 'bulkhead, box-out: crossed', 'BKHD', unitIn(scene, 'bulkhead')),
    ...when(ties.length > 0, 'tie in plan', 'TIES', tieShapes(200, FRAME_MM)),
    ...when(ties.length > 0, 'tie in elevation', 'TIES', crossed(false)),
    ...when(
      ties.some((t) => t.outsideConcrete),
      'tie beyond the concrete',
      'TIES',
      crossed(true),
    ),
    ...when(scene.hasRowsLeftOut, 'LEFT OUT: hole stays closed, no tie', 'TIES', leftOutShapes({ x: 0, y: 0 })),
    ...when(clamps.length > 0, 'clamps of a joint', 'CLMP', clampShapes(0, FRAME_MM)),
    ...when(aligners.length > 0, 'aligner in plan', 'ALGN', [...alignerShapes(600, 0), ...uprightShapes(0)]),
    ...when(braces.length > 0, 'brace in plan, foot plate crossed', 'BRCE', braceShapes(0, 600)),
    ...when(braces.length > 0, 'head of a brace in elevation', 'BRCE', headShapes()),
    ...when(platforms.length > 0, 'platform, double edge: guard rail', 'PLAT', [
      rectangle(null, -300, -90, 300, 90),
      line(null, { x: -300, y: -70 }, { x: 300, y: -70 }),
    ]),
    ...when(true, 'pour line', 'POUR', pour),
    ...when(
      true,
      'start of setting, and its direction',
      'NOTE',
      flagShapes(null, { x: 0, y: 0 }, { x: 1, y: 0 }, { x: 0, y: 1 }, scene.sizes.factor),
    ),
    ...when(ties.length > 0, 'dot: side of the joint that has the tie', 'TIES', tieSide({ x: 0, y: 0 })),
    ...when(true, 'finding that needs a person: see list', 'FLAG', [
      polyline(
        null,
        [
          { x: -90, y: -70 },
          { x: 90, y: -70 },
          { x: 0, y: 90 },
        ],
        true,
      ),
    ]),
  ];
};

const PITCH_MM = 9.6;
const SIGN_MM = 34;

const spanOf = (shapes: readonly Shape[]): { readonly low: Vec; readonly high: Vec } => {
  const points = shapes.flatMap((s): Vec[] => {
    if (s.type === 'line') return [s.from, s.to];
    if (s.type === 'polyline') return [...s.vertices];
    if (s.type === 'solid') return [...s.corners];
    if (s.type !== 'circle') return [];
    const r = s.radiusMm;
    return [
      { x: s.centre.x - r, y: s.centre.y - r },
      { x: s.centre.x + r, y: s.centre.y + r },
    ];
  });
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  return { low: { x: Math.min(...xs), y: Math.min(...ys) }, high: { x: Math.max(...xs), y: Math.max(...ys) } };
};

/** The legend from `top` downwards; what is left out where the room ends is told in the notes. */
export const drawLegend = (scene: Scene, at: Vec, heightMm: number): Shape[] => {
  const shapes: Shape[] = [say('LEGEND', { x: at.x, y: at.y - PAPER_TEXT_MM.mark }, PAPER_TEXT_MM.mark)];
  const rows = Math.floor((heightMm - 12) / PITCH_MM);
  // As large as in the drawings, but no larger than their place.
  signsOf(scene)
    .slice(0, Math.max(0, rows))
    .forEach(({ words, layer, shapes: sign }, i) => {
      const y = at.y - 12 - (i + 0.5) * PITCH_MM;
      const { low, high } = spanOf(sign);
      const fit = Math.min(
        1 / scene.paperScale,
        SIGN_MM / (high.x - low.x),
        (PITCH_MM - 1.8) / Math.max(1, high.y - low.y),
      );
      const by = { x: at.x + SIGN_MM / 2 - ((low.x + high.x) / 2) * fit, y: y - ((low.y + high.y) / 2) * fit };
      shapes.push(...onPaper(sign, fit, by, layer));
      shapes.push(say(words, { x: at.x + SIGN_MM + 6, y }, PAPER_TEXT_MM.plain, { upright: 'middle' }));
    });
  return shapes;
};

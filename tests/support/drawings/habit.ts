/** One drawing: known walls drawn in a style, with an office's names, unit, place and clutter, and with faults. */

import { type LengthUnit, MM_PER } from '../../../src/ground/units.js';
import { type Clutter, type Clutterings, drawClutter, FROZEN } from './clutter.js';
import { Dice } from './dice.js';
import { type DxfDrawing, dxfBytesOf, type Layer } from './dxf.js';
import type { Entity } from './dxfEntities.js';
import { type Fault, withFaults } from './faults.js';
import { type Move, moved, STAY, undone } from './moves.js';
import { bound, NAMINGS, type Naming } from './names.js';
import { capsOf, drawWalls, NEEDS_R2000, type Style } from './styles.js';
import { type Placing, placedTruth, type Truth } from './truth.js';

export interface Habit {
  readonly style: Style;
  readonly naming: keyof typeof NAMINGS;
  /** Layer names as a bound external reference has them. */
  readonly bound: boolean;
  readonly version: 'R12' | 'R2000';
  readonly unit: LengthUnit;
  readonly header: 'right' | 'absent' | 'lying';
  /** Walls within a block that is placed turned, scaled or mirrored; within a block in a block. */
  readonly block: 'none' | 'placed' | 'nested';
  /** Coordinates as a land survey has them. */
  readonly survey: boolean;
  readonly clutter: readonly Clutter[];
  /** Dimensions show what CAD measures, or a text as people write lengths there: feet and inches, mm in a drawing in metres. */
  readonly dimensionTexts: 'measured' | 'written';
}

export const PLAIN: Habit = {
  style: 'outlines',
  naming: 'ncs',
  bound: false,
  version: 'R2000',
  unit: 'mm',
  header: 'right',
  block: 'none',
  survey: false,
  clutter: [],
  dimensionTexts: 'measured',
};

export interface Drawn {
  /** The walls as the drawing has them, mm in its axes. */
  readonly truth: Truth;
  readonly drawing: DxfDrawing;
  readonly bytes: Uint8Array;
  readonly names: Naming;
}

const CODES: Readonly<Record<LengthUnit, number>> = { in: 1, ft: 2, mm: 4, cm: 5, m: 6 };
/** What a header says that lies: the unit of the template that somebody began with. */
const LIES: Readonly<Record<LengthUnit, number>> = { in: 4, ft: 1, mm: 1, cm: 6, m: 4 };

const headerCode = (h: Habit): number | null => {
  if (h.header === 'absent') return null;
  return h.header === 'right' ? CODES[h.unit] : LIES[h.unit];
};

/** Puts the entities into blocks so that the inserts bring them back to their places. */
const inBlocks = (
  list: readonly Entity[],
  layer: string,
  depth: number,
  dice: Dice,
): { entities: Entity[]; blocks: Record<string, Entity[]> } => {
  const blocks: Record<string, Entity[]> = {};
  let inner: Entity[] = [...list];
  for (let k = 0; k < depth; k++) {
    const move: Move = {
      mirrored: dice.chance(0.5),
      turnDeg: dice.chance(0.5) ? 90 * dice.whole(4) : dice.between(0, 360),
      scale: dice.chance(0.5) ? 1 : [0.5, 2, 25.4, 10][dice.whole(4)]!,
      dx: Math.round(dice.between(-20_000, 20_000)),
      dy: Math.round(dice.between(-20_000, 20_000)),
    };
    const back = undone(move);
    const name = `PLAN${k}`;
    blocks[name] = inner.map((e) => moved(e, back));
    const unit: Entity = { kind: 'insert', layer, block: name, at: { x: 0, y: 0 }, turnDeg: 0, sx: 1, sy: 1 };
    inner = [moved(unit, move)];
  }
  return { entities: inner, blocks };
};

/** A length in mm as people write it in drawings of that unit: to half an inch, to a mm, to a cm. */
const lengthText = (mm: number, unit: LengthUnit): string => {
  if (unit === 'mm' || unit === 'm') return String(Math.round(mm));
  if (unit === 'cm') return (mm / 1000).toFixed(2);
  const halves = Math.round(mm / 12.7);
  const inches = Math.floor((halves % 24) / 2);
  return `${Math.floor(halves / 24)}'-${inches}${halves % 2 === 1 ? ' 1/2' : ''}"`;
};

const withText = (e: Entity, habit: Habit): Entity =>
  e.kind === 'dim' && habit.dimensionTexts === 'written'
    ? { ...e, text: lengthText(Math.hypot(e.to.x - e.from.x, e.to.y - e.from.y), habit.unit) }
    : e;

const layersOf = (entities: readonly Entity[]): Layer[] =>
  [...new Set(entities.map((e) => e.layer))]
    .sort()
    .map((name) => ({ name, lineType: 'CONTINUOUS', frozen: name.endsWith(FROZEN) }));

/** Corner of a map sheet, mm: eastings and northings of hundreds and thousands of kilometres. */
const SURVEY = { dx: 456_789_123, dy: 5_432_109_876 };

/** Draws the plan. Kinds that R12 lacks raise the version. */
export const draw = (plan: Truth, habit: Habit, placing: Placing, faults: readonly Fault[], seed: number): Drawn => {
  const dice = new Dice(seed);
  const site: Placing = habit.survey ? { ...placing, dx: placing.dx + SURVEY.dx, dy: placing.dy + SURVEY.dy } : placing;
  const names = habit.bound ? bound(NAMINGS[habit.naming], 'Foundation-03') : NAMINGS[habit.naming];
  const scale = 1 / MM_PER[habit.unit];
  const toSite: Move = { ...STAY, mirrored: site.mirrored, turnDeg: site.turnDeg, dx: site.dx, dy: site.dy };
  const place = (e: Entity): Entity => moved(moved(e, toSite), { ...STAY, scale });

  const walls = withFaults(drawWalls(plan, habit.style, names, dice), faults, capsOf(plan), dice).map(place);
  const depth = { none: 0, placed: 1, nested: 2 }[habit.block];
  const wrapped = inBlocks(walls, names.wall, depth, dice);
  const clutter: Clutterings[] = [];
  // The frame goes round all of the others.
  for (const kind of [...habit.clutter].sort((p, q) => Number(p === 'frame') - Number(q === 'frame'))) {
    const others = clutter.flatMap((c) => c.entities);
    clutter.push(drawClutter(plan, kind, names, dice, others));
  }
  const entities = [...wrapped.entities, ...clutter.flatMap((c) => c.entities.map((e) => place(withText(e, habit))))];
  const blocks: Record<string, readonly Entity[]> = { ...wrapped.blocks };
  // Blocks of clutter stay in mm: their inserts' scales carry the unit.
  for (const c of clutter) Object.assign(blocks, c.blocks);

  const all = [...entities, ...Object.values(blocks).flat()];
  const drawing: DxfDrawing = {
    version: NEEDS_R2000.has(habit.style) ? 'R2000' : habit.version,
    unitCode: headerCode(habit),
    layers: layersOf(all),
    blocks,
    entities,
  };
  return { truth: placedTruth(plan, site), drawing, bytes: dxfBytesOf(drawing), names };
};

/**
 * The habits of drawing by name, and which of them tracing does today. The law (tests/laws/recall.test.ts) holds for all without `notYet`; the
 * bench prints all of them.
 */

import fc from 'fast-check';
import type { Job } from '../../../src/pipeline/schema.js';
import { traceOptions } from '../../../src/pipeline/settings.js';
import { readDxf } from '../../../src/read/dxf/index.js';
import { trace } from '../../../src/trace/index.js';
import { CLUTTER, type Clutter } from './clutter.js';
import { FAULTS, type Fault } from './faults.js';
import { type Drawn, draw, type Habit, PLAIN } from './habit.js';
import { NAMINGS } from './names.js';
import {
  arbitraryPlacing,
  arbitraryTruth,
  oneBuilding,
  oneThickness,
  slender,
  uprightPlacing,
  withBays,
  withoutDoors,
} from './plans.js';
import { withCurves } from './rounds.js';
import { type AreaScore, type Score, score, scoreAreas } from './score.js';
import { STYLES, type Style } from './styles.js';
import type { Placing, Truth } from './truth.js';

export interface Case {
  readonly name: string;
  readonly habit: Partial<Habit>;
  /** What differs from drawing to drawing. */
  readonly habits?: fc.Arbitrary<Partial<Habit>>;
  /** Faults of which a drawing has any. */
  readonly faults: readonly Fault[];
  /** Keys of the job file beside the levels. */
  readonly job?: (drawn: Drawn) => Record<string, unknown>;
  /** Plans to draw, where not any. */
  readonly plans?: fc.Arbitrary<Truth>;
  /** The sheet stands upright: titles are below what they name. */
  readonly upright?: boolean;
  /** Share of the walls that has to be found in each plan, where not 0.95. */
  readonly least?: number;
  /** Why tracing does not do it today. */
  readonly notYet?: string;
}

const LINE_FAULTS = FAULTS.filter((f) => !['repeat', 'bulges', 'unclosed'].includes(f));
const POLY_FAULTS: readonly Fault[] = ['repeat', 'bulges', 'shuffle'];
const USUAL: readonly Clutter[] = ['footings', 'dimensions', 'grid', 'texts', 'doors', 'frame'];

const row = (
  name: string,
  habit: Partial<Habit>,
  faults: readonly Fault[] = [],
  more: Pick<Case, 'job' | 'plans' | 'upright' | 'habits' | 'least' | 'notYet'> = {},
): Case => ({ name, habit, faults, ...more });

const units: Case[] = (['cm', 'm', 'in', 'ft'] as const).flatMap((unit) => [
  row(`in ${unit}`, { unit }),
  ...(['absent', 'lying'] as const).map((header) =>
    row(`in ${unit}, header ${header}`, { unit, header, clutter: USUAL, dimensionTexts: 'written' }),
  ),
]);

/** Footings on the layer of the walls: in rooms so small that the inner outlines stand near each other they are not all told from walls. */
const FOOTINGS = 'in a small room the outer ring of a footing on the wall layer is taken for the face of a wall';
const ROOMY: Partial<Record<Clutter, fc.Arbitrary<Truth>>> = {
  'footings-same-layer': withBays(3500, 8000),
  footings: withBays(3500, 8000),
  'footings-dashed': withBays(3500, 8000),
};
/** Clutter on layer 0 that tracing takes for walls, or that hides them. */
const MISTAKEN_ON_0: Partial<Record<Clutter, string>> = {
  slab: 'the edge of a slab beside a wall is taken for its face',
};

const notYet = (reason: string | undefined): Pick<Case, 'notYet'> => (reason ? { notYet: reason } : {});

const clutter: Case[] = CLUTTER.map((kind) =>
  row(`with ${kind}`, { clutter: [kind] }, [], {
    ...(kind === 'footings-same-layer' ? { plans: ROOMY[kind]! } : {}),
    ...(kind === 'storey' ? { plans: withoutDoors, upright: true } : {}),
  }),
);

/** Where no name tells, short thick pieces are taken only in company: 90 % of walls that are slender, 80 % of any others. */
const onLayer0: Case[] = [
  row('layer 0, walls of any thickness', { naming: 'zero' }, [], { least: 0.8 }),
  row('layer 0', { naming: 'zero', style: 'lines' }, LINE_FAULTS, { plans: slender, least: 0.9 }),
  ...CLUTTER.filter((kind) => kind !== 'partitions' && !kind.endsWith('same-layer')).map((kind) =>
    row(`layer 0, with ${kind}`, { naming: 'zero', clutter: [kind] }, [], {
      ...notYet(MISTAKEN_ON_0[kind]),
      plans: ROOMY[kind] ?? slender,
      upright: true,
      least: 0.9,
    }),
  ),
];

const DRAWS_CURVES: ReadonlySet<Style> = new Set<Style>([
  'outlines',
  'outlines-repeated',
  'lines',
  'open-polylines',
  'hatch',
  'hatch-outline',
  'chords',
]);

/** Whatever may come together in an office's drawing whose layers have telling names. */
const anyHabit: fc.Arbitrary<Partial<Habit>> = fc
  .record({
    style: fc.constantFrom<Style>(...STYLES.filter((x) => x !== 'centre' && x !== 'centre-noted')),
    naming: fc.constantFrom(...(Object.keys(NAMINGS) as (keyof typeof NAMINGS)[]).filter((n) => n !== 'zero')),
    bound: fc.boolean(),
    version: fc.constantFrom('R12' as const, 'R2000' as const),
    unit: fc.constantFrom('mm' as const, 'cm' as const, 'm' as const, 'in' as const, 'ft' as const),
    header: fc.constantFrom('right' as const, 'absent' as const, 'lying' as const),
    block: fc.constantFrom('none' as const, 'none' as const, 'placed' as const, 'nested' as const),
    survey: fc.boolean(),
    others: fc.subarray(CLUTTER.filter((kind) => kind !== 'footings-same-layer' && kind !== 'dimensions')),
  })
  .map(({ others, ...habit }) => ({
    ...habit,
    clutter: ['dimensions' as const, ...others],
    dimensionTexts: 'written' as const,
  }));

export const CASES: readonly Case[] = [
  row('anything together', {}, LINE_FAULTS, { habits: anyHabit, upright: true }),
  row('anything together, turned', {}, LINE_FAULTS, { habits: anyHabit }),
  row('anything together, with a curve', {}, POLY_FAULTS, {
    habits: anyHabit.map((h) => ({ ...h, ...(DRAWS_CURVES.has(h.style!) ? {} : { style: 'outlines' as const }) })),
    plans: withCurves,
    upright: true,
  }),
  row('closed outlines', { style: 'outlines' }, POLY_FAULTS),
  row('closed outlines, R12', { style: 'outlines', version: 'R12' }, POLY_FAULTS),
  row('outlines closed by the first vertex', { style: 'outlines-repeated' }, POLY_FAULTS),
  row('outlines left open', { style: 'outlines' }, ['unclosed']),
  row('lines', { style: 'lines' }, LINE_FAULTS),
  row('lines, R12', { style: 'lines', version: 'R12' }, LINE_FAULTS),
  row('open polylines', { style: 'open-polylines' }, POLY_FAULTS),
  row('boxes', { style: 'boxes' }, POLY_FAULTS),
  row('boxes of lines', { style: 'box-lines' }, [
    'duplicate',
    'zero',
    'split',
    'overlap',
    'reverse',
    'shuffle',
    'jitter',
  ]),
  row('hatch alone', { style: 'hatch' }),
  row('pattern hatch alone', { style: 'hatch-pattern' }),
  row('a hatch for each wall', { style: 'hatch-boxes' }),
  row('hatch and outline', { style: 'hatch-outline' }, POLY_FAULTS),
  row('polylines with width', { style: 'width' }),
  row('polylines with width, R12', { style: 'width', version: 'R12', unit: 'm' }),
  row('multilines', { style: 'mline' }),
  row('centre lines, thickness noted', { style: 'centre-noted' }, [], {
    job: ({ names }) => ({ drawing: { centreLineLayers: [names.axis] } }),
  }),
  row('centre lines, thickness in the job file', { style: 'centre' }, ['split', 'reverse', 'duplicate', 'shuffle'], {
    plans: oneThickness,
    job: ({ names, truth }) => ({
      drawing: { centreLineLayers: [names.axis], thicknessMm: truth.walls[0]!.thicknessMm },
    }),
  }),
  row('curves as arcs and lines', { style: 'lines' }, ['reverse', 'shuffle', 'duplicate'], { plans: withCurves }),
  row('curves as bulges', { style: 'outlines' }, ['repeat', 'shuffle'], { plans: withCurves }),
  row('curves as open polylines', { style: 'open-polylines', unit: 'm' }, [], { plans: withCurves }),
  row('curves as chords', { style: 'chords' }, [], { plans: withCurves }),
  row('curves as a hatch', { style: 'hatch' }, [], { plans: withCurves }),
  row('walls in a block', { block: 'placed', style: 'lines' }, LINE_FAULTS),
  row('walls in a block in a block', { block: 'nested' }, POLY_FAULTS),
  row('bound reference', { bound: true, clutter: USUAL }),
  row('survey coordinates in metres', { survey: true, unit: 'm', style: 'lines' }, [
    'gap',
    'overrun',
    'split',
    'reverse',
  ]),
  row('survey coordinates in mm', { survey: true }),
  ...Object.keys(NAMINGS)
    .filter((naming) => naming !== 'zero')
    .map((naming) =>
      row(`names ${naming}`, { naming: naming as keyof typeof NAMINGS, style: 'lines', clutter: USUAL }, LINE_FAULTS),
    ),
  row('in mm, header lying', { header: 'lying', clutter: USUAL }),
  row('in mm, header absent', { header: 'absent', clutter: USUAL }),
  ...units,
  ...clutter,
  row('footings on the wall layer, small rooms', { clutter: ['footings-same-layer'] }, [], {
    plans: withBays(1700, 2500),
    notYet: FOOTINGS,
  }),
  row('plan with doors and a storey', { clutter: ['storey'] }, [], { plans: oneBuilding, upright: true }),
  row('two buildings and a storey', { clutter: ['storey'] }, [], { upright: true }),
  ...onLayer0,
];

export interface Trial {
  readonly plan: Truth;
  readonly placing: Placing;
  readonly faults: readonly Fault[];
  readonly habit: Partial<Habit>;
  readonly seed: number;
}

export const arbitraryTrial = (c: Case): fc.Arbitrary<Trial> =>
  fc.record({
    // Without the bias to small values: most plans are as big as plans are.
    plan: fc.noBias(c.plans ?? arbitraryTruth),
    placing: c.upright ? uprightPlacing : arbitraryPlacing,
    faults: c.faults.length === 1 ? fc.constant([...c.faults]) : fc.subarray([...c.faults]),
    habit: c.habits ?? fc.constant(c.habit),
    seed: fc.integer({ min: 0, max: 1_000_000 }),
  });

export const drawTrial = (t: Trial): Drawn => draw(t.plan, { ...PLAIN, ...t.habit }, t.placing, t.faults, t.seed);

const found = (c: Case, t: Trial) => {
  const drawn = drawTrial(t);
  const read = readDxf(drawn.bytes);
  if (!read.ok) throw new Error(read.findings.map((f) => f.message).join(' '));
  const job = { ...c.job?.(drawn), levels: { footingMm: 0, topMm: 2400 } };
  return { truth: drawn.truth, foundation: trace(read.value, traceOptions(job as Job)).value };
};

/** Draws, reads, traces and scores. */
export const tryOut = (c: Case, t: Trial): Score => {
  const { truth, foundation } = found(c, t);
  return score(truth, foundation);
};

export const tryOutAreas = (c: Case, t: Trial): AreaScore => {
  const { truth, foundation } = found(c, t);
  return scoreAreas(truth, foundation);
};

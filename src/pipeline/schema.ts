/**
 * The job file, version 1: what a person may settle about one drawing. This schema is the source of the validation, of the types and of the published
 * JSON Schema (docs/reference/job-file.schema.json). Keys may be added, never renamed.
 */

import { z } from 'zod';
import { DEFAULT_FIT_OPTIONS, type OrderedTier } from '../fit/options.js';
import { LETTERING_MM } from '../ground/lettering.js';
import { concreteSchema } from './schemaConcrete.js';

const LATER = 'accepted, but not used by this version: a finding says so';
/** A key that a later version uses. It is taken in whatever shape, so that a job file need not be cut down to be tried. */
const later = z.unknown().optional().describe(LATER);

const lengthMm = z.number();
const positive = z.number().positive();
const atLeastNought = z.number().nonnegative();
const layers = z.array(z.string().min(1)).describe('names or patterns with * and ?, case not heeded');
const elements = (what: string) =>
  z.array(z.string().min(1)).optional().describe(`${what} with * and ?, case not heeded`);
const point = z.tuple([z.number(), z.number()]);

/** A list of answers by place. A key with nothing under it, as a proposed job file has, is as if it were not there. */
const places = <T extends z.ZodType>(item: T) => z.array(item).nullish();

const opening = z
  .strictObject({
    near: point,
    wallEnds: z.boolean().optional().describe('true: no opening, two walls end here'),
    sillMm: lengthMm.optional().describe('level of its sill'),
    headMm: lengthMm.optional().describe('level of its head'),
    widthMm: positive.optional().describe('of an opening that is not drawn; it lies about the place'),
  })
  .refine((o) => o.wallEnds !== true || (o.sillMm === undefined && o.headMm === undefined), {
    message: 'gives a sill or head where wallEnds says that there is no opening',
  })
  .refine((o) => o.sillMm === undefined || o.headMm === undefined || o.headMm > o.sillMm, {
    message: 'headMm must lie above sillMm',
  });

const step = z.strictObject({
  at: point,
  kind: z.enum(['footing', 'top']).describe('what changes its level there'),
});

const drawing = z.strictObject({
  unit: z.enum(['mm', 'cm', 'm', 'in', 'ft']).optional().describe('unit of the numbers in the drawing'),
  wallLayers: layers.optional(),
  ignoreLayers: layers.optional(),
  area: z
    .tuple([z.number(), z.number(), z.number(), z.number()])
    .optional()
    .describe('two opposite corners x, y, x, y in drawing units: only what lies within is read as walls'),
  footingLayers: layers.optional().describe('layers with outlines of footings: names or patterns'),
  centreLineLayers: layers.optional().describe('layers whose lines are axes of walls, not faces: names or patterns'),
  thicknessMm: positive.optional().describe('thickness of walls that are drawn as centre lines'),
  openings: places(opening).describe('what the openings nearest to these points (drawing coordinates) are'),
  storeys: elements('storeys of a model whose walls are looked at: names, GlobalIds or patterns'),
  takeElements: elements('exactly these walls of a model are formed: GlobalIds, names, types, tags or patterns'),
  ignoreElements: elements('these walls of a model are not formed: GlobalIds, names, types, tags or patterns'),
  concreteMaterials: elements('materials of a model that are cast in place: names or patterns'),
});

const levelsAt = z
  .strictObject({ near: point, footingMm: lengthMm.optional(), topMm: lengthMm.optional() })
  .refine((at) => at.footingMm !== undefined || at.topMm !== undefined, {
    message: 'gives neither footingMm nor topMm',
  });

const levels = z
  .strictObject({
    footingMm: lengthMm.optional().describe('level of the top of the footing'),
    topMm: lengthMm.optional().describe('level of the top of the concrete: the pour line'),
    at: places(levelsAt).describe('levels of single walls: near is a point in drawing coordinates'),
    steps: places(step).describe('where the footing or the top of a wall steps: at is a point in drawing coordinates'),
  })
  .refine((l) => l.footingMm === undefined || l.topMm === undefined || l.topMm > l.footingMm, {
    message: 'topMm must lie above footingMm',
  });

const surveyPoint = z.strictObject({ at: point, levelMm: lengthMm });

const footing = z.strictObject({
  projectionMm: atLeastNought.optional().describe('beyond both faces of every wall whose footing is not drawn'),
  at: places(
    z.strictObject({ near: point, leftMm: atLeastNought.optional(), rightMm: atLeastNought.optional() }),
  ).describe('of single walls: beyond the left and the right face, seen from the wall’s start to its end'),
});

const oneSided = z.strictObject({
  near: point.describe('in drawing coordinates, beside the wall on the side where the forms stand'),
  formed: z.enum(['left', 'right']).optional().describe('instead: the face, seen from the wall’s start to its end'),
  against: z.enum(['earth', 'rock', 'wall']).optional().describe('what the other face is cast against'),
});

const TIERS = [
  'places',
  'timberAreaM2',
  'steelFillers',
  'tiesAndUnits',
  'runPast',
] as const satisfies readonly OrderedTier[];

const usual = DEFAULT_FIT_OPTIONS;
const leastRunPastMm = (l: {
  readonly bulkheadMm?: number | undefined;
  readonly bulkheadRoomMm?: number | undefined;
}) => (l.bulkheadMm ?? usual.bulkheadMm) + (l.bulkheadRoomMm ?? usual.bulkheadRoomMm);

const limits = z
  .strictObject({
    runPastMm: positive.optional().describe('the most that panels run past a free end'),
    overhangMm: positive.optional().describe('the most that a panel overhangs its outermost support'),
    stickUpMm: atLeastNought.optional().describe('the least height of the forms above the pour line'),
    bulkheadMm: positive.optional().describe('thickness of bulkheads'),
    bulkheadRoomMm: atLeastNought.optional().describe('room to fix a bulkhead behind it'),
    edgeClearMm: atLeastNought.optional().describe('no tie nearer than this to an edge of the concrete'),
    rowClearMm: atLeastNought.optional().describe('tie rows keep this from the footing and from the pour line'),
    chordMm: positive.optional().describe('how far a form on a curved wall may leave the arc of its face'),
    searchSteps: z
      .int()
      .positive()
      .optional()
      .describe('steps of the search for one stretch before its best so far is taken'),
    tieClearMm: atLeastNought.optional().describe('least clear distance of a tie from bars, sleeves and pipes'),
    bedAllowanceMm: atLeastNought.optional().describe('room under the forms for a bed of mortar'),
    strips: z.boolean().optional().describe('false: no strips are laid out that let closed rooms go; default true'),
    stripMm: z.number().min(40).max(300).optional().describe('least width of such a strip; default 40'),
    handSetKg: positive.optional().describe('the most that one person sets by hand; default 25'),
    handSetTwoKg: positive.optional().describe('the most that two people set by hand; default 33'),
  })
  .refine((l) => l.handSetTwoKg === undefined || l.handSetKg === undefined || l.handSetTwoKg >= l.handSetKg, {
    message: 'handSetTwoKg is less than handSetKg',
  })
  .refine((l) => (l.runPastMm ?? usual.runPastMostMm) >= leastRunPastMm(l), {
    message: 'runPastMm leaves no room for the bulkhead: it must be at least bulkheadMm + bulkheadRoomMm',
  });

const output = z.strictObject({
  mode: z.enum(['merged', 'overlay']).optional(),
  ifc: z
    .boolean()
    .optional()
    .describe(
      'whether a model of the forms (IFC4) and the findings as BCF topics are written; default: of a model yes, of a drawing no',
    ),
  layerNames: z.record(z.string(), z.string().min(1)).optional().describe('our layer: the name that you want for it'),
  sheets: z
    .boolean()
    .optional()
    .describe('whether sheets with title blocks are put into paper space (A1, of inch gear ARCH D); default true'),
  textHeightMm: z
    .number()
    .min(LETTERING_MM.least.mm)
    .max(LETTERING_MM.most)
    .optional()
    .describe(
      'height of marks and dimensions in the model space; default as the drawing’s own dimensions, else its texts. The sheets follow: 125 for 1:25, 250 for 1:50',
    ),
  pdf: z.boolean().optional().describe('false: the report is not written as PDF; default true'),
  pictures: z
    .enum(['none', 'svg', 'png'])
    .optional()
    .describe('plan and elevations as files of their own; default none'),
});

const side = z.enum(['inside', 'outside', 'left', 'right']);

const sides = z.strictObject({
  aligners: side
    .optional()
    .describe('side of horizontal aligners and braces; default outside, the other where there is no room'),
  platforms: side.optional().describe('side of access platforms; default the one without braces'),
});

const wind = z
  .strictObject({
    pressureKpa: positive.max(10).optional().describe('peak velocity pressure of the wind while forms stand alone'),
    pressurePsf: positive.max(200).optional().describe('instead of pressureKpa'),
    speedMPerS: positive.max(100).optional().describe('instead: gust speed; pressure = 1.25 kg/m3 x speed squared / 2'),
    coefficient: positive.max(5).optional().describe('net, on the whole face; default that of a wall standing free'),
  })
  .refine((w) => [w.pressureKpa, w.pressurePsf, w.speedMPerS].filter((x) => x !== undefined).length <= 1, {
    message: 'gives the wind twice',
  });

const access = z
  .strictObject({
    code: z
      .enum(['us', 'en'])
      .optional()
      .describe('whose loads and guards count; default us for gear made to inches, else en'),
    dropMm: positive
      .optional()
      .describe('platforms stand where walls are higher than this; default 1800, in the US 6 ft'),
    loadKpa: positive
      .max(20)
      .optional()
      .describe('load on the platforms; default 1.5 (EN 12811-1 class 2), in the US 25 psf'),
    loadPsf: positive.max(400).optional().describe('instead of loadKpa: 25 light, 50 medium, 75 heavy duty'),
    freeOutsideMm: positive.optional().describe('from the outer faces to the edge of the excavation'),
  })
  .refine((a) => a.loadKpa === undefined || a.loadPsf === undefined, { message: 'gives both loadKpa and loadPsf' });

const gangs = z.strictObject({
  craneKg: positive
    .max(100_000)
    .describe('what the crane may lift at its farthest reach, less slings and hook: panels are ganged up to it'),
  longestMm: positive.min(1000).optional().describe('longest gang; default 6000'),
  legAngleDeg: z.number().min(10).max(120).optional().describe('most between the two legs of the sling; default 60'),
  windMPerS: positive.max(30).optional().describe('gusts above which nothing is lifted: printed with every gang'),
});

const bars = (first: string) =>
  z.strictObject({
    diameterMm: positive.max(80),
    spacingMm: positive.min(25),
    firstMm: z.number().optional().describe(`${first}; default half a spacing`),
    coverMm: atLeastNought.optional().describe('concrete over the bar; default 50'),
    faces: z.enum(['both', 'left', 'right']).optional().describe('default both'),
  });

const reinforcement = z.strictObject({
  verticals: bars('station of the first on each wall’s axis').optional(),
  horizontals: bars('height of the first above the footing').optional(),
});

const pour = z.strictObject({
  name: z
    .string()
    .trim()
    .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._-]{0,19}$/u, {
      message: 'is not a name of up to 20 letters, numbers, blanks, dots and dashes',
    })
    .refine((name) => name !== 'rest', { message: 'is the name of what no pour names' }),
  near: z.array(point).min(1).describe('points in drawing coordinates: the wall nearest to each'),
});

const spell = z
  .strictObject({
    hours: positive.max(2000),
    temperatureC: z.number().min(-40).max(60).optional(),
    temperatureF: z.number().min(-40).max(140).optional(),
  })
  .refine((s) => (s.temperatureC === undefined) !== (s.temperatureF === undefined), {
    message: 'gives its temperature once, as temperatureC or as temperatureF',
  });

const stripping = z.strictObject({
  air: z
    .array(spell)
    .min(1)
    .max(500)
    .describe(
      'the air round the wall after the pour, spell by spell, as expected or measured: hours that count towards striking',
    ),
});

const counts = z.record(z.string(), z.int().nonnegative());

export const jobSchema = z.strictObject({
  drawing: drawing.nullish(),
  levels: levels.nullish(),
  concrete: concreteSchema.optional(),
  catalogue: z.string().min(1).optional().describe('demo, demo-inch or a file, relative to the job file'),
  stock: z
    .union([z.string().min(1), counts])
    .optional()
    .describe('item: count, or a file that holds that'),
  survey: z
    .union([z.string().min(1), z.array(surveyPoint).max(10000)])
    .optional()
    .describe(
      'measured levels of the footings: at in drawing coordinates, levelMm in the drawing’s datum; or a file with x, y, level a line',
    ),
  footing: footing.optional().describe('how far the footing projects beyond the faces of the walls'),
  oneSided: places(oneSided).describe('walls formed on one side only: no ties and no forms are laid out there'),
  limits: limits.optional(),
  costOrder: z
    .array(z.enum([...TIERS, 'kinds']))
    .refine((order) => new Set(order).size === order.length, { message: 'names a cost twice' })
    .optional()
    .describe('what counts more, first to last; what is not named follows in its usual order'),
  compareItems: z
    .boolean()
    .optional()
    .describe('tell which one item more would help the plan most; the plan is solved once for each'),
  comparePitchMm: positive.optional().describe('tell what the fill would be at this pitch of the flange holes'),
  output: output.optional(),
  reinforcement: reinforcement.optional().describe('bars in every wall, which ties are to miss'),
  stripping: stripping.optional().describe('conditions of striking; never a permission'),
  sides: sides.optional(),
  wind: wind.optional().describe('for which braces are checked; without it the least of the code'),
  access: access.optional(),
  gangs: gangs.optional().describe('panels are joined on the ground and lifted as one; without it none are'),
  pours: z
    .array(pour)
    .refine((list) => new Set(list.map((p) => p.name)).size === list.length, { message: 'names a pour twice' })
    .optional()
    .describe('walls that are poured together, in the order of pouring: the stock holds for each pour by itself'),
  rates: later,
});

/** A job file that has been checked. */
export type Job = z.infer<typeof jobSchema>;

export const stockSchema = counts;

/** The published JSON Schema of the job file. */
export const jobJsonSchema = (): unknown => z.toJSONSchema(jobSchema, { io: 'input' });

/** The keys of a group in their order; `isPlaces`: a list of answers by place. */
export const jobKeys = (group: 'drawing' | 'levels'): readonly { readonly key: string; readonly isPlaces: boolean }[] =>
  Object.keys((group === 'drawing' ? drawing : levels).shape).map((key) => ({
    key,
    isPlaces: PLACE_KEYS.has(`${group}.${key}`),
  }));

const PLACE_KEYS: ReadonlySet<string> = new Set(['drawing.openings', 'levels.at', 'levels.steps']);

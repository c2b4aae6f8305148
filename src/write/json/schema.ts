/**
 * The published shape of layout.json, version 1. Keys may be added, never renamed; so the JSON Schema made from this lets unknown keys pass.
 * Lengths are mm in the drawing's own axes, levels mm in the drawing's datum, pressures kPa, forces kN, masses kg.
 */

import { z } from 'zod';
import { gangsSchema } from './gangs.js';
import { modelSchema } from './model.js';
import { ratesSchema } from './rates.js';

const lengthMm = z.number();
const point = z.tuple([lengthMm, lengthMm]).describe('x, y in mm in the drawing’s own axes');
const band = z.object({
  fromMm: lengthMm,
  toMm: lengthMm,
  levelMm: lengthMm,
  highMm: lengthMm.optional().describe('of a measured footing: its highest level; levelMm is then the lowest'),
});

const source = z.object({
  file: z.string().describe('file name without folders'),
  sha256: z.string(),
  kind: z.enum(['dxf', 'ifc']),
  lengthUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft']).describe('the unit that was used, stated or inferred'),
});

/** The arc of a curved wall: it runs anticlockwise, its left face is the inner one. */
export const arc = z
  .object({ centre: point, innerRadiusMm: lengthMm, fromDeg: z.number(), sweepDeg: z.number() })
  .describe(
    'of a curved wall: anticlockwise, left face inside. Its stations are measured along its outer face, on both faces',
  );

const wall = z
  .object({
    id: z.string(),
    start: point,
    end: point,
    arc: arc.optional(),
    thicknessMm: lengthMm,
    base: z.array(band).describe('footing levels by station'),
    top: z.array(band).describe('pour line by station'),
    sources: z.array(z.string()).describe('handles or GlobalIds that it was traced from'),
    pour: z.string().optional().describe('name of its pour, where the job is poured in parts'),
  })
  .describe(
    'one straight run of one thickness; its axis starts at the end of lower x, then lower y; of a curved wall where its arc begins',
  );

const node = z.object({
  id: z.string(),
  kind: z.enum(['corner', 'tee', 'cross', 'end', 'pour-joint', 'thickness-change', 'bend']),
  at: point,
  angleDeg: z.number().describe('deflection at a corner, angle of the stem to the through wall at a tee, 0 at an end'),
  walls: z.array(z.string()),
});

const face = z
  .object({
    id: z.string(),
    wall: z.string(),
    side: z
      .enum(['left', 'right', 'start', 'end', 'pilaster'])
      .describe('seen looking from the wall’s start to its end; pilaster: one of the three faces of a pilaster'),
    fromMm: lengthMm,
    toMm: lengthMm,
    stands: z
      .object({ origin: point, along: point, outward: point, stationMm: lengthMm })
      .optional()
      .describe(
        'of a pilaster’s faces: the point of station 0, unit vectors of rising stations and out of the concrete, station of the wall there',
      ),
  })
  .describe(
    'stations of left and right faces run along the wall’s axis, those of end faces across from the left, those of a pilaster’s front along the wall, of its sides outwards',
  );

const opening = z.object({
  id: z.string(),
  wall: z.string(),
  fromMm: lengthMm,
  toMm: lengthMm,
  sillMm: lengthMm,
  headMm: lengthMm,
});

const pieceKind = z.enum([
  'panel',
  'filler',
  'inside-corner',
  'outside-corner',
  'hinged-corner',
  'timber',
  'strip',
  'bulkhead',
  'box-out',
]);

const piece = z
  .object({
    id: z.string(),
    kind: pieceKind,
    item: z.string().nullable().describe('catalogue id; null for what is cut on site'),
    turned: z.boolean().describe('laid on its side, 90 degrees anticlockwise seen from outside'),
    course: z.number().int().describe('1 is the lowest'),
    pours: z.array(z.string()),
    opening: z.string().optional(),
    covers: z.array(
      z.object({ face: z.string(), fromMm: lengthMm, toMm: lengthMm, baseMm: lengthMm, topMm: lengthMm }),
    ),
    taper: z
      .object({ faceMm: lengthMm, backMm: lengthMm })
      .optional()
      .describe(
        'of fill on a curve or at a bend: its width at the concrete and at the back of the frames; covers tell its place',
      ),
    node: z.string().optional(),
  })
  .describe('one physical unit; over a corner it has two covers, an outside corner has none and names its node');

const tie = z.object({
  id: z.string(),
  item: z.string(),
  wall: z.string(),
  row: z.number().int().describe('1 is the lowest'),
  stationMm: lengthMm,
  levelMm: lengthMm,
  pieces: z.tuple([z.string(), z.string()]).describe('on the left face, on the right face'),
  holes: z.tuple([z.number().int(), z.number().int()]).describe('0-based places in the catalogue’s hole lists'),
  loadKn: z.number().describe('exact reaction of the hinged chain on the governing face'),
  workingLoadKn: z.number(),
  governingFace: z.string(),
  outsideConcrete: z.boolean(),
});

const group = z
  .object({
    id: z.string(),
    face: z.string(),
    pieces: z.array(z.string()),
    supports: z.array(z.string()).describe('tie ids, or ‘held’ for a held salient edge'),
  })
  .describe('units joined stiffly that move as one');

const clamp = z.object({
  id: z.string(),
  item: z.string(),
  joint: z.enum(['upright', 'level']).describe('units beside each other, or one upon the other'),
  face: z.string(),
  stationMm: lengthMm.describe('of an upright joint the middle of its gap'),
  levelMm: lengthMm,
  pieces: z.tuple([z.string(), z.string()]).describe('at lower stations, or below, first'),
  gapMm: lengthMm.describe('fillers, strips and timber between the two units'),
  inPlaneKn: z.number().describe('its share of the pull along the forms'),
  shearKn: z.number().nullable().describe('its share of what goes across the joint; null: not known'),
  utilisation: z.number().describe('both over what it may carry, added'),
});

const smallParts = z
  .array(z.object({ item: z.string(), count: z.number().int() }))
  .describe('what goes with it: fixings of an aligner, planks and rails of a platform');

const aligner = z
  .object({
    id: z.string(),
    item: z.string(),
    kind: z.enum(['horizontal', 'vertical']),
    face: z.string(),
    run: z.string().optional().describe('the wall, or the part of it between two steps'),
    fromMm: lengthMm,
    toMm: lengthMm.describe('of a vertical one the same as fromMm'),
    levelMm: lengthMm.describe('of a vertical one its foot'),
    topMm: lengthMm.optional().describe('of a vertical one'),
    parts: smallParts.optional(),
  })
  .describe('a straight tube across the forms; it carries no concrete pressure');

const brace = z
  .object({
    id: z.string(),
    item: z.string(),
    face: z.string(),
    run: z.string().optional(),
    stationMm: lengthMm,
    headMm: lengthMm.describe('level of its head, on an aligner'),
    footMm: lengthMm.optional().describe('level of its foot'),
    footOffsetMm: lengthMm.describe('from the face of the concrete to its foot'),
    axialKn: z.number().describe('the larger of the two ways'),
    pushKn: z.number().optional(),
    pullKn: z.number().optional(),
    widthMm: lengthMm.optional().describe('of the form that it holds'),
    lengthMm: lengthMm.optional(),
    angleDeg: z.number().optional().describe('to the ground'),
    holdDownKn: z
      .number()
      .optional()
      .describe('lift on the form when the brace is pushed, less 0.9 of the form’s weight'),
    footUpliftKn: z.number().optional().describe('on the anchor of its foot, when it is pulled'),
    footShearKn: z.number().optional(),
  })
  .describe('an inclined prop; forces characteristic, of one face standing alone, against working loads');

const bracedFace = z
  .object({
    run: z.string(),
    face: z.string(),
    heightMm: lengthMm,
    headMm: lengthMm,
    lineKnPerM: z.number(),
    windKpa: z.number(),
    platformKnmPerM: z.number(),
    braceKnPerM: z.number().describe('what the heads take, level'),
    governs: z.enum(['line', 'wind']),
    baseWindKnPerM: z.number().describe('shear at the foot under wind'),
    baseLineKnPerM: z.number().describe('under the line load at the top; negative: the other way'),
  })
  .describe('a face that is braced while it stands alone, per metre of wall');

const platform = z.object({
  id: z.string(),
  item: z.string(),
  face: z.string(),
  run: z.string().optional(),
  fromMm: lengthMm,
  toMm: lengthMm,
  levelMm: lengthMm.describe('of its floor'),
  widthMm: lengthMm.optional(),
  brackets: z.array(lengthMm).describe('stations'),
  rails: z
    .object({ topMm: lengthMm, midMm: lengthMm.nullable(), toeMm: lengthMm })
    .optional()
    .describe('upper edges over the floor'),
  endRails: z.tuple([z.boolean(), z.boolean()]).optional().describe('at fromMm, at toMm'),
  guardMm: z.tuple([lengthMm, lengthMm]).optional().describe('stations over which the guard along its floor stands'),
  joins: z
    .tuple([z.string().nullable(), z.string().nullable()])
    .optional()
    .describe('platforms that its floor meets at the two ends'),
  ladderMm: lengthMm.nullable().optional().describe('station of its ladder; null: people come from one that it joins'),
  bracketKn: z.number().optional().describe('what the code asks of the most loaded bracket'),
  mostBracketKn: z.number().optional(),
  parts: smallParts.optional(),
});

const deck = z
  .object({
    id: z.string(),
    platforms: z.tuple([z.string(), z.string()]),
    vertex: z.string(),
    levelMm: lengthMm,
    holeMm: z.tuple([lengthMm, lengthMm]).describe('along the faces of the two arms of the vertex'),
    sizeMm: z.tuple([lengthMm, lengthMm]).describe('with its lap on either floor'),
    parts: smallParts,
  })
  .describe('what closes the hole between two floors and the forms in an inner corner');

const pressure = z.object({
  pour: z.string(),
  name: z.string().optional().describe('of the pour, where the job is poured in parts'),
  method: z.string(),
  designKpa: z.number().describe('characteristic value of the method'),
  rateMPerH: z.number(),
  inputs: z.record(z.string(), z.union([z.number(), z.string()])),
  envelope: z
    .array(z.object({ depthMm: lengthMm, kpa: z.number() }))
    .describe('by depth below the local pour line, linear between points, 0 at depth 0, constant below the last'),
});

const tier = z.object({
  name: z.enum(['failures', 'short', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits', 'runPast', 'kinds']),
  value: z.number(),
  bound: z.number().nullable().describe('proven lower bound, the tiers before it at their value; null: none proven'),
  optimal: z.boolean(),
});

const stood = z.object({
  basesMm: z.array(lengthMm),
  courses: z.array(z.array(lengthMm)).describe('heights from below, one list for each way in which they stand'),
  rowsMm: z.array(lengthMm).describe('levels of the tie rows'),
  gapMm: z.tuple([lengthMm, lengthMm]).describe('least and greatest gap between footing and forms'),
  fillM2: z.number().describe('under the forms, both faces'),
});

const survey = z
  .array(
    z.object({
      id: z.string(),
      parts: z.array(z.object({ wall: z.string(), fromMm: lengthMm, toMm: lengthMm })),
      drawnMm: lengthMm,
      lowestMm: lengthMm.nullable().describe('of the measured levels; null: none was measured there'),
      highestMm: lengthMm.nullable(),
      points: z.number().int(),
      byDrawn: stood.describe('how the forms would stand by the drawn level'),
      byMeasured: stood,
    }),
  )
  .describe('stretches of footing of one drawn level, where levels were measured');

const specialForm = z
  .object({
    wall: z.string(),
    face: z.string().describe('the one that is formed'),
    against: z.enum(['earth', 'rock', 'wall']).nullable(),
    fromMm: lengthMm,
    toMm: lengthMm,
    footingMm: lengthMm,
    topMm: lengthMm,
    forceKnPerM: z.number(),
    armM: z.number().describe('height of the force above the footing'),
    momentKnmPerM: z.number().describe('about the footing'),
  })
  .describe('a wall formed on one side: no ties, nothing is laid out, its form is to be designed for this force');

const missingTies = z
  .object({
    none: z
      .array(z.string())
      .describe('ties that may not be missing: neither their row nor their column holds without them'),
    over: z.array(z.string()).describe('ties without which a neighbour carries more than it may'),
    worst: z
      .object({ tie: z.string(), neighbour: z.string().nullable(), use: z.number() })
      .nullable()
      .describe('of the others and of those: share of what the neighbour may carry'),
    notLooked: z.int(),
    columnsNeeded: z.int(),
    columnsSpare: z.int(),
  })
  .describe('what comes of one tie that is left out or not locked');

const stripSum = z
  .object({
    run: z.string(),
    rowsKnPerM: z.array(z.number()).describe('strip of each row, from below'),
    areaKnPerM: z.number().describe('of the pressure diagram over the pour'),
  })
  .describe('the strips add up to the area');

const fill = z.object({
  timberAreaM2: z.number().describe('timber on wall faces, cut at the pour line, base gaps included'),
  places: z.number().int(),
  tiers: z.array(tier),
});

const scheduleRow = z.object({
  item: z.string(),
  kind: z.union([
    pieceKind,
    z.enum(['tie', 'lock', 'clamp', 'aligner', 'brace', 'bracket', 'fixing', 'plank', 'rail', 'lifting-bracket']),
  ]),
  widthMm: lengthMm.describe('0 for corners, ties and clamps'),
  heightMm: lengthMm,
  count: z.number().int(),
  massKg: z.number().describe('of the whole row'),
  inPours: z
    .array(z.object({ name: z.string(), count: z.number().int() }))
    .optional()
    .describe('where the job is poured in parts: what each pour takes; what stands between two counts in both'),
});

const totals = z.object({
  wallLengthM: z.number(),
  contactAreaM2: z.number().describe('left and right faces, gross'),
  contactAreaNetM2: z.number().describe('less openings'),
  endAreaM2: z.number(),
  panelAreaM2: z.number().describe('the panels’ own size, as hired'),
  timberAreaM2: z.number(),
  massKg: z.number(),
  concreteM3: z.number(),
  tieCount: z.number().int(),
});

const finding = z.object({
  code: z.string(),
  severity: z.enum(['note', 'attention', 'failure']),
  rule: z.string(),
  at: z.tuple([z.number(), z.number(), z.number()]).nullable(),
  subject: z.string().describe('id of a wall, piece or tie, a layer, a handle; empty: the whole'),
  message: z.string(),
  assumed: z.string().nullable(),
});

export const layoutSchema = z.object({
  format: z.literal('shutterwright-layout'),
  version: z.literal(1),
  source,
  walls: z.array(wall),
  nodes: z.array(node),
  faces: z.array(face),
  openings: z.array(opening),
  pieces: z.array(piece),
  ties: z.array(tie),
  groups: z.array(group),
  clamps: z.array(clamp),
  aligners: z.array(aligner),
  braces: z.array(brace),
  platforms: z.array(platform),
  decks: z.array(deck).optional(),
  braced: z.array(bracedFace).optional(),
  gangs: gangsSchema.optional(),
  pressure: z.array(pressure),
  fill,
  schedule: z.array(scheduleRow),
  totals,
  findings: z.array(finding),
  specialForms: z.array(specialForm).optional(),
  survey: survey.optional(),
  rates: ratesSchema.optional(),
  missingTies: missingTies.optional(),
  stripSums: z.array(stripSum).optional(),
  model: modelSchema.optional(),
});

export type LayoutFile = z.infer<typeof layoutSchema>;

/** JSON Schema (draft 2020-12) of layout.json, for docs/reference/layout.schema.json. */
export const layoutJsonSchema = (): Record<string, unknown> => {
  const made = z.toJSONSchema(layoutSchema, { target: 'draft-2020-12', io: 'input' });
  return { title: 'shutterwright layout, version 1', ...made };
};

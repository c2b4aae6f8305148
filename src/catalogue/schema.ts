/**
 * The catalogue file's shape, as zod schemas: the source of its validation and of its JSON Schema.
 *
 * Every length is a key that ends in Mm. Each such key may be given as its twin in inches instead (`widthIn: 24` for `widthMm: 609.6`); see
 * lengths.ts. `lengthUnit` does not convert anything: it says whether the gear is made to millimetres or to inches, and with it the grid on
 * which layouts are made (1 mm, or 1/16 in).
 */

import { z } from 'zod';

const MOST_UNITS = 5000;
const MOST_HOLES = 200;
/** No form unit or wall is longer than this; larger values are slips of the unit. */
const LONGEST_MM = 20_000;

const textId = z
  .string()
  .min(1)
  .max(80)
  .regex(/^[^\p{C}]+$/u, 'must not hold control characters');
const length = z.number().min(0).max(LONGEST_MM);
const positiveLength = z.number().gt(0).max(LONGEST_MM);
const degrees = z.number().gt(0).lt(180);
const load = z.number().gt(0).max(10_000);

const holeSchema = z.strictObject({
  xMm: length.describe("From the unit's left edge, seen from outside the wall."),
  yMm: length.describe("From the unit's foot."),
});

export const unitSchema = z.strictObject({
  id: textId,
  kind: z.enum(['panel', 'filler', 'inside-corner', 'outside-corner', 'hinged-corner', 'bulkhead']),
  widthMm: length.default(0).describe('Face width of panels, fillers and bulkheads; 0 for corners.'),
  heightMm: positiveLength,
  legsMm: z
    .tuple([positiveLength, positiveLength])
    .nullable()
    .default(null)
    .describe('Legs of inside and hinged corners.'),
  faceWidthMm: length.default(0).describe('Width that an outside corner takes on each face.'),
  deflectionDeg: z
    .strictObject({ least: degrees, most: degrees })
    .nullable()
    .default(null)
    .describe(
      'Deflections that a corner unit takes: how far one face turns into the other, 90 at a square corner, 180 less the interior angle. Hinged corners need it; an outside corner that has it is hinged too. null: square corners alone.',
    ),
  holes: z.array(holeSchema).max(MOST_HOLES).default([]),
  turnable: z.boolean().default(false).describe('May be set on its side, turned 90 degrees anticlockwise.'),
  ratedKpa: z.number().gt(0).max(1000).describe('Rated pressure with every tie row in use.'),
  ratedSpanMm: length.default(0).describe("Span between supports for which ratedKpa holds; 0: the unit's own width."),
  ratingIs: z
    .enum(['deflection', 'strength'])
    .default('deflection')
    .describe('Beyond ratedSpanMm the rating falls with the cube of the span (deflection) or its square (strength).'),
  stiffTo: z
    .enum(['panel'])
    .nullable()
    .default(null)
    .describe('A filler bolted stiff to a panel; null: hinged joints.'),
  momentKnmPerM: z.number().min(0).max(1000).default(0).describe('Moment of the stiff joint, kNm per m of height.'),
  strips: z.boolean().default(false).describe('Comes out first when the forms are struck. Not used yet.'),
  massKg: z.number().min(0).max(10_000),
});

export const tieSchema = z.strictObject({
  id: textId,
  wallMm: z
    .union([z.array(positiveLength).min(1).max(500), z.strictObject({ from: positiveLength, to: positiveLength })])
    .describe('Wall thicknesses that it fits: a list, or a range.'),
  workingLoadKn: load,
  ultimateKn: load,
  diameterMm: positiveLength,
  kind: z.enum(['left-in', 'removable']).default('removable'),
  breakBackMm: length.default(0).describe('How deep in the concrete a left-in tie is broken off, and its hole filled.'),
  removedBefore: z
    .boolean()
    .default(false)
    .describe('A removable tie that is drawn before the forms are struck; else after it.'),
  holeMm: positiveLength
    .nullable()
    .default(null)
    .describe(
      "Hole that it leaves: a removable tie's through the wall, a left-in one's at either face; null: its own diameter.",
    ),
  isSealed: z.boolean().default(false).describe('Stops water along itself.'),
  lock: z
    .strictObject({ id: textId, perTie: z.int().min(1).max(8).default(2), massKg: z.number().min(0).max(1000) })
    .nullable()
    .default(null)
    .describe('Piece that locks it behind the frames: listed beside the ties.'),
  massKg: z.number().min(0).max(1000),
});

export const timberSchema = z
  .strictObject({
    thicknessMm: positiveLength,
    bendingMpa: z.number().gt(0).max(200),
    shearMpa: z.number().gt(0).max(50),
  })
  .describe('Boards with which fill is closed: working stresses. Without it their strength is not checked.');

export const clampSchema = z
  .strictObject({
    id: textId,
    closesMm: z
      .strictObject({ from: length.default(0), to: length })
      .describe('Clear widths between two frames over which it closes; 0 where they touch.'),
    pullKn: load.describe('Working load along the forms.'),
    shearKn: load.nullable().default(null).describe('Working load across the joint; null: not known, and not checked.'),
    mostSpacingMm: positiveLength.default(600),
    mostFromEndMm: positiveLength.default(300),
    tieClearMm: positiveLength
      .nullable()
      .default(null)
      .describe('From its middle to the axis of a tie, in the plane of the forms; null: it may stand beside one.'),
    massKg: z.number().min(0).max(1000),
  })
  .describe('What it joins is taken as a hinge.');

const range = z.strictObject({ from: positiveLength, to: positiveLength });
const mass = z.number().min(0).max(1000);
const kn = z.number().min(0).max(10_000);

export const alignerSchema = z.strictObject({
  id: textId,
  lengthMm: positiveLength,
  stands: z.enum(['horizontal', 'vertical', 'either']).default('either'),
  joint: z
    .enum(['lap', 'sleeve'])
    .default('lap')
    .describe('How two in a row are joined: side by side over the lap, or in a sleeve.'),
  lapMm: positiveLength.default(600).describe('Length of the lap or of the sleeve.'),
  fixing: z
    .strictObject({ id: textId, spacingMm: positiveLength, massKg: mass })
    .nullable()
    .default(null)
    .describe('What holds it to the frames, one at least at this spacing.'),
  massKg: mass,
});

export const braceSchema = z.strictObject({
  id: textId,
  kind: z.enum(['fixed', 'telescopic']),
  lengthMm: range.describe('From head to foot, shortest and longest.'),
  wallMm: range.describe('Heights of forms that it is meant for.'),
  pushKn: kn.describe('Axial working load when it is pushed; 0: it does not work that way.'),
  pullKn: kn.describe('Axial working load when it is pulled.'),
  footUpliftKn: kn.describe('What its foot is anchored for, away from the ground.'),
  footShearKn: kn.describe('What its foot is anchored for, along the ground.'),
  massKg: mass,
});

export const bracketSchema = z.strictObject({
  id: textId,
  widthMm: positiveLength.describe('Width of the floor that it carries.'),
  heightMm: positiveLength.describe('How far it reaches down below the floor.'),
  ratedKpa: z.number().gt(0).max(100).describe('Load on the floor for which it is rated at its widest spacing.'),
  spacingMm: positiveLength.describe('Widest spacing.'),
  ultimateKn: load.describe('Ultimate load, for codes that ask for a multiple of the intended one.'),
  massKg: mass,
});

export const plankSchema = z.strictObject({
  id: textId,
  lengthMm: positiveLength,
  widthMm: positiveLength,
  spanMm: positiveLength.describe('Widest spacing of brackets.'),
  massKg: mass,
});

export const railSchema = z.strictObject({
  id: textId,
  kind: z.enum(['rail', 'toe-board']),
  lengthMm: positiveLength,
  massKg: mass,
});

export const liftingBracketSchema = z.strictObject({
  id: textId,
  workingLoadKn: load.describe('Along a leg of the sling that leans as the job allows.'),
  massKg: mass,
});

export const catalogueSchema = z.strictObject({
  name: textId,
  lengthUnit: z
    .enum(['mm', 'in'])
    .describe('What the gear is made to: layouts lie on a grid of 1 mm, or of 1/16 in. Converts nothing.'),
  pitchMm: positiveLength.describe(
    'Spacing of the flange holes: clamped units shift against each other by whole pitches.',
  ),
  frameDepthMm: positiveLength.default(100),
  overhangMm: length.default(150).describe('How far a panel may overhang its outermost support.'),
  timberLeastMm: length.default(20).describe('No timber strip is cut narrower.'),
  timberMostMm: length.default(100).describe('Timber wider than this needs backing.'),
  timberLimitMm: length.default(300).describe('The widest timber at all.'),
  timber: timberSchema.nullable().default(null),
  units: z.array(unitSchema).min(1).max(MOST_UNITS),
  ties: z.array(tieSchema).max(MOST_UNITS).default([]),
  stock: z
    .record(z.string(), z.int().min(0).max(10_000_000))
    .default({})
    .describe('Item: how many the yard owns; an item that is not named is not limited.'),
  clamps: z.array(clampSchema).max(MOST_UNITS).default([]),
  aligners: z.array(alignerSchema).max(MOST_UNITS).default([]),
  braces: z.array(braceSchema).max(MOST_UNITS).default([]),
  brackets: z.array(bracketSchema).max(MOST_UNITS).default([]),
  planks: z.array(plankSchema).max(MOST_UNITS).default([]),
  rails: z.array(railSchema).max(MOST_UNITS).default([]),
  liftingBrackets: z
    .array(liftingBracketSchema)
    .max(MOST_UNITS)
    .default([])
    .describe('Sit on the upper end of a joint and take hold of a gang.'),
});

/** The file after its defaults are filled in. */
export type CatalogueFile = z.output<typeof catalogueSchema>;
export type UnitFile = z.output<typeof unitSchema>;
/** The file as a person writes it, in mm. */
export type CatalogueFileInput = z.input<typeof catalogueSchema>;

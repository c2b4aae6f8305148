/** What each kind of piece is called, on which layer it lies and in which colour it shows. */

import type { PieceKind } from '../../ground/vocabulary.js';

/** What holds the forms together, straight and upright and lets people reach them. */
export type GearPart = 'clamp' | 'aligner' | 'brace' | 'floor' | 'bracket' | 'deck' | 'guard' | 'ladder';

export type PartKind = PieceKind | 'tie' | 'concrete' | GearPart;

export interface Look {
  readonly name: string;
  /** Red, green, blue, 0 … 255. */
  readonly rgb: readonly [number, number, number];
}

/** Entities of elements; that of a type ends in `Type`. */
export type ElementEntity =
  | 'IfcBuildingElementProxy'
  | 'IfcMechanicalFastener'
  | 'IfcMember'
  | 'IfcPlate'
  | 'IfcRailing';

/** Colours that people with any of the usual colour vision deficiencies tell apart: M. Okabe and K. Ito, 'Color Universal Design' (2008); grey for what is no form. */
const LOOKS = {
  blue: { name: 'sky blue', rgb: [86, 180, 233] },
  yellow: { name: 'yellow', rgb: [240, 228, 66] },
  orange: { name: 'orange', rgb: [230, 159, 0] },
  purple: { name: 'reddish purple', rgb: [204, 121, 167] },
  green: { name: 'bluish green', rgb: [0, 158, 115] },
  red: { name: 'vermilion', rgb: [213, 94, 0] },
  black: { name: 'black', rgb: [60, 60, 60] },
  darkBlue: { name: 'blue', rgb: [0, 114, 178] },
  grey: { name: 'grey', rgb: [190, 190, 190] },
} as const satisfies Record<string, Look>;

export interface KindFacts {
  /** ObjectType and ElementType: what PredefinedType USERDEFINED stands for. */
  readonly objectType: string;
  /** Name of its layer, the same as in the drawing. */
  readonly layer: string;
  readonly look: Look;
  /** A proxy where nothing is said. */
  readonly entity?: ElementEntity;
  /** A value of the entity's PredefinedType; USERDEFINED where nothing is said. */
  readonly predefined?: 'BRACE' | 'GUARDRAIL';
}

export const KINDS: Readonly<Record<PartKind, KindFacts>> = {
  panel: { objectType: 'FORM PANEL', layer: 'S-FORM-PANL', look: LOOKS.blue },
  filler: { objectType: 'FORM FILLER', layer: 'S-FORM-FILL', look: LOOKS.yellow },
  'inside-corner': { objectType: 'INSIDE CORNER FORM', layer: 'S-FORM-CRNR', look: LOOKS.purple },
  'outside-corner': { objectType: 'OUTSIDE CORNER FORM', layer: 'S-FORM-CRNR', look: LOOKS.purple },
  'hinged-corner': { objectType: 'HINGED CORNER FORM', layer: 'S-FORM-CRNR', look: LOOKS.purple },
  timber: { objectType: 'TIMBER FILL', layer: 'S-FORM-TIMB', look: LOOKS.orange },
  strip: { objectType: 'STRIPPING STRIP', layer: 'S-FORM-TIMB', look: LOOKS.orange },
  bulkhead: { objectType: 'BULKHEAD', layer: 'S-FORM-BKHD', look: LOOKS.green },
  'box-out': { objectType: 'BOX-OUT', layer: 'S-FORM-BKHD', look: LOOKS.green },
  tie: { objectType: 'FORM TIE', layer: 'S-FORM-TIES', look: LOOKS.red, entity: 'IfcMechanicalFastener' },
  clamp: { objectType: 'FORM CLAMP', layer: 'S-FORM-CLMP', look: LOOKS.black, entity: 'IfcMechanicalFastener' },
  aligner: { objectType: 'ALIGNER', layer: 'S-FORM-ALGN', look: LOOKS.darkBlue, entity: 'IfcMember' },
  brace: { objectType: 'BRACE', layer: 'S-FORM-BRCE', look: LOOKS.darkBlue, entity: 'IfcMember', predefined: 'BRACE' },
  floor: { objectType: 'PLATFORM FLOOR', layer: 'S-FORM-PLAT', look: LOOKS.orange, entity: 'IfcPlate' },
  deck: { objectType: 'CORNER DECK', layer: 'S-FORM-PLAT', look: LOOKS.orange, entity: 'IfcPlate' },
  bracket: { objectType: 'PLATFORM BRACKET', layer: 'S-FORM-PLAT', look: LOOKS.black, entity: 'IfcMember' },
  guard: {
    objectType: 'PLATFORM GUARD',
    layer: 'S-FORM-PLAT',
    look: LOOKS.red,
    entity: 'IfcRailing',
    predefined: 'GUARDRAIL',
  },
  ladder: { objectType: 'LADDER', layer: 'S-FORM-PLAT', look: LOOKS.black },
  concrete: { objectType: 'CONCRETE', layer: 'S-FORM-FACE', look: LOOKS.grey },
};

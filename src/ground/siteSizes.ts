/** Sizes of what holds and serves the forms where the catalogue has none: places for checks and drawings alike. Common practice, no source. */

/** From the backs of the frames to the middle of an aligner, where braces take hold. */
export const ALIGNER_OUT_MM = 50;
/** Diameter of the tube that an aligner or the shaft of a brace is taken to be: 48.3, scaffold tubes of EN 39 (from memory), as a whole mm. */
export const TUBE_MM = 48;
/** Foot plate of a brace: half of its width along the face, half of its depth. */
export const FOOT_PLATE_MM = [100, 60] as const;
/** From the backs of the frames to the inner edge of a platform's floor. */
export const FLOOR_OUT_MM = 100;
/** Thickness of a platform's floor. */
export const FLOOR_THICK_MM = 50;
/** How far a clamp grips past its gap on either side. */
export const CLAMP_JAW_MM = 35;

/** What shape takes for "the same" when it joins stretches: each with what it is for. All *practice, no source* unless said. */

/** Along a wall: how far its end may miss the wall that it meets, and still meet it. */
export const END_MM = 10;
/** Across a wall: how far two collinear stretches may lie out of line and still be one wall. Below any step that would be formed. */
export const LINE_MM = 5;
/** Two collinear stretches whose thicknesses differ by no more are one wall. */
export const THICKNESS_MM = 2;
/** A line of the drawing lies on the concrete's outline within this. */
export const OUTLINE_MM = 2;
/** Shorter bits of line that do not lie on the outline are the drawing's own small misfits at vertices, and not worth a finding. */
export const BIT_MM = 5;
/** A concrete edge that has a parallel line of the drawing within this was drawn, only elsewhere: reported once, as that line. */
export const SHIFTED_MM = 20;
/** Free ends in line with a gap up to this are named: a door way, or a wall that was not found. */
export const GAP_MOST_MM = 5000;
/** A free end that misses a wall by up to this beyond END_MM is named. */
export const NEAR_MISS_MM = 500;
/** Walls that meet at less than this are not taken as a tee: the body of the joint runs along both walls. */
export const STEM_LEAST_RAD = Math.PI / 12;
/** Below this deflection a corner takes no hinge but tapered fill (layout rules, section 5): a bend. */
export const BEND_MOST_DEG = 10;
/** A vertex farther from its node than this many thicknesses of the thicker wall is a spike that nobody forms. */
export const SPIKE_THICKNESSES = 4;
/** A note of levels farther than this from every wall may be meant for something else. */
export const LEVEL_NOTE_MM = 2000;
/** Coordinates beyond this (10,000 km) are no place in a drawing; below it, doubles hold better than 0.00001 mm. */
export const COORDINATE_MOST_MM = 1e10;

/** Two frames of usual depth (100 to 120 mm) back to back need at least this between two faces. *Practice, no source.* */
export const ROOM_LEAST_MM = 240;

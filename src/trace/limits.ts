/** Lengths that tracing decides by, mm. All are *practice, no source* unless a line says otherwise. */

/** Ends this near to where they should meet are taken as meeting; far less than any wall's thickness. */
export const REPAIR_MM = 25;
/** A line is taken as parallel to others when its ends lie within this of that direction. */
export const STRAIGHTEN_MM = 5;
/** Stretches of one axis and thickness this near are one. */
export const JOIN_MM = 2;
/** Lines of a wall layer longer than this that are part of no wall are listed one by one. */
export const LONG_MM = 300;
/** A separate rectangle up to this size and less than PAD_ASPECT times as long as wide is a pad or column. */
export const PAD_MOST_MM = 1500;
export const PAD_ASPECT = 2;
/** Footing projections on the two sides of a wall that differ by no more than this are equal. */
export const FOOTING_EQUAL_MM = 10;
/** The usual range of wall thickness: weighs more in the evidence for the unit than the whole plausible range. */
export const USUAL_LEAST_MM = 90;
export const USUAL_MOST_MM = 610;
/** Defaults of the levels, mm above the drawing's datum. */
export const DEFAULT_FOOTING_MM = 0;
export const DEFAULT_TOP_MM = 2400;
/** Places of one kind that are listed one by one; the rest are counted. */
export const LISTED_MOST = 40;
/** Lines that one group of layers may hold. */
export const LINES_MOST = 12000;
/** Directions that one group of layers may hold. */
export const DIRECTIONS_MOST = 200;
/** Lines side by side, summed over the stations of a group, and meetings of lines: what tracing works through. */
export const STATION_ENTRIES_MOST = 2000000;
export const MEETINGS_MOST = 500000;
/** Farthest that linework may lie from the lower left corner of all of it: 10 000 km, the length of a map grid's quadrant. */
export const REACH_MOST_MM = 1e10;
/** Lines shorter than this have no length. */
export const NO_LENGTH_MM = 0.01;

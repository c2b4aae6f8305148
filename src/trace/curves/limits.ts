/** Lengths and shares that tracing of curves decides by, mm. All are *practice, no source*. */

/** Vertices of a chain of chords lie on the fitted circle within this on average (root of the mean square) … */
export const FIT_RMS_MM = 1;
/** … and single ones within this. */
export const FIT_MOST_MM = 5;
/** A chord may leave the circle through its ends by no more than this, else it is meant as a straight piece. */
export const CHORD_RISE_MM = 5;
/** Chords of one curve turn by at most this from one to the next, … */
export const CHORD_TURN_RAD = (20 * Math.PI) / 180;
/** … differ in length by at most this factor, … */
export const CHORD_RATIO = 20;
/** … and are at least so many. */
export const CHORDS_LEAST = 4;
/** A chain of chords that rises less than this over its whole length is not told from a straight line. */
export const RISE_LEAST_MM = 5;
/** An arc that rises less than this, and turns by less than STRAIGHT_TURN_RAD, is a straight line. */
export const STRAIGHT_RISE_MM = 1;
export const STRAIGHT_TURN_RAD = (10 * Math.PI) / 180;
/** The gap between two faces may vary by this much along a wall: centres drawn up to half of it apart. */
export const GAP_SPREAD_MM = 10;
/** Faces of one wall run in the same direction within this. */
export const ASKEW_RAD = 0.05;
/** A curved wall that joins no straight wall is at least this many times as long as thick. */
export const ASPECT = 2;
export const CAUTIOUS_ASPECT = 5;
/** Inside a smaller ring no form can be set: it is a manhole, a column or a symbol. */
export const INNER_RADIUS_LEAST_MM = 500;
/** Door leaves; a quarter circle of this radius with a leaf along one of its ends is a door's swing. */
export const LEAF_LEAST_MM = 450;
export const LEAF_MOST_MM = 1300;
/** How far a leaf may lie off the arc's centre and end: leaves are drawn with their thickness. */
export const LEAF_OFF_MM = 80;
/** Arcs and chords that one group of layers may hold, rows of arcs side by side, and comparisons of ends with linework: what tracing works through. */
export const PIECES_MOST = 8000;
export const ARCS_MOST = 2000;
export const CHORDS_MOST = 40000;
export const ROW_ENTRIES_MOST = 1000000;
export const END_CHECKS_MOST = 40000000;
/** Lines that may meet in one point and still be tried for chains. */
export const STAR_MOST = 64;

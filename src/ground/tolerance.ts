/** Tolerances in mm, each with what it is for. Nothing else in the program compares lengths with a bare number. */

/** Two points closer than this are one point of the drawing. *Practice, no source.* */
export const SAME_POINT_MM = 1;
/** A face that is covered within this is covered (TRADE rule T1). */
export const COVER_MM = 1;
/** Two hole centres on opposite faces within this are one tie axis (rule T10). */
export const HOLE_MM = 1;
/** Two directions whose angle differs by less than this (radians, about 0.3 degrees) are parallel. *Practice, no source.* */
export const PARALLEL_RAD = 0.005;
/** Walls thinner or thicker than this are not formed by tied panels; used as evidence in tracing. *Practice, no source.* */
export const WALL_LEAST_MM = 75;
export const WALL_MOST_MM = 1200;

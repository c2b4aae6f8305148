/**
 * The words in which the stages talk to each other. Every length is in mm, every level in mm in the drawing's datum, pressures in kPa,
 * forces in kN, masses in kg, angles in degrees where the name says Deg, unless the name says otherwise.
 *
 * - *station*: distance along a wall's axis from its start, for both faces (so a salient face runs below 0 or past the length).
 * - *left*, *right*: seen looking from the wall's start to its end.
 * - *run*: what the fit solves at once; one wall. Corners, free ends and changes of thickness end it, tees and crosses do not.
 */

export type * from './vocabulary/catalogue.js';
export type * from './vocabulary/drawing.js';
export type * from './vocabulary/foundation.js';
export type * from './vocabulary/layout.js';
export type * from './vocabulary/model.js';
export type * from './vocabulary/plan.js';
export type * from './vocabulary/pressure.js';
export type * from './vocabulary/rates.js';
export type * from './vocabulary/result.js';
export type * from './vocabulary/schedule.js';
export type * from './vocabulary/site.js';

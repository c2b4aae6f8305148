/**
 * Heights of marks and dimensions in the model space. On paper marks are 5 mm, so that a print at half size still reads: 125 is that at 1:25, 250 at 1:50.
 * Above that a mark no longer stands across units as narrow as 300; below the least, sheets would need a scale at which a house takes dozens of them.
 */
export const LETTERING_MM = {
  usual: 125,
  /** By the unit of the gear: at 1:20, and at 1/2" = 1'-0" (1:24), which is the largest scale in feet that a plan is drawn at. */
  least: { mm: 100, in: 120 },
  most: 250,
} as const;

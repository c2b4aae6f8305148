/** Nominal diameters of bars by their names. */

/** ASTM A615 inch-pound sizes, mm: eighths of an inch up to #8, then 1.128, 1.270, 1.410, 1.693 and 2.257 in. */
export const US_BAR_MM: Readonly<Record<number, number>> = {
  3: 9.525,
  4: 12.7,
  5: 15.875,
  6: 19.05,
  7: 22.225,
  8: 25.4,
  9: 28.65,
  10: 32.26,
  11: 35.81,
  14: 43,
  18: 57.33,
};

/** ASTM A615M soft metric names of the same bars (#13 is #4): from memory. */
export const US_METRIC_BAR_MM: Readonly<Record<number, number>> = {
  10: 9.525,
  13: 12.7,
  16: 15.875,
  19: 19.05,
  22: 22.225,
  25: 25.4,
  29: 28.65,
  32: 32.26,
  36: 35.81,
  43: 43,
  57: 57.33,
};

/** CSA G30.18 sizes: from memory. */
export const CANADIAN_BAR_MM: Readonly<Record<number, number>> = {
  10: 11.3,
  15: 16,
  20: 19.5,
  25: 25.2,
  30: 29.9,
  35: 35.7,
  45: 43.7,
  55: 56.4,
};

/** Diameters in which metric bars are rolled, mm. */
export const METRIC_BARS_MM: ReadonlySet<number> = new Set([
  5, 6, 7, 8, 9, 10, 12, 13, 14, 15, 16, 18, 19, 20, 22, 24, 25, 26, 28, 29, 30, 32, 34, 36, 40, 50,
]);

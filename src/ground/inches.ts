/** Inches to a sixteenth, as they are read off a tape: the grid of inch gear. */

import { MM_PER } from './units.js';

export const SIXTEENTHS_PER_INCH = 16;

/** '6 1/2' of 104 sixteenths: whole inches and a fraction in lowest terms; `keepsZero`: '0 7/16', not '7/16', as behind feet. */
export const inchesOf = (sixteenths: number, keepsZero = false): string => {
  const whole = Math.floor(sixteenths / SIXTEENTHS_PER_INCH);
  let top = sixteenths % SIXTEENTHS_PER_INCH;
  let under = SIXTEENTHS_PER_INCH;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  if (top === 0) return String(whole);
  return whole === 0 && !keepsZero ? `${top}/${under}` : `${whole} ${top}/${under}`;
};

/** '6 1/2', '7/16', '-4': whole inches and a fraction in lowest terms, without the unit. */
export const inchText = (valueMm: number): string => {
  const sixteenths = Math.round((Math.abs(valueMm) / MM_PER.in) * SIXTEENTHS_PER_INCH);
  return `${valueMm < 0 && sixteenths > 0 ? '-' : ''}${inchesOf(sixteenths)}`;
};
